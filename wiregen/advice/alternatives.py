"""Alternatives that a scheme does not name itself: other ways to do the same, each as a merge patch on the scheme."""

from __future__ import annotations

import itertools
import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme
from wiregen.scheme.model import Control, Reference, Run

Patch = dict[str, Any]

#: Signals of the two kinds, the one that shows a broken wire first.
_CURRENT, _VOLTAGE = "4-20 mA", "0-10 V"


@dataclass(frozen=True, slots=True)
class Option:
    """One way to do it, in words, and what it changes."""

    name: str
    patch: Patch


@dataclass(frozen=True, slots=True)
class Choice:
    """Something that may be done otherwise. The first way, as it is declared, is not among ``others``."""

    subject: str
    others: tuple[Option, ...]


def choices(scheme: Scheme, library: Mapping[str, Profile], only: Sequence[str] = ()) -> tuple[Choice, ...]:
    """What of a scheme can be done otherwise, at the devices in ``only`` or, where it is empty, at all.

    Whether an option can be read, fits and is right shows when it is tried; here it only has to make sense.
    """
    found = []
    for name, control in scheme.model.control.items():
        if name in scheme.model.devices and (not only or name in only):
            found += [c for c in _of_control(scheme, name, control) if c.others]
    for name in scheme.model.devices:
        if not only or name in only:
            found.append(_profiles(scheme, name, library))
    return tuple(choice for choice in found if choice.others)


def combined(found: Sequence[Choice]) -> Iterator[Option]:
    """Every combination of one way for each choice, those that change least first; the first changes nothing."""
    for count in range(len(found) + 1):
        for chosen in itertools.combinations(found, count):
            for options in itertools.product(*(choice.others for choice in chosen)):
                patch: Patch = {}
                for option in options:
                    patch = joined(patch, option.patch)
                yield Option(", ".join(o.name for o in options) or "as declared", patch)


def count_of(found: Sequence[Choice]) -> int:
    """How many combinations there are."""
    total = 1
    for choice in found:
        total *= 1 + len(choice.others)
    return total


def joined(one: Patch, other: Mapping[str, Any]) -> Patch:
    """Two merge patches as one; where both say something of one key the second has it."""
    both = dict(one)
    for key, value in other.items():
        before = both.get(key)
        nested = isinstance(before, dict) and isinstance(value, dict)
        both[key] = joined(before, value) if nested else value  # type: ignore[arg-type]
    return both


def _of_control(scheme: Scheme, name: str, control: Control) -> Iterator[Choice]:
    yield _polarity(name, control)
    if control.run is not None:
        for title, run in control.run.named.items():
            yield _method(scheme, name, title, run)
    for title, reference in control.speed.items():
        yield _signal(scheme, name, title, reference)
    yield _selecting(scheme, name, control)


def _polarity(name: str, control: Control) -> Choice:
    """Inputs wired the other way; where nothing is said the solver chooses, and either may be said."""
    said = control.inputs
    if said is None or said.groups:
        return Choice(f"inputs of {name}", ())
    wired = ("source", "sink") if said.wired is None else ("sink",) if said.wired == "source" else ("source",)
    options = (Option(f"{name} wired for {p}", _at(name, {"inputs": _inputs(said.supply, p)})) for p in wired)
    return Choice(f"inputs of {name}", tuple(options))


def _inputs(supply: str | None, polarity: str) -> Any:
    return {"wired": polarity, "supply": supply} if supply else polarity


def _at(name: str, said: Mapping[str, Any]) -> Patch:
    return {"control": {name: dict(said)}}


# Two wires or three


def _method(scheme: Scheme, name: str, title: str, run: Run) -> Choice:
    """Momentary buttons in place of a switch that stays, or the reverse."""
    subject = f"run {title} of {name}".replace("  ", " ")
    option = None
    if run.method == "three-wire" and run.start and run.stop and not run.start_reverse:
        option = _two_wire(scheme, name, title, run)
    elif run.method == "two-wire" and run.forward and not run.reverse:
        option = _three_wire(scheme, name, title, run)
    return Choice(subject, (option,) if option else ())


