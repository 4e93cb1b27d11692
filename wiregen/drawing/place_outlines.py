"""The dash-dotted outlines of the places beside a controller's own."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from wiregen.drawing.box import Box
from wiregen.drawing.columns import CLOSE, Columns, Zone
from wiregen.drawing.heights import PlacedRow, Stack
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.plate import Plate
from wiregen.drawing.zones import Zones

NAME_ROOM = 8.2  # from an outline's upper edge to the room of its first row, mm
UNDER = 1.6  # from the room of the last row to the lower edge


def draw_far_places(plate: Plate, zones: Zones, columns: Columns, stack: Stack) -> None:
    """An outline round the rows of each place, and one round the place that lies between where there is one."""
    rows = [row for row in stack.rows if row.block.zone > 0]
    far = [row for row in rows if row.block.zone == zones.outermost]
    for place, group in itertools.groupby(far, key=lambda r: r.block.place):
        _outline(plate, columns, columns.zones[zones.outermost], place, list(group))
    if zones.outermost == 2 and rows:
        _outline(plate, columns, columns.zones[1], zones.home, rows)


def _outline(plate: Plate, columns: Columns, zone: Zone, place: str, rows: Sequence[PlacedRow]) -> None:
    first, last = rows[0], rows[-1]
    a, b = columns.x(zone.inner), columns.x(zone.outer)
    box = Box(min(a, b), first.y - first.room.above - NAME_ROOM, max(a, b), last.y + last.room.below + UNDER)
    plate.canvas.place(box)
    text, size = one_line(plate.setting.title_of(place), box.width - 2 * CLOSE)
    plate.canvas.text(box.x0 + CLOSE, box.y0 + 5.4, text, size, strong=True)
