"""From places to the answer: the pins of a channel that a function uses, its signal and form, its group's polarity."""

from __future__ import annotations

from wiregen.allocation.model import Assignment, Channel, End, Problem
from wiregen.allocation.problem import wirings

#: Most wanted first. Of several signals that serve, the one that shows a broken wire comes first.
SIGNALS = ("4-20 mA", "0-20 mA", "0-10 V", "-10-10 V")
FORMS = ("NO", "NC", "changeover", "transistor")


def assignments(problem: Problem, placed: dict[str, Channel]) -> tuple[Assignment, ...]:
    """One for each placed end, in declared order."""
    wired = _group_polarities(problem, placed)
    return tuple(_assignment(end, placed[end.id], wired) for end in problem.ends if end.id in placed)


def _assignment(end: End, channel: Channel, wired: dict[tuple[str, str], str]) -> Assignment:
    form = _chosen((end.forms & channel.forms) if end.forms else channel.forms, FORMS)
    return Assignment(
        function=end.function,
        device=channel.device,
        channel=channel.name,
        pins=pins(channel, form),
        form=form,
        signal=_chosen(end.signals & channel.signals, SIGNALS),
        polarity=_polarity(channel, wired),
        usual=not end.usual or channel.pin in end.usual,
        moved=end.kept is not None and channel.pin != end.kept,
        end=end.id,
    )


def pins(channel: Channel, form: str) -> tuple[str, ...]:
    """The pins used: of a changeover (common, break, make) only those of the chosen contact."""
    if len(channel.pins) == 3 and "changeover" in channel.forms:
        common, rest, work = channel.pins
        return {"NO": (common, work), "NC": (common, rest)}.get(form, channel.pins)
    return channel.pins


def _chosen(offered: frozenset[str], wanted: tuple[str, ...]) -> str:
    return min(offered, key=lambda o: (wanted.index(o) if o in wanted else len(wanted), o), default="")


def _polarity(channel: Channel, wired: dict[tuple[str, str], str]) -> str:
    if channel.role == "digital_in":
        return wired[channel.device, channel.group]
    return min(channel.polarities) if "transistor" in channel.forms and len(channel.polarities) == 1 else ""


def _group_polarities(problem: Problem, placed: dict[str, Channel]) -> dict[tuple[str, str], str]:
    """How each used group of inputs is wired: as declared, as its ends and channels need, else source."""
    declared = dict(problem.polarity)
    left: dict[tuple[str, str], frozenset[str]] = {}
    for end in problem.ends:
        channel = placed.get(end.id)
        if channel is not None and channel.role == "digital_in":
            key = channel.device, channel.group
            left[key] = left.get(key, frozenset({"source", "sink"})) & wirings(end, channel, declared)
    return {key: "source" if "source" in polarities else min(polarities) for key, polarities in left.items()}
