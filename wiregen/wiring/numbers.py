"""Names and numbers of potentials. A name is unique and stands on tags; a number stands on every wire end."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from wiregen.control.functions import CONTROLLERS, Declared, Supply
from wiregen.scheme import Scheme
from wiregen.terms import Pin
from wiregen.wiring.as_wired import AsWired, Report
from wiregen.wiring.joins import Joins
from wiregen.wiring.kept import numbers_of
from wiregen.wiring.model import Potential
from wiregen.wiring.nets import Net, kind_of, pin_ranks
from wiregen.wiring.numbering import kept_numbers, series_of

_KIND_ORDER = {"plus": 0, "reference": 0, "signal": 0, "zero": 1, "earth": 2}


Found = tuple[tuple[int, ...], Potential, list[Net]]


def name_potentials(
    scheme: Scheme,
    declared: Declared,
    nets: tuple[Net, ...],
    joins: Joins[Pin],
    wanted: tuple[AsWired, ...],
    report: Report,
) -> dict[Pin, Potential]:
    """Net key -> its potential. Numbers run in terminal order of the controllers, 0 V last; protective earth is PE.

    Numbers that are kept stay; those of ladder practice follow the lines of the ladder.
    """
    ranks = pin_ranks(declared.devices)
    by_root: dict[Pin, list[Net]] = {}
    for net in nets:
        by_root.setdefault(joins.root(net.key), []).append(net)
    found: list[Found] = []
    inside = _joined_inside(declared)
    kinds = {d.name: d.kind for d in declared.devices}
    for members in by_root.values():
        wired = {p for n in members for p in n.pins}
        pins = tuple(
            sorted(wired | {q for p in wired for q in inside.get(p, ()) if q in ranks}, key=lambda p: ranks[p])
        )
        kind = kind_of(pins, declared)
        base = Potential(_name(declared, members, pins, kind), "", kind, _supply(declared, pins), pins)
        found.append(((_KIND_ORDER[kind], *_first_controller(kinds, pins, ranks)), base, members))
    found.sort(key=lambda entry: entry[0])
    named = [
        (replace(base, name=name), members) for (_, base, members), name in zip(found, _unique(found), strict=True)
    ]
    kept = kept_numbers(scheme, [potential for potential, _ in named], wanted, report)
    series = series_of(
        scheme,
        declared,
        [entry for entry in named if entry[0].name not in kept],
        frozenset(kept.values()) | numbers_of(scheme),
    )
    result: dict[Pin, Potential] = {}
    for potential, members in named:
        number = kept.get(potential.name) or ("PE" if potential.kind == "earth" else series[potential.name])
        result.update({net.key: replace(potential, number=number) for net in members})
    return result


def _unique(found: list[Found]) -> Iterator[str]:
    """The names of the potentials; one that is taken already gets a number behind it."""
    names: set[str] = set()
    for _, base, _ in found:
        name = base.name
        serial = 2
        while name in names:
            name = f"{base.name} ({serial})"
            serial += 1
        names.add(name)
        yield name


def _joined_inside(declared: Declared) -> dict[Pin, tuple[Pin, ...]]:
    found: dict[Pin, tuple[Pin, ...]] = {}
    for device in declared.devices:
        for group in device.profile.joined_inside:
            pins = tuple(Pin(device.name, name) for name in group)
            found.update(dict.fromkeys(pins, pins))
    return found


def _first_controller(
    kinds: dict[str, str], pins: tuple[Pin, ...], ranks: dict[Pin, tuple[int, int]]
) -> tuple[int, int, int]:
    """Drives before cards before anything else, each in declared order."""
    weight = {kind: place for place, kind in enumerate(CONTROLLERS)}
    return min(((weight.get(kinds[p.device], len(weight)), *ranks[p]) for p in pins), default=(4, 0, 0))


def _name(declared: Declared, members: list[Net], pins: tuple[Pin, ...], kind: str) -> str:
    if kind == "earth":
        return "PE"
    if (side := _side(declared, pins)) is not None:
        return side
    roles = {"plus": ("supply_out", "24 V"), "zero": ("zero", "0 V"), "reference": ("reference_out", "10 V")}
    if kind in roles:
        role, title = roles[kind]
        return f"{title} of {_owner(declared, pins, role)}"
    # The function of a controller's terminal tells more than that of a contact in the chain.
    uses = [
        (declared.device(p.device).kind not in CONTROLLERS, net.uses[p].function) for net in members for p in net.pins
    ]
    return min(uses, key=lambda use: use[0])[1]


def _side(declared: Declared, pins: tuple[Pin, ...]) -> str | None:
    """The name of what lies behind a fuse or on either side of an AC supply; None of anything else."""
    for fusing in declared.fusings:
        if fusing.outlet in pins:
            return f"{_volts(fusing.supply)} behind {fusing.device}"
    hot, cold = declared.hot, declared.cold
    for pin in pins:
        if pin in hot and hot[pin].alternating:
            return f"{_volts(hot[pin])} of {hot[pin].device}"
        if pin in cold and cold[pin].alternating:
            return f"{pin.name} of {pin.device}"
    return None


def _volts(supply: Supply) -> str:
    return f"{supply.volts or 24:g} V" + (" AC" if supply.alternating else "")


def _owner(declared: Declared, pins: tuple[Pin, ...], role: str) -> str:
    """The device that gives a potential its name: a supply unit before a controller."""
    owners = [
        p.device
        for p in pins
        if (t := declared.device(p.device).profile.terminal_of(p.name)) is not None and t.role == role
    ]
    owners = owners or [p.device for p in pins]
    units = [name for name in owners if declared.device(name).profile.controller == "supply"]
    return (units or owners)[0]


def _supply(declared: Declared, pins: tuple[Pin, ...]) -> str | None:
    hot = declared.hot
    of_pins = [hot[pin].device for pin in pins if pin in hot]
    if not of_pins and declared.cold.keys().isdisjoint(pins):
        return None
    for supply in sorted(declared.supplies, key=lambda s: s.own):
        if supply.device in of_pins or supply.zero in pins:
            return supply.device
    return None
