"""Blocks onto pages: every line gets its height, with room for the edges of places and the texts of cables."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from wiregen.control.functions import Device
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.lines import FREE, Block, Line
from wiregen.wiring.model import Cable, Conductor

PLACE_HEAD = 9.0  # room for the name of a far place above its first line, mm
CABLE_HEAD = 9.0  # room for a cable's name above its first core
CABLE_TEXT = 4.2  # a line of text about a cable, under its last core
SCREEN_TAIL = 12.0  # room for the tag of a screen
DENSE = 0.87  # of the usual room, where that saves a sheet


@dataclass(frozen=True, slots=True)
class PlacedLine:
    line: Line
    y: float
    place: str | None  # the far place that it leads to
    cable: str | None


@dataclass(frozen=True, slots=True)
class PlacedBlock:
    block: Block
    lines: tuple[PlacedLine, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """One sheet of one controller. ``bottom`` is the lowest that either side reaches, mm."""

    device: Device
    left: tuple[PlacedBlock, ...]
    right: tuple[PlacedBlock, ...]
    part: int
    parts: int
    bottom: float


class Placer:
    """Stacks blocks from ``top`` down to ``floor`` and starts a new page where one does not fit."""

    def __init__(self, circuit: Circuit, places: dict[str, str], top: float, floor: float) -> None:
        self._circuit, self._places, self._top, self._floor = circuit, places, top, floor

    def pages(self, device: Device, left: list[Block], right: list[Block]) -> list[Page]:
        """The pages of one controller, a little denser where that saves a sheet."""
        loose, dense = (self._pages(device, left, right, squeeze) for squeeze in (1.0, DENSE))
        return dense if len(dense) < len(loose) else loose

    def _pages(self, device: Device, left: list[Block], right: list[Block], squeeze: float) -> list[Page]:
        lefts = list(self._stack(device, [_squeezed(b, squeeze) for b in left]))
        rights = list(self._stack(device, [_squeezed(b, squeeze) for b in right]))
        count = max(len(lefts), len(rights), 1)
        pages = []
        for i in range(count):
            a, lower_a = lefts[i] if i < len(lefts) else ((), self._top)
            b, lower_b = rights[i] if i < len(rights) else ((), self._top)
            pages.append(Page(device, a, b, i + 1, count, max(lower_a, lower_b)))
        return pages

    def _stack(self, device: Device, blocks: list[Block]) -> Iterator[tuple[tuple[PlacedBlock, ...], float]]:
        page: list[PlacedBlock] = []
        y = self._top
        previous: PlacedLine | None = None  # the last line that left the controller's place
        for block in blocks:
            placed, lower = self._put(device, block, y, previous)
            if page and lower + self._tail(_last(placed, previous)) > self._floor:
                yield tuple(page), y + self._tail(previous)
                page, previous = [], None
                placed, lower = self._put(device, block, self._top, None)
            page.append(placed)
            y, previous = lower, _last(placed, previous)
        if page:
            yield tuple(page), y + self._tail(previous)

    def _put(self, device: Device, block: Block, y: float, previous: PlacedLine | None) -> tuple[PlacedBlock, float]:
        lines: list[PlacedLine] = []
        for i, line in enumerate(block.lines):
            place, cable = self._far_place(device, line), _cable_of(line)
            inside = block.branch is not None and block.branch.is_box and i > block.first
            ahead = 0.0 if inside else self._gap(previous, place, cable)
            new_cable = cable is not None and not inside and (previous is None or previous.cable != cable)
            y += ahead + (max(line.above, CABLE_HEAD) if new_cable else line.above)
            lines.append(PlacedLine(line, y, place, cable))
            previous = _last(PlacedBlock(block, tuple(lines[-1:])), previous)
            y += line.below
        return PlacedBlock(block, tuple(lines)), y

    def _gap(self, previous: PlacedLine | None, place: str | None, cable: str | None) -> float:
        """Extra room before a line that leaves the controller's place: after a cable, before the head of a place."""
        gap = 0.0
        if place is None and cable is None:
            return gap
        if previous is not None and previous.cable != cable:
            gap += self._tail(previous)
        if place is not None and (previous is None or previous.place != place):
            gap += PLACE_HEAD
        return gap

    def _tail(self, line: PlacedLine | None) -> float:
        """Room for what stands below the last core of a cable."""
        if line is None or line.cable is None:
            return 0.0
        cable = self._circuit.cables[line.cable]
        text = CABLE_TEXT * len(cable_lines(cable)) + 2.6
        return max(text, SCREEN_TAIL) if cable.screened else text

    def _far_place(self, device: Device, line: Line) -> str | None:
        """Where the line leads beyond the controller's own place, None where it stays in it."""
        far = None
        if line.lead is not None:
            far = self._places[line.lead.pin.device]
        elif line.chain is not None:
            far = self._places[line.chain.pins[0].device]
        elif line.spare is not None and line.spare.cable:
            far = self._circuit.cables[line.spare.cable].b
        elif line.outer == "onward" and line.way is not None:
            far = self._circuit.strips[line.way.terminals[-1].device]
        elif line.outer == "unit" and line.way is not None:
            cores = [c for c in line.way.conductors if c.cable]
            far = self._circuit.cables[cores[-1].cable or ""].b if cores else None
        return far if far != device.place else None


