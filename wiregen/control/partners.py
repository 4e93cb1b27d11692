"""What may stand for a contact: a named contact, a sensor, another controller's output, or a combination."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from wiregen.control.banks import Banks
from wiregen.control.functions import Contact, Device, Leg, Parallel, Sensor, Series
from wiregen.scheme import ContactText, split_contact
from wiregen.scheme.model import ContactUse
from wiregen.terms import Notice, Pin, Where


@dataclass(frozen=True, slots=True)
class FromController:
    """The far side is an output of another controller, or of a bank, which allocation chooses."""

    device: str


Resolved = Leg | Series | Parallel | Sensor | FromController
Report = Callable[[Notice], None]


class PartnerFinder:
    """Resolves contact references against the devices of one scheme."""

    def __init__(self, devices: tuple[Device, ...], banks: Banks, report: Report) -> None:
        self._devices = {d.name: d for d in devices}
        self._banks = banks
        self._report = report

    def find(self, use: ContactUse, where: Where) -> Resolved | None:
        """The partner that ``use`` names; None after reporting what is wrong with it."""
        if use.all or use.any:
            parts = [self.find(part, where) for part in use.all or use.any]
            legs = tuple(p for p in parts if isinstance(p, Leg | Series | Parallel))
            if len(legs) < len(parts):
                return None
            return Series(legs) if use.all else Parallel(legs)
        if use.by and use.by in self._banks:
            return FromController(use.by)
        return self._find_text(split_contact(use.by or "", self._devices), where)

    def _find_text(self, text: ContactText, where: Where) -> Resolved | None:
        device = self._devices[text.device]  # the reading room has checked every name
        whole = text.contact is None and text.position is None
        if whole and device.kind in ("drive", "card"):
            return FromController(device.name)
        if whole and device.kind.startswith("proximity"):
            return sensor_of(device)
        contact = self._contact(device, text, where)
        return Leg(contact, Pin(device.name, contact.a), Pin(device.name, contact.b)) if contact else None

    def digits_of(self, use: ContactUse) -> tuple[ContactUse, ...]:
        """One use a contact, where ``use`` names a whole selector with several; else ``use`` alone."""
        device = self._devices.get(use.by or "")
        if device is None or device.kind != "selector" or len(device.contacts) < 2:
            return (use,)
        return tuple(use.model_copy(update={"by": f"{device.name}@{contact.position}"}) for contact in device.contacts)

    def _contact(self, device: Device, text: ContactText, where: Where) -> Contact | None:
        if not device.contacts:
            says = f"{device.name} ({device.profile.title}) has no contact"
            self._refuse("contact-unknown", where, device.name, says)
            return None
        if text.position is not None:
            return self._at_position(device, text.position, text.nth, where)
        if text.contact is not None:
            found = next((c for c in device.contacts if c.name == text.contact), None)
            names = [c.name for c in device.contacts]
            says = f"{device.name} has no contact {text.contact}; it has {', '.join(names)}"
            if found is None:
                self._refuse("contact-unknown", where, device.name, says, names, text.contact)
            return found
        if len(device.contacts) > 1 and device.kind != "emergency_stop":
            names = [c.name if c.position is None else f"@{c.position}" for c in device.contacts]
            says = f"{device.name} has several contacts ({', '.join(names)}); name one, as in {_example(device)}"
            self._refuse("contact-unclear", where, device.name, says)
            return None
        return device.contacts[0]

    def _at_position(self, device: Device, wanted: str, nth: int, where: Where) -> Contact | None:
        found = [c for c in device.contacts if c.position == wanted]
        if nth <= len(found):
            return found[nth - 1]
        if found:
            says = f"{device.name} has {len(found)} contact closed in {wanted}, not {nth}"
            self._refuse("position-unknown", where, device.name, says)
            return None
        if wanted in device.declared.positions:
            says = (
                f"{device.name} has no contact closed in {wanted}: "
                "say contact_per_position: yes to give it one in each position"
            )
            self._refuse("position-unknown", where, device.name, says)
            return None
        names = list(device.declared.positions)
        says = f"{device.name} has no position {wanted}; its positions are {', '.join(names) or 'not declared'}"
        self._refuse("position-unknown", where, device.name, says, names, wanted)
        return None

    def _refuse(
        self, code: str, where: Where, subject: str, message: str, known: Iterable[str] = (), wanted: str | None = None
    ) -> None:
        near = difflib.get_close_matches(wanted or subject, list(known), 1)
        self._report(Notice(code, where, subject, message + (f" (did you mean {near[0]}?)" if near else "")))


def sensor_of(device: Device) -> Sensor:
    """The pins of a proximity switch, and the only polarity that it fits.

    PNP switches +, NPN switches 0 V (IEC 60947-5-2). The profile's kind guarantees the pins.
    """
    pins = {t.role: Pin(device.name, t.label) for t in device.profile.terminals}
    output = pins.get("output")
    polarity = {"PNP": "source", "NPN": "sink"}[device.declared.output or "PNP"] if output else None
    return Sensor(device.name, pins["plus"], pins["minus"], output, polarity)


def _example(device: Device) -> str:
    contact = device.contacts[0]
    return f"{device.name}@{contact.position}" if contact.position else f"{device.name}.{contact.name}"
