"""What every part of a terminal diagram writes: tags, numbers, marks of cores, strip terminals."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, Canvas
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.columns import LEFT, Columns
from wiregen.drawing.placing import Page, PlacedBlock
from wiregen.drawing.references import References
from wiregen.drawing.symbols import Practice, get
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor

NUMBER_ROOM = 6.6  # between a strip terminal and the edge of its place, mm
TERMINAL = 5.0  # half the width of a strip terminal, mm
TAG_WIRE, SHORT_TAG_WIRE = 8.0, 6.0
INSIDE_WIDTH = 36.0  # of what a strip terminal is joined to, beside its tag


@dataclass(frozen=True, slots=True)
class Setting:
    """What all sheets share: the circuit, the practice, the names of places, the cross-references."""

    circuit: Circuit
    practice: Practice
    places: dict[str, str]  # place -> its name in words
    at: dict[str, str]  # device -> place
    references: References


class Marks:
    """The marks on one page. ``drawn`` collects the strip terminals that stand on it."""

    def __init__(self, canvas: Canvas, page: Page, setting: Setting) -> None:
        self._canvas, self._page, self._set = canvas, page, setting
        self._circuit = setting.circuit
        self.drawn: set[Pin] = set()

    def blocks(self, columns: Columns) -> tuple[PlacedBlock, ...]:
        return self._page.left if columns is LEFT else self._page.right

    def beyond(self, terminal: Pin) -> str:
        """What a strip terminal of another place is wired to there."""
        place = self._circuit.strips[terminal.device]
        names = [str(p) for p in self._circuit.neighbours(terminal) if self._set.at.get(p.device) == place]
        return f"to {names[0]}" if names else ""

    def tag(self, x: float, y: float, pin: Pin, direction: str, note: str = "", room: float = 60.0) -> None:
        """A tag of a pin's potential, and under it what the pin is wired to."""
        potential = self._circuit.potential(pin)
        if potential is None:
            return
        size = fonts.shrink(potential.name, NOTE, room, LEAST) or LEAST
        self._canvas.tag(x, y, potential.name, "left" if direction == "left" else "right", size=size)
        text = note or self._wired_to(pin, room)
        if text:
            shift, anchor = (-4.2, "end") if direction == "left" else (4.2, "start")
            self._canvas.text(x + shift, y + 3.9, text, LEAST, "end" if anchor == "end" else "start", centred=True)

    def _wired_to(self, pin: Pin, room: float) -> str:
        """What a pin is wired to: two names, or as many as have room, the rest as dots."""
        names = [str(p) for p in self._circuit.neighbours(pin)]
        text = "to " + ", ".join(names[:2]) if names else ""
        return text if fonts.text_width(text, LEAST) <= room else f"to {names[0]} ..."

    def name(self, pin: Pin) -> str:
        potential = self._circuit.potential(pin)
        return potential.name if potential else ""

    def stops(self, columns: Columns, terminals: tuple[Pin, ...]) -> list[tuple[Pin, float]]:
        spread = [(i - (len(terminals) - 1) / 2) * 12.0 for i in range(len(terminals))]
        return [(t, columns.x(columns.strip + s)) for t, s in zip(terminals, spread, strict=True)]

    def near_tag(self, columns: Columns, pin: Pin, x: float, y: float) -> None:
        if self._circuit.potential(pin) is None:
            return
        end = x - columns.outwards * SHORT_TAG_WIRE
        self._canvas.wire([(x, y), (end, y)])
        room = abs(end - columns.edge) - 6.0
        self.tag(end, y, pin, "right" if columns.outwards < 0 else "left", room=room)

    def strip_tag(self, columns: Columns, terminal: Pin, y: float) -> None:
        """What a core's strip terminal is joined to inside the cabinet, as a tag."""
        self.tag(
            columns.x(columns.strip_tag),
            y,
            terminal,
            "right" if columns.outwards < 0 else "left",
            self._inside(terminal),
        )

    def _inside(self, terminal: Pin) -> str:
        names = [
            str(p) for p in self._circuit.neighbours(terminal) if self._set.at.get(p.device) == self._page.device.place
        ]
        bridged = self._circuit.bridged_to(terminal)
        parts = [f"to {', '.join(names)}"] if names else []
        most = "; ".join([*parts, *([f"bridge {', '.join(bridged)}"] if bridged else [])])
        # On the right there is less room between the strip and the controller.
        least = "; ".join([*parts[:1], *([f"bridge {bridged[0]}"] if bridged else [])])
        return next((text for text in (most, least) if fonts.text_width(text, LEAST) <= INSIDE_WIDTH), "")

    def strip_terminal(
        self, terminal: Pin, x: float, y: float, columns: Columns, sides: tuple[float, ...] = (-1, 1)
    ) -> None:
        """A strip terminal with the number of its potential on ``sides``."""
        symbol = get("terminal", self._set.practice)
        self._canvas.symbol(symbol, x, y)
        self._canvas.pin(x - TERMINAL, y, str(terminal))
        self._canvas.pin(x + TERMINAL, y, str(terminal))
        self._canvas.text(x, y, terminal.name, TEXT, "middle", centred=True)
        self.drawn.add(terminal)
        potential = self._circuit.potential(terminal)
        wide = fonts.text_width(potential.number, NOTE) if potential else 0.0
        for side in sides:
            if wide <= NUMBER_ROOM:
                self.number(x + side * 8.6, y, potential)
            elif side != columns.outwards:  # outside there is no room before the edge of the place
                self.number(x + side * (TERMINAL + 1.0 + wide / 2), y, potential)

    def core_marks(self, columns: Columns, conductors: tuple[Conductor, ...], y: float) -> None:
        """The mark of the core in the cable that the line is drawn through."""
        cores = [c.core for c in conductors if c.core is not None]
        if cores:
            self.core_mark(columns, cores[-1], y)

    def core_mark(self, columns: Columns, mark: str, y: float) -> None:
        size = fonts.shrink(mark, TEXT, 7.8, LEAST) or LEAST
        self._canvas.text(columns.x(columns.cable + 6.6), y - 1.0, mark, size, "middle")

    def number(self, x: float, y: float, potential: object) -> None:
        number = getattr(potential, "number", "")
        if number:
            self._canvas.text(x, y - 1.0, number, NOTE, "middle")
