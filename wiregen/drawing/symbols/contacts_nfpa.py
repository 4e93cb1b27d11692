"""Contacts as NFPA 79 and IEEE 315 draw them, lying on a horizontal wire.

A contact of a relay is two short bars, crossed by a slash when closed at rest. A hand-operated contact is a bar that
bridges two circles, above them when open, below them when closed. A limit or process contact is a lever pushed
upwards from below: it hangs under its circle when open and lies on its circle when closed; the operator stands under
it.
"""

from __future__ import annotations

from wiregen.drawing.symbols.contacts_iec import HALF, THROW, Actuator, Form, Level
from wiregen.drawing.symbols.figure import Figure, below
from wiregen.drawing.symbols.model import HEAVY, THIN

RING = 0.75  # radius of the circles
REACH = 2.4  # from the middle to a circle


class Contact(Figure):
    """A contact with its operator, at rest. Options as those of the IEC contact."""

    def __init__(
        self,
        form: Form,
        actuator: Actuator = "none",
        quantity: str = "",
        level: Level = "break",
        latched: bool = False,
        direct_opening: bool = False,
    ) -> None:
        super().__init__()
        draw = {"none": self.bars, "limit": self.lever, "process": self.lever}.get(actuator, self.bridge)
        throws: dict[float, str] = {0.0: form}
        if form == "changeover":
            throws = {0.0: level, THROW if level == "make" else -THROW: "break" if level == "make" else "make"}
        heights = [draw(y, throw) for y, throw in throws.items()]
        if form == "changeover":
            self.join_throws(throws)
        else:
            self.pin("a", -HALF, 0, below(-1))
            self.pin("b", HALF, 0, below(1))
        self.operate(actuator, min(heights), max(heights), quantity, latched, max(throws) + 4.8)
        self.slot("name", -4.0, 2.3 + max(0.0, *throws), "end")
        self.slot("note", 4.2, 2.3 + max(throws), "start")

    def join_throws(self, throws: dict[float, str]) -> None:
        other = min(throws) or max(throws)
        self.line((-3.65, 0), (-3.65, other), (-REACH - RING, other))
        self.circle(-3.65, 0, 0.4, width=THIN, fill="black")
        self.pin("common", -HALF, 0, below(-1))
        for y, throw in throws.items():
            self.pin(throw, HALF, y, below(1))

    def bars(self, y: float, form: str) -> float:
        reach = 1.0
        start = -HALF if y == 0 else -3.65
        self.line((start, y), (-reach, y))
        self.line((reach, y), (HALF, y))
        for x in (-reach, reach):
            self.line((x, y - 2.2), (x, y + 2.2), width=HEAVY)
        if form == "break":
            self.line((-2.1, y - 2.2), (2.1, y + 2.2), width=HEAVY)
        return y

    def rings(self, y: float) -> None:
        start = -HALF if y == 0 else -3.65
        self.line((start, y), (-REACH - RING, y))
        self.line((REACH + RING, y), (HALF, y))
        for x in (-REACH, REACH):
            self.circle(x, y, RING)

    def bridge(self, y: float, form: str) -> float:
        """A bar across two circles; returns the height of the bar."""
        self.rings(y)
        bar = y + 2.2 if form == "make" else y - RING - 0.25
        self.line((-3.2, bar), (3.2, bar), width=HEAVY)
        return bar

    def lever(self, y: float, form: str) -> float:
        """A lever hinged at the left circle; returns the height of its middle."""
        self.rings(y)
        if form == "make":
            self.line((-REACH + 0.6, y - 0.45), (2.7, y - 2.6), width=HEAVY)
            return y - 1.4
        self.line((-REACH + 0.6, y + 0.45), (3.4, y + RING + 0.35), width=HEAVY)
        return y + 0.65

    def operate(
        self, actuator: Actuator, lowest: float, highest: float, quantity: str, latched: bool, top: float
    ) -> None:
        if actuator in ("push", "turn", "key", "mushroom"):
            self.line((0, lowest), (0, top), width=THIN)
            if latched and actuator == "mushroom":
                self.line((-1.0, top - 0.8), (0, top - 1.5), (1.0, top - 0.8), width=THIN)
        if actuator == "push":
            self.line((-1.4, top), (1.4, top))
        elif actuator == "mushroom":
            self.line((-2.2, top), (2.2, top))
            self.arc(0, top, 2.2, 1.6, 0, 180)
        elif actuator == "turn":
            self.circle(0, top + 1.2, 1.2)
            self.line((-0.85, top + 0.35), (0.85, top + 2.05), width=HEAVY)
        elif actuator == "key":
            self.circle(0, top + 1.0, 1.0)
            self.line((0, top - 0.6), (1.4, top - 0.6), (1.4, top - 1.4))
        elif actuator == "limit":
            self.cam(lowest)
        elif actuator == "process":
            self.line((0, highest), (0, lowest - 2.2), width=THIN)
            self.operator(quantity, lowest - 2.2)

    def cam(self, y: float) -> None:
        """The wedge under the lever that says: moved by the machine's own position."""
        self.line((-0.9, y - 0.1 + (0.6 if y < 0 else 0)), (0.0, y - 1.9), (0.9, y - (0.6 if y < 0 else 0)))

    def operator(self, quantity: str, y: float) -> None:
        """What moves a process contact: diaphragm, float, bent strip, vane; any other quantity by its letters in a
        box.
        """
        if quantity in ("p", "P"):
            self.line((-1.8, y - 1.6), (1.8, y - 1.6))
            self.arc(0, y - 1.6, 1.8, 1.6, 0, 180)
        elif quantity == "L":
            self.circle(0, y - 1.2, 1.2)
        elif quantity in ("θ", "T"):
            self.line((0, y), (0, y - 0.9), (1.1, y - 0.9), (1.1, y - 1.8), (-0.9, y - 1.8), (-0.9, y - 2.5))
        elif quantity == "F":
            self.line((0, y), (0, y - 2.4))
            self.line((0, y - 0.5), (2.0, y - 1.5), (0, y - 2.4))
        else:
            self.letter_box(quantity, 0, y - 3.8)
