"""Names against what is declared: profiles, places, devices, terminals and banks."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from wiregen.profiles.model import Profile
from wiregen.scheme.fields import ReadName
from wiregen.scheme.model import Place
from wiregen.scheme.names import shown, split_contact, wrong_bank_name, wrong_device_name, wrong_place_name
from wiregen.scheme.tree import Table
from wiregen.scheme.wrong import Wrong, find, listed
from wiregen.terms import Spot

_OF_DEVICE = re.compile(r".* of (\S+)")
_LISTED = 8  # so many names are listed where none comes near


@dataclass(frozen=True)
class Declared:
    """What a scheme's data declares. A section that is missing or no table is None: nothing is checked against it."""

    places: Mapping[str, Any] | None
    devices: Mapping[str, Any] | None
    banks: Mapping[str, Any]
    profiles: Mapping[str, Profile]
    practice: str
    cabinets: tuple[str, ...]  # places without a route, and those at which the route of another begins

    @classmethod
    def in_scheme(cls, root: Table, data: Mapping[str, Any], profiles: Mapping[str, Profile]) -> Declared:
        places, devices = table_in(data, "places"), table_in(data, "devices")
        practice = str(data.get("practice", "iec"))
        return cls(places, devices, table_in(data, "banks") or {}, profiles, practice, _cabinets(root))

    @property
    def partners(self) -> Mapping[str, Any] | None:
        """Devices, and banks of cards, which stand wherever a card may stand."""
        return None if self.devices is None else {**self.devices, **self.banks}

    def profile_of(self, device: str) -> Profile | None:
        name = (table_in(self.devices or {}, device) or {}).get("profile")
        return self.profiles.get(name) if isinstance(name, str) else None


def _cabinets(root: Table) -> tuple[str, ...]:
    """Places without a route; and those at which another's begins, if their own leads to one without.

    A place with an unknown or an empty key is none: it may be a route misspelt.
    """
    places = root.entries["places"].value if "places" in root.entries else None
    tables = {n: e.value for n, e in (places.entries if isinstance(places, Table) else {}).items()}
    routes = {n: t.entries["route"].value for n, t in tables.items() if isinstance(t, Table) and "route" in t.entries}
    starts = {start for route in routes.values() if isinstance(route, Table) for start in route.entries}
    known = Place.key_fields().keys() - {"route"}
    first = {name for name, table in tables.items() if isinstance(table, Table) and table.entries.keys() <= known}
    led = {name for name, route in routes.items() if isinstance(route, Table) and first & route.entries.keys()}
    return tuple(name for name in tables if name in first or name in starts & led)


def table_in(data: Mapping[str, Any], key: str) -> dict[str, Any] | None:
    """The table at ``key``, None where there is none."""
    value = data.get(key)
    return value if isinstance(value, dict) else None


def wrong_names(root: Table, declared: Declared) -> Iterator[Wrong]:
    """Designations that are not written as the practice has it."""
    checks: tuple[tuple[str, Mapping[str, Any] | None, Callable[[str], str | None]], ...] = (
        ("places", declared.places, wrong_place_name),
        ("devices", declared.devices, lambda name: wrong_device_name(name, declared.practice)),
        ("banks", declared.banks, wrong_bank_name),
    )
    for section, names, check in checks:
        for name in names or ():
            if says := check(name):
                yield Wrong(find(root, (section, name)).key, says)


def unknown_names(root: Table, names: Iterable[ReadName], declared: Declared) -> Iterator[Wrong]:
    """Profiles, places and devices that are named somewhere and declared nowhere."""
    for name in names:
        found = find(root, name.where)
        wrong = _unknown(name, found.key if name.is_key else found.spot, declared)
        if wrong is not None:
            yield wrong


def _unknown(name: ReadName, spot: Spot, declared: Declared) -> Wrong | None:
    text = name.text
    match name.kind:
        case "profile":
            known = declared.profiles
            otherwise = "; the profiles there are: " + listed(sorted(known), "and") if known else ""
            if text in known:
                return None
            return Wrong(spot, f"unknown profile `{shown(text)}`", text, known, otherwise, code="profile-unknown")
        case "place":
            return _undeclared(spot, "place", text, declared.places, code="place-undeclared")
        case "contact":
            try:
                device = split_contact(text, declared.partners or {}).device
            except ValueError as error:
                return Wrong(spot, str(error))
            return _undeclared(spot, "device", device, declared.partners)
        case "function":
            of = _OF_DEVICE.fullmatch(text)
            return _undeclared(spot, "device", of.group(1), declared.partners) if of else None
        case "source" if text == "network":
            return None
        case "partner" | "source":
            return _undeclared(spot, "device", text, declared.partners)
        case _:
            return _undeclared(spot, "device", text, declared.devices)


