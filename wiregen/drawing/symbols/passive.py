"""What a current passes through: resistors, potentiometers, fuses, thermistors, transformers; and earth. IEC 60617 or
NFPA habits.
"""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.symbols.figure import LETTERS, Figure
from wiregen.drawing.symbols.loads import HALF, Load
from wiregen.drawing.symbols.model import THIN, Point, Practice


def _zigzag(length: float, height: float, teeth: int = 3) -> list[Point]:
    """A resistor's line along x, ``length`` long about the origin."""
    step = length / (4 * teeth)
    xs = [-length / 2 + step * i for i in range(4 * teeth + 1)]
    return [(x, (0, height, 0, -height)[i % 4]) for i, x in enumerate(xs) if i % 2 or i in (0, 4 * teeth)]


class Resistor(Load):
    def __init__(self, practice: Practice) -> None:
        super().__init__()
        self.body(practice)
        self.ends(3.0)

    def body(self, practice: Practice) -> None:
        if practice == "iec":
            self.rect(-3.0, -1.2, 3.0, 1.2)
        else:
            self.line(*_zigzag(6.0, 1.2))


class Thermistor(Resistor):
    """A resistor that depends on temperature, with the bent stroke of all non-linear parts."""

    def __init__(self, practice: Practice) -> None:
        Figure.__init__(self)
        self.body(practice)
        self.line((-3.3, -2.4), (-2.2, -2.4), (2.6, 2.6), width=THIN)
        self.letter("θ", 0.6, -3.0)
        self.ends(3.0)


class Fuse(Load):
    """IEC: a box with the wire through it. NFPA: a wave between two rings."""

    def __init__(self, practice: Practice) -> None:
        super().__init__()
        if practice == "iec":
            self.rect(-3.0, -1.2, 3.0, 1.2)
            self.ends(0.0, reach=3.0)
            return
        self.arc(-1.25, 0, 1.25, 1.4, 0, 180)
        self.arc(1.25, 0, 1.25, 1.4, 180, 360)
        for x in (-3.1, 3.1):
            self.circle(x, 0, 0.6)
        self.ends(3.7)


class Potentiometer(Figure):
    """Upright: ``high`` on top, ``low`` at the bottom, ``wiper`` to the right; ``pitch`` mm from each to the next in
    height.
    """

    def __init__(self, practice: Practice, pitch: float = 7.5) -> None:
        super().__init__()
        body = 4.0
        if practice == "iec":
            self.rect(-1.3, -body, 1.3, body)
        else:
            self.line(*[(y, x) for x, y in _zigzag(2 * body, 1.3)])
        self.line((0, body), (0, pitch))
        self.line((0, -body), (0, -pitch))
        edge = 1.3 if practice == "iec" else 1.2
        self.line((edge, 0), (edge + 1.8, 0.8), (edge + 1.8, -0.8), (edge, 0), width=THIN, fill="black")
        self.line((edge + 1.8, 0), (HALF, 0))
        self.pin("high", 0, pitch, (1.3, -0.6 - fonts.cap_height(LETTERS), "start"))
        self.pin("low", 0, -pitch, (1.3, 0.6, "start"))
        self.pin("wiper", HALF, 0, (0.0, 1.1, "middle"))
        self.slot("name", -2.4, 0.6, "end")
        self.slot("note", -2.4, -0.6 - fonts.cap_height(LETTERS), "end")


class Transformer(Figure):
    """Primary ``h1 h2`` on the left, secondary ``x1 x2`` on the right, ``pitch`` mm apart; the origin is at ``h1``."""

    def __init__(self, practice: Practice, pitch: float = 10.0) -> None:
        super().__init__()
        width, bumps, r = 14.0, 4, 1.2
        top, bottom = -pitch / 2 + bumps * r, -pitch / 2 - bumps * r
        for x, y0, start in ((width / 2 - 2.6, 0.0, 270), (width / 2 + 2.6, 0.0, 90)):
            for i in range(bumps):
                self.arc(x, top - r - 2 * r * i, r, r, start, start + 180)
            outer = y0 if x < width / 2 else width
            self.line((outer, 0), (x, 0), (x, top))
            self.line((outer, -pitch), (x, -pitch), (x, bottom))
        cores = (-0.5, 0.5) if practice == "nfpa" else (0.0,)
        for dx in cores:
            self.line((width / 2 + dx, top), (width / 2 + dx, bottom))
        self.pin("h1", 0, 0, (1.3, 0.9, "start"))
        self.pin("h2", 0, -pitch, (1.3, -0.9 - fonts.cap_height(LETTERS), "start"))
        self.pin("x1", width, 0, (-1.3, 0.9, "end"))
        self.pin("x2", width, -pitch, (-1.3, -0.9 - fonts.cap_height(LETTERS), "end"))
        self.slot("name", width / 2, 4.6)
        self.slot("note", width / 2, -pitch - 7.2)


class Earth(Figure):
    """Earth below its pin ``pe``: protective in a circle, or plain."""

    def __init__(self, practice: Practice, protective: bool = True) -> None:
        super().__init__()
        self.line((0, 0), (0, -3.0))
        for half, y in ((2.0, -3.0), (1.3, -4.0), (0.6, -5.0)):
            self.line((-half, y), (half, y))
        if protective:
            self.circle(0, -3.6, 2.6, width=THIN)
        self.pin("pe", 0, 0, (1.3, 0.4, "start"))
        self.slot("name", -3.4, -4.4, "end")
        self.slot("note", 3.6, -4.4, "start")
