"""The legend of a set: every symbol that its sheets use, drawn once more, with what it means."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from wiregen.drawing.box import Box
from wiregen.drawing.canvas import JUNCTION_RADIUS, NOTE, PIN_RADIUS, Canvas
from wiregen.drawing.paragraphs import Paragraph, paragraph
from wiregen.drawing.symbols import NORMAL, THIN, Practice, Symbol, get

PICTURE = 23.0  # width kept for a symbol, mm
WORDS = 35.0  # for what it means
ENTRY = PICTURE + WORDS + 3.0
AIR = 2.6  # above and below an entry

_FORMS = {"make": "make contact, open at rest", "break": "break contact, closed at rest", "changeover": "changeover"}
_ACTUATORS = {"push": "push button", "turn": "selector", "mushroom": "mushroom button", "limit": "limit switch"}
_QUANTITIES = {"p": "pressure", "L": "level", "θ": "temperature", "F": "flow"}
_WORDS = {
    "coil": "Coil of a relay or contactor",
    "lamp": "Pilot lamp",
    "horn": "Audible signal",
    "valve": "Solenoid valve",
    "meter": "Panel meter",
    "resistor": "Resistor",
    "thermistor": "Thermistor in a winding",
    "fuse": "Fuse",
    "potentiometer": "Potentiometer",
    "transformer": "Transformer",
    "transmitter_two_wire": "Transmitter, two wires",
    "transmitter_three_wire": "Transmitter, three wires",
    "transmitter_four_wire": "Transmitter, four wires",
    "proximity_two_wire": "Proximity switch, two wires",
    "proximity_three_wire": "Proximity switch, three wires",
    "terminal": "Terminal of a strip",
    "cable": "Cable around its cores",
    "screen": "Screened cable around its cores",
    "twisted": "Twisted pair",
    "breaker": "Protective device",
    "motor": "Motor",
}
#: Options that change a symbol's look, not only its size.
_LOOK = ("form", "actuator", "quantity", "latched", "direct_opening", "suppression", "protective", "letter", "output")
_SMALL: dict[str, dict[str, float]] = {
    "cable": {"height": 6.0},
    "screen": {"height": 6.0},
    "twisted": {"height": 5.0},
    "potentiometer": {"pitch": 6.0},
    "transformer": {"pitch": 8.0},
    "transmitter_two_wire": {"pitch": 6.0, "width": 16.0},
    "transmitter_three_wire": {"pitch": 5.0, "width": 16.0},
    "transmitter_four_wire": {"pitch": 4.0, "width": 16.0},
    "proximity_three_wire": {"pitch": 5.0, "width": 16.0},
    "breaker": {"poles": 1},
    "motor": {"phases": 3, "pitch": 5.0},
}


@dataclass(frozen=True, slots=True)
class Entry:
    """One line of the legend: a symbol, or a drawing of its own about an origin, in the room of ``box``."""

    words: Paragraph
    box: Box
    draw: Callable[[Canvas, float, float], None]

    @property
    def picture(self) -> float:
        """The width kept for the symbol."""
        return max(PICTURE, self.box.width + 1.0)

    @property
    def height(self) -> float:
        return max(self.box.height, self.words.height) + 2 * AIR


def meaning(symbol: Symbol) -> str:
    """What a symbol means, in words; nothing for a box in which its own name stands."""
    options = dict(symbol.options)
    if symbol.kind == "earth":
        return "Protective earth" if options.get("protective", True) else "Earth"
    if symbol.kind == "coil" and options.get("suppression"):
        return "Coil with a suppressor diode"
    if symbol.kind != "contact":
        return _WORDS.get(symbol.kind, "")
    by = _ACTUATORS.get(str(options.get("actuator", "none")), "")
    if quantity := str(options.get("quantity") or ""):
        by = f"operated by {_QUANTITIES.get(quantity, 'a quantity')}"
    parts = [_FORMS[str(options["form"])], by]
    parts += ["latches" if options.get("latched") else "", "opens positively" if options.get("direct_opening") else ""]
    return ", ".join(p for p in parts if p).capitalize()


def entries(canvases: Iterable[Canvas], practice: Practice) -> list[Entry]:
    """What the sheets use: first the signs of wiring, then the symbols in the order of their meaning."""
    used = list(canvases)
    found: dict[str, Symbol] = {}
    for canvas in used:
        for symbol in canvas.symbols:
            found.setdefault(meaning(symbol), symbol)
    found.pop("", None)
    signs = [entry for category, entry in _signs() if any(c.boxes(category) for c in used)]
    return [*signs, *(_of_symbol(words, found[words], practice) for words in sorted(found, key=str.casefold))]


def _of_symbol(words: str, symbol: Symbol, practice: Practice) -> Entry:
    options = {key: value for key, value in symbol.options if key in _LOOK} | _SMALL.get(symbol.kind, {})
    shown = get(symbol.kind, practice, **options)

    def draw(canvas: Canvas, x: float, y: float) -> None:
        canvas.symbol(shown, x, y)
        for px, py in shown.pins.values():
            canvas.circle(x + px, y + py, PIN_RADIUS, THIN, fill="white")

    box = shown.box.grown(PIN_RADIUS)
    return Entry(_words(words, max(0.0, box.width + 1.0 - PICTURE)), box, draw)


def _words(text: str, less: float = 0.0) -> Paragraph:
    return paragraph((text,), WORDS - less, 2, (NOTE,))


def _signs() -> Iterator[tuple[str, Entry]]:
    """The signs that are no symbols, by the category of what they explain. None of them is a wire."""
    reach = 9.0

    def line(canvas: Canvas, x: float, y: float) -> None:
        canvas.line(((x - reach, y), (x + reach, y)), NORMAL)
        canvas.text(x, y - 1.0, "07", NOTE, "middle")

    def joined(canvas: Canvas, x: float, y: float) -> None:
        _cross(canvas, x - 5.5, y)
        canvas.circle(x - 5.5, y, JUNCTION_RADIUS, THIN, fill="black")
        _cross(canvas, x + 5.5, y)

    def pin(canvas: Canvas, x: float, y: float) -> None:
        canvas.line(((x - reach, y), (x - PIN_RADIUS, y)), NORMAL)
        canvas.circle(x, y, PIN_RADIUS, THIN, fill="white")

    def tag(canvas: Canvas, x: float, y: float) -> None:
        canvas.line(((x - reach, y), (x, y)), NORMAL)
        canvas.polygon([(x, y - 1.5), (x + 1.6, y - 1.5), (x + 3.2, y), (x + 1.6, y + 1.5), (x, y + 1.5)])

    def plain(dash: str) -> Callable[[Canvas, float, float], None]:
        return lambda canvas, x, y: canvas.line(((x - reach, y), (x + reach, y)), THIN, dash=dash)

    flat, high = Box(-reach, -1.0, reach, 1.0), Box(-reach, -3.5, reach, 3.5)
    yield "wire", Entry(_words("Conductor with its number"), Box(-reach, -3.5, reach, 1.0), line)
    yield "wire", Entry(_words("Joined; crossing, not joined"), high, joined)
    yield "pin", Entry(_words("Connection point of a device"), flat, pin)
    yield "tag", Entry(_words("Goes on elsewhere: to the pin and sheet/zone written there"), high, tag)
    yield "spare", Entry(_words("Spare core"), flat, plain("spare"))
    yield "place", Entry(_words("Edge of a place"), flat, plain("place"))
    yield "link", Entry(_words("Removable link to earth"), flat, plain("link"))


def _cross(canvas: Canvas, x: float, y: float) -> None:
    canvas.line(((x - 3.5, y), (x + 3.5, y)), NORMAL)
    canvas.line(((x, y - 3.5), (x, y + 3.5)), NORMAL)


def fitting(wanted: Sequence[Entry], room: Box) -> int:
    """How many entries, from the first, have room."""
    return sum(1 for _ in _places(wanted, room))


def draw(canvas: Canvas, wanted: Sequence[Entry], room: Box) -> float:
    """Draw the entries that have room, row by row; returns how far down they reach."""
    bottom = room.y0
    for entry, x, y, height in _places(wanted, room):
        middle = y + height / 2
        left, (cx, cy) = x + entry.picture / 2, entry.box.centre
        entry.draw(canvas, left - cx, middle - cy)
        words = entry.words
        top = middle - words.height / 2 + words.size * 0.729
        for i, text in enumerate(words.lines):
            canvas.text(x + entry.picture + 1.0, top + i * words.step, text, words.size)
        bottom = max(bottom, y + height)
    return bottom


def _places(wanted: Sequence[Entry], room: Box) -> Iterator[tuple[Entry, float, float, float]]:
    """Where each entry stands, in rows of as many as the room is wide; ends where it is full."""
    across = max(1, math.floor(room.width / ENTRY))
    y = room.y0
    for first in range(0, len(wanted), across):
        row = wanted[first : first + across]
        height = max(entry.height for entry in row)
        if y + height > room.y1:
            return
        for index, entry in enumerate(row):
            yield entry, room.x0 + index * room.width / across, y, height
        y += height
