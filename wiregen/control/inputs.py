"""Groups of digital inputs: how each is wired, and its common."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wiregen.control.functions import Device, Function, InputGroup
from wiregen.scheme import Scheme
from wiregen.scheme.model import Inputs
from wiregen.terms import Notice, Pin, Where


def input_groups(scheme: Scheme, devices: tuple[Device, ...]) -> tuple[InputGroup, ...]:
    """The groups of digital inputs of every controller, each with its polarity and common."""
    groups: list[InputGroup] = []
    for device in devices:
        control = scheme.model.control.get(device.name)
        declared = control.inputs if control else None
        names = dict.fromkeys(t.group for t in device.profile.terminals if t.role == "digital_in")
        groups += [_group(device, group, declared) for group in names]
    return tuple(groups)


def undeclared(scheme: Scheme, groups: Iterable[InputGroup], functions: Iterable[Function]) -> Iterator[Notice]:
    """Controllers whose inputs are used and that do not say how these are wired."""
    used = {d for f in functions for end in f.ends if end.role == "digital_in" for d in end.devices}
    for device in dict.fromkeys(g.device for g in groups if not g.declared):
        section = device in scheme.model.control
        if section or device in used:
            text = f"{device} does not say how its inputs are wired; taken as source (contacts switch +24 V)"
            yield Notice("polarity-not-declared", ("control" if section else "devices", device), device, text)


def _group(device: Device, group: str, declared: Inputs | None) -> InputGroup:
    common = next((t.common for t in device.profile.terminals if t.group == group and t.common), "")
    own = device.profile.terminal_of(common)
    by_group = declared.groups.get(group) if declared else None
    said = by_group or (declared.wired if declared else None)
    where: Where = ("control", device.name, "inputs") if declared else ("devices", device.name)
    return InputGroup(
        device=device.name,
        group=group,
        common=Pin(device.name, common) if own is not None and own.role == "common" else None,
        polarity=said or "source",
        declared=said is not None,
        supply=None,  # found when a function of the group needs it
        where=(*where, group) if by_group else where,
    )
