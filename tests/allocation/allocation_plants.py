"""Invented plants of any size, and small random problems, for the allocation's tests. Everything comes from a seed."""

from __future__ import annotations

import random
from dataclasses import replace

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

    ``hard``: less spare, a third kept where it was, some kept apart in pairs, most inputs with a polarity.
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


def random_problem(seed: int) -> Problem:
    """A small problem with something of everything: a few devices, up to six ends, often without an answer."""
    rng = random.Random(seed)
    devices = [f"-K{n}" for n in range(1, rng.randint(2, 4))]
    channels = [c for device in devices for c in _random_channels(device, rng)]
    ends = [_random_end(number, devices, channels, rng) for number in range(rng.randint(2, 6))]
    polarity = tuple(
        ((device, group), rng.choice(["source", "sink"]))
        for device in devices
        for group in ("1", "2")
        if rng.random() < 0.25
    )
    return Problem(tuple(ends), tuple(channels), polarity, _random_sets(ends, rng))


def _random_channels(device: str, rng: random.Random) -> list[Channel]:
    found = []
    for position in range(rng.randint(3, 6)):
        digital = rng.random() < 0.65
        found.append(
            channel(
                device,
                f"{'DI' if digital else 'Q'}{position}",
                "digital_in" if digital else "output",
                position,
                pins=() if digital else tuple(f"{position}{p}" for p in rng.choice(["34", "124"])),
                group=rng.choice("12") if digital else "",
                signals=rng.choice([CONTACT, CONTACT | VOLTS]) if digital else NONE,
                polarities=rng.choice([BOTH, BOTH, BOTH, frozenset({"source"}), NONE, NONE]) if digital else NONE,
                abilities=frozenset({"pulse"}) if rng.random() < 0.5 else NONE,
                scarce=rng.choice([0, 0, 1, 2]),
                keep_free="damaged" if rng.random() < 0.05 else None,
                limit_a=rng.choice([None, 0.1, 2.0]),
            )
        )
        if not digital:
            three = len(found[-1].pins) == 3
            forms = frozenset({"NO", "NC", "changeover"}) if three else frozenset({"NO"})
            found[-1] = replace(found[-1], forms=forms)
    return found


def _random_end(number: int, devices: list[str], channels: list[Channel], rng: random.Random) -> End:
    digital = rng.random() < 0.75
    chosen = tuple(sorted(rng.sample(devices, rng.choice([1, len(devices), len(devices)]))))
    end = End(
        id=f"e{number}",
        function=rng.choice(["start", "stop", f"f{number}"]),
        devices=chosen,
        role="digital_in" if digital else "output",
        signals=rng.choice([CONTACT, CONTACT, CONTACT, CONTACT, NONE, VOLTS]) if digital else NONE,
        forms=NONE if digital else rng.choice([NONE, frozenset({"NO"}), frozenset({"NC"}), frozenset({"NO", "NC"})]),
        polarity=rng.choice([None, None, "source", "sink"]) if digital else None,
        abilities=frozenset({"pulse"}) if rng.random() < 0.12 else NONE,
        load_a=None if digital else rng.choice([None, None, 0.5]),
        bundle=rng.choice(["", "+F1", "+F1", "+F2"]),
    )
    here = [c for c in channels if c.device in chosen and c.role == end.role] or channels
    near = [c for c in here if end.abilities <= c.abilities and (not end.signals or end.signals & c.signals)] or here
    usual = {c.device: c.pin for c in rng.sample(near, min(2, len(near)))} if rng.random() < 0.3 else {}
    return replace(
        end,
        usual=tuple(usual.values()),
        # Now and then on a channel that does not serve, so that this is met too.
        fixed=rng.choice(here if rng.random() < 0.1 else near).pin if rng.random() < 0.15 else None,
        kept=rng.choice(here if rng.random() < 0.2 else near).pin if rng.random() < 0.4 else None,
    )


def _random_sets(ends: list[End], rng: random.Random) -> tuple[tuple[str, ...], ...]:
    names = [end.id for end in ends]
    sets = []
    for _ in range(rng.choice([0, 0, 1, 1, 2])):
        if len(names) > 1:
            sets.append(tuple(rng.sample(names, min(len(names), rng.choice([2, 2, 3])))))
    return tuple(sets)
