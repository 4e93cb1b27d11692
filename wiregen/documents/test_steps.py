"""The steps of testing a wired control: dead, first supply, states, loops, functions, and everything put back.

Each step says what to do or how things stand, between which points to measure, and what is expected. None asks anyone
to bridge a contact or to take a safety function out of action.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING

from wiregen.circuit.assumed import HOT_C, conductor_ohm
from wiregen.circuit.build import ROOM_C
from wiregen.circuit.loops import loop_points
from wiregen.circuit.measured import places
from wiregen.circuit.readings import INSTRUMENT_V, PARTS
from wiregen.circuit.rest import at_rest
from wiregen.circuit.state import State
from wiregen.control.functions import Function
from wiregen.control.senses import sense_of
from wiregen.documents.table import natural
from wiregen.review.context import legs_of

if TYPE_CHECKING:
    from wiregen.circuit.readings import Reading
    from wiregen.pipeline import Design
    from wiregen.wiring.model import Cable, Conductor

#: Test leads, clamps and the instrument's last digit. common practice, no source.
LEADS_OHM = 0.5
#: Between cores that nothing joins. IEC 60204-1, 18.3: at least 1 Mohm, from memory.
INSULATED = "1 Mohm"
#: For so many drives the sequence of taking over stands on the sheet itself.
MOST_DRIVES = 12
#: A reading that differs by less from that at rest is not asked for again.
_CHANGED = {"V": 0.3, "mA": 0.3}
AT_REST = State().name


@dataclass(frozen=True, slots=True)
class Step:
    """One row: ``state`` is what is done or how things stand; an empty text is a cell with nothing to say."""

    section: str
    state: str
    a: str = ""
    b: str = ""
    expect: str = ""
    least: str = ""
    most: str = ""


def steps(design: Design) -> tuple[Step, ...]:
    """Every step of a design, in the order in which it is tested."""
    supplies = _supplies(design)
    return (
        *_dead(design, supplies),
        *_first_supply(supplies),
        *_static(design.readings, supplies),
        *_loops(design),
        *_functions(design),
        *_restore(),
    )


DEAD = "1 Dead: isolated and proved dead, loads and electronics unplugged where they could be harmed"
SUPPLY = "2 First supply"
STATIC = "3 Static readings, motor cannot start"
LOOPS = "4 Current loops, by a loop calibrator or the transmitter's own test function"
FUNCTIONS = "5 Functions, motor uncoupled"
RESTORE = "6 Put back and sign"
SECTIONS = (DEAD, SUPPLY, STATIC, LOOPS, FUNCTIONS, RESTORE)


def _dead(design: Design, supplies: Iterable[Reading]) -> Iterator[Step]:
    yield Step(DEAD, "isolate, secure against switching on, wait for stored energy", expect="done")
    for reading in supplies:
        yield Step(DEAD, "prove dead; tester tried before and after", str(reading.pin), str(reading.to), "0 V")
    for supply in (d for d in design.declared.devices if d.kind == "supply"):
        live = [pin for t in supply.profile.terminals if t.role == "mains" for pin in t.pins]
        for one, other in itertools.combinations(live, 2):
            pins = (f"{supply.name}:{one}", f"{supply.name}:{other}")
            yield Step(DEAD, "prove dead on the mains side", *pins, "0 V", most="0 V")
    earth = {p.name for p in design.wiring.potentials if p.kind == "earth"}
    cables = {cable.name: cable for cable in design.wiring.cables}
    order = sorted(design.wiring.conductors, key=lambda c: (natural(c.cable), natural(c.core), natural(c.id)))
    protective = [c for c in order if c.potential in earth and c.b is not None and c.kind in ("wire", "core")]
    yield from (_through(c, "protective conductor") for c in protective)
    for conductor in order:
        if conductor.kind == "core" and conductor.b is not None and conductor.potential not in earth:
            yield _through(conductor, f"core {conductor.core} of {conductor.cable}")
    for cable in sorted(cables.values(), key=lambda c: natural(c.name)):
        yield from _between_cores(cable, order)
    yield from _screens(order, cables)
    yield from (_through(c, "bridge") for c in order if c.kind == "bridge" and c.potential not in earth)
    yield from (_through(c, "earth link, fitted") for c in order if c.kind == "link")
    for device in design.declared.devices:
        if device.kind == "transmitter_two_wire" or device.profile.suppression == "diode":
            way = "+ on the supply's side" if device.kind == "transmitter_two_wire" else "A1 on the switched side"
            yield Step(DEAD, f"polarity of {device.name} by its marks and numbers: {way}", expect="as drawn")


def _through(conductor: Conductor, what: str) -> Step:
    """End to end: the resistance of the conductor, at most that of a hot one and the leads."""
    expected = conductor_ohm(conductor, ROOM_C)
    most = conductor_ohm(conductor, HOT_C) + LEADS_OHM
    return Step(DEAD, what, str(conductor.a), str(conductor.b), f"{expected:.2f} ohm", "0 ohm", f"{most:.2f} ohm")


def _between_cores(cable: Cable, conductors: Iterable[Conductor]) -> Iterator[Step]:
    """Each core to all that lie in its cable with it, before the cable is landed."""
    marks = [c.core for c in conductors if c.cable == cable.name and c.kind == "core" and c.core is not None]
    for i, mark in enumerate(marks):
        others = [*marks[i + 1 :], *(["screen"] if cable.screened else [])]
        if others:
            says = f"{cable.name} not landed: core {mark} to each of the others"
            yield Step(DEAD, says, f"core {mark}", ", ".join(o or "" for o in others), "open", INSULATED)


def _screens(conductors: Iterable[Conductor], cables: dict[str, Cable]) -> Iterator[Step]:
    for c in conductors:
        if c.kind == "screen" and c.b is not None:
            yield _through(c, f"screen of {c.cable or c.a.device}, end on PE")
            cable = cables.get(c.cable or c.a.device)
            if cable is not None and cable.screen == "cabinet end":
                yield Step(
                    DEAD, f"screen of {cable.name} insulated at {cable.b}", str(c.a), "PE there", "open", INSULATED
                )


def _supplies(design: Design) -> list[Reading]:
    """The readings at rest between the terminals of supplies, in V."""
    given = {(e.a, e.b) for e in design.circuit.elements if e.kind == "supply"}
    return [r for r in design.readings if r.state == AT_REST and r.unit == "V" and (r.pin, r.to) in given]


def _first_supply(supplies: Iterable[Reading]) -> Iterator[Step]:
    for r in supplies:
        yield _measured(SUPPLY, "supply on, everything at rest", r)


def _static(readings: Iterable[Reading], supplies: Iterable[Reading]) -> Iterator[Step]:
    """All at rest but the supplies; of each other state what it changes."""
    given = {(r.pin, r.to) for r in supplies}
    rest = {(r.pin, r.to, r.unit): r for r in readings if r.state == AT_REST}
    for r in readings:
        base = rest.get((r.pin, r.to, r.unit))  # none where relays find no rest
        changed = base is None or abs(r.value - base.value) > _CHANGED[r.unit]
        if (r.state == AT_REST or changed) and (r.pin, r.to) not in given:
            yield _measured(STATIC, r.state, r)


def _measured(section: str, state: str, r: Reading) -> Step:
    figures = (f"{v:.2f} {r.unit}" for v in (r.value, r.low, r.high))
    return Step(section, state, str(r.pin), str(r.to), *figures)


def _loops(design: Design) -> Iterator[Step]:
    found = places(design.declared, design.allocation, design.circuit)
    base = at_rest(design.declared, design.allocation)
    for p in loop_points(design.circuit, found, base):
        least, most = (p.volts * part + sign * INSTRUMENT_V for part, sign in zip(PARTS, (-1, 1), strict=True))
        says = f"{p.source} at {p.set_ma:g} mA ({p.function})"
        figures = (f"{v:.2f} V" for v in (p.volts, max(least, 0.0), most))
        yield Step(LOOPS, says, str(p.pin), str(p.to), *figures)


def _functions(design: Design) -> Iterator[Step]:
    """The standard sequence of taking over, with what the motor must do, and what a lost signal does."""
    from wiregen.behaviour import Plant
    from wiregen.behaviour.acceptance import acceptance
    from wiregen.behaviour.expectations import told
    from wiregen.behaviour.sequence import run

    drives = {d.name for d in design.declared.devices if d.kind == "drive"}
    if design.has_errors:
        yield Step(FUNCTIONS, "not to be tried: findings of severity error stand against this scheme", expect="-")
        return
    if len(drives) > MOST_DRIVES:
        yield Step(FUNCTIONS, "the standard sequence of each drive, as `wiregen sequence` lists it", expect="as listed")
    else:
        plant = Plant.of_design(design)
        for frame in run(plant, acceptance(plant, design)):
            motions = "; ".join(f"{name} {told(plant, frame.standing, name)}" for name in plant.drives)
            yield Step(FUNCTIONS, frame.says, expect=motions)
    yield from _by_hand(design)
    for function in (f for f in design.declared.functions if f.controller in drives):
        yield from _opened(design, function)
        for what, answer in (("low", function.on_low), ("high", function.on_high)):
            if answer:
                says = f"running on {function.name}; its signal lost, {what}"
                yield Step(FUNCTIONS, says, expect=f"{function.controller}: {answer}")


def _opened(design: Design, function: Function) -> Iterator[Step]:
    """What opening the terminal of a function must do, where it acts on an open circuit."""
    at = design.allocation.of_end(function.ends[0].id) if function.ends else None
    if at is None or not sense_of(function.meaning).stops or function.acts_on not in ("open", "opening"):
        return
    does = "trips" if function.meaning == "external trip" else "stops"
    if function.meaning.startswith("limit "):
        does = f"stops {function.meaning.removeprefix('limit ')}"
    says = f"running; open the strip terminal or unplug at {at.device}:{at.channel}"
    yield Step(FUNCTIONS, says, expect=f"{function.controller} {does} ({function.name} lost)")


def _by_hand(design: Design) -> Iterator[Step]:
    """What the sequence of taking over does not try: START while STOP is held, and the way the shaft turns."""
    for name, runs in design.declared.runs:
        own = [f for f in design.declared.functions if f.controller == name]
        stops = [d for f in own if f.meaning == "stop" for d in _devices(f)]
        starts = [d for f in own if f.meaning in ("start", "start reverse") for d in _devices(f)]
        if stops and starts and any(r.method == "three-wire" for r in runs):
            says = f"hold {' or '.join(stops)} and press {' or '.join(starts)}"
            yield Step(FUNCTIONS, says, expect=f"{name} does not start")
        yield Step(FUNCTIONS, f"run {name} forward, slowly", expect="the shaft turns as the machine needs it")


def _devices(function: Function) -> list[str]:
    """The devices whose contacts a function hangs on."""
    return list(dict.fromkeys(leg.contact.device for leg in legs_of(function)))


def _restore() -> Iterator[Step]:
    for says in (
        "all terminals, plugs, bridges and links back as drawn; what was unplugged is plugged in",
        "test settings taken out; settings of the function table stand in the devices",
        "covers on, labels legible, tools and leads counted",
    ):
        yield Step(RESTORE, says, expect="done")
    yield Step(RESTORE, "tested by (name, date, signature)")
    yield Step(RESTORE, "reviewed by a licensed or authorised person (name, date, signature)")
