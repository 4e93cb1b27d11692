"""The base of all symbols: schemdraw elements of our own, drawn in mm, and their conversion.

A `Figure` is built as schemdraw builds every element, y upwards, from segments and anchors; `convert` turns it, once
per kind and options, into plain strokes that the sheet writes at absolute coordinates.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from schemdraw.elements import Element
from schemdraw.segments import Segment, SegmentArc, SegmentCircle, SegmentText

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.symbols.model import (
    NORMAL,
    THIN,
    Anchor,
    Disc,
    Fill,
    Label,
    Point,
    Practice,
    Spot,
    Stroke,
    Symbol,
)

LETTERS = 3.43  # font size of pin marks and letters, mm: capitals of 2.5 mm
_FILLS: dict[Any, Fill] = {None: "none", False: "none", True: "black", "black": "black", "white": "white"}


class Figure(Element):
    """An element that is drawn in mm with the pen strokes below."""

    def __init_subclass__(cls, **options: Any) -> None:
        super().__init_subclass__(**options)  # type: ignore[no-untyped-call]

    def __init__(self) -> None:
        super().__init__()
        self.pins: dict[str, Point] = {}
        self.marks: dict[str, Spot] = {}
        self.slots: dict[str, Spot] = {}

    def line(self, *points: Point, width: float = NORMAL, dashed: bool = False, fill: str | None = None) -> None:
        """A line; with ``fill`` the first and the last point should be the same."""
        self.segments.append(Segment(points, lw=width, ls="--" if dashed else "-", fill=fill))

    def rect(self, x0: float, y0: float, x1: float, y1: float, width: float = NORMAL, fill: str | None = None) -> None:
        self.line((x0, y0), (x1, y0), (x1, y1), (x0, y1), (x0, y0), width=width, fill=fill)

    def circle(self, x: float, y: float, r: float, width: float = NORMAL, fill: str | None = None) -> None:
        self.segments.append(SegmentCircle((x, y), r, lw=width, fill=fill))

    def arc(
        self,
        x: float,
        y: float,
        rx: float,
        ry: float,
        start: float,
        end: float,
        width: float = NORMAL,
        dashed: bool = False,
    ) -> None:
        """Part of an ellipse about ``(x, y)``, anticlockwise from ``start`` to ``end`` degrees."""
        self.segments.append(SegmentArc((x, y), 2 * rx, 2 * ry, start, end, lw=width, ls="--" if dashed else "-"))

    def letter(self, text: str, x: float, y: float, size: float = LETTERS) -> None:
        """A text whose capitals are centred on the height ``y``; none where the text is empty."""
        if not text:
            return
        self.segments.append(
            SegmentText((x, y - fonts.cap_height(size) / 2), text, align=("center", "bottom"), fontsize=size)
        )

    def letter_box(self, text: str, x: float, foot: float) -> float:
        """A short text in a box that stands on ``foot``, for what is measured; returns half the width of the box."""
        half = max(2.0, fonts.text_width(text, LETTERS) / 2 + 0.6)
        self.rect(x - half, foot, x + half, foot + 3.8, width=THIN)
        self.letter(text, x, foot + 1.9)
        return half

    def pin(self, key: str, x: float, y: float, mark: tuple[float, float, Anchor]) -> None:
        """Where a wire ends, and where the name of the pin stands: its baseline, relative to the pin."""
        self.pins[key] = (x, y)
        self.anchors[key] = (x, y)
        self.marks[key] = Spot(x + mark[0], -(y + mark[1]), mark[2])

    def slot(self, key: str, x: float, y: float, anchor: Anchor = "middle") -> None:
        self.slots[key] = Spot(x, -y, anchor)


def below(side: int) -> tuple[float, float, Anchor]:
    """The mark of a pin on a horizontal wire: under the wire, clear of the body; ``side`` -1 left, 1 right, 0
    centred.
    """
    drop = -0.9 - fonts.cap_height(LETTERS)
    return (0.9, drop, "end") if side < 0 else (-0.9, drop, "start") if side > 0 else (0.0, drop, "middle")


def convert(figure: Figure, kind: str, practice: Practice) -> Symbol:
    """The symbol as strokes, y down."""
    strokes: list[Stroke] = []
    discs: list[Disc] = []
    labels: list[Label] = []
    for s in figure.segments:
        if isinstance(s, SegmentText):
            labels.append(Label(s.text, Spot(*_down(s.xy)), s.fontsize))
        elif isinstance(s, SegmentCircle):
            discs.append(Disc(*_down(s.center), s.radius, _FILLS[s.fill], s.lw or NORMAL))
        elif isinstance(s, SegmentArc):
            strokes.append(Stroke(_bezier(s), curved=True, width=s.lw or NORMAL, dashed=s.ls == "--"))
        else:
            strokes.append(_line(s))
    pins = {key: _down(xy) for key, xy in figure.pins.items()}
    box = _box(strokes, discs, labels, list(pins.values()))
    return Symbol(kind, practice, tuple(strokes), tuple(discs), tuple(labels), pins, figure.marks, figure.slots, box)


def _down(p: Sequence[float]) -> Point:
    return round(float(p[0]), 3), round(-float(p[1]), 3) + 0.0


def _line(s: Any) -> Stroke:
    points = tuple(_down(p) for p in s.path)
    closed = len(points) > 2 and points[0] == points[-1]
    return Stroke(points[:-1] if closed else points, False, closed, _FILLS[s.fill], s.lw or NORMAL, s.ls == "--")


def _bezier(s: Any) -> tuple[Point, ...]:
    """The arc in pieces of at most a quarter turn, each a cubic with the usual handle length 4/3 tan(angle/4)."""
    start, turn = math.radians(s.theta1), math.radians((s.theta2 - s.theta1) % 360 or 360)
    pieces = math.ceil(turn / (math.pi / 2) - 1e-9)
    step = turn / pieces
    handle = 4 / 3 * math.tan(step / 4)
    (cx, cy), rx, ry = s.center, s.width / 2, s.height / 2

    def on(angle: float) -> Point:
        return cx + rx * math.cos(angle), cy + ry * math.sin(angle)

    def ahead(angle: float, by: float) -> Point:
        x, y = on(angle)
        return x - by * rx * math.sin(angle), y + by * ry * math.cos(angle)

    points = [on(start)]
    for i in range(pieces):
        a, b = start + i * step, start + (i + 1) * step
        points += [ahead(a, handle), ahead(b, -handle), on(b)]
    return tuple(_down(p) for p in points)


def _box(strokes: Sequence[Stroke], discs: Sequence[Disc], labels: Sequence[Label], pins: Sequence[Point]) -> Box:
    points = [*pins, *(p for s in strokes for p in outline_points(s))]
    boxes = [Box(d.x - d.r, d.y - d.r, d.x + d.r, d.y + d.r) for d in discs] + [label_box(t) for t in labels]
    return Box.of([*boxes, Box.around(points)] if points else boxes)


def outline_points(stroke: Stroke) -> list[Point]:
    """Points on the stroke itself, close enough together for its bounding box."""
    if not stroke.curved:
        return list(stroke.points)
    points = [stroke.points[0]]
    for i in range(0, len(stroke.points) - 1, 3):
        points += [_on_cubic(stroke.points[i : i + 4], t / 8) for t in range(1, 9)]
    return points


def _on_cubic(p: Sequence[Point], t: float) -> Point:
    weights = ((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3)
    return (
        round(sum(w * q[0] for w, q in zip(weights, p, strict=True)), 3),
        round(sum(w * q[1] for w, q in zip(weights, p, strict=True)), 3),
    )


def label_box(label: Label) -> Box:
    """The ink of a label."""
    return fonts.text_box(label.text, label.size, label.spot.x, label.spot.y, label.spot.anchor)
