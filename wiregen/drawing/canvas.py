"""One sheet as a list of drawn things, in mm, y down, and its SVG.

The sheet's contract holds by construction: wires run horizontally and vertically, wires, pins, junctions and tags
carry their class and name, coordinates are plain decimals, and nothing is moved by a transform. Every item keeps its
box and its category, so that a layout can look for free room.

Categories, which are also the classes in the SVG: ``wire link pin junction tag`` (the circuit), ``arrow`` (the head
of a tag), ``text``, ``symbol`` (a group with its kind and box), ``outline`` (of a device: no wire crosses it),
``place`` (the dash-dotted edge of a place, which cores cross), ``cable`` (a sign on cores), ``spare`` (a core that
carries nothing), ``frame`` and ``rule`` (the sheet's own lines).
"""

from __future__ import annotations

import itertools
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal
from xml.etree import ElementTree

import svgwrite

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.symbols.model import HEAVY, NORMAL, THIN, Anchor, Disc, Fill, Label, Point, Spot, Stroke, Symbol
from wiregen.terms import InternalFault

TEXT = 3.43  # font size whose capitals are 2.5 mm
TITLE = 4.8  # 3.5 mm
NOTE = 3.0  # for what stands beside the main thing
LEAST = 2.75  # 2.0 mm; nothing is written smaller

PIN_RADIUS, JUNCTION_RADIUS, TAG_RADIUS = 0.75, 0.75, 0.35
STRONG = 0.14  # the stroke that thickens a text, since the font has one weight
DASHES = {"dashed": "1.6 1", "place": "6 1.5 1 1.5", "link": "0.6 0.6", "spare": "2.4 1.2", "thin": "1 0.7"}

_NAME_DASH = re.compile(r"(?<![\w.+-])-(?=[0-9]{0,3}[A-Z]{1,5}[0-9])")

Direction = Literal["left", "right", "up", "down"]
_HEADINGS: dict[str, Point] = {"left": (-1, 0), "right": (1, 0), "up": (0, -1), "down": (0, 1)}

#: What lies under what; later ones are drawn over earlier ones.
LAYERS = (
    "background",
    "frame",
    "rule",
    "place",
    "outline",
    "cable",
    "spare",
    "symbol",
    "link",
    "wire",
    "arrow",
    "junction",
    "pin",
    "tag",
    "text",
)


@dataclass(frozen=True, slots=True)
class Item:
    """One drawn thing: its category, its ink's box, its text if it is one, and the SVG element."""

    category: str
    box: Box
    text: str
    element: Any


def number(value: float) -> float | int:
    """``value`` to a thousandth of a mm, written without exponent and without a needless ``.0``."""
    rounded = round(float(value), 3)
    if rounded != rounded or abs(rounded) > 1e6:
        raise InternalFault(f"{value} is no coordinate on a sheet")
    return int(rounded) if rounded == int(rounded) else rounded


def clean(text: str) -> str:
    """``text`` on one line with single blanks.

    Raises InternalFault for characters that may not stand in a drawing: control characters and what XML forbids.
    """
    for c in text:
        if unicodedata.category(c) in ("Cc", "Cs", "Cn") and not c.isspace():
            raise InternalFault(f"the text {text!r} holds the character U+{ord(c):04X}, which cannot be drawn")
        if c in "\n\r\t\v\f\x1c\x1d\x1e\x1f\x85\u2028\u2029":
            raise InternalFault(f"the text {text!r} holds a line break or tab; a drawn text is one line")
    return " ".join(text.split())


