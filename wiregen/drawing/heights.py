"""The height of every row and terminal of one side of a page: one after the other, nothing beside anything else.

A row that runs straight shares its height with its terminal. All others have a height of their own, so that no two
wires can meet where one changes its height in a track.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from wiregen.drawing import crossings
from wiregen.drawing.cable_text import cable_lines
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.rooms import LANDING, Room, Rooms
from wiregen.drawing.rows import Block, Port, Row
from wiregen.terms import Pin

GRID = 0.625  # heights are multiples of this, mm
PLACE_HEAD = 12.0  # room for the name of a far place above its first row
CABLE_HEAD = 9.0  # from the first core of a cable upwards
CABLE_FOOT = 5.8  # from the last core of a cable to the first line of text under it
CABLE_LINE = 3.6


@dataclass(frozen=True, slots=True)
class PlacedRow:
    """A row at its height. ``port_y`` is the height of its terminal, ``track`` counts outwards where that differs."""

    row: Row
    block: Block
    index: int
    y: float
    room: Room
    port_y: float | None = None
    track: int | None = None


@dataclass(frozen=True, slots=True)
class PlacedPort:
    port: Port
    y: float
    wired: bool


@dataclass(frozen=True, slots=True)
class Stack:
    """One side of one page, heights measured from its top. ``bottom`` is the lowest that anything reaches."""

    rows: tuple[PlacedRow, ...] = ()
    ports: tuple[PlacedPort, ...] = ()
    bottom: float = 0.0


class Heights:
    """Gives heights with the rooms of one diagram, down to ``floor``, with room for so many ``tracks``."""

    def __init__(self, circuit: Circuit, rooms: Rooms, gap: float, floor: float, tracks: int, outermost: int) -> None:
        self.circuit, self.rooms, self.gap, self.outermost = circuit, rooms, gap, outermost
        self._floor, self._tracks = floor, tracks

    def fits(self, stack: Stack) -> bool:
        return stack.bottom <= self._floor

    def stack(self, ports: Sequence[Port], blocks: Sequence[Block]) -> Stack:
        """The blocks in this order, the terminals in theirs."""
        order = {port.pin: i for i, port in enumerate(ports)}
        straight = straight_ports(blocks, order)
        bent = [p for b in blocks for p in b.ports if p not in straight]
        surplus = set(bent[self._tracks :])
        if surplus:
            blocks = [block.without_ports(surplus) for block in blocks]
        return _Stacking(self, ports, straight).take(blocks)

    def foot(self, cable: str) -> float:
        """Room below the last core of a cable, for the text about it."""
        lines = cable_lines(self.circuit.cables[cable], self.gap - 1.0)
        return CABLE_FOOT + CABLE_LINE * len(lines)


def straight_ports(blocks: Sequence[Block], order: dict[Pin, int]) -> set[Pin]:
    """The terminals whose rows run straight: in one block only neighbours, for nothing fits between its rows."""
    pins = [p for block in blocks for p in block.ports]
    chosen = {pins[i] for i in crossings.straight([order[p] for p in pins])}
    for block in blocks:
        kept: Pin | None = None
        for pin in block.ports:
            if pin in chosen and kept is not None and order[pin] != order[kept] + 1:
                chosen.discard(pin)
            elif pin in chosen:
                kept = pin
    return chosen


class _Stacking:
    """One side of one page while it grows downwards."""

    def __init__(self, heights: Heights, ports: Sequence[Port], straight: set[Pin]) -> None:
        self._heights, self._ports, self._straight = heights, ports, straight
        self._y = self._lowest = 0.0  # of everything; of what has rows
        self._spare = 0.0  # how far down spare cores reach, which stand beside terminals without a row
        self._next = 0  # the first terminal that has no height yet
        self._order = {port.pin: i for i, port in enumerate(ports)}
        self._rows: list[PlacedRow] = []
        self._port_at: dict[Pin, float] = {}
        self._place = ""  # the last place of the outermost zone
        self._nearer: set[str] = set()  # places between that have been named
        self._cables: dict[int, tuple[str, float]] = {}  # by gap: the last cable, and the height of its last core

    def take(self, blocks: Sequence[Block]) -> Stack:
        self._wired = {p for b in blocks for p in b.ports}
        for run in self._runs(blocks):
            *before, block = run
            with_last = [b for b in before if b.cable and b.cable in {c for c, _ in self._cables.values()}]
            for first in with_last:
                self._block(first)
            first_port = next((p for p in block.ports if p in self._straight), None)
            self._ports_up_to(self._order[first_port] if first_port else self._next)
            for other in before:
                if other not in with_last:
                    self._block(other)
            self._block(block)
        self._ports_up_to(len(self._ports))
        return self._stack()

    def _runs(self, blocks: Sequence[Block]) -> list[list[Block]]:
        """Blocks that run straight, each with those before it that do not."""
        runs: list[list[Block]] = [[]]
        for block in blocks:
            runs[-1].append(block)
            if any(p in self._straight for p in block.ports):
                runs.append([])
        return [run for run in runs if run]

    def _ports_up_to(self, index: int) -> None:
        """The terminals before ``index`` that no row at their own height is wired to."""
        for port in self._ports[self._next : index]:
            if port.pin in self._wired:
                self._y = max(self._y, self._spare)
            room = self._heights.rooms.port(port, port.pin in self._wired)
            self._y = _grid(self._y + room.above)
            self._port_at[port.pin] = self._y
            self._y += room.below
        self._next = max(self._next, index)

    def _next_wired(self) -> int:
        """The next terminal to which a row is wired."""
        left = range(self._next, len(self._ports))
        return next((i for i in left if self._ports[i].pin in self._wired), len(self._ports))

    def _block(self, block: Block) -> None:
        if block.rows[0].kind in ("spare", "screen"):
            self._ports_up_to(self._next_wired())  # so that they stand beside the spare cores, not below them
        rooms, new = self._with_ports(block), block.zone > 0 and self._is_new(block)
        if _at_own_strip(block) and not new and self._goes_on(block):
            self._beside_terminals(block, rooms[0])
            return
        self._y = max(self._y, self._spare)
        if new and any(stop.zone > 0 for stop in block.rows[0].span.stops):
            rooms[0] = Room(max(rooms[0].above, LANDING), rooms[0].below)  # the strip's name, under that of the place
        self._y = self._clear(block, rooms[0].above, new)
        offset = 0.0
        for index, (row, room) in enumerate(zip(block.rows, rooms, strict=True)):
            if index:
                offset += rooms[index - 1].below + room.above
            y = self._y + offset
            self._rows.append(PlacedRow(row, block, index, y, room))
            if row.port in self._straight and row.port is not None:
                self._port_at[row.port] = y
                self._next = max(self._next, self._order[row.port] + 1)
            for gap, cable in cables_of(row, block):
                self._cables[gap] = (cable, y)
            for gap, core in (c for leg in block.legs[1:] if index == 0 for c in leg.span.cores):
                self._cables[gap] = (core.cable or "", y)
        self._y += offset + rooms[-1].below
        self._lowest = self._y

    def _goes_on(self, block: Block) -> bool:
        """Whether the last core in every gap that a block crosses is in the same cable."""
        return all(self._cables.get(gap, ("", 0.0))[0] == cable for gap, cable in block.cables().items())

    def _beside_terminals(self, block: Block, room: Room) -> None:
        """A spare core: it keeps to the strip and beyond, so that terminals without a row go on beside it."""
        (row,) = block.rows
        y = _grid(max(self._lowest, self._spare) + room.above)
        self._rows.append(PlacedRow(row, block, 0, y, room))
        self._cables.update({gap: (cable, y) for gap, cable in cables_of(row, block)})
        self._spare = y + room.below

    def _with_ports(self, block: Block) -> list[Room]:
        """The rooms of a block's rows. What stands at its terminals may reach over its other rows, not beyond them."""
        rooms = self._heights.rooms.block(block)
        pitches = [0.0, *(a.below + b.above for a, b in itertools.pairwise(rooms))]
        offsets = list(itertools.accumulate(pitches))
        above, below = rooms[0].above, rooms[-1].below
        for row, offset in zip(block.rows, offsets, strict=True):
            if row.port is not None and row.port in self._straight:
                room = self._heights.rooms.port(self._ports[self._order[row.port]], True)
                above, below = max(above, room.above - offset), max(below, room.below - offsets[-1] + offset)
        rooms[0] = Room(above, rooms[0].below)
        rooms[-1] = Room(rooms[-1].above, below)
        return rooms

    def _clear(self, block: Block, above: float, new: bool) -> float:
        """The height of a block's first row: below what stands there, the text of the last cable, and its own heads."""
        y = self._y + above
        if block.zone == 0:
            return _grid(y)
        head = PLACE_HEAD if new else 0.0
        for gap, cable in block.cables().items():
            last = self._cables.get(gap)
            if last is None or last[0] != cable:
                y = max(y, self._y + CABLE_HEAD)
            if last is not None and last[0] != cable:
                y = max(y, last[1] + self._heights.foot(last[0]) + CABLE_HEAD)
        if head:
            ends = [at + self._heights.foot(cable) for cable, at in self._cables.values()]
            y = max([y, *(end + above for end in ends)]) + head
        return _grid(y)

    def _is_new(self, block: Block) -> bool:
        """Whether the outline of a place begins with this block."""
        if block.zone < self._heights.outermost:
            known = block.place in self._nearer
            self._nearer.add(block.place)
            return not known
        known = block.place == self._place
        self._place = block.place
        return not known

    def _stack(self) -> Stack:
        bottom = max([self._y, self._spare, *(at + self._heights.foot(cable) for cable, at in self._cables.values())])
        bent = [r for r in self._rows if r.row.port is not None and r.row.port not in self._straight]
        spans = [(r.y, self._port_at[r.row.port]) for r in bent if r.row.port is not None]
        tracks = {id(bent[i]): track for track, i in enumerate(crossings.track_order(spans))}
        rows = [
            replace(r, port_y=self._port_at.get(r.row.port) if r.row.port else None, track=tracks.get(id(r)))
            for r in self._rows
        ]
        ports = [PlacedPort(p, self._port_at[p.pin], p.pin in self._wired) for p in self._ports]
        return Stack(tuple(rows), tuple(ports), bottom)


def _at_own_strip(block: Block) -> bool:
    """Whether a block is a spare core that begins at a strip of its controller's place and leads away from it."""
    row = block.rows[0]
    return row.kind == "spare" and row.span.stops[0].edge == "out"


def cables_of(row: Row, block: Block) -> list[tuple[int, str]]:
    """The cable in each gap that a row crosses, that of its screen too.

    Left out are cores of a block that runs in several cables: they have no ring, the mark of each names its cable.
    """
    if row.kind == "screen" and row.pin is not None:
        return [(row.gap, row.pin.device)]
    mixed = block.mixed_gaps()
    return [(gap, core.cable or "") for gap, core in row.span.cores if gap not in mixed]


def _grid(y: float) -> float:
    return math.ceil(y / GRID - 1e-6) * GRID
