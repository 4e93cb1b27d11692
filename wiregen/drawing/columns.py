"""Where things stand across a sheet: the zones of places on one side of a controller, as distances from its edge."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST, TEXT
from wiregen.drawing.circuit import NUMBER as NUMBER_ROOM
from wiregen.drawing.rows import Block, Leg, Port, Row
from wiregen.drawing.sides import Side
from wiregen.drawing.symbols import Anchor
from wiregen.drawing.tags import HEAD
from wiregen.drawing.units import Unit
from wiregen.drawing.wording import NAME_ROOM, Words
from wiregen.drawing.zones import Stop, Zones

NUMBER = 6.0  # the middle of a conductor's number at the controller, mm
NEAR = 12.0  # from the controller's edge to the first thing beside a number
TRACK = 2.5  # between two wires that change their height side by side
STRIP = 24.0  # a strip terminal with numbers on both sides
TERMINAL = 5.0  # half the width of a strip terminal
CLOSE = 3.0  # between an outline and what stands inside
STOP_STEP = 16.0  # between two strip terminals that follow one another
THROUGH = 28.0  # of a box through which a current passes
RAIL = 3.0  # between two rails
RING = 8.5  # from the inner edge of a gap to the middle of a cable's ring
FAR_LEAD = 8.5  # from the inner edge of a far place's room, for the number of a core
FAR_NUMBER = 4.4  # from there to the middle of that number
TAG_WIRE = 9.0  # from a strip terminal or a pin to a tag
BOX_TAG = 10.5  # from a pin of a box to a tag
HALF = 3.2  # from the middle of a unit to its notes
LABEL = 16.0  # from the controller's edge inwards to the functions of its terminals
STEPS, OUTLINES = 12, 4  # widths of texts, and of the outline, that are tried
LEAST_WORDS = Words(note=21.0, tag=25.0, aside=20.0, gap=27.5, outline=58.0)
#: Where nothing else fits.
TIGHT_WORDS = (
    Words(note=15.0, tag=19.0, aside=14.0, gap=27.0, outline=52.0),
    Words(note=11.0, tag=15.0, aside=11.0, gap=26.5, outline=50.0),
)
MOST_WORDS = Words(note=40.0, tag=31.0, aside=34.0, gap=30.0, outline=88.0)


@dataclass(frozen=True, slots=True)
class Zone:
    """One place's room. ``inner`` and ``outer`` are its edges, ``start`` to ``end`` is for devices and tags.

    ``strip_in`` and ``strip_out`` are the middles of the strip terminals on which cores land.
    """

    inner: float
    strip_in: float | None
    start: float
    end: float
    strip_out: float | None
    outer: float


@dataclass(frozen=True, slots=True)
class Columns:
    """One side of a controller. ``outwards`` is -1 on the left, where distances run to the left."""

    edge: float
    outwards: int
    channel: float  # width of the room for wires that change their height
    zones: tuple[Zone, ...]
    words: Words
    rails: int

    def x(self, distance: float) -> float:
        return self.edge + self.outwards * distance

    def anchor(self, outwards: bool) -> Anchor:
        """The anchor of a text that runs outwards, or inwards, from where it is put."""
        return "end" if (self.outwards < 0) == outwards else "start"

    @property
    def end(self) -> float:
        return self.zones[-1].outer

    def strip_tag(self, stop: Stop) -> float:
        """The width of a text at a tag between a strip terminal and the middle of its place."""
        zone = self.zones[stop.zone]
        free = self.stop(stop) - zone.start if stop.edge == "out" else zone.end - self.stop(stop)
        return max(self.words.tag, free - TERMINAL - BOX_TAG - self.number - HEAD)

    @property
    def number(self) -> float:
        """What a conductor's number needs beyond the usual room."""
        return self.words.number

    @property
    def first(self) -> float:
        """The middle of a conductor's number at the controller."""
        return NUMBER + self.number / 2

    @property
    def near(self) -> float:
        """From the controller's edge to the first thing beside a number."""
        return NEAR + self.number

    @property
    def strip_number(self) -> float:
        """From the middle of a strip terminal to the numbers beside it."""
        return TERMINAL + 3.7 + self.number / 2

    @property
    def far_number(self) -> float:
        """From the inner edge of a far place to the number of a core."""
        return FAR_NUMBER + self.number / 2

    @property
    def tag_wire(self) -> float:
        """From a strip terminal or a pin to a tag, with room for a number."""
        return TAG_WIRE + self.number

    def stop(self, stop: Stop) -> float:
        """The middle of a strip terminal."""
        zone = self.zones[stop.zone]
        if stop.edge == "mid":
            return zone.start + TERMINAL + 1.0 + STOP_STEP * stop.step
        edge = zone.strip_in if stop.edge == "in" else zone.strip_out
        assert edge is not None  # every stop was counted when the columns were made
        return edge + STOP_STEP * (stop.step if stop.edge == "in" else -stop.step)

    @property
    def port_tag(self) -> float:
        """The width of a text at the tag of a terminal, up to the strip: spare cores may stand there beside it."""
        own = self.zones[0]
        end = own.end if own.strip_out is None else own.strip_out - TERMINAL - 1.0
        return max(self.words.tag, end - own.start - HEAD - 1.0)

    def ring(self, gap: int) -> float:
        """The middle of the ring round the cores that cross a gap."""
        return self.zones[gap].outer + RING

    def at(self, edge: float) -> Columns:
        return Columns(edge, self.outwards, self.channel, self.zones, self.words, self.rails)


