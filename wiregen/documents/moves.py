"""The list of moves: what is not where an earlier pack, or `wired`, has it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from wiregen.advice.moves import At, Moved, moves
from wiregen.documents.table import Cell, Column, Table, natural

if TYPE_CHECKING:
    from wiregen.pipeline import Design

_COLUMNS = (
    Column("kind", "Kind"),
    Column("name", "Function or conductor", "designation"),
    Column("change", "Change"),
    *(
        Column(f"{when}_{key}", f"{title}, {'before' if when == 'was' else 'now'}", "designation")
        for when in ("was", "is")
        for key, title in (("from", "From"), ("to", "To"), ("number", "Number"), ("cable", "Cable"), ("core", "Core"))
    ),
)

_KINDS = ("function", "core", "screen", "wire", "bridge", "link")
_CHANGES = ("moved", "renumbered", "gone", "new")


def keeps_something(design: Design) -> bool:
    """Whether there is anything that could have moved."""
    return design.scheme.as_built is not None or bool(design.scheme.model.wired)


def moves_table(design: Design) -> Table:
    """One row for each function and conductor that is not as it was; empty where all is in its place."""

    def place(m: Moved) -> tuple[object, ...]:
        return _KINDS.index(m.kind) if m.kind in _KINDS else len(_KINDS), _CHANGES.index(m.change), natural(m.name)

    rows = tuple((m.kind, m.name, m.change, *_cells(m.was), *_cells(m.now)) for m in sorted(moves(design), key=place))
    return Table("moves", "Moves", _COLUMNS, rows)


def _cells(at: At | None) -> tuple[Cell, ...]:
    return (at.a, at.b, at.number, at.cable, at.core) if at else (None,) * 5
