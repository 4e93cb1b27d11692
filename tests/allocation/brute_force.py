"""Exhaustive search over every placing of a small problem. Shares no code with the room that it checks."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.allocation.model import Channel, End, Problem

Placing = tuple[Channel | None, ...]


def serves(end: End, channel: Channel) -> bool:
    """Whether the channel can carry the end at all, polarity of input groups left aside."""
    if channel.keep_free is not None or channel.device not in end.devices or channel.role != end.role:
        return False
    if end.signals and not (end.signals & channel.signals):
        return False
    if end.forms and not (end.forms & channel.forms):
        return False
    if end.load_a is not None and channel.limit_a is not None and end.load_a > channel.limit_a:
        return False
    if end.polarity and channel.polarities and end.polarity not in channel.polarities:
        return False
    if end.fixed is not None and end.fixed != channel.pin:
        return False
    return end.abilities <= channel.abilities


def placings(problem: Problem, drop: bool = False) -> Iterator[Placing]:
    """Every placing that holds; with ``drop`` ends may be left out."""
    options: list[list[Channel | None]] = [
        [*(c for c in problem.channels if serves(end, c)), *([None] if drop else [])] for end in problem.ends
    ]

    def extend(chosen: tuple[Channel | None, ...]) -> Iterator[Placing]:
        if len(chosen) == len(problem.ends):
            yield chosen
            return
        for channel in options[len(chosen)]:
            if (channel is None or channel not in chosen) and holds(problem, (*chosen, channel)):
                yield from extend((*chosen, channel))

    return extend(())


def holds(problem: Problem, chosen: Placing) -> bool:
    """One polarity a group of inputs, and sets to keep apart, for the ends placed so far."""
    allowed: dict[tuple[str, str], set[str]] = {}
    device = {}
    for end, channel in zip(problem.ends, chosen, strict=False):
        if channel is None:
            continue
        device[end.id] = channel.device
        if channel.role == "digital_in":
            key = (channel.device, channel.group)
            left = allowed.setdefault(key, {"source", "sink"})
            if key in dict(problem.polarity):
                left &= {dict(problem.polarity)[key]}
            if end.polarity:
                left &= {end.polarity}
            if channel.polarities:
                left &= channel.polarities
            if not left:
                return False
    for members in problem.apart:
        devices = [device[m] for m in members if m in device]
        if len(devices) != len(set(devices)):
            return False
    return True


def cost(problem: Problem, chosen: Placing) -> tuple[int, ...]:
    """Unplaced, moves, unusual, scarce, together, from the top."""
    placed = [(e, c) for e, c in zip(problem.ends, chosen, strict=True) if c is not None]
    return (
        len(chosen) - len(placed),
        sum(1 for e, c in zip(problem.ends, chosen, strict=True) if e.kept and (c is None or c.pin != e.kept)),
        sum(1 for e, c in placed if e.usual and c.pin not in e.usual),
        sum(c.scarce for _, c in placed),
        len({(e.bundle, e.role, c.device, c.group) for e, c in placed if e.bundle}),
        sum(c.position for _, c in placed),
    )


def least(problem: Problem) -> tuple[int, ...]:
    """The least cost, level by level: of all ends where that is possible, else of as many as can be placed."""
    costs = [cost(problem, chosen) for chosen in placings(problem)]
    return min(costs) if costs else min(cost(problem, chosen) for chosen in placings(problem, drop=True))
