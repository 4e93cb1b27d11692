"""Ties gathered into nets, and nets into potentials.

A net is what wires join. A potential is what is joined at all: nets whose pins are joined inside a device are one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from wiregen.control.functions import Declared, Device
from wiregen.terms import Notice, Pin
from wiregen.wiring.joins import Joins
from wiregen.wiring.model import PotentialKind
from wiregen.wiring.poles import Poles
from wiregen.wiring.tie import Tie

#: The key of protective earth where no device has a terminal for it: screens still need its strip terminal.
EARTH = Pin("PE", "PE")

#: What a potential is, by the most telling role of a terminal in it.
_KINDS: tuple[tuple[str, PotentialKind], ...] = (
    ("supply_out", "plus"),
    ("earth", "earth"),
    ("zero", "zero"),
    ("reference_out", "reference"),
    ("analog_zero", "zero"),
)


@dataclass(frozen=True, slots=True)
class Use:
    """Why a pin is in its net: the function, and what kind of cable its core belongs in."""

    function: str
    category: str
    loop: str


@dataclass(frozen=True, slots=True)
class Net:
    """Pins that wires must join, in physical order of their devices."""

    pins: tuple[Pin, ...]
    uses: dict[Pin, Use]
    key: Pin  # its first pin: the same net has the same key in every run


def build_nets(
    declared: Declared, ties: Iterable[Tie], report: Callable[[Notice], None]
) -> tuple[tuple[Net, ...], Joins[Pin]]:
    """The nets in declared order of their first device, and the potentials as joins of pins.

    A tie that would join two poles of supplies is left out and reported.
    """
    wires: Joins[Pin] = Joins()
    potentials: Joins[Pin] = Joins()
    poles = Poles(declared)
    for a, b in inside_joins(declared):
        potentials.join(a, b)
        poles.join(a, b)
    uses: dict[Pin, Use] = {}
    for tie in ties:
        if tie.a != tie.b and potentials.joined(tie.a, tie.b):
            continue
        if wrong := poles.objection(tie):
            report(wrong)
            continue
        wires.join(tie.a, tie.b)
        potentials.join(tie.a, tie.b)
        poles.join(tie.a, tie.b)
        for pin in (tie.a, tie.b):
            uses.setdefault(pin, Use(tie.function, tie.category, tie.loop))
    nets = _ordered(declared, wires, uses)
    if not any(kind_of(n.pins, declared) == "earth" for n in nets):
        nets.append(Net((), {}, EARTH))
        potentials.root(EARTH)
    return tuple(nets), potentials


def inside_joins(declared: Declared) -> Iterable[tuple[Pin, Pin]]:
    """Pairs of pins that a device joins inside."""
    for device in declared.devices:
        for names in device.profile.joined_inside:
            for name in names[1:]:
                yield Pin(device.name, names[0]), Pin(device.name, name)


def pin_ranks(devices: tuple[Device, ...]) -> dict[Pin, tuple[int, int]]:
    """The physical order of every pin: its device in declared order, then its place in the profile."""
    return {Pin(d.name, name): (d.order, place) for d in devices for place, name in enumerate(d.pins)}


def kind_of(pins: Sequence[Pin], declared: Declared) -> PotentialKind:
    """What a potential is, by the most telling pin in it."""
    if not pins:
        return "earth"
    if not declared.hot.keys().isdisjoint(pins):
        return "plus"
    found = (declared.device(pin.device).profile.terminal_of(pin.name) for pin in pins if pin != EARTH)
    roles = {terminal.role for terminal in found if terminal is not None}
    cold: PotentialKind = "signal" if declared.cold.keys().isdisjoint(pins) else "zero"
    return next((kind for role, kind in _KINDS if role in roles), cold)


def _ordered(declared: Declared, wires: Joins[Pin], uses: dict[Pin, Use]) -> list[Net]:
    rank = pin_ranks(declared.devices)
    nets = []
    for pins in wires.sets():
        ordered = tuple(sorted(pins, key=lambda p: rank[p]))
        nets.append(Net(ordered, {p: uses[p] for p in ordered}, ordered[0]))
    return sorted(nets, key=lambda n: rank[n.key])
