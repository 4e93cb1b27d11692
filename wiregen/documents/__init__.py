"""Schedules and lists of a design as tables, and the writers that turn them into CSV, XLSX and JSON."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.cables import cable_schedule
from wiregen.documents.csv import as_csv, shown
from wiregen.documents.faults import fault_table, faults_json
from wiregen.documents.findings import finding_table, in_order
from wiregen.documents.functions import function_table
from wiregen.documents.machine import (
    allocation_json,
    conflicts_json,
    design_json,
    findings_json,
    json_bytes,
    readings_json,
    scheme_json,
)
from wiregen.documents.moves import keeps_something, moves_table
from wiregen.documents.readings import reading_table
from wiregen.documents.strips import strip_table
from wiregen.documents.table import Column, Table
from wiregen.documents.terminations import terminations
from wiregen.documents.test_sheet import CAUTION as TEST_CAUTION
from wiregen.documents.test_sheet import sections as test_sections
from wiregen.documents.test_sheet import test_sheet
from wiregen.documents.xlsx import Heading, as_xlsx

if TYPE_CHECKING:
    from wiregen.pipeline import Design

__all__ = [
    "TEST_CAUTION",
    "Column",
    "Heading",
    "Table",
    "allocation_json",
    "as_csv",
    "as_xlsx",
    "cable_schedule",
    "conflicts_json",
    "design_json",
    "fault_table",
    "faults_json",
    "finding_table",
    "findings_json",
    "function_table",
    "heading",
    "in_order",
    "json_bytes",
    "lists",
    "moves_table",
    "reading_table",
    "readings_json",
    "scheme_json",
    "shown",
    "strip_table",
    "terminations",
    "test_sections",
    "test_sheet",
]


def heading(design: Design) -> Heading:
    """What stands above every list of a design."""
    model = design.scheme.model
    return Heading(model.scheme, model.drawing, model.revision, design.status)


def lists(design: Design) -> tuple[Table, ...]:
    """Every list of a design; that of moves where something is kept from before."""
    return (
        cable_schedule(design),
        terminations(design),
        strip_table(design),
        function_table(design),
        reading_table(design),
        test_sheet(design),
        finding_table(design),
        *((moves_table(design),) if keeps_something(design) else ()),
    )
