"""What a step expects, in the words of the trade, against how a plant stands."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wiregen import quantities
from wiregen.behaviour.drive import WAYS, DriveMemory, running
from wiregen.behaviour.observing import Signal
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.standing import Standing
from wiregen.behaviour.views import same_speed

#: What a device of a kind can be expected to be: (words, whether it works then).
_WORDS: dict[str, dict[str, bool]] = {
    "lamp": {"lit": True, "dark": False},
    "horn": {"sounding": True, "silent": False},
    "valve": {"open": True, "closed": False},
    "relay": {"picked up": True, "dropped out": False},
    "contactor": {"picked up": True, "dropped out": False},
    "safety_relay": {"picked up": True, "dropped out": False},
}
_DRIVE = re.compile(r"(still|tripped|running)(?: (forward|reverse))?(?: at (\S.*))?")
#: Shown values agree within the first part of them, or the second of their range: typical, invented.
_PART, _RANGE_PART = 0.03, 0.005


@dataclass(frozen=True, slots=True)
class Deviation:
    """Something that is not as a step expects. ``subject`` is the device; ``unfit``: it cannot be expected at all."""

    subject: str
    expected: str
    found: str
    unfit: bool = False


def deviations(plant: Plant, standing: Standing, expect: Mapping[str, str | Mapping[str, str]]) -> Iterator[Deviation]:
    """Where a standing differs from what is expected of its devices."""
    for name, wanted in expect.items():
        if not isinstance(wanted, str):
            yield from _of_card(plant, standing, name, wanted)
        else:
            found = told(plant, standing, name)
            problem = _unfit(plant, name, wanted)
            if problem:
                yield Deviation(name, wanted, problem, unfit=True)
            elif not _agrees(plant, standing, name, wanted):
                yield Deviation(name, wanted, found)


def told(plant: Plant, standing: Standing, name: str) -> str:
    """How a device stands, in the words in which it is expected."""
    device = plant.circuit.devices[name]
    if device.kind == "drive":
        return motion_of(standing.drive(name))
    if device.kind in _WORDS:
        works = _works(plant, standing, name)
        return next(word for word, on in _WORDS[device.kind].items() if on == works)
    if device.kind == "meter":
        return quantities.say(_shown(standing, name), _meter(plant, name).unit)
    return "nothing that shows"


def motion_of(memory: DriveMemory) -> str:
    """What a drive does, in words."""
    if memory.moving:
        return running(memory.moving, memory.hz)
    return f"tripped ({memory.tripped})" if memory.tripped else f"still ({memory.why})"


def _meter(plant: Plant, name: str) -> Signal:
    return next(m for m in plant.observer.meters if m.pin.device == name)


def _shown(standing: Standing, name: str) -> float:
    """What a meter shows [V or A]."""
    return dict(standing.reading.shown if standing.reading else ()).get(name, 0.0)


def _works(plant: Plant, standing: Standing, name: str) -> bool:
    if plant.circuit.devices[name].kind == "safety_relay":
        return standing.is_on(name)
    return name in standing.lit or name in standing.picked


def _unfit(plant: Plant, name: str, wanted: str) -> str:
    """Why ``wanted`` cannot be expected of a device; empty where it can."""
    kind = plant.circuit.devices[name].kind
    if kind == "drive":
        match = _DRIVE.fullmatch(wanted)
        if match is None or (match.group(1) != "running" and (match.group(2) or match.group(3))):
            return "a drive is `still`, `tripped`, or as in `running forward at 30 Hz`"
        return _no_quantity(match.group(3), "Hz") if match.group(3) else ""
    if kind in _WORDS:
        words = list(_WORDS[kind])
        return "" if wanted in words else f"it is `{words[0]}` or `{words[1]}`"
    if kind == "meter":
        return _no_quantity(wanted, _meter(plant, name).unit)
    if kind == "card":
        return "of a card is expected what it reads, as in `{running of -TA1: on}`"
    return "nothing can be expected of it: it shows nothing"


def _no_quantity(text: str, unit: str) -> str:
    try:
        quantities.parse(text, unit)
    except ValueError as error:
        return str(error)
    return ""


def _agrees(plant: Plant, standing: Standing, name: str, wanted: str) -> bool:
    kind = plant.circuit.devices[name].kind
    if kind == "drive":
        return _drive_agrees(standing.drive(name), wanted)
    if kind in _WORDS:
        return _works(plant, standing, name) == _WORDS[kind][wanted]
    meter = _meter(plant, name)
    value = quantities.parse(wanted, meter.unit)
    return abs(_shown(standing, name) - value) <= max(_PART * abs(value), _RANGE_PART * meter.full)


def _drive_agrees(memory: DriveMemory, wanted: str) -> bool:
    match = _DRIVE.fullmatch(wanted)
    assert match is not None  # only what fits is asked
    word, way, hz = match.groups()
    if word == "tripped":
        return bool(memory.tripped)
    if word == "still":
        return memory.moving == 0
    if not memory.moving or (way and way != WAYS[memory.moving]):
        return False
    value = quantities.parse(hz, "Hz") if hz else memory.hz
    return same_speed(value, memory.hz)


def _of_card(plant: Plant, standing: Standing, name: str, wanted: Mapping[str, str]) -> Iterator[Deviation]:
    known = {w.function for card, wires in plant.cards for w in wires if card == name}
    reads = plant.card_reads(standing)
    for function, level in wanted.items():
        if function not in known:
            says = f"it reads {', '.join(sorted(known)) or 'nothing'}"
            yield Deviation(name, f"{function} {level}", says, unfit=True)
        elif ((name, function) in reads) != (level == "on"):
            yield Deviation(name, f"{function} {level}", f"{function} {'off' if level == 'on' else 'on'}")
