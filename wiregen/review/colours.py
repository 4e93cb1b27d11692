"""Colours of actuators and lamps, and of cores, against what they mean to whoever stands before them."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Load
from wiregen.review.context import Context, called, legs_of
from wiregen.terms import Notice, Pin

#: Meaning of an input -> the colours that its push button may have. IEC 60204-1, clause 10.2.1, from memory.
_BUTTONS: dict[str, tuple[str, ...]] = {
    "start": ("white", "grey", "black", "green"),
    "start reverse": ("white", "grey", "black", "green"),
    "stop": ("black", "grey", "white", "red"),
    "reset": ("blue", "white", "grey", "black"),
    "jog forward": ("white", "grey", "black"),
    "jog reverse": ("white", "grey", "black"),
}
_EMERGENCY = ("red",)
#: Duty of a relay -> the colours that its lamp may have. IEC 60204-1, clause 10.3.2, from memory.
_LAMPS: dict[str, tuple[str, ...]] = {
    "fault": ("yellow", "red"),
    "running": ("green", "white"),
    "ready": ("green", "white"),
    "at speed": ("green", "white"),
}
#: How the colour of the protective conductor may be written at a core. IEC 60445, from memory.
_PROTECTIVE = ("GNYE", "YEGN")


def actuators(context: Context) -> Iterator[Notice]:
    """Push buttons whose colour means something else. Ladder practice has colours of its own."""
    told: set[str] = set()
    for function in context.declared.functions:
        for leg in legs_of(function):
            device = context.devices[leg.contact.device]
            emergency = device.kind == "emergency_stop" or device.profile.actuator == "mushroom"
            push = device.profile.actuator == "push"
            allowed = _EMERGENCY if emergency else _BUTTONS.get(function.meaning, ()) if push else ()
            colour = device.declared.colour
            if allowed and colour and colour not in allowed and device.name not in told and _is_iec(context):
                told.add(device.name)
                text = f"{device.name} is {colour}, and serves {called(function)}: that is {_either(allowed)}"
                yield Notice("actuator-colour-unfit", (*device.where, "colour"), device.name, text)


def lamps(context: Context) -> Iterator[Notice]:
    """Lamps whose colour means something else."""
    for function in context.declared.functions:
        allowed = _LAMPS.get(function.name, ())
        if not (allowed and isinstance(function.partner, Load) and _is_iec(context)):
            continue
        device = context.devices[function.partner.device]
        colour = device.declared.colour
        if device.kind == "lamp" and colour and colour not in allowed:
            text = f"{device.name} is {colour}, and shows {called(function)}: that is {_either(allowed)}"
            yield Notice("lamp-colour-unfit", (*device.where, "colour"), device.name, text)


def _is_iec(context: Context) -> bool:
    return context.scheme.model.practice == "iec"


def _either(colours: tuple[str, ...]) -> str:
    return colours[0] if len(colours) == 1 else f"{', '.join(colours[:-1])} or {colours[-1]}"


def protective(context: Context) -> Iterator[Notice]:
    """The green-and-yellow core fixed for something else than protective earth."""
    for section in ("fixed", "wired"):
        for device, entries in getattr(context.scheme.model, section).items():
            for name, several in entries.items():
                terminal = context.terminal(Pin(device, name))
                for entry in several:
                    earth = terminal is not None and terminal.role == "earth"
                    if (entry.core or "").upper() in _PROTECTIVE and not earth:
                        text = f"{device}:{name} is to lie on the green-and-yellow core of {entry.cable or 'a cable'}"
                        yield Notice("gnye-as-signal", (section, device, name), f"{device}:{name}", text)
