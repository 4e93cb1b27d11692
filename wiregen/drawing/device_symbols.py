"""Devices on a sheet: the symbol with its pins, and the texts beside or above it."""

from __future__ import annotations

from collections.abc import Callable

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.paragraphs import LEADING, Paragraph
from wiregen.drawing.plate import Plate
from wiregen.drawing.references import References
from wiregen.drawing.rooms import CELL_TEXT, LIFT, sides_of, stacked_height
from wiregen.drawing.symbols import Anchor
from wiregen.drawing.units import Unit
from wiregen.drawing.wording import UnitText, above_unit, beside_box

MARK_ROOM = 8.6  # for the mark of a pin under its wire, mm
BOX_MARK_ROOM = 18.0  # for one inside a box, which is as wide as its marks need


def draw_symbol(plate: Plate, unit: Unit, x: float, y: float) -> None:
    """A unit's symbol with its pins and their marks."""
    plate.canvas.symbol(unit.symbol, x, y)
    plate.setting.references.mark("unit", f"{unit.device} {unit.marks}", plate.canvas, x, y)
    written: set[tuple[float, float, str]] = set()
    for key, name in unit.pins:
        dx, dy = unit.symbol.pins[key]
        spot = unit.symbol.marks[key]
        plate.pin(x + dx, y + dy, unit.pin(key))
        if (spot.x, spot.y, name) not in written:
            room = BOX_MARK_ROOM if unit.far is None else MARK_ROOM
            size = fonts.shrink(name, TEXT, room, LEAST) or LEAST
            plate.canvas.text(x + spot.x, y + spot.y, name, size, spot.anchor)
        written.add((spot.x, spot.y, name))


def draw_beside(plate: Plate, unit: Unit, x: float, y: float, text: UnitText, width: float, mirrored: bool) -> None:
    """The texts of a unit that stands alone in a row: designation on its outer side, notes on its inner side."""
    outer, inner = sides_of(unit, mirrored)
    if text.name:
        plate.canvas.text(x + outer.x, y + outer.y, text.name, text.name_size, outer.anchor, strong=True)
    _from_below(plate, unit, text, x + inner.x, y - LIFT, inner.anchor, width)


def draw_above(plate: Plate, unit: Unit, x: float, y: float) -> None:
    """The texts of a unit in a combination: all above it."""
    text = above_unit(unit, CELL_TEXT, plate.setting.references)
    bottom = y + unit.symbol.box.y0 - 1.2
    _from_below(plate, unit, text, x, bottom, "middle", CELL_TEXT)
    if text.name:
        top = bottom - stacked_height(text) + fonts.cap_height(text.name_size)
        plate.canvas.text(x, top, text.name, text.name_size, "middle", strong=True)


def draw_aside(plate: Plate, unit: Unit, x: float, middle: float, anchor: Anchor, width: float) -> None:
    """The texts of a box beside it, about the height ``middle``: designation, notes, where the sheet of a stub is."""
    text = beside_box(unit, width)
    y = middle - stacked_height(text) / 2
    if text.name:
        y += fonts.cap_height(text.name_size)
        plate.canvas.text(x, y, text.name, text.name_size, anchor, strong=True)
        y += TEXT * 0.45
    for line in text.notes.lines:
        y += fonts.cap_height(text.notes.size)
        plate.canvas.text(x, y, line, text.notes.size, anchor)
        y += text.notes.step - fonts.cap_height(text.notes.size)
    if text.references:
        says = _own_sheet(plate.setting.references, unit)
        plate.setting.references.note(plate.canvas, x, y + fonts.cap_height(LEAST), says, width, anchor)


def _own_sheet(references: References, unit: Unit) -> Callable[[], str]:
    """For a stub: where the controller's own sheet shows the terminal of the signal."""
    place = str(unit.near_pin)
    return lambda: references.see("terminal", place)


def _from_below(
    plate: Plate, unit: Unit, text: UnitText, x: float, bottom: float, anchor: Anchor, width: float
) -> None:
    """Cross-references on the baseline ``bottom``, notes above them."""
    references = plate.setting.references
    others = references.others(unit)
    y = bottom
    for marks in reversed(others):
        references.note(plate.canvas, x, y, references.quoting(unit, marks), width, anchor)
        y -= LEAST * LEADING
    if others:
        y = bottom - text.references_height - (text.notes.step - fonts.cap_height(text.notes.size))
    draw_lines_up(plate, text.notes, x, y, anchor)


def draw_lines_up(plate: Plate, notes: Paragraph, x: float, bottom: float, anchor: Anchor = "start") -> None:
    """Lines over one another, the last on the baseline ``bottom``."""
    for i, line in enumerate(notes.lines, 1 - len(notes.lines)):
        plate.canvas.text(x, bottom + i * notes.step, line, notes.size, anchor)
