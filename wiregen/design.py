"""The pipeline: read -> control -> allocate -> wire -> review. One `Design`, immutable."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.allocation.model import Allocation
from wiregen.control.functions import Declared, Function
from wiregen.scheme import Scheme
from wiregen.terms import Finding
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
    def status(self) -> str:
        """``for review``, or ``not for construction`` while error findings stand."""
        errors = any(f.severity == "error" and f.accepted is None for f in self.findings)
        return "not for construction" if errors else "for review"
