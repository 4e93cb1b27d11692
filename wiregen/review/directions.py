"""Directions of travel: both at once, said twice, limits at their ends; up and down of a motor potentiometer."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function, Leg
from wiregen.review.context import Context, called, legs_of
from wiregen.review.stops import LIMITS, inputs_of_drives
from wiregen.terms import Notice

_REVERSING = ("start reverse", "run reverse", "reverse", "jog reverse")


def both_at_once(context: Context) -> Iterator[Notice]:
    """Forward and reverse that can be closed together, and nothing said of what the drive does then."""
    for drive, runs in context.declared.runs:
        declared = context.scheme.model.control[drive].run
        for run in runs:
            said = declared.named[run.name] if declared else None
            pair = _pair(context, drive, run.name)
            if said is None or said.both or pair is None or _exclude_each_other(*pair):
                continue
            text = f"{called(pair[0])} and {called(pair[1])} can both be closed; nothing says what {drive} does then"
            yield Notice("both-directions-unanswered", run.where, f"{drive} {run.name}".rstrip(), text)


def _pair(context: Context, drive: str, run: str) -> tuple[Function, Function] | None:
    own = [f for f in context.declared.functions if f.controller == drive and f.run == run]
    forward = next((f for f in own if f.meaning == "run forward"), None)
    reverse = next((f for f in own if f.meaning == "run reverse"), None)
    return (forward, reverse) if forward and reverse else None


def _exclude_each_other(forward: Function, reverse: Function) -> bool:
    """One selector in two of its positions, or the two halves of one changeover contact."""
    a, b = forward.partner, reverse.partner
    if not (isinstance(a, Leg) and isinstance(b, Leg)) or a.contact.device != b.contact.device:
        return False
    if a.contact.position is not None and b.contact.position is not None:
        return a.contact.position != b.contact.position
    return a.contact.element == b.contact.element and a.contact.form != b.contact.form


def said_twice(context: Context) -> Iterator[Notice]:
    """A direction contact beside a command that has the direction in it already."""
    for drive, _ in context.declared.runs:
        contact = _at(context, drive, "reverse")
        other = _at(context, drive, "start reverse") or _at(context, drive, "run reverse")
        if contact is not None and other is not None:
            text = (
                f"{called(other)} turns the motor the other way, and so does the contact of {called(contact)}: "
                "with both closed nobody can say which way it runs"
            )
            yield Notice("direction-said-twice", contact.where, called(contact), text)


def limit_not_by_break(context: Context) -> Iterator[Notice]:
    """A limit that acts when its input closes."""
    for function in inputs_of_drives(context):
        if function.meaning in LIMITS and function.acts_on in ("closed", "closing"):
            text = f"{called(function)} acts when its input closes: with a broken wire the travel never ends"
            yield Notice("limit-not-by-break", function.where, called(function), text)


def limit_blocks(context: Context) -> Iterator[Notice]:
    """A limit through the make contact of a limit switch: away from the end of the travel its direction is blocked."""
    for function in inputs_of_drives(context):
        if function.meaning not in LIMITS or function.acts_on not in ("open", "opening"):
            continue
        for leg in legs_of(function):
            device = context.devices[leg.contact.device]
            if device.profile.actuator == "limit" and leg.contact.form == "NO":
                text = (
                    f"{device.name} has a make contact ({leg.contact.name}) at {called(function)}: its direction is "
                    "allowed only while the switch is operated"
                )
                yield Notice("limit-blocks", function.where, called(function), text)


def limit_without_motion(context: Context) -> Iterator[Notice]:
    """A limit for a direction in which nothing moves."""
    for function in inputs_of_drives(context):
        if function.meaning == "limit reverse" and not _reverses(context, function.controller):
            text = f"{called(function)} guards a direction in which nothing runs {function.controller}"
            yield Notice("limit-without-motion", function.where, called(function), text)


def one_way_only(context: Context) -> Iterator[Notice]:
    """Raise without lower, or lower without raise."""
    for function in inputs_of_drives(context):
        other = {"raise": "lower", "lower": "raise"}.get(function.meaning)
        if other and _at(context, function.controller, other) is None:
            text = f"{called(function)} has no `{other}` beside it: the speed goes one way and never back"
            yield Notice("one-way-only", function.where, called(function), text)


def _at(context: Context, drive: str, meaning: str) -> Function | None:
    found = (f for f in context.declared.functions if f.controller == drive and f.meaning == meaning)
    return next((f for f in found if f.purpose == "input"), None)


def _reverses(context: Context, drive: str) -> bool:
    """Whether a terminal, the network or an override can run a drive in reverse."""
    control = context.scheme.model.control[drive]
    by_terminal = any(_at(context, drive, name) for name in _REVERSING)
    runs = dict(context.declared.runs).get(drive, ())
    return by_terminal or any(r.network for r in runs) or any(o.runs == "reverse" for o in control.override.values())
