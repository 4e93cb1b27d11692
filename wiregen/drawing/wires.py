"""The wires of one sheet, collected by potential and drawn when the sheet is complete.

Where three or more arms of one potential meet a junction is set, and a part that does not reach all pins of its
potential is given a tag, so that what is drawn always says what is joined.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wiregen.drawing import fonts
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LEAST, NOTE, Canvas, Direction
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.symbols import Point
from wiregen.terms import Pin

SAME = 0.005
_SOLID = ("text", "symbol", "arrow", "pin", "junction", "link", "spare", "cable")


@dataclass(frozen=True, slots=True)
class _Piece:
    """A straight piece of wire, its ends in order."""

    a: Point
    b: Point

    @property
    def flat(self) -> bool:
        return self.a[1] == self.b[1]

    def holds(self, p: Point) -> bool:
        (x0, y0), (x1, y1) = self.a, self.b
        return x0 - SAME <= p[0] <= x1 + SAME and y0 - SAME <= p[1] <= y1 + SAME

    def arms_at(self, p: Point) -> int:
        return (1 if p in (self.a, self.b) else 2) if self.holds(p) else 0


class Wires:
    """Straight pieces of wire by the name of their potential."""

    def __init__(self, canvas: Canvas, circuit: Circuit) -> None:
        self._canvas, self._circuit = canvas, circuit
        self._runs: dict[str, list[_Piece]] = {}
        self._pins: dict[str, list[tuple[Point, Pin]]] = {}
        self._tags: dict[str, list[Point]] = {}
        self._boxes: list[Box] = []  # of every piece that is drawn

    def add(self, pin: Pin, *points: Point) -> None:
        """A wire through ``points`` at the potential of ``pin``; nothing where it has none."""
        potential = self._circuit.potential(pin)
        if potential is None:
            return
        pieces = self._runs.setdefault(potential.name, [])
        rounded = [(round(x, 3), round(y, 3)) for x, y in points]
        pieces += [_Piece(min(a, b), max(a, b)) for a, b in itertools.pairwise(rounded) if a != b]

    def pin(self, x: float, y: float, pin: Pin) -> None:
        """A pin, drawn at once."""
        self._canvas.pin(x, y, str(pin))
        potential = self._circuit.potential(pin)
        if potential is not None:
            self._pins.setdefault(potential.name, []).append(((round(x, 3), round(y, 3)), pin))

    def tag(self, x: float, y: float, pin: Pin, direction: Direction) -> None:
        """The head of a tag, drawn at once without its text."""
        potential = self._circuit.potential(pin)
        assert potential is not None  # the callers ask first
        self._canvas.tag(x, y, potential.name, direction, "")
        self._tags.setdefault(potential.name, []).append((round(x, 3), round(y, 3)))

    def draw(self) -> None:
        """Draw all wires with their junctions, and the tags that are still missing."""
        merged = {name: list(_merged(self._runs.get(name, []))) for name in sorted({*self._runs, *self._pins})}
        for name, pieces in merged.items():
            self._draw(name, pieces)
            self._boxes += [Box(*piece.a, *piece.b) for piece in pieces]
        for name, pieces in merged.items():
            self._complete(name, pieces)

    def _draw(self, name: str, pieces: list[_Piece]) -> None:
        dots = {p for p, _ in self._pins.get(name, [])} | set(self._tags.get(name, []))
        ends = sorted({p for piece in pieces for p in (piece.a, piece.b)})
        arms = {p: sum(piece.arms_at(p) for piece in pieces) for p in ends}
        for p in ends:
            if arms[p] > 2 and p not in dots:
                self._canvas.junction(*p)
        for path in _paths(pieces, {p for p in ends if arms[p] == 2 and p not in dots}):
            self._canvas.wire(path)

    def _complete(self, name: str, pieces: list[_Piece]) -> None:
        """A tag for every part of a potential that has none and lacks some of its pins."""
        pins, tags = self._pins.get(name, []), self._tags.get(name, [])
        for part, held in _islands(_parts(pieces, pins)):
            whole = self._circuit.potential(held[0][1]) if held else None
            if whole is None or set(whole.pins) == {pin for _, pin in held}:
                continue
            if not any(piece.holds(t) for piece in part for t in tags) and not any(
                t == p for p, _ in held for t in tags
            ):
                self._tag_somewhere(name, self._in_order(part, held), held[0][0])

    def _in_order(self, part: list[_Piece], held: list[tuple[Point, Pin]]) -> list[_Piece]:
        """The pieces of a part, those at a controller's terminal first, then the longest."""
        ends = [p for p, pin in held if self._circuit.is_controller(pin)]
        return sorted(part, key=lambda q: (not any(q.holds(p) for p in ends), -_length(q)))

    def _tag_somewhere(self, name: str, part: list[_Piece], pin: Point) -> None:
        """A tag with its text at the first free spot of a part; without its text where there is none."""
        solid = (*self._canvas.boxes(*_SOLID), *self._canvas.reserved)
        taken = [box.grown(0.4) for box in (*solid, *self._edges(), *self._boxes)]
        spots = [(*s, piece.flat) for piece in part for s in _along(piece)] or [(*pin, True)]
        for size, text in ((NOTE, name), (LEAST, name), (LEAST, "")):
            for x, y, flat in spots:
                for direction, box in self._heads(x, y, text, size, flat):
                    if not any(box.overlaps(other) for other in taken):
                        self._canvas.tag(x, y, name, direction, text, size)
                        return
        self._canvas.tag(*pin, name, "up", "")

    def _edges(self) -> Iterator[Box]:
        """The four lines of each outline."""
        for b in self._canvas.boxes("outline", "place"):
            yield from (Box(b.x0, b.y0, b.x1, b.y0), Box(b.x0, b.y1, b.x1, b.y1))
            yield from (Box(b.x0, b.y0, b.x0, b.y1), Box(b.x1, b.y0, b.x1, b.y1))

    def _heads(self, x: float, y: float, text: str, size: float, flat: bool) -> Iterator[tuple[Direction, Box]]:
        width = fonts.text_width(text, size) + 0.6
        if flat:
            yield "up", Box(x - 1.7, y - 4.2, x + 2.3 + width, y - 0.5)
            yield "down", Box(x - 1.7, y + 0.5, x + 2.3 + width, y + 4.2)
        else:
            yield "right", Box(x + 0.5, y - 1.9, x + 4.2 + width, y + 1.9)
            yield "left", Box(x - 4.2 - width, y - 1.9, x - 0.5, y + 1.9)


