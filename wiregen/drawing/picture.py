"""One SVG sheet as the things that take room on it: texts, pieces of line, rings, and the bodies of symbols."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from xml.etree import ElementTree

from wiregen.drawing import fonts
from wiregen.drawing.box import Box

Point = tuple[float, float]

SVG = "{http://www.w3.org/2000/svg}"
SMALLEST = 2.74  # the least size of a text, mm: capitals of 2.0 mm
GROUPS = ("symbol", "cable")


@dataclass(frozen=True, slots=True)
class Text:
    says: str
    box: Box
    group: int  # the symbol that it is part of; 0 for none
    category: str


@dataclass(frozen=True, slots=True)
class Line:
    """One straight piece of any stroke."""

    a: Point
    b: Point
    half: float  # half its width
    category: str
    group: int
    box: Box


@dataclass(frozen=True, slots=True)
class Ring:
    at: Point
    r: float
    category: str
    group: int
    name: str
    box: Box


@dataclass(frozen=True, slots=True)
class Body:
    """The room of a symbol, or of the head of a tag."""

    kind: str
    box: Box


@dataclass(slots=True)
class Picture:
    """Everything on a sheet that takes room."""

    paper: Box
    texts: list[Text] = field(default_factory=list)
    lines: list[Line] = field(default_factory=list)
    rings: list[Ring] = field(default_factory=list)
    bodies: list[Body] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)
    frame: Box | None = None


def read_picture(svg: bytes) -> Picture:
    """The picture of a sheet as `Canvas` writes it; what it never writes is a complaint.

    Raises xml.etree.ElementTree.ParseError for what is not XML.
    """
    root = ElementTree.fromstring(svg)
    view = [float(v) for v in root.get("viewBox", "0 0 0 0").split()]
    picture = Picture(Box(view[0], view[1], view[0] + view[2], view[1] + view[3]))
    groups = itertools.count(1)
    for element in root:
        name, category = element.tag.removeprefix(SVG), element.get("class", "")
        if name == "g" and category in GROUPS:
            number = next(groups)
            if category == "symbol":
                x0, y0, x1, y1 = map(float, element.get("data-box", "").split())
                picture.bodies.append(Body(element.get("data-kind", "symbol"), Box(x0, y0, x1, y1)))
            for child in element:
                _take(child, category, number, picture)
        elif category != "background":
            _take(element, category, 0, picture)
    return picture


def _take(element: ElementTree.Element, category: str, group: int, picture: Picture) -> None:
    name = element.tag.removeprefix(SVG)
    if name in ("defs", "title", "desc", "metadata"):
        return
    if (
        "transform" in element.attrib
        or name not in _READERS
        or (name == "path" and not _CURVE.fullmatch(element.get("d", "")))
    ):
        picture.complaints.append(f"a <{name}> of class {category!r} cannot be judged")
        return
    if name == "text":
        _take_text(element, category, group, picture)
    elif name == "circle":
        x, y, r = _n(element, "cx"), _n(element, "cy"), _n(element, "r") + _n(element, "stroke-width") / 2
        name = element.get("data-pin") or element.get("data-potential") or ""
        picture.rings.append(Ring((x, y), r, category, group, name, Box(x - r, y - r, x + r, y + r)))
    else:
        half = _n(element, "stroke-width") / 2
        for run in _READERS[name](element):
            picture.lines += [_line(a, b, half, category, group) for a, b in itertools.pairwise(run)]
            if category == "arrow":
                picture.bodies.append(Body("head of a tag", Box.around(run)))
            if category == "frame" and name == "rect" and element.get("stroke-width") == "0.7":
                picture.frame = Box.around(run)


def _line(a: Point, b: Point, half: float, category: str, group: int) -> Line:
    x0, x1 = (a[0], b[0]) if a[0] < b[0] else (b[0], a[0])
    y0, y1 = (a[1], b[1]) if a[1] < b[1] else (b[1], a[1])
    return Line(a, b, half, category, group, Box(x0 - half, y0 - half, x1 + half, y1 + half))


def _take_text(element: ElementTree.Element, category: str, group: int, picture: Picture) -> None:
    says, size = "".join(element.itertext()).strip(), _n(element, "font-size")
    if not says:
        return
    box = fonts.text_box(says, size, _n(element, "x"), _n(element, "y"), element.get("text-anchor", "start"))
    picture.texts.append(Text(says, box.grown(_n(element, "stroke-width") / 2), group, category))
    if size < SMALLEST:
        picture.complaints.append(f"the text {says!r} is only {size:g} mm; {SMALLEST:g} mm is the least")


def _n(element: ElementTree.Element, key: str) -> float:
    return float(element.get(key, "0"))


def _of_rect(element: ElementTree.Element) -> Iterator[list[Point]]:
    x, y, w, h = (_n(element, key) for key in ("x", "y", "width", "height"))
    yield [(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)]


def _of_points(element: ElementTree.Element) -> Iterator[list[Point]]:
    numbers = [float(n) for n in element.get("points", "").replace(",", " ").split()]
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    yield [*points, points[0]] if element.tag == SVG + "polygon" else points


def _of_line(element: ElementTree.Element) -> Iterator[list[Point]]:
    yield [(_n(element, "x1"), _n(element, "y1")), (_n(element, "x2"), _n(element, "y2"))]


def _of_path(element: ElementTree.Element) -> Iterator[list[Point]]:
    """A path of one move and cubic pieces, as the sheets write curves; the pieces as short chords."""
    words = element.get("d", "").split()
    numbers = [float(w) for w in words if not w.isalpha()]
    points = list(zip(numbers[::2], numbers[1::2], strict=True))
    run = points[:1]
    for i in range(0, len(points) - 1, 3):
        (ax, ay), (bx, by), (cx, cy), (dx, dy) = points[i : i + 4]
        for t in (k / 8 for k in range(1, 9)):
            p, q, r, s = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            run.append((p * ax + q * bx + r * cx + s * dx, p * ay + q * by + r * cy + s * dy))
    yield run


_CURVE = re.compile(r"M( [-.\d]+){2}( C( [-.\d]+){6})+")
_READERS = {
    "text": _of_points,
    "circle": _of_points,
    "rect": _of_rect,
    "polyline": _of_points,
    "polygon": _of_points,
    "line": _of_line,
    "path": _of_path,
}
