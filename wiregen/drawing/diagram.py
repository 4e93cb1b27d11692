"""A terminal diagram: one page of a controller with what is wired to both of its sides."""

from __future__ import annotations

from dataclasses import dataclass, replace

from wiregen.control.functions import Device
from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.cable_signs import draw_cables, draw_strip_names
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, TITLE
from wiregen.drawing.columns import CLOSE, LABEL, Columns
from wiregen.drawing.heights import PlacedPort, Stack
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.place_outlines import draw_far_places
from wiregen.drawing.plate import Plate
from wiregen.drawing.rails import draw_rails
from wiregen.drawing.remarks import Remark
from wiregen.drawing.rooms import Rooms
from wiregen.drawing.runs import RunDrawer
from wiregen.drawing.symbols import HEAVY
from wiregen.drawing.tags import Heading, draw_tag, leads_to
from wiregen.drawing.wording import Words, at_port
from wiregen.drawing.zones import Zones

HEAD = 9.0  # from the upper edge of the controller's place to its own, mm
TITLE_ROOM = 11.0  # from its upper edge to the first line of remarks or terminals
REMARK = 4.2
FOOT = 8.0  # below the last row, for the device's name in words
EDGE = 3.0  # below the controller's outline


@dataclass(frozen=True, slots=True)
class PageSide:
    """One side of a page: how it is stacked and where its columns lie."""

    stack: Stack
    columns: Columns
    rooms: Rooms


@dataclass(frozen=True, slots=True)
class Page:
    """One page of a controller, ``part`` of ``parts``. A page that shows one side only has None for the other."""

    device: Device
    zones: Zones
    left: PageSide | None
    right: PageSide | None
    words: Words
    remarks: tuple[Remark, ...]
    part: int
    parts: int

    @property
    def head(self) -> float:
        """From the figure's upper edge to the heights of both stacks."""
        return HEAD + TITLE_ROOM + REMARK * len(self.remarks)

    @property
    def height(self) -> float:
        bottoms = [side.stack.bottom for side in (self.left, self.right) if side is not None]
        return self.head + max(bottoms) + FOOT + EDGE

    @property
    def width(self) -> float:
        return sum(s.columns.end for s in (self.left, self.right) if s is not None) + self.words.outline + self.bare

    @property
    def bare(self) -> float:
        """What stands beside the controller where a side is not shown."""
        return CLOSE * sum(side is None for side in (self.left, self.right))

    @property
    def title(self) -> str:
        part = f", {self.part} of {self.parts}" if self.parts > 1 else ""
        return f"{self.device.name}{part}"


def draw_page(plate: Plate, page: Page, area: Box, top: float) -> None:
    """Draw a page with its upper edge at ``top``, in the middle of ``area``."""
    start = area.centre[0] - page.width / 2
    x0 = start + (page.left.columns.end if page.left else CLOSE)
    outline = Box(x0, top + HEAD, x0 + page.words.outline, top + page.height - EDGE)
    _outline(plate, page, outline)
    for side, edge in ((page.left, outline.x0), (page.right, outline.x1)):
        if side is not None:
            _side(plate, page, replace(side, columns=side.columns.at(edge)), top + page.head)
    _own_place(plate, page, outline, top)


def _side(plate: Plate, page: Page, side: PageSide, top: float) -> None:
    columns, stack = side.columns, _lowered(side.stack, top)
    draw_far_places(plate, page.zones, columns, stack)
    draw_cables(plate, columns, stack)
    draw_strip_names(plate, columns, stack)
    rails = draw_rails(plate, columns, stack)
    for port in stack.ports:
        _terminal(plate, columns, port)
    drawer = RunDrawer(plate, columns, side.rooms, stack, rails)
    for row in stack.rows:
        drawer.draw(row)