class Canvas:
    """A sheet ``width`` by ``height`` mm that is only ever added to."""

    def __init__(self, width: float, height: float, title: str = "", dashed_names: bool = True) -> None:
        """Without ``dashed_names`` designations are written as ladder diagrams have them: PB1, not -PB1."""
        self._dashed_names = dashed_names
        self.width, self.height, self.title = width, height, clean(title)
        self._items: list[Item] = []
        self._pins: list[tuple[str, Point]] = []
        self._symbols: list[Symbol] = []
        self._reserved: list[Box] = []
        self._make = svgwrite.Drawing(debug=False)

    @property
    def items(self) -> tuple[Item, ...]:
        return tuple(self._items)

    @property
    def pins(self) -> tuple[tuple[str, Point], ...]:
        """Every pin that was drawn, with where it lies."""
        return tuple(self._pins)

    @property
    def symbols(self) -> tuple[Symbol, ...]:
        """Every symbol that was drawn, in that order."""
        return tuple(self._symbols)

    def reserve(self, box: Box) -> None:
        """Keep a box free for a text that comes later."""
        self._reserved.append(box)

    @property
    def reserved(self) -> tuple[Box, ...]:
        return tuple(self._reserved)

    def boxes(self, *categories: str) -> tuple[Box, ...]:
        """The boxes of all items of these categories, or of all items."""
        return tuple(i.box for i in self._items if not categories or i.category in categories)

    # the circuit

    def wire(self, points: Sequence[Point]) -> None:
        """A wire through ``points``, all runs horizontal or vertical."""
        self._run("wire", points, {})

    def link(self, points: Sequence[Point]) -> None:
        """The removable earth link, dotted: it is no wire and joins nothing."""
        self._run("link", points, {"stroke-dasharray": DASHES["link"]})

    def pin(self, x: float, y: float, name: str) -> None:
        """A connection point; ``name`` is ``device:pin``."""
        device, _, own = clean(name).partition(":")
        if not device or not own or clean(name) != name:
            raise InternalFault(f"{name!r} is not a pin; it should read device:pin")
        self._circle("pin", x, y, PIN_RADIUS, "white", THIN, {"data-pin": name})
        self._pins.append((name, (x, y)))

    def junction(self, x: float, y: float) -> None:
        """The dot under which three or more wires are joined."""
        self._circle("junction", x, y, JUNCTION_RADIUS, "black", THIN, {})

    def tag(
        self, x: float, y: float, potential: str, direction: Direction, label: str | None = None, size: float = TEXT
    ) -> Box:
        """A tag that stands for a potential drawn elsewhere, its head pointing away from the wire; returns the box of
        head and text.

        ``label`` is what is written at it, by default the potential's name; the empty text writes nothing.
        """
        if not potential or clean(potential) != potential:
            raise InternalFault(f"{potential!r} is not the name of a potential")
        self._circle("tag", x, y, TAG_RADIUS, "black", THIN, {"data-potential": potential})
        dx, dy = _HEADINGS[direction]
        head = [
            (x + 1.5 * a * dy + b * dx, y + 1.5 * a * dx + b * dy)
            for a, b in ((-1, 0.0), (-1, 1.6), (0, 3.2), (1, 1.6), (1, 0.0))
        ]
        self._path("arrow", Stroke(tuple(head), closed=True, fill="none", width=THIN), {})
        box = Box.around(head)
        text = potential if label is None else label
        if not text:
            return box
        drop = fonts.cap_height(size) / 2
        anchor: Anchor = "end" if direction == "left" else "start"
        at = {
            "left": (x - 4.2, y + drop),
            "right": (x + 4.2, y + drop),
            "up": (x + 2.3, y - 2.3 + drop),
            "down": (x + 2.3, y + 2.3 + drop),
        }[direction]
        return Box.of((box, self.text(*at, text, size, anchor)))

    # texts and lines

    def text(
        self,
        x: float,
        y: float,
        text: str,
        size: float = TEXT,
        anchor: Anchor = "start",
        strong: bool = False,
        centred: bool = False,
        category: str = "text",
        see: Sequence[str] = (),
    ) -> Box:
        """A text with its baseline at ``y``, or, ``centred``, with its capitals centred on ``y``. Returns the box of
        its ink.

        ``see`` are the references in it to other sheets, such as ``4/B2``, in their order: in a PDF they are links.
        """
        text = clean(text) if self._dashed_names else _NAME_DASH.sub("", clean(text))
        if size < LEAST:
            raise InternalFault(f"{text!r} in size {size} mm cannot be read; {LEAST} mm is the least")
        baseline = y + fonts.cap_height(size) / 2 if centred else y
        box = fonts.text_box(text, size, x, baseline, anchor)
        if text:
            element = self._text_element(text, Spot(x, baseline, anchor), size, strong)
            element["class"] = category
            if see:
                element["data-see"] = " ".join(see)
            self._items.append(Item(category, box, text, element))
        return box

    def rect(
        self, box: Box, width: float = NORMAL, category: str = "outline", fill: Fill = "none", dash: str = ""
    ) -> None:
        """An upright rectangle; ``dash`` is a key of `DASHES`."""
        extra = {"stroke-dasharray": DASHES[dash]} if dash else {}
        element = self._make.rect(
            (number(box.x0), number(box.y0)),
            (number(box.width), number(box.height)),
            **self._ink(category, width, fill, extra),
        )
        self._items.append(Item(category, box, "", element))

    def place(self, box: Box) -> None:
        """The dash-dotted edge of a place; cables cross it."""
        self.rect(box, THIN, "place", dash="place")

    def line(self, points: Iterable[Point], width: float = THIN, category: str = "rule", dash: str = "") -> None:
        """A line that means no wire."""
        extra = {"stroke-dasharray": DASHES[dash]} if dash else {}
        self._path(category, Stroke(tuple(points), width=width), extra)

    def polygon(
        self, points: Iterable[Point], width: float = THIN, category: str = "rule", fill: Fill = "none"
    ) -> None:
        self._path(category, Stroke(tuple(points), closed=True, fill=fill, width=width), {})

    def circle(
        self, x: float, y: float, r: float, width: float = THIN, category: str = "rule", fill: Fill = "none"
    ) -> None:
        self._circle(category, x, y, r, fill, width, {})

    def spare(self, points: Sequence[Point]) -> None:
        """A core that is connected to nothing, dashed: it is no wire."""
        self.line(points, THIN, "spare", "spare")

    # symbols

    def symbol(self, symbol: Symbol, x: float, y: float) -> Box:
        """The strokes and letters of ``symbol`` with its origin at ``(x, y)``, in one group; returns its box. Pins
        are not drawn.
        """
        box = symbol.box.moved(x, y)
        category = "cable" if symbol.kind in ("cable", "screen", "twisted") else "symbol"
        group = self._make.g(class_=category)
        group["data-kind"] = symbol.kind
        group["data-box"] = " ".join(str(number(v)) for v in (box.x0, box.y0, box.x1, box.y1))
        for stroke in symbol.strokes:
            group.add(self._stroke_element(stroke, x, y, None))
        for disc in symbol.discs:
            group.add(self._disc_element(disc, x, y))
        for label in symbol.labels:
            group.add(self._label_element(label, x, y))
        self._items.append(Item(category, box, "", group))
        self._symbols.append(symbol)
        return box

    def device(
        self, symbol: Symbol, x: float, y: float, device: str, pins: Mapping[str, str], size: float = TEXT
    ) -> dict[str, Point]:
        """``symbol`` with its pins and their marks; returns where each pin of the symbol lies, by the symbol's key.

        ``pins`` gives for each key of ``symbol.pins`` the name of that pin at ``device``. Keys that are not in it are
        not drawn as pins.
        """
        unknown = sorted(set(pins) - set(symbol.pins))
        if unknown:
            raise InternalFault(
                f"the symbol {symbol.kind} has no pin {', '.join(unknown)}; it has {', '.join(symbol.pins)}"
            )
        self.symbol(symbol, x, y)
        written: set[tuple[float, float, str]] = set()
        for key, name in pins.items():
            dx, dy = symbol.pins[key]
            spot = symbol.marks[key]
            self.pin(x + dx, y + dy, f"{device}:{name}")
            if (spot.x, spot.y, name) not in written:
                self.text(x + spot.x, y + spot.y, name, size, spot.anchor)
            written.add((spot.x, spot.y, name))
        return {key: (x + dx, y + dy) for key, (dx, dy) in symbol.pins.items()}

    def note(
        self, symbol: Symbol, x: float, y: float, slot: str, text: str, size: float = TEXT, strong: bool = False
    ) -> Box:
        """A text at a slot (``name`` or ``note``) of a symbol that stands at ``(x, y)``."""
        spot = symbol.slots[slot]
        return self.text(x + spot.x, y + spot.y, text, size, spot.anchor, strong)

    # output

    def to_svg(self) -> bytes:
        """The sheet as an SVG file: the same bytes for the same calls."""
        size = number(self.width), number(self.height)
        drawing = svgwrite.Drawing(
            size=(f"{size[0]}mm", f"{size[1]}mm"), viewBox=f"0 0 {size[0]} {size[1]}", debug=False
        )
        if self.title:
            drawing.set_desc(title=self.title)
        drawing.add(drawing.rect((0, 0), size, fill="#fff", class_="background"))
        order = {category: i for i, category in enumerate(LAYERS)}
        for item in sorted(self._items, key=lambda i: order[i.category]):
            drawing.add(item.element)
        root = drawing.get_xml()
        ElementTree.indent(root, space="")
        body: bytes = ElementTree.tostring(root, encoding="utf-8", xml_declaration=True)
        return body + b"\n"

    # how each thing is written

    def _ink(self, category: str | None, width: float, fill: Fill, extra: Mapping[str, str]) -> dict[str, Any]:
        colours = {"none": "none", "white": "#fff", "black": "#000"}
        ink: dict[str, Any] = {"fill": colours[fill], "stroke": "#000", "stroke-width": number(width), **extra}
        if category is not None:
            ink["class"] = category
        return ink

    def _run(self, category: str, points: Sequence[Point], extra: Mapping[str, str]) -> None:
        rounded = [(number(x), number(y)) for x, y in points]
        for (x0, y0), (x1, y1) in itertools.pairwise(rounded):
            if (x0 == x1) == (y0 == y1):
                raise InternalFault(
                    f"a {category} runs from {x0},{y0} to {x1},{y1}, neither along a row nor along a column"
                )
        if len(rounded) < 2:
            raise InternalFault(f"a {category} needs two points")
        element = self._make.polyline(
            rounded, **self._ink(category, NORMAL, "none", {"stroke-linejoin": "round", **extra})
        )
        self._items.append(Item(category, Box.around(points), "", element))

    def _circle(
        self, category: str, x: float, y: float, r: float, fill: Fill, width: float, extra: Mapping[str, str]
    ) -> None:
        element = self._make.circle((number(x), number(y)), number(r), **self._ink(category, width, fill, extra))
        self._items.append(Item(category, Box(x - r, y - r, x + r, y + r), "", element))

    def _path(self, category: str, stroke: Stroke, extra: Mapping[str, str]) -> None:
        element = self._stroke_element(stroke, 0, 0, category)
        element.update(extra)
        self._items.append(Item(category, Box.around(stroke.points), "", element))

    def _stroke_element(self, stroke: Stroke, x: float, y: float, category: str | None) -> Any:
        points = [(number(x + px), number(y + py)) for px, py in stroke.points]
        extra = {"stroke-linejoin": "round"} | ({"stroke-dasharray": DASHES["thin"]} if stroke.dashed else {})
        ink = self._ink(category, stroke.width, stroke.fill, extra)
        if not stroke.curved:
            return self._make.polygon(points, **ink) if stroke.closed else self._make.polyline(points, **ink)
        commands: list[Any] = ["M", *points[0]]
        for i in range(1, len(points), 3):
            commands += ["C", *(v for p in points[i : i + 3] for v in p)]
        return self._make.path(commands, **ink)

    def _disc_element(self, disc: Disc, x: float, y: float) -> Any:
        return self._make.circle(
            (number(x + disc.x), number(y + disc.y)), number(disc.r), **self._ink(None, disc.width, disc.fill, {})
        )

    def _label_element(self, label: Label, x: float, y: float) -> Any:
        spot = Spot(x + label.spot.x, y + label.spot.y, label.spot.anchor)
        return self._text_element(clean(label.text), spot, label.size, strong=False)

    def _text_element(self, text: str, spot: Spot, size: float, strong: bool) -> Any:
        ink: dict[str, Any] = {
            "fill": "#000",
            "font-family": fonts.FAMILY,
            "font-size": number(size),
            "text-anchor": spot.anchor,
        }
        if strong:
            ink |= {"stroke": "#000", "stroke-width": STRONG}
        return self._make.text(text, insert=(number(spot.x), number(spot.y)), **ink)


__all__ = ["DASHES", "HEAVY", "LEAST", "NORMAL", "NOTE", "TEXT", "THIN", "TITLE", "Box", "Canvas", "Direction", "Item"]
