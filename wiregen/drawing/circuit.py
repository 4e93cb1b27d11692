"""Questions that a sheet asks of the wired circuit: what a pin is wired to, by which way, and in which chain."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.control.functions import CONTROLLERS
from wiregen.drawing import fonts
from wiregen.drawing.canvas import TEXT
from wiregen.pipeline import Design
from wiregen.terms import Pin
from wiregen.wiring.model import Cable, Conductor, Potential, StripTerminal

LONGEST_WAY = 4  # strip terminals between two pins that one line of a sheet still shows
NUMBER, MOST_NUMBER = 7.2, 14.0  # room for a conductor's number over its wire, mm


@dataclass(frozen=True, slots=True)
class Way:
    """The conductors from one pin to another, and the strip terminals between them, in that order."""

    conductors: tuple[Conductor, ...]
    terminals: tuple[Pin, ...]


@dataclass(frozen=True, slots=True)
class FieldChain:
    """Pins in one place that one core feeds; ``terminal`` is the strip terminal at which the core begins."""

    core: Conductor
    terminal: Pin
    pins: tuple[Pin, ...]

    @property
    def head(self) -> Pin:
        return self.pins[0]


class Circuit:
    """An index over the wiring of a design. It decides nothing.

    ``number_room`` is the width that a conductor's number needs in the usual size, mm; the longest are shrunk into it.
    """

    def __init__(self, design: Design) -> None:
        wiring = design.wiring
        self.cables: dict[str, Cable] = {c.name: c for c in wiring.cables}
        self.strips: dict[str, str] = {s.name: s.place for s in wiring.strips}
        self.terminals: dict[Pin, StripTerminal] = {t.pin: t for s in wiring.strips for t in s.terminals}
        self.places: dict[str, str] = {d.name: d.place for d in design.declared.devices} | self.strips
        self.main = wiring.strips[0].place if wiring.strips else next(iter(design.scheme.model.places))
        self._controllers = {d.name for d in design.declared.devices if d.kind in CONTROLLERS}
        self._joined_inside = {
            Pin(d.name, name): tuple(Pin(d.name, n) for n in names)
            for d in design.declared.devices
            for names in d.profile.joined_inside
            for name in names
        }
        widths = (fonts.text_width(p.number, TEXT) + 1.0 for p in wiring.potentials)
        self.number_room = min(MOST_NUMBER, max(NUMBER, *widths)) if wiring.potentials else NUMBER
        self._potentials: dict[Pin, Potential] = {pin: p for p in wiring.potentials for pin in p.pins}
        self._at: dict[Pin, list[Conductor]] = {}
        self.spares: dict[str, list[Conductor]] = {}
        self.screens: dict[str, Conductor] = {}
        for conductor in wiring.conductors:
            self._take(conductor)
        cores = [c for c in wiring.conductors if c.kind == "core" and c.b is not None]
        self.chains = tuple(self._chain(c) for c in cores if c.b is not None and c.b.device not in self.strips)
        self._chain_of = {pin: chain for chain in self.chains for pin in chain.pins}

    def _take(self, conductor: Conductor) -> None:
        if conductor.kind == "core" and conductor.b is None:
            self.spares.setdefault(conductor.cable or "", []).append(conductor)
        if conductor.kind == "screen":
            self.screens.setdefault(conductor.a.device, conductor)
        if conductor.kind != "link":
            for pin in (conductor.a, conductor.b):
                if pin is not None:
                    self._at.setdefault(pin, []).append(conductor)

    def is_controller(self, pin: Pin) -> bool:
        return pin.device in self._controllers

    def potential(self, pin: Pin) -> Potential | None:
        return self._potentials.get(pin)

    def chain_of(self, pin: Pin) -> FieldChain | None:
        return self._chain_of.get(pin)

    def core_of(self, pin: Pin) -> FieldChain | None:
        """The chain whose core ends on this very pin."""
        chain = self._chain_of.get(pin)
        return chain if chain and chain.head == pin else None

    def from_strip_beside(self, pin: Pin) -> bool:
        """Whether a pin's core begins at a strip in its own place, so that it is drawn on the sheet of that place."""
        chain = self._chain_of.get(pin)
        cable = self.cables[chain.core.cable] if chain and chain.core.cable else None
        return cable is not None and cable.a == cable.b

    def conductors_at(self, pin: Pin) -> list[Conductor]:
        return self._at.get(pin, [])

    def neighbours(self, pin: Pin) -> list[Pin]:
        """What the wires at a pin lead to, bridges left out."""
        return [other(c, pin) for c in self.conductors_at(pin) if c.kind != "bridge" and c.b is not None]

    def inside_partners(self, pin: Pin) -> list[Pin]:
        """The pins of the same device that a pin is joined to inside."""
        return [p for p in self._joined_inside.get(pin, ()) if p != pin]

    def bridged_to(self, terminal: Pin) -> list[str]:
        """The names of the terminals of its strip that a terminal is bridged to."""
        return [other(c, terminal).name for c in self.conductors_at(terminal) if c.kind == "bridge"]

    def way(self, start: Pin, goal: Pin) -> Way | None:
        """The wires from ``start`` to ``goal`` if at most `LONGEST_WAY` strip terminals lie between, else None.

        Bridges count only where a signal goes on over them: those of a distributed potential are told in words.
        """
        potential = self._potentials.get(start)
        if potential is None or potential is not self._potentials.get(goal):
            return None
        over_bridges = potential.kind in ("signal", "reference")
        ways: list[tuple[Pin, Way]] = [(start, Way((), ()))]
        for _ in range(LONGEST_WAY + 1):
            longer: list[tuple[Pin, Way]] = []
            for pin, way in ways:
                for conductor in self.conductors_at(pin):
                    if conductor.b is None or (conductor.kind == "bridge" and not over_bridges):
                        continue
                    far = other(conductor, pin)
                    if far == goal:
                        return Way((*way.conductors, conductor), way.terminals)
                    if far in self.terminals and far not in way.terminals:
                        longer.append((far, Way((*way.conductors, conductor), (*way.terminals, far))))
            ways = longer
        return None

    def _chain(self, core: Conductor) -> FieldChain:
        head, terminal = (core.b, core.a) if core.a.device in self.strips else (core.a, core.b)
        assert head is not None and terminal is not None
        pins = [head]
        for pin in pins:
            for conductor in self.conductors_at(pin):
                if conductor.kind == "wire" and (far := other(conductor, pin)).device not in self.strips:
                    pins += [] if far in pins else [far]
        return FieldChain(core, terminal, tuple(pins))


def other(conductor: Conductor, pin: Pin) -> Pin:
    """The other end of a conductor that has two."""
    far = conductor.b if conductor.a == pin else conductor.a
    assert far is not None  # spare cores are left out by the callers
    return far
