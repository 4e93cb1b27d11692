"""Expected readings: what an instrument shows at each place in the base state, and after each single change from it."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from wiregen.allocation.model import Allocation
from wiregen.circuit.assumed import COLD_C, HOT_C
from wiregen.circuit.build import Circuit, build
from wiregen.circuit.measured import Place, places
from wiregen.circuit.network import Element, Floats, Resistance
from wiregen.circuit.parts import range_of
from wiregen.circuit.points import Points
from wiregen.circuit.rest import at_rest
from wiregen.circuit.solve import solve
from wiregen.circuit.state import State
from wiregen.control.functions import Declared
from wiregen.terms import Pin
from wiregen.wiring.model import Wiring

#: Between which the resistances of devices may lie for their expected value. common practice, no source.
PARTS = (0.9, 1.1)
#: What the instrument and the eye add. common practice, no source.
INSTRUMENT_PART, INSTRUMENT_V, INSTRUMENT_MA = 0.005, 0.1, 0.1
#: Voltages of so many nodes and states are held at once: a matter of memory only.
_AT_ONCE = 400_000
#: A change of less than this is none.
_FELT_V = 0.02


@dataclass(frozen=True, slots=True)
class Reading:
    """What is expected between two pins in a state: ``volts`` [V] or ``milliamps`` [mA], the other is None.

    ``low`` and ``high`` are its least and most in the same unit, for tolerances of parts and cold or hot conductors,
    with the supply at the voltage that was measured.
    """

    state: str
    owner: str
    pin: Pin
    to: Pin
    volts: float | None
    milliamps: float | None
    low: float
    high: float
    function: str

    @property
    def value(self) -> float:
        """What is expected, in ``unit``."""
        return self.volts if self.volts is not None else self.milliamps or 0.0

    @property
    def unit(self) -> str:
        return "V" if self.volts is not None else "mA"


def reading_states(declared: Declared, allocation: Allocation, circuit: Circuit) -> tuple[State, ...]:
    """The base state; each reference at its ends; each contact, sensor and output changed; each selector position.

    Names are unique and say in words what differs from the base state.
    """
    base = at_rest(declared, allocation)
    return (base, *_references(base, circuit), *_operated(base, circuit), *_outputs(base, declared, allocation))


def _references(base: State, circuit: Circuit) -> Iterator[State]:
    for name in dict.fromkeys(e.of for e in circuit.elements if e.kind == "potentiometer"):
        for part in (0.0, 1.0):
            yield replace(base, name=f"{name} at {part * 100:.0f} %", settings=((name, part),))
    for element in circuit.elements:
        if element.kind in ("transmitter", "analog_output"):
            name = element.of if element.kind == "transmitter" else str(element.a)
            for end, value in zip(("0 %", "100 %"), range_of(element.name), strict=True):
                yield replace(base, name=f"{name} at {end}", signals=((name, value),))


def _operated(base: State, circuit: Circuit) -> Iterator[State]:
    moved = {key[1] for key in circuit.moves if key[0] == "operated"}
    for name, device in circuit.devices.items():
        if device.kind == "selector":
            for position in device.positions[1:]:
                yield replace(base, name=f"{name} in {position}", positions=((name, position),))
        elif name in moved and device.kind not in ("relay", "contactor"):
            word = "hot" if device.kind == "thermistor" else "operated"
            yield replace(base, name=f"{name} {word}", operated=frozenset({name}))


def _outputs(base: State, declared: Declared, allocation: Allocation) -> Iterator[State]:
    placed = {a.end: a for a in allocation.assignments}
    for function in declared.functions:
        if function.purpose != "output" or function.ends[0].id not in placed:
            continue
        at = placed[function.ends[0].id]
        output = f"{at.device}:{at.channel}"
        turned = "off" if output in base.energised else "on"
        yield replace(base, name=f"{at.function} of {at.device} {turned}", energised=base.energised ^ {output})
    for device in declared.devices:
        if device.kind == "safety_relay":
            yield replace(base, name=f"{device.name} off", energised=base.energised - {device.name})


def readings(declared: Declared, allocation: Allocation, wiring: Wiring, circuit: Circuit) -> tuple[Reading, ...]:
    """All readings of the base state; of each other state those of the controllers at which it changes anything.

    States in which coils chase each other without end have none.
    """
    states = reading_states(declared, allocation, circuit)
    where = places(declared, allocation, circuit)
    step = max(16, _AT_ONCE // (1 + sum(len(island.nodes) for island in circuit.islands)))
    rest = range(step, len(states), step)
    blocks = [states[:step], *((states[0], *states[first : first + step]) for first in rest)]
    asked: list[list[_Asked]] = []
    drawn: list[list[Floats]] = []
    for number, block in enumerate(blocks):
        points = solve(circuit, block)
        asked.append(list(_ask(where, points, with_base=number == 0)))
        drawn.append([a.values(points) for a in asked[-1]])
    low, high = drawn, drawn
    for temperature_c, scale in itertools.product((COLD_C, HOT_C), PARTS):
        # One circuit after another: a large one fills much memory while it is solved.
        corner = build(declared, allocation, wiring, temperature_c=temperature_c, scale=scale)
        found = [_of_block(corner, block, those) for block, those in zip(blocks, asked, strict=True)]
        low, high = _each(np.fmin, low, found), _each(np.fmax, high, found)
    order = {state.name: i for i, state in enumerate(states)}
    flat = (zip(*block, strict=True) for block in zip(asked, drawn, low, high, strict=True))
    return tuple(sorted((r for block in flat for row in block for r in _rows(*row)), key=lambda r: order[r.state]))


@dataclass(frozen=True, slots=True)
class _Asked:
    """Some states of one place: its voltage, or with ``kind`` the current of the part ``number`` of that kind."""

    place: Place
    states: tuple[State, ...]
    shown: tuple[int, ...]
    kind: str = ""
    number: int = -1

    def values(self, points: Points) -> Floats:
        """The voltage [V], or the current [mA] of the part, one a shown state; NaN where relays find no rest."""
        if not self.kind:
            found = points.volts(self.place.pin, self.place.to)
        elif self.number < 0:
            found = np.zeros(len(points.states))
        else:
            found = np.abs(points.amps(getattr(points.circuit, self.kind)[self.number])) * 1000.0
        return np.where(points.restless, np.nan, found)[list(self.shown)]


def _of_block(circuit: Circuit, block: Sequence[State], asked: Sequence[_Asked]) -> list[Floats]:
    points = solve(circuit, block)
    return [a.values(points) for a in asked]


def _each(
    of: Callable[[Floats, Floats], Floats], a: Sequence[Sequence[Floats]], b: Sequence[Sequence[Floats]]
) -> list[list[Floats]]:
    return [[of(x, y) for x, y in zip(*pair, strict=True)] for pair in zip(a, b, strict=True)]


def _ask(where: Sequence[Place], points: Points, *, with_base: bool) -> Iterator[_Asked]:
    """What is shown of some states, of which the first is the base state: voltages, then the current of a part."""
    states = range(len(points.states))
    changed = _changed(where, points, len(states))
    shown = {
        owner: tuple(i for i in states if not points.restless[i] and (with_base if i == 0 else owner in changed[i]))
        for owner in dict.fromkeys(place.owner for place in where)
    }
    for place in where:
        if shown[place.owner]:
            yield _Asked(place, points.states, shown[place.owner])
            if place.part is not None:
                yield _Asked(place, points.states, shown[place.owner], *_number(points.circuit, place.part))


def _number(circuit: Circuit, part: Element | Resistance) -> tuple[str, int]:
    if part in circuit.fixed:
        return "fixed", circuit.fixed.index(part)
    return "elements", circuit.elements.index(part) if part in circuit.elements else -1


def _changed(where: Sequence[Place], points: Points, count: int) -> list[set[str]]:
    found: list[set[str]] = [set() for _ in range(count)]
    for place in where:
        volts = points.volts(place.pin, place.to)
        for state in np.flatnonzero(np.abs(volts - volts[0]) > _FELT_V):
            found[int(state)].add(place.owner)
    return found


def _rows(asked: _Asked, drawn: Floats, low: Floats, high: Floats) -> Iterator[Reading]:
    volts, place = not asked.kind, asked.place
    margin = INSTRUMENT_PART * np.abs(drawn) + (INSTRUMENT_V if volts else INSTRUMENT_MA)
    for i, *numbers in zip(asked.shown, drawn, low - margin, high + margin, strict=True):
        value, least, most = (round(float(v), 3) + 0.0 for v in numbers)
        yield Reading(
            asked.states[i].name,
            place.owner,
            place.pin,
            place.to,
            value if volts else None,
            None if volts else value,
            least,
            most,
            place.function,
        )
