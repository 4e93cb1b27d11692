"""What may stand for a contact: a named contact, a sensor, another controller's output, or a combination."""

from __future__ import annotations

import difflib
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass

from pydantic import BaseModel

from wiregen.control.banks import Banks
from wiregen.control.functions import Contact, ContactTree, Device, Leg, Parallel, Sensor, Series
from wiregen.scheme import ContactText, split_contact
from wiregen.scheme.model import ContactUse
from wiregen.terms import Notice, Pin, Where


@dataclass(frozen=True, slots=True)
class FromController:
    """The far side is an output of another controller, or of a bank, which allocation chooses."""

    device: str


@dataclass(frozen=True, slots=True)
class Interposed:
    """A relay between: what ``use`` names drives the coil of ``relay``, whose contact stands in its stead."""

    relay: str
    use: ContactUse
    where: Where


Resolved = Leg | Series | Parallel | Sensor | FromController
Report = Callable[[Notice], None]


class PartnerFinder:
    """Resolves contact references against the devices of one scheme."""

    def __init__(self, devices: tuple[Device, ...], banks: Banks, report: Report, named: Iterable[str] = ()) -> None:
        self._devices = {d.name: d for d in devices}
        self._banks = banks
        self._report = report
        self._taken = set(self._elements(named))  # (device, element): contacts that something uses
        self._unnamed: dict[Where, Contact] = {}
        self.interposed: list[Interposed] = []

    def find(self, use: ContactUse, where: Where) -> Resolved | None:
        """The partner that ``use`` names; None after reporting what is wrong with it."""
        if use.through is not None:
            return self._interpose(use, use.through, where)
        if use.all or use.any:
            return self._combination(use, where)
        if use.by and use.by in self._banks:
            return FromController(use.by)
        return self._find_text(split_contact(use.by or "", self._devices), where)

    def _combination(self, use: ContactUse, where: Where) -> Series | Parallel | None:
        """Contacts in series or in parallel. A sensor or an output in between needs a relay of its own."""
        key = "all" if use.all else "any"
        parts: list[ContactTree] = []
        for index, part in enumerate(use.all or use.any):
            at = (*where, key, str(index))
            found = self.find(part, at)
            if isinstance(found, Sensor | FromController):
                what = "sensor" if isinstance(found, Sensor) else "output"
                says = f"the {what} of {found.device} cannot stand between contacts in series or in parallel"
                self._report(Notice("combination-unfit", at, found.device, says))
                found = None
            if part.healthy or part.acts_on:
                says = f"one contact of a combination has no sense of its own: {_shown(part)} says when it acts"
                self._report(Notice("combination-unfit", at, _shown(part), says))
            if found is not None:
                parts.append(found)
        if len(parts) < len(use.all or use.any):
            return None
        return Series(tuple(parts)) if use.all else Parallel(tuple(parts))

    def _interpose(self, use: ContactUse, relay: str, where: Where) -> Leg | None:
        contact = self.make_contact(relay, (*where, "through"))
        if contact is None:
            return None
        self.interposed.append(Interposed(relay, use.model_copy(update={"through": None}), where))
        return leg_of(contact)

    def make_contact(self, relay: str, where: Where) -> Contact | None:
        """The make contact of an interposing relay; None after reporting that ``relay`` is none."""
        device = self._devices[relay]
        if device.kind not in ("relay", "contactor"):
            says = f"{relay} ({device.profile.title}) is no relay that could stand between"
            self._report(Notice("through-unfit", where, relay, says))
            return None
        return self._bare(device, where)

    def _find_text(self, text: ContactText, where: Where) -> Resolved | None:
        device = self._devices[text.device]  # the reading room has checked every name
        whole = text.contact is None and text.position is None
        if whole and device.kind in ("drive", "card"):
            return FromController(device.name)
        if whole and device.kind.startswith("proximity"):
            return sensor_of(device)
        contact = self._contact(device, text, where)
        return leg_of(contact) if contact else None

    def digits_of(self, use: ContactUse) -> tuple[ContactUse, ...]:
        """One use a contact, where ``use`` names a whole selector with several; else ``use`` alone."""
        device = self._devices.get(use.by or "")
        if device is None or device.kind != "selector" or len(device.contacts) < 2 or use.through:
            return (use,)
        positions = dict.fromkeys(contact.position for contact in device.contacts)
        return tuple(use.model_copy(update={"by": f"{device.name}@{position}"}) for position in positions)

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
        return self._bare(device, where)

    def _bare(self, device: Device, where: Where) -> Contact | None:
        """The contact that a device's plain name means: the first unused one, where all that may be meant are alike.

        Of a relay that is a make contact: it closes when the relay is energised.
        """
        if where in self._unnamed:
            return self._unnamed[where]
        makes = device.kind in ("relay", "contactor")
        meant = [c for c in device.contacts if not makes or c.form == "NO"]
        free = [c for c in meant if (device.name, c.element) not in self._taken]
        choice = free or meant
        if not choice or len({(c.form, c.position) for c in choice}) > 1:
            names = [c.name if c.position is None else f"@{c.position}" for c in device.contacts]
            says = f"{device.name} has several contacts ({', '.join(names)}); name one, as in {_example(device)}"
            self._refuse("contact-unclear", where, device.name, says)
            return None
        self._taken.add((device.name, choice[0].element))
        self._unnamed[where] = choice[0]
        return choice[0]

    def _elements(self, named: Iterable[str]) -> Iterator[tuple[str, int]]:
        """The contacts that a scheme names outright, so that a plain name does not mean them."""
        for name in named:
            text = split_contact(name, self._devices)
            contacts = self._devices[text.device].contacts if text.device in self._devices else ()
            at = [c for c in contacts if text.position is not None and c.position == text.position]
            yield from ((text.device, c.element) for c in contacts if c.name == text.contact)
            yield from ((text.device, c.element) for c in at[text.nth - 1 : text.nth])

    def _at_position(self, device: Device, wanted: str, nth: int, where: Where) -> Contact | None:
        found = [c for c in device.contacts if c.position == wanted]
        if nth <= len(found):
            return found[nth - 1]
        if found:
            noun = "contact" if len(found) == 1 else "contacts"
            says = f"{device.name} has {len(found)} {noun} closed in {wanted}, not {nth}"
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


def leg_of(contact: Contact) -> Leg:
    """A contact in a circuit, its first pin towards the feed."""
    return Leg(contact, Pin(contact.device, contact.a), Pin(contact.device, contact.b))


def named_contacts(value: object) -> Iterator[str]:
    """Every name of a contact in a scheme's model, in its order."""
    if isinstance(value, ContactUse) and value.by is not None:
        yield value.by
    if isinstance(value, BaseModel):
        yield from (name for field in type(value).model_fields for name in named_contacts(getattr(value, field)))
    elif isinstance(value, dict):
        yield from (name for item in value.values() for name in named_contacts(item))
    elif isinstance(value, tuple):
        yield from (name for item in value for name in named_contacts(item))


def _shown(use: ContactUse) -> str:
    return use.by or "a combination"


def _example(device: Device) -> str:
    contact = device.contacts[0]
    return f"{device.name}@{contact.position}" if contact.position else f"{device.name}.{contact.name}"
