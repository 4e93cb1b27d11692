"""The expected readings: one row a place to measure and state."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.table import Column, Table

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("state", "State"),
    Column("from", "From", "designation"),
    Column("to", "To", "designation"),
    Column("function", "Function"),
    Column("expect_V", "Expect", "number", "V"),
    Column("expect_mA", "Expect", "number", "mA"),
    Column("least", "Least", "number"),
    Column("most", "Most", "number"),
)


def reading_table(design: Design) -> Table:
    """All readings, those of the base state first; least and most in the unit of what is expected."""
    rows = tuple(
        (r.state, str(r.pin), str(r.to), r.function, r.volts, r.milliamps, r.low, r.high) for r in design.readings
    )
    return Table("readings", "Expected readings", _COLUMNS, rows)
