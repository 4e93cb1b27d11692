"""What `fixed` and `wired` say of strips, cables, cores and numbers, against the functions as they are allocated."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Allocation, Assignment
from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.scheme.model import FixedEntry
from wiregen.terms import Notice, Pin, Where

Report = Callable[[Notice], None]


@dataclass(frozen=True, slots=True)
class AsWired:
    """Where the conductor at one pin lands. ``firm``: it must stay so; else where nothing firm is in its way."""

    pin: Pin
    title: str
    strip: Pin | None
    cable: str | None
    core: str | None
    number: str | None
    where: Where
    firm: bool


def as_wired(scheme: Scheme, declared: Declared, allocation: Allocation, report: Report) -> tuple[AsWired, ...]:
    """Every entry that says more than a function, first those of `fixed`. A conductor goes with its function."""
    placed = {(a.device, a.function): a for a in allocation.assignments}
    found: list[AsWired] = []
    for section, firm in (("fixed", True), ("wired", False)):
        tables: dict[str, dict[str, tuple[FixedEntry, ...]]] = getattr(scheme.model, section)
        for device, label, entry in _entries(tables):
            if not any((entry.strip, entry.cable, entry.core, entry.number)):
                continue
            at = placed.get((device, entry.function)) if entry.function else None
            pin = _signal(at, label) if at else None if entry.function else _pin(declared, device, label)
            if pin is not None:
                where: Where = (section, device, label)
                title = f"{entry.function} of {device}" if entry.function else f"{device}:{label}"
                strip = _strip(entry, where, title, report)
                found.append(AsWired(pin, title, strip, entry.cable, entry.core, entry.number, where, firm))
    return tuple(found)


def _entries(tables: dict[str, dict[str, tuple[FixedEntry, ...]]]) -> Iterator[tuple[str, str, FixedEntry]]:
    for device, labels in tables.items():
        for label, entries in labels.items():
            for entry in entries:
                yield device, label, entry


def _pin(declared: Declared, device: str, label: str) -> Pin:
    terminal = declared.device(device).profile.terminal_of(label)
    name = terminal.pins[0] if terminal and label not in terminal.pins else label
    return Pin(device, name)


def _signal(at: Assignment, label: str) -> Pin:
    """The pin that a function's conductor is on: of a relay's the one that is named, else the switched one."""
    if label in at.pins[1:]:
        return Pin(at.device, label)
    return Pin(at.device, at.pins[1] if at.form in ("NO", "NC", "changeover") and len(at.pins) > 1 else at.pins[0])


def _strip(entry: FixedEntry, where: Where, title: str, report: Report) -> Pin | None:
    if entry.strip is None:
        return None
    strip, _, terminal = entry.strip.partition(":")
    if strip and terminal:
        return Pin(strip, terminal)
    text = f"{entry.strip!r} at {title} names no strip terminal: write the strip and its terminal, as in -X3:1"
    report(Notice("fixed-strip-unknown", where, title, text))
    return None
