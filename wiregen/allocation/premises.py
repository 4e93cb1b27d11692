"""What an allocation problem rests on, piece by piece: the problem as it is while only some of it holds.

A need: an end is to be placed. A profile: a device has the terminals of its type and no others; without it the device
has whatever its ends need. A polarity: a group is wired one way. Kept free: no function stands on a channel. Apart:
ends stand on different devices. Fixed: an end stands where `fixed` puts it.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from wiregen.allocation import words
from wiregen.allocation.levels import feasible
from wiregen.allocation.model import Channel, End, Problem
from wiregen.allocation.narrowing import minimal
from wiregen.allocation.problem import BOTH, Declared, fits
from wiregen.control.functions import Premise
from wiregen.terms import Pin

NEED, PROFILE, POLARITY, KEPT_FREE, APART, FIXED = "need", "profile", "polarity", "keep free", "apart", "fixed"
#: Between the ids of a set, which hold blanks themselves.
APART_MARK = " | "
#: Kind, and what it is about: the id of an end, a device, a device and a group, a pin, the ids of a set.
Key = tuple[str, ...]


def core(problem: Problem, needs: Sequence[End]) -> tuple[Premise, ...]:
    """Premises that cannot hold together while without any one of them the others can.

    ``needs`` cannot all be placed, and any one of them left out the others can, with everything else in force. From
    firm to soft: needs, profiles, polarities, what is kept free, sets apart, what is fixed.
    """
    devices = {device for end in needs for device in end.devices}
    problem = replace(problem, channels=tuple(c for c in problem.channels if c.device in devices))
    held: list[Key] = [(NEED, end.id) for end in needs]
    known, open_question = _beside(problem, needs)
    held += known
    if feasible(within(problem, held)):
        held += minimal(open_question, lambda some: feasible(within(problem, [*held, *some])))
    order = {kind: number for number, kind in enumerate((NEED, PROFILE, POLARITY, KEPT_FREE, APART, FIXED))}
    return tuple(_premise(problem, key, needs) for key in sorted(held, key=lambda key: order[key[0]]))


def within(problem: Problem, keys: Collection[Key]) -> Problem:
    """``problem`` while only the premises ``keys`` hold."""
    holds = frozenset(keys)
    apart = tuple(members for members in problem.apart if (APART, *members) in holds)
    separated = {member for members in apart for member in members}
    ends: list[End] = []
    channels = [_freed(channel, holds) for channel in problem.channels]
    for end in (end for end in problem.ends if (NEED, end.id) in holds):
        if (FIXED, end.id) not in holds:
            end = replace(end, fixed=None)
        unlimited = [d for d in end.devices if (PROFILE, d) not in holds and end.fixed in (None, _at(d, end.fixed))]
        if not unlimited:
            ends.append(end)
        elif end.id in separated:
            channels += [_wanted(end, device) for device in unlimited]
            ends.append(replace(end, fixed=_wanted(end, unlimited[0]).pin if end.fixed else None))
    left = {end.id for end in ends}
    sets = (tuple(member for member in members if member in left) for members in apart)
    return Problem(
        ends=tuple(ends),
        channels=tuple(channels),
        polarity=tuple(item for item in problem.polarity if (POLARITY, *item[0]) in holds),
        apart=tuple(members for members in sets if len(members) > 1),
    )


def _freed(channel: Channel, holds: Collection[Key]) -> Channel:
    if channel.keep_free is None or (KEPT_FREE, str(channel.pin)) in holds:
        return channel
    return replace(channel, keep_free=None)


def _at(device: str, pin: Pin | None) -> Pin | None:
    """``pin`` where it is one of the device, else another that is nobody's."""
    return pin if pin is not None and pin.device == device else Pin(device, "")


def _wanted(end: End, device: str) -> Channel:
    """A channel such as the end needs, on a device whose profile does not hold."""
    name = f"for {end.id}"
    return Channel(device, name, (name,), end.role, name, end.signals, BOTH, end.abilities, end.forms, 0)


