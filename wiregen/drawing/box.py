"""An upright rectangle on a sheet, in mm, y down."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Box:
    """From ``(x0, y0)``, top left, to ``(x1, y1)``, bottom right."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def around(cls, points: Iterable[tuple[float, float]]) -> Box:
        """The smallest box that holds ``points``; at least one is needed."""
        xs, ys = zip(*points, strict=True)
        return cls(min(xs), min(ys), max(xs), max(ys))

    @classmethod
    def of(cls, boxes: Iterable[Box]) -> Box:
        """The smallest box that holds ``boxes``; at least one is needed."""
        return cls.around(corner for b in boxes for corner in ((b.x0, b.y0), (b.x1, b.y1)))

    @property
    def width(self) -> float:
        return self.x1 - self.x0

    @property
    def height(self) -> float:
        return self.y1 - self.y0

    @property
    def centre(self) -> tuple[float, float]:
        return (self.x0 + self.x1) / 2, (self.y0 + self.y1) / 2

    def moved(self, dx: float, dy: float) -> Box:
        return Box(self.x0 + dx, self.y0 + dy, self.x1 + dx, self.y1 + dy)

    def grown(self, margin: float) -> Box:
        """``margin`` mm larger on each side; smaller where it is negative."""
        return Box(self.x0 - margin, self.y0 - margin, self.x1 + margin, self.y1 + margin)

    def overlaps(self, other: Box, least: float = 0.0) -> bool:
        """Whether both share more than ``least`` mm in each direction; boxes that only touch do not overlap."""
        across = min(self.x1, other.x1) - max(self.x0, other.x0)
        down = min(self.y1, other.y1) - max(self.y0, other.y0)
        return across > least and down > least

    def holds(self, other: Box) -> bool:
        """Whether ``other`` lies wholly inside or on the edge."""
        return self.x0 <= other.x0 and self.y0 <= other.y0 and self.x1 >= other.x1 and self.y1 >= other.y1
