"""Few crossings: in which order groups of wires leave the strip, which of them run straight, and in which track a wire
that does not run straight changes its height.

Ends are numbers, the places of terminals down the controller's edge.
"""

from __future__ import annotations

import bisect
import itertools
from collections.abc import Sequence
from functools import cache

EXACT = 9  # groups up to which every order is weighed


def inversions(first: Sequence[int], second: Sequence[int]) -> int:
    """How many wires cross where ``first`` stands above ``second``."""
    ordered = sorted(second)
    return sum(bisect.bisect_left(ordered, end) for end in first)


def best_order(groups: Sequence[Sequence[int]]) -> list[int]:
    """The order of groups with the fewest crossings; of several the one nearest to the given order.

    Exact for up to `EXACT` groups; beyond that by the middle of their ends.
    """
    count = len(groups)
    if count > EXACT:
        middles = [(sum(g) / len(g) if g else float("inf"), i) for i, g in enumerate(groups)]
        return [i for _, i in sorted(middles)]
    cost = [[inversions(a, b) for b in groups] for a in groups]

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

    return list(best(0)[1])


def insertion(end: int, placed: Sequence[Sequence[int]]) -> int:
    """Where among ``placed`` blocks one with the end ``end`` makes the fewest crossings; the last such place."""
    above = 0
    below = sum(inversions([end], block) for block in placed)
    best, found = below, 0
    for index, block in enumerate(placed, 1):
        above += inversions(block, [end])
        below -= inversions([end], block)
        if above + below <= best:
            best, found = above + below, index
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

    Each is put where it crosses the fewest of those before it.
    """
    order: list[int] = []
    for i in range(len(spans)):
        costs = []
        for at in range(len(order) + 1):
            tried = [*order[:at], i, *order[at:]]
            costs.append((sum(_crossed(spans[a], spans[b]) for a, b in itertools.combinations(tried, 2)), at))
        order.insert(min(costs)[1], i)
    return order


def _crossed(nearer: tuple[float, float], further: tuple[float, float]) -> int:
    """Crossings of two wires in neighbouring tracks, the first one nearer to the controller.

    The outer end of the nearer wire passes the further track, the inner end of the further wire the nearer track.
    """
    outer, inner = nearer[0], further[1]
    return int(min(further) < outer < max(further)) + int(min(nearer) < inner < max(nearer))
