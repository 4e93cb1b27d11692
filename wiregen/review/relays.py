"""Relays: coils that nothing energises, coils that two circuits energise, relays whose contacts nothing uses."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from wiregen.control.functions import Function, Load
from wiregen.review.context import Context, called, legs_of
from wiregen.terms import Notice


def coil_not_energised(context: Context) -> Iterator[Notice]:
    """A contact of a relay is used, and nothing energises its coil."""
    driven = _drivers(context)
    first: dict[str, Function] = {}
    for function in context.declared.functions:
        for leg in legs_of(function):
            first.setdefault(leg.contact.device, function)
    for device in context.of_kind("relay", "contactor"):
        if device.name in first and device.name not in driven:
            text = f"a contact of {device.name} acts on {called(first[device.name])}, and nothing energises its coil"
            yield Notice("coil-not-energised", device.where, device.name, text)


def contacts_unused(context: Context) -> Iterator[Notice]:
    """A relay is energised, and no contact of it acts. A contactor's main contacts belong to the power side."""
    used = {
        leg.contact.device
        for function in context.declared.functions
        for leg in legs_of(function)
        if not _holds_itself(function, leg.contact.device)
    }
    driven = _drivers(context)
    for device in context.of_kind("relay"):
        if device.name in driven and device.name not in used:
            text = f"{device.name} is energised by {called(driven[device.name][0])}, and none of its contacts acts"
            yield Notice("relay-without-effect", device.where, device.name, text)


def energised_twice(context: Context) -> Iterator[Notice]:
    """One coil or load that two circuits drive, at least one of them through contacts."""
    for device, (first, *others) in _drivers(context).items():
        for other in others:
            if first.coil is not None or other.coil is not None:
                text = f"{device} is driven by {called(first)} and by {called(other)}: it obeys whichever is on"
                yield Notice("two-sources-joined", other.where, device, text)


def _holds_itself(function: Function, device: str) -> bool:
    return function.coil is not None and function.coil.device == device


def _drivers(context: Context) -> dict[str, list[Function]]:
    """Every load that something drives, and the functions that do."""
    found: dict[str, list[Function]] = defaultdict(list)
    for function in context.declared.functions:
        load = function.partner if isinstance(function.partner, Load) else function.coil
        if load is not None:
            found[load.device].append(function)
    return dict(found)
