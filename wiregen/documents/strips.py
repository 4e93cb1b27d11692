"""The strip table: one row a strip terminal, with what lands on either side."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from wiregen.documents.table import PARTED, Cell, Column, Table, natural
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor, StripTerminal

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("terminal", "Terminal", "designation"),
    Column("place", "Place", "designation"),
    Column("potential", "Potential"),
    Column("number", "Number", "designation"),
    Column("inside_to", "Inside to", "designation"),
    Column("inside_conductor", "Conductor", "designation"),
    Column("inside_core", "Cable and core", "designation"),
    Column("inside_fitted", "Fitted"),
    Column("outside_to", "Outside to", "designation"),
    Column("outside_conductor", "Conductor", "designation"),
    Column("outside_core", "Cable and core", "designation"),
    Column("outside_fitted", "Fitted"),
    Column("bridged_to", "Bridged to", "designation"),
)


def strip_table(design: Design) -> Table:
    """All strips by name, their terminals in physical order. A free clamp is an empty cell.

    ``fitted`` is ``works`` for what is wired where the place is built, ``site`` for what is landed on site.
    """
    conductors = {c.id: c for c in design.wiring.conductors}
    numbers = {p.name: p.number for p in design.wiring.potentials}
    rows: list[tuple[Cell, ...]] = []
    for strip in sorted(design.wiring.strips, key=lambda s: natural(s.name)):
        for terminal in strip.terminals:
            inside = [conductors[i] for i in terminal.inside]
            outside = [conductors[i] for i in terminal.outside]
            rows.append(
                (
                    str(terminal.pin),
                    strip.place,
                    terminal.potential,
                    numbers.get(terminal.potential or ""),
                    _far_ends(inside, terminal),
                    _joined(c.id for c in inside),
                    _cores(inside),
                    _fitted(inside),
                    _far_ends(outside, terminal),
                    _joined(c.id for c in outside),
                    _cores(outside),
                    _fitted(outside),
                    _joined(str(Pin(strip.name, name)) for name in terminal.bridged_to),
                )
            )
    return Table("strips", "Terminal strips", _COLUMNS, tuple(rows))


def _far_ends(conductors: list[Conductor], terminal: StripTerminal) -> str | None:
    ends = ((c.b if c.a == terminal.pin else c.a) for c in conductors)
    return _joined("" if end is None else str(end) for end in ends)


def _cores(conductors: list[Conductor]) -> str | None:
    """A screen is named by its cable's pin."""
    return _joined(str(c.a) if c.kind == "screen" else f"{c.cable}:{c.core}" for c in conductors if _of_cable(c))


def _of_cable(conductor: Conductor) -> bool:
    return bool(conductor.cable) or conductor.kind == "screen"


def _fitted(conductors: list[Conductor]) -> str | None:
    """Where a conductor is landed: cables on site, wires within a place at the works that builds it."""
    return _joined(dict.fromkeys("site" if _of_cable(c) else "works" for c in conductors))


def _joined(texts: Iterable[str]) -> str | None:
    return PARTED.join(t for t in texts if t) or None
