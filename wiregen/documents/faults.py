"""The table of single faults, and the same for programs. Keys and meaning of the JSON are a promise to users."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from wiregen.documents.findings import RANK
from wiregen.documents.table import PARTED, Column, Table
from wiregen.terms import Severity

if TYPE_CHECKING:
    from wiregen.behaviour.campaign import Outcome
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("severity", "Severity"),
    Column("class", "Class"),
    Column("fault", "Fault"),
    Column("kind", "Kind"),
    Column("at", "At"),
    Column("drive", "Drive", "designation"),
    Column("state", "State"),
    Column("motion", "Motor"),
    Column("stop", "Stop"),
    Column("lost", "Lost"),
    Column("noticed", "Noticed"),
    Column("shown_by", "Shown by"),
    Column("remedy", "Remedy"),
)


def ranked(design: Design, outcomes: Sequence[Outcome]) -> list[tuple[Severity, Outcome]]:
    """The outcomes with their severities: the worst first, in the order of the faults within."""
    from wiregen.behaviour.classes import CLASSES
    from wiregen.behaviour.severities import independent_stops, severity

    independent = independent_stops(design.declared)
    found = [(severity(o, independent), o) for o in outcomes]
    return sorted(found, key=lambda pair: (RANK[pair[0]], CLASSES.index(pair[1].fault_class)))


def fault_table(design: Design, outcomes: Sequence[Outcome]) -> Table:
    """One row a fault and state, the worst first."""
    from wiregen.behaviour.remedies import remedies

    rows = []
    for severity, o in ranked(design, outcomes):
        helps = PARTED.join(r.says for r in remedies(o, design)) if severity is not Severity.NOTE else ""
        rows.append(
            (
                str(severity),
                o.fault_class,
                said(o),
                o.fault.kind,
                PARTED.join(o.fault.at),
                o.drive,
                o.state,
                o.motion,
                o.stop,
                PARTED.join(o.lost) or None,
                o.noticed,
                o.shown_by or None,
                helps or None,
            )
        )
    return Table("faults", "Single faults", _COLUMNS, tuple(rows))


def said(outcome: Outcome) -> str:
    """A fault with what is assumed beside it, and why it may be let out."""
    beside = PARTED.join(text for text in (outcome.fault.assumed, outcome.fault.excluded) if text)
    return f"{outcome.fault.name} [{beside}]" if beside else outcome.fault.name


def faults_json(design: Design, outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """Every outcome, how many there are of each class, and what it all rests on."""
    from wiregen.behaviour.assumptions import ASSUMPTIONS
    from wiregen.behaviour.campaign import summary
    from wiregen.behaviour.remedies import remedies
    from wiregen.behaviour.severities import independent_stops, severity
    from wiregen.review.catalogue.faults import CODES

    independent = independent_stops(design.declared)
    return {
        "faults": [
            {
                "fault": o.fault.name,
                "kind": o.fault.kind,
                "at": list(o.fault.at),
                "drive": o.drive,
                "state": o.state,
                "class": o.fault_class,
                "motion": o.motion,
                "stop": o.stop,
                "lost": list(o.lost),
                "noticed": o.noticed,
                "severity": str(severity(o, independent)),
                "code": CODES.get(o.fault_class),
                "shown_by": o.shown_by or None,
                "assumed": o.fault.assumed or None,
                "excluded": o.fault.excluded or None,
                "remedies": [r.says for r in remedies(o, design)],
            }
            for o in outcomes
        ],
        "summary": summary(outcomes),
        "assumptions": list(ASSUMPTIONS),
    }
