"""What differs between two wirings of one plant: what a person at the cabinet has to take off, move and lay."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from wiregen.pipeline import Design
from wiregen.scheme.as_built import AsBuilt, BuiltCable, BuiltConductor, BuiltPotential
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor

Change = Literal["moved", "new", "gone", "renumbered"]


@dataclass(frozen=True, slots=True)
class At:
    """Where something is: its ends, number, cable and core, as far as it has them."""

    a: str | None = None
    b: str | None = None
    number: str | None = None
    cable: str | None = None
    core: str | None = None


@dataclass(frozen=True, slots=True)
class Moved:
    """One function or conductor that is not as it was. ``was`` or ``now`` is None where there is none."""

    kind: str  # function, wire, core, bridge, link, screen
    name: str
    change: Change
    was: At | None
    now: At | None


def moves(design: Design, built: AsBuilt | None = None) -> tuple[Moved, ...]:
    """Functions, then conductors, that differ from ``built``, or without it from what the design itself keeps."""
    before = built or design.scheme.as_built
    functions = tuple(_functions(design, before))
    return functions if before is None else (*functions, *_conductors(design.wiring.conductors, before))


def _functions(design: Design, built: AsBuilt | None) -> Iterator[Moved]:
    known: set[tuple[str, str]] = set()
    for end in (end for function in design.functions for end in function.ends):
        at = design.allocation.of_end(end.id)
        now = Pin(at.device, at.channel) if at else None
        names = {(device, name) for device in end.devices for name in (end.function, end.also) if name}
        known |= names
        was = end.kept or (built.place_of(end.devices, (end.function, end.also)) if built else None)
        if was != now and (was is not None or built is not None):
            change: Change = "new" if was is None else "gone" if now is None else "moved"
            yield Moved("function", end.function, change, _pin_at(was), _pin_at(now))
    for pin, name in built.assignments if built else ():
        if (pin.device, name) not in known:
            yield Moved("function", name, "gone", _pin_at(pin), None)


def _pin_at(pin: Pin | None) -> At | None:
    return None if pin is None else At(str(pin))


def _conductors(conductors: tuple[Conductor, ...], built: AsBuilt) -> Iterator[Moved]:
    now = {c.id: c for c in conductors}
    for old in built.conductors:
        new = now.get(old.id)
        if new is None:
            yield Moved(old.kind, old.id, "gone", _at(old), None)
        elif _place(old) != _place(new):
            yield Moved(new.kind, new.id, "moved", _at(old), _at(new))
        elif old.number != new.number:
            yield Moved(new.kind, new.id, "renumbered", _at(old), _at(new))
    old_ids = {c.id for c in built.conductors}
    yield from (Moved(c.kind, c.id, "new", None, _at(c)) for c in conductors if c.id not in old_ids)


def _place(c: Conductor | BuiltConductor) -> tuple[object, ...]:
    ends = frozenset(((c.a, c.a_side), (c.b, c.b_side)))
    return c.kind, ends, c.cable, c.core


def _at(c: Conductor | BuiltConductor) -> At:
    return At(str(c.a), None if c.b is None else str(c.b), c.number, c.cable, c.core)


def as_built_of(design: Design, name: str) -> AsBuilt:
    """A design as an earlier pack would hold it."""
    wiring = design.wiring
    return AsBuilt(
        name=name,
        assignments=tuple((Pin(a.device, a.channel), a.function) for a in design.allocation.assignments),
        potentials=tuple(BuiltPotential(p.name, p.number, p.pins) for p in wiring.potentials),
        conductors=tuple(
            BuiltConductor(c.id, c.number, c.kind, c.a, c.b, c.a_side, c.b_side, c.cable, c.core, c.potential)
            for c in wiring.conductors
        ),
        cables=tuple(BuiltCable(c.name, c.a, c.b, c.category, c.pairs, c.used) for c in wiring.cables),
        strips=frozenset(strip.name for strip in wiring.strips),
    )
