"""Devices as built: the profile, the place, and the contacts that the scheme gives each."""

from __future__ import annotations

from wiregen.control.functions import Contact, Device
from wiregen.profiles.figures import with_figures
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
        profile=_with_figures(profile, declared),
        place=declared.at,
        text=declared.text,
        declared=declared,
        contacts=contacts,
        pins=tuple(dict.fromkeys(fixed + marked + [pin for terminal in profile.power for pin in terminal.pins])),
        order=order,
        where=("devices", name),
    )


def _with_figures(profile: Profile, declared: DeclaredDevice) -> Profile:
    """The profile with what the scheme says of this one device: every room asks the figures of a device there."""
    by_key = {"resistance": declared.resistance, "rating": declared.rating, "power": declared.power}
    said = {name: text for name, text in by_key.items() if text}
    return with_figures(profile, {**said, **declared.figures})


def _contacts(name: str, declared: DeclaredDevice, profile: Profile) -> list[Contact]:
    if profile.device == "selector":
        return _selector_contacts(name, declared, profile)
    if profile.marks:
        return _chosen_contacts(name, _forms(declared, profile), profile)
    own = [t for t in profile.terminals if t.role == "contact"]
    return [c for i, t in enumerate(own) for c in _halves(name, t.form or "NO", t.pins, i)]


def _forms(declared: DeclaredDevice, profile: Profile) -> tuple[str, ...]:
    """The forms that the scheme chooses; where it is silent, one contact, or one a pole, of the first form there is."""
    if isinstance(declared.contacts, tuple):
        return declared.contacts
    if declared.contact:
        return (declared.contact,)
    first = next(form for form in ("NO", "changeover", "NC") if getattr(profile.marks[0], form))
    return (first,) * int(declared.poles or "1")


def _chosen_contacts(name: str, forms: tuple[str, ...], profile: Profile) -> list[Contact]:
    found: list[Contact] = []
    for element, (form, marks) in enumerate(zip(forms, profile.marks, strict=False)):
        if pins := getattr(marks, form):
            found += _halves(name, form, pins, element)
    return found


def _selector_contacts(name: str, declared: DeclaredDevice, profile: Profile) -> list[Contact]:
    """Two positions: one contact, closed in the second. Three: in the first and in the third. Else one a position.

    `contacts` as a table says itself how many contacts each position closes.
    """
    positions = declared.positions or ("0", "1")
    if isinstance(declared.contacts, dict):
        closed_in = tuple(position for position, count in declared.contacts.items() for _ in range(int(count)))
    elif declared.contact_per_position or len(positions) > 3:
        closed_in = positions
    elif len(positions) == 3:
        closed_in = (positions[0], positions[2])
    else:
        closed_in = positions[1:]
    makes = [marks.NO for marks in profile.marks if marks.NO]
    return [
        Contact(name, f"{a}-{b}", "NO", a, b, position, element)
        for element, (position, (a, b)) in enumerate(zip(closed_in, makes, strict=False))
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
