"""From declared control to an allocation problem: channels of every controller, ends, declared polarities."""

from __future__ import annotations

from wiregen.allocation.model import Channel, Problem
from wiregen.control.apart import apart_sets
from wiregen.control.functions import Declared, Device
from wiregen.profiles.model import Terminal
from wiregen.scheme import Scheme

#: A relay contact and a transistor output both serve a duty; which of them is a matter of form.
_ROLES = {"relay": "output", "digital_out": "output"}
_FORMS = {"NO": {"NO"}, "NC": {"NC"}, "changeover": {"NO", "NC", "changeover"}, "transistor": {"transistor"}}


def problem_of(scheme: Scheme, declared: Declared) -> Problem:
    """The problem that `allocate` solves, over all controllers of the scheme together."""
    channels = tuple(c for device in declared.devices for c in channels_of(scheme, device))
    ends = tuple(end for function in declared.functions for end in function.ends)
    polarity = tuple(((g.device, g.group), g.polarity) for g in declared.groups)
    return Problem(ends=ends, channels=channels, polarity=polarity, apart=apart_sets(scheme, declared.functions))


def channels_of(scheme: Scheme, device: Device) -> list[Channel]:
    """The channels of one device, in physical order."""
    kept_free = _kept_free(scheme, device)
    return [
        _channel(device, terminal, position, kept_free.get(terminal.label) or kept_free.get(terminal.pins[0]))
        for position, terminal in enumerate(device.profile.terminals)
        if terminal.is_channel and device.profile.controller
    ]


def _kept_free(scheme: Scheme, device: Device) -> dict[str, str]:
    fixed = scheme.model.fixed.get(device.name, {})
    return {label: entry.keep_free for label, entries in fixed.items() for entry in entries if entry.keep_free}


def _channel(device: Device, terminal: Terminal, position: int, keep_free: str | None) -> Channel:
    return Channel(
        device=device.name,
        name=terminal.pins[0],
        pins=terminal.pins,
        role=_ROLES.get(terminal.role, terminal.role),
        group=terminal.group,
        signals=frozenset(terminal.accepts + terminal.gives),
        polarities=frozenset(terminal.polarities),
        abilities=frozenset(terminal.abilities),
        forms=frozenset(_FORMS[terminal.form]) if terminal.form else frozenset(),
        position=position,
        scarce=terminal.scarce,
        keep_free=keep_free,
        limit_a=terminal.limit.si if terminal.limit and terminal.limit.unit == "A" else None,
    )
