"""Cross-references between sheets: where a loop is whole, where a coil is, where its contacts are, where a wire leads.

What stands where is known only when all sheets are drawn. Until then a reference is a note with room kept free.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from wiregen.control.functions import Function, Load, legs_in
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, Canvas
from wiregen.drawing.paragraphs import Paragraph, listed
from wiregen.drawing.symbols import Anchor
from wiregen.drawing.template import Paper
from wiregen.drawing.units import Unit, marks_of
from wiregen.terms import Pin

#: A pin anywhere; a controller's own terminal on its own sheet; the loop of a far controller's pin; the symbol of a
#: device by its marks; the contacts of an input that stand on a sheet of their own, by the end of its function; the
#: table of a strip, of a cable, of the functions of a device, by its name.
Kind = Literal["pin", "terminal", "loop", "unit", "input", "strip", "cable", "functions"]


@dataclass(frozen=True, slots=True)
class Spot:
    """A point on a sheet that has no number yet."""

    canvas: Canvas
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class _Note:
    spot: Spot
    anchor: Anchor
    width: float
    lines: int
    size: float
    says: Callable[[], str]


@dataclass(slots=True)
class References:
    """Filled while sheets are drawn, written when all are. A place is written sheet/zone, ``4/B2``."""

    paper: Paper
    _spots: dict[tuple[Kind, str], list[Spot]] = field(default_factory=dict)
    _notes: list[_Note] = field(default_factory=list)
    _units: dict[str, dict[str, str]] = field(default_factory=dict)  # device -> marks -> contact or load
    _numbers: dict[int, int] = field(default_factory=dict)
    _named: list[str] = field(default_factory=list)  # what the note that is being asked has named

    def expect(self, functions: Iterable[Function]) -> None:
        """Say before anything is drawn which contacts and coils will be."""
        for function in functions:
            for leg in legs_in(function.partner):
                self._units.setdefault(leg.contact.device, {})[marks_of((leg.a.name, leg.b.name))] = "contact"
            for load in (function.partner, function.coil):
                if isinstance(load, Load):
                    self._units.setdefault(load.device, {})[marks_of((load.a.name, load.b.name))] = "load"

    def mark(self, kind: Kind, key: str, canvas: Canvas, x: float, y: float) -> None:
        self._spots.setdefault((kind, key), []).append(Spot(canvas, x, y))

    def note(
        self,
        canvas: Canvas,
        x: float,
        y: float,
        says: Callable[[], str],
        width: float,
        anchor: Anchor = "start",
        lines: int = 1,
        size: float = LEAST,
    ) -> None:
        """A text whose words are asked for when all is drawn; ``y`` is the baseline of the first of ``lines`` lines."""
        self._notes.append(_Note(Spot(canvas, x, y), anchor, width, lines, size, says))
        left = {"start": 0.0, "middle": width / 2, "end": width}[anchor]
        step = Paragraph((), size).step
        canvas.reserve(Box(x - left, y - size, x - left + width, y + step * (lines - 1) + 0.6))

    def others(self, unit: Unit) -> tuple[str, ...]:
        """The marks of a device's other symbols: at a coil those of its contacts, at a contact those of its coil.

        A contact of a device without a coil names the other contacts.
        """
        marks = self._units.get(unit.device, {})
        coils = [m for m, kind in marks.items() if kind == "load"]
        wanted = coils if unit.kind == "contact" and coils else [m for m in marks if m not in coils]
        return tuple(sorted(m for m in wanted if m != unit.marks))

    def quoted(self, unit: Unit, marks: str) -> str:
        """Another symbol of a unit's device as it is quoted: ``13-14 4/B2``, of a coil ``coil 4/B2``."""
        kind = self._units.get(unit.device, {}).get(marks, "")
        place = self.place("unit", f"{unit.device} {marks}")
        return f"{'coil' if kind == 'load' else marks} {place}" if place else ""

    def quoting(self, unit: Unit, marks: str) -> Callable[[], str]:
        """The same for a note."""
        return lambda: self.quoted(unit, marks)

    def place(self, kind: Kind, key: str) -> str:
        """Where a thing stands, empty where it is drawn nowhere."""
        spots = self._spots.get((kind, key), [])
        if not spots:
            return ""
        spot = spots[0]
        return self._name(f"{self._numbers[id(spot.canvas)]}/{self.paper.zone_of(spot.x, spot.y)}")

    def sheet(self, canvas: Canvas) -> str:
        """The number of a sheet."""
        return self._name(str(self._numbers[id(canvas)]))

    def _name(self, place: str) -> str:
        self._named.append(place)
        return place

    def of_pin(self, pin: Pin) -> str:
        """Where a pin stands; a controller's own terminal on its own sheet."""
        return self.place("terminal", str(pin)) or self.place("pin", str(pin))

    def see(self, kind: Kind, key: str) -> str:
        place = self.place(kind, key)
        return f"see {place}" if place else ""

    def write(self, canvases: Sequence[Canvas]) -> None:
        """Write every note. The sheets stand in order."""
        self._numbers = {id(canvas): number for number, canvas in enumerate(canvases, 1)}
        for canvas in canvases:
            for name, (x, y) in canvas.pins:
                self.mark("pin", name, canvas, x, y)
        for note in self._notes:
            self._named.clear()
            text = listed(note.says(), note.width, note.lines, (note.size, LEAST))
            for i, line in enumerate(text.lines):
                see = [word for word in map(_bare, line.split()) if word in self._named]
                note.spot.canvas.text(note.spot.x, note.spot.y + i * text.step, line, text.size, note.anchor, see=see)


def _bare(word: str) -> str:
    """A word without the marks that part it from the next."""
    return word.strip(",;.()")
