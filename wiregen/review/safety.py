"""The safety chain: channels that depend on one thing, resets, and torque that nothing takes away.

No assessment of safety: these rules find what is plainly not done, and say nothing of what the risk asks for.
"""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Device, Function, Leg, Series
from wiregen.control.senses import sense_of
from wiregen.review.context import Context, called, legs_of
from wiregen.review.words import listed
from wiregen.scheme.model import SafeTorqueOff, SafetyReset
from wiregen.terms import Notice, Where
from wiregen.wiring.model import Conductor

_RUNS = ("start", "start reverse", "run forward", "run reverse")


def torque_off_open(context: Context) -> Iterator[Notice]:
    """A drive that has safe torque off, and nothing drives or links it."""
    for drive in _drives(context):
        control = context.scheme.model.control[drive.name]
        if control.safe_torque_off is None:
            names = listed(t.label for t in drive.profile.terminals if t.role == "safe_torque_off")
            text = f"safe torque off of {drive.name} ({names}) is neither driven nor linked: it gives no torque"
            yield Notice("safe-torque-off-open", ("control", drive.name), drive.name, text)


def torque_off_linked(context: Context) -> Iterator[Notice]:
    """A drive whose safe torque off is linked: the function is there and not used."""
    for drive in _drives(context):
        if context.scheme.model.control[drive.name].safe_torque_off == "linked":
            text = f"safe torque off of {drive.name} is linked to {_feed(context, drive)}: the function is not used"
            where: Where = ("control", drive.name, "safe_torque_off")
            yield Notice("safe-torque-off-linked", where, drive.name, text)


def one_channel_watched(context: Context) -> Iterator[Notice]:
    """A safety relay that is told to watch one channel of the two that it has."""
    for relay in context.of_kind("safety_relay"):
        control = context.scheme.model.control.get(relay.name)
        there = sum(t.role == "channel" for t in relay.profile.terminals)
        if control is not None and control.channels == "one" and control.guards and there > 1:
            text = f"{relay.name} watches {listed(control.guards)} by one channel of its {there}"
            yield Notice("single-channel-safety", ("control", relay.name, "channels"), relay.name, text)


def channels_in_one_cable(context: Context) -> Iterator[Notice]:
    """The channels of one safety relay, or of one drive's safe torque off, side by side in a cable."""
    for functions in _channel_sets(context):
        titles = {called(f): f for f in functions}
        for cable in context.wiring.cables:
            found = dict.fromkeys(t for c in _cores(context, cable.name) if (t := _title(c)) in titles)
            if len(found) > 1:
                text = (
                    f"{listed(found)} lie in one cable, {cable.name} to {cable.b}: a short between its cores joins them"
                )
                remedy = (
                    f"Keep them apart, as in `apart_cables: [[{', '.join(found)}]]`, or take a relay that finds a "
                    "short between its channels, and say so in the documents."
                )
                first = titles[next(iter(found))]
                yield Notice("safety-channels-in-one-cable", first.where, cable.name, text, remedy)


def thermistor_beside(context: Context) -> Iterator[Notice]:
    """The thermistors of a motor in one cable with anything but thermistors: only `fixed` puts them there."""
    titles = {called(f): f for f in context.declared.functions if f.purpose == "motor_thermistor"}
    for cable in context.wiring.cables:
        cores = dict.fromkeys(_title(c) for c in _cores(context, cable.name))
        others = [title for title in cores if title not in titles]
        for title in cores if others else ():
            if title in titles:
                text = f"{title} lies in {cable.name} beside conductors of the 24 V control ({listed(others)})"
                yield Notice("thermistor-beside-control", titles[title].where, cable.name, text)


def reset_unwatched(context: Context) -> Iterator[Notice]:
    """A safety relay whose reset is missing or not monitored."""
    for relay in context.of_kind("safety_relay"):
        control = context.scheme.model.control.get(relay.name)
        has_reset = any(t.role == "reset" for t in relay.profile.terminals)
        if control is None or not control.guards or not has_reset:
            continue
        if control.reset is None:
            text = f"{relay.name} has no reset: its reset terminals stay open, and it never closes"
            yield Notice("safety-reset-missing", ("control", relay.name), relay.name, text)
        elif not (isinstance(control.reset, SafetyReset) and control.reset.monitored):
            text = (
                f"the reset of {relay.name} is not monitored: a reset button that sticks or is wedged resets by itself"
            )
            yield Notice("reset-not-monitored", ("control", relay.name, "reset"), relay.name, text)


