"""Outputs: relay and transistor duties, what cards operate, values shown, and the digital signals that cards read."""

from __future__ import annotations

from wiregen.control.functions import Device, End, Load, Meter, Partner, Supply
from wiregen.control.interpreter import CONTACT, Interpreter, output_forms
from wiregen.scheme.model import Control, Duty, Show
from wiregen.terms import Pin, Where

#: What an output must carry where the load's profile says nothing, A. common practice, no source.
_UNKNOWN_LOAD_A = None


def add_outputs(book: Interpreter, controller: str, control: Control) -> None:
    """All outputs of one section, and a card's own inputs."""
    where: Where = ("control", controller)
    for name, duty in control.relays.items():
        _add_duty(book, controller, name.replace("_", " "), duty, (*where, "relays", name))
    for name, duty in control.operates.items():
        _add_duty(book, controller, name.replace("_", " "), duty, (*where, "operates", name))
    for name, use in control.reads.items():
        book.input(controller, name.replace("_", " "), use, (*where, "reads", name))
    for name, show in control.shows.items():
        _add_show(book, controller, name.replace("_", " "), show, (*where, "shows", name))


def _add_duty(book: Interpreter, controller: str, name: str, duty: Duty, where: Where) -> None:
    device, target = book.device(controller), book.device(duty.switches)
    if device is None or target is None:
        return
    forms = frozenset({duty.contact}) if duty.contact else output_forms(device)
    receiver = target.kind in ("drive", "card")
    load = None if receiver else load_of(target)
    if load is None and not receiver:
        text = f"{target.name} ({target.profile.title}) is no load that {name} of {controller} could switch"
        book.notice("load-unfit", (*where, "switches"), target.name, text)
        return
    second = _receiver(book, controller, name, target, forms, where) if receiver else None
    end = book.end(
        controller, name, "output", frozenset(), where, forms=forms, far=target.place, load_a=_load_current(target)
    )
    book.add(
        name,
        controller,
        "output",
        (end, second) if second else (end,),
        load,
        _duty_supply(book, device, target, duty, forms, where),
        where,
        setting=_duty_setting(name, duty),
        acts_on="closed",
    )


def _receiver(
    book: Interpreter, controller: str, name: str, target: Device, forms: frozenset[str], where: Where
) -> End:
    polarity = "source" if forms == {"transistor"} else None
    return book.end(
        target.name, f"{name} of {controller}", "digital_in", CONTACT, where, polarity=polarity, owner=controller
    )


def _duty_supply(
    book: Interpreter, device: Device, target: Device, duty: Duty, forms: frozenset[str], where: Where
) -> Supply | None:
    """A dry contact into an input takes the input's supply; a transistor output brings its own; a load its place's."""
    if duty.supply:
        return book.supplies.named(duty.supply, (*where, "supply"))
    if forms == {"transistor"}:
        return None
    if target.kind in ("drive", "card"):
        return book.supplies.of_inputs(target)
    return book.supplies.of_place(device.place, where, f"the relay of {device.name} that switches {target.name}")


def _add_show(book: Interpreter, controller: str, name: str, show: Show, where: Where) -> None:
    target = book.device(show.on)
    if target is None:
        return
    signal = show.signal or "4-20 mA"
    title = f"show {name}"
    partner: Partner | None = None
    second = None
    if target.kind == "meter":
        pins = {t.role: Pin(target.name, t.label) for t in target.profile.terminals}
        partner = Meter(target.name, pins["plus"], pins["minus"])
    elif target.kind in ("drive", "card"):
        second = book.end(
            target.name,
            f"{title} of {controller}",
            "analog_in",
            frozenset({signal}),
            where,
            category="analog",
            owner=controller,
        )
    else:
        text = f"{target.name} ({target.profile.title}) shows no analog value"
        book.notice("load-unfit", (*where, "on"), target.name, text)
        return
    end = book.end(controller, title, "analog_out", frozenset({signal}), where, far=target.place, category="analog")
    book.add(
        title,
        controller,
        "analog_out",
        (end, second) if second else (end,),
        partner,
        None,
        where,
        category="analog",
        signal=signal,
        spans=show.spans or "",
        setting=f"set {signal}" + (f", spans {show.spans}" if show.spans else ""),
    )


def load_of(device: Device) -> Load | None:
    """The pins of a load: a coil's A1 A2, a lamp's X1 X2, a valve's 1 2 and PE."""
    terminals = [t for t in device.profile.terminals if t.role in ("coil", "load")]
    pins = [pin for t in terminals for pin in t.pins]
    if len(pins) < 2:
        return None
    earth = device.profile.first("earth")
    return Load(
        device.name,
        Pin(device.name, pins[0]),
        Pin(device.name, pins[1]),
        Pin(device.name, earth.label) if earth else None,
    )


def _load_current(device: Device) -> float | None:
    """A at rated voltage, from the profile's current, or its power at 24 V."""
    figures = device.profile.figures
    if "current" in figures:
        return figures["current"].si
    if "power" in figures:
        return figures["power"].si / 24.0
    return _UNKNOWN_LOAD_A


def _duty_setting(name: str, duty: Duty) -> str:
    said = duty.energised or ("while_healthy" if name == "fault" else "")
    return f"set {name}" + (f", energised {said.replace('_', ' ')}" if said else "")
