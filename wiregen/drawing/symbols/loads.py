"""What a circuit drives: coils, lamps, horns, valves, meters. IEC 60617 or NFPA 79 / IEEE 315 habits."""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.symbols.figure import LETTERS, Figure, below
from wiregen.drawing.symbols.model import THIN, Practice

HALF = 5.0


class Load(Figure):
    """Two pins, ``a`` left and ``b`` right, on one horizontal wire."""

    def ends(self, body: float, reach: float = 0.0) -> None:
        """Leads up to a body ``2 * body`` wide, and the slots on both sides, clear of ``reach`` from the middle."""
        self.line((-HALF, 0), (-body, 0))
        self.line((body, 0), (HALF, 0))
        self.pin("a", -HALF, 0, below(-1))
        self.pin("b", HALF, 0, below(1))
        side = max(body, reach) + 1.2
        self.slot("name", -side, 1.6, "end")
        self.slot("note", side, 1.6, "start")


class Coil(Load):
    """A relay's or contactor's coil; with ``suppression`` a diode beside it whose cathode is on pin ``a``, the
    positive one.
    """

    def __init__(self, practice: Practice, suppression: bool = False, letter: str = "") -> None:
        super().__init__()
        body = 2.2 if practice == "iec" else 3.0
        if practice == "iec":
            self.rect(-body, -3.2, body, 3.2)
        else:
            self.circle(0, 0, body)
        if letter:
            self.letter(letter, 0, 0, fonts.shrink(letter, LETTERS, 2 * body - 0.8, 2.75) or 2.75)
        if suppression:
            self.diode(5.0)
        self.ends(body, reach=3.9 if suppression else 0.0)

    def diode(self, y: float) -> None:
        for x in (-3.6, 3.6):
            self.line((x, 0), (x, y))
            self.circle(x, 0, 0.35, width=THIN, fill="black")
        self.line((-3.6, y), (3.6, y))
        self.line((1.1, y + 1.2), (1.1, y - 1.2), (-1.1, y), (1.1, y + 1.2), fill="white")
        self.line((-1.1, y + 1.2), (-1.1, y - 1.2))


class Lamp(Load):
    """A pilot lamp; ``letter`` is the colour's letter where one is wanted inside the NFPA circle."""

    def __init__(self, practice: Practice, letter: str = "") -> None:
        super().__init__()
        r = 2.8
        self.circle(0, 0, r)
        d = 0.7071
        if practice == "iec":
            self.line((-r * d, -r * d), (r * d, r * d))
            self.line((-r * d, r * d), (r * d, -r * d))
        else:
            for sx in (-1, 1):
                for sy in (-1, 1):
                    self.line((sx * r * d, sy * r * d), (sx * (r + 1.6) * d, sy * (r + 1.6) * d))
            self.letter(letter, 0, 0)
        self.ends(r, reach=0.0 if practice == "iec" else (r + 1.6) * d)


class Horn(Load):
    """An audible signal: a box with a flared mouth, above the wire."""

    def __init__(self, practice: Practice) -> None:
        super().__init__()
        self.rect(-1.8, -1.6, 1.8, 1.6)
        self.line((-1.8, 1.6), (-3.4, 4.6), (3.4, 4.6), (1.8, 1.6))
        self.ends(1.8, reach=3.4)


class Valve(Load):
    """The coil of a solenoid valve; ``earth`` adds a protective pin ``pe`` below."""

    def __init__(self, practice: Practice, earth: bool = False) -> None:
        super().__init__()
        bottom = -2.6
        if practice == "iec":
            self.rect(-2.2, -2.6, 2.2, 2.6)
            self.line((0, 2.6), (0, 4.6), width=THIN, dashed=True)
            self.line((-2.4, 5.8), (-2.4, 3.4), (2.4, 5.8), (2.4, 3.4), (-2.4, 5.8))
            body = 2.2
        else:
            self.line((-3.0, 0), (-2.0, 2.0), (-1.0, -2.0), (0, 2.0), (1.0, -2.0), (2.0, 2.0), (3.0, 0))
            bottom, body = -2.0, 3.0
        if earth:
            foot = bottom if practice == "iec" else -3.0
            if practice == "nfpa":
                self.line((-2.4, -3.0), (2.4, -3.0))
            self.line((0, foot), (0, -HALF))
            self.pin("pe", 0, -HALF, (1.3, -0.4 - fonts.cap_height(LETTERS), "start"))
        self.ends(body)


class Meter(Load):
    """A panel instrument with the letter or unit of what it shows."""

    def __init__(self, practice: Practice, letter: str = "") -> None:
        super().__init__()
        r = 3.2
        self.circle(0, 0, r)
        self.letter(letter, 0, 0, fonts.shrink(letter, LETTERS, 2 * r - 0.8, 2.75) or 2.75)
        self.ends(r)