def _two_wire(scheme: Scheme, name: str, title: str, run: Run) -> Option | None:
    """A selector in the place of the start button; the stop button goes."""
    start, stop = _plain(scheme, run.start), _plain(scheme, run.stop)
    if start is None or stop is None or start == stop:
        return None
    if not all(scheme.model.devices[d].profile == "push_button" for d in (start, stop)):
        return None
    devices = {
        start: {**dict.fromkeys(_CONTACT_KEYS), "profile": "selector", "positions": ["OFF", "ON"], "text": "RUN"},
        stop: None,
    }
    said = {"method": "two-wire", "forward": start, "start": None, "stop": None}
    return Option(f"{name} two-wire", joined({"devices": devices}, _run(scheme, name, title, said, ("start", "stop"))))


def _three_wire(scheme: Scheme, name: str, title: str, run: Run) -> Option | None:
    """A start button in the place of the switch, and a stop button beside it."""
    switch = _plain(scheme, run.forward)
    if switch is None:
        return None
    at = scheme.model.devices[switch].at
    stop = _free_name(scheme, switch)
    keys = dict.fromkeys((*_CONTACT_KEYS, "positions"))
    devices = {
        switch: {**keys, "profile": "push_button", "contact": "NO", "text": "START"},
        stop: {"profile": "push_button", "contact": "NC", "at": at, "text": "STOP"},
    }
    said = {"method": "three-wire", "start": switch, "stop": stop, "forward": None}
    return Option(f"{name} three-wire", joined({"devices": devices}, _run(scheme, name, title, said, ("run forward",))))


_CONTACT_KEYS = ("contact", "contacts", "operated_when", "contact_per_position")


def _run(scheme: Scheme, name: str, title: str, said: Mapping[str, Any], gone: Sequence[str]) -> Patch:
    patch = _at(name, {"run": {title: dict(said)} if title else dict(said)})
    return joined(patch, _freed(scheme, name, {f"{g} {title}".strip() for g in gone} | set(gone)))


def _freed(scheme: Scheme, name: str, functions: set[str]) -> Patch:
    """`fixed` and `wired` without what would be fixed of functions that are gone."""
    patch: Patch = {}
    for section, tables in (("fixed", scheme.model.fixed), ("wired", scheme.model.wired)):
        for label, entries in tables.get(name, {}).items():
            if any(entry.function in functions for entry in entries):
                patch = joined(patch, {section: {name: {label: None}}})
    return patch


def _plain(scheme: Scheme, use: Any) -> str | None:
    """The device of a contact that stands alone, is on no controller, and has its usual sense."""
    name = use.by if use is not None and use.healthy is None and use.acts_on is None and use.through is None else None
    if name is None or name not in scheme.model.devices:
        return None
    return name if scheme.profiles[scheme.model.devices[name].profile].controller is None else None


def _free_name(scheme: Scheme, like: str) -> str:
    """The next reference designation of the same letters."""
    letters = re.sub(r"\d+$", "", like)
    return next(name for n in itertools.count(1) if (name := f"{letters}{n}") not in scheme.model.devices)


# Signals


def _signal(scheme: Scheme, name: str, title: str, reference: Reference) -> Choice:
    """Current in place of voltage, or the reverse; whether the source gives it may depend on its profile."""
    subject = f"reference {title} of {name}"
    if reference.from_ is None or reference.signal not in (_CURRENT, _VOLTAGE):
        return Choice(subject, ())
    if reference.signal == _CURRENT:
        said: dict[str, Any] = {"signal": _VOLTAGE, "on_low": None, "on_loss": None}
        return Choice(subject, (Option(f"{title} of {name} as 0-10 V", _at(name, {"speed": {title: said}})),))
    device = scheme.model.devices.get(reference.from_)
    if device is not None and scheme.profiles[device.profile].device == "potentiometer":
        return Choice(subject, ())
    said = {"signal": _CURRENT, "on_low": "trip", "on_high": "trip"}
    return Choice(subject, (Option(f"{title} of {name} as 4-20 mA", _at(name, {"speed": {title: said}})),))


