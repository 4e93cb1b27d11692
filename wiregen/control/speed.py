"""Speed references: from a potentiometer, a transmitter, another controller's analog output, or set in the device."""

from __future__ import annotations

from wiregen import quantities
from wiregen.control.functions import Device, End, Partner, Potentiometer, ReferenceInfo, Supply, Transmitter
from wiregen.control.interpreter import Interpreter
from wiregen.scheme.model import Control, Reference
from wiregen.terms import Pin, Where

_WIRES = {"transmitter_two_wire": 2, "transmitter_three_wire": 3, "transmitter_four_wire": 4}


def add_speed(book: Interpreter, controller: str, control: Control) -> None:
    """Every reference of a drive: a function where it takes a terminal, and what is known of it in any case."""
    infos = book.references.setdefault(controller, [])
    for name, reference in control.speed.items():
        where: Where = ("control", controller, "speed", name)
        infos.append(_info(name, reference, where))
        if reference.from_ is not None and reference.from_ != "network":
            add_analog_input(book, controller, f"reference {name}", reference, where)


def gives_analog(device: Device) -> bool:
    """Whether a device is a source of an analog signal: a potentiometer or a transmitter."""
    return device.kind == "potentiometer" or device.kind in _WIRES


def add_analog_input(book: Interpreter, controller: str, name: str, reference: Reference, where: Where) -> None:
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
        setting=_setting(signal, reference),
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
    if reference.supply:
        return book.supplies.named(reference.supply, (*where, "supply"))
    if source.declared.supply:
        return book.supplies.named(source.declared.supply, (*source.where, "supply"))
    if source.kind == "transmitter_four_wire":
        return book.supplies.of_place(source.place, where, source.name)
    return book.supplies.of_inputs(controller)


def potentiometer_of(device: Device) -> Potentiometer:
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
    low_answer = reference.on_low or reference.on_loss
    high_answer = reference.on_high or reference.on_loss
    return ReferenceInfo(
        name=name,
        kind="preset" if preset is not None else "network" if reference.from_ == "network" else "wired",
        signal=reference.signal or "",
        low_hz=low,
        high_hz=high,
        preset_hz=preset,
        source=reference.from_,
        on_low=str(low_answer) if low_answer is not None else "",
        on_high=str(high_answer) if high_answer is not None else "",
        inverse=reference.inverse or (low is not None and high is not None and low > high),
        where=where,
    )


def _setting(signal: str, reference: Reference) -> str:
    parts = [f"set {signal}"]
    if reference.spans:
        parts.append(f"spans {reference.spans}")
    low, high = reference.on_low or reference.on_loss, reference.on_high or reference.on_loss
    if isinstance(low, str):
        parts.append(f"signal low: {low}")
    if isinstance(high, str):
        parts.append(f"signal high: {high}")
    return ", ".join(parts)
