"""From the wired design to its circuit as numbers."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property

import networkx as nx
import numpy as np

from wiregen.allocation.model import Allocation
from wiregen.circuit.assumed import METAL_OHM, conductor_ohm
from wiregen.circuit.curves import Curve
from wiregen.circuit.engine import Tables
from wiregen.circuit.network import Coil, Element, Island, Resistance
from wiregen.circuit.parts import Bench, Key, Parts, add_device
from wiregen.circuit.state import EARTH
from wiregen.control.functions import Declared, Device
from wiregen.terms import Pin
from wiregen.wiring.model import Wiring
from wiregen.wiring.nets import inside_joins

ROOM_C = 20.0
#: From so many nodes on, a part of the circuit is cut at its 0 V, which then counts as earth: the few mV along the 0 V
#: conductors are given up for a computation that grows with the plant and not with its cube.
LARGE = 800


@dataclass(frozen=True)
class Circuit:
    """The circuit of a design. ``islands`` meet at earth only; ``earthed`` are the pins that are earth.

    ``moves`` maps what a state can say to the elements that it moves: (their number, the number of their curve).
    ``feeds`` hold devices that work only while they are fed.
    """

    devices: dict[str, Device]
    fixed: tuple[Resistance, ...]
    elements: tuple[Element, ...]
    coils: tuple[Coil, ...]
    feeds: tuple[Coil, ...]
    moves: dict[Key, tuple[tuple[int, int], ...]]
    earthed: frozenset[Pin]
    islands: tuple[Island, ...]

    def island_of(self, pin: Pin) -> int | None:
        """The number of the island that holds a pin; None for earth, and for a pin that nothing is joined to."""
        return self._places.get(pin)

    @cached_property
    def _places(self) -> dict[Pin, int]:
        return {pin: i for i, island in enumerate(self.islands) for pin in island.nodes}

    @cached_property
    def tables(self) -> Tables:
        """The curves of all elements."""
        return tables([e.curves for e in self.elements])

    def part_at(self, pin: Pin, kinds: tuple[str, ...]) -> Resistance | Element | None:
        """The first part of one of ``kinds`` whose first pin this is."""
        return next((p for p in self._parts.get(pin, ()) if p.kind in kinds), None)

    @cached_property
    def _parts(self) -> dict[Pin, list[Resistance | Element]]:
        found: dict[Pin, list[Resistance | Element]] = {}
        parts: tuple[Resistance | Element, ...] = (*self.fixed, *self.elements)
        for part in parts:
            found.setdefault(part.a, []).append(part)
        return found

    def wired(self, pin: Pin) -> bool:
        """Whether a conductor lands on a pin, or on one that is joined to it inside its device."""
        return pin in self._wired

    @cached_property
    def _wired(self) -> frozenset[Pin]:
        ends = {pin for r in self.fixed if r.kind in ("wire", "core", "bridge") for pin in (r.a, r.b)}
        return frozenset(
            ends | {pin for r in self.fixed if r.kind == "inside" for pin in (r.a, r.b) if {r.a, r.b} & ends}
        )

    def is_earth(self, pin: Pin) -> bool:
        return pin == EARTH or pin in self.earthed


def build(
    declared: Declared, allocation: Allocation, wiring: Wiring, *, temperature_c: float = ROOM_C, scale: float = 1.0
) -> Circuit:
    """The circuit of a design, with conductors at ``temperature_c`` [degC].

    ``scale`` multiplies the resistance of every device, for what tolerances of parts do.
    """
    parts = Parts()
    bench = Bench.of(declared, allocation)
    for device in declared.devices:
        add_device(parts, device, bench)
    earthed = _earthed(declared, wiring)
    fixed = [Resistance(r.a, r.b, r.ohm * scale, r.of, r.kind) for r in parts.fixed]
    fixed += [
        Resistance(c.a, c.b, conductor_ohm(c, temperature_c), c.id, c.kind)
        for c in wiring.conductors
        if c.b is not None
    ]
    fixed += [Resistance(a, b, METAL_OHM, a.device, "inside") for a, b in inside_joins(declared)]
    fixed += [Resistance(z.zero, EARTH, METAL_OHM, z.device, "link") for z in declared.zero_volts if z.mode == "inside"]
    pairs = [(r.a, r.b) for r in fixed] + [(e.a, e.b) for e in parts.elements]
    sets = _sets(pairs, earthed)
    if max(map(len, sets), default=0) > LARGE:
        earthed |= {pin for p in wiring.potentials if p.kind == "zero" for pin in p.pins}
        sets = _sets(pairs, earthed)
    return Circuit(
        devices={device.name: device for device in declared.devices},
        fixed=tuple(fixed),
        elements=tuple(parts.elements),
        coils=tuple(parts.coils),
        feeds=tuple(parts.feeds),
        moves={key: tuple(moved) for key, moved in parts.moves.items()},
        earthed=earthed,
        islands=_islands(sets, fixed, parts.elements),
    )


def _earthed(declared: Declared, wiring: Wiring) -> frozenset[Pin]:
    """All pins on a protective conductor: one node, for no current flows there that a control circuit depends on."""
    found = {pin for potential in wiring.potentials if potential.kind == "earth" for pin in potential.pins}
    for device in declared.devices:
        for terminal in (*device.profile.terminals, *device.profile.power):
            if terminal.role == "earth":
                found.update(Pin(device.name, name) for name in terminal.pins)
    return frozenset(found | {EARTH})


def _sets(pairs: Iterable[tuple[Pin, Pin]], earthed: frozenset[Pin]) -> list[list[Pin]]:
    """The pins that hang together without earth, each set sorted."""
    joined: nx.Graph[Pin] = nx.Graph()
    for pair in pairs:
        ends = [pin for pin in pair if pin not in earthed]
        joined.add_nodes_from(ends)
        if len(ends) == 2:
            joined.add_edge(*ends)
    return [sorted(pins) for pins in nx.connected_components(joined)]


def _islands(sets: list[list[Pin]], fixed: Iterable[Resistance], elements: Iterable[Element]) -> tuple[Island, ...]:
    place = {pin: (i, n) for i, pins in enumerate(sets) for n, pin in enumerate(pins)}
    stamps: list[list[tuple[int, int, float]]] = [[] for _ in sets]
    ends_in: list[list[tuple[int, int]]] = [[] for _ in sets]
    numbers: list[list[int]] = [[] for _ in sets]
    for r in fixed:
        if (at := place.get(r.a) or place.get(r.b)) is not None:
            stamps[at[0]].append((_node(place, r.a), _node(place, r.b), 1.0 / r.ohm))
    for number, e in enumerate(elements):
        if (at := place.get(e.a) or place.get(e.b)) is not None:
            ends_in[at[0]].append((_node(place, e.a), _node(place, e.b)))
            numbers[at[0]].append(number)
    return tuple(Island.of(pins, stamps[i], ends_in[i], numbers[i]) for i, pins in enumerate(sets))


def _node(place: dict[Pin, tuple[int, int]], pin: Pin) -> int:
    return place[pin][1] if pin in place else -1


def tables(curves: Sequence[Sequence[Curve]]) -> Tables:
    """Curves as arrays, a row an element: as many for each as the one with most of them has."""
    most = max(map(len, curves), default=1)
    knots = np.full((len(curves), most, 3), np.inf)
    slopes = np.zeros((len(curves), most, 4))
    offsets = np.zeros((len(curves), most, 4))
    usual = np.zeros((len(curves), most), dtype=np.intp)
    for i, row in enumerate(curves):
        for j, curve in enumerate(row):
            knots[i, j], slopes[i, j], offsets[i, j] = curve.knots, curve.slopes, curve.offsets
            usual[i, j] = curve.usual
    return Tables(knots, slopes, offsets, usual)
