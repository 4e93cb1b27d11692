"""From counts to places: which of the equal ends stands on which of the equal channels."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping

from wiregen.allocation.classes import Counted, Counts, LikeSets

#: End -> channel class.
Dealt = dict[int, int]


def deal(counted: Counted, counts: Counts, stays: Mapping[int, bool]) -> Dealt:
    """Each end's channel class: sets to keep apart are coloured, who stays goes home, the rest follow from the top.

    Ends that find no place are left out.
    """
    left: dict[int, Counter[int]] = defaultdict(Counter)
    for k, j in sorted(counts, key=lambda key: (_top(counted, key[1]), key)):
        left[k][j] = counts[k, j]
    dealt: Dealt = {}
    for like in counted.like:
        dealt |= _apart(counted, like, left)
    for k, end_class in enumerate(counted.ends):
        rest = [end for end in end_class.ends if end not in dealt]
        home = end_class.home
        if home is not None:
            staying = [end for end in rest if stays.get(end)]
            dealt |= dict.fromkeys(staying, home)
            left[k][home] -= len(staying)
            rest = [end for end in rest if end not in dealt]
        dealt |= dict(zip(rest, left[k].elements(), strict=False))
    return dealt


def _top(counted: Counted, j: int) -> int:
    return counted.problem.channels[counted.channels[j].channels[0]].position


def seat(counted: Counted, dealt: Dealt, stays: Mapping[int, bool]) -> dict[int, int]:
    """Each end's channel: who stays keeps its own, the rest take the others of their class as declared."""
    at = {channel.pin: index for index, channel in enumerate(counted.problem.channels)}
    seats: dict[int, int] = {}
    for end in dealt:
        kept = counted.problem.ends[end].kept
        if stays.get(end) and kept is not None:
            seats[end] = at[kept]
    taken = set(seats.values())
    waiting: dict[int, list[int]] = defaultdict(list)
    for end in sorted(dealt.keys() - seats.keys()):
        waiting[dealt[end]].append(end)
    for j, ends in waiting.items():
        free = [channel for channel in counted.channels[j].channels if channel not in taken]
        seats |= dict(zip(ends, free[: len(ends)], strict=True))
    return seats


def _apart(counted: Counted, like: LikeSets, left: dict[int, Counter[int]]) -> Dealt:
    """The members of like sets, no two of one set on one device. Takes what it deals off ``left``."""
    edges: list[tuple[int, int]] = []
    for position, k in enumerate(like.positions):
        earlier = like.positions[:position].count(k)
        share = list(left[k].elements())[earlier * len(like.sets) : (earlier + 1) * len(like.sets)]
        edges += [(position, j) for j in share]
    dealt: Dealt = {}
    colours = colour([(position, counted.channels[j].device) for position, j in edges])
    for (position, j), number in zip(edges, colours, strict=True):
        dealt[like.sets[number][position]] = j
        left[like.positions[position]][j] -= 1
    return dealt


def colour(edges: list[tuple[int, str]]) -> list[int]:
    """A colour for each edge of a bipartite multigraph so that no two at one node are equal, with as few as possible.

    Edge by edge; where the two nodes have no free colour in common, two colours change places along a path. That is the
    constructive proof of König's edge-colouring theorem (1916): as many colours as the largest degree.

    >>> colour([(0, "a"), (0, "b"), (1, "a")])
    [0, 1, 1]
    """
    at: dict[int | str, dict[int, int]] = defaultdict(dict)  # node -> colour -> edge
    chosen: list[int] = []
    for number, (position, device) in enumerate(edges):
        free, theirs = _free(at[position]), _free(at[device])
        if free != theirs:
            _exchange(edges, chosen, at, device, free, theirs)
        chosen.append(free)
        at[position][free] = at[device][free] = number
    return chosen


def _exchange(
    edges: list[tuple[int, str]],
    chosen: list[int],
    at: dict[int | str, dict[int, int]],
    node: int | str,
    a: int,
    b: int,
) -> None:
    """Exchange colours ``a`` and ``b`` along the path that leaves ``node`` with ``a``; ``a`` is then free there."""
    path: list[int] = []
    wanted, other = a, b
    while wanted in at[node]:
        path.append(at[node][wanted])
        position, device = edges[path[-1]]
        node = device if node == position else position
        wanted, other = other, wanted
    for number in path:
        for end in edges[number]:
            del at[end][chosen[number]]
    for number in path:
        chosen[number] = b if chosen[number] == a else a
        for end in edges[number]:
            at[end][chosen[number]] = number


def _free(used: dict[int, int]) -> int:
    return next(c for c in range(len(used) + 1) if c not in used)
