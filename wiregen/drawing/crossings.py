"""Few crossings: in which order groups of wires leave the strip, which of them run straight, in which track a wire
that does not run straight changes its height, and in which column a rail stands.

Ends are numbers, the places of terminals down the controller's edge. Two wires of a diagram cross once where their
ends stand in the other order than their rows, and never otherwise: the order of rows decides, tracks add nothing.
"""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

EXACT = 10  # groups, and rails side by side, up to which every order is weighed


@dataclass(frozen=True, slots=True)
class Order:
    """An order of groups with its ``crossings``; no order has fewer than ``least``."""

    places: tuple[int, ...]
    crossings: int
    least: int


def inversions(first: Sequence[int], second: Sequence[int]) -> int:
    """How many wires cross where ``first`` stands above ``second``."""
    ordered = sorted(second)
    return sum(bisect.bisect_left(ordered, end) for end in first)


def best_order(groups: Sequence[Sequence[int]]) -> Order:
    """The order of groups with the fewest crossings; of several the one nearest to the given order.

    Exact for up to `EXACT` groups. Beyond that by the middle of their ends, improved by moving one group at a time;
    ``least`` is then the sum over all pairs of what each costs at least, and says how far the order may be from the
    best.
    """
    count = len(groups)
    cost = [[inversions(a, b) for b in groups] for a in groups]
    least = sum(min(cost[a][b], cost[b][a]) for a, b in itertools.combinations(range(count), 2))
    given = tuple(range(count))
    if _total(cost, given) == least:
        return Order(given, least, least)
    if count > EXACT:
        found = _improved(cost, sorted(given, key=lambda i: (_middle(groups[i]), i)))
        return Order(found, _total(cost, found), least)
    best = _exact(cost)
    return Order(best, _total(cost, best), _total(cost, best))


def _middle(ends: Sequence[int]) -> float:
    return sum(ends) / len(ends) if ends else float("inf")


def _total(cost: Sequence[Sequence[int]], order: Sequence[int]) -> int:
    return sum(cost[a][b] for a, b in itertools.combinations(order, 2))


def _exact(cost: Sequence[Sequence[int]]) -> tuple[int, ...]:
    count = len(cost)

    @cache
    def best(placed: int) -> tuple[int, tuple[int, ...]]:
        """Crossings and order of the groups that are not in the set ``placed``."""
        rest = [i for i in range(count) if not placed >> i & 1]
        if not rest:
            return 0, ()
        options = []
        for i in rest:
            crossed = sum(cost[i][j] for j in rest if j != i)
            below, order = best(placed | 1 << i)
            options.append((crossed + below, (i, *order)))
        return min(options)

    return best(0)[1]


def _improved(cost: Sequence[Sequence[int]], order: list[int]) -> tuple[int, ...]:
    """The order after every move of one group that saves crossings."""
    better = True
    while better:
        better = False
        for group in list(order):
            rest = [i for i in order if i != group]
            at = order.index(group)
            costs = [
                sum(cost[i][group] for i in rest[:k]) + sum(cost[group][i] for i in rest[k:]) for k in range(len(order))
            ]
            if min(costs) < costs[at]:
                rest.insert(costs.index(min(costs)), group)
                order, better = rest, True
    return tuple(order)


def merged(first: Sequence[Sequence[int]], second: Sequence[Sequence[int]]) -> list[tuple[int, int]]:
    """Two rows of blocks made one with the fewest crossings, each row in its order: pairs of row and place in it.

    Of several the one in which the blocks of ``second`` stand last.
    """
    above = [[inversions(a, b) for b in second] for a in first]  # a above b
    under = [[inversions(b, a) for b in second] for a in first]
    rows, columns = len(first), len(second)
    best = [[0] * (columns + 1) for _ in range(rows + 1)]
    for i in range(rows, -1, -1):
        for j in range(columns, -1, -1):
            options = []
            if i < rows:
                options.append(best[i + 1][j] + sum(above[i][j:]))
            if j < columns:
                options.append(best[i][j + 1] + sum(under[k][j] for k in range(i, rows)))
            best[i][j] = min(options, default=0)
    found, i, j = [], 0, 0
    while i < rows or j < columns:
        if i < rows and best[i][j] == best[i + 1][j] + sum(above[i][j:]):
            found.append((0, i))
            i += 1
        else:
            found.append((1, j))
            j += 1
    return found


def straight(ends: Sequence[int]) -> list[int]:
    """The places in ``ends`` of a longest increasing run: wires that may all run straight."""
    tails: list[int] = []
    before: list[int | None] = []
    for i, end in enumerate(ends):
        at = bisect.bisect_left([ends[t] for t in tails], end)
        before.append(tails[at - 1] if at else None)
        tails[at : at + 1] = [i]
    chosen: list[int] = []
    step = tails[-1] if tails else None
    while step is not None:
        chosen.append(step)
        step = before[step]
    return chosen[::-1]


def track_order(spans: Sequence[tuple[float, float]]) -> list[int]:
    """The wires, from the controller outwards, that change their height from the second to the first of each pair.

    Of two wires whose ends keep their order the lower one turns first where both go down, the upper one where both go
    up: then they do not cross. Any two others cross once or never, in whichever tracks they turn.
    """
    down = [i for i, (row, end) in enumerate(spans) if row > end]
    up = [i for i, (row, end) in enumerate(spans) if row <= end]
    return sorted(down, key=lambda i: -spans[i][1]) + sorted(up, key=lambda i: spans[i][1])


def overlapping(spans: Sequence[tuple[float, float]], clear: float) -> Iterator[list[int]]:
    """The spans in groups of which none comes nearer to another than ``clear``."""
    group: list[int] = []
    low = 0.0
    for i in sorted(range(len(spans)), key=lambda i: spans[i]):
        if group and spans[i][0] > low + clear:
            yield group
            group = []
        low = max(low, spans[i][1]) if group else spans[i][1]
        group.append(i)
    if group:
        yield group


def rail_order(rows: Sequence[Sequence[float]]) -> tuple[int, ...]:
    """Rails side by side, given by the heights of their rows, from the outermost inwards: the fewest crossings.

    A row crosses every rail that stands nearer to the devices and reaches over its height. Exact for up to `EXACT`
    rails, beyond that long rails stand outside.
    """
    spans = [(min(heights), max(heights)) for heights in rows]
    if len(rows) > EXACT:
        return tuple(sorted(range(len(rows)), key=lambda i: spans[i][0] - spans[i][1]))
    return _exact([[sum(low < y < high for y in ys) for low, high in spans] for ys in rows])
