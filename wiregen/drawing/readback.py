"""The proof that sheets show their circuit: the potentials read back from the geometry alone.

What is joined: wires whose two ends meet; wires, pins and tags at a common junction, pin or tag; pins of one name;
tags of one name, on all sheets. Wires that cross are not joined. Whatever could be read in two ways is a complaint,
and a drawing with a complaint is not read at all.
"""

from __future__ import annotations

import itertools
import math
import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from wiregen.drawing.sheet_reading import Dot, Point, Sheet, read_sheet
from wiregen.terms import InternalFault
from wiregen.wiring.model import Potential

SAME = 0.01  # points this near are one point, mm
APART = 0.6  # wires of two potentials, and a wire and a foreign pin, keep this distance, mm
MARK_REACH = 12.0  # a pin's mark stands within this distance, mm
CELL = 12.0  # size of the cells in which segments are looked up, mm

Key = tuple[str, ...]


class DrawingFault(InternalFault):
    """The sheets cannot be read without doubt, or do not show the circuit they should. ``complaints`` says where."""

    def __init__(self, complaints: Sequence[str]) -> None:
        super().__init__("the drawing does not prove its circuit: " + "; ".join(complaints))
        self.complaints = tuple(complaints)


@dataclass(frozen=True, slots=True)
class Reading:
    """``potentials``: every set of joined pins, single pins too, sorted; ``complaints``: every breach of the rules."""

    potentials: tuple[frozenset[str], ...]
    complaints: tuple[str, ...]


def read(svgs: Sequence[bytes]) -> tuple[frozenset[str], ...]:
    """The potentials that the sheets show together, as sets of ``device:pin``; a pin that is joined to nothing is a
    set of its own.

    Raises DrawingFault where any sheet breaks a rule.
    """
    reading = examine(svgs)
    if reading.complaints:
        raise DrawingFault(reading.complaints)
    return reading.potentials


def compare(found: Iterable[frozenset[str]], potentials: Iterable[Potential]) -> tuple[str, ...]:
    """What the drawing shows otherwise than the circuit has it, one sentence each; nothing if they agree.

    Every pin of a potential with two pins or more must be drawn and joined to the others of it, and to nothing else.
    A pin in no potential, or alone in one, may be drawn, joined to nothing.
    """
    groups = list(found)
    home = {pin: group for group in groups for pin in group}
    owner = {str(pin): p.name for p in potentials for pin in p.pins}
    members: dict[str, list[str]] = defaultdict(list)
    for pin, name in owner.items():
        members[name].append(pin)
    faults = []
    for name, pins in members.items():
        missing = [p for p in pins if p not in home]
        if missing and len(pins) > 1:
            faults.append(f"{name}: {', '.join(missing)} {'is' if len(missing) == 1 else 'are'} not drawn")
        pieces = {tuple(p for p in pins if p in home[q]) for q in pins if q in home}
        if len(pieces) > 1:
            shown = " | ".join(" ".join(piece) for piece in sorted(pieces))
            faults.append(f"{name}: drawn in {len(pieces)} pieces that are not joined: {shown}")
    for group in groups:
        owners = sorted({owner[p] for p in group if p in owner})
        strangers = sorted(p for p in group if p not in owner)
        if len(owners) > 1:
            faults.append(f"{' and '.join(owners)} are drawn joined, in {' '.join(sorted(group))}")
        if strangers and len(group) > 1:
            faults.append(
                f"{', '.join(strangers)} should be joined to nothing but is drawn in {' '.join(sorted(group))}"
            )
    return tuple(faults)


def examine(svgs: Sequence[bytes]) -> Reading:
    """The potentials as far as they can be read, and every complaint."""
    union = _Union()
    complaints: list[str] = []
    sheets = [read_sheet(svg) for svg in svgs]
    graphs = [_Graph(i, sheet, union) for i, sheet in enumerate(sheets)]
    for i, (sheet, graph) in enumerate(zip(sheets, graphs, strict=True)):
        graph.join()
        graph.check_lines()
        graph.check_pins()
        complaints += [f"sheet {i + 1}: {c}" for c in (*sheet.complaints, *graph.complaints)]
    for i, graph in enumerate(graphs):
        complaints += [f"sheet {i + 1}: {c}" for c in graph.check_spacing()]
    groups: dict[Key, set[str]] = defaultdict(set)
    for kind, *name in union.members():
        groups[union.find((kind, *name))].update(name if kind == "pin" else ())
    complaints += [
        f"a wire of sheet {int(key[1]) + 1} reaches no pin"
        for key, pins in groups.items()
        if not pins and key[0] == "wire"
    ]
    potentials = sorted((frozenset(pins) for pins in groups.values() if pins), key=sorted)
    return Reading(tuple(potentials), tuple(complaints))


