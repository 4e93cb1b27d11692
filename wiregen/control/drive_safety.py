"""What takes a drive's torque away, and the thermistors of its motor."""

from __future__ import annotations

from wiregen.control.functions import Device, End, Leg, Supply, Thermistor
from wiregen.control.guards import opening, too_few
from wiregen.control.interpreter import Interpreter
from wiregen.control.partners import leg_of
from wiregen.control.supplies import supply_of
from wiregen.scheme.model import Control, SafeTorqueOff
from wiregen.terms import Pin, Where

_CLOSED = frozenset({"NO"})
#: What may take a drive's torque away by contacts of its own, without a safety relay between.
_BY_HAND = ("emergency_stop", "contact", "selector")


def add_drive_safety(book: Interpreter, name: str, control: Control) -> None:
    """What takes a drive's torque away, and the thermistors of its motor."""
    device = book.device(name)
    if device is None:
        return
    if control.safe_torque_off is not None:
        _add_torque_off(book, device, control.safe_torque_off)
    if control.motor_thermistor is not None:
        _add_thermistor(book, device, control.motor_thermistor)


def _add_torque_off(book: Interpreter, device: Device, said: str | SafeTorqueOff) -> None:
    where: Where = ("control", device.name, "safe_torque_off")
    # A link stays on the terminals of the drive itself, if it gives 24 V.
    own = supply_of(device) if said == "linked" else None
    supply = own or book.supplies.of_inputs(device)
    count = sum(t.role == "safe_torque_off" for t in device.profile.terminals) or 2
    names = [f"safe torque off {number}" for number in range(1, count + 1)]
    if not isinstance(said, SafeTorqueOff):
        for name in names:
            _add_channel_of_drive(book, device, name, supply, where)
        return
    source = book.device(said.by)
    if source is None:
        return
    if source.kind == "safety_relay":
        _by_relay(book, device, source, names, said, supply)
    elif source.kind in _BY_HAND and source.contacts:
        _by_contacts(book, device, source, names, said, supply)
    else:
        says = (
            f"{source.name} ({source.profile.title}) cannot take the torque of {device.name} away: name a safety relay"
        )
        book.notice("safe-torque-off-unfit", (*where, "by"), source.name, says)


def _by_relay(
    book: Interpreter, device: Device, relay: Device, names: list[str], said: SafeTorqueOff, supply: Supply | None
) -> None:
    """Each channel by a contact of its own; where one contact is said to serve all, the others follow the first."""
    where: Where = ("control", device.name, "safe_torque_off")
    shared: End | None = None
    for name in names:
        if shared is not None:
            _add_channel_of_drive(book, device, name, supply, where, follows=shared)
            continue
        title = f"{name} of {device.name}"
        far = book.end(
            relay.name,
            title,
            "output",
            frozenset(),
            where,
            forms=_CLOSED,
            owner=device.name,
            far=device.place,
            category="safety",
        )
        _add_channel_of_drive(book, device, name, supply, where, far=far, at=relay.place)
        if said.channels == "one" and len(names) > 1:
            shared = far
    if shared is not None:
        _one_conductor(book, device, f"a contact of {relay.name}")


def _by_contacts(
    book: Interpreter, device: Device, source: Device, names: list[str], said: SafeTorqueOff, supply: Supply | None
) -> None:
    """Contacts of the device itself: one a channel."""
    where: Where = ("control", device.name, "safe_torque_off")
    contacts = opening(source)
    if said.channels == "one":
        contacts = contacts[:1] * len(names)
        _one_conductor(book, device, f"contact {contacts[0].name} of {source.name}")
    elif len(contacts) < len(names):
        too_few(book, source, contacts, len(names), f"safe torque off of {device.name} has", where)
    for name, contact in zip(names, contacts, strict=False):
        _add_channel_of_drive(book, device, name, supply, where, leg=leg_of(contact), at=source.place)


def _one_conductor(book: Interpreter, device: Device, contact: str) -> None:
    says = f"both safe torque off channels of {device.name} hang on one conductor from {contact}"
    where: Where = ("control", device.name, "safe_torque_off", "channels")
    book.notice("safe-torque-off-one-conductor", where, device.name, says)


def _add_channel_of_drive(
    book: Interpreter,
    device: Device,
    name: str,
    supply: Supply | None,
    where: Where,
    *,
    far: End | None = None,
    leg: Leg | None = None,
    follows: End | None = None,
    at: str = "",
) -> None:
    end = book.end(device.name, name, "safe_torque_off", frozenset(), where, far=at, category="safety")
    book.add(
        name,
        device.name,
        "safe_torque_off",
        (end, far) if far else (end,),
        leg,
        supply,
        where,
        category="safety",
        acts_on="open",
        follows=follows,
    )


def _add_thermistor(book: Interpreter, device: Device, name: str) -> None:
    where: Where = ("control", device.name, "motor_thermistor")
    sensor = book.device(name)
    if sensor is None:
        return
    if sensor.kind != "thermistor":
        says = (
            f"{name} ({sensor.profile.title}) is no thermistor: the input of {device.name} measures resistance; "
            "a contact belongs at `external_trip`"
        )
        book.notice("thermistor-unfit", where, name, says)
        return
    a, b, *_ = (Pin(name, pin) for t in sensor.profile.terminals if t.role == "link" for pin in t.pins)
    end = book.end(
        device.name, "motor thermistor", "motor_thermistor", frozenset(), where, far=sensor.place, category="thermistor"
    )
    partner = Thermistor(name, a, b)
    book.add("motor thermistor", device.name, "motor_thermistor", (end,), partner, None, where, category="thermistor")
