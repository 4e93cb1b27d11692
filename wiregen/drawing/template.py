"""The sheet around the drawing: frame, zones and title block.

Sizes, margins (20 mm at the filing edge, 10 mm elsewhere), the 5 mm border with zones counted from the axes in fields
of 50 mm, and the centring marks are those of ISO 5457; the title block, at most 180 mm wide in the lower right
corner, carries the data fields of ISO 7200 that a scheme knows, in an arrangement of our own. Both standards from
memory.
"""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, TITLE, Canvas
from wiregen.drawing.symbols.model import HEAVY, THIN

FRAME = 0.7  # line width of the frame and of the centring marks, mm
BORDER = 5.0  # width of the strip that holds the zones, mm
FIELD = 50.0  # length of one zone, mm
FILING, MARGIN = 20.0, 10.0
BLOCK_WIDTH, BLOCK_HEIGHT = 180.0, 32.0
LEADING = 1.4  # line to line, in font sizes
CLEAR = 3.0  # between the drawing and the frame or the title block, mm
LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"  # without I and O, which look like figures


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """What a title block says. ``warning`` is printed large beside it, ``cautions`` as plain sentences."""

    title: str
    sheet_title: str
    drawing: str
    revision: str
    practice: str
    status: str
    sheet: int
    sheets: int
    date: str = ""
    warning: str = ""
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet size, mm."""

    name: str
    width: float
    height: float

    @property
    def frame(self) -> Box:
        """The inner edge of the border: everything that is drawn stays inside."""
        return Box(FILING, MARGIN, self.width - MARGIN, self.height - MARGIN)

    @property
    def block(self) -> Box:
        """The title block."""
        f = self.frame
        return Box(max(f.x0, f.x1 - BLOCK_WIDTH), f.y1 - BLOCK_HEIGHT, f.x1, f.y1)

    @property
    def cautions(self) -> Box:
        """Where warning and cautions stand: beside the title block, or above it where there is too little room
        beside.
        """
        f, b = self.frame, self.block
        if b.x0 - f.x0 >= 80:
            return Box(f.x0 + CLEAR, b.y0, b.x0 - CLEAR, f.y1 - CLEAR / 2)
        return Box(f.x0 + CLEAR, b.y0 - 20, f.x1 - CLEAR, b.y0 - CLEAR)

    @property
    def area(self) -> Box:
        """The room for the drawing: inside the frame, above title block and cautions of usual length."""
        f = self.frame
        return Box(f.x0 + CLEAR, f.y0 + CLEAR, f.x1 - CLEAR, min(self.block.y0, self.cautions.y0) - CLEAR)

    @property
    def columns(self) -> tuple[float, ...]:
        """The edges of the columns ``1``, ``2`` ... from left to right."""
        return _edges(self.frame.x0, self.frame.x1, self.width / 2)

    @property
    def rows(self) -> tuple[float, ...]:
        """The edges of the rows ``A``, ``B`` ... from top to bottom."""
        return _edges(self.frame.y0, self.frame.y1, self.height / 2)

    def zone_of(self, x: float, y: float) -> str:
        """The zone that holds a point, as ``B2``; a point outside the frame counts to the nearest zone."""
        return f"{LETTERS[_field(self.rows, y)]}{_field(self.columns, x) + 1}"

    def canvas(self, title: str = "", practice: str = "iec") -> Canvas:
        """An empty sheet of this size, on which names are written as the practice has them."""
        return Canvas(self.width, self.height, title, dashed_names=practice != "nfpa")


A3 = Paper("A3", 420.0, 297.0)
A4 = Paper("A4", 297.0, 210.0)
A4_UPRIGHT = Paper("A4 upright", 210.0, 297.0)
PAPERS = {p.name: p for p in (A3, A4, A4_UPRIGHT)}


def _edges(start: float, end: float, axis: float) -> tuple[float, ...]:
    """Fields of 50 mm counted from the axis to both sides, the outermost cut or stretched to the frame; an even
    number of fields.
    """
    each_side = max(1, round((end - start) / 2 / FIELD))
    inner = [axis + FIELD * i for i in range(1 - each_side, each_side)]
    return (start, *inner, end)


def _field(edges: tuple[float, ...], at: float) -> int:
    return sum(1 for edge in edges[1:-1] if at >= edge)


def frame(canvas: Canvas, block: TitleBlock, paper: Paper = A3) -> Box:
    """Draw frame, zones, title block, warning and cautions on a sheet of ``paper``; returns the room left for the
    drawing.
    """
    _border(canvas, paper)
    _title_block(canvas, block, paper.block)
    top = _cautions(canvas, block, paper.cautions)
    area = paper.area
    return Box(area.x0, area.y0, area.x1, min(area.y1, top - CLEAR))


def _border(canvas: Canvas, paper: Paper) -> None:
    f = paper.frame
    outer = f.grown(BORDER)
    canvas.rect(f, FRAME, "frame")
    canvas.rect(outer, THIN, "frame")
    for left, right, i in zip(paper.columns, paper.columns[1:], range(1, 100), strict=False):
        for y0, y1 in ((outer.y0, f.y0), (f.y1, outer.y1)):
            canvas.text((left + right) / 2, (y0 + y1) / 2, str(i), TEXT, "middle", centred=True, category="frame")
            if right != f.x1:
                canvas.line(((right, y0), (right, y1)), THIN, "frame")
    for top, bottom, letter in zip(paper.rows, paper.rows[1:], LETTERS, strict=False):
        for x0, x1 in ((outer.x0, f.x0), (f.x1, outer.x1)):
            canvas.text((x0 + x1) / 2, (top + bottom) / 2, letter, TEXT, "middle", centred=True, category="frame")
            if bottom != f.y1:
                canvas.line(((x0, bottom), (x1, bottom)), THIN, "frame")
    _centring_marks(canvas, paper, outer)


def _centring_marks(canvas: Canvas, paper: Paper, outer: Box) -> None:
    """Heavy strokes on both axes of the sheet, for the alignment of copies."""
    f, x, y = paper.frame, paper.width / 2, paper.height / 2
    for points in (
        ((x, outer.y0), (x, f.y0)),
        ((x, f.y1), (x, outer.y1)),
        ((outer.x0, y), (f.x0, y)),
        ((f.x1, y), (outer.x1, y)),
    ):
        canvas.line(points, FRAME, "frame")


def _title_block(canvas: Canvas, block: TitleBlock, box: Box) -> None:
    first = box.y0 + 12.6
    second = (first + box.y1) / 2
    canvas.rect(box, HEAVY, "frame")
    for y in (first, second):
        canvas.line(((box.x0, y), (box.x1, y)), THIN, "frame")
    reviewed = box.x1 - 44.0
    canvas.line(((reviewed, box.y0), (reviewed, first)), THIN, "frame")
    _fitted(canvas, block.title, Box(box.x0, box.y0 + 1.0, reviewed, box.y0 + 7.8), TITLE, strong=True)
    _fitted(canvas, block.sheet_title, Box(box.x0, box.y0 + 7.4, reviewed, first - 0.4), TEXT)
    canvas.text(reviewed + 2.0, box.y0 + 3.4, "Reviewed by, date", NOTE)
    upper = (
        ("Drawing", block.drawing, 76.0),
        ("Status", block.status, 68.0),
        ("Practice", block.practice.upper(), 36.0),
    )
    lower = (
        ("Revision", block.revision, 52.0),
        ("Date", block.date, 64.0),
        ("Sheet", f"{block.sheet} of {block.sheets}", 64.0),
    )
    _cells(canvas, upper, box.x0, first, second)
    _cells(canvas, lower, box.x0, second, box.y1)


def _cells(canvas: Canvas, cells: tuple[tuple[str, str, float], ...], x: float, top: float, bottom: float) -> None:
    """One row of cells: a small name over the entry."""
    for i, (name, entry, width) in enumerate(cells):
        if i:
            canvas.line(((x, top), (x, bottom)), THIN, "frame")
        canvas.text(x + 2.0, top + 3.2, name, NOTE)
        _fitted(canvas, entry, Box(x, top + 3.4, x + width, bottom), 4.0, strong=name == "Status")
        x += width


def _fitted(canvas: Canvas, text: str, box: Box, size: float, strong: bool = False) -> None:
    """A text in a cell, smaller where it is long, cut with three dots where even the least size is too wide."""
    room = box.width - 4.0
    fitting = fonts.shrink(text, size, room, LEAST)
    if fitting is None:
        fitting = LEAST
        text = next(t for t in (text[:n].rstrip() + "..." for n in range(len(text), -1, -1)) if _fits(t, fitting, room))
    canvas.text(box.x0 + 2.0, box.centre[1], text, fitting, strong=strong, centred=True)


def _fits(text: str, size: float, room: float) -> bool:
    return fonts.text_width(text, size) <= room


@dataclass(frozen=True, slots=True)
class _Setting:
    """Warning and cautions broken into lines, with their sizes and the top of the first."""

    large: tuple[str, ...]
    warning: float
    lines: tuple[str, ...]
    size: float
    top: float


def room(block: TitleBlock, paper: Paper = A3) -> Box:
    """The room that `frame` leaves for the drawing of a sheet, without drawing anything."""
    area = paper.area
    return Box(area.x0, area.y0, area.x1, min(area.y1, _set(block, paper.cautions).top - CLEAR))


def _set(block: TitleBlock, box: Box) -> _Setting:
    """Warning and cautions set from the bottom upwards in the largest size at which all of it fits.

    What does not fit even in the least size grows out of the box upwards: no caution is ever left out.
    """
    warning = (fonts.shrink(block.warning, TITLE, box.width, TEXT) if block.warning else None) or TEXT
    large = fonts.wrap(block.warning, warning, box.width)
    for size in (TEXT, NOTE, LEAST):
        lines = [line for text in block.cautions for line in fonts.wrap(text, size, box.width)]
        top = box.y1 - len(lines) * size * LEADING - len(large) * warning * LEADING
        if top >= box.y0:
            break
    return _Setting(tuple(large), warning, tuple(lines), size, top)


def _cautions(canvas: Canvas, block: TitleBlock, box: Box) -> float:
    """Draws warning and cautions; returns their top."""
    said = _set(block, box)
    y = said.top
    for line in said.large:
        y += said.warning * LEADING
        canvas.text(box.x0, y - 0.8, line, said.warning, strong=True)
    for line in said.lines:
        y += said.size * LEADING
        canvas.text(box.x0, y - 0.8, line, said.size)
    return said.top