class _Union:
    """Sets of keys that are joined step by step."""

    def __init__(self) -> None:
        self._above: dict[Key, Key] = {}

    def members(self) -> Iterable[Key]:
        return tuple(self._above)

    def find(self, key: Key) -> Key:
        self._above.setdefault(key, key)
        while self._above[key] != key:
            self._above[key] = self._above[self._above[key]]
            key = self._above[key]
        return key

    def join(self, keys: Sequence[Key]) -> None:
        roots = [self.find(key) for key in keys]
        for root in roots[1:]:
            self._above[self.find(root)] = self.find(roots[0])


@dataclass(frozen=True, slots=True)
class _Segment:
    """One straight run of a wire, ``a`` before ``b`` along it."""

    wire: int
    index: int
    a: Point
    b: Point

    @property
    def flat(self) -> bool:
        return self.a[1] == self.b[1]

    @property
    def low(self) -> Point:
        return min(self.a[0], self.b[0]), min(self.a[1], self.b[1])

    @property
    def high(self) -> Point:
        return max(self.a[0], self.b[0]), max(self.a[1], self.b[1])

    def distance(self, p: Point) -> float:
        (x0, y0), (x1, y1) = self.low, self.high
        return math.hypot(max(x0 - p[0], p[0] - x1, 0.0), max(y0 - p[1], p[1] - y1, 0.0))

    def gap(self, other: _Segment) -> tuple[float, float]:
        """How far both are apart along x and along y; negative where they overlap."""
        (x0, y0), (x1, y1) = self.low, self.high
        (u0, v0), (u1, v1) = other.low, other.high
        return max(u0 - x1, x0 - u1), max(v0 - y1, y0 - v1)


