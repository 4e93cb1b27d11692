"""How far places lie from a controller, and by which strip terminals and cores a row passes from one to the next.

Zone 0 is the controller's own place. If that has no strip, zone 1 is the place whose strip its cables come from. All
other places lie one zone farther out. Gap 0 lies outside zone 0.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from wiregen.drawing.circuit import Circuit, FieldChain, Way
from wiregen.terms import Pin
from wiregen.wiring.model import Cable, Conductor

MOST_STEPS = 1  # strip terminals beside one another at one edge of a place, besides the outermost


@dataclass(frozen=True, slots=True)
class Stop:
    """A strip terminal in a row: in which zone, at which edge of it, and how many terminals from that edge.

    ``mid``: no core leads to or from it; it only distributes a signal among devices beside the controller.
    """

    pin: Pin
    zone: int
    edge: Literal["in", "out", "mid"]
    step: int = 0


@dataclass(frozen=True, slots=True)
class Span:
    """Strip terminals and cores between two points of a row, outwards. ``cores`` name the gap that each crosses."""

    stops: tuple[Stop, ...] = ()
    cores: tuple[tuple[int, Conductor], ...] = ()


NOWHERE = Span()  # neither strip terminals nor cores


class Zones:
    """The places around one controller."""

    def __init__(self, circuit: Circuit, own: str) -> None:
        self._circuit, self.own = circuit, own
        self.number_room = circuit.number_room
        served = (c.a for c in circuit.cables.values() if own in (c.a, c.b))
        self.home = own if own in circuit.strips.values() else next(served, circuit.main)
        self.outermost = 1 if self.home == own else 2

    def of(self, place: str) -> int:
        if place == self.own:
            return 0
        return self.outermost - 1 if place == self.home else self.outermost

    def gap(self, cable: Cable | None) -> int | None:
        """The gap that a cable crosses, None where it joins no two neighbouring zones."""
        if cable is None or cable.a == cable.b:
            return None
        ends = sorted((self.of(cable.a), self.of(cable.b)))
        return ends[0] if ends[1] == ends[0] + 1 else None

    def on_rail(self, zone: int, far: Pin | None) -> bool:
        """Whether the far pin of a device in a zone is fed by a core, so that it hangs on a rail."""
        return zone == self.outermost and far is not None and self._circuit.chain_of(far) is not None

    def feeding(self, far: Pin | None) -> str:
        """The cable of the core that feeds the far pin of a device; empty where none does."""
        chain = self._circuit.chain_of(far) if far is not None else None
        return (chain.core.cable or "") if chain else ""

    def gap_of(self, core: Conductor) -> int | None:
        return self.gap(self._circuit.cables.get(core.cable or ""))

    def span(self, way: Way | None, start: int, end: int) -> Span | None:
        """The span of a way between two zones, None where it does not run straight outwards."""
        if way is None:
            return None
        zone, cores, at = start, [], [start]
        for conductor in way.conductors:
            if conductor.kind == "core":
                if self.gap_of(conductor) != zone:
                    return None
                cores.append((zone, conductor))
                zone += 1
            at.append(zone)
        if zone != end:
            return None
        stops = self._stops(way, at[1:-1])
        return Span(stops, tuple(cores)) if stops is not None else None

    def _stops(self, way: Way, zones: list[int]) -> tuple[Stop, ...] | None:
        """The strip terminals of a way, by zone: at its inner edge, into which a core comes, and at its outer one."""
        found: list[Stop] = []
        for zone in dict.fromkeys(zones):
            members = [i for i, z in enumerate(zones) if z == zone]
            entered = way.conductors[members[0]].kind == "core"
            left = way.conductors[members[-1] + 1].kind == "core"
            if len(members) > (1 + MOST_STEPS if entered != left else 2):
                return None
            if not (entered or left):
                if zone or not self._is_signal(way.terminals[0]):
                    return None
                found += [Stop(way.terminals[i], 0, "mid", i) for i in members]
                continue
            for position, i in enumerate(members):
                inner = entered and (position == 0 or not left)
                step = position if inner else len(members) - 1 - position
                found.append(Stop(way.terminals[i], zone, "in" if inner else "out", step))
        return tuple(found)

    def _is_signal(self, pin: Pin) -> bool:
        potential = self._circuit.potential(pin)
        return potential is not None and potential.kind in ("signal", "reference")

    def core_span(self, chain: FieldChain | None) -> Span | None:
        """From the strip terminal of a core outwards to where it ends; None where it does not run outwards."""
        if chain is None:
            return None
        gap = self.gap_of(chain.core)
        zone = self.of(self._circuit.strips[chain.terminal.device])
        if gap is None or zone != gap:
            return None
        return Span((Stop(chain.terminal, zone, "out"),), ((gap, chain.core),))

    def landing(self, way: Way | None) -> Span | None:
        """From a terminal to the first strip in another place; None where no core leads straight to one."""
        for i, terminal in enumerate(way.terminals if way else ()):
            if way is not None and self._circuit.strips[terminal.device] != self.own:
                to_there = self.span(Way(way.conductors[: i + 1], way.terminals[:i]), 0, 1)
                if to_there is None or way.conductors[i].kind != "core":
                    return None
                return Span((*to_there.stops, Stop(terminal, 1, "in")), to_there.cores)
        return None

    def landing_core(self, chain: FieldChain | None) -> Span | None:
        """A core of the controller itself, from its terminal to the strip terminal on which it lands."""
        if chain is None or self.gap_of(chain.core) != 0 or self.of(self._circuit.strips[chain.terminal.device]) != 1:
            return None
        return Span((Stop(chain.terminal, 1, "in"),), ((0, chain.core),))
