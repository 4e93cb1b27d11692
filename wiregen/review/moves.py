"""What does not stay where it is wired."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import End
from wiregen.review.context import Context
from wiregen.terms import Notice, Pin


def moved(context: Context) -> Iterator[Notice]:
    """Functions that `wired` or an earlier pack has on one terminal and the allocation on another."""
    for end in (end for function in context.declared.functions for end in function.ends):
        at = context.allocation.of_end(end.id)
        was = end.kept or _built(context, end)
        if was is None or at is None or Pin(at.device, at.channel) == was:
            continue
        said = context.scheme.model.wired.get(was.device, {}).get(was.name, ())
        by_scheme = any(entry.function in (end.function, end.also) for entry in said)
        where = ("wired", was.device, was.name) if by_scheme else end.where
        verb = "is wired on" if by_scheme else "was on"
        there = "" if by_scheme or _exists(context, was) else f", which {was.device} does not have any more,"
        text = f"{end.function} {verb} {was}{there} and moves to {Pin(at.device, at.channel)}"
        yield Notice("function-moved", where, f"{was} {end.function}", text)


def _built(context: Context, end: End) -> Pin | None:
    """Where the earlier pack has it, though it cannot be kept: it is fixed elsewhere, or the terminal is gone."""
    built = context.scheme.as_built
    return built.place_of(end.devices, (end.function, end.also)) if built else None


def _exists(context: Context, pin: Pin) -> bool:
    device = next((d for d in context.declared.devices if d.name == pin.device), None)
    return device is not None and device.profile.terminal_of(pin.name) is not None
