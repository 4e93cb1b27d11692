"""The test sheet: what an electrician measures and tries, in order, with room for what was read."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.table import Cell, Column, Table
from wiregen.documents.test_steps import SECTIONS, steps

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("step", "Step"),
    Column("state", "State"),
    Column("from", "From"),
    Column("to", "To"),
    Column("expect", "Expect"),
    Column("least", "Least"),
    Column("most", "Most"),
    Column("read", "Read"),
    Column("ok", "OK"),
    Column("remark", "Remark"),
)
CAUTION = (
    "Live measuring is for qualified people. Expected figures hold for the supply as it was measured. Local codes, the "
    "makers' instructions and a licensed person's review come first; this sheet is no safety assessment."
)


def test_sheet(design: Design) -> Table:
    """All steps, numbered within their sections; the last three columns are empty."""
    rows: list[tuple[Cell, ...]] = []
    number, section = 0, ""
    for step in steps(design):
        number = number + 1 if step.section == section else 1
        section = step.section
        at = f"{section.split(' ', 1)[0]}.{number}"
        figures = (step.expect or None, step.least or None, step.most or None)
        rows.append((at, step.state, _pin(step.a), _pin(step.b), *figures, None, None, None))
    return Table("test_sheet", "Test sheet", _COLUMNS, tuple(rows))


def _pin(text: str) -> Cell:
    return text or None


def sections(table: Table) -> tuple[tuple[str, int], ...]:
    """The headings of the sections of a test sheet, and how many steps each has."""
    found: dict[str, int] = {}
    for at in table.column("step"):
        found[str(at).split(".", 1)[0]] = found.get(str(at).split(".", 1)[0], 0) + 1
    return tuple((next(s for s in SECTIONS if s.startswith(number)), count) for number, count in found.items())
