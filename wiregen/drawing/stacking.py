"""One side of a controller on pages: which terminals stand on which page, and in which order their blocks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wiregen.drawing import crossings
from wiregen.drawing.circuit import FieldChain
from wiregen.drawing.heights import Heights, Stack
from wiregen.drawing.rows import Block, Port, Row
from wiregen.drawing.sides import Side
from wiregen.terms import Pin

BACK = 10  # so many parts before the last that fits, a page may be broken


@dataclass(frozen=True, slots=True)
class Section:
    """Terminals that stand on one page because a device is wired to several of them, with their blocks."""

    ports: tuple[Port, ...]
    blocks: tuple[Block, ...]


def pages(side: Side, heights: Heights) -> list[Stack]:
    """As few pages as the terminals of a side need, in their order. Blocks of one far place stand together."""
    parts = [part for section in _sections(side) for part in _parts(section, heights)]
    return _Pages(parts, heights).stacks()


class _Pages:
    """Where the parts of a side are broken to pages: as few as can be, between groups of functions if possible."""

    def __init__(self, parts: list[Section], heights: Heights) -> None:
        self._parts, self._heights = parts, heights
        self._stacks: dict[tuple[int, int], Stack] = {}
        self._ends: dict[int, int] = {}
        self._best: dict[int, tuple[int, int, int]] = {}

    def stacks(self) -> list[Stack]:
        found, start = [], 0
        while start < len(self._parts):
            end = self._broken(start)[2]
            found.append(self._stack(start, end))
            start = end
        return found

    def _broken(self, start: int) -> tuple[int, int, int]:
        """Pages from a part on, groups that they part, and the end of the first page, which is filled where it can."""
        if start not in self._best:
            last = self._furthest(start)
            options = [(1, 0, last)]
            if last < len(self._parts):
                options = []
                for end in range(last, max(start, last - BACK), -1):
                    pages, parted, _ = self._broken(end)
                    options.append((pages + 1, parted + self._parts_group(end), end))
            self._best[start] = min(options, key=lambda option: option[:2])
        return self._best[start]

    def _parts_group(self, end: int) -> int:
        """Whether a break before a part parts functions that are declared together."""
        before = next((p.group for part in self._parts[end - 1 :: -1] for p in part.ports[::-1] if p.group), None)
        after = next((p.group for part in self._parts[end:] for p in part.ports if p.group), "")
        return int(before == after)

    def _furthest(self, start: int) -> int:
        """The end of the longest page that begins with a part."""
        if start not in self._ends:
            end = start + 1
            while end < len(self._parts) and self._heights.fits(self._stack(start, end + 1)):
                end += 1
            self._ends[start] = end
        return self._ends[start]

    def _stack(self, start: int, end: int) -> Stack:
        if (start, end) not in self._stacks:
            self._stacks[start, end] = _stack(self._parts[start:end], self._heights)
        return self._stacks[start, end]


def _sections(side: Side) -> Iterator[Section]:
    """The shortest runs of terminals of which no block needs terminals of two."""
    order = {port.pin: i for i, port in enumerate(side.ports)}
    spans = [_span(block, order) for block in side.blocks]
    reach = list(range(max(len(order), 1)))
    for index, port in enumerate(side.ports):  # the pins of one channel stay together
        reach[order[port.channel]] = max(reach[order[port.channel]], index)
    homes: list[list[Block]] = [[] for _ in reach]
    for block, (low, high) in zip(side.blocks, spans, strict=True):
        reach[low] = max(reach[low], high)
        homes[low].append(block)
    start = index = end = 0
    while start < len(reach):
        while index <= end:
            end = max(end, reach[index])
            index += 1
        yield Section(side.ports[start:index], tuple(b for home in homes[start:index] for b in home))
        start = end = index


def _span(block: Block, order: dict[Pin, int]) -> tuple[int, int]:
    """The first and the last terminal of a block; what has none stands at its home, or at the very end."""
    at = [order[p] for p in block.ports] or [order[block.home] if block.home else max(len(order) - 1, 0)]
    return min(at), max(at)


def _parts(section: Section, heights: Heights) -> Iterator[Section]:
    """The section, or, where it is too high for a page, a part for each terminal and for each block without one.

    A block then keeps the terminal of its main row only.
    """
    if len(section.blocks) < 2 or heights.fits(_stack([section], heights)):
        yield section
        return
    for port in section.ports:
        here = [b for b in section.blocks if _home(b, section) == port.pin]
        own = sorted(here, key=lambda b: port.pin not in b.ports)
        first = [block.without_ports([pin for pin in block.ports if pin != port.pin]) for block in own[:1]]
        yield Section((port,), tuple(first))
        yield from (Section((), (block.without_ports(block.ports),)) for block in own[1:])


def _home(block: Block, section: Section) -> Pin | None:
    pins = [port.pin for port in section.ports]
    wanted = block.main.port or next(iter(block.ports), None) or block.home
    return wanted if wanted in pins else (pins[-1] if pins else None)


def _stack(sections: Sequence[Section], heights: Heights) -> Stack:
    ports = [port for section in sections for port in section.ports]
    order = {port.pin: i for i, port in enumerate(ports)}
    blocks = list(_with_feeds([b for s in sections for b in s.blocks], heights))
    return heights.stack(ports, ordered(blocks, order, heights.outermost))


def _with_feeds(blocks: Sequence[Block], heights: Heights) -> Iterator[Block]:
    """The blocks of a page. A tag feeds devices whose core has its row on another page, and ends a core alone here."""
    chains = {c.head: (c, b) for b in reversed(blocks) if (c := _fed_by(b, heights)) is not None}
    fed = {block.rows[0].pin for block in blocks if block.rows[0].kind == "feed"}
    for head, (chain, block) in reversed(chains.items()):
        if head not in fed:
            yield Block((Row("feed", head, chain=chain),), block.zone, block.place, block.home)
    for block in blocks:
        row = block.rows[0]
        yield (
            replace(block, rows=(replace(row, alone=True),)) if row.kind == "feed" and row.pin not in chains else block
        )


def _fed_by(block: Block, heights: Heights) -> FieldChain | None:
    """The chain on whose rail the devices of a block hang."""
    far = block.legs[-1].piece.grid.far if block.legs else None
    return heights.circuit.chain_of(far) if far is not None and block.zone == heights.outermost else None


def ordered(blocks: Sequence[Block], order: dict[Pin, int], outermost: int) -> list[Block]:
    """The blocks of each far place together, and in it those of each cable, with the fewest crossings.

    What stands nearer to the controller goes between them where it crosses least. Spare cores and screens follow the
    last core of their cable.
    """
    tails = [block for block in blocks if _is_tail(block)]
    blocks = [block for block in blocks if not _is_tail(block)]
    far = [b for b in blocks if b.zone == outermost and outermost > 0]
    result = _grouped(far, order, ("place", "cable"))
    near = [b for b in blocks if b.zone != outermost or outermost == 0]
    result = _merged(result, _best([b for b in near if _ends(b, order)], order), order)
    for block in near:
        if not _ends(block, order):
            result.insert(_after(block, result), block)
    for block in tails:
        users = [i for i, b in enumerate(result, 1) if block.cable in b.cables().values()]
        result.insert(max(users, default=len(result)), block)
    return result


def _is_tail(block: Block) -> bool:
    return block.rows[0].kind in ("spare", "screen")


def _after(block: Block, placed: Sequence[Block]) -> int:
    """A block without a terminal of its own follows the last one that has the same home, else all others."""
    same = [i for i, b in enumerate(placed, 1) if block.home is not None and block.home in (b.home, *b.ports)]
    return max(same, default=len(placed))


def _grouped(blocks: list[Block], order: dict[Pin, int], by: tuple[str, ...]) -> list[Block]:
    """Blocks in groups, the groups in the best order; in the innermost groups by their terminals."""
    if not by:
        return _in_cable(blocks, order)
    groups: dict[str, list[Block]] = {}
    for block in blocks:
        groups.setdefault(getattr(block, by[0]), []).append(block)
    members = [_grouped(group, order, by[1:]) for group in groups.values()]
    ends = [[e for block in group for e in _ends(block, order)] for group in members]
    return [block for i in crossings.best_order(ends).places for block in members[i]]


def _best(blocks: list[Block], order: dict[Pin, int]) -> list[Block]:
    """By their terminals, with the fewest crossings of their wires."""
    blocks = sorted(blocks, key=lambda block: _ends(block, order)[0])
    return [blocks[i] for i in crossings.best_order([_ends(block, order) for block in blocks]).places]


def _merged(far: list[Block], near: list[Block], order: dict[Pin, int]) -> list[Block]:
    rows = (far, near)
    ends = [[_ends(block, order) for block in row] for row in rows]
    return [rows[row][i] for row, i in crossings.merged(*ends)]


def _in_cable(blocks: list[Block], order: dict[Pin, int]) -> list[Block]:
    """By terminals. A feeding core without one stands before the first device that it feeds, others near their home."""
    result = _best([b for b in blocks if _ends(b, order)], order)
    for block in blocks:
        if not _ends(block, order) and block.rows[0].kind != "feed":
            home = order.get(block.home, len(order)) if block.home else len(order)
            below = (i for i, b in enumerate(result) if (ends := _ends(b, order)) and ends[0] > home)
            result.insert(next(below, len(result)), block)
    for block in reversed(blocks):
        if not _ends(block, order) and block.rows[0].kind == "feed":
            fed = block.rows[0].chain.pins if block.rows[0].chain else ()
            users = (i for i, b in enumerate(result) if b.legs and b.legs[-1].piece.grid.far in fed)
            result.insert(next(users, 0), block)
    return result


def _ends(block: Block, order: dict[Pin, int]) -> list[int]:
    """The places of a block's terminals, that of the main row first."""
    main = block.main.port
    return [order[p] for p in ([main] if main else []) + [p for p in block.ports if p != main] if p in order]
