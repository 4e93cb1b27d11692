"""Devices drawn as a box with their pins one below the other: transmitters, proximity switches, anything else.

The origin is the first pin, so that a box is set down by the row of that pin. Pins stand on the right edge; mirrored,
on the left.
"""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.symbols.figure import LETTERS, Figure, below
from wiregen.drawing.symbols.model import THIN, Practice

LARGE, SMALL = 5.5, 3.0  # font sizes of the quantity and of its range inside a box, mm


class DeviceBox(Figure):
    """A box ``width`` mm wide with ``pins`` down its right edge, a large ``letter`` and small ``lines`` in it."""

    def __init__(
        self,
        practice: Practice,
        pins: tuple[str, ...],
        letter: str = "",
        lines: tuple[str, ...] = (),
        pitch: float = 10.0,
        width: float = 24.0,
    ) -> None:
        super().__init__()
        over, span = 4.0, (len(pins) - 1) * pitch
        self.over = over
        self.rect(-width, -span - over, 0, over)
        for i, key in enumerate(pins):
            self.pin(key, 0, -i * pitch, (-1.8, -fonts.cap_height(LETTERS) / 2, "end"))
        marks = 5.0 if len(pins) < 3 else 11.0
        self.fill_in(letter, lines, -(width + marks) / 2, -span / 2, width - marks - 1)
        self.slot("name", -width / 2, over + 1.2)
        self.slot("note", -width / 2, -span - over - 1.2 - fonts.cap_height(LETTERS))

    def fill_in(self, letter: str, lines: tuple[str, ...], x: float, y: float, width: float) -> None:
        """The texts about ``(x, y)``, the small ones broken to ``width`` mm."""
        broken = [piece for text in lines for piece in fonts.wrap(text, SMALL, width)]
        step = 4.2
        top = y + len(broken) * step / 2
        self.letter(letter, x, top, LARGE)
        for i, text in enumerate(broken):
            self.letter(text, x, top - 4.8 - i * step, SMALL)


class ThroughBox(Figure):
    """A device in a row through which a current passes: ``in`` on the left edge, ``out`` on the right, 18 mm apart.

    The names of the pins stand one above the other, so that the box stays narrow.
    """

    def __init__(self, practice: Practice) -> None:
        super().__init__()
        wide, half, gap = 9.0, 4.4, 1.4
        cap = fonts.cap_height(LETTERS)
        self.rect(-wide, -half, wide, half)
        self.pin("in", -wide, 0, (gap, 0.6, "start"))
        self.pin("out", wide, 0, (-gap, -0.6 - cap, "end"))
        self.slot("name", 0, half + 1.2)
        self.slot("note", 0, -half - 1.2 - cap)


def _diamond(figure: Figure, x: float, y: float, r: float) -> None:
    """The sign of everything that senses nearness."""
    figure.line((x - r, y), (x, y + r), (x + r, y), (x, y - r), (x - r, y))
    figure.line((x - r / 4, y + r * 0.75), (x - r / 4, y - r * 0.75), width=THIN)
    figure.line((x + r / 4, y + r * 0.75), (x + r / 4, y - r * 0.75), width=THIN)


class ProximityThreeWire(DeviceBox):
    """``plus``, ``out``, ``minus`` down the right edge, with the sign of nearness and the kind of output (PNP, NPN)."""

    def __init__(self, practice: Practice, output: str = "", pitch: float = 10.0, width: float = 20.0) -> None:
        super().__init__(practice, ("plus", "out", "minus"), "", (), pitch, width)
        _diamond(self, -width + 6.0, -pitch, 3.2)
        self.letter(output, -width + 6.0, -pitch - 6.0, SMALL)


class ProximityTwoWire(Figure):
    """In a row like a contact: ``plus`` left, ``minus`` right, in a box with the sign of nearness and the output
    contact.
    """

    def __init__(self, practice: Practice, form: str = "make") -> None:
        super().__init__()
        half, wide, out = 3.4, 7.6, 10.0
        self.rect(-wide, -half, wide, half)
        _diamond(self, -4.4, 0, 2.6)
        self.line((-1.6, 0), (0.6, 0))
        self.line((0.6, 0), (4.2, 1.9) if form == "make" else (4.9, -1.7))
        self.line((4.2, 0), (6.4, 0))
        if form == "break":
            self.line((4.2, 0), (4.2, -1.45))
        self.line((-out, 0), (-wide, 0))
        self.line((wide, 0), (out, 0))
        self.pin("plus", -out, 0, below(-1))
        self.pin("minus", out, 0, below(1))
        self.slot("name", -wide - 0.8, 1.6, "end")
        self.slot("note", wide + 0.8, 1.6, "start")
