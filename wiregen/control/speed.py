"""Speed references: from a potentiometer, a transmitter, another controller's analog output, or set in the device."""

from __future__ import annotations

from typing import Literal

from wiregen import quantities
from wiregen.control.answers import is_inverse, said, signal_setting
from wiregen.control.functions import Device, End, Partner, Potentiometer, ReferenceInfo, Supply, Transmitter
from wiregen.control.interpreter import Interpreter
from wiregen.scheme.model import Control, Process, Reference
from wiregen.terms import Pin, Where

_WIRES = {"transmitter_two_wire": 2, "transmitter_three_wire": 3, "transmitter_four_wire": 4}


def add_speed(book: Interpreter, controller: str, control: Control) -> None:
    """Every reference of a drive: a function where it takes a terminal, and what is known of it in any case."""
    infos = book.references.setdefault(controller, [])
    closed = [name for name, reference in control.speed.items() if reference.process]
    for name, reference in control.speed.items():
        where: Where = ("control", controller, "speed", name)
        infos.append(_info(name, reference, where))
        if reference.process:
            _add_process(book, controller, reference.process, (*where, "process"), name if len(closed) > 1 else "")
        elif is_wired(reference):
            add_analog_input(book, controller, f"reference {name}", reference, where)


def is_wired(reference: Reference) -> bool:
    """Whether a reference or a signal comes in at a terminal."""
    return reference.from_ is not None and reference.from_ != "network"


def _add_process(book: Interpreter, controller: str, process: Process, where: Where, reference: str) -> None:
    """Setpoint and feedback of a closed loop; ``reference`` follows their names where a drive has several loops."""
    for plain, signal in (("setpoint", process.setpoint), ("feedback", process.feedback)):
        if signal is not None and is_wired(signal):
            name = f"{plain} {reference}".rstrip()
            add_analog_input(book, controller, name, signal, (*where, plain), plain=plain, run=reference)


def gives_analog(device: Device) -> bool:
    """Whether a device is a source of an analog signal: a potentiometer or a transmitter."""
    return device.kind == "potentiometer" or device.kind in _WIRES


def add_analog_input(
    book: Interpreter,
    controller: str,
    name: str,
    reference: Reference,
    where: Where,
    *,
    plain: str = "",
    run: str = "",
) -> None:
    """An analog input of ``controller`` fed by what ``reference.from_`` names."""
    source = book.device(reference.from_ or "")
    if source is None:
        return
    usual = "0-10 V" if source.kind == "potentiometer" else "4-20 mA"
    signal = reference.signal or source.declared.signal or usual
    partner, second, supplies = _source(book, controller, name, source, signal, reference, where)
    if partner is None and second is None:
        text = f"{source.name} ({source.profile.title}) gives no analog signal"
        book.notice("source-unfit", (*where, "from"), source.name, text)
        return
    signals = frozenset({signal})
    end = book.end(controller, name, "analog_in", signals, where, far=source.place, category="analog")
    end = book.known_as(end, plain, run)
    book.add(
        name,
        controller,
        "analog_in",
        (end, second) if second else (end,),
        partner,
        supplies[0][1] if supplies else None,
        where,
        supplies=supplies,
        category="analog",
        signal=signal,
        spans=reference.spans or "",
        setting=signal_setting(signal, reference),
        plain=plain,
        on_low=said(reference.on_low or reference.on_loss),
        on_high=said(reference.on_high or reference.on_loss),
        inverse=is_inverse(reference),
    )


def _source(
    book: Interpreter, controller: str, name: str, source: Device, signal: str, reference: Reference, where: Where
) -> tuple[Partner | None, End | None, list[tuple[str, Supply | None]]]:
    """What gives the signal: a partner with the supply that feeds it, or the output of another controller."""
    if source.kind == "potentiometer":
        return potentiometer_of(source), None, []
    if source.kind in _WIRES:
        cards = book.cards(controller)
        feeds = [(card.name, _transmitter_supply(book, card, source, reference, where)) for card in cards]
        return transmitter_of(source), None, feeds
    if source.kind in ("drive", "card"):
        here = book.device(controller)
        far = book.end(
            reference.from_ or "",
            f"{name} of {controller}",
            "analog_out",
            frozenset({signal}),
            where,
            category="analog",
            owner=controller,
            far=here.place if here else "",
        )
        return None, far, []
    return None, None, []


def _transmitter_supply(
    book: Interpreter, controller: Device, source: Device, reference: Reference, where: Where
) -> Supply | None:
    """Said at the reference or the device; else what feeds the controller's inputs.

    A four-wire transmitter takes more than a controller's own output should give: the supply of its place feeds it.
    """
    found = _unfused(book, controller, source, reference, where)
    return book.supplies.fused(found, reference.fuse, (*where, "fuse")) if found else None


def _unfused(
    book: Interpreter, controller: Device, source: Device, reference: Reference, where: Where
) -> Supply | None:
    if reference.supply:
        return book.supplies.named(reference.supply, (*where, "supply"))
    if source.declared.supply:
        return book.supplies.named(source.declared.supply, (*source.where, "supply"))
    if source.kind == "transmitter_four_wire":
        return book.supplies.of_place(source.place, where, source.name)
    # A loop through several receivers comes back to the last of them, so that one's supply feeds it.
    last = book.device(source.declared.loop[-1]) if source.declared.loop else None
    return book.supplies.of_inputs(last or controller)


def potentiometer_of(device: Device) -> Potentiometer:
    """The pins of a potentiometer by their roles."""
    pins = {t.role: Pin(device.name, t.label) for t in device.profile.terminals}
    return Potentiometer(device.name, pins["low_end"], pins["wiper"], pins["high_end"])


def transmitter_of(device: Device) -> Transmitter:
    """The pins of a transmitter by its wires; a two-wire one gives its signal at its minus (ISA-50.00.01 type 2)."""
    pins = {t.role: Pin(device.name, t.label) for t in device.profile.terminals}
    wires = _WIRES[device.kind]
    isolated = device.declared.isolated
    return Transmitter(
        device.name,
        2 if wires == 2 else 3 if wires == 3 else 4,
        pins["plus"],
        pins["minus"],
        pins["minus"] if wires == 2 else pins["output"],
        pins.get("output_return"),
        bool(isolated) if isolated is not None else wires == 4,
    )


def _info(name: str, reference: Reference, where: Where) -> ReferenceInfo:
    low, high = quantities.parse_range(reference.spans, "Hz") if reference.spans else (None, None)
    preset = quantities.parse(reference.preset, "Hz") if reference.preset else None
    return ReferenceInfo(
        name=name,
        kind=_kind(reference),
        signal=reference.signal or "",
        low_hz=low,
        high_hz=high,
        preset_hz=preset,
        source=reference.from_,
        on_low=said(reference.on_low or reference.on_loss),
        on_high=said(reference.on_high or reference.on_loss),
        inverse=is_inverse(reference),
        where=where,
    )


def _kind(reference: Reference) -> Literal["wired", "preset", "network", "process"]:
    if reference.preset is not None:
        return "preset"
    if reference.process is not None:
        return "process"
    return "network" if reference.from_ == "network" else "wired"
