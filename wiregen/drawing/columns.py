"""Where things stand across an A3 sheet: distances outwards from the edge of the controller, on either side."""

from __future__ import annotations

from dataclasses import dataclass

EDGE_LEFT, EDGE_RIGHT = 200.0, 270.0  # the controller's outline, mm


@dataclass(frozen=True, slots=True)
class Columns:
    """Distances from the controller's edge, mm; ``x`` turns one into a place on the sheet."""

    edge: float
    outwards: float  # -1: to the left
    number: float  # of a conductor, at the controller
    tag: float  # of a controller's terminal
    unit: float  # centre of a symbol in the cabinet
    box: float  # pins of a box in the cabinet
    strip: float  # centre of a strip terminal
    boundary: float  # edge of the cabinet
    cable: float
    far_boundary: float  # edge of a far place
    far_box: float
    far_unit: float
    rail: float
    far_end: float  # outer edge of a far place
    strip_tag: float  # a tag inside the cabinet at a strip terminal
    through: float  # centre of the first box through which a loop passes

    def x(self, distance: float) -> float:
        return self.edge + self.outwards * distance


LEFT = Columns(EDGE_LEFT, -1, 7, 13, 36, 46, 67, 79.5, 90.5, 102.2, 110, 134, 167, 174, 49, 24)
RIGHT = Columns(EDGE_RIGHT, 1, 7, 13, 32, 36, 58, 70.5, 78.5, 89.5, 94, 102, 127, 137, 43, 24)
