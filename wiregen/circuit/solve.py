"""Operating points: the circuit in many states, its relays where their coils hold them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from wiregen.circuit.build import Circuit, tables
from wiregen.circuit.changes import changed
from wiregen.circuit.curves import Curve
from wiregen.circuit.engine import Tables, operating_points
from wiregen.circuit.network import Coil, Floats, Truths, Whole
from wiregen.circuit.parts import signal_curve, track
from wiregen.circuit.points import Points
from wiregen.circuit.state import AS_DRAWN, Change, State
from wiregen.terms import Pin

#: After so many rounds of coils that move contacts that feed coils, a state has no rest.
_ROUNDS = 60
#: So many of them all coils follow at once; then one after another, for of two relays that lock each other out one is
#: first. What still moves in the last rounds chatters.
_TOGETHER, _SETTLING = 20, 45


def solve(circuit: Circuit, states: Sequence[State], change: Change = AS_DRAWN) -> Points:
    """The operating points of ``states``, with one change to the circuit as drawn.

    Coils pick up and let go until all stand as their voltage has it; where two could come first, the one that is
    declared first does. A state without such a rest is ``restless``.
    Raises ValueError for a device, position or conductor that the circuit does not have, and InternalFault where
    Kirchhoff's current law does not hold.
    """
    circuit = changed(circuit, change)
    commanded, curves = _compiled(circuit, states)
    picked = np.array([[c.device in s.picked for c in circuit.coils] for s in states], dtype=bool)
    picked = picked.reshape(len(states), len(circuit.coils))
    fed = np.ones((len(states), len(circuit.feeds)), dtype=bool)
    chasing = np.zeros_like(picked)
    options = _options(circuit, commanded, picked, fed, states)
    volts = [np.zeros((len(states), len(island.nodes))) for island in circuit.islands]
    left = np.arange(len(states))
    for number in range(_ROUNDS):
        for island, found in zip(circuit.islands, volts, strict=True):
            if island.numbers.size:
                # Most states differ elsewhere: what is the same here is solved once.
                rows, same = _different(options[np.ix_(left, island.numbers)])
                found[left] = operating_points(island, curves.part(island.numbers), rows)[same]
        coils = _follow(circuit.coils, circuit, volts, picked, left, one=number >= _TOGETHER)
        moved = coils.any(axis=1) | _follow(circuit.feeds, circuit, volts, fed, left).any(axis=1)
        if number >= _SETTLING:
            chasing[left] |= coils
        left = left[moved]
        if not left.size:
            break
        options[left] = _options(circuit, commanded[left], picked[left], fed[left], [states[int(i)] for i in left])
    restless = np.isin(np.arange(len(states)), left)
    chasing[~restless] = False
    return Points(circuit, tuple(states), tuple(volts), options, curves, picked, fed, restless, chasing)


def _different(rows: Whole) -> tuple[Whole, Whole]:
    """The rows that differ from each other, and for each row which of them it is."""
    number: dict[bytes, int] = {}
    same = [number.setdefault(row.tobytes(), len(number)) for row in rows]
    if len(number) == len(rows):
        return rows, np.arange(len(rows))
    which = np.array(same, dtype=np.intp)
    first = np.empty(len(number), dtype=np.intp)
    first[which[::-1]] = np.arange(len(rows))[::-1]
    return rows[first], which


def _compiled(circuit: Circuit, states: Sequence[State]) -> tuple[Whole, Tables]:
    """Which curve every element has by what each state says; the curves, with those that values in states add."""
    stands: dict[tuple[object, ...], int] = {}  # many states differ only in what is set
    which = [stands.setdefault((s.operated, s.positions, s.energised, s.dead), len(stands)) for s in states]
    told: Whole = np.zeros((len(stands), len(circuit.elements)), dtype=np.intp)
    for number, state in dict(zip(which, states, strict=True)).items():
        for key in _keys(state):
            for element, curve in _moved(circuit, key):
                told[number, element] = curve
    rows = told[which]
    added: dict[int, list[Curve]] = {}
    known: dict[tuple[int, float], int] = {}
    adjusted: dict[str, list[int]] = {}
    sets: list[tuple[int, int, int]] = []
    for number, state in enumerate(states):
        for name, value in (*state.settings, *state.signals):
            for element in adjusted.get(name) or adjusted.setdefault(name, _adjustable(circuit, name)):
                option = known.get((element, value))
                sets.append(
                    (number, element, _curve(circuit, added, known, element, value) if option is None else option)
                )
    if sets:
        at, elements, options = np.array(sets, dtype=np.intp).T
        rows[at, elements] = np.where(
            rows[at, elements] == 0, options, rows[at, elements]
        )  # what gives nothing stays so
    if not added:
        return rows, circuit.tables
    return rows, tables([(*e.curves, *added.get(i, ())) for i, e in enumerate(circuit.elements)])


def _keys(state: State) -> list[tuple[str, ...]]:
    keys: list[tuple[str, ...]] = [("operated", name) for name in sorted(state.operated)]
    keys += [("position", *at) for at in state.positions]
    keys += [("energised", name) for name in sorted(state.energised)]
    keys += [("dead", name) for name in sorted(state.dead)]
    return keys


def _moved(circuit: Circuit, key: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
    name = key[1].split(":", 1)[0]
    if name not in circuit.devices:
        raise ValueError(f"no device {name}")
    if key[0] == "position" and key[2] not in circuit.devices[name].positions:
        raise ValueError(f"{name} has no position {key[2]}")
    return circuit.moves.get(key, ())


def _adjustable(circuit: Circuit, name: str) -> list[int]:
    """The elements that a setting or signal means: a device's, or that at one pin (``-TA1:AO1``)."""
    kinds = ("potentiometer", "transmitter", "analog_output")
    found = [i for i, e in enumerate(circuit.elements) if e.kind in kinds and name in (e.of, str(e.a))]
    if not found:
        raise ValueError(f"{name} gives no signal and has nothing to set")
    return found


