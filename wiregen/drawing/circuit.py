"""Questions that a sheet asks of the wired circuit: what a pin is wired to, by which way, and in which chain."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.model import Cable, Conductor, Potential


@dataclass(frozen=True, slots=True)
class Way:
    """The conductors from one pin to another, and the strip terminals between them, in that order."""

    conductors: tuple[Conductor, ...]
    terminals: tuple[Pin, ...]


@dataclass(frozen=True, slots=True)
class FieldChain:
    """Pins in one far place that one core feeds; ``terminal`` is the strip terminal on which the core lands."""

    core: Conductor
    terminal: Pin
    pins: tuple[Pin, ...]


class Circuit:
    """An index over the wiring of a design. It decides nothing."""

    def __init__(self, design: Design) -> None:
        wiring = design.wiring
        self.cables: dict[str, Cable] = {c.name: c for c in wiring.cables}
        self.strips = {s.name: s.place for s in wiring.strips}
        self._potentials: dict[Pin, Potential] = {pin: p for p in wiring.potentials for pin in p.pins}
        self._at: dict[Pin, list[Conductor]] = {}
        for conductor in wiring.conductors:
            for pin in (conductor.a, conductor.b):
                if pin is not None and conductor.kind != "link":
                    self._at.setdefault(pin, []).append(conductor)
        self.chains = tuple(self._chain(c) for c in wiring.conductors if c.kind == "core" and self._ends_on_device(c))
        self._chain_of = {pin: chain for chain in self.chains for pin in chain.pins}

    def _ends_on_device(self, conductor: Conductor) -> bool:
        return conductor.b is not None and conductor.b.device not in self.strips

    def from_strip_beside(self, pin: Pin) -> bool:
        """Whether a pin's core begins at a strip in its own place, so that it is drawn on the sheet of that place."""
        chain = self._chain_of.get(pin)
        cable = self.cables[chain.core.cable] if chain and chain.core.cable else None
        return cable is not None and cable.a == cable.b

    def onward(self, start: Pin, goal: Pin, place: str) -> Way | None:
        """The way from ``start`` as far as the first strip that it comes to outside ``place``; None if to none."""
        way = self.way(start, goal)
        for i, terminal in enumerate(way.terminals if way else ()):
            if way and self.strips[terminal.device] != place:
                return Way(way.conductors[: i + 1], way.terminals[: i + 1])
        return None

    def potential(self, pin: Pin) -> Potential | None:
        return self._potentials.get(pin)

    def chain_of(self, pin: Pin) -> FieldChain | None:
        return self._chain_of.get(pin)

    def conductors_at(self, pin: Pin) -> list[Conductor]:
        return self._at.get(pin, [])

    def neighbours(self, pin: Pin) -> list[Pin]:
        """What the wires at a pin lead to, bridges left out."""
        return [self._other(c, pin) for c in self.conductors_at(pin) if c.kind != "bridge" and c.b is not None]

    def bridged_to(self, terminal: Pin) -> list[str]:
        """The names of the terminals of its strip that a terminal is bridged to."""
        return [self._other(c, terminal).name for c in self.conductors_at(terminal) if c.kind == "bridge"]

    def way(self, start: Pin, goal: Pin) -> Way | None:
        """The wires from ``start`` to ``goal`` if nothing but strip terminals lies between, else None."""
        queue: list[tuple[Pin, tuple[Conductor, ...], tuple[Pin, ...]]] = [(start, (), ())]
        seen = {start}
        while queue:
            pin, conductors, terminals = queue.pop(0)
            for conductor in self.conductors_at(pin):
                if conductor.b is None:
                    continue
                other = self._other(conductor, pin)
                if other == goal:
                    return Way((*conductors, conductor), terminals)
                if other.device in self.strips and other not in seen:
                    seen.add(other)
                    queue.append((other, (*conductors, conductor), (*terminals, other)))
        return None

    def core_at(self, pin: Pin) -> tuple[Conductor, Pin] | None:
        """The core that ends on a device's pin, and its strip terminal."""
        chain = self._chain_of.get(pin)
        return (chain.core, chain.terminal) if chain and chain.pins[0] == pin else None

    def _other(self, conductor: Conductor, pin: Pin) -> Pin:
        other = conductor.b if conductor.a == pin else conductor.a
        assert other is not None  # spare cores are left out by the callers
        return other

    def _chain(self, core: Conductor) -> FieldChain:
        assert core.b is not None
        terminal, head = (core.a, core.b)
        pins = [head]
        for pin in pins:
            for other in self.neighbours(pin):
                if other not in pins and other.device not in self.strips and self._is_wire(pin, other):
                    pins.append(other)
        return FieldChain(core, terminal, tuple(pins))

    def _is_wire(self, a: Pin, b: Pin) -> bool:
        return any(c.kind == "wire" and {c.a, c.b} == {a, b} for c in self.conductors_at(a))
