"""Combinations of contacts as a grid: in series along a row, in parallel in rows below one another.

Distances run from the end that faces the controller outwards, in mm; rows count from 0, in which both ends lie.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable
from dataclasses import dataclass, replace

from wiregen.control.functions import ContactTree, Leg, Parallel
from wiregen.drawing.units import Unit
from wiregen.terms import Pin

CELL = 28.0  # room for one contact with its texts above it
JOIN = 3.0  # from the edge of parallel branches to the wire that joins them

MakeUnit = Callable[[Leg], Unit]


@dataclass(frozen=True, slots=True)
class Cell:
    """One unit; ``at`` is the distance of its middle."""

    unit: Unit
    at: float
    row: int


@dataclass(frozen=True, slots=True)
class Run:
    """A piece of wire along a row; ``pin`` is a pin of its potential."""

    row: int
    start: float
    end: float
    pin: Pin


@dataclass(frozen=True, slots=True)
class Join:
    """A wire across rows that joins the ends of parallel branches."""

    at: float
    top: int
    bottom: int
    pin: Pin


@dataclass(frozen=True, slots=True)
class Grid:
    """What stands in one place between two potentials.

    ``near`` and ``far`` are pins at its ends, ``near_at`` and ``far_at`` where in row 0 its wires begin and end.
    """

    cells: tuple[Cell, ...]
    runs: tuple[Run, ...]
    joins: tuple[Join, ...]
    width: float
    rows: int
    near: Pin
    far: Pin | None
    near_at: float
    far_at: float

    @property
    def alone(self) -> Unit | None:
        """The only unit, where there is but one: its texts stand beside it, not above."""
        return self.cells[0].unit if len(self.cells) == 1 else None

    @property
    def pins(self) -> tuple[Pin, ...]:
        return tuple(p for c in self.cells for p in (c.unit.near_pin, c.unit.far_pin) if p is not None)


def of_unit(unit: Unit) -> Grid:
    """A grid of a single unit."""
    near, far = reach(unit)
    middle = CELL / 2
    cell = Cell(unit, middle, 0)
    return Grid((cell,), (), (), CELL, 1, unit.near_pin, unit.far_pin, middle - near, middle + far)


def of_tree(tree: ContactTree, unit_of: MakeUnit) -> Grid:
    """The grid of a combination of contacts. A series is declared from the feed to the terminal."""
    if isinstance(tree, Leg):
        return of_unit(unit_of(tree))
    parts = [of_tree(part, unit_of) for part in tree.parts]
    if len(parts) == 1:
        return parts[0]
    return _parallel(parts) if isinstance(tree, Parallel) else _series(parts[::-1])


def reach(unit: Unit) -> tuple[float, float]:
    """How far a unit's near and far pin lie from its middle."""
    near = abs(unit.symbol.pins[unit.near][0])
    return near, abs(unit.symbol.pins[unit.far][0]) if unit.far else near


def _series(parts: list[Grid]) -> Grid:
    starts = [sum(p.width for p in parts[:i]) for i in range(len(parts))]
    moved = [_moved(part, start, 0) for part, start in zip(parts, starts, strict=True)]
    between = [Run(0, a.far_at, b.near_at, b.near) for a, b in itertools.pairwise(moved)]
    first, last = moved[0], moved[-1]
    width, rows = sum(p.width for p in parts), max(p.rows for p in parts)
    return _gathered(moved, between, [], width, rows, (first.near, last.far), (first.near_at, last.far_at))


def _parallel(parts: list[Grid]) -> Grid:
    width = max(part.width for part in parts) + 2 * JOIN
    tops = [sum(p.rows for p in parts[:i]) for i in range(len(parts))]
    moved = [_moved(part, JOIN, top) for part, top in zip(parts, tops, strict=True)]
    near, far = parts[0].near, parts[0].far
    assert far is not None  # contacts have two pins
    inner, outer = JOIN, width - JOIN
    leads = [Run(top, inner, p.near_at, near) for p, top in zip(moved, tops, strict=True) if p.near_at > inner]
    leads += [Run(top, p.far_at, outer, far) for p, top in zip(moved, tops, strict=True) if p.far_at < outer]
    joins = [Join(inner, 0, tops[-1], near), Join(outer, 0, tops[-1], far)]
    rows = sum(p.rows for p in parts)
    return _gathered(moved, leads, joins, width, rows, (near, far), (inner, outer))


def _gathered(
    parts: list[Grid],
    runs: list[Run],
    joins: list[Join],
    width: float,
    rows: int,
    ends: tuple[Pin, Pin | None],
    at: tuple[float, float],
) -> Grid:
    return Grid(
        tuple(c for part in parts for c in part.cells),
        (*(r for part in parts for r in part.runs), *runs),
        (*(j for part in parts for j in part.joins), *joins),
        width,
        rows,
        *ends,
        *at,
    )


def _moved(part: Grid, by: float, rows: int) -> Grid:
    return replace(
        part,
        cells=tuple(Cell(c.unit, c.at + by, c.row + rows) for c in part.cells),
        runs=tuple(Run(r.row + rows, r.start + by, r.end + by, r.pin) for r in part.runs),
        joins=tuple(Join(j.at + by, j.top + rows, j.bottom + rows, j.pin) for j in part.joins),
        near_at=part.near_at + by,
        far_at=part.far_at + by,
    )
