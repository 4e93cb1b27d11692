"""Restart: what happens when the supply returns or a trip is reset, and whether the wiring enforces it."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function
from wiregen.review.context import Context, called, legs_of
from wiregen.scheme.model import ContactUse
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
    for function in context.declared.functions:
        control = context.scheme.model.control.get(function.controller)
        if control is None or control.restart != "needs_start" or not stays_on(context, function):
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


def stays_on(context: Context, function: Function) -> bool:
    """A two-wire run, or a start from anything but a push-button: it is still there when the supply returns.

    A run through a relay that holds itself in is not: the relay drops with the supply.
    """
    legs = legs_of(function)
    if function.meaning in _RUNS:
        return not (legs and all(seals_in(context, leg.contact.device) for leg in legs))
    if function.meaning not in _STARTS:
        return False
    return not legs or any(context.devices[leg.contact.device].profile.actuator != "push" for leg in legs)


def seals_in(context: Context, device: str) -> bool:
    """Whether a relay or contactor is held by a contact of its own, beside the contact that switches it on."""
    control = context.scheme.model.control.get(device)
    return control is not None and control.energise is not None and _holds(control.energise, device)


def _holds(use: ContactUse, device: str) -> bool:
    parallel = any((part.by or "").startswith(f"{device}.") for part in use.any)
    return parallel or any(_holds(part, device) for part in (*use.all, *use.any))
