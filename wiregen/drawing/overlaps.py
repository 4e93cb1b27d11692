"""Whether a sheet can be read: no text on another or on a line, no wire through a symbol, nothing outside the frame.

Works on the SVG, with the font's own measures: a text takes the room of its ink, so a number may stand close above
its wire.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from typing import Generic, TypeVar

from wiregen.drawing.box import Box
from wiregen.drawing.picture import Body, Line, Picture, Point, Ring, Text, read_picture

TOUCH = 0.1  # what overlaps by less only touches, mm
INSIDE = 0.3  # how deep a wire must reach into a symbol to run through it, mm
CELL = 12.0
CIRCUIT = ("wire", "link", "spare")

Thing = TypeVar("Thing", Text, Line, Ring, Body)


def check(svg: bytes) -> tuple[str, ...]:
    """Every overlap on a sheet, one sentence each; nothing for a clean sheet.

    Raises xml.etree.ElementTree.ParseError for what is not XML.
    """
    picture = read_picture(svg)
    checks = (_texts_on_texts, _texts_on_strokes, _wires_through, _wires_on_lines, _pins_too_near, _bodies, _outside)
    return tuple(dict.fromkeys([*picture.complaints, *(c for one in checks for c in one(picture))]))


class _Cells(Generic[Thing]):
    """Things looked up by the cells that their boxes touch."""

    def __init__(self, things: Iterable[Thing]) -> None:
        self.cells: dict[tuple[int, int], list[Thing]] = defaultdict(list)
        for thing in things:
            for key in _keys(thing.box):
                self.cells[key].append(thing)

    def near(self, box: Box) -> Iterator[Thing]:
        found: dict[int, Thing] = {}
        for key in _keys(box):
            found.update((id(thing), thing) for thing in self.cells.get(key, ()))
        yield from found.values()


def _keys(box: Box) -> Iterator[tuple[int, int]]:
    for cx in range(int(box.x0 // CELL), int(box.x1 // CELL) + 1):
        for cy in range(int(box.y0 // CELL), int(box.y1 // CELL) + 1):
            yield cx, cy


def _runs_into(line: Line, box: Box) -> bool:
    """Whether the line, without its width, reaches into the box: the part of it inside the box is not empty."""
    start, end = 0.0, 1.0
    for a, b, low, high in ((line.a[0], line.b[0], box.x0, box.x1), (line.a[1], line.b[1], box.y0, box.y1)):
        if abs(b - a) < 1e-9:
            if not low < a < high:
                return False
            continue
        t, u = sorted(((low - a) / (b - a), (high - a) / (b - a)))
        start, end = max(start, t), min(end, u)
    return start < end


def _texts_on_texts(picture: Picture) -> Iterator[str]:
    cells = _Cells(picture.texts)
    order = {id(t): i for i, t in enumerate(picture.texts)}
    for text in picture.texts:
        for other in cells.near(text.box):
            if order[id(other)] > order[id(text)] and text.box.overlaps(other.box, TOUCH):
                yield f"the text {text.says!r} at {_at(text.box)} lies on the text {other.says!r}"


def _texts_on_strokes(picture: Picture) -> Iterator[str]:
    lines, rings = _Cells(picture.lines), _Cells(picture.rings)
    for text in picture.texts:
        for line in lines.near(text.box.grown(0.5)):
            if not (line.group and line.group == text.group) and _runs_into(line, text.box.grown(line.half - TOUCH)):
                yield f"the text {text.says!r} at {_at(text.box)} lies on a line of the {line.category}"
        for ring in rings.near(text.box):
            x = min(max(ring.at[0], text.box.x0), text.box.x1)
            y = min(max(ring.at[1], text.box.y0), text.box.y1)
            if not (ring.group and ring.group == text.group) and math.dist((x, y), ring.at) < ring.r - TOUCH:
                yield f"the text {text.says!r} at {_at(text.box)} lies on the {ring.category} {ring.name}".rstrip()


def _wires_through(picture: Picture) -> Iterator[str]:
    bodies = _Cells(picture.bodies)
    for line in picture.lines:
        if line.category in CIRCUIT:
            for body in bodies.near(line.box):
                if _runs_into(line, body.box.grown(-INSIDE)):
                    yield f"the {line.category} {_say(line)} runs through the {body.kind} at {_at(body.box)}"


def _wires_on_lines(picture: Picture) -> Iterator[str]:
    """A wire crosses outlines of devices only at a pin, other drawn lines never, and runs along none."""
    pins = _Cells(r for r in picture.rings if r.category == "pin")
    lines = _Cells(x for x in picture.lines if x.category in ("outline", "rule", "frame", "place") and not x.group)
    for wire in picture.lines:
        if wire.category not in CIRCUIT:
            continue
        for line in lines.near(wire.box):
            p = _meeting(wire, line)
            if p is None:
                if _along(wire, line):
                    yield f"the {wire.category} {_say(wire)} runs along a line of the {line.category}"
            elif line.category != "place" and not any(
                math.dist(p, r.at) <= r.r for r in pins.near(Box(p[0], p[1], p[0], p[1]).grown(1.0))
            ):
                yield f"the {wire.category} {_say(wire)} crosses a line of the {line.category} at {p[0]:g},{p[1]:g}"


def _meeting(wire: Line, line: Line) -> Point | None:
    """Where a horizontal or vertical run meets a vertical or horizontal line."""
    flat_wire, flat_line = wire.a[1] == wire.b[1], line.a[1] == line.b[1]
    if flat_wire == flat_line:
        return None
    flat, upright = (wire, line) if flat_wire else (line, wire)
    p = upright.a[0], flat.a[1]
    within = min(flat.a[0], flat.b[0]) <= p[0] <= max(flat.a[0], flat.b[0])
    within = within and min(upright.a[1], upright.b[1]) <= p[1] <= max(upright.a[1], upright.b[1])
    return p if within else None


def _along(wire: Line, line: Line) -> bool:
    across = min(wire.box.x1, line.box.x1) - max(wire.box.x0, line.box.x0)
    down = min(wire.box.y1, line.box.y1) - max(wire.box.y0, line.box.y0)
    return min(across, down) > 0 and max(across, down) > 1.0


def _pins_too_near(picture: Picture) -> Iterator[str]:
    """A wire that is not joined to a pin stays clear of its circle, and so does every other pin."""
    wires = _Cells(x for x in picture.lines if x.category == "wire")
    pins = [r for r in picture.rings if r.category == "pin"]
    for pin in pins:
        for wire in wires.near(pin.box):
            x = min(max(pin.at[0], min(wire.a[0], wire.b[0])), max(wire.a[0], wire.b[0]))
            y = min(max(pin.at[1], min(wire.a[1], wire.b[1])), max(wire.a[1], wire.b[1]))
            if 0.01 < math.dist((x, y), pin.at) < pin.r + wire.half:
                yield f"the wire {_say(wire)} touches the circle of the pin {pin.name}"
    cells = _Cells(pins)
    for pin in pins:
        for other in cells.near(pin.box):
            if pin.at < other.at and math.dist(pin.at, other.at) < pin.r + other.r:
                yield f"the circles of the pins {pin.name} and {other.name} overlap"


def _bodies(picture: Picture) -> Iterator[str]:
    bodies = _Cells(picture.bodies)
    order = {id(b): i for i, b in enumerate(picture.bodies)}
    for a in picture.bodies:
        for b in bodies.near(a.box):
            if order[id(b)] > order[id(a)] and a.box.overlaps(b.box, TOUCH):
                yield f"the {a.kind} at {_at(a.box)} and the {b.kind} at {_at(b.box)} overlap"
    for edge in picture.lines:
        if edge.category in ("outline", "place", "frame", "rule") and not edge.group:
            for body in bodies.near(edge.box):
                if _runs_into(edge, body.box.grown(-INSIDE)):
                    yield f"the {body.kind} at {_at(body.box)} lies across a line of the {edge.category}"


def _outside(picture: Picture) -> Iterator[str]:
    room = picture.frame or picture.paper
    for text in picture.texts:
        if not (picture.paper if text.category == "frame" else room).holds(text.box):
            yield f"the text {text.says!r} at {_at(text.box)} lies outside the frame"
    for line in picture.lines:
        if line.category != "frame" and not room.holds(line.box):
            yield f"the {line.category} {_say(line)} lies outside the frame"
    for ring in picture.rings:
        if not room.holds(ring.box):
            yield f"the {ring.category} {ring.name} lies outside the frame"


def _at(box: Box) -> str:
    x, y = box.centre
    return f"{x:.1f},{y:.1f}"


def _say(line: Line) -> str:
    return f"{line.a[0]:g},{line.a[1]:g} to {line.b[0]:g},{line.b[1]:g}"
