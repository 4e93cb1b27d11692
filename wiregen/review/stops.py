"""Starts, stops, enables and trips: what a broken wire and an untouched button do, and what no plain input carries."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Contact, ContactTree, Function, Leg, Parallel, Series
from wiregen.control.senses import sense_of
from wiregen.review.context import Context, called, legs_of, partner_devices
from wiregen.review.words import listed
from wiregen.terms import Notice

_BUTTONS = ("push", "mushroom")
_RUNS = ("start", "start reverse", "run forward", "run reverse", "jog forward", "jog reverse")
LIMITS = ("limit forward", "limit reverse")


def stop_not_by_break(context: Context) -> Iterator[Notice]:
    """A stop, enable or trip that acts when its input closes: a broken wire disables it."""
    for function in inputs_of_drives(context):
        if not sense_of(function.meaning).stops or function.meaning in LIMITS:
            continue
        if function.acts_on in ("closed", "closing"):
            text = f"{_driven(context, function)} acts when its input closes: with a broken wire it never acts"
            yield Notice("stop-not-by-break", function.where, called(function), text)


def start_by_break(context: Context) -> Iterator[Notice]:
    """A start or run that acts when its input opens: a broken wire starts the motor."""
    for function in inputs_of_drives(context):
        if function.meaning in _RUNS and function.acts_on in ("open", "opening"):
            text = f"{_driven(context, function)} acts when its input opens: a broken wire starts the motor"
            yield Notice("start-by-break", function.where, called(function), text)


def reverse_by_break(context: Context) -> Iterator[Notice]:
    """A direction command that acts when its input opens: a broken wire reverses the motor."""
    for function in inputs_of_drives(context):
        if function.meaning == "reverse" and function.acts_on in ("open", "opening"):
            text = f"{_driven(context, function)} acts when its input opens: a broken wire reverses the motor"
            yield Notice("reverse-by-break", function.where, called(function), text)


def runs_only_while_held(context: Context) -> Iterator[Notice]:
    """A stop or trip whose buttons, left alone, keep its input open."""
    for function in inputs_of_drives(context):
        if function.meaning in ("stop", "external trip") and function.acts_on == "open":
            held = [leg for leg in legs_of(function) if _is_button(context, leg.contact) and leg.contact.form == "NO"]
            if held and not _closed_untouched(context, function):
                device = context.devices[held[0].contact.device]
                button = device.text or device.name
                text = (
                    f"{device.name} has a make contact ({held[0].contact.name}) at {called(function)}: "
                    f"the motor can run only while {button} is held"
                )
                yield Notice("runs-only-while-held", function.where, called(function), text)


def starts_on_release(context: Context) -> Iterator[Notice]:
    """A start or run whose buttons, left alone, keep its input closed."""
    for function in inputs_of_drives(context):
        buttons = [leg for leg in legs_of(function) if _is_button(context, leg.contact)]
        if function.meaning not in _RUNS or not buttons or function.acts_on not in ("closed", "closing"):
            continue
        if all(_is_button(context, leg.contact) for leg in legs_of(function)) and _closed_untouched(context, function):
            device, contact = context.devices[buttons[0].contact.device], buttons[0].contact.name
            happens = (
                "starts when the button is let go" if function.acts_on == "closing" else "runs while nobody touches it"
            )
            text = f"{device.name} has a break contact ({contact}) at {called(function)}: the motor {happens}"
            yield Notice("starts-on-release", function.where, called(function), text)


def single_channel_safety(context: Context) -> Iterator[Notice]:
    """An emergency stop or a safety relay that acts on nothing but plain inputs."""
    safe = _in_a_safety_chain(context)
    for function in context.declared.functions:
        for device in dict.fromkeys(leg.contact.device for leg in legs_of(function)):
            kind = context.devices[device].kind
            if function.purpose == "input" and kind in ("emergency_stop", "safety_relay") and device not in safe:
                what = "emergency stop" if kind == "emergency_stop" else "safety relay"
                text = f"the {what} {device} acts through {called(function)} alone, a plain input of one channel"
                yield Notice("single-channel-safety", function.where, device, text)


def _in_a_safety_chain(context: Context) -> frozenset[str]:
    """Devices that a safety relay guards, or that take a drive's torque or a contactor's coil away."""
    controls = context.scheme.model.control.values()
    guarded = {name.partition(".")[0] for control in controls for name in control.guards}
    cutting = {c.safe_torque_off.by for c in controls if c.safe_torque_off and not isinstance(c.safe_torque_off, str)}
    coils = (f for f in context.declared.functions if f.purpose not in ("input", "safety_loop"))
    return frozenset(guarded | cutting | {leg.contact.device for f in coils for leg in legs_of(f)})


def inputs_of_drives(context: Context) -> Iterator[Function]:
    """The digital inputs of drives: a card's inputs have names of their own and no sense."""
    for function in context.declared.functions:
        if function.purpose == "input" and context.devices[function.controller].kind == "drive":
            yield function


def _driven(context: Context, function: Function) -> str:
    """A function with what drives it: its devices, or the controller whose output it is."""
    names = partner_devices(function) or tuple(context.device_of(end) for end in function.ends[1:])
    return f"{called(function)}, by {listed(names)}," if names else called(function)


def _is_button(context: Context, contact: Contact) -> bool:
    return context.devices[contact.device].profile.actuator in _BUTTONS


def _closed_untouched(context: Context, function: Function) -> bool:
    """Whether the circuit is closed with every button left alone and every other contact closed."""
    tree = function.partner
    return isinstance(tree, Leg | Series | Parallel) and _closed(context, tree)


def _closed(context: Context, tree: ContactTree) -> bool:
    if isinstance(tree, Leg):
        return tree.contact.form == "NC" or not _is_button(context, tree.contact)
    parts = (_closed(context, part) for part in tree.parts)
    return all(parts) if isinstance(tree, Series) else any(parts)
