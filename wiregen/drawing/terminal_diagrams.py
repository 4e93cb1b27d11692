"""The pages of all controllers: planned, measured and stacked, ready to be drawn."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace

from wiregen.control.functions import CONTROLLERS, Device
from wiregen.drawing import stacking
from wiregen.drawing.box import Box
from wiregen.drawing.cable_ends import with_ends
from wiregen.drawing.columns import CLOSE, Columns, fitted
from wiregen.drawing.diagram import EDGE, FOOT, HEAD, REMARK, TITLE_ROOM, Page, PageSide
from wiregen.drawing.heights import Heights, Stack, straight_ports
from wiregen.drawing.plate import Setting
from wiregen.drawing.remarks import remarks_of
from wiregen.drawing.rooms import DENSE, LOOSE, Rooms
from wiregen.drawing.sides import Planner, Side
from wiregen.drawing.zones import Zones
from wiregen.pipeline import Design
from wiregen.terms import Pin

MOST_TRACKS = 12  # wires of one side that change their height; what is more goes over tags
BESIDE = 4.0  # left free beside the widest diagram, mm

RoomFor = Callable[[Device], Box]


class TerminalDiagrams:
    """Makes the pages of every controller. ``room_for`` gives the room that a sheet has for the pages of one."""

    def __init__(self, design: Design, setting: Setting, room_for: RoomFor) -> None:
        self._design, self._setting, self._room_for = design, setting, room_for
        self.planner = Planner(design, setting.circuit)
        devices = [d for d in design.declared.devices if d.kind in CONTROLLERS]
        self._plans = [(device, list(self.planner.sides(device))) for device in devices]
        with_ends(self._plans, setting.circuit)

    def pages(self) -> Iterator[Page]:
        """Every page of every controller, in declared order."""
        for device, sides in self._plans:
            shown = [side for side in sides if side.ports or side.blocks]
            found = self._beside(device, shown) if shown else []
            if found is None:
                found = [page for side in shown for page in self._beside(device, [side], anyhow=True) or ()]
            yield from (replace(page, part=i, parts=len(found)) for i, page in enumerate(found, 1))

    def _beside(self, device: Device, sides: list[Side], anyhow: bool = False) -> list[Page] | None:
        """Pages that show these sides beside one another; None where they are too wide for that."""
        zones, area = Zones(self._setting.circuit, device.place), self._room_for(device)
        tracks = [_tracks(side, zones) for side in sides]
        room = area.width - BESIDE - CLOSE * (2 - len(sides))
        columns = fitted(sides, zones, tracks, room, anyhow)
        if columns is None:
            return None
        remarks = remarks_of(self._design, device)
        floor = area.height - HEAD - TITLE_ROOM - REMARK * len(remarks) - FOOT - EDGE - BESIDE
        shown = [self._stacked(side, column, zones, floor) for side, column in zip(sides, columns, strict=True)]
        count = max(len(pages) for pages in shown)
        empty = [replace(pages[0], stack=Stack()) for pages in shown]
        found = []
        for i in range(count):
            at = {s.mirrored: p[i] if i < len(p) else e for s, p, e in zip(sides, shown, empty, strict=True)}
            found.append(Page(device, zones, at.get(False), at.get(True), columns[0].words, remarks, 1, 1))
        return found

    def _stacked(self, side: Side, columns: Columns, zones: Zones, floor: float) -> list[PageSide]:
        """The pages of one side, a little denser where that saves one."""
        found = []
        for clear in (LOOSE, DENSE):
            rooms = Rooms(self._setting.circuit, self._setting.references, columns, zones, clear)
            heights = Heights(self._setting.circuit, rooms, columns.words.gap, floor, MOST_TRACKS, zones.outermost)
            found.append([PageSide(s, columns, rooms) for s in stacking.pages(side, heights) or [Stack()]])
        loose, dense = found
        return dense if len(dense) < len(loose) else loose


def _tracks(side: Side, zones: Zones) -> int:
    """An upper bound of the wires of one page that change their height."""
    order: dict[Pin, int] = {port.pin: i for i, port in enumerate(side.ports)}
    blocks = stacking.ordered(side.blocks, order, zones.outermost)
    return min(MOST_TRACKS, sum(len(b.ports) for b in blocks) - len(straight_ports(blocks, order)))