def _lowered(stack: Stack, by: float) -> Stack:
    """The stack with heights on the sheet."""
    rows = tuple(replace(r, y=r.y + by, port_y=r.port_y + by if r.port_y is not None else None) for r in stack.rows)
    return Stack(rows, tuple(replace(p, y=p.y + by) for p in stack.ports), stack.bottom + by)


def _outline(plate: Plate, page: Page, box: Box) -> None:
    canvas, device = plate.canvas, page.device
    canvas.rect(box, HEAVY)
    middle = box.centre[0]
    part = f" ({page.part} of {page.parts})" if page.parts > 1 else ""
    text, size = one_line(device.name + part, box.width - 4.0, TITLE)
    canvas.text(middle, box.y0 + 6.4, text, size, "middle", strong=True)
    for i, remark in enumerate(page.remarks):
        _remark(plate, remark, middle, box.y0 + 10.8 + REMARK * i, box.width - 4.0)
    words = device.profile.title + (f", {device.text}" if device.text else "")
    text, size = one_line(words, box.width - 4.0, NOTE)
    canvas.text(middle, box.y1 - 3.0, text, size, "middle")


def _remark(plate: Plate, remark: Remark, x: float, y: float, width: float) -> None:
    """One line at the head; one that points at a supply is written when its sheet is known."""
    source, references = remark.fed_from, plate.setting.references
    if source is None:
        text, size = one_line(remark.text, width, NOTE)
        plate.canvas.text(x, y, text, size, "middle")
        return

    def says() -> str:
        return ", ".join(part for part in (remark.text, references.of_pin(source)) if part)

    references.note(plate.canvas, x, y, says, width, "middle")


def _terminal(plate: Plate, columns: Columns, placed: PlacedPort) -> None:
    """The label of a terminal inside the outline, its function and setting; a tag where it has no row."""
    port, y, canvas = placed.port, placed.y, plate.canvas
    plate.pin(columns.edge, y, port.pin)
    plate.setting.references.mark("terminal", str(port.pin), canvas, columns.edge, y)
    label = fonts.shrink(port.pin.name, TEXT, LABEL - 3.4, LEAST) or LEAST
    canvas.text(columns.x(-2.4), y, port.pin.name, label, columns.anchor(outwards=False), strong=True, centred=True)
    _function(plate, columns, placed)
    if placed.wired or plate.circuit.potential(port.pin) is None:
        return
    end = columns.near + columns.channel
    plate.wires.add(port.pin, (columns.edge, y), (columns.x(end), y))
    plate.number(columns.x(columns.first), y, port.pin)
    says = leads_to(plate, port.pin, (), port.see)
    heading: Heading = "left" if columns.outwards < 0 else "right"
    draw_tag(plate, columns.x(end), y, port.pin, heading, columns.port_tag, says)


def _function(plate: Plate, columns: Columns, placed: PlacedPort) -> None:
    function, setting = at_port(placed.port, columns.words.inside[columns.outwards > 0])
    anchor = columns.anchor(outwards=False)
    x = columns.x(-LABEL)
    y = placed.y - function.height / 2
    for line in function.lines:
        plate.canvas.text(x, y + fonts.cap_height(function.size), line, function.size, anchor)
        y += function.step
    y = placed.y + function.height / 2 + 1.2
    for line in setting.lines:
        plate.canvas.text(x, y + fonts.cap_height(setting.size), line, setting.size, anchor)
        y += setting.step


def _own_place(plate: Plate, page: Page, outline: Box, top: float) -> None:
    """The outline of the controller's own place."""
    x0 = page.left.columns.at(outline.x0).x(page.left.columns.zones[0].outer) if page.left else outline.x0 - CLOSE
    x1 = page.right.columns.at(outline.x1).x(page.right.columns.zones[0].outer) if page.right else outline.x1 + CLOSE
    box = Box(x0, top, x1, top + page.height)
    plate.canvas.place(box)
    text, size = one_line(plate.setting.title_of(page.device.place), box.width - 2 * CLOSE)
    plate.canvas.text(x0 + CLOSE, top + 5.4, text, size, strong=True)
