"""Equal ends and equal channels, counted: the allocation as numbers of each kind of end on each kind of channel.

The integer program then grows with the kinds, not with the ends, and equal ends cannot be permuted. Sets to keep apart
that are alike are counted together too: m of them are edges between the positions of a set and the devices, at most m
at each, so by König's theorem (a bipartite multigraph needs as many colours as its largest degree) they can be dealt to
m sets.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Hashable, Iterable
from dataclasses import dataclass

from wiregen.allocation.model import Channel, End, Problem
from wiregen.allocation.problem import Declared, fits, wirings
from wiregen.terms import Pin

#: What shares a cable and a kind of terminal: the bundle and the role of its ends.
BundleKey = tuple[str, str]
#: Channels that ``together`` counts as one: device, role and group.
GroupKey = tuple[str, str, str]
#: (end class, channel class) -> how many ends.
Counts = dict[tuple[int, int], int]


@dataclass(frozen=True, slots=True)
class ChannelClass:
    """Equal channels by index, from the top."""

    channels: tuple[int, ...]
    device: str
    group: GroupKey
    scarce: int


@dataclass(frozen=True, slots=True)
class EndClass:
    """Equal ends by index, in declared order. ``kept``: each has a kept channel; ``home``: the class of these."""

    ends: tuple[int, ...]
    kept: bool
    home: int | None
    bundle: BundleKey | None


@dataclass(frozen=True, slots=True)
class Pair:
    """Ends of class ``end`` may stand on channels of class ``channel`` at this cost, wired in one of ``wirings``."""

    end: int
    channel: int
    move: int
    unusual: int
    wirings: frozenset[str]


@dataclass(frozen=True, slots=True)
class LikeSets:
    """Sets to keep apart that are alike: ``positions`` are the classes of each set's members, ``sets`` their ends."""

    positions: tuple[int, ...]
    sets: tuple[tuple[int, ...], ...]


@dataclass(frozen=True, slots=True)
class Counted:
    """A part of the problem by classes. ``limits``: at most so many ends of these classes on one device."""

    problem: Problem
    ends: tuple[EndClass, ...]
    channels: tuple[ChannelClass, ...]
    pairs: tuple[Pair, ...]
    like: tuple[LikeSets, ...]
    limits: tuple[tuple[tuple[int, ...], int], ...]


def count(problem: Problem, bundles: frozenset[BundleKey] = frozenset()) -> Counted:
    """``problem`` by classes. Only ``bundles`` are told apart: those for which ``together`` has a choice."""
    declared = dict(problem.polarity)
    channels = _channel_classes(problem)
    of_pin = {problem.channels[i].pin: j for j, c in enumerate(channels) for i in c.channels}
    keys = [_end_key(end, of_pin, bundles, in_set) for end, in_set in zip(problem.ends, _in_sets(problem), strict=True)]
    signatures = _signatures(problem, keys)
    members: dict[Hashable, list[int]] = {}
    for index, key in enumerate(zip(keys, signatures, strict=True)):
        members.setdefault(key, []).append(index)
    ends = tuple(_end_class(problem, tuple(indices), of_pin, bundles) for indices in members.values())
    like, limits = _apart(problem, signatures, ends)
    return Counted(problem, ends, channels, _pairs(problem, ends, channels, declared), like, limits)


def bundle_of(end: End) -> BundleKey:
    """The bundle of an end, apart for each role: inputs and outputs do not gather."""
    return end.bundle, end.role


def group_of(channel: Channel) -> GroupKey:
    """The group of a channel, named so that no two devices share one."""
    return channel.device, channel.role, channel.group


def _channel_classes(problem: Problem) -> tuple[ChannelClass, ...]:
    special = _special(problem.ends)
    members: dict[Hashable, list[int]] = {}
    for index, c in enumerate(problem.channels):
        if c.keep_free is None:
            own = c.name if c.pin in special else None
            able = (c.signals, c.polarities, c.abilities, c.forms, c.limit_a, c.limit_ac_a, c.limit_ac_v)
            members.setdefault((group_of(c), able, c.scarce, own), []).append(index)
    firsts = ((problem.channels[indices[0]], tuple(indices)) for indices in members.values())
    return tuple(ChannelClass(indices, c.device, group_of(c), c.scarce) for c, indices in firsts)


def _special(ends: tuple[End, ...]) -> set[Pin]:
    """Channels that mean something to one end and not to its equals: fixed, usual, or kept by two ends."""
    fixed = {end.fixed for end in ends if end.fixed}
    usual = {pin for end in ends if not end.fixed for pin in end.usual}
    kept = Counter(end.kept for end in ends if end.kept)
    return fixed | usual | {pin for pin, times in kept.items() if times > 1}


