"""Ties gathered into nets, and nets into potentials.

A net is what wires join. A potential is what is joined at all: nets whose pins are joined inside a device are one potential.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

from wiregen.control.functions import Declared, Device
from wiregen.terms import Pin
from wiregen.wiring.model import PotentialKind
from wiregen.wiring.ties import Tie

#: The key of protective earth where no device has a terminal for it: screens still need its strip terminal.
EARTH = Pin("PE", "PE")

T = TypeVar("T", bound=Hashable)


class Joins(Generic[T]):
    """Disjoint sets that only grow together. Kept as a plain dict so that the order of first mention survives."""

    def __init__(self) -> None:
        self._parent: dict[T, T] = {}

    def root(self, item: T) -> T:
        self._parent.setdefault(item, item)
        while self._parent[item] != item:
            self._parent[item] = self._parent[self._parent[item]]
            item = self._parent[item]
        return item

    def join(self, a: T, b: T) -> None:
        first, second = self.root(a), self.root(b)
        if first != second:
            self._parent[second] = first

    def joined(self, a: T, b: T) -> bool:
        return self.root(a) == self.root(b)

    def sets(self) -> list[list[T]]:
        found: dict[T, list[T]] = {}
        for item in self._parent:
            found.setdefault(self.root(item), []).append(item)
        return list(found.values())


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


def build_nets(declared: Declared, ties: Iterable[Tie]) -> tuple[tuple[Net, ...], Joins[Pin]]:
    """The nets in declared order of their first device, and the potentials as joins of pins."""
    wires: Joins[Pin] = Joins()
    potentials: Joins[Pin] = Joins()
    for device in declared.devices:
        for inside in device.profile.joined_inside:
            for pin in inside[1:]:
                potentials.join(Pin(device.name, inside[0]), Pin(device.name, pin))
    uses: dict[Pin, Use] = {}
    for tie in ties:
        if tie.spare_way and potentials.joined(tie.a, tie.b):
            continue
        wires.join(tie.a, tie.b)
        potentials.join(tie.a, tie.b)
        for pin in (tie.a, tie.b):
            uses.setdefault(pin, Use(tie.function, tie.category, tie.loop))
    rank = pin_ranks(declared.devices)
    nets = []
    for pins in wires.sets():
        ordered = tuple(sorted(pins, key=lambda p: rank[p]))
        nets.append(Net(ordered, {p: uses[p] for p in ordered}, ordered[0]))
    nets.sort(key=lambda n: rank[n.key])
    if not any(kind_of(n.pins, declared) == "earth" for n in nets):
        nets.append(Net((), {}, EARTH))
        potentials.root(EARTH)
    return tuple(nets), potentials


def pin_ranks(devices: tuple[Device, ...]) -> dict[Pin, tuple[int, int]]:
    """The physical order of every pin: its device in declared order, then its place in the profile."""
    return {Pin(d.name, name): (d.order, place) for d in devices for place, name in enumerate(d.pins)}


def kind_of(pins: Sequence[Pin], declared: Declared) -> PotentialKind:
    """What a potential is, by the most telling pin in it."""
    if not pins:
        return "earth"
    roles = set()
    devices = {d.name: d for d in declared.devices}
    for pin in pins:
        device = devices.get(pin.device)
        terminal = device.profile.terminal_of(pin.name) if device and device.profile.controller else None
        if terminal is not None:
            roles.add(terminal.role)
    order: tuple[tuple[str, PotentialKind], ...] = (
        ("supply_out", "plus"),
        ("earth", "earth"),
        ("zero", "zero"),
        ("reference_out", "reference"),
        ("analog_zero", "zero"),
    )
    return next((kind for role, kind in order if role in roles), "signal")
