"""From a scheme to its design, stage by stage: read -> control -> allocate -> wire -> review."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.allocation.model import Allocation
from wiregen.allocation.settling import settle
from wiregen.circuit.build import Circuit, build
from wiregen.control import interpret
from wiregen.control.functions import Declared, Function
from wiregen.review import review
from wiregen.scheme import Scheme
from wiregen.terms import Finding
from wiregen.wiring import wire
from wiregen.wiring.model import Wiring

if TYPE_CHECKING:
    from wiregen.circuit.readings import Reading
    from wiregen.pipeline.cabinets import Part


@dataclass(frozen=True)
class Design:
    """Everything that is known of one scheme. Nothing downstream recomputes what stands here.

    ``circuit``, ``readings`` and ``parts`` are worked out when they are first asked for.
    """

    scheme: Scheme
    declared: Declared
    allocation: Allocation
    wiring: Wiring
    findings: tuple[Finding, ...]

    @property
    def functions(self) -> tuple[Function, ...]:
        return self.declared.functions

    @cached_property
    def circuit(self) -> Circuit:
        """The wired circuit as numbers."""
        return build(self.declared, self.allocation, self.wiring)

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """What an instrument shows, state by state."""
        from wiregen.circuit.readings import reading_states, readings

        if len(self.parts) == 1:
            return readings(self.declared, self.allocation, self.wiring, self.circuit)
        # Parts meet at earth only, so none feels what is done in another.
        states = reading_states(self.declared, self.allocation, self.circuit)
        order = {state.name: i for i, state in enumerate(states)}
        return tuple(sorted((r for part in self.parts for r in part.design.readings), key=lambda r: order[r.state]))

    def recall(self, readings: tuple[Reading, ...]) -> None:
        """Take over readings that were worked out before for the very same."""
        self.__dict__["readings"] = readings

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """A large plant by the cabinets that share nothing; else the design itself."""
        from wiregen.pipeline.cabinets import parts

        return parts(self)

    @property
    def has_errors(self) -> bool:
        return any(f.severity == "error" and f.accepted is None for f in self.findings)

    @property
    def status(self) -> str:
        """``for review``, or ``not for construction`` while error findings stand."""
        return "not for construction" if self.has_errors else "for review"


def design(scheme: Scheme, time_limit_s: float | None = None) -> Design:
    """Carry a scheme through every room. Raises InternalFault where the tool contradicts itself.

    ``time_limit_s`` bounds the search for a better allocation.
    """
    declared = interpret(scheme)
    allocation = allocate(problem_of(scheme, declared), time_limit_s=time_limit_s)
    declared = settle(declared, allocation)
    wiring = wire(scheme, declared, allocation)
    return Design(scheme, declared, allocation, wiring, review(scheme, declared, allocation, wiring))
