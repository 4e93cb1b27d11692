"""Restart: what happens when the supply returns or a trip is reset, and whether the wiring enforces it."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function
from wiregen.review.context import Context, called, legs_of
from wiregen.review.seal_ins import SealIns
from wiregen.review.words import listed
from wiregen.terms import Notice

_STARTS = ("start", "start reverse")
_RUNS = ("run forward", "run reverse")


def not_declared(context: Context) -> Iterator[Notice]:
    """A drive that does not say what it does when its supply returns."""
    for drive in context.of_kind("drive"):
        control = context.scheme.model.control.get(drive.name)
        if control is not None and control.restart is None:
            text = (
                f"{drive.name} does not say whether it may restart by itself when its supply returns or a trip is reset"
            )
            yield Notice("restart-not-declared", ("control", drive.name), drive.name, text)


def by_network(context: Context) -> Iterator[Notice]:
    """A run from the network at a drive that needs a new start: no wire shows whether its command stands."""
    for drive, runs in context.declared.runs:
        control = context.scheme.model.control[drive]
        for run in runs:
            if run.network and control.restart == "needs_start":
                name = f"run {run.name}".rstrip()
                text = (
                    f"{name} of {drive} comes over the network: {drive} and what commands it must both be set to ask "
                    "for a new start after the supply or the network returns"
                )
                yield Notice("restart-by-setting", run.where, f"{name} of {drive}", text)


def needs_start(context: Context) -> Iterator[Notice]:
    """Commands that stay on, at drives that need a new start: the drive must take them by their edge."""
    seals = SealIns(context)
    for function in context.declared.functions:
        control = context.scheme.model.control.get(function.controller)
        if control is None or control.restart != "needs_start" or not maintained(context, function):
            continue
        if seals.needs_start(function):
            yield from _sealed_in(context, function, seals)
            continue
        device = context.devices[function.controller]
        where = ("control", device.name, "restart")
        if device.profile.start_by == "edge":
            text = (
                f"{called(function)} stays closed, so only a setting keeps {device.name} from restarting: "
                f"set it to take {function.name} by its closing edge, also after the supply returns and after a reset"
            )
            yield Notice("restart-by-setting", where, called(function), text)
        else:
            text = (
                f"{device.name} needs a new start, but {called(function)} stays closed and is taken by level: "
                "the motor restarts when the supply returns"
            )
            yield Notice("restart-not-enforced", where, called(function), text)


def _sealed_in(context: Context, function: Function, seals: SealIns) -> Iterator[Notice]:
    """A command that a seal-in holds: it is gone after the supply was, but it may still stand when a trip is reset."""
    device = context.devices[function.controller]
    if not seals.holds_through_trip(function, device.name):
        return
    where = ("control", device.name, "restart")
    relays = listed(seals.relays_at(function))
    if device.profile.start_by == "edge":
        text = (
            f"{relays} lets {called(function)} go when the supply of its coil fails, but holds it through a trip, so "
            f"only a setting keeps {device.name} from restarting after a reset: set it to take {function.name} by its "
            "closing edge, also after a reset"
        )
        yield Notice("restart-by-setting", where, called(function), text)
    else:
        text = (
            f"{device.name} needs a new start, but {relays} holds {called(function)} through a trip and it is taken by "
            "level: the motor restarts when the trip is reset"
        )
        yield Notice("restart-not-enforced", where, called(function), text)


def maintained(context: Context, function: Function) -> bool:
    """Whether a command is no push of a button that is over before the supply returns."""
    legs = legs_of(function)
    if function.meaning in _RUNS:
        return True
    if function.meaning not in _STARTS:
        return False
    return not legs or any(context.devices[leg.contact.device].profile.actuator != "push" for leg in legs)
