"""What fits where: whether a channel can serve an end, and every obstacle if it cannot."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen.allocation.model import Channel, End, Problem
from wiregen.terms import InternalFault

GroupKey = tuple[str, str]
Declared = dict[GroupKey, str]

BOTH = frozenset({"source", "sink"})


@dataclass(frozen=True, slots=True)
class Obstacle:
    """One reason why a channel cannot serve an end. ``kind`` names the property, ``wanted`` what the end asks of it."""

    kind: str
    wanted: str = ""


def wirings(end: End, channel: Channel, declared: Declared) -> frozenset[str]:
    """The polarities in which ``channel`` may be wired with ``end`` on it; for an input those of its group."""
    allowed = channel.polarities or BOTH
    if channel.role == "digital_in" and (channel.device, channel.group) in declared:
        allowed &= {declared[channel.device, channel.group]}
    return allowed & {end.polarity} if end.polarity else allowed


def obstacles(end: End, channel: Channel, declared: Declared) -> Iterator[Obstacle]:
    """Every reason why ``channel`` cannot serve ``end``; none if it can."""
    if channel.device not in end.devices:
        yield Obstacle("device")
    if channel.role != end.role:
        yield Obstacle("role")
    if channel.keep_free is not None:
        yield Obstacle("keep_free")
    if end.signals and not end.signals & channel.signals:
        yield Obstacle("signals", " or ".join(sorted(end.signals)))
    if not end.abilities <= channel.abilities:
        yield Obstacle("abilities", " and ".join(sorted(end.abilities - channel.abilities)))
    if end.forms and not end.forms & channel.forms:
        yield Obstacle("forms", " or ".join(sorted(end.forms)))
    carries_a = channel.carries_a(end)
    if end.load_a is not None and carries_a is not None and end.load_a > carries_a:
        yield Obstacle("load")
    if not wirings(end, channel, declared):
        yield Obstacle("polarity", end.polarity or "")


def fits(end: End, channel: Channel, declared: Declared) -> bool:
    """Whether ``channel`` can serve ``end``, other ends and ``fixed`` left aside."""
    return next(obstacles(end, channel, declared), None) is None


def check(problem: Problem) -> None:
    """Raises InternalFault where the problem is malformed: an id or a channel twice, an unknown id in ``apart``."""
    ids = {end.id for end in problem.ends}
    if len(ids) != len(problem.ends):
        raise InternalFault("two ends of the allocation have one id")
    if len({channel.pin for channel in problem.channels}) != len(problem.channels):
        raise InternalFault("two channels of the allocation have one name")
    unknown = sorted({member for members in problem.apart for member in members} - ids)
    if unknown:
        raise InternalFault(f"a set to keep apart names {unknown[0]!r}, which is no end")
    wrong = sorted({polarity for _, polarity in problem.polarity} - BOTH)
    if wrong:
        raise InternalFault(f"{wrong[0]!r} is no polarity")
