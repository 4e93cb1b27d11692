"""The list of terminations: one row a conductor, with both its ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.documents.table import Cell, Column, Table, natural, with_gauges
from wiregen.formulas.ferrules import ferrule
from wiregen.wiring.model import Conductor

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("conductor", "Conductor", "designation"),
    Column("number", "Number", "designation"),
    Column("kind", "Kind"),
    Column("cable", "Cable", "designation"),
    Column("core", "Core", "designation"),
    Column("from", "From", "designation"),
    Column("from_side", "Side"),
    Column("to", "To", "designation"),
    Column("to_side", "Side"),
    Column("function", "Function"),
    Column("area_mm2", "Area", "number", "mm2"),
    Column("colour", "Colour"),
    Column("ferrule_mm2", "Ferrule", "number", "mm2"),
    Column("collar", "Collar"),
    Column("collar_code", "Collar after"),
    Column("length_m", "Length", "number", "m"),
)

_KINDS = ("core", "screen", "wire", "bridge", "link")


def terminations(design: Design) -> Table:
    """Cables first, core by core with their spare cores and the screen; then the wires, bridges and links.

    A spare core has no number and no far end; its side of the strip says where it lands.
    """
    cores = {(c.name, mark): index for c in design.wiring.cables for index, mark in enumerate(c.marks)}

    def place(c: Conductor) -> tuple[object, ...]:
        cable = _cable(c)
        index = cores.get((cable or "", c.core or ""), len(cores))
        return (cable is None, natural(cable), index, _KINDS.index(c.kind), natural(c.core), natural(c.id))

    ordered = sorted(design.wiring.conductors, key=place)
    table = Table("terminations", "Terminations", _COLUMNS, tuple(_row(c) for c in ordered))
    return with_gauges(table, [c.gauge for c in ordered])


def _cable(c: Conductor) -> str | None:
    """The cable that a conductor belongs to; a screen is named by its pin."""
    return c.a.device if c.kind == "screen" else c.cable


def _row(c: Conductor) -> tuple[Cell, ...]:
    function = c.function or ("spare" if c.b is None else "")
    to = None if c.b is None else str(c.b)
    ends = (str(c.a), c.a_side, to, c.b_side)
    return (c.id, c.number, c.kind, _cable(c), c.core, *ends, function, c.area_mm2, c.colour, *_ferrule(c), c.length_m)


def _ferrule(c: Conductor) -> tuple[float | None, str | None, str | None]:
    """Size [mm2], colour and colour code of the end sleeve; none for bridges, links and screens."""
    found = ferrule(c.area_mm2) if c.area_mm2 and c.kind in ("wire", "core") else None
    return (found.area_mm2, found.collar, "DIN 46228-4") if found else (None, None, None)
