"""Where in the scheme the premises of a problem stand, other than the needs themselves."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.allocation import premises
from wiregen.control.apart import numbered_sets
from wiregen.control.functions import Declared, End, Premise
from wiregen.scheme import Scheme
from wiregen.terms import Where


def grounds_of(scheme: Scheme, declared: Declared) -> Iterator[Premise]:
    """Profiles, polarities, what is kept free, sets to keep apart and what is fixed, each with its place."""
    for device in (device for device in declared.devices if device.profile.controller):
        yield Premise(premises.PROFILE, device.name, (*device.where, "profile"), device.profile.profile)
        for label, entries in scheme.model.fixed.get(device.name, {}).items():
            if any(entry.keep_free for entry in entries):
                terminal = device.profile.terminal_of(label)
                pin = terminal.pins[0] if terminal else label
                yield Premise(premises.KEPT_FREE, f"{device.name}:{pin}", ("fixed", device.name, label), "")
    for group in declared.groups:
        beside = "" if group.declared else ", since nothing says otherwise"
        yield Premise(premises.POLARITY, f"{group.device} {group.group}", group.where, beside)
    for number, members in numbered_sets(scheme, declared.functions):
        yield Premise(premises.APART, premises.APART_MARK.join(members), ("apart", str(number)), "")
    for end in (end for function in declared.functions for end in function.ends if end.fixed):
        yield Premise(premises.FIXED, end.id, _fixed_where(scheme, declared, end), "")


def _fixed_where(scheme: Scheme, declared: Declared, end: End) -> Where:
    """The entry of `fixed` that puts an end where it is."""
    if end.fixed is None:
        return ()
    profile = declared.device(end.fixed.device).profile
    for label, entries in scheme.model.fixed.get(end.fixed.device, {}).items():
        terminal = profile.terminal_of(label)
        named = any(entry.function in (end.function, end.also) for entry in entries if entry.function)
        if named and terminal and terminal.pins[0] == end.fixed.name:
            return ("fixed", end.fixed.device, label)
    return ("fixed", end.fixed.device)
