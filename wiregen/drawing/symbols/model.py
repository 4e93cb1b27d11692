"""What a symbol is once it has left schemdraw: strokes in mm, y down, with its pins and the places for its texts."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from wiregen.drawing.box import Box

Practice = Literal["iec", "nfpa"]
Anchor = Literal["start", "middle", "end"]
Fill = Literal["none", "white", "black"]
Point = tuple[float, float]

THIN, NORMAL, HEAVY = 0.25, 0.35, 0.5  # the three line widths of a sheet, mm

_FLIPPED: dict[Anchor, Anchor] = {"start": "end", "middle": "middle", "end": "start"}


@dataclass(frozen=True, slots=True)
class Stroke:
    """A line through ``points``, or, if ``curved``, a start and then cubic Bezier pieces of three points each."""

    points: tuple[Point, ...]
    curved: bool = False
    closed: bool = False
    fill: Fill = "none"
    width: float = NORMAL
    dashed: bool = False

    def mirrored(self) -> Stroke:
        points = tuple((0.0 - x, y) for x, y in self.points)
        return Stroke(points, self.curved, self.closed, self.fill, self.width, self.dashed)


@dataclass(frozen=True, slots=True)
class Disc:
    """A circle."""

    x: float
    y: float
    r: float
    fill: Fill = "none"
    width: float = NORMAL

    def mirrored(self) -> Disc:
        return Disc(0.0 - self.x, self.y, self.r, self.fill, self.width)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a text stands: ``(x, y)`` is on its baseline, at its start, middle or end."""

    x: float
    y: float
    anchor: Anchor = "middle"

    def mirrored(self) -> Spot:
        return Spot(0.0 - self.x, self.y, _FLIPPED[self.anchor])


@dataclass(frozen=True, slots=True)
class Label:
    """A text that is part of the symbol, such as the letter of a measured quantity."""

    text: str
    spot: Spot
    size: float

    def mirrored(self) -> Label:
        return Label(self.text, self.spot.mirrored(), self.size)


@dataclass(frozen=True, slots=True)
class Symbol:
    """The drawn form of one device, about its own origin.

    ``pins`` says where wires end, ``marks`` where the name of each pin stands, ``slots`` where texts about the device
    stand: ``name`` for its designation, ``note`` for what it is or does. ``box`` holds strokes, labels and pins, not
    marks and slots.
    """

    kind: str
    practice: Practice
    strokes: tuple[Stroke, ...]
    discs: tuple[Disc, ...]
    labels: tuple[Label, ...]
    pins: Mapping[str, Point]
    marks: Mapping[str, Spot]
    slots: Mapping[str, Spot]
    box: Box
    options: tuple[tuple[str, object], ...] = ()  # with which `get` was asked for it

    @property
    def width(self) -> float:
        return self.box.width

    def mirrored(self) -> Symbol:
        """The same symbol with left and right exchanged, its letters still readable."""
        return Symbol(
            self.kind,
            self.practice,
            tuple(s.mirrored() for s in self.strokes),
            tuple(d.mirrored() for d in self.discs),
            tuple(t.mirrored() for t in self.labels),
            {key: (0.0 - x, y) for key, (x, y) in self.pins.items()},
            {key: spot.mirrored() for key, spot in self.marks.items()},
            {key: spot.mirrored() for key, spot in self.slots.items()},
            Box(0.0 - self.box.x1, self.box.y0, 0.0 - self.box.x0, self.box.y1),
            self.options,
        )
