"""What stands where a contact may stand: a named contact, a sensor, another controller's output, or a combination."""

from __future__ import annotations

import difflib
from collections.abc import Callable
from dataclasses import dataclass

from wiregen.control.functions import Contact, Device, Leg, Parallel, Sensor, Series
from wiregen.scheme.model import ContactUse
from wiregen.terms import Notice, Pin, Where


@dataclass(frozen=True, slots=True)
class FromController:
    """The far side is an output of another controller, which allocation chooses."""

    device: str


Resolved = Leg | Series | Parallel | Sensor | FromController
Report = Callable[[Notice], None]


def split_reference(text: str) -> tuple[str, str | None, str | None]:
    """``-SJ3@AUTO.2`` -> (device, position with its number, None); ``-KF1.11-14`` -> (device, None, contact name).

    >>> split_reference("-SJ3@AUTO")
    ('-SJ3', 'AUTO', None)
    >>> split_reference("-KF1.11-14")
    ('-KF1', None, '11-14')
    """
    device, at, position = text.partition("@")
    if at:
        return device, position, None
    device, dot, contact = text.partition(".")
    return device, None, contact if dot else None


class PartnerFinder:
    """Resolves contact references against the devices of one scheme."""

    def __init__(self, devices: tuple[Device, ...], report: Report) -> None:
        self._devices = {d.name: d for d in devices}
        self._report = report

    def find(self, use: ContactUse, where: Where) -> Resolved | None:
        """The partner that ``use`` names; None after reporting what is wrong with it."""
        if use.all or use.any:
            parts = [self.find(part, where) for part in use.all or use.any]
            legs = tuple(p for p in parts if isinstance(p, Leg | Series | Parallel))
            if len(legs) < len(parts):
                return None
            return Series(legs) if use.all else Parallel(legs)
        return self.find_text(use.by or "", where)

    def find_text(self, text: str, where: Where) -> Resolved | None:
        name, position, contact_name = split_reference(text)
        device = self._devices.get(name)
        if device is None:
            return self._refuse("device-unknown", where, name, f"{name} is not declared under devices", self._devices)
        if device.kind in ("drive", "card") and not contact_name:
            return FromController(name)
        if device.kind.startswith("proximity"):
            return sensor_of(device)
        contact = self._contact(device, position, contact_name, where)
        return contact and Leg(contact, Pin(name, contact.a), Pin(name, contact.b))

    def contacts_of(self, text: str, where: Where) -> tuple[Contact, ...]:
        """All contacts that a selecting device offers, one a digit; a named contact or position is just that one."""
        name, position, contact_name = split_reference(text)
        device = self._devices.get(name)
        if device and device.kind == "selector" and not position and not contact_name:
            return device.contacts
        found = self.find_text(text, where)
        return (found.contact,) if isinstance(found, Leg) else ()

    def _contact(self, device: Device, position: str | None, name: str | None, where: Where) -> Contact | None:
        if not device.contacts:
            return self._refuse(
                "contact-unknown", where, device.name, f"{device.name} ({device.profile.title}) has no contact"
            )
        if position is not None:
            return self._at_position(device, position, where)
        if name is not None:
            found = next((c for c in device.contacts if c.name == name), None)
            names = [c.name for c in device.contacts]
            text = f"{device.name} has no contact {name}; it has {', '.join(names)}"
            return found or self._refuse("contact-unknown", where, device.name, text, names, name)
        if len(device.contacts) > 1 and not (device.kind == "emergency_stop"):
            names = [c.name if c.position is None else f"@{c.position}" for c in device.contacts]
            text = f"{device.name} has several contacts ({', '.join(names)}); name one, as in {_example(device)}"
            return self._refuse("contact-unclear", where, device.name, text)
        return device.contacts[0]

    def _at_position(self, device: Device, position: str, where: Where) -> Contact | None:
        wanted, _, number = position.partition(".")
        found = [c for c in device.contacts if c.position == wanted]
        index = int(number) - 1 if number.isdigit() else 0
        if 0 <= index < len(found):
            return found[index]
        if wanted in device.declared.positions:
            text = f"{device.name} has no contact closed in {position}: say contact_per_position: yes to give it one a position"
            return self._refuse("position-unknown", where, device.name, text)
        names = list(device.declared.positions)
        text = f"{device.name} has no position {wanted}; its positions are {', '.join(names) or 'not declared'}"
        return self._refuse("position-unknown", where, device.name, text, names, wanted)

    def _refuse(
        self, code: str, where: Where, subject: str, message: str, known: object = (), wanted: str | None = None
    ) -> None:
        near = difflib.get_close_matches(wanted or subject, [str(k) for k in known], 1) if known else []  # type: ignore[attr-defined]
        self._report(Notice(code, where, subject, message + (f" (did you mean {near[0]}?)" if near else "")))


def sensor_of(device: Device) -> Sensor:
    """The pins of a proximity switch and the only polarity that it fits (IEC 60947-5-2: PNP switches +, NPN switches 0 V)."""
    profile = device.profile
    plus, minus, output = profile.first("plus"), profile.first("minus"), profile.first("output")
    assert plus is not None and minus is not None  # the profile's kind guarantees them
    polarity = {"PNP": "source", "NPN": "sink"}[device.declared.output or "PNP"] if output else None
    return Sensor(
        device.name,
        Pin(device.name, plus.label),
        Pin(device.name, minus.label),
        Pin(device.name, output.label) if output else None,
        polarity,
    )


def _example(device: Device) -> str:
    contact = device.contacts[0]
    return f"{device.name}@{contact.position}" if contact.position else f"{device.name}.{contact.name}"
