"""Strip terminals and the signs on cables."""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.symbols.figure import LETTERS, Figure
from wiregen.drawing.symbols.model import THIN, Practice


class StripTerminal(Figure):
    """A clamp with a pin on each side; its number stands in the middle and is the mark of both pins."""

    def __init__(self, practice: Practice) -> None:
        super().__init__()
        half = 5.0
        self.rect(-half, -3.0, half, 3.0)
        self.pin("left", -half, 0, (half, -fonts.cap_height(LETTERS) / 2, "middle"))
        self.pin("right", half, 0, (-half, -fonts.cap_height(LETTERS) / 2, "middle"))
        self.slot("name", 0, 4.0)
        self.slot("note", 0, -4.0 - fonts.cap_height(LETTERS))


class CableRing(Figure):
    """The ring round the cores of one cable, ``height`` mm from its first core to its last; the origin is on the
    first core.

    A screen is dashed; where it is ``landed`` it has a pin ``screen`` below it.
    """

    def __init__(self, practice: Practice, height: float = 10.0, screened: bool = False, landed: bool = True) -> None:
        super().__init__()
        over = 4.0
        middle, ry = -height / 2, height / 2 + over
        for start in (0, 90, 180, 270):
            self.arc(0, middle, 2.0, ry, start, start + 90, width=THIN, dashed=screened)
        if screened and landed:
            foot = -height - over
            self.line((0, foot), (0, foot - 3.0), width=THIN)
            self.pin("screen", 0, foot - 3.0, (1.4, -fonts.cap_height(LETTERS) / 2, "start"))
            self.slot("note", -1.6, foot - 3.0 - fonts.cap_height(LETTERS) / 2, "end")
        else:
            self.slot("note", 0, -height - over - 1.2 - fonts.cap_height(LETTERS))
        self.slot("name", 0, over + 1.2)


class Twisted(Figure):
    """The sign of a twisted pair: a slanted hook across both cores, ``height`` mm apart; the origin is on the first
    core.
    """

    def __init__(self, practice: Practice, height: float = 10.0) -> None:
        super().__init__()
        self.line((1.6, 1.4), (0.8, 1.4), (-0.8, -height - 1.4), (-1.6, -height - 1.4), width=THIN)
