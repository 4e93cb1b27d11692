"""Polarity: what switches +24 V and what switches 0 V, against how a group of inputs is wired."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import End, Function, InputGroup, Sensor
from wiregen.review.context import Context, called
from wiregen.review.words import listed, wired
from wiregen.terms import Notice


def misfits(context: Context) -> Iterator[tuple[Function, End]]:
    """Inputs whose partner fits only one polarity, at a device where no group in question is wired that way."""
    for function in context.declared.functions:
        for end in function.ends:
            if end.role != "digital_in" or not end.polarity:
                continue
            groups = _groups_of(context, end)
            if groups and all(group.polarity != end.polarity for group in groups):
                yield function, end


def mismatch(context: Context) -> Iterator[Notice]:
    """A PNP sensor or sourcing output at inputs wired for sink, and the reverse."""
    for function, end in misfits(context):
        if _needs(context, end.devices[0]) == {"source", "sink"}:
            continue
        group = _groups_of(context, end)[0]
        device = end.devices[0]
        text = (
            f"{_driver(context, function, end)} at {end.function} of {device} fits only inputs wired for "
            f"{wired(str(end.polarity))}, but {_said(group)} wired for {wired(group.polarity)}"
        )
        yield Notice("polarity-mismatch", end.where, f"{device} {end.function}", text)


def mixed(context: Context) -> Iterator[Notice]:
    """Drivers of both polarities at inputs that all share one."""
    devices = dict.fromkeys(end.devices[0] for _, end in misfits(context))
    for device in devices:
        if _needs(context, device) != {"source", "sink"}:
            continue
        sides = {polarity: _drivers(context, device, polarity) for polarity in ("source", "sink")}
        group = next(g for g in context.declared.groups if g.device == device)
        text = (
            f"inputs wired for {wired('source')} are needed for {listed(sides['source'])}, "
            f"wired for {wired('sink')} for {listed(sides['sink'])}, "
            f"but {_said(group)} wired for {wired(group.polarity)}: inputs that share a common are wired one way"
        )
        yield Notice("polarity-mixed", group.where, device, text)


def unknown_group(context: Context) -> Iterator[Notice]:
    """A group under `inputs:` that the controller does not have."""
    for device, control in context.scheme.model.control.items():
        if not control.inputs or not control.inputs.groups:
            continue
        cards = context.scheme.model.banks.get(device, (device,))
        known = list(dict.fromkeys(g.group for g in context.declared.groups if g.device in cards))
        for group in control.inputs.groups:
            if group not in known:
                text = f"{device} has no {group} of inputs; it has {listed(known) or 'none'}"
                yield Notice("group-unknown", ("control", device, "inputs", group), f"{device} {group}", text)


def _groups_of(context: Context, end: End) -> list[InputGroup]:
    """The groups in which an end may stand: that of its fixed terminal, else all of its device."""
    fixed = context.terminal(end.fixed) if end.fixed else None
    return [g for g in context.declared.groups if g.device in end.devices and (fixed is None or g.group == fixed.group)]


def _needs(context: Context, device: str) -> set[str]:
    """The polarities that the drivers at a device need, where all its groups are wired one way; else nothing."""
    if len({g.polarity for g in context.declared.groups if g.device == device}) != 1:
        return set()
    return {end.polarity for _, end in _one_sided(context, device) if end.polarity}


def _one_sided(context: Context, device: str) -> Iterator[tuple[Function, End]]:
    for function in context.declared.functions:
        for end in function.ends:
            if end.role == "digital_in" and end.polarity and device in end.devices:
                yield function, end


def _drivers(context: Context, device: str, polarity: str) -> list[str]:
    return [_driver(context, f, end) for f, end in _one_sided(context, device) if end.polarity == polarity]


def _driver(context: Context, function: Function, end: End) -> str:
    if isinstance(function.partner, Sensor):
        output = context.devices[function.partner.device].declared.output or "PNP"
        return f"{function.partner.device} ({output})"
    other = next((context.device_of(e) for e in function.ends if e.id != end.id), function.controller)
    kind = "sourcing" if end.polarity == "source" else "sinking"
    return f"the {kind} transistor output of {other} for {called(function)}"


def _said(group: InputGroup) -> str:
    return (
        f"{group.device} {group.group} is"
        if group.declared
        else f"{group.device} does not say, so its inputs are taken as"
    )