def _undeclared(
    spot: Spot, what: str, name: str, known: Mapping[str, Any] | None, code: str = "device-undeclared"
) -> Wrong | None:
    if known is None or name in known:
        return None
    few = f": declared {'is' if len(known) == 1 else 'are'} {listed(map(shown, known), 'and')}"
    otherwise = few if 0 < len(known) <= _LISTED else ""
    return Wrong(spot, f"{what} `{shown(name)}` is not declared", name, known, otherwise, code=code)


def missing_basics(root: Table, declared: Declared) -> Iterator[Wrong]:
    """Something must be declared, and routes are measured from a cabinet, so there must be one."""
    if declared.devices is not None and not declared.devices:
        yield Wrong(find(root, ("devices",)).key, "declare at least one device")
    if declared.places is None:
        return
    cabinets = declared.cabinets
    if not declared.places:
        yield Wrong(find(root, ("places",)).key, "declare at least one place: the cabinet, which has no `route`")
    elif not cabinets and all(isinstance(p, dict) and "route" in p for p in declared.places.values()):
        yield Wrong(find(root, ("places",)).key, "one place must be the cabinet: leave out its `route`")
    for name, place in declared.places.items():
        for start in table_in(place, "route") or () if isinstance(place, dict) else ():
            if cabinets and start in declared.places and start not in cabinets:
                spot = find(root, ("places", name, "route", start)).key
                yield Wrong(spot, f"a route begins at a cabinet: `{shown(start)}` has a route itself")


def unknown_terminals(root: Table, data: Mapping[str, Any], declared: Declared) -> Iterator[Wrong]:
    """Terminals in `fixed` and `wired` that the device does not have."""
    for section in ("fixed", "wired"):
        for device, entries in (table_in(data, section) or {}).items():
            profile = declared.profile_of(device)
            if profile is None or not isinstance(entries, dict):
                continue
            known = [pin for t in profile.terminals for pin in dict.fromkeys((t.label, *t.pins))]
            for terminal in entries:
                if known and terminal not in known:
                    spot = find(root, (section, device, terminal)).key
                    says = f"`{shown(device)}` ({profile.profile}) has no terminal `{shown(terminal)}`"
                    otherwise = f": it has {listed(known, 'and')}"
                    yield Wrong(spot, says, terminal, known, otherwise, code="terminal-unknown")


def wrong_banks(root: Table, declared: Declared) -> Iterator[Wrong]:
    """Banks that are no bank: without cards, of things that are no cards, of cards with different outputs."""
    for name, cards in declared.banks.items():
        spot = find(root, ("banks", name)).key
        if name in (declared.devices or {}):
            yield Wrong(spot, f"`{shown(name)}` is a device already: give the bank another name")
        members = [c for c in (cards if isinstance(cards, list) else [cards]) if isinstance(c, str)]
        if isinstance(cards, list) and not cards:
            yield Wrong(spot, f"bank `{shown(name)}` has no cards: name them, as in `[-KE1, -KE2]`")
        profiles = [(card, profile) for card in members if (profile := declared.profile_of(card)) is not None]
        for card, profile in profiles:
            if profile.controller != "card":
                yield Wrong(spot, f"a bank is of I/O cards: `{shown(card)}` has the profile `{profile.profile}`")
        gives = {forms: (card, profile) for card, profile in profiles if (forms := _output_roles(profile))}
        if len(gives) > 1:
            (one, a), (other, b), *_ = gives.values()
            says = f"the cards of a bank give one kind of output: `{one}` is `{a.profile}`, `{other}` is `{b.profile}`"
            yield Wrong(spot, says)


def _output_roles(profile: Profile) -> frozenset[str]:
    return frozenset(t.role for t in profile.terminals if t.role in ("relay", "digital_out"))
