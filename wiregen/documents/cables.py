"""The cable schedule: one row a cable."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.table import Column, Table, natural, with_gauges

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("cable", "Cable", "designation"),
    Column("from", "From", "designation"),
    Column("to", "To", "designation"),
    Column("class", "Class"),
    Column("cores", "Cores", "number"),
    Column("pairs", "Pairs", "number"),
    Column("used", "Used", "number"),
    Column("spare", "Spare", "number"),
    Column("area_mm2", "Area", "number", "mm2"),
    Column("screen", "Screen on PE"),
    Column("length_m", "Length", "number", "m"),
)


def cable_schedule(design: Design) -> Table:
    """All cables by name. ``length_m`` is empty where no route is declared, ``pairs`` where cores are not paired."""
    cables = sorted(design.wiring.cables, key=lambda c: natural(c.name))
    rows = tuple(
        (c.name, c.a, c.b, c.category, c.cores, c.pairs, c.used, c.spare, c.area_mm2, c.screen, c.length_m)
        for c in cables
    )
    return with_gauges(Table("cable_schedule", "Cable schedule", _COLUMNS, rows), [c.gauge for c in cables])
