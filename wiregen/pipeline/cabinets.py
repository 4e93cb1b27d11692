"""A plant parted by cabinets: each cabinet, with those that it shares anything with, is a design that is drawn alone.

What is joined by a function, a potential, a cable, a bank or a place belongs together; protective earth joins
everything and parts nothing. What a part shows depends on that part only, so it need not be drawn again while it stays
as it is, whatever changes elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from wiregen.control.functions import CONTROLLERS, Declared, Function
from wiregen.pipeline.slices import cut_out
from wiregen.pipeline.stages import Design
from wiregen.review.context import partner_devices
from wiregen.wiring.joins import Joins
from wiregen.wiring.model import Wiring

#: Controllers up to which a design is one book, whatever its cabinets share: a person turns the pages of one.
ONE_BOOK = 30


@dataclass(frozen=True, slots=True)
class Part:
    """A design of its own. ``name`` is that of its first cabinet without the ``+``; empty where there is one part."""

    name: str
    design: Design


def parts(design: Design, one_book: int = ONE_BOOK) -> tuple[Part, ...]:
    """The parts of a design, in the order of their first places; the design itself where it is small or hangs together.

    Every pin of a potential other than protective earth is in exactly one part.
    """
    declared = design.declared
    if sum(d.kind in CONTROLLERS for d in declared.devices) <= one_book:
        return (Part("", design),)
    joined = _joined(design)
    homes: dict[str, str] = {}  # root -> the name of its first place
    controllers = {joined.root(d.name) for d in declared.devices if d.kind in CONTROLLERS}
    for place in design.scheme.model.places:
        if joined.root(place) in controllers:
            homes.setdefault(joined.root(place), place)
    if len(homes) < 2:
        return (Part("", design),)
    first = next(iter(homes))
    names: dict[str, set[str]] = {root: set() for root in homes}
    for name in _names(design):
        names[joined.root(name) if joined.root(name) in homes else first].add(name)
    return tuple(
        Part(home.lstrip("+"), cut_out(design, home, frozenset(names[root]), root == first))
        for root, home in homes.items()
    )


def _names(design: Design) -> Iterator[str]:
    yield from design.scheme.model.places
    yield from (d.name for d in design.declared.devices)
    yield from (s.name for s in design.wiring.strips)
    yield from (c.name for c in design.wiring.cables)
    yield from design.scheme.model.banks


def _joined(design: Design) -> Joins[str]:
    """Names of places, devices, strips, cables and banks, joined where one cannot be shown without the other."""
    joins: Joins[str] = Joins()
    declared, wiring = design.declared, design.wiring
    for name in _names(design):
        joins.root(name)
    for names in (*_of_devices(design), *_of_functions(declared.functions), *_of_supplies(declared)):
        for name in names[1:]:
            joins.join(names[0], name)
    for strip in wiring.strips:
        joins.join(strip.name, strip.place)
    strips = {s.name for s in wiring.strips}
    for potential in wiring.potentials:
        if potential.kind != "earth":
            for pin in potential.pins:
                joins.join(potential.pins[0].device, pin.device)
    earth = {p.name for p in wiring.potentials if p.kind == "earth"}
    for conductor in wiring.conductors:
        a, b = conductor.a.device, conductor.b.device if conductor.b else conductor.a.device
        if conductor.potential in earth and conductor.kind in ("wire", "core") and not {a, b} <= strips:
            joins.join(a, b)
        if conductor.kind == "screen":
            joins.join(a, b)
    only_earth = _only_earth(wiring, earth)
    for cable in wiring.cables:
        if cable.name not in only_earth:
            joins.join(cable.name, cable.a)
            joins.join(cable.name, cable.b)
    return joins


def _only_earth(wiring: Wiring, earth: set[str]) -> set[str]:
    """Cables in which nothing is used but protective earth."""
    carried: dict[str, set[str]] = {}
    for conductor in wiring.conductors:
        if conductor.cable and conductor.potential:
            carried.setdefault(conductor.cable, set()).add(conductor.potential)
    return {cable for cable, potentials in carried.items() if potentials <= earth}


def _of_devices(design: Design) -> Iterator[tuple[str, ...]]:
    for device in design.declared.devices:
        yield device.place, device.name
    for bank, cards in design.scheme.model.banks.items():
        yield bank, *cards


def _of_functions(functions: Iterable[Function]) -> Iterator[tuple[str, ...]]:
    for function in functions:
        ends = (device for end in function.ends for device in end.devices)
        supply = (function.supply.device,) if function.supply else ()
        yield function.controller, *ends, *partner_devices(function), *supply


def _of_supplies(declared: Declared) -> Iterator[tuple[str, ...]]:
    for zero in declared.zero_volts:
        yield (zero.device, zero.joined_to) if zero.joined_to else (zero.device,)
    for fusing in declared.fusings:
        yield fusing.device, fusing.supply.device
    for feed in declared.feeds:
        yield feed.plus.device, feed.supply.device
    for power in declared.powers:
        yield power.drive, *(name for name in (power.supply, power.motor) if name)