@dataclass(frozen=True, slots=True)
class _Need:
    """Room that a zone needs: for what passes on outwards over the strip, and for what ends in it.

    ``strip_in`` and ``strip_out`` count the strip terminals side by side at either edge.
    """

    through: float = 0.0
    ending: float = 0.0
    strip_in: int = 0
    strip_out: int = 0

    def joined(self, other: _Need) -> _Need:
        return _Need(
            max(self.through, other.through),
            max(self.ending, other.ending),
            max(self.strip_in, other.strip_in),
            max(self.strip_out, other.strip_out),
        )


def fitted(
    sides: Sequence[Side], zones: Zones, tracks: Sequence[int], room: float, anyhow: bool
) -> tuple[Columns, ...] | None:
    """The columns of the sides with the widest texts for which they fit side by side into ``room``, edges at 0.

    The outline of the controller stands between them. Where even the narrowest are too wide: None, or ``anyhow``
    these.
    """
    extra = zones.number_room - NUMBER_ROOM
    for words in _choices(_outline(sides), anyhow):
        inside = replace(_inside(words, sides), number=extra)
        columns = tuple(_columns(side, zones, count, inside) for side, count in zip(sides, tracks, strict=True))
        if sum(c.end for c in columns) + words.outline <= room:
            return columns
    return columns if anyhow else None


def _choices(wanted: float, anyhow: bool) -> Iterator[Words]:
    """Widths of texts from the most to the least, first with the outline that is ``wanted``, then narrower."""
    least = LEAST_WORDS.outline
    for i in range(OUTLINES + 1):
        for step in range(STEPS, -1, -1):
            yield _between(step / STEPS, wanted - (wanted - least) * i / OUTLINES)
    if anyhow:
        yield from TIGHT_WORDS


def _between(share: float, outline: float) -> Words:
    least, most = LEAST_WORDS, MOST_WORDS

    def part(low: float, high: float) -> float:
        return low + share * (high - low)

    return Words(
        part(least.note, most.note),
        part(least.tag, most.tag),
        part(least.aside, most.aside),
        part(least.gap, most.gap),
        outline,
    )


def _outline(sides: Sequence[Side]) -> float:
    """The width of the controller's outline that its terminals' functions ask for."""
    needs = sum(_functions_width(side) for side in sides)
    return min(MOST_WORDS.outline, max(LEAST_WORDS.outline, needs + 2 * LABEL + CLOSE))