class _Graph:
    """One sheet's wires and dots, joined in a union shared by all sheets."""

    def __init__(self, number: int, sheet: Sheet, union: _Union) -> None:
        self.number, self.sheet, self.union = number, sheet, union
        self.complaints: list[str] = []
        self.cells: dict[tuple[int, int], list[_Segment]] = defaultdict(list)
        self.touching: dict[str, set[int]] = defaultdict(set)  # pin -> wires that are joined to it
        for i, wire in enumerate(sheet.wires):
            union.find(self.wire_key(i))
            for j, (a, b) in enumerate(itertools.pairwise(wire.points)):
                self.place(_Segment(i, j, a, b))

    def wire_key(self, i: int) -> Key:
        return "wire", str(self.number), str(i)

    def place(self, s: _Segment) -> None:
        (x0, y0), (x1, y1) = s.low, s.high
        for cx in range(int((x0 - 1) // CELL), int((x1 + 1) // CELL) + 1):
            for cy in range(int((y0 - 1) // CELL), int((y1 + 1) // CELL) + 1):
                self.cells[cx, cy].append(s)

    def near(self, p: Point) -> list[_Segment]:
        return self.cells.get((int(p[0] // CELL), int(p[1] // CELL)), [])

    def sites(self) -> list[tuple[Point, list[Dot], int, bool]]:
        """Every point that matters, with its dots, how many wire ends lie there, and whether a wire turns there."""
        found: dict[tuple[int, int], tuple[Point, list[Dot], list[int], list[int]]] = {}

        def at(p: Point) -> tuple[Point, list[Dot], list[int], list[int]]:
            cx, cy = round(p[0] / SAME), round(p[1] / SAME)
            for key in itertools.product((cx, cx - 1, cx + 1), (cy, cy - 1, cy + 1)):
                if key in found and math.dist(found[key][0], p) <= SAME:
                    return found[key]
            return found.setdefault((cx, cy), (p, [], [], []))

        for dot in self.sheet.dots:
            at(dot.at)[1].append(dot)
        for i, wire in enumerate(self.sheet.wires):
            at(wire.points[0])[2].append(i)
            at(wire.points[-1])[2].append(i)
            for corner in wire.points[1:-1]:
                at(corner)[3].append(i)
        return [(p, dots, len(ends), bool(corners)) for p, dots, ends, corners in found.values()]

    def join(self) -> None:
        """Join what meets at each point, and complain where that is not clear."""
        for p, dots, ends, turns in self.sites():
            segments = [s for s in self.near(p) if s.distance(p) <= SAME]
            arms = sum(1 if math.dist(p, s.a) <= SAME or math.dist(p, s.b) <= SAME else 2 for s in segments)
            wires = sorted({s.wire for s in segments})
            keys = [self.wire_key(w) for w in wires]
            keys += [(d.kind, d.name) for d in dots if d.kind != "junction"]
            if dots or (ends == 2 and arms == 2):
                self.union.join(keys)
            self.check_dots(p, dots, arms)
            if not dots:
                self.check_bare(p, ends, arms, turns)
            for d in dots:
                if d.kind == "pin":
                    self.touching[d.name].update(wires)

    def check_dots(self, p: Point, dots: list[Dot], arms: int) -> None:
        kinds = [d.kind for d in dots]
        if "junction" in kinds and arms < 3:
            self.complaints.append(f"the junction at {p} has {arms} arms; it needs three")
        names = sorted({d.name for d in dots if d.kind == "pin"})
        if len(names) > 1:
            self.complaints.append(f"the pins {' and '.join(names)} lie on one another at {p}")
        if "tag" in kinds and "pin" not in kinds and arms == 0:
            name = next(d.name for d in dots if d.kind == "tag")
            self.complaints.append(f"the tag {name} at {p} lies on no wire and no pin")

    def check_bare(self, p: Point, ends: int, arms: int, turns: bool) -> None:
        """A point without pin, tag or junction: two ends may meet here, or one wire may turn."""
        if ends == 1 and arms == 1:
            self.complaints.append(f"a wire ends at {p} on nothing")
        elif ends > 2:
            self.complaints.append(f"{ends} wires end at {p} without a junction")
        elif ends and arms > ends:
            self.complaints.append(f"a wire ends at {p} on another wire without a junction")
        elif not ends and turns and arms > 2:
            self.complaints.append(f"a corner at {p} touches another wire without a junction")

    def pairs(self) -> Iterable[tuple[_Segment, _Segment]]:
        """Segments that share a cell, each pair once; those of one wire too."""
        seen: set[tuple[int, int, int, int]] = set()
        for cell in self.cells.values():
            for s, t in itertools.combinations(cell, 2):
                key = (s.wire, s.index, t.wire, t.index)
                if key not in seen:
                    seen.add(key)
                    yield s, t

    def check_lines(self) -> None:
        """No two runs lie on one another."""
        for s, t in self.pairs():
            if s.flat == t.flat:
                along, across = s.gap(t) if s.flat else reversed(s.gap(t))
                if across <= SAME and along < -SAME:
                    self.complaints.append(f"two runs lie on one another: {_say(s)} and {_say(t)}")

    def check_spacing(self) -> list[str]:
        """Wires of two potentials keep their distance, except where they cross at right angles."""
        complaints = []
        for s, t in self.pairs():
            across, down = s.gap(t)
            if math.hypot(max(across, 0.0), max(down, 0.0)) >= APART - 1e-6 or (s.flat != t.flat and _cross(s, t)):
                continue
            if self.union.find(self.wire_key(s.wire)) != self.union.find(self.wire_key(t.wire)):
                complaints.append(f"wires of two potentials are less than {APART} mm apart: {_say(s)} and {_say(t)}")
        return complaints

    def check_pins(self) -> None:
        for dot in self.sheet.dots:
            if dot.kind != "pin":
                continue
            for s in self.near(dot.at):
                if s.wire not in self.touching[dot.name] and s.distance(dot.at) < APART - 1e-6:
                    self.complaints.append(f"the wire {_say(s)} passes the pin {dot.name} at less than {APART} mm")
            mark = _plain(dot.name.partition(":")[2])
            if not any(math.dist(at, dot.at) <= MARK_REACH and _marks(text, mark) for at, text in self.sheet.texts):
                self.complaints.append(f"the pin {dot.name} at {dot.at} has no mark {mark!r} within {MARK_REACH:g} mm")


def _cross(s: _Segment, t: _Segment) -> bool:
    """Whether both go on beyond the point where they meet."""
    flat, upright = (s, t) if s.flat else (t, s)
    x, y = upright.a[0], flat.a[1]
    return flat.low[0] + SAME < x < flat.high[0] - SAME and upright.low[1] + SAME < y < upright.high[1] - SAME


def _say(s: _Segment) -> str:
    return f"{s.a[0]:g},{s.a[1]:g} to {s.b[0]:g},{s.b[1]:g}"


def _plain(text: str) -> str:
    return text.replace("−", "-").strip()


def _marks(text: str, mark: str) -> bool:
    """Whether a text is the mark, or names it among other words."""
    plain = _plain(text)
    return plain == mark or mark in re.split(r"[\s,;/()]+", plain)
