"""Findings: a rule is one function over the design, and the catalogue explains each code."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.review import catalogue
from wiregen.terms import Finding, InternalFault, Notice

if TYPE_CHECKING:
    from wiregen.allocation.model import Allocation
    from wiregen.control.functions import Declared
    from wiregen.scheme import Scheme
    from wiregen.wiring.model import Wiring

__all__ = ["review"]


def review(scheme: Scheme, declared: Declared, allocation: Allocation, wiring: Wiring) -> tuple[Finding, ...]:
    """Everything that is wrong with a design or worth knowing, in the order of the file, then of the codes.

    Notices of control and wiring are told with those of the rules. Raises InternalFault for a notice whose code the
    catalogue does not have.
    """
    # Late, so that looking up a code does not wait for the rules and what they import.
    from wiregen.review.acceptance import accept
    from wiregen.review.context import context_of
    from wiregen.review.rules import RULES

    context = context_of(scheme, declared, allocation, wiring)
    notices = [*declared.notices, *wiring.notices, *(notice for rule in RULES for notice in rule(context))]
    first = {(n.code, n.where, n.subject): n for n in reversed(notices)}
    findings, remarks = accept(scheme, [_finding(notice) for notice in first.values()])
    return tuple(sorted((*findings, *map(_finding, remarks)), key=lambda finding: _order(scheme, finding)))


def _finding(notice: Notice) -> Finding:
    entry = catalogue.entry(notice.code)
    if entry is None:
        raise InternalFault(f"the catalogue of findings has no entry {notice.code!r}")
    return Finding(
        code=notice.code,
        severity=entry.severity,
        where=notice.where,
        subject=notice.subject,
        message=notice.message,
        why=entry.why,
        remedy=notice.remedy or entry.remedy,
        basis=entry.basis,
        value=notice.value,
        limit=notice.limit,
        unit=notice.unit,
    )


def _order(scheme: Scheme, finding: Finding) -> tuple[int, int, str, str, str]:
    spot = scheme.locate(finding.where)
    return spot.line, spot.column, finding.code, finding.subject, finding.message