def _functions_width(side: Side) -> float:
    return max((_port_width(port) for port in side.ports), default=0.0)


def _inside(words: Words, sides: Sequence[Side]) -> Words:
    """The outline's room shared out: each side gets what it needs, or what the other one leaves; half at least."""
    free = words.outline - 2 * LABEL - CLOSE
    needs = {side.mirrored: _functions_width(side) for side in sides}
    left, right = needs.get(False, 0.0), needs.get(True, 0.0)
    return replace(words, inside=(max(free / 2, free - right), max(free / 2, free - left)))


def _port_width(port: Port) -> float:
    return max(fonts.text_width(port.function, TEXT), fonts.text_width(port.setting, LEAST) / 2)


def _columns(side: Side, zones: Zones, tracks: int, words: Words) -> Columns:
    rails = _rails(side)
    needs = _needs(side, zones, words, rails)
    channel = tracks * TRACK + (1.0 if tracks else 0.0)
    found: list[Zone] = []
    inner = 0.0
    for index, need in enumerate(needs):
        entry, leaving = _strip_width(need.strip_in, words), _strip_width(need.strip_out, words)
        start = inner + (NEAR + words.number + channel if index == 0 else entry or CLOSE)
        outer = max(start + need.through + leaving, start + need.ending) + CLOSE
        strip_in = inner + STRIP / 2 + words.number if need.strip_in else None
        strip_out = outer - CLOSE - STRIP / 2 - words.number if need.strip_out else None
        found.append(Zone(inner, strip_in, start, outer - CLOSE, strip_out, outer))
        inner = outer + words.gap
    return Columns(0.0, 1 if side.mirrored else -1, channel, tuple(found), words, rails)


def _strip_width(terminals: int, words: Words) -> float:
    return STRIP + 2 * words.number + STOP_STEP * (terminals - 1) if terminals else 0.0


def _rails(side: Side) -> int:
    """How many cores feed devices of one place side by side; those that feed one device only share a rail's room."""
    chains = [row.chain for block in side.blocks for row in block.rows if row.kind == "feed" and row.chain]
    return max(1, min(5, sum(len(chain.pins) > 1 for chain in chains) + 1 if chains else 1))


def _needs(side: Side, zones: Zones, words: Words, rails: int) -> list[_Need]:
    """What each zone needs, up to the outermost that is used."""
    needs = [_Need(through=2.0 + HEAD + words.tag if side.ports else 0.0)]
    railed = _railed(side, zones)
    for block in side.blocks:
        beside = RAIL * rails + 1.0 if (block.place, block.cable) in railed else 0.0
        for zone, need in _of_block(block, side.mirrored, zones, words, rails, beside):
            needs += [_Need()] * (zone + 1 - len(needs))
            needs[zone] = needs[zone].joined(need)
    return needs


def _railed(side: Side, zones: Zones) -> set[tuple[str, str]]:
    """Places and cables beside whose devices a rail may run: all cables of a place where rails join several."""
    cables: dict[str, set[str]] = {}
    for block in side.blocks:
        far = block.legs[-1].piece.grid.far if block.legs else None
        if zones.on_rail(block.zone, far):
            cables.setdefault(block.place, set()).update((block.cable, zones.feeding(far)))
    every = {(block.place, block.cable) for block in side.blocks}
    return {(place, cable) for place, cable in every if cable in (found := cables.get(place, set())) or len(found) > 1}


