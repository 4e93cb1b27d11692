"""What everything that draws on one sheet shares: the canvas, its wires, the circuit, the practice, the references."""

from __future__ import annotations

import math
from dataclasses import dataclass

from wiregen.drawing.canvas import Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.paragraphs import one_line
from wiregen.drawing.references import References
from wiregen.drawing.symbols import Anchor, Practice
from wiregen.drawing.wires import Wires
from wiregen.terms import Pin


@dataclass(frozen=True, slots=True)
class Setting:
    """What all sheets of a set share. ``places`` holds the name of each place in words."""

    circuit: Circuit
    practice: Practice
    places: dict[str, str]
    references: References

    def title_of(self, place: str) -> str:
        return f"{place}  {self.places.get(place, '')}".strip()


@dataclass(frozen=True, slots=True)
class Plate:
    """One sheet while it is drawn."""

    setting: Setting
    canvas: Canvas
    wires: Wires

    @property
    def circuit(self) -> Circuit:
        return self.setting.circuit

    def pin(self, x: float, y: float, pin: Pin) -> None:
        self.wires.pin(x, y, pin)

    def number(self, x: float, y: float, pin: Pin, anchor: Anchor = "middle", room: float | None = None) -> None:
        """The number of the conductors at a pin, over a wire at the height ``y``, in ``room`` mm at the most."""
        potential = self.circuit.potential(pin)
        if potential is not None:
            text, size = one_line(potential.number, min(room or math.inf, self.circuit.number_room))
            self.canvas.text(x, y - 1.0, text, size, anchor)
