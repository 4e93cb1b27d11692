"""How few groups bundles can use at best, from their sizes alone: bounds that need no solver."""

from __future__ import annotations

import math
from collections import defaultdict

from wiregen.allocation.classes import BundleKey, Counted, GroupKey


def least_groups(counted: Counted) -> dict[BundleKey, int]:
    """For each bundle a number of groups below which it cannot get: by the largest group, and by its polarities."""
    ends: dict[BundleKey, set[int]] = defaultdict(set)
    room: dict[BundleKey, dict[GroupKey, set[int]]] = defaultdict(lambda: defaultdict(set))
    polarities: dict[int, set[str]] = defaultdict(set)
    for pair in counted.pairs:
        bundle, channel = counted.ends[pair.end].bundle, counted.channels[pair.channel]
        if bundle is not None:
            ends[bundle].add(pair.end)
            room[bundle][channel.group].update(channel.channels)
            polarities[pair.end].update(pair.wirings)
    least = {}
    for bundle, classes in ends.items():
        size = sum(len(counted.ends[k].ends) for k in classes)
        largest = max(len(channels) for channels in room[bundle].values())
        opposed = bundle[1] == "digital_in" and {frozenset(polarities[k]) for k in classes} >= {
            frozenset({"source"}),
            frozenset({"sink"}),
        }
        least[bundle] = max(math.ceil(size / largest), 2 if opposed else 1)
    return least


def least_together(counted: Counted, moves: int) -> int:
    """A number of groups below which all bundles together cannot get, if all ends are placed with so many moves.

    A bundle uses every group in which one of its ends stays, and each move that could be avoided saves one at most.
    """
    homes: dict[BundleKey, set[GroupKey]] = defaultdict(set)
    can_stay = set()
    for pair in counted.pairs:
        bundle = counted.ends[pair.end].bundle
        if counted.ends[pair.end].kept and not pair.move:
            can_stay.add(pair.end)
            if bundle is not None:
                homes[bundle].add(counted.channels[pair.channel].group)
    sure = sum(len(c.ends) for k, c in enumerate(counted.ends) if c.kept and k not in can_stay)
    least = least_groups(counted)
    stay = sum(max(number, len(homes[bundle])) for bundle, number in least.items())
    return max(sum(least.values()), stay - (moves - sure))
