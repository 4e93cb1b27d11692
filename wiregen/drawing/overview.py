"""The overview: places as boxes with what stands in them, and the cables between them as straight lines.

The places form a tree from the one that the cables come from; what is no branch of it is told in words. A tree that is
too high or too deep for one sheet goes on on further ones, each with its own root at the left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from wiregen.drawing.box import Box
from wiregen.drawing.cable_text import make_up
from wiregen.drawing.canvas import LEAST, NOTE, TEXT, THIN, Canvas
from wiregen.drawing.paragraphs import one_line, paragraph
from wiregen.drawing.references import References
from wiregen.drawing.symbols import HEAVY
from wiregen.terms import Pin
from wiregen.wiring.model import Cable

LEVELS = 3  # places from left to right on one sheet
CABLE = 10.5  # from line to line, mm
MOST_LINES = 10  # cables between two places that are drawn one by one
MOST_TOLD = 14  # controllers, and other devices, of a place that are told with what they are
GAP_SHARE = 0.42  # of a level's width, for the cables
BETWEEN = 7.0  # from box to box
PAD = 3.0
STEP = 1.3  # line to line in a box, in font sizes


@dataclass(frozen=True, slots=True)
class Standing:
    """What stands in one place: controllers with what they are and a pin to refer to, the other devices with what they
    are, the strips.
    """

    name: str
    words: str
    controllers: tuple[tuple[str, str, Pin | None], ...]
    devices: tuple[tuple[str, str], ...]
    strips: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Node:
    """A place in the tree, with the cables that lead to it from its parent."""

    place: Standing
    cables: tuple[Cable, ...]
    further: tuple[str, ...]  # cables that are no branch of the tree, in words
    children: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class OverviewSheet:
    title: str
    roots: tuple[Node, ...]  # each with the children that this sheet shows


def overview_sheets(places: Sequence[Standing], cables: Sequence[Cable], main: str, area: Box) -> list[OverviewSheet]:
    """As many sheets as the places need; ``main`` is the place that the cables come from."""
    trees = _trees(places, cables, main)
    layout = _Layout(area)
    sheets: list[list[Node]] = []
    used = 0.0
    for root in (part for tree in trees for part in layout.parts(tree)):
        tall = layout.height(root)
        if not sheets or used + tall > area.height:
            sheets.append([])
            used = 0.0
        sheets[-1].append(root)
        used += tall + BETWEEN
    several = len(sheets) > 1
    return [
        OverviewSheet("Overview" + (f", {i} of {len(sheets)}" if several else ""), tuple(roots))
        for i, roots in enumerate(sheets, 1)
    ]


def draw(canvas: Canvas, sheet: OverviewSheet, area: Box, references: References) -> None:
    """Draw one sheet of the overview."""
    layout, y = _Layout(area), area.y0
    for root in sheet.roots:
        _draw_node(canvas, root, layout, 0, y, references)
        y += layout.height(root) + BETWEEN


def _trees(places: Sequence[Standing], cables: Sequence[Cable], main: str) -> list[Node]:
    """Places joined by cables as trees, the first from ``main``; each place in the order of the scheme."""
    order = {place.name: place for place in places}
    joined: dict[str, dict[str, list[Cable]]] = {name: {} for name in order}
    for cable in cables:
        if cable.a != cable.b:
            joined[cable.a].setdefault(cable.b, []).append(cable)
            joined[cable.b].setdefault(cable.a, []).append(cable)
    parents: dict[str, str | None] = {}
    roots: list[str] = []
    for start in (main, *order):
        if start not in order or start in parents:
            continue
        roots.append(start)
        parents[start] = None
        queue = [start]
        for name in queue:
            for other in sorted(joined[name], key=list(order).index):
                if other not in parents:
                    parents[other] = name
                    queue.append(other)

    def node(name: str) -> Node:
        parent = parents[name]
        further = tuple(
            f"cable {cable.name} to {other}"
            for other, between in joined[name].items()
            for cable in between
            if parent != other and parents[other] != name
        )
        inside = [cable.name for cable in cables if cable.a == cable.b == name]
        within = (f"cables within: {', '.join(inside)}",) if inside else ()
        own = tuple(joined[name][parent]) if parent is not None else ()
        return Node(order[name], own, (*further, *within), tuple(node(n) for n in parents if parents[n] == name))

    return [node(name) for name in roots]


class _Layout:
    """Widths and heights on one size of paper."""

    def __init__(self, area: Box) -> None:
        self.area = area
        level = area.width / (LEVELS - GAP_SHARE)
        self.gap = level * GAP_SHARE
        self.box = level - self.gap

    def x(self, level: int) -> float:
        return self.area.x0 + level * (self.box + self.gap)

    def parts(self, root: Node) -> Iterator[Node]:
        """A tree as trees that each fit a sheet: deep and high ones are cut, and the cut place is a root again."""
        shallow, cut = self._shallow(root, 1)
        taken: list[Node] = []
        for child in shallow.children:
            if self.height(child) > self.area.height:
                cut.append(child)
                child = Node(child.place, child.cables, ("see further on", *child.further), ())
            if taken and sum(self.height(c) + BETWEEN for c in (*taken, child)) > self.area.height:
                yield Node(root.place, root.cables, root.further, tuple(taken))
                taken = []
            taken.append(child)
        yield Node(root.place, root.cables, root.further, tuple(taken))
        for one in cut:
            yield from self.parts(Node(one.place, (), one.further, one.children))

    def _shallow(self, node: Node, level: int) -> tuple[Node, list[Node]]:
        """The tree down to the last level of a sheet, and what is cut off."""
        if level == LEVELS and node.children:
            return Node(node.place, node.cables, ("goes on on a sheet of its own", *node.further), ()), [node]
        found = [self._shallow(child, level + 1) for child in node.children]
        own = Node(node.place, node.cables, node.further, tuple(child for child, _ in found))
        return own, [n for _, cut in found for n in cut]

    def height(self, node: Node) -> float:
        below = sum(self.height(c) for c in node.children) + BETWEEN * max(0, len(node.children) - 1)
        return max(self.own_height(node), _lines(node) * CABLE + 2.0, below)

    def own_height(self, node: Node) -> float:
        return 11.0 + sum(size * STEP for _, size, _ in self.texts(node)) + PAD

    def texts(self, node: Node) -> list[tuple[str, float, Pin | str | None]]:
        """The lines in a box, their size, and what each refers to: a pin of a controller, or the name of a strip."""
        place, width = node.place, self.box - 2 * PAD
        found: list[tuple[str, float, Pin | str | None]] = []
        if len(place.controllers) <= MOST_TOLD:
            found += [(*one_line(f"{n}  {w}", width - 16.0), pin) for n, w, pin in place.controllers]
        else:
            found += _wrapped(", ".join(n for n, _, _ in place.controllers), width, TEXT)
        found += [(f"strip {strip}", TEXT, strip) for strip in place.strips]
        if len(place.devices) <= MOST_TOLD:
            found += [(*one_line(f"{n}  {w}", width, NOTE), None) for n, w in place.devices]
        else:
            found += _wrapped(", ".join(n for n, _ in place.devices), width, NOTE)
        for text in node.further:
            found += _wrapped(text, width, NOTE)
        return found


def _wrapped(text: str, width: float, size: float) -> list[tuple[str, float, Pin | str | None]]:
    return [(line, size, None) for line in paragraph((text,), width, 99, (size,)).lines]


def _lines(node: Node) -> int:
    return len(node.cables) if len(node.cables) <= MOST_LINES else 1


def _draw_node(canvas: Canvas, node: Node, layout: _Layout, level: int, y: float, references: References) -> None:
    x, tall = layout.x(level), layout.height(node)
    box = Box(x, y, x + layout.box, y + tall)
    canvas.rect(box, HEAVY, "rule")
    title, size = one_line(f"{node.place.name}  {node.place.words}".rstrip(), layout.box - 2 * PAD, TEXT * 1.2)
    canvas.text(x + PAD, y + 6.5, title, size, strong=True)
    canvas.line(((x, y + 9.0), (x + layout.box, y + 9.0)), THIN)
    at = y + 10.0
    for text, size, target in layout.texts(node):
        at += size * STEP
        canvas.text(x + PAD, at, text, size)
        if isinstance(target, Pin):
            _refer(canvas, box.x1 - PAD, at, references, pin=target)
        elif target is not None:
            _refer(canvas, box.x1 - PAD, at, references, strip=target)
    top = y
    for child in node.children:
        _draw_node(canvas, child, layout, level + 1, top, references)
        _draw_cables(canvas, child, Box(box.x1, top, layout.x(level + 1), top + layout.height(child)), references)
        top += layout.height(child) + BETWEEN


def _refer(
    canvas: Canvas, x: float, y: float, references: References, pin: Pin | None = None, strip: str = "", cable: str = ""
) -> None:
    """Where a controller is drawn, or a strip or a cable stands in its table."""

    def says() -> str:
        if pin is not None:
            return references.of_pin(pin)
        return references.place("strip", strip) if strip else references.place("cable", cable)

    references.note(canvas, x, y, says, 16.0, "end")


def _draw_cables(canvas: Canvas, node: Node, gap: Box, references: References) -> None:
    """The cables to one place as lines across the gap, each with its name above and its make-up below."""
    cables = node.cables
    if len(cables) > MOST_LINES:
        rows = [(f"{len(cables)} cables", f"{cables[0].name} to {cables[-1].name}", cables[0].name)]
    else:
        rows = [(c.name, _make(c), c.name) for c in cables]
    first = gap.y0 + max(6.5, (min(gap.height, 24.0 + CABLE * (len(rows) - 1)) - CABLE * (len(rows) - 1)) / 2)
    for index, (name, make, own) in enumerate(rows):
        y = first + index * CABLE
        canvas.line(((gap.x0, y), (gap.x1, y)), HEAVY)
        canvas.text(gap.x0 + 2.0, y - 1.2, *one_line(name, gap.width - 20.0), strong=True)
        _refer(canvas, gap.x1 - 2.0, y - 1.2, references, cable=own)
        canvas.text(gap.x0 + 2.0, y + 3.2, *one_line(make, gap.width - 4.0, LEAST))


def _make(cable: Cable) -> str:
    parts = [cable.category.replace("_", " "), make_up(cable), "screened" if cable.screened else ""]
    parts += [f"{cable.length_m:g} m"] if cable.length_m is not None else []
    return ", ".join(p for p in parts if p)
