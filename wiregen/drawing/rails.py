"""Rails: where one core feeds several devices in a far place."""

from __future__ import annotations

import itertools

from wiregen.drawing.canvas import Canvas
from wiregen.drawing.circuit import FieldChain
from wiregen.drawing.columns import Columns
from wiregen.drawing.diagram_marks import Marks, Setting
from wiregen.drawing.placing import Page, PlacedBlock, PlacedLine

NEAR_TAG = 10.0  # more room for a tag between controller and device
RAIL_STEP = 3.0


class Rails:
    """The rails on one page."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting, marks: Marks) -> None:
        self._canvas, self._page, self._set = canvas, page, setting
        self._circuit = setting.circuit
        self._marks = marks

    def draw(self, columns: Columns, blocks: tuple[PlacedBlock, ...]) -> None:
        feeds = [line for block in blocks for line in block.lines if line.line.outer == "chain"]
        slots = self._rail_slots(columns)
        for index, feed in enumerate(feeds):
            assert feed.line.chain is not None
            x = columns.x(columns.rail - RAIL_STEP * slots[index])
            members = self.members(columns, feed)
            if not members:
                continue
            ys = sorted({feed.y, *(y for _, y in members)})
            self._canvas.wire([(x, ys[0]), (x, ys[-1])])
            for y in ys[1:-1]:
                self._canvas.junction(x, y)
            for far_x, y in members:
                self._canvas.wire([(far_x, y), (x, y)])
                self._marks.number(far_x + columns.outwards * 12.6, y, self._circuit.potential(feed.line.chain.pins[0]))

    def members(self, columns: Columns, feed: PlacedLine) -> list[tuple[float, float]]:
        """Where the far pins of a feed's devices stand on this side, in the same run of lines to its place."""
        assert feed.line.chain is not None
        top, bottom = self._run(columns, feed.y)
        found = []
        for block in self._marks.blocks(columns):
            branch = block.block.branch
            if branch is None or branch.is_box or branch.far_pin not in feed.line.chain.pins:
                continue
            at = next(line for line in block.lines if line.line.outer == "unit")
            if top <= at.y <= bottom:
                found.append((self.unit_ends(columns, block, at)[-1], at.y))
        return found

    def rail_x(self, columns: Columns, chain: FieldChain) -> float | None:
        feeds = [
            line.line.chain
            for block in self._marks.blocks(columns)
            for line in block.lines
            if line.line.outer == "chain"
        ]
        if chain not in feeds:
            return None
        return columns.x(columns.rail - RAIL_STEP * self._rail_slots(columns)[feeds.index(chain)])

    def _rail_slots(self, columns: Columns) -> list[int]:
        """For each feed of a side the first place in which no rail beside it stands."""
        feeds = [line for block in self._marks.blocks(columns) for line in block.lines if line.line.outer == "chain"]
        taken: list[tuple[int, float, float]] = []
        slots: list[int] = []
        for feed in feeds:
            ys = [feed.y, *(y for _, y in self.members(columns, feed))]
            low, high = min(ys) - 2.0, max(ys) + 2.0
            beside = {slot for slot, top, bottom in taken if top < high and low < bottom}
            slot = next(n for n in range(len(feeds)) if n not in beside)
            taken.append((slot, low, high))
            slots.append(slot)
        return slots

    def _run(self, columns: Columns, y: float) -> tuple[float, float]:
        """The heights between which all lines that leave the controller's place lead where that at ``y`` does."""
        lines = [p for b in self._marks.blocks(columns) for p in b.lines if p.place is not None]
        runs = [[p.y for p in group] for _, group in itertools.groupby(lines, key=lambda p: p.place)]
        return next(((run[0], run[-1]) for run in runs if run[0] <= y <= run[-1]), (y, y))

    def unit_ends(self, columns: Columns, block: PlacedBlock, placed: PlacedLine) -> list[float]:
        """The x of every pin of the units in a row, from the controller outwards."""
        branch = block.block.branch
        assert branch is not None
        centre = self.centre(columns, placed)
        xs: list[float] = []
        for i, unit in enumerate(branch.units):
            at = centre + columns.outwards * 16.0 * i
            near, far = unit.symbol.pins[unit.near][0], unit.symbol.pins[unit.far or unit.near][0]
            xs += [at + near, at + far]
        return xs

    def centre(self, columns: Columns, placed: PlacedLine) -> float:
        """Where the first unit of a row stands; further out where a tag stands between it and the controller."""
        if placed.place:
            return columns.x(columns.far_unit)
        return columns.x(columns.unit + (NEAR_TAG if placed.line.inner is None else 0.0))
