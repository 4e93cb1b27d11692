"""What a drive does when an analog signal is lost, and signals that cannot tell that they are lost."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen import quantities
from wiregen.control.functions import Function, ReferenceInfo
from wiregen.review.context import Context, called
from wiregen.terms import Notice


def inverse(context: Context) -> Iterator[Notice]:
    """A voltage signal of which less means faster: a broken wire means full speed."""
    for function in _signals(context):
        if function.inverse and function.signal.endswith(" V") and function.meaning not in ("setpoint", "feedback"):
            text = (
                f"{called(function)} is an inverse {function.signal} signal: a broken wire reads 0 V, the highest speed"
            )
            yield Notice("signal-inverse", (*function.where, "inverse"), called(function), text)


def loss_unanswered(context: Context) -> Iterator[Notice]:
    """A 4-20 mA signal that could tell a broken wire, and nothing says what to do then."""
    for function in _signals(context):
        if function.signal == "4-20 mA" and not function.on_low:
            text = f"{called(function)} falls to 0 mA when its wire breaks, and nothing says what the drive does then"
            yield Notice("loss-unanswered", function.where, called(function), text)


def loss_unseen(context: Context) -> Iterator[Notice]:
    """An answer to a lost signal, at a signal whose low end is nothing at all."""
    for function in _signals(context):
        if function.on_low and function.signal != "4-20 mA":
            text = (
                f"{called(function)} shall {function.on_low} when its signal is lost, but a {function.signal} signal "
                "cannot tell a broken wire from its own zero"
            )
            yield Notice("loss-unseen", function.where, called(function), text)


def beyond_limits(context: Context) -> Iterator[Notice]:
    """A reference that asks for more or less than the speed limits of its drive."""
    for drive, references in context.declared.references:
        control = context.scheme.model.control.get(drive)
        if control is None or control.speed_limits is None:
            continue
        low, high = sorted(quantities.parse_range(control.speed_limits, "Hz"))
        for reference in references:
            asked = _asked_hz(reference)
            if not asked or (low <= min(asked) and max(asked) <= high):
                continue
            over = max(asked) > high
            value, limit = (max(asked), high) if over else (min(asked), low)
            text = (
                f"reference {reference.name} of {drive} goes {'up' if over else 'down'} to {value:g} Hz, and its "
                f"speed limits are {control.speed_limits}"
            )
            yield Notice(
                "reference-beyond-limits", reference.where, f"{drive} {reference.name}", text, "", value, limit, "Hz"
            )


def _asked_hz(reference: ReferenceInfo) -> list[float]:
    return [hz for hz in (reference.low_hz, reference.high_hz, reference.preset_hz) if hz is not None]


def _signals(context: Context) -> Iterator[Function]:
    """References, setpoints and feedbacks of drives that come in at a terminal."""
    for function in context.declared.functions:
        if function.purpose == "analog_in" and context.devices[function.controller].kind == "drive":
            yield function
