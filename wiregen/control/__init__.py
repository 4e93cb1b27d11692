"""The trade's knowledge: what a scheme declares, as functions with two ends."""

from __future__ import annotations

from wiregen.control.apart import check_apart
from wiregen.control.banks import with_sections_of_cards
from wiregen.control.commands import add_commands
from wiregen.control.devices import build_devices
from wiregen.control.drive_safety import add_drive_safety
from wiregen.control.fixed import check_built, check_fixed, check_wired
from wiregen.control.functions import Declared
from wiregen.control.inputs import input_groups, undeclared
from wiregen.control.interpreter import Interpreter
from wiregen.control.outputs import add_outputs
from wiregen.control.power import power_sides
from wiregen.control.relays import add_coil, add_interposed
from wiregen.control.safety_relays import add_safety_relay, relay_feeds
from wiregen.control.settings import device_settings
from wiregen.control.shares import unknown_shares
from wiregen.control.speed import add_speed
from wiregen.control.supplies import card_feeds
from wiregen.control.zero_volts import zero_volts
from wiregen.scheme import Scheme

__all__ = ["Declared", "interpret"]


def interpret(scheme: Scheme) -> Declared:
    """Turn what the scheme declares into functions, with the supply, the senses and the needs of both ends."""
    scheme = with_sections_of_cards(scheme)
    devices = build_devices(scheme)
    book = Interpreter(scheme, devices)
    for name, control in scheme.model.control.items():
        if (item := book.device(name)) is not None and item.kind == "safety_relay":
            add_safety_relay(book, name, control)
            add_coil(book, name, control)
            continue
        add_commands(book, name, control)
        add_speed(book, name, control)
        add_outputs(book, name, control)
        add_drive_safety(book, name, control)
        add_coil(book, name, control)
    add_interposed(book)
    book.notices += unknown_shares(devices)
    groups = input_groups(scheme, devices)
    book.notices += check_fixed(scheme, devices, book.functions)
    book.notices += check_wired(scheme, devices, book.functions)
    book.notices += check_built(scheme, devices, book.functions)
    book.notices += check_apart(scheme, book.functions)
    book.notices += undeclared(scheme, groups, book.functions)
    feeds = (*card_feeds(devices, book.supplies), *relay_feeds(book))
    zeros = zero_volts(scheme, devices, book.notices.append)
    powers = tuple(power_sides(scheme, devices, book.notices.append))
    return Declared(
        devices=devices,
        supplies=book.supplies.all,
        functions=tuple(book.functions),
        groups=groups,
        zero_volts=zeros,
        references=tuple((name, tuple(infos)) for name, infos in book.references.items()),
        selections=tuple(book.selections),
        notices=tuple(book.notices),
        feeds=feeds,
        runs=tuple((name, tuple(runs)) for name, runs in book.runs.items()),
        settings=tuple(device_settings(book)),
        fusings=book.supplies.fusings,
        powers=powers,
    )
