"""The conductors of a scheme as they are made: each with an id of its own, its number, colour and area."""

from __future__ import annotations

from wiregen.formulas.colours import Practice
from wiregen.terms import Pin
from wiregen.wiring.colours import core_colour, panel_area_mm2, panel_colour
from wiregen.wiring.cores import LaidCable
from wiregen.wiring.model import Conductor, ConductorKind, Potential, Side
from wiregen.wiring.nets import Net, Use
from wiregen.wiring.strips import class_of_net

#: A core of a laid cable: the cable and the core's mark.
CoreAt = tuple[LaidCable, str]

_LETTERS = {"wire": "w", "core": "c", "bridge": "b", "link": "e", "screen": "s"}


class ConductorBook:
    """Collects conductors. ``earthed`` holds the names of the potentials that a link earths."""

    def __init__(self, practice: Practice, of_net: dict[Pin, Potential], earthed: frozenset[str]) -> None:
        self._practice = practice
        self._of_net = of_net
        self._earthed = earthed
        self._counts: dict[str, int] = {}
        self.all: list[Conductor] = []

    def add(
        self,
        net: Net,
        kind: ConductorKind,
        a: Pin,
        b: Pin,
        a_side: Side | None = None,
        b_side: Side | None = None,
        core: CoreAt | None = None,
    ) -> str:
        """A conductor of ``net``; gives its id."""
        potential = self._of_net[net.key]
        use = net.uses.get(b) or net.uses.get(a)
        cable = core[0].cable if core else None
        made = Conductor(
            id=self._next(kind),
            number=potential.number,
            kind=kind,
            a=a,
            b=b,
            a_side=a_side,
            b_side=b_side,
            cable=cable.name if cable else None,
            core=core[1] if core else None,
            area_mm2=cable.area_mm2 if cable else panel_area_mm2(kind, potential.kind),
            length_m=cable.length_m if cable else None,
            colour=core_colour(core[1]) if core else self._colour(kind, potential, net),
            potential=potential.name,
            function=self._purpose(use, potential),
            gauge=cable.gauge if cable else "",
        )
        self.all.append(made)
        return made.id

    def spare(self, core: CoreAt, pin: Pin) -> str:
        """A spare core, which ends on ``pin`` at the strip and is insulated at its far end; gives its id."""
        laid, mark = core
        made = Conductor(
            id=self._next("core"),
            number=None,
            kind="core",
            a=pin,
            b=None,
            a_side="outside",
            b_side=None,
            cable=laid.cable.name,
            core=mark,
            area_mm2=laid.cable.area_mm2,
            length_m=laid.cable.length_m,
            colour=core_colour(mark),
            potential=None,
            function="spare",
            gauge=laid.cable.gauge,
        )
        self.all.append(made)
        return made.id

    def _next(self, kind: ConductorKind) -> str:
        letter = _LETTERS[kind]
        self._counts[letter] = self._counts.get(letter, 0) + 1
        return f"{letter}{self._counts[letter]:02d}"

    def _purpose(self, use: Use | None, potential: Potential) -> str:
        """What a conductor is for. What feeds or returns serves many functions, and the first of them would mislead."""
        own = use is not None and (potential.kind == "signal" or use.category == "safety")
        return use.function if use is not None and own else potential.name

    def _colour(self, kind: ConductorKind, potential: Potential, net: Net) -> str:
        alternating = class_of_net(net) == "ac"
        return panel_colour(kind, potential.kind, self._practice, potential.name in self._earthed, alternating)
