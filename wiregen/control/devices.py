"""Devices as built: the profile, the place, and the contacts that the scheme gives each."""

from __future__ import annotations

from wiregen.control.functions import Contact, Device
from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme
from wiregen.scheme.model import Device as DeclaredDevice


def build_devices(scheme: Scheme) -> tuple[Device, ...]:
    """Every device of the scheme, in declared order."""
    return tuple(
        _build(name, declared, scheme.profiles[declared.profile], order)
        for order, (name, declared) in enumerate(scheme.model.devices.items())
    )


def _build(name: str, declared: DeclaredDevice, profile: Profile, order: int) -> Device:
    contacts = tuple(_contacts(name, declared, profile))
    fixed = [pin for terminal in profile.terminals if terminal.role != "contact" for pin in terminal.pins]
    marked = [pin for contact in contacts for pin in (contact.a, contact.b)]
    return Device(
        name=name,
        profile=profile,
        place=declared.at,
        text=declared.text,
        declared=declared,
        contacts=contacts,
        pins=tuple(dict.fromkeys(fixed + marked)),
        order=order,
        where=("devices", name),
    )


def _contacts(name: str, declared: DeclaredDevice, profile: Profile) -> list[Contact]:
    if profile.device == "selector":
        return _selector_contacts(name, declared, profile)
    if profile.marks:
        return _chosen_contacts(name, _forms(declared, profile), profile)
    own = [t for t in profile.terminals if t.role == "contact"]
    return [c for i, t in enumerate(own) for c in _halves(name, t.form or "NO", t.pins, i)]


def _forms(declared: DeclaredDevice, profile: Profile) -> tuple[str, ...]:
    """The forms that the scheme chooses; one make contact where it is silent, a relay's poles as its profile marks them."""
    if isinstance(declared.contacts, tuple):
        return declared.contacts
    if not profile.marks[0].NO:
        return ("changeover",) * int(declared.poles or "1")
    return (declared.contact or "NO",)


def _chosen_contacts(name: str, forms: tuple[str, ...], profile: Profile) -> list[Contact]:
    found: list[Contact] = []
    for element, (form, marks) in enumerate(zip(forms, profile.marks, strict=False)):
        found += _halves(name, form, getattr(marks, form), element)
    return found


def _selector_contacts(name: str, declared: DeclaredDevice, profile: Profile) -> list[Contact]:
    """Two positions: one contact, closed in the second. Three: closed in the first and in the third. Else one a position."""
    positions = declared.positions or ("0", "1")
    if declared.contact_per_position or len(positions) > 3:
        closed_in = positions
    elif len(positions) == 3:
        closed_in = (positions[0], positions[2])
    else:
        closed_in = positions[1:]
    return [
        Contact(name, f"{marks.NO[0]}-{marks.NO[1]}", "NO", marks.NO[0], marks.NO[1], position, element)
        for element, (position, marks) in enumerate(zip(closed_in, profile.marks, strict=False))
    ]


def _halves(name: str, form: str, pins: tuple[str, ...], element: int) -> list[Contact]:
    """A changeover (common, break, make) is two halves on one common pin; any other form is one contact."""
    if form == "changeover":
        common, opens, closes = pins
        return [
            Contact(name, f"{common}-{closes}", "NO", common, closes, None, element),
            Contact(name, f"{common}-{opens}", "NC", common, opens, None, element),
        ]
    return [Contact(name, f"{pins[0]}-{pins[1]}", "NC" if form == "NC" else "NO", pins[0], pins[1], None, element)]
