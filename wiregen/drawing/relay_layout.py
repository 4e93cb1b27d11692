"""Relay circuits before they have a place on a sheet: rows of contacts from a feed to a coil, cut where too wide.

Between two parts of a row lies a joint. Where a conductor of a joint leaves its place, its strip terminal and its core
are drawn at the pin to which it leads.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from wiregen.control.functions import ContactTree, Function, Leg, Load, Parallel, Series, legs_in
from wiregen.drawing import fonts
from wiregen.drawing.canvas import NOTE, TEXT
from wiregen.drawing.circuit import Circuit, FieldChain
from wiregen.terms import Pin
from wiregen.wiring.digital import ends_of

LEFT, RIGHT = 14.0, 31.0  # from the middle of a contact to the edges of its room: its name, its notes
BESIDE = 7.0  # between a contact's middle and its name, and from the name to the edge
STOP = 29.0  # a strip terminal and a core
ROW = 22.5
BUS = 3.0  # from the edge of parallel contacts to the line that joins them
JOINT = 10.0
COIL = 14.0  # from the edge of its room to the middle of a coil


@dataclass(frozen=True, slots=True)
class Stop:
    """A strip terminal and a core beside a pin. ``core_first``: seen from the pin the core comes first."""

    terminal: Pin
    core: str
    core_first: bool


@dataclass(frozen=True, slots=True)
class Row:
    """Contacts in a row, with what lies to the left and to the right of them.

    ``load`` ends the row; where it is None a tag does. ``stops`` are by pin; of a tag they are by the pin that it
    stands for.
    """

    parts: tuple[ContactTree, ...]
    feed: Pin
    load: Load | None
    stops: dict[Pin, Stop]
    feed_stop: Stop | None
    end_stop: Stop | None


@dataclass(frozen=True, slots=True)
class RelayCircuit:
    """The rows of one coil, of the load behind an interposing relay, or of an input."""

    function: Function
    rows: tuple[Row, ...]


class RowMaker:
    """Lays circuits out in rows no wider than ``wide`` and no taller than ``tall``, mm."""

    def __init__(self, circuit: Circuit, wide: float, tall: float) -> None:
        self._circuit, self._wide, self._tall = circuit, wide, tall

    def circuit_of(self, function: Function) -> RelayCircuit | None:
        tree = function.partner
        if not isinstance(tree, Leg | Series | Parallel):
            return None
        parts = tree.parts if isinstance(tree, Series) else (tree,)
        return RelayCircuit(function, tuple(self._rows(parts, ends_of(tree)[0][0], function.coil)))

    def _rows(self, parts: tuple[ContactTree, ...], feed: Pin, load: Load | None) -> Iterator[Row]:
        """As many parts a row as there is room for; what alone is too large is taken apart into its contacts."""
        left = parts
        while left:
            count = next((n for n in range(len(left), 0, -1) if self._fits(left[:n], feed, load, n == len(left))), 0)
            if not count:
                legs = legs_in(left[0])
                yield from (self._row((leg,), leg.a, None) for leg in legs)
                count = 1
                if len(left) == 1 and load is not None:
                    yield self._row((), load.a, load)
            else:
                yield self._row(left[:count], feed, load if count == len(left) else None)
            feed = ends_of(left[count - 1])[1][0]
            left = left[count:]

    def _fits(self, parts: tuple[ContactTree, ...], feed: Pin, load: Load | None, last: bool) -> bool:
        if max(height(part) for part in parts) > self._tall:
            return False
        return self.width(self._row(parts, feed, load if last else None)) <= self._wide

    def _row(self, parts: tuple[ContactTree, ...], feed: Pin, load: Load | None) -> Row:
        stops: dict[Pin, Stop] = {}
        outer: dict[str, Stop] = {}
        for i in range(len(parts) + 1):
            self._stops_at_joint(parts, i, load, stops, outer)
        for part in parts:
            for a, b in _inner_joints(part):
                self._stops_between(a, b, "", stops, outer)
        if load is not None and (chain := self._circuit.chain_of(load.b)) and chain.head == load.b:
            stops[load.b] = _stop(chain, core_first=True)
        return Row(parts, feed, load, stops, outer.get("feed"), outer.get("end"))

    def _stops_at_joint(
        self,
        parts: tuple[ContactTree, ...],
        i: int,
        load: Load | None,
        stops: dict[Pin, Stop],
        outer: dict[str, Stop],
    ) -> None:
        before = tuple(ends_of(parts[i - 1])[1]) if i else ()
        after = tuple(ends_of(parts[i])[0]) if i < len(parts) else (load.a,) if load else ()
        side = "feed" if i == 0 else "end" if i == len(parts) and load is None else ""
        self._stops_between(before, after, side, stops, outer)

    def _stops_between(
        self,
        before: tuple[Pin, ...],
        after: tuple[Pin, ...],
        side: str,
        stops: dict[Pin, Stop],
        outer: dict[str, Stop],
    ) -> None:
        """Strip and core at the head of a chain that is alone in the joint; else at the first pin of other places."""
        pins = [*before, *after]
        chains = dict.fromkeys(chain for pin in pins if (chain := self._circuit.chain_of(pin)) is not None)
        for chain in chains:
            members = [pin for pin in pins if pin in chain.pins]
            others = [pin for pin in pins if pin not in chain.pins]
            if len(members) == 1 and members[0] == chain.head and (others or side):
                stops[members[0]] = _stop(chain, core_first=True)
            elif len(members) > 1 and others and others[0] not in stops:
                stops[others[0]] = _stop(chain, core_first=False)
            elif len(members) > 1 and not others and side and chain.head in members:
                outer[side] = _stop(chain, core_first=False)

    # Widths, mm

    def width(self, row: Row) -> float:
        total = sum(self.part_width(part, row) for part in row.parts)
        total += sum(self.joint_width(row, i) for i in range(len(row.parts) + 1))
        if row.load is not None:
            total += load_width(row.load, row.stops)
        return total

    def part_width(self, tree: ContactTree, row: Row) -> float:
        if isinstance(tree, Leg):
            stops = sum(STOP for pin in (tree.a, tree.b) if pin in row.stops)
            return left_room(tree.contact.device) + RIGHT + stops
        if isinstance(tree, Parallel):
            return max(self.part_width(part, row) for part in tree.parts) + 4 * BUS
        inner = sum(self._tag_width(set(a) | set(b), row) for a, b in _joints(tree))
        return sum(self.part_width(part, row) for part in tree.parts) + inner

    def joint_pins(self, row: Row, i: int) -> set[Pin]:
        """The pins that meet before part ``i`` of a row, or after the last."""
        pins = set(ends_of(row.parts[i - 1])[1]) if i else {row.feed}
        if i < len(row.parts):
            pins |= set(ends_of(row.parts[i])[0])
        elif row.load is not None:
            pins.add(row.load.a)
        return pins

    def joint_width(self, row: Row, i: int) -> float:
        stop = row.feed_stop if i == 0 else row.end_stop if i == len(row.parts) else None
        tag = self._tag_width(self.joint_pins(row, i), row) if i > 0 and (row.load or i < len(row.parts)) else JOINT
        return tag + (STOP if stop else 0.0)

    def _tag_width(self, pins: set[Pin], row: Row) -> float:
        name = self.tag_name(pins, row)
        return JOINT + (fonts.text_width(name, NOTE) + 5.0 if name else 0.0)

    def tag_name(self, pins: set[Pin], row: Row) -> str:
        """The potential of a joint that has pins which the joint does not show."""
        potential = self._circuit.potential(min(pins))
        shown = pins | {row.stops[pin].terminal for pin in pins if pin in row.stops}
        return potential.name if potential is not None and not set(potential.pins) <= shown else ""

    def ends(self, tree: ContactTree) -> tuple[Pin, Pin]:
        """A pin of the potential at either end of a part."""
        starts, ends, _ = ends_of(tree)
        return starts[0], ends[0]

    def series_pins(self, tree: Series, i: int) -> set[Pin]:
        """The pins that meet after part ``i`` of a series."""
        return {*ends_of(tree.parts[i])[1], *ends_of(tree.parts[i + 1])[0]}


def left_room(device: str) -> float:
    """From the middle of a contact to the left edge of its room: its name stands there, mm."""
    return max(LEFT, fonts.text_width(device, TEXT) + BESIDE)


def load_width(load: Load, stops: Mapping[Pin, Stop]) -> float:
    """The width of a load with the strip terminals and cores on its way."""
    return COIL * 2 + (STOP if load.a in stops else 0.0) + (STOP + JOINT if load.b in stops else 0.0)


def height(tree: ContactTree) -> float:
    """The room that a tree takes downwards, mm."""
    if isinstance(tree, Leg):
        return ROW
    heights = [height(part) for part in tree.parts]
    return sum(heights) if isinstance(tree, Parallel) else max(heights)


def _stop(chain: FieldChain, core_first: bool) -> Stop:
    return Stop(chain.terminal, f"{chain.core.cable}.{chain.core.core}", core_first)


def _joints(tree: Series) -> Iterator[tuple[tuple[Pin, ...], tuple[Pin, ...]]]:
    for one, other in itertools.pairwise(tree.parts):
        yield tuple(ends_of(one)[1]), tuple(ends_of(other)[0])


def _inner_joints(tree: ContactTree) -> Iterator[tuple[tuple[Pin, ...], tuple[Pin, ...]]]:
    """The joints inside a part: those of every series in it."""
    if isinstance(tree, Leg):
        return
    if isinstance(tree, Series):
        yield from _joints(tree)
    for part in tree.parts:
        yield from _inner_joints(part)
