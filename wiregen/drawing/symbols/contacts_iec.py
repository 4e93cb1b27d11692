"""Contacts after IEC 60617, lying on a horizontal wire, with the actuator above.

The standard draws a contact upright with its actuator on the left; here that picture is turned a quarter clockwise,
so that every actuator pushes downwards: a make contact's blade stands above the wire and is pushed onto it, a break
contact's blade lies below the wire against a hook and is pushed off it.
"""

from __future__ import annotations

from typing import Literal

from wiregen.drawing.symbols.figure import Figure, below
from wiregen.drawing.symbols.model import HEAVY, THIN, Point

Form = Literal["make", "break", "changeover"]
Actuator = Literal["push", "turn", "key", "mushroom", "limit", "process", "none"]
Level = Literal["break", "make"]

HALF = 5.0  # from the middle to a pin
GAP = 2.5  # from the middle to the hinge, and to the fixed contact
THROW = 6.25  # from one throw of a changeover to the other


class Contact(Figure):
    """A contact with its actuator, at rest.

    ``level`` is the throw of a changeover that lies in one line with its common pin.
    """

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
        throw = level if form == "changeover" else form
        self.line((-HALF, 0), (-GAP, 0))
        middle = self.make_at(0.0) if throw == "make" else self.break_at(0.0)
        self.pin("common" if form == "changeover" else "a", -HALF, 0, below(-1))
        self.pin(throw if form == "changeover" else "b", HALF, 0, below(1))
        if form == "changeover":
            self.other_throw(throw)
        lift = 3.2 if form == "changeover" and throw == "make" else 0.0
        half = self.actuate(actuator, middle, lift, quantity, latched)
        if direct_opening:
            self.direct_opening(middle[0] - 4.0)
        self.slot("name", -max(3.0, half + 1.0), 1.6, "end")
        self.slot("note", max(3.4, half + 1.2), THROW + 1.6 if lift else 1.6, "start")

    def make_at(self, y: float) -> Point:
        """A blade that does not touch; returns its middle."""
        self.line((GAP, y), (HALF, y))
        self.line((-GAP, y), (2.3, y + 2.8), width=HEAVY)
        return -0.1, y + 1.4

    def break_at(self, y: float) -> Point:
        """A blade that rests against the hook of the fixed contact; returns its middle."""
        self.line((GAP, y - 2.3), (GAP, y), (HALF, y))
        self.line((-GAP, y), (3.4, y - 2.3 * 5.9 / 5), width=HEAVY)
        return 0.0, y - 1.15

    def other_throw(self, throw: str) -> None:
        if throw == "make":
            self.line((2.3, 2.8 - 0.25), (2.3, THROW), (HALF, THROW))
            self.pin("break", HALF, THROW, below(1))
        else:
            self.line((2.6, -THROW + 0.9), (2.6, -THROW), (HALF, -THROW))
            self.pin("make", HALF, -THROW, below(1))

    def actuate(self, actuator: Actuator, middle: Point, lift: float, quantity: str, latched: bool) -> float:
        """The actuator above the middle of the blade, ``lift`` mm higher than usual; returns half its width."""
        x, y = middle
        foot = lift + {"push": 6.3, "turn": 5.7, "key": 4.9, "mushroom": 5.2, "process": 3.3}.get(actuator, 0.0)
        if actuator in ("push", "turn", "key", "mushroom", "process"):
            self.link(x, y, foot, latched)
        if actuator == "push":
            self.line((x - 1.8, foot - 1.1), (x - 1.8, foot), (x + 1.8, foot), (x + 1.8, foot - 1.1))
        elif actuator == "turn":
            self.line((x - 1.8, foot + 1.1), (x - 1.8, foot), (x + 1.8, foot), (x + 1.8, foot - 1.1))
        elif actuator == "key":  # the bow of a key, and its bit
            self.circle(x, foot + 1.0, 1.0)
            self.line((x, foot - 0.4), (x + 1.4, foot - 0.4), (x + 1.4, foot - 1.3))
        elif actuator == "mushroom":
            self.line((x - 2.1, foot), (x + 2.1, foot))
            self.arc(x, foot, 2.1, 1.6, 0, 180)
        elif actuator == "process":
            return self.letter_box(quantity, x, foot)
        elif actuator == "limit":
            self.cam(middle, up=1.0 if y > 0 else -1.0)
        return 2.0

    def link(self, x: float, y: float, top: float, latched: bool) -> None:
        """The mechanical link from the blade to the actuator, with a notch where the actuator stays where it is put."""
        if not latched:
            self.line((x, top), (x, y), width=THIN, dashed=True)
            return
        self.line((x, y), (x, 2.1), width=THIN, dashed=True)
        self.line((x, 2.1), (x - 1.1, 2.75), (x, 3.4), width=THIN)
        self.line((x, 3.4), (x, top), width=THIN, dashed=True)

    def direct_opening(self, x: float) -> None:
        """An arrow through a circle: opens by force, not by a spring."""
        self.circle(x, 6.3, 0.95, width=THIN)
        self.line((x, 7.8), (x, 4.8), width=THIN)
        self.line((x - 0.5, 5.7), (x, 4.8), (x + 0.5, 5.7), width=THIN)

    def cam(self, middle: Point, up: float) -> None:
        """The triangle on the blade that says: moved by the machine's own position. It stands on the side that is
        pushed.
        """
        x, y = middle
        slope = 2.8 / 4.8 if up > 0 else -0.46
        a, b = (x - 1.3, y - 1.3 * slope), (x + 1.3, y + 1.3 * slope)
        self.line(a, (a[0] + 0.2, b[1] + 0.6) if up > 0 else (b[0] + 0.2, a[1] + 0.9), b)
