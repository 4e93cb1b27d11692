"""Contacts of what a safety chain watches: those by which a device tells that it acts, and whether they are enough."""

from __future__ import annotations

from wiregen.control.functions import Contact, Device
from wiregen.control.interpreter import Interpreter
from wiregen.terms import Where

_NUMBERS = {1: "one", 2: "two"}


def opening(device: Device) -> list[Contact]:
    """The contacts by which a device tells that it acts: its break contacts; where it has none, all that it has."""
    return [c for c in device.contacts if c.form == "NC"] or list(device.contacts)


def too_few(book: Interpreter, guard: Device, contacts: list[Contact], count: int, watching: str, where: Where) -> None:
    """Notice that a guard has fewer contacts than the channels that watch it."""
    names = ", ".join(c.name for c in contacts)
    has = f"{_NUMBERS.get(len(contacts), len(contacts))} contact{'s' if len(contacts) != 1 else ''}"
    says = f"{guard.name} has {has} ({names}), and {watching} {_NUMBERS.get(count, count)} channels: "
    missing = [f"channel {n}" for n in range(len(contacts) + 1, count + 1)]
    book.notice("guard-contacts-too-few", where, guard.name, f"{says}{' and '.join(missing)} misses it")
