"""Conflicts that are no shortage: terminals would be enough, but polarities or separation leave no way."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from wiregen.allocation import words
from wiregen.allocation.levels import feasible, may_clash, shortage
from wiregen.allocation.model import Channel, Conflict, End, Problem
from wiregen.allocation.narrowing import minimal
from wiregen.allocation.premises import core
from wiregen.allocation.problem import Declared, fits


def find(part: Problem) -> list[Conflict]:
    """Disjoint minimal sets of ends that cannot all be placed, until the rest can."""
    found = []
    rest = part
    while not feasible(rest):
        members = _minimal(rest)
        found.append(_conflict(part, members))
        gone = {end.id for end in members}
        rest = restricted(rest, [end for end in rest.ends if end.id not in gone])
    return found


def fewest(part: Problem, ends: list[End]) -> list[End]:
    """Of ends that are one too many for their channels those that cannot all be placed: fewer, if they clash."""
    return _narrowed(part, ends) if may_clash(restricted(part, ends)) else ends


def restricted(part: Problem, ends: Sequence[End]) -> Problem:
    """``part`` with only these ends."""
    ids = {end.id for end in ends}
    sets = (tuple(member for member in members if member in ids) for members in part.apart)
    return replace(part, ends=tuple(ends), apart=tuple(members for members in sets if len(members) > 1))


def _minimal(part: Problem) -> list[End]:
    """A set of ends that cannot all be placed, while without any one of them the others can.

    Fixed ends come last, so that needs that nobody can take back are named first.
    """
    return _narrowed(part, _suspects(part) or _one_role(part) or list(part.ends))


def _narrowed(part: Problem, ends: list[End]) -> list[End]:
    ends = sorted(ends, key=lambda end: end.fixed is not None)
    found = {end.id for end in minimal(ends, lambda some: feasible(restricted(part, some)))}
    return [end for end in part.ends if end.id in found]


def _suspects(part: Problem) -> list[End]:
    """The ends that the relaxed program alone proves to be too many; none where only whole numbers stand in the way."""
    short = shortage(part)
    ends = [end for end in part.ends if end.id in short]
    return ends if ends and not feasible(restricted(part, ends)) else []


def _one_role(part: Problem) -> list[End]:
    """The ends of the first role that is in conflict by itself: most conflicts stay within one."""
    for role in dict.fromkeys(end.role for end in part.ends):
        ends = [end for end in part.ends if end.role == role]
        if len(ends) < len(part.ends) and not feasible(restricted(part, ends)):
            return ends
    return []


def _conflict(part: Problem, members: list[End]) -> Conflict:
    clash = restricted(part, members)
    declared = dict(clash.polarity)
    channels = [c for c in clash.channels if any(_may_take(end, c, declared) for end in clash.ends)]
    says = [say(clash, channels) for relaxed, say in _FAMILIES if feasible(relaxed(clash))]
    if not says:
        says = [f"{words.functions(clash.ends)} cannot all be placed, for more than one reason at once"]
    fixed = [f"{end.function} is fixed at {end.fixed}" for end in clash.ends if end.fixed]
    if fixed:
        cure = ", and it would fit if that were not so" if feasible(_not_fixed(clash)) else ""
        says.append(words.listed(fixed) + cure)
    ids, pins = tuple(end.id for end in clash.ends), tuple(str(c.pin) for c in channels)
    return Conflict(ids, pins, "; ".join(says), core(part, clash.ends))


def _may_take(end: End, channel: Channel, declared: Declared) -> bool:
    return fits(end, channel, declared) and end.fixed in (None, channel.pin)


def _not_fixed(clash: Problem) -> Problem:
    return replace(clash, ends=tuple(replace(end, fixed=None) for end in clash.ends))


def _any_polarity(clash: Problem) -> Problem:
    ends = tuple(replace(end, polarity=None) for end in clash.ends)
    channels = tuple(replace(channel, polarities=frozenset()) for channel in clash.channels)
    return replace(clash, ends=ends, channels=channels, polarity=())


def _not_apart(clash: Problem) -> Problem:
    return replace(clash, apart=())


def _say_polarity(clash: Problem, channels: list[Channel]) -> str:
    asks = []
    for polarity in ("source", "sink"):
        ends = [end for end in clash.ends if end.polarity == polarity and end.role == "digital_in"]
        if ends:
            asks.append(f"{words.functions(ends)} {_verb('need', ends)} {words.switching(polarity)}")
    others = [end for end in clash.ends if end.polarity is None or end.role != "digital_in"]
    beside = f" (beside {words.functions(others)})" if others else ""
    groups: dict[tuple[str, str], list[Channel]] = {}
    for channel in channels:
        if channel.role == "digital_in":
            groups.setdefault((channel.device, channel.group), []).append(channel)
    there = words.listed(f"{device} {words.terminals(inputs)}" for (device, _), inputs in groups.items())
    be = "group is" if len(groups) == 1 else "groups are"
    return f"{' and '.join(asks)}{beside}, but the inputs of one group share one polarity, and the {be} {there}"


def _say_apart(clash: Problem, channels: list[Channel]) -> str:
    ids = {end.id: end for end in clash.ends}
    sets = [[ids[member] for member in members] for members in clash.apart]
    says = [f"{words.functions(ends)} must stand on different devices" for ends in sets]
    alone = [end for end in clash.ends if not any(end in ends for ends in sets)]
    beside = f" (beside {words.functions(alone)})" if alone else ""
    devices = list(dict.fromkeys(channel.device for channel in channels))
    there = f"only {words.listed(devices)} can take them"
    if len(devices) >= max(len(ends) for ends in sets):
        there = f"of those that can take them {words.having(channels)}"
    return f"{' and '.join(says)}{beside}, but {there}"


def _verb(verb: str, ends: Sequence[End]) -> str:
    return f"{verb}s" if len(ends) == 1 else verb


#: Families of constraints: a problem without them, and what to say where that cures the conflict.
_FAMILIES: tuple[tuple[Callable[[Problem], Problem], Callable[[Problem, list[Channel]], str]], ...] = (
    (_any_polarity, _say_polarity),
    (_not_apart, _say_apart),
)
