"""Functions of one bundle together: which bundles have a choice, and a construction that large banks start from."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Hashable
from dataclasses import replace
from heapq import heapify, heappop, heappush

from wiregen.allocation.classes import BundleKey, Counted, Counts, GroupKey, Pair, bundle_of
from wiregen.allocation.dealing import deal


def with_a_choice(counted: Counted, every: bool) -> frozenset[BundleKey]:
    """Bundles of two ends or more that could use two groups or more; with ``every`` all (ends may stay unplaced)."""
    ends = counted.problem.ends
    groups: dict[int, set[GroupKey]] = defaultdict(set)
    for pair in counted.pairs:
        groups[pair.end].add(counted.channels[pair.channel].group)
    size: Counter[BundleKey] = Counter()
    reach: dict[BundleKey, set[GroupKey]] = defaultdict(set)
    for k, end_class in enumerate(counted.ends):
        for end in end_class.ends:
            if ends[end].bundle:
                size[bundle_of(ends[end])] += 1
                reach[bundle_of(ends[end])] |= groups[k]
    return frozenset(b for b, number in size.items() if every or (number > 1 and len(reach[b]) > 1))


def used(counted: Counted, counts: Counts) -> set[tuple[BundleKey, GroupKey]]:
    """Which bundle uses which group."""
    found = set()
    for (k, j), number in counts.items():
        bundle = counted.ends[k].bundle
        if number and bundle is not None:
            found.add((bundle, counted.channels[j].group))
    return found


def narrowed(counted: Counted, *choices: Counts) -> Counted:
    """``counted`` with each bundle held to the groups that it uses in one of ``choices``."""
    pattern = set().union(*(used(counted, counts) for counts in choices))
    pairs = []
    for pair in counted.pairs:
        bundle = counted.ends[pair.end].bundle
        if bundle is None or (bundle, counted.channels[pair.channel].group) in pattern:
            pairs.append(pair)
    return replace(counted, pairs=tuple(pairs))


def construct(coarse: Counted, counts: Counts, fine: Counted) -> tuple[Counts, ...]:
    """Two placings at the cost of ``counts`` on every level before ``together``, with bundles mostly whole.

    Who is fixed, stays or must be kept apart stands where ``counts`` has it. The rest is dealt freely within each
    kind's share of scarce channels, which may leave some over, and within the places of ``counts``, which leaves none.
    """
    stands, rest = _settled(coarse, counts)
    return tuple(_best_fit(_Stock(coarse, fine, rest, stands, free), fine, stands) for free in (True, False))


def _settled(coarse: Counted, counts: Counts) -> tuple[dict[int, int], Counts]:
    """End -> channel class of those whose place is not for choice here, and the places left for all others."""
    in_sets = {k for like in coarse.like for k in like.positions} | {k for classes, _ in coarse.limits for k in classes}
    stays: dict[int, bool] = {}
    for k, end_class in enumerate(coarse.ends):
        if end_class.home is not None:
            stays |= dict.fromkeys(end_class.ends[: counts.get((k, end_class.home), 0)], True)
    dealt = deal(coarse, counts, stays)
    class_of = {end: k for k, end_class in enumerate(coarse.ends) for end in end_class.ends}
    fixed = {end for end in dealt if coarse.problem.ends[end].fixed}
    stands = {end: j for end, j in dealt.items() if stays.get(end) or end in fixed or class_of[end] in in_sets}
    rest = Counter(counts)
    for end, j in stands.items():
        rest[class_of[end], j] -= 1
    return stands, {key: number for key, number in rest.items() if number}


#: So many ends of a fine class on channels of a class.
Pick = tuple[int, int, int]


class _Stock:
    """What is left to give: channels by class, each kind's share of the costs so far, and how groups have been wired.

    ``free``: an end may take any channel that costs its kind the same; otherwise only those of the given counts.
    """

    def __init__(self, coarse: Counted, fine: Counted, rest: Counts, stands: dict[int, int], free: bool) -> None:
        kind_of = {end: k for k, end_class in enumerate(coarse.ends) for end in end_class.ends}
        self._kind = [kind_of[end_class.ends[0]] for end_class in fine.ends]
        self._free = free
        self._fine = fine
        self._by_group: dict[GroupKey, dict[int, list[Pair]]] = defaultdict(lambda: defaultdict(list))
        self._channels: dict[GroupKey, list[int]] = defaultdict(list)
        self._wired: dict[GroupKey, str] = {}
        pairs = {}
        for pair in sorted(fine.pairs, key=self._cost):
            self._by_group[fine.channels[pair.channel].group][pair.end].append(pair)
            pairs[pair.end, pair.channel] = pair
        self._share: Counter[Hashable] = Counter()
        for pair in coarse.pairs:
            self._share[self._key(pair.end, pair)] += rest.get((pair.end, pair.channel), 0)
        self._room = {j: len(c.channels) for j, c in enumerate(fine.channels)}
        for j, channel in enumerate(fine.channels):
            self._channels[channel.group].append(j)
        of_end = {end: k for k, end_class in enumerate(fine.ends) for end in end_class.ends}
        for end, j in stands.items():
            self._occupy(pairs[of_end[end], j], 1)

    def groups(self) -> list[tuple[GroupKey, int]]:
        """Groups with room left, and how much."""
        left = ((group, sum(self._room[j] for j in self._channels[group])) for group in self._by_group)
        return [(group, room) for group, room in left if room]

    def offer(self, need: dict[int, int], group: GroupKey) -> list[Pick]:
        """What of ``need`` fits into ``group`` now; the choosiest ends first."""
        picks: list[Pick] = []
        room, share = Counter[int](), Counter[Hashable]()
        wired = self._wired.get(group)
        here = self._by_group[group]
        for k in sorted((k for k in need if need[k] and k in here), key=lambda k: (len(here[k]), k)):
            wanted = need[k]
            for pair in here[k]:
                key = self._key(self._kind[k], pair)
                number = min(wanted, self._room[pair.channel] - room[pair.channel], self._share[key] - share[key])
                if number > 0 and (group[1] != "digital_in" or wired is None or wired in pair.wirings):
                    picks.append((k, pair.channel, number))
                    room[pair.channel] += number
                    share[key] += number
                    wanted -= number
                    wired = min(pair.wirings) if len(pair.wirings) == 1 else wired
        return picks

    def take(self, picks: list[Pick], group: GroupKey) -> None:
        for k, j, number in picks:
            pair = next(pair for pair in self._by_group[group][k] if pair.channel == j)
            self._share[self._key(self._kind[k], pair)] -= number
            self._occupy(pair, number)

    def _occupy(self, pair: Pair, number: int) -> None:
        self._room[pair.channel] -= number
        group = self._fine.channels[pair.channel].group
        if len(pair.wirings) == 1 and group[1] == "digital_in":
            self._wired[group] = min(pair.wirings)

    def _cost(self, pair: Pair) -> tuple[int, int, int]:
        return pair.move, pair.unusual, self._fine.channels[pair.channel].scarce

    def _key(self, kind: int, pair: Pair) -> Hashable:
        return (kind, self._cost(pair)) if self._free else (kind, pair.channel)


def _best_fit(stock: _Stock, fine: Counted, stands: dict[int, int]) -> Counts:
    """The largest piece of a bundle first, into the group that takes most of it and then keeps fewest channels free."""
    of_end = {end: k for k, end_class in enumerate(fine.ends) for end in end_class.ends}
    result = Counter((of_end[end], j) for end, j in stands.items())
    waiting: dict[BundleKey | None, dict[int, int]] = defaultdict(dict)
    for k, end_class in enumerate(fine.ends):
        waiting[end_class.bundle][k] = sum(end not in stands for end in end_class.ends)
    loose = waiting.pop(None, {})
    heap = [
        (-sum(need.values()), bundle) for bundle, need in waiting.items() if bundle is not None and any(need.values())
    ]
    heapify(heap)
    while heap:
        _, bundle = heappop(heap)
        need = waiting[bundle]
        if _settle_piece(stock, need, result) and any(need.values()):
            heappush(heap, (-sum(need.values()), bundle))
    while any(loose.values()) and _settle_piece(stock, loose, result):
        pass
    return dict(result)


def _settle_piece(stock: _Stock, need: dict[int, int], result: Counter[tuple[int, int]]) -> bool:
    """Places what the best group takes of ``need``; False where no group takes any."""
    best: tuple[int, int, GroupKey] | None = None
    picks: list[Pick] = []
    for group, room in stock.groups():
        offer = stock.offer(need, group)
        taken = sum(number for _, _, number in offer)
        if taken and (best is None or (-taken, room - taken, group) < best):
            best, picks = (-taken, room - taken, group), offer
    if best is None:
        return False
    group = best[2]
    stock.take(picks, group)
    for k, j, number in picks:
        need[k] -= number
        result[k, j] += number
    return True