# Who selects


def _selecting(scheme: Scheme, name: str, control: Control) -> Choice:
    """Local or remote selected by an output of a card in place of a contact, or by a selector in place of a card."""
    subject = f"selection of {name}"
    select = control.select
    if select is None or len(select.by) != 1 or select.by[0].by is None:
        return Choice(subject, ())
    by = select.by[0].by
    device = scheme.model.devices.get(by)
    profile = scheme.profiles[device.profile] if device else None
    if device is None or profile is None:
        return Choice(subject, ())
    if profile.controller is not None:
        return Choice(subject, tuple(_by_selector(scheme, name, list(select.when))))
    positions = list(device.positions)
    if len(positions) != 2 or set(positions) != set(select.when):
        return Choice(subject, ())
    codes = {code: _said(select.when[position]) for code, position in zip("01", positions, strict=True)}
    cards = [n for n, d in scheme.model.devices.items() if n != name and _switches(scheme.profiles[d.profile])]
    return Choice(
        subject,
        tuple(
            Option(
                f"{name} selected by {card}",
                joined(_at(name, {"select": {"by": [card], "when": codes}}), {"devices": {by: None}}),
            )
            for card in cards
        ),
    )


def _by_selector(scheme: Scheme, name: str, codes: list[str]) -> Iterator[Option]:
    control = scheme.model.control[name]
    if control.select is None or sorted(codes) != ["0", "1"]:
        return
    new = next(n for i in itertools.count(1) if (n := f"-SJ{i}") not in scheme.model.devices)
    at = scheme.model.devices[name].at
    when = {p: _said(control.select.when[code]) for p, code in (("LOCAL", "0"), ("REMOTE", "1"))}
    patch = _at(name, {"select": {"by": [new], "when": when}})
    device = {new: {"profile": "selector", "positions": ["LOCAL", "REMOTE"], "at": at}}
    yield Option(f"{name} selected by a selector", joined(patch, {"devices": device}))


def _said(when: Any) -> Any:
    both = {key: value for key, value in (("speed", when.speed), ("run", when.run)) if value is not None}
    return both["speed"] if list(both) == ["speed"] else both


def _switches(profile: Profile) -> bool:
    """Whether it is a card with outputs that switch."""
    return profile.controller == "card" and any(t.role in ("relay", "digital_out") for t in profile.terminals)


# Profiles


def _profiles(scheme: Scheme, name: str, library: Mapping[str, Profile]) -> Choice:
    """Every other profile of the same kind; a transmitter may have another number of wires."""
    own = scheme.profiles[scheme.model.devices[name].profile]
    like = [p for p in library.values() if p.profile != own.profile and _serves_alike(own, p)]
    freed = {s: {name: None} for s in ("fixed", "wired") if name in getattr(scheme.model, s)}
    options = (
        Option(f"{name} as {p.profile}", joined({"devices": {name: {"profile": p.profile}}}, freed))
        for p in sorted(like, key=lambda p: p.profile)
    )
    return Choice(f"profile of {name}", tuple(options))


def _serves_alike(one: Profile, other: Profile) -> bool:
    if one.controller is not None:
        if one.controller != other.controller or one.controller == "supply":
            return False
        return one.controller != "card" or _roles(one) == _roles(other)
    return bool(one.device and other.device and _TRANSMITTER in one.device and _TRANSMITTER in other.device)


_TRANSMITTER = "transmitter"


def _roles(profile: Profile) -> set[str]:
    """What a card does: an output that switches is one whatever makes it."""
    of = {"relay": "output", "digital_out": "output"}
    return {of.get(t.role, t.role) for t in profile.terminals if profile.holds_function(t)}
