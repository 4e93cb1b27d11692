"""How the 0 V of every supply, and of every controller with a 24 V terminal of its own, is tied."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Device, ZeroVolt
from wiregen.control.partners import Report
from wiregen.control.supplies import supply_of
from wiregen.scheme import Scheme
from wiregen.scheme.model import JoinedTo
from wiregen.terms import Notice, Pin, Where


def zero_volts(scheme: Scheme, devices: tuple[Device, ...], report: Report) -> tuple[ZeroVolt, ...]:
    """One entry a supply and a controller with a 24 V output; a card has one only where it says more than its feed.

    A supply unit is earthed unless it says otherwise; a controller that does not say is reported and taken as floating.
    """
    found = [zero for device in devices if (zero := _of_device(scheme, device, report)) is not None]
    for notice in _unfit(devices, found):
        report(notice)
    return tuple(found)


def _of_device(scheme: Scheme, device: Device, report: Report) -> ZeroVolt | None:
    supply = supply_of(device)
    winding = device.kind == "transformer" and supply is not None
    zero = device.profile.terminal_of(supply.zero.name) if winding and supply else device.profile.first("zero")
    control = scheme.model.control.get(device.name)
    in_section = control is not None and control.zero_volt is not None
    said = control.zero_volt if control and in_section else device.declared.zero_volt
    where: Where = ("control" if in_section else "devices", device.name, "zero_volt")
    if zero is None:
        if said is not None:
            report(
                Notice("zero-volt-unfit", where, device.name, f"{device.name} has no 0 V terminal that could be tied")
            )
        return None
    pin = Pin(device.name, zero.label)
    if isinstance(said, JoinedTo):
        return ZeroVolt(device.name, "joined", said.joined_to, True, pin, where)
    if supply is None:
        # A card's 0 V is that of its feed; it can be joined to more, but not be tied in another way.
        if said is not None:
            text = f"the 0 V of {device.name} comes with its feed, so it cannot be {said} by itself"
            report(Notice("zero-volt-unfit", where, device.name, text))
        return None
    if said is None and supply.own:
        text = (
            f"{device.name} has a 24 V output of its own, and the scheme does not say how its 0 V ({supply.zero}) "
            "is tied; it is joined only to what a current needs"
        )
        report(Notice("zero-volt-not-declared", ("control", device.name), device.name, text))
    mode = said or ("floating" if supply.own else "earthed")
    return ZeroVolt(device.name, mode, None, said is not None, pin, where)


def _unfit(devices: tuple[Device, ...], zeros: list[ZeroVolt]) -> Iterator[Notice]:
    """0 V joined to something that has none, or in a circle, so that nothing says how it is tied."""
    by_name = {d.name: d for d in devices}
    next_of = {z.device: z.joined_to for z in zeros if z.joined_to is not None}
    for zero in zeros:
        target = by_name.get(zero.joined_to or "")
        if target is not None and target.profile.first("zero") is None:
            text = (
                f"{zero.device} would join its 0 V to {target.name} ({target.profile.title}), which has no 0 V terminal"
            )
            yield Notice("zero-volt-unfit", zero.where, zero.device, text)
        elif _in_circle(zero.device, next_of):
            text = f"the 0 V of {zero.device} is joined back to itself, so nothing says how it is tied"
            yield Notice("zero-volt-unfit", zero.where, zero.device, text)


def _in_circle(start: str, next_of: dict[str, str]) -> bool:
    seen: set[str] = set()
    at: str | None = next_of.get(start)
    while at is not None and at not in seen:
        if at == start:
            return True
        seen.add(at)
        at = next_of.get(at)
    return False
