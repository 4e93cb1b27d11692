"""Rails: the upright wires in a far place from which one core feeds several devices."""

from __future__ import annotations

from dataclasses import dataclass, field

from wiregen.drawing import crossings
from wiregen.drawing.circuit import FieldChain
from wiregen.drawing.columns import RAIL, Columns
from wiregen.drawing.heights import PlacedRow, Stack
from wiregen.drawing.plate import Plate
from wiregen.terms import Pin

LEAST_STEP = 0.9  # between two rails where there are very many, mm
CLEAR = 2.0  # between two rails in one column


@dataclass(slots=True)
class _Rail:
    """One chain on one page: the rows of its devices, and the row of the core or the tag that feeds them."""

    chain: FieldChain
    rows: list[PlacedRow] = field(default_factory=list)

    @property
    def span(self) -> tuple[float, float]:
        ys = [row.y for row in self.rows]
        return min(ys), max(ys)


def draw_rails(plate: Plate, columns: Columns, stack: Stack) -> dict[int, float]:
    """The rails of one side. Gives for each row on a rail, by its block's id, the distance at which the rail stands."""
    rails = _rails(plate, stack, len(columns.zones) - 1)
    places = _columns(rails)
    room = columns.zones[-1].end - 1.0
    count = max(places.values(), default=0) + 1
    step = min(RAIL, max(LEAST_STEP, RAIL * max(0.3, columns.rails - 1) / max(1, count - 1)))
    found: dict[int, float] = {}
    for index, rail in enumerate(rails):
        at = room - step * places[index]
        top, bottom = rail.span
        plate.wires.add(rail.chain.head, (columns.x(at), top), (columns.x(at), bottom))
        found.update({id(row.block): at for row in rail.rows})
    return found


def feed_of(stack: Stack) -> dict[Pin, PlacedRow]:
    """The rows of feeding cores, or of tags in their place, by the head of their chain."""
    return {row.row.chain.head: row for row in stack.rows if row.row.kind == "feed" and row.row.chain}


def _rails(plate: Plate, stack: Stack, outermost: int) -> list[_Rail]:
    rails: dict[Pin, _Rail] = {}
    feeds = feed_of(stack)
    for row in stack.rows:
        chain = row.row.chain if row.row.kind == "feed" else None
        if row.row.kind == "unit" and row.block.zone == outermost > 0:
            far = row.block.legs[-1].piece.grid.far
            chain = plate.circuit.chain_of(far) if far is not None else None
        if chain is not None and chain.head in feeds:
            rails.setdefault(chain.head, _Rail(chain)).rows.append(row)
    return [rail for rail in rails.values() if any(row.row.kind == "unit" for row in rail.rows)]


def _columns(rails: list[_Rail]) -> dict[int, int]:
    """A column for each rail, counted inwards: those side by side never share one, and rows cross the fewest."""
    found: dict[int, int] = {}
    for group in crossings.overlapping([rail.span for rail in rails], CLEAR):
        rows = [[row.y for row in rails[i].rows] for i in group]
        for column, at in enumerate(crossings.rail_order(rows)):
            found[group[at]] = column
    return found
