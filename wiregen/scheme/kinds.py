"""Which keys go with which kind of device: a key that says nothing for its device is an error, not an ornament."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from wiregen.profiles.model import Profile
from wiregen.scheme.fields import ReadTable
from wiregen.scheme.model import Control, Device
from wiregen.scheme.names import shown
from wiregen.scheme.references import Declared
from wiregen.scheme.text import Table
from wiregen.scheme.wrong import Wrong, find

_CONTROLLERS = frozenset({"drive", "card", "supply", "safety_relay"})
_CONTACTS = frozenset(
    {"contact", "selector", "emergency_stop", "relay", "contactor", "proximity_two_wire", "proximity_three_wire"}
)
_TRANSMITTERS = frozenset({"transmitter_two_wire", "transmitter_three_wire", "transmitter_four_wire"})

# Key of a device -> the kinds that it goes with, and how these are called.
_OF_DEVICES: dict[str, tuple[frozenset[str], str]] = {
    "contact": (_CONTACTS, "devices with contacts"),
    "contacts": (_CONTACTS, "devices with contacts"),
    "opens": (_CONTACTS, "devices with contacts"),
    "positions": (frozenset({"selector"}), "selectors"),
    "contact_per_position": (frozenset({"selector"}), "selectors"),
    "output": (frozenset({"proximity_three_wire"}), "three-wire proximity switches"),
    "resistance": (frozenset({"potentiometer", "resistor", "thermistor"}), "potentiometers and resistors"),
    "measures": (_TRANSMITTERS, "transmitters"),
    "poles": (frozenset({"relay"}), "relays"),
    "zero_volt": (_CONTROLLERS, "supplies and controllers"),
}

_EVERYWHERE = frozenset({"like", "with", "zero_volt", "supply"})
_OF_COILS = _EVERYWHERE | {"energise"}
_OF_SAFETY_RELAYS = _EVERYWHERE | {"guards", "channels", "reset", "relays", "shows", "energise"}
_OF_CARDS = _EVERYWHERE | {"inputs", "reads", "operates", "shows"}
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
        if table.model not in (Device, Control):
            continue
        name = table.where[-1]
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


def _of_device(root: Table, table: ReadTable, profile: Profile, kind: str) -> Iterator[Wrong]:
    for key in table.table:
        kinds, called = _OF_DEVICES.get(key, (frozenset({kind}), ""))
        if kind not in kinds and not (kinds is _CONTACTS and profile.marks):
            spot = find(root, (*table.where, key)).key
            yield Wrong(
                spot, f"`{key}` is for {called}: `{shown(table.where[-1])}` has the profile `{profile.profile}`"
            )


def _kind(profile: Profile | None) -> str | None:
    return (profile.controller or profile.device) if profile else None