def guards_missing(context: Context) -> Iterator[Notice]:
    """A safety relay in use, or with a section of its own, that watches nothing."""
    acting = _acting(context)
    for relay in context.of_kind("safety_relay"):
        control = context.scheme.model.control.get(relay.name)
        if (relay.name in acting or control) and not (control and control.guards):
            text = f"{relay.name} watches nothing: its channels stay open, and it never closes"
            where: Where = ("control", relay.name) if control else relay.where
            yield Notice("guards-missing", where, relay.name, text)


def relay_idle(context: Context) -> Iterator[Notice]:
    """A safety relay that watches guards and takes nothing away."""
    acting = _acting(context)
    for relay in context.of_kind("safety_relay"):
        control = context.scheme.model.control.get(relay.name)
        if control is not None and control.guards and relay.name not in acting:
            text = f"{relay.name} watches {listed(control.guards)}, and none of its safe contacts acts on anything"
            yield Notice("safety-relay-idle", ("control", relay.name, "guards"), relay.name, text)


def signalling_inverse(context: Context) -> Iterator[Notice]:
    """A run, enable, stop or trip through a contact that is closed only while the safety relay has dropped."""
    for function in context.declared.functions:
        acts = function.acts_on == "open" if sense_of(function.meaning).stops else function.meaning in _RUNS
        if function.purpose != "input" or not acts or context.devices[function.controller].kind != "drive":
            continue
        for leg in in_series(function.partner):
            device = context.devices[leg.contact.device]
            if device.kind == "safety_relay" and leg.contact.form == "NC":
                text = (
                    f"contact {leg.contact.name} of {device.name} at {called(function)} is closed only while "
                    f"{device.name} has dropped: the motor runs only with a guard operated"
                )
                yield Notice("signalling-contact-inverse", function.where, called(function), text)


def in_series(tree: object) -> Iterator[Leg]:
    """The contacts of a circuit that must all be closed for a current to pass."""
    if isinstance(tree, Leg):
        yield tree
    elif isinstance(tree, Series):
        for part in tree.parts:
            yield from in_series(part)


def guard_opens_by_spring(context: Context) -> Iterator[Notice]:
    """A position switch as a guard whose direct opening action nobody claims."""
    for name, control in context.scheme.model.control.items():
        for index, guard in enumerate(control.guards):
            device = context.devices.get(guard) or context.devices.get(guard.partition(".")[0])
            if device is None or device.profile.actuator != "limit" or device.declared.opens == "positively":
                continue
            text = f"{device.name} guards, and nothing says that it opens by direct action: {name} trusts its spring"
            yield Notice("guard-not-positive", ("control", name, "guards", str(index)), device.name, text)


def _drives(context: Context) -> Iterator[Device]:
    """Drives with a section of their own that have safe torque off."""
    for drive in context.of_kind("drive"):
        if drive.name in context.scheme.model.control and drive.profile.first("safe_torque_off"):
            yield drive


def _feed(context: Context, drive: Device) -> str:
    functions = (f for f in context.declared.functions if f.controller == drive.name)
    supply = next((f.supply for f in functions if f.purpose == "safe_torque_off"), None)
    return f"24 V of {supply.device}" if supply else "24 V"


def _channel_sets(context: Context) -> Iterator[list[Function]]:
    """The functions that are channels of one thing: those of each safety relay, those of each drive."""
    found: dict[tuple[str, str], list[Function]] = {}
    for function in context.declared.functions:
        if function.purpose == "safe_torque_off" or (function.purpose == "safety_loop" and function.name != "reset"):
            found.setdefault((function.controller, function.purpose), []).append(function)
    yield from (functions for functions in found.values() if len(functions) > 1)


def _cores(context: Context, cable: str) -> Iterator[Conductor]:
    return (c for c in context.wiring.conductors if c.cable == cable and c.b is not None)


def _title(conductor: Conductor) -> str:
    return conductor.function.removesuffix(", return")


def _acting(context: Context) -> set[str]:
    """Safety relays whose make contacts act: on a drive's safe torque off, on a load, or where a contact is named."""
    controls = context.scheme.model.control.values()
    found = {c.safe_torque_off.by for c in controls if isinstance(c.safe_torque_off, SafeTorqueOff)}
    for function in context.declared.functions:
        found.update(leg.contact.device for leg in legs_of(function) if leg.contact.form == "NO")
        found.update(d for end in function.ends if "NO" in end.forms and end.role == "output" for d in end.devices)
    return found
