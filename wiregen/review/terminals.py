"""Terminals: two functions fixed to one, and more functions than terminals."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context
from wiregen.review.polarity import misfits
from wiregen.review.words import listed
from wiregen.terms import Notice, Where


def assigned_twice(context: Context) -> Iterator[Notice]:
    """Two functions fixed to one terminal, whichever of its pins the scheme names."""
    for device, entries in context.scheme.model.fixed.items():
        first: dict[str, tuple[str, str]] = {}
        for label, those in entries.items():
            terminal = context.devices[device].profile.terminal_of(label)
            channel = terminal.label if terminal else label
            for function in (e.function for e in those if e.function):
                if channel not in first:
                    first[channel] = function, label
                    continue
                other, at = first[channel]
                named = label if label == at else f"{at} and {label} (one terminal)"
                text = f"{device}:{named} is fixed for {other} and for {function}; one terminal serves one function"
                yield Notice(
                    "terminal-assigned-twice", ("fixed", device, label), f"{device}:{channel} {function}", text
                )


def too_few(context: Context) -> Iterator[Notice]:
    """Functions that no allocation can place, each deficient set in one sentence."""
    ends = {end.id: end for function in context.declared.functions for end in function.ends}
    told = _told_elsewhere(context)
    for conflict in context.allocation.conflicts:
        members = [ends[member] for member in conflict.members]
        if members and all(member.id in told for member in members):
            continue
        where: Where = members[0].where if members else ()
        subject = listed(f"{m.function} at {listed(m.devices, 'or')}" for m in members)
        yield Notice("terminals-too-few", where, subject, conflict.says)


def _told_elsewhere(context: Context) -> frozenset[str]:
    """The ends whose conflict has a finding of its own: two fixed to one terminal, or a polarity that is not there."""
    fixed: dict[object, list[str]] = {}
    for end in (end for function in context.declared.functions for end in function.ends):
        if end.fixed:
            fixed.setdefault(end.fixed, []).append(end.id)
    twice = {end for ends in fixed.values() if len(ends) > 1 for end in ends}
    return frozenset(twice | {end.id for _, end in misfits(context)})
