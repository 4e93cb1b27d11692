"""A scheme carried as far as its wires, as the laws look at it."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen import pipeline
from wiregen.allocation.model import Allocation, Assignment
from wiregen.control.functions import Declared, Function
from wiregen.scheme import Scheme
from wiregen.wiring.model import Wiring

#: What control or wiring may notice of a design of which everything is wired.
HARMLESS = frozenset(
    {
        "polarity-not-declared",
        "zero-volt-not-declared",
        "input-without-meaning",
        "existing-cable-full",
        "spare-below-policy",
        "wired-not-kept",
        "kept-number-unknown",
    }
)


@dataclass(frozen=True, slots=True)
class Wired:
    """A scheme carried as far as its wires."""

    scheme: Scheme
    declared: Declared
    allocation: Allocation
    wiring: Wiring

    @property
    def codes(self) -> set[str]:
        """The codes of what control and wiring noticed."""
        return {n.code for n in (*self.declared.notices, *self.wiring.notices)}

    @property
    def is_complete(self) -> bool:
        """Whether nothing is known that keeps a part of the design from being wired."""
        return self.codes <= HARMLESS and self.allocation.status != "infeasible"

    def at(self, function: Function, end: int = 0) -> Assignment | None:
        return self.allocation.of_end(function.ends[end].id)

    def function(self, controller: str, name: str) -> Function:
        return next(f for f in self.declared.functions if (f.controller, f.name) == (controller, name))


def wired(scheme: Scheme) -> Wired:
    """Carry a scheme through every room that the laws look at."""
    design = pipeline.design(scheme)
    return Wired(scheme, design.declared, design.allocation, design.wiring)
