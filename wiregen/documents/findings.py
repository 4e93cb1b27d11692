"""The list of findings, as the person sees it who gets the pack and not the scheme file."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.table import Column, Table
from wiregen.terms import Finding, Severity

if TYPE_CHECKING:
    from wiregen.pipeline import Design
    from wiregen.scheme import Scheme

_COLUMNS = (
    Column("severity", "Severity"),
    Column("code", "Code", "designation"),
    Column("subject", "Subject", "designation"),
    Column("message", "Finding"),
    Column("why", "Why"),
    Column("remedy", "Remedy"),
    Column("basis", "Basis"),
    Column("line", "Line", "number"),
    Column("accepted", "Accepted because"),
)

#: Worst first.
RANK = {Severity.ERROR: 0, Severity.WARNING: 1, Severity.NOTE: 2}


def in_order(scheme: Scheme, findings: tuple[Finding, ...]) -> list[Finding]:
    """By line and column of the scheme; at one place the worst first."""

    def place(f: Finding) -> tuple[object, ...]:
        spot = scheme.locate(f.where)
        return spot.line, spot.column, RANK[f.severity], f.code, f.subject, f.message

    return sorted(findings, key=place)


def finding_table(design: Design) -> Table:
    """Errors first, then warnings and notes; each by its line in the scheme."""
    ordered = sorted(in_order(design.scheme, design.findings), key=lambda f: RANK[f.severity])
    rows = tuple(
        (
            str(f.severity),
            f.code,
            f.subject,
            f.message,
            f.why,
            f.remedy,
            f.basis,
            design.scheme.locate(f.where).line,
            f.accepted,
        )
        for f in ordered
    )
    return Table("findings", "Findings", _COLUMNS, rows)