def _beside(problem: Problem, needs: Sequence[End]) -> tuple[list[Key], list[Key]]:
    """Beside the needs, premises that belong to every such set, and those of which that is not known.

    Without the profile of a device an end that may stand there, and stands apart from none, is no longer in the way;
    and without any one end the others fit. So such a profile belongs to it.
    """
    ids = {end.id for end in needs}
    sets = [members for members in problem.apart if len(ids.intersection(members)) > 1]
    separated = {member for members in sets for member in members}
    devices = list(dict.fromkeys(device for end in needs for device in end.devices))
    sure = {
        device
        for end in needs
        if end.id not in separated
        for device in end.devices
        if end.fixed is None or end.fixed.device == device
    }
    roles = {end.role for end in needs}
    here = [c for c in problem.channels if c.device in devices and c.role in roles]
    groups = {(c.device, c.group) for c in here if c.role == "digital_in"}
    unsure: list[Key] = [(PROFILE, device) for device in devices if device not in sure]
    unsure += [(POLARITY, *group) for group, _ in problem.polarity if group in groups]
    unsure += [(KEPT_FREE, str(c.pin)) for c in here if c.keep_free is not None]
    unsure += [(APART, *members) for members in sets]
    unsure += [(FIXED, end.id) for end in needs if end.fixed]
    return [(PROFILE, device) for device in devices if device in sure], unsure


def _premise(problem: Problem, key: Key, needs: Sequence[End]) -> Premise:
    """The premise with its place in the scheme, where the problem knows it, and in words."""
    known = next((p for p in problem.grounds if p.kind == key[0] and _about(p, key)), None)
    where = known.where if known else ()
    if key[0] in (NEED, FIXED):
        end = next(end for end in needs if end.id == key[1])
        if key[0] == NEED:
            at = f" at {words.listed(end.devices, 'or')}" if end.devices else ""
            return Premise(NEED, end.id, end.where, f"{end.function}{at} needs {words.article(words.exact_need(end))}")
        return Premise(FIXED, end.id, where, f"{end.function} is fixed at {end.fixed}")
    says = {
        PROFILE: lambda: _profile(problem, key[1], needs, known.says if known else ""),
        POLARITY: lambda: _polarity(problem, key, known.says if known else ""),
        KEPT_FREE: lambda: next(f"{c.pin} is kept free ({c.keep_free})" for c in problem.channels if _is(c, key)),
        APART: lambda: _apart(problem, key),
    }[key[0]]()
    return Premise(key[0], subject(key), where, says)


def subject(key: Key) -> str:
    """What a premise is about, as one text."""
    return (APART_MARK if key[0] == APART else " ").join(key[1:])


def _about(ground: Premise, key: Key) -> bool:
    """Of a set to keep apart a part of the problem knows only its own members."""
    if key[0] == APART:
        return set(key[1:]) <= set(ground.subject.split(APART_MARK))
    return ground.subject == subject(key)


def _is(channel: Channel, key: Key) -> bool:
    return channel.keep_free is not None and str(channel.pin) == key[1]


def _profile(problem: Problem, device: str, needs: Sequence[End], name: str) -> str:
    declared: Declared = dict(problem.polarity)
    there = [c for c in problem.channels if c.device == device]
    if all(end.fixed for end in needs):
        there = [c for c in there if any(end.fixed == c.pin for end in needs)]
    serving = [c for c in there if any(fits(end, c, declared) for end in needs)]
    has = "has none that serves"
    if serving:
        serve = "serves" if len(serving) == 1 else "serve"
        has = f"has {words.number(len(serving))} that {serve}: {words.terminals(serving)}"
    return f"{device}{f' ({name})' if name else ''} {has}"


def _polarity(problem: Problem, key: Key, beside: str) -> str:
    polarity = dict(problem.polarity)[key[1], key[2]]
    return f"{' '.join(key[1:])} is wired for {words.switching(polarity)}{beside}"


def _apart(problem: Problem, key: Key) -> str:
    names = {end.id: end.function for end in problem.ends}
    return f"{words.listed(names.get(member, member) for member in key[1:])} must stand on different devices"