def _squeezed(block: Block, squeeze: float) -> Block:
    """The block with less room between its lines; a box keeps the pitch of its pins."""
    if block.branch is not None and block.branch.is_box:
        return block
    lines = tuple(replace(line, above=line.above * squeeze, below=line.below * squeeze) for line in block.lines)
    return replace(block, lines=lines)


def _last(block: PlacedBlock, previous: PlacedLine | None) -> PlacedLine | None:
    """The last line so far that leaves the controller's place: lines that stay in it part neither places nor cables."""
    return next((p for p in reversed(block.lines) if p.place is not None or p.cable is not None), previous)


def _cable_of(line: Line) -> str | None:
    if line.spare is not None:
        return line.spare.cable
    cores = [c.cable for c in line.way.conductors if c.cable] if line.way else []
    return cores[-1] if cores else None


def cable_lines(cable: Cable) -> tuple[str, ...]:
    """What stands under a cable: its make-up and length, and where its screen goes."""
    area = cable.gauge or _area(cable)
    times = "G" if "GNYE" in cable.marks else "x"
    size = f"{cable.pairs} x 2 x {area}" if cable.pairs else f"{cable.cores} {times} {area}"
    if cable.screened:
        size += " screened"
    if cable.length_m is not None:
        size += f", {cable.length_m:g} m"
    if not cable.screened:
        return (size,)
    landing = "screen on PE at both ends" if cable.screen == "both ends" else "screen on PE here, insulated there"
    return (size, landing)


def _area(cable: Cable) -> str:
    if cable.area_mm2 is None:
        return "not sized"
    short = round(cable.area_mm2, 1) == cable.area_mm2
    return f"{cable.area_mm2:.1f} mm²" if short else f"{cable.area_mm2:g} mm²"


def with_spares(
    plans: list[tuple[Device, list[Block], list[Block]]], spares: list[Conductor], strips: dict[str, str]
) -> None:
    """Put the spare cores of each cable after the last block that uses it, at a controller beside their strip."""
    by_cable: dict[str, list[Conductor]] = {}
    for spare in spares:
        by_cable.setdefault(spare.cable or "", []).append(spare)
    for cable, cores in by_cable.items():
        for device, left, right in reversed(plans):
            if strips[cores[0].a.device] != device.place:
                continue
            side = next((s for s in (right, left) if any(_uses(b, cable) for b in s)), None)
            if side is not None:
                last = max(i for i, b in enumerate(side) if _uses(b, cable))
                side.insert(last + 1, Block(tuple(Line(*FREE, outer="spare", spare=core) for core in cores)))
                break


def _uses(block: Block, cable: str) -> bool:
    return any(_cable_of(line) == cable for line in block.lines)
