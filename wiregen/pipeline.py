"""The pipeline: read -> control -> allocate -> wire -> review. One `Design`, immutable."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.allocation.model import Allocation
from wiregen.allocation.settling import settle
from wiregen.control import interpret
from wiregen.control.functions import Declared, Function
from wiregen.review import review
from wiregen.scheme import Scheme
from wiregen.terms import Finding
from wiregen.wiring import wire
from wiregen.wiring.model import Wiring


@dataclass(frozen=True, slots=True)
class Design:
    """Everything that is known of one scheme. Nothing downstream recomputes what stands here."""

    scheme: Scheme
    declared: Declared
    allocation: Allocation
    wiring: Wiring
    findings: tuple[Finding, ...]

    @property
    def functions(self) -> tuple[Function, ...]:
        return self.declared.functions

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
