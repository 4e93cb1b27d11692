"""The engine: the operating points of one island in many states at once.

Each element's true curve is a correction to its nominal value in the network, so a state costs the solution of one
equation an element, not one a node. Which straight piece of its curve an element works on is found by trying: from the
voltages of one solution follow the pieces for the next, until they agree. Where that goes round in circles, Newton's
method with a search along its direction takes over; it ends, because curves never fall and the sum of their contents
is convex.
"""

from __future__ import annotations

import numpy as np

from wiregen.circuit.network import NOMINAL_S, Floats, Island, Truths, Whole
from wiregen.terms import InternalFault

#: Kirchhoff's current law must hold at every node to within this, in A, or in this part of the greatest current.
LAW_A = 1e-7
_LAW_PART = 1e-9
_TRIES = 12  # at following the pieces, before Newton's method
_STEPS = 300  # of Newton's method, of which circuits as they occur need a few
_BETTERED = 3  # times that an answer spoilt by rounding is bettered
_NARROWED, _AT_ONCE = 4, 33  # rounds and points of the search along a direction
_CHUNK_FLOATS = 100_000  # how many matrix elements are solved at once: what a processor's cache holds


class Tables:
    """Curves of elements as arrays: ``knots`` (elements, curves, 3), ``slopes`` and ``offsets`` (elements, curves, 4).

    ``usual`` (elements, curves) is the piece to begin with.
    """

    def __init__(self, knots: Floats, slopes: Floats, offsets: Floats, usual: Whole) -> None:
        self.knots, self.slopes, self.offsets, self.usual = knots, slopes, offsets, usual

    def part(self, numbers: Whole) -> Tables:
        """Those of some elements; with states in front of the elements, those of some states."""
        return Tables(self.knots[numbers], self.slopes[numbers], self.offsets[numbers], self.usual[numbers])

    def chosen(self, options: Whole) -> Tables:
        """The curves that ``options`` (states, elements) choose: (states, elements, 3 or 4)."""
        row = np.arange(options.shape[1])
        at = (row, options)
        return Tables(self.knots[at], self.slopes[at], self.offsets[at], self.usual[at])

    def at(self, pieces: Whole) -> tuple[Floats, Floats]:
        """Slope [S] and offset [A] of every element on its piece."""
        where = pieces[..., None]
        slopes = np.take_along_axis(self.slopes, where, axis=-1)[..., 0]
        return slopes, np.take_along_axis(self.offsets, where, axis=-1)[..., 0]

    def pieces(self, across: Floats) -> Whole:
        """On which piece every element works at the voltages [V] ``across`` it."""
        found: Whole = (across[..., None] > self.knots).sum(axis=-1)
        return found


