"""The power side: circuit breakers of several poles, and motors. IEC 60617 or NFPA habits."""

from __future__ import annotations

import math

from wiregen.drawing.symbols.figure import LETTERS, Figure, below
from wiregen.drawing.symbols.model import HEAVY, THIN, Practice

LARGE = 5.5  # font size of the letter in a motor, mm


class Breaker(Figure):
    """Poles one below the other, ``pitch`` mm apart, moved together; the origin is the middle of the first.

    Its pins are ``in1``, ``out1``, ``in2`` ... IEC: a make contact with a cross. NFPA: an arc over two ends.
    """

    def __init__(self, practice: Practice, poles: int = 3, pitch: float = 9.0) -> None:
        super().__init__()
        for i in range(poles):
            y = -i * pitch
            self.line((-5.0, y), (-2.5, y))
            self.line((2.5, y), (5.0, y))
            if practice == "iec":
                self.line((-2.5, y), (2.3, y + 2.8), width=HEAVY)
                self.line((1.8, y - 0.7), (3.2, y + 0.7))
                self.line((1.8, y + 0.7), (3.2, y - 0.7))
            else:
                self.arc(0, y, 2.5, 2.0, 0, 180, width=HEAVY)
            self.pin(f"in{i + 1}", -5.0, y, below(-1))
            self.pin(f"out{i + 1}", 5.0, y, below(1))
        lift = 1.4 if practice == "iec" else 2.0
        if poles > 1:
            self.line((0, lift), (0, -(poles - 1) * pitch + lift), width=THIN, dashed=True)
        self.slot("name", 0, 5.0)
        self.slot("note", 0, -(poles - 1) * pitch - 8.4)


class Motor(Figure):
    """A motor with its phases ``p1``, ``p2`` ... on the left and ``pe`` below them; the origin is at the first."""

    def __init__(self, practice: Practice, phases: int = 3, pitch: float = 9.0) -> None:
        super().__init__()
        half = (phases - 1) * pitch / 2
        x, r = 18.0, half + 3.0 if phases > 1 else 10.0
        self.circle(x, -half, r)
        for i in range(phases):
            y = -i * pitch
            self.line((0, y), (x - math.sqrt(r * r - (y + half) ** 2), y))
            self.pin(f"p{i + 1}", 0, y, (1.2, 0.9, "start"))
        foot = -phases * pitch
        self.line((0, foot), (x, foot), (x, -half - r))
        self.pin("pe", 0, foot, (1.2, 0.9, "start"))
        self.letter("M", x, -half + 2.0, LARGE)
        self.letter(f"{phases} ~", x, -half - 4.0, LETTERS)
        self.slot("name", x, -half + r + 2.0)
        self.slot("note", x + 2.0, foot - 4.6)
