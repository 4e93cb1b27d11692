"""From declared control to an allocation problem: channels of every controller, ends, declared polarities."""

from __future__ import annotations

from dataclasses import replace

from wiregen import quantities
from wiregen.allocation.grounds import grounds_of
from wiregen.allocation.model import Channel, Problem
from wiregen.control.apart import apart_sets
from wiregen.control.functions import Declared, Device, legs_in
from wiregen.profiles.model import Terminal
from wiregen.scheme import Scheme
from wiregen.terms import Pin

#: A relay contact and a transistor output both serve a duty; which of them is a matter of form.
_ROLES = {"relay": "output", "digital_out": "output", "contact": "output"}
_FORMS = {"NO": {"NO"}, "NC": {"NC"}, "changeover": {"NO", "NC", "changeover"}, "transistor": {"transistor"}}

#: What a contact carries depends on what it switches: coils on direct current, at the voltage of control circuits.
_DC_COILS = "DC-13"
_AC_COILS = "AC-15"
_CONTROL_VOLTS = 24.0


def problem_of(scheme: Scheme, declared: Declared) -> Problem:
    """The problem that `allocate` solves, over all controllers of the scheme together."""
    above = _positions_above(scheme, declared)
    named = _named(declared)
    channels = tuple(
        replace(
            channel,
            position=above.get(device.name, 0) + channel.position,
            keep_free=channel.keep_free or named.get(channel.pin),
        )
        for device in declared.devices
        for channel in channels_of(scheme, device)
    )
    ends = tuple(end for function in declared.functions for end in function.ends)
    polarity = tuple(((g.device, g.group), g.polarity) for g in declared.groups)
    return Problem(
        ends=ends,
        channels=channels,
        polarity=polarity,
        apart=apart_sets(scheme, declared.functions),
        grounds=tuple(grounds_of(scheme, declared)),
    )


def _named(declared: Declared) -> dict[Pin, str]:
    """Contacts of safety relays that the scheme names itself: no other function may stand there."""
    relays = {d.name for d in declared.devices if d.kind == "safety_relay"}
    legs = (leg for f in declared.functions for leg in legs_in(f.partner))
    return {leg.a: f"{leg.contact.name} is named" for leg in legs if leg.contact.device in relays}


def _positions_above(scheme: Scheme, declared: Declared) -> dict[str, int]:
    """Positions run on from card to card of a bank, so that its first card fills before the second."""
    size = {device.name: len(device.profile.terminals) for device in declared.devices}
    above: dict[str, int] = {}
    for cards in scheme.model.banks.values():
        for number, card in enumerate(cards):
            above.setdefault(card, sum(size.get(earlier, 0) for earlier in cards[:number]))
    return above


def channels_of(scheme: Scheme, device: Device) -> list[Channel]:
    """The channels of one device, in physical order."""
    kept_free = _kept_free(scheme, device)
    return [
        _channel(device, terminal, position, next((kept_free[p] for p in terminal.pins if p in kept_free), None))
        for position, terminal in enumerate(device.profile.terminals)
        if device.profile.holds_function(terminal) and device.profile.controller
    ]


def _kept_free(scheme: Scheme, device: Device) -> dict[str, str]:
    fixed = scheme.model.fixed.get(device.name, {})
    return {label: entry.keep_free for label, entries in fixed.items() for entry in entries if entry.keep_free}


def _channel(device: Device, terminal: Terminal, position: int, keep_free: str | None) -> Channel:
    on_ac = _on_ac(terminal)
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
        limit_a=_limit_a(terminal),
        limit_ac_a=on_ac[0],
        limit_ac_v=on_ac[1],
    )


def _limit_a(terminal: Terminal) -> float | None:
    """A that an output carries: its limit, or a contact's rating for coils on direct current (DC-13, IEC 60947-5-1)."""
    if terminal.limit and terminal.limit.unit == "A":
        return terminal.limit.si
    rated_a, rated_v = _rating(terminal, _DC_COILS)
    return rated_a if rated_v is not None and rated_v >= _CONTROL_VOLTS else None


def _on_ac(terminal: Terminal) -> tuple[float | None, float | None]:
    """A on alternating current, and V up to which an output carries it (AC-15, IEC 60947-5-1); a transistor none."""
    return (0.0, 0.0) if terminal.form == "transistor" else _rating(terminal, _AC_COILS)


def _rating(terminal: Terminal, category: str) -> tuple[float | None, float | None]:
    """A and V of a contact's rating in one utilisation category; None where the profile does not say them."""
    current, _, volts = terminal.rating.get(category, "").partition(" A ")
    try:
        return quantities.parse(f"{current} A", "A"), quantities.parse(volts, "V")
    except ValueError:
        return None, None