def _in_sets(problem: Problem) -> list[tuple[int, ...]]:
    """For each end the sets to keep apart that hold it."""
    found: dict[str, list[int]] = {end.id: [] for end in problem.ends}
    for number, members in enumerate(problem.apart):
        for member in members:
            found[member].append(number)
    return [tuple(found[end.id]) for end in problem.ends]


def _end_key(end: End, of_pin: dict[Pin, int], bundles: frozenset[BundleKey], in_sets: tuple[int, ...]) -> Hashable:
    needs = (
        frozenset(end.devices),
        end.role,
        end.signals,
        end.forms,
        end.polarity,
        end.abilities,
        end.load_a,
        end.load_ac_v,
        end.usual,
    )
    home = (end.kept is not None, of_pin.get(end.kept) if end.kept else None)
    # A fixed end is like no other; nor is one that must be kept apart and has a kept channel: who of its equals stays
    # would matter.
    own = end.id if end.fixed or (end.kept and in_sets) else None
    return needs, home, bundle_of(end) if bundle_of(end) in bundles else None, own


def _signatures(problem: Problem, keys: list[Hashable]) -> list[Hashable]:
    """What an end's sets to keep apart have in common with others: the keys of all members, or the sets themselves."""
    in_sets = _in_sets(problem)
    index = {end.id: number for number, end in enumerate(problem.ends)}
    first_number: dict[Hashable, int] = {}
    numbers = [first_number.setdefault(key, len(first_number)) for key in keys]
    signatures: list[Hashable] = [None] * len(keys)
    for number, names in enumerate(problem.apart):
        members = [index[name] for name in names]
        alone = all(in_sets[member] == (number,) for member in members)
        for member in members:
            signatures[member] = ("like", *sorted(numbers[m] for m in members)) if alone else ("own", *in_sets[member])
    return signatures


def _end_class(
    problem: Problem, indices: tuple[int, ...], of_pin: dict[Pin, int], bundles: frozenset[BundleKey]
) -> EndClass:
    end = problem.ends[indices[0]]
    home = of_pin.get(end.kept) if end.kept else None
    return EndClass(indices, end.kept is not None, home, bundle_of(end) if bundle_of(end) in bundles else None)


def _apart(
    problem: Problem, signatures: list[Hashable], ends: tuple[EndClass, ...]
) -> tuple[tuple[LikeSets, ...], tuple[tuple[tuple[int, ...], int], ...]]:
    class_of = {index: k for k, c in enumerate(ends) for index in c.ends}
    index = {end.id: number for number, end in enumerate(problem.ends)}
    alike: dict[Hashable, list[tuple[int, ...]]] = {}
    for number, names in enumerate(problem.apart):
        members = tuple(sorted((index[name] for name in names), key=lambda m: (class_of[m], m)))
        signature = signatures[members[0]]
        like = isinstance(signature, tuple) and signature[0] == "like"
        alike.setdefault(signature if like else ("set", number), []).append(members)
    positions = {key: tuple(class_of[m] for m in sets[0]) for key, sets in alike.items()}
    like_sets = tuple(
        LikeSets(positions[key], tuple(sets))
        for key, sets in alike.items()
        if isinstance(key, tuple) and key[0] == "like"
    )
    limits = tuple((tuple(sorted(set(positions[key]))), len(sets)) for key, sets in alike.items())
    return like_sets, limits


def _pairs(
    problem: Problem, ends: tuple[EndClass, ...], channels: tuple[ChannelClass, ...], declared: Declared
) -> tuple[Pair, ...]:
    by_place: dict[tuple[str, str], list[int]] = {}
    for j, channel_class in enumerate(channels):
        by_place.setdefault((channel_class.device, channel_class.group[1]), []).append(j)
    pairs = []
    for k, end_class in enumerate(ends):
        end = problem.ends[end_class.ends[0]]
        for j in _candidates(end, by_place):
            channel = problem.channels[channels[j].channels[0]]
            if fits(end, channel, declared) and end.fixed in (None, channel.pin):
                move = int(end_class.kept and end_class.home != j)
                unusual = int(bool(end.usual) and channel.pin not in end.usual)
                pairs.append(Pair(k, j, move, unusual, wirings(end, channel, declared)))
    return tuple(pairs)


def _candidates(end: End, by_place: dict[tuple[str, str], list[int]]) -> Iterable[int]:
    return sorted({j for device in end.devices for j in by_place.get((device, end.role), ())})