def operating_points(island: Island, curves: Tables, options: Whole) -> Floats:
    """The voltage [V] to earth at every node: (states, nodes).

    ``curves`` are those of the island's elements, ``options`` (states, elements) says which of them each one has.
    Raises InternalFault where Kirchhoff's current law does not hold in the answer.
    """
    states, elements = options.shape
    if not elements:
        return np.zeros((states, len(island.nodes)))
    found = np.empty((states, len(island.nodes)))
    step = max(1, _CHUNK_FLOATS // (elements * elements + len(island.nodes)))
    for first in range(0, states, step):
        rows = slice(first, first + step)
        found[rows] = _solve(island, curves.chosen(options[rows]))
    return found


def _solve(island: Island, curves: Tables) -> Floats:
    states = len(curves.knots)
    pieces = curves.usual.copy()
    found = np.zeros((states, len(island.nodes)))
    left = np.arange(states)
    for _ in range(_TRIES):
        part = curves.part(left) if left.size < states else curves
        volts, across = _linear(island, *part.at(pieces[left]))
        new = part.pieces(across)
        settled = _same(part, pieces[left], new, across)
        found[left[settled]] = volts[settled]
        pieces[left] = new
        left = left[~settled]
        if not left.size:
            break
    for state in left:
        found[state] = _newton(island, curves.part(np.array([state])))
    _law(island, curves, found)
    return found


def _linear(island: Island, slopes: Floats, offsets: Floats) -> tuple[Floats, Floats]:
    """Node voltages and voltages across elements where every element is straight.

    Elements that have one slope in all states are taken into the network first, once; a state then costs the solution
    of one equation for each of the others.
    """
    corrections = slopes - NOMINAL_S
    same = (corrections == corrections[0]).all(axis=0)
    ports = np.linalg.solve(np.eye(len(same)) + island.ports * np.where(same, corrections[0], 0.0), island.ports)
    other = np.flatnonzero(~same)
    moved = corrections[:, other]
    system = ports[np.ix_(other, other)][None] * moved[:, None, :]
    system[:, np.arange(len(other)), np.arange(len(other))] += 1.0
    at_others = np.linalg.solve(system, -(offsets @ ports[other].T)[..., None])[..., 0]
    driven = offsets.copy()
    driven[:, other] += moved * at_others
    across = -driven @ ports.T
    volts = -(corrections * across + offsets) @ island.spread.T
    return volts, volts @ island.incidence


def _same(curves: Tables, before: Whole, after: Whole, across: Floats) -> Truths:
    """Where the pieces agree, or differ only by a voltage that lies on a knot."""
    if (before == after).all():
        return np.ones(len(before), dtype=bool)
    slopes, offsets = curves.at(before)
    slopes_after, offsets_after = curves.at(after)
    difference = np.abs((slopes - slopes_after) * across + offsets - offsets_after)
    agreed: Truths = ((before == after) | (difference < LAW_A / 100)).all(axis=-1)
    return agreed


def _imbalance(island: Island, curves: Tables, volts: Floats) -> tuple[Floats, Floats]:
    """The current [A] that is missing at every node, and the greatest current of any element, a state."""
    across = volts @ island.incidence
    slopes, offsets = curves.at(curves.pieces(across))
    true = slopes * across + offsets
    missing = volts @ island.base + (true - NOMINAL_S * across) @ island.incidence.T
    return missing, np.abs(true).max(axis=-1, initial=0.0)


def _law(island: Island, curves: Tables, volts: Floats) -> None:
    """Betters the answers that rounding has spoilt, and holds all to Kirchhoff's law."""
    for _ in range(_BETTERED + 1):
        missing, greatest = _imbalance(island, curves, volts)
        bad = np.flatnonzero(np.abs(missing).max(axis=-1, initial=0.0) > LAW_A / 10 + _LAW_PART * greatest)
        if not bad.size:
            return
        for state in bad:
            jacobian = _jacobian(island, curves.part(np.array([state])), volts[[state]])
            volts[state] -= np.linalg.solve(jacobian, missing[state])
    raise InternalFault("Kirchhoff's current law does not hold in an operating point")


def _jacobian(island: Island, curves: Tables, volts: Floats) -> Floats:
    """How the current at every node answers to the voltage at every node, in one state."""
    slopes, _ = curves.at(curves.pieces(volts @ island.incidence))
    found: Floats = island.base + (island.incidence * (slopes - NOMINAL_S)[0]) @ island.incidence.T
    return found


def _newton(island: Island, curves: Tables) -> Floats:
    """One state, by Newton's method with a search along the direction."""
    volts = np.zeros((1, len(island.nodes)))
    for _ in range(_STEPS):
        missing, greatest = _imbalance(island, curves, volts)
        if np.abs(missing).max() <= LAW_A / 100 + _LAW_PART * greatest[0] / 10:
            break
        direction = -np.linalg.solve(_jacobian(island, curves, volts), missing[0])
        volts = volts + _length(island, curves, volts, direction) * direction
    return np.asarray(volts[0], dtype=np.float64)


def _length(island: Island, curves: Tables, volts: Floats, direction: Floats) -> float:
    """How far to go along a direction: to where the content is least, at most one whole step.

    The content's slope along the direction is made of straight pieces and rises; its zero is bracketed ever closer.
    """
    low, high = 0.0, 1.0
    for _ in range(_NARROWED):
        parts = np.linspace(low, high, _AT_ONCE)
        many = curves.part(np.zeros(_AT_ONCE, dtype=np.intp))
        missing, _ = _imbalance(island, many, volts + parts[:, None] * direction)
        rising = missing @ direction > 0.0
        if not rising[-1]:
            return float(parts[-1])
        first = max(int(np.argmax(rising)), 1)
        low, high = float(parts[first - 1]), float(parts[first])
    return high
