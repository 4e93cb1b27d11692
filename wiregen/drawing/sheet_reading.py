"""One SVG sheet read as a stranger would read it: wires, pins, junctions, tags and texts, and what is wrong with how
they are written.

Only the standard library is used, and nothing of what draws the sheets.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from xml.etree import ElementTree

Point = tuple[float, float]

SVG = "{http://www.w3.org/2000/svg}"
XLINK = "{http://www.w3.org/1999/xlink}"
_SHAPES = {"wire": "polyline", "link": "polyline", "pin": "circle", "junction": "circle", "tag": "circle"}
_DECIMAL = re.compile(r"-?(?:\d+(?:\.\d*)?|\.\d+)")
_INHERITED = ("stroke", "fill", "stroke-width", "stroke-opacity", "fill-opacity", "visibility")
_REMOTE = ("defs", "symbol", "clipPath", "mask", "pattern", "marker", "use", "switch", "foreignObject")
_FORBIDDEN = ("style", "script", "animate", "animateTransform", "animateMotion", "set", "foreignObject")
_BLANK = ("none", "transparent", "#fff", "#ffffff", "white")
FAINT = 0.5  # below this opacity nothing counts as visible


@dataclass(frozen=True, slots=True)
class Wire:
    """The corners of one wire, ends included, mm; ``order`` is its place in the file."""

    points: tuple[Point, ...]
    order: int


@dataclass(frozen=True, slots=True)
class Dot:
    """A pin, junction or tag; ``name`` is the pin or the potential, empty for a junction."""

    kind: str
    at: Point
    name: str
    order: int


@dataclass(slots=True)
class Sheet:
    """What one sheet shows, and ``complaints`` about how it is written."""

    wires: list[Wire] = field(default_factory=list)
    dots: list[Dot] = field(default_factory=list)
    texts: list[tuple[Point, str]] = field(default_factory=list)
    covers: list[tuple[float, float, float, float, int]] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Node:
    """An element with what its ancestors do to it."""

    element: ElementTree.Element
    name: str
    order: int
    look: Mapping[str, str]
    opacity: float
    objections: tuple[str, ...]
    ids: tuple[str, ...]

    @property
    def classes(self) -> list[str]:
        return [c for c in self.element.get("class", "").split() if c in _SHAPES]


def read_sheet(svg: bytes) -> Sheet:
    """The sheet; an SVG that cannot be read at all gives an empty one with a complaint."""
    sheet = Sheet()
    if b"<!DOCTYPE" in svg or b"<!ENTITY" in svg:
        sheet.complaints.append("the file declares a document type, which may hide anything")
        return sheet
    try:
        root = ElementTree.fromstring(svg)
    except ElementTree.ParseError as e:
        sheet.complaints.append(f"the file is not well-formed XML: {e}")
        return sheet
    _check_root(root, sheet)
    drawn_ids: set[str] = set()
    used: list[str] = []
    for node in _walk(root):
        if node.name in _FORBIDDEN:
            sheet.complaints.append(f"a <{node.name}> element can change what is shown")
        if node.name == "use":
            used.append((node.element.get("href") or node.element.get(XLINK + "href") or "").removeprefix("#"))
        if node.classes:
            drawn_ids.update(node.ids)
            _take(node, sheet)
        elif node.name == "text" and not node.objections and _visible(node):
            _take_text(node, sheet)
        elif node.name in ("rect", "image") and not node.objections:
            _take_cover(node, sheet)
    sheet.complaints += [
        f"<use> repeats {name!r}, which holds part of the circuit" for name in used if name in drawn_ids
    ]
    _check_covers(sheet)
    return sheet


def _walk(root: ElementTree.Element) -> Iterator[_Node]:
    """All elements in the order in which they are painted."""
    order = 0
    stack: list[tuple[ElementTree.Element, _Node | None]] = [(root, None)]
    while stack:
        element, parent = stack.pop()
        if not isinstance(element.tag, str):
            continue
        node = _node(element, parent, order)
        order += 1
        yield node
        stack.extend((child, node) for child in reversed(element))


def _node(element: ElementTree.Element, parent: _Node | None, order: int) -> _Node:
    name = element.tag.removeprefix(SVG)
    objections = list(parent.objections) if parent else []
    for attribute in ("transform", "style", "clip-path", "mask", "filter"):
        if attribute in element.attrib:
            objections.append(f"{attribute} on <{name}>")
    if element.get("display") == "none":
        objections.append(f"display none on <{name}>")
    if name in _REMOTE or (name == "svg" and parent):
        objections.append(f"inside <{name}>")
    look = dict(parent.look) if parent else {}
    look.update({key: element.attrib[key] for key in _INHERITED if element.get(key, "inherit") != "inherit"})
    opacity = (parent.opacity if parent else 1.0) * (_number(element.get("opacity", "1")) or 0.0)
    ids = (*(parent.ids if parent else ()), *((element.attrib["id"],) if "id" in element.attrib else ()))
    return _Node(element, name, order, look, opacity, tuple(objections), ids)


def _number(text: str | None) -> float | None:
    return float(text) if text is not None and _DECIMAL.fullmatch(text) else None


def _check_root(root: ElementTree.Element, sheet: Sheet) -> None:
    view = root.get("viewBox", "").split()
    sizes = [_number(v) for v in view]
    if root.tag != SVG + "svg" or len(view) != 4 or view[:2] != ["0", "0"] or not all(sizes[2:]):
        sheet.complaints.append(
            f'the root should be <svg viewBox="0 0 W H">, not {root.tag} with viewBox {" ".join(view)!r}'
        )
        return
    for key, want in zip(("width", "height"), sizes[2:], strict=True):
        given = root.get(key, "")
        if not given.endswith("mm") or _number(given.removesuffix("mm")) != want:
            sheet.complaints.append(f"the root's {key} is {given!r}; 1 unit should be 1 mm, so it should be {want:g}mm")


def _visible(node: _Node) -> bool:
    """Whether stroke or fill leave a mark on white paper."""
    look = node.look
    if node.opacity < FAINT or look.get("visibility", "visible") != "visible":
        return False
    width = _number(look.get("stroke-width", "1"))
    stroke = (
        look.get("stroke", "none").lower() not in _BLANK and bool(width) and _strength(look, "stroke-opacity") >= FAINT
    )
    fill = look.get("fill", "#000").lower() not in _BLANK and _strength(look, "fill-opacity") >= FAINT
    return stroke if node.name == "polyline" else stroke or fill


def _strength(look: Mapping[str, str], key: str) -> float:
    return _number(look.get(key, "1")) or 0.0


def _take(node: _Node, sheet: Sheet) -> None:
    """One element of the circuit, or a complaint about it."""
    kind, said = (
        node.classes[0],
        " ".join(f"{k}={v!r}" for k, v in sorted(node.element.attrib.items()) if k in _TELLING),
    )
    what = f"the {kind} with {said}"
    if len(node.classes) > 1 or node.name != _SHAPES[kind]:
        sheet.complaints.append(f"{what} should be one <{_SHAPES[kind]}> of one class, not <{node.name}>")
        return
    sheet.complaints += [f"{what} is not drawn where it says: {o}" for o in node.objections]
    if not _visible(node):
        sheet.complaints.append(f"{what} cannot be seen")
    if _SHAPES[kind] == "polyline":
        _take_run(node, kind, what, sheet)
    else:
        _take_dot(node, kind, what, sheet)


_TELLING = ("points", "cx", "cy", "data-pin", "data-potential")


def _take_run(node: _Node, kind: str, what: str, sheet: Sheet) -> None:
    numbers = [_number(n) for n in node.element.get("points", "").replace(",", " ").split()]
    plain = [n for n in numbers if n is not None]
    if len(plain) < len(numbers) or len(plain) % 2 or len(plain) < 4:
        sheet.complaints.append(f"{what} should have two points or more in plain decimals")
        return
    if node.look.get("fill", "#000") != "none":
        sheet.complaints.append(f"{what} is filled")
    points = tuple(zip(plain[::2], plain[1::2], strict=True))
    if any((a[0] == b[0]) == (a[1] == b[1]) for a, b in itertools.pairwise(points)):
        sheet.complaints.append(f"{what} has a run that is neither horizontal nor vertical, or no run at all")
        return
    if kind == "wire":
        sheet.wires.append(Wire(points, node.order))


def _take_dot(node: _Node, kind: str, what: str, sheet: Sheet) -> None:
    x, y, r = (_number(node.element.get(key)) for key in ("cx", "cy", "r"))
    if x is None or y is None or r is None:
        sheet.complaints.append(f"{what} should have cx, cy and r in plain decimals")
        return
    if r <= 0:
        sheet.complaints.append(f"{what} cannot be seen")
    name = node.element.get({"pin": "data-pin", "tag": "data-potential"}.get(kind, ""), "")
    device, _, pin = name.partition(":")
    if (kind == "pin" and not (device.strip() and pin.strip())) or (kind == "tag" and not name.strip()):
        sheet.complaints.append(f"{what} has no name")
        return
    sheet.dots.append(Dot(kind, (x, y), name, node.order))


def _take_text(node: _Node, sheet: Sheet) -> None:
    x, y = _number(node.element.get("x")), _number(node.element.get("y"))
    if x is not None and y is not None:
        sheet.texts.append(((x, y), " ".join("".join(node.element.itertext()).split())))


def _take_cover(node: _Node, sheet: Sheet) -> None:
    """A filled rectangle or a picture, which hides what was painted before it."""
    if node.name == "rect" and (node.look.get("fill", "#000") in ("none", "transparent") or node.opacity == 0):
        return
    x, y, w, h = (_number(node.element.get(key, "0")) for key in ("x", "y", "width", "height"))
    if x is not None and y is not None and w is not None and h is not None:
        sheet.covers.append((x, y, x + w, y + h, node.order))


def _check_covers(sheet: Sheet) -> None:
    edge = 0.2  # an outline may run along what it frames
    for x0, y0, x1, y1, order in sheet.covers:
        for dot in sheet.dots:
            if dot.order < order and x0 + edge < dot.at[0] < x1 - edge and y0 + edge < dot.at[1] < y1 - edge:
                sheet.complaints.append(f"the {dot.kind} {dot.name} at {dot.at} lies under a filled rectangle")
        for wire in sheet.wires:
            if wire.order < order and any(
                min(a[0], b[0]) < x1 - edge
                and max(a[0], b[0]) > x0 + edge
                and min(a[1], b[1]) < y1 - edge
                and max(a[1], b[1]) > y0 + edge
                for a, b in itertools.pairwise(wire.points)
            ):
                sheet.complaints.append(
                    f"the wire from {wire.points[0]} to {wire.points[-1]} runs under a filled rectangle"
                )