def _length(piece: _Piece) -> float:
    return piece.b[0] - piece.a[0] + piece.b[1] - piece.a[1]


def _along(piece: _Piece) -> Iterator[Point]:
    """Spots along a piece, the middle first."""
    (x0, y0), along = piece.a, _length(piece)
    steps = int((along - 4.0) // 2.0)
    for i in sorted(range(steps + 1), key=lambda i: (abs(2 * i - steps), i)):
        at = 2.0 + 2.0 * i
        yield (round(x0 + at, 3), y0) if piece.flat else (x0, round(y0 + at, 3))


def _merged(pieces: Iterable[_Piece]) -> Iterator[_Piece]:
    """Pieces that lie on one another or follow one another along a line, made one."""
    lines: dict[tuple[bool, float], list[tuple[float, float]]] = {}
    for piece in pieces:
        along = (piece.a[0], piece.b[0]) if piece.flat else (piece.a[1], piece.b[1])
        lines.setdefault((piece.flat, piece.a[1] if piece.flat else piece.a[0]), []).append(along)
    for (flat, at), spans in sorted(lines.items()):
        start, end = None, 0.0
        for low, high in sorted(spans):
            if start is None:
                start, end = low, high
            elif low <= end + SAME:
                end = max(end, high)
            else:
                yield _piece(flat, at, start, end)
                start, end = low, high
        if start is not None:
            yield _piece(flat, at, start, end)


def _piece(flat: bool, at: float, low: float, high: float) -> _Piece:
    return _Piece((low, at), (high, at)) if flat else _Piece((at, low), (at, high))


def _paths(pieces: list[_Piece], through: set[Point]) -> Iterator[list[Point]]:
    """The pieces as lines with corners: two that meet at a point of ``through`` are one line."""
    left = dict.fromkeys(pieces)
    while left:
        piece = next(iter(left))
        del left[piece]
        path = [piece.a, piece.b]
        for _ in range(2):
            while path[-1] in through:
                following = next((q for q in left if path[-1] in (q.a, q.b)), None)
                if following is None:
                    break
                del left[following]
                path.append(following.b if following.a == path[-1] else following.a)
            path.reverse()
        yield path


def _parts(
    pieces: list[_Piece], pins: list[tuple[Point, Pin]]
) -> Iterator[tuple[list[_Piece], list[tuple[Point, Pin]]]]:
    """What hangs together: pieces that touch with an end, and the pins that they reach; lone pins too."""
    left = list(pieces)
    bare = list(pins)
    while left:
        part = [left.pop(0)]
        for piece in part:
            touching = [
                q for q in left if any(q.holds(p) for p in (piece.a, piece.b)) or piece.holds(q.a) or piece.holds(q.b)
            ]
            part += touching
            left = [q for q in left if q not in touching]
        held = [(p, pin) for p, pin in bare if any(piece.holds(p) for piece in part)]
        bare = [item for item in bare if item not in held]
        yield part, held
    for item in bare:
        yield [], [item]


def _islands(
    parts: Iterable[tuple[list[_Piece], list[tuple[Point, Pin]]]],
) -> list[tuple[list[_Piece], list[tuple[Point, Pin]]]]:
    """Parts that share a pin, as both sides of a strip terminal do, made one."""
    islands: list[tuple[list[_Piece], list[tuple[Point, Pin]]]] = []
    for pieces, held in parts:
        pins = {pin for _, pin in held}
        touching = [i for i in islands if pins & {pin for _, pin in i[1]}]
        islands = [i for i in islands if i not in touching]
        joined = ([*pieces], [*held])
        for more, others in touching:
            joined[0].extend(more)
            joined[1].extend(others)
        islands.append(joined)
    return islands