def _curve(
    circuit: Circuit, added: dict[int, list[Curve]], known: dict[tuple[int, float], int], element: int, value: float
) -> int:
    """The number of a curve that a value adds to those of an element."""
    e = circuit.elements[element]
    device = circuit.devices[e.of]
    if e.kind == "potentiometer":
        curve = track(device, e.name, min(max(value, 0.0), 1.0))
    else:
        curve = signal_curve(device, e.name, value, e.a.name)
    found = added.setdefault(element, [])
    found.append(curve)
    known[element, value] = len(e.curves) + len(found) - 1
    return known[element, value]


def _options(circuit: Circuit, commanded: Whole, picked: Truths, fed: Truths, states: Sequence[State]) -> Whole:
    """What the coils add: contacts of those that are picked up, nothing from devices that are not fed."""
    options = commanded.copy()
    for column, coil in enumerate(circuit.coils):
        for element, curve in circuit.moves.get(("picked", coil.device), ()):
            options[picked[:, column], element] = curve
    for column, feed in enumerate(circuit.feeds):
        for key in ("dead", "unfed"):
            for element, curve in circuit.moves.get((key, feed.device), ()):
                options[~fed[:, column], element] = curve
    for row, state in ((row, s) for row, s in zip(options, states, strict=True) if s.stuck):
        for device, contact, closed in state.stuck:
            for element, curve in circuit.moves.get(("stuck", device, contact, "closed" if closed else "open"), ()):
                row[element] = curve
    return options


def _follow(
    coils: Sequence[Coil], circuit: Circuit, volts: Sequence[Floats], stands: Truths, left: Whole, *, one: bool = False
) -> Truths:
    """Lets every coil follow its voltage, or only ``one``, the first; which moved in each of the states ``left``."""
    moved = np.zeros((len(left), len(coils)), dtype=bool)
    for column, coil in enumerate(coils):
        across = np.abs(_across(circuit, volts, coil, left))
        now = np.where(stands[left, column], across >= coil.drop_v, across >= coil.pick_v)
        moved[:, column] = now != stands[left, column]
    if one:
        moved &= moved.cumsum(axis=1) == 1
    stands[left] ^= moved
    return moved


def _across(circuit: Circuit, volts: Sequence[Floats], coil: Coil, left: Whole) -> Floats:
    def at(pin: Pin) -> Floats:
        number = circuit.island_of(pin)
        if number is None:
            return np.zeros(len(left))
        column: Floats = volts[number][left, circuit.islands[number].index[pin]]
        return column

    return at(coil.a) - at(coil.b)