def _of_block(
    block: Block, mirrored: bool, zones: Zones, words: Words, rails: int, beside: float
) -> Iterable[tuple[int, _Need]]:
    """``beside`` is kept beyond a box for rails that pass it."""
    tag, far = 2.0 + HEAD + words.tag + words.number, FAR_LEAD + words.number
    for row in block.rows:
        yield from _of_row(row, tag, far)
    for leg in block.legs[1:]:
        yield from _of_row(Row("unit", None, leg.span, leg.piece.grid.near), tag, far)
    for leg in block.legs:
        before = _tag_before(block, words) if leg is block.legs[0] else 0.0
        grid = leg.piece.grid
        lead = before + (far if leg.zone else 0.0) + (words.note + HALF if grid.alone else grid.width)
        outer = words.number + (_outer_text(grid.alone, mirrored) if grid.alone else 2.0)
        if leg is not block.legs[-1]:
            yield leg.zone, _Need(through=lead + outer + 2.0)
        elif zones.on_rail(leg.zone, grid.far):
            yield leg.zone, _Need(ending=lead + outer + 8.5 + RAIL * rails)
        else:
            yield leg.zone, _Need(ending=lead + outer + 7.0 + tag)
    if block.box is not None:
        lead = _box_lead(block, words)
        yield block.zone, _Need(ending=lead + box_depth(block.box.unit, mirrored) + 2.0 + words.aside + beside)


def _box_lead(block: Block, words: Words) -> float:
    """From the start of a zone's room to a box: less where no pin of it carries a tag."""
    tagged = any(row.port is None and not row.span.stops for row in block.rows)
    passed = max(len(row.through) for row in block.rows) if block.zone == 0 else 0
    far = FAR_LEAD + words.number
    before = THROUGH * passed + far if passed else far if block.zone else 0.0
    before += _tag_before(block, words)
    return before + (BOX_TAG + words.number + HEAD + words.tag if tagged else CLOSE)


def box_start(columns: Columns, block: Block) -> float:
    """The distance of the pins of a box."""
    return columns.zones[block.zone].start + _box_lead(block, columns.words)


def _outer_text(unit: Unit, mirrored: bool) -> float:
    """From the middle of a unit to where the designation on its outer side ends at the latest, or nearly so."""
    xs = [spot.x for spot in unit.symbol.slots.values()]
    return abs(max(xs) if mirrored else min(xs)) + NAME_ROOM - 2.0


def _tag_before(block: Block, words: Words) -> float:
    """Room before a device for the tag of units that nothing leads to, or for strip terminals that distribute."""
    main = block.main
    stops = sum(stop.edge == "mid" for stop in main.span.stops)
    if not block.legs or main.port is not None or main.span.stops:
        return (STOP_STEP * stops + FAR_LEAD + words.number) if stops else 0.0
    return HEAD + words.tag + words.number + (0.0 if block.legs[0].piece.grid.alone else BOX_TAG)


def unit_start(columns: Columns, block: Block, leg: Leg) -> float:
    """The distance at which a grid begins; that of a single unit is set so that all such units stand in a column."""
    start = columns.zones[leg.zone].start + (FAR_LEAD + columns.number if leg.zone else 0.0)
    start += _tag_before(block, columns.words) if leg is block.legs[0] else 0.0
    grid = leg.piece.grid
    return start + columns.words.note + HALF - grid.cells[0].at if grid.alone else start


def box_depth(unit: Unit, mirrored: bool) -> float:
    """From the pin of a box that lies nearest to the controller to the box's outer edge."""
    xs = [x for x, _ in unit.symbol.pins.values()]
    return unit.symbol.box.x1 - min(xs) if mirrored else max(xs) - unit.symbol.box.x0


def _of_row(row: Row, tag: float, far: float) -> Iterable[tuple[int, _Need]]:
    """The strip terminals that a row passes, the tag before or behind them, and what stands before them."""
    if row.kind == "feed" and row.span.cores:
        yield row.span.cores[-1][0] + 1, _Need(ending=far + 6.0 + tag)
    if row.through:
        yield 0, _Need(through=THROUGH * len(row.through) + 4.0)
    tagged = {"landing": True, "spare": False}.get(row.kind, row.port is None)
    for stop in row.span.stops:
        if stop.edge == "mid":
            continue
        outer, count = stop.edge == "out", stop.step + 1
        yield stop.zone, _Need(tag if tagged else 4.0, 0.0, 0 if outer else count, count if outer else 0)
