"""Which keys go with which kind of device: a key that says nothing for its device is an error, not an ornament."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from wiregen.profiles.model import ContactMarks, Profile
from wiregen.scheme.fields import ReadTable
from wiregen.scheme.model import Control, Device, SafetyReset
from wiregen.scheme.names import shown
from wiregen.scheme.references import Declared
from wiregen.scheme.tree import Table
from wiregen.scheme.wrong import Wrong, find, listed

_CONTROLLERS = frozenset({"drive", "card", "supply", "safety_relay"})
_TRANSMITTERS = frozenset({"transmitter_two_wire", "transmitter_three_wire", "transmitter_four_wire"})

_SUPPLIES = frozenset({"supply", "transformer"})
_LOADS = frozenset({"lamp", "horn", "valve"})
_COILS = frozenset({"relay", "contactor"})

# Key of a device -> the kinds that it goes with, and how these are called.
_OF_DEVICES: dict[str, tuple[frozenset[str], str]] = {
    "opens": (frozenset({"contact", "selector", "emergency_stop"}), "devices that a hand or a machine operates"),
    "positions": (frozenset({"selector"}), "selectors"),
    "contact_per_position": (frozenset({"selector"}), "selectors"),
    "output": (frozenset({"proximity_three_wire"}), "three-wire proximity switches"),
    "resistance": (frozenset({"potentiometer", "resistor", "thermistor"}), "potentiometers and resistors"),
    "measures": (_TRANSMITTERS, "transmitters"),
    "poles": (frozenset({"relay"}), "relays"),
    "zero_volt": (_CONTROLLERS | {"transformer"}, "supplies and controllers"),
    "voltage": (_SUPPLIES | _LOADS, "supplies, transformers and loads"),
    "coil": (_COILS, "relays and contactors"),
    "colour": (frozenset({"contact", "emergency_stop", "selector", "lamp"}), "actuators and lamps"),
    "rating": (frozenset({"fuse"}), "fuses"),
    "power": (frozenset({"transformer"}), "transformers"),
    "fuse": (_SUPPLIES | {"drive"}, "what gives a control voltage: supplies, transformers, drives with a 24 V output"),
}

_EVERYWHERE = frozenset({"like", "with", "zero_volt", "supply"})
_OF_COILS = _EVERYWHERE | {"energise"}
_OF_SAFETY_RELAYS = _EVERYWHERE | {"guards", "channels", "reset", "relays", "shows", "energise"}
_OF_CARDS = _EVERYWHERE | {"inputs", "reads", "operates", "shows"}
_OF_BANKS = _OF_CARDS - {"like", "with"}
_OF_DRIVES = frozenset(Control.key_fields()) - {"reads", "operates", "energise", "guards", "channels"}
# Kind -> the keys of its control section, and how the kind is called.
_OF_CONTROL: dict[str, tuple[frozenset[str], str]] = {
    "drive": (_OF_DRIVES, "a drive"),
    "card": (_OF_CARDS, "an I/O card"),
    "supply": (_EVERYWHERE, "a supply"),
    "safety_relay": (_OF_SAFETY_RELAYS, "a safety relay"),
    "relay": (_OF_COILS, "a relay"),
    "contactor": (_OF_COILS, "a contactor"),
}


def misplaced_keys(root: Table, tables: Iterable[ReadTable], declared: Declared) -> Iterator[Wrong]:
    """Keys that mean nothing for the device at which they stand."""
    for table in tables:
        if table.model is SafetyReset:
            yield from _of_reset(root, table, declared)
        if table.model not in (Device, Control):
            continue
        name = table.where[-1]
        if table.model is Control and name in declared.banks:
            yield from _of_bank(root, table)
            continue
        profile = declared.profile_of(name)
        kind = _kind(profile)
        if profile is None or kind is None:
            continue
        if table.model is Device:
            yield from _of_device(root, table, profile, kind)
        elif kind not in _OF_CONTROL:
            says = f"`{shown(name)}` ({profile.profile}) is no controller: nothing can stand here for it"
            yield Wrong(find(root, table.where).key, says)
        else:
            keys, called = _OF_CONTROL[kind]
            for key in table.table:
                if key in Control.key_fields() and key not in keys:
                    spot = find(root, (*table.where, key)).key
                    yield Wrong(spot, f"`{key}` says nothing here: `{shown(name)}` is {called}")


def _of_reset(root: Table, table: ReadTable, declared: Declared) -> Iterator[Wrong]:
    """Only a safety relay monitors its reset."""
    name = table.where[1]
    kind = _kind(declared.profile_of(name))
    if kind in _OF_CONTROL and kind != "safety_relay":
        says = f"`monitored` is for the reset of a safety relay: `{shown(name)}` is {_OF_CONTROL[kind][1]}"
        yield Wrong(find(root, (*table.where, "monitored")).key, says)


def _of_bank(root: Table, table: ReadTable) -> Iterator[Wrong]:
    for key in table.table:
        if key in Control.key_fields() and key not in _OF_BANKS:
            says = f"`{key}` says nothing here: `{shown(table.where[-1])}` is a bank of I/O cards"
            yield Wrong(find(root, (*table.where, key)).key, says)


def _of_device(root: Table, table: ReadTable, profile: Profile, kind: str) -> Iterator[Wrong]:
    for key in table.table:
        kinds, called = _OF_DEVICES.get(key, (frozenset({kind}), ""))
        if kind not in kinds:
            spot = find(root, (*table.where, key)).key
            yield Wrong(
                spot, f"`{key}` is for {called}: `{shown(table.where[-1])}` has the profile `{profile.profile}`"
            )


def unfit_contacts(root: Table, tables: Iterable[ReadTable], declared: Declared) -> Iterator[Wrong]:
    """Contacts that the profile does not offer: their form, their number, the number of positions."""
    for table in tables:
        profile = declared.profile_of(table.where[-1]) if table.model is Device else None
        if profile is not None:
            for key, says in _contact_faults(table.table, profile):
                yield Wrong(find(root, (*table.where, key)).spot, says)


def _contact_faults(device: dict[str, Any], profile: Profile) -> Iterator[tuple[str, str]]:
    """The key to look at, and what is wrong with it."""
    most, called = len(profile.marks), f"profile `{profile.profile}`"
    positions = _texts(device.get("positions", []))
    needed = len(positions) if len(positions) > 3 or device.get("contact_per_position") == "yes" else 2
    if len(positions) == 1:
        yield "positions", "a selector has two positions or more"
    elif profile.device == "selector" and (several := _counted(device.get("contacts"))) > most:
        yield "contacts", f"{called} has room for {most} contacts: {several} are too many"
    elif profile.device == "selector" and needed > most:
        yield "positions", f"{called} has room for {most} contacts, one a position: {needed} are too many"
    if device.get("poles") in ("2", "3", "4") and int(device["poles"]) > most > 0:
        yield "poles", f"{called} has at most {most} poles"
    for key in ("contact", "contacts"):
        forms = _texts(device.get(key, {}))
        if forms and (profile.device == "selector" or not profile.marks):
            yield key, f"{called} has its own contacts: `{key}` cannot change them"
        elif len(forms) > most:
            yield key, f"{called} has at most {most} contacts"
        else:
            for form, marks in zip(forms, profile.marks, strict=False):
                if form in ContactMarks.model_fields and not getattr(marks, form):
                    offered = listed(name for name in ContactMarks.model_fields if getattr(marks, name))
                    yield key, f"{called} offers no {form} contact: it offers {offered}"


def _counted(contacts: Any) -> int:
    """How many contacts a table of them by position asks for; what is no number is told elsewhere."""
    counts = contacts.values() if isinstance(contacts, dict) else ()
    return sum(int(count) for count in counts if isinstance(count, str) and count.isdecimal() and len(count) < 7)


def _texts(value: Any) -> list[str]:
    """The texts of a list in which one may stand alone; nothing where a table stands."""
    items = value if isinstance(value, list) else [value]
    return [item for item in items if isinstance(item, str)]


def _kind(profile: Profile | None) -> str | None:
    return (profile.controller or profile.device) if profile else None
