"""Invented plants of any size, and small random problems, for the allocation's tests. Everything comes from a seed."""

from __future__ import annotations

import random

from wiregen.allocation.model import Channel, End, Problem
from wiregen.terms import Pin

VOLTS = frozenset({"0-10 V"})
MILLIAMPS = frozenset({"4-20 mA"})
CONTACT = frozenset({"contact"})
BOTH = frozenset({"source", "sink"})
NONE: frozenset[str] = frozenset()


def channel(
    device: str,
    name: str,
    role: str,
    position: int,
    *,
    pins: tuple[str, ...] = (),
    group: str = "",
    signals: frozenset[str] = NONE,
    polarities: frozenset[str] = NONE,
    abilities: frozenset[str] = NONE,
    forms: frozenset[str] = NONE,
    scarce: int = 0,
    keep_free: str | None = None,
    limit_a: float | None = None,
) -> Channel:
    return Channel(
        device,
        name,
        pins or (name,),
        role,
        group,
        signals,
        polarities,
        abilities,
        forms,
        position,
        scarce,
        keep_free,
        limit_a,
    )


def compact_drive(device: str) -> list[Channel]:
    """The channels of the compact drive in physical order."""
    inputs = [
        channel(
            device,
            f"DI{n}",
            "digital_in",
            n,
            group="DI",
            signals=CONTACT,
            polarities=BOTH,
            abilities=frozenset({"pulse"}) if n == 1 else NONE,
            scarce=2 if n == 1 else 0,
        )
        for n in range(1, 7)
    ]
    return [
        *inputs,
        channel(device, "AI1", "analog_in", 8, signals=VOLTS),
        channel(device, "AI2", "analog_in", 9, signals=frozenset({"0-10 V", "0-20 mA", "4-20 mA"}), scarce=1),
        channel(device, "AO1", "analog_out", 11, signals=VOLTS | MILLIAMPS),
        channel(device, "13", "relay", 12, pins=("13", "14"), forms=frozenset({"NO"})),
        channel(
            device,
            "21",
            "relay",
            13,
            pins=("21", "22", "24"),
            forms=frozenset({"NO", "NC", "changeover"}),
            scarce=2,
        ),
    ]


def input_card(device: str, offset: int = 0) -> list[Channel]:
    """Sixteen inputs in two groups; two of each group count pulses."""
    return [
        channel(
            device,
            f"DI{n}",
            "digital_in",
            offset + n,
            group="1" if n <= 8 else "2",
            signals=CONTACT,
            polarities=BOTH,
            abilities=frozenset({"pulse"}) if n % 8 in (1, 2) else NONE,
            scarce=1 if n % 8 in (1, 2) else 0,
        )
        for n in range(1, 17)
    ]


def output_card(device: str, offset: int = 0) -> list[Channel]:
    return [
        channel(
            device,
            f"DO{n}",
            "digital_out",
            offset + n,
            group="A" if n <= 8 else "B",
            polarities=frozenset({"source"}),
            forms=frozenset({"transistor"}),
        )
        for n in range(1, 17)
    ]


def analog_card(device: str, offset: int = 0) -> list[Channel]:
    return [
        channel(
            device,
            f"AI{n}+",
            "analog_in",
            offset + n,
            pins=(f"AI{n}+", f"AI{n}-"),
            signals=VOLTS | MILLIAMPS if n <= 4 else VOLTS,
            scarce=1 if n <= 4 else 0,
        )
        for n in range(1, 9)
    ]


def plant(signals: int, seed: int = 1, hard: bool = False) -> Problem:
    """About ``signals`` ends: compact drives of nine ends each, and three banks of cards for all the rest.

    ``hard``: a third kept where it was, a tenth fixed, some kept apart in pairs, most with a polarity.
    """
    rng = random.Random(seed)
    ends: list[End] = []
    channels: list[Channel] = []
    drives = max(1, signals // 30)
    for number in range(1, drives + 1):
        channels += compact_drive(f"-TA{number}")
        ends += _drive_ends(f"-TA{number}")
    rest = max(signals - len(ends), 4)
    share = {"digital_in": rest * 6 // 10, "digital_out": rest * 25 // 100}
    share["analog_in"] = rest - sum(share.values())
    for role, count in share.items():
        bank = _bank(role, count, 0.05 if hard else 0.15)
        channels += bank
        ends += _bank_ends(role, count, bank, rng, hard)
    apart = _pairs(ends, rng) if hard else ()
    return Problem(tuple(ends), tuple(channels), (), apart)


def _drive_ends(device: str) -> list[End]:
    def digital(function: str, usual: str | None) -> End:
        places = (Pin(device, usual),) if usual else ()
        return End(
            f"{device} {function}", function, (device,), "digital_in", CONTACT, usual=places, bundle="+F1 control"
        )

    def other(function: str, role: str, signals: frozenset[str] = NONE, forms: frozenset[str] = NONE) -> End:
        return End(f"{device} {function}", function, (device,), role, signals, forms)

    return [
        digital("start", "DI4"),
        digital("stop", "DI1"),
        digital("external trip", "DI2"),
        digital("select 1", None),
        other("reference hand", "analog_in", VOLTS),
        other("reference auto", "analog_in", MILLIAMPS),
        other("show speed", "analog_out", MILLIAMPS),
        other("fault", "relay", forms=frozenset({"NC"})),
        other("running", "relay", forms=frozenset({"NO"})),
    ]


def _bank(role: str, count: int, spare: float) -> list[Channel]:
    card, size, letter = {
        "digital_in": (input_card, 16, "KE"),
        "digital_out": (output_card, 16, "KA"),
        "analog_in": (analog_card, 8, "KB"),
    }[role]
    cards = -(-int(count * (1 + spare) + 1) // size)
    return [c for number in range(1, cards + 1) for c in card(f"-{letter}{number}", number * 100)]


def _bank_ends(role: str, count: int, bank: list[Channel], rng: random.Random, hard: bool) -> list[End]:
    devices = tuple(dict.fromkeys(c.device for c in bank))
    wired = rng.sample(bank, min(len(bank), count))
    ends: list[End] = []
    place, left = 0, 0
    pulses = (len(bank) // 4) * 3 // 4
    loops = (len(bank) // 2) * 3 // 4
    for number in range(count):
        if not left:
            place, left = place + 1, rng.randint(2, 12)
        left -= 1
        signals, forms, abilities, polarity = NONE, NONE, NONE, None
        if role == "digital_in":
            signals = CONTACT
            if rng.random() < 0.15 and pulses:
                abilities, pulses = frozenset({"pulse"}), pulses - 1
            if hard and rng.random() < 0.7:
                polarity = "source" if place % 3 else "sink"
        elif role == "digital_out":
            forms = frozenset({"transistor"})
        else:
            signals = VOLTS
            if rng.random() < 0.4 and loops:
                signals, loops = MILLIAMPS, loops - 1
        name = f"{role} {number}"
        kept = wired[number].pin if hard and rng.random() < 0.3 else None
        ends.append(
            End(name, name, devices, role, signals, forms, polarity, abilities, kept=kept, bundle=f"+F{place} {role}")
        )
    return ends


def _pairs(ends: list[End], rng: random.Random) -> tuple[tuple[str, ...], ...]:
    pairs = []
    for role in ("digital_in", "digital_out"):
        names = [end.id for end in ends if end.role == role and len(end.devices) > 1]
        chosen = rng.sample(names, int(len(names) * 0.15) // 2 * 2)
        pairs += list(zip(chosen[::2], chosen[1::2], strict=True))
    return tuple(pairs)
