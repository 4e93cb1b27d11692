"""The circuit as numbers: nodes, fixed resistances, and elements whose curve depends on the state."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
import numpy.typing as npt

from wiregen.circuit.curves import Curve
from wiregen.terms import Pin

Floats = npt.NDArray[np.float64]
Whole = npt.NDArray[np.intp]
Truths = npt.NDArray[np.bool_]

#: From every node to earth, so that what floats has a potential: the resistance of a good insulation. common practice,
#: no source.
LEAK_S = 1e-9
#: What an element counts for in the network to which its true curve is a correction; any value gives the same answer.
NOMINAL_S = 1e-2


@dataclass(frozen=True, slots=True)
class Resistance:
    """A resistance that no state changes. ``of`` is a conductor's id, or the device that it stands for."""

    a: Pin
    b: Pin
    ohm: float
    of: str
    kind: str  # that of its edge in the netlist


@dataclass(frozen=True, slots=True)
class Element:
    """Something whose curve the state decides. ``curves`` are those it can have; the first is that at rest."""

    a: Pin
    b: Pin
    of: str
    kind: str
    name: str
    curves: tuple[Curve, ...]


@dataclass(frozen=True, slots=True)
class Coil:
    """The coil of a relay or contactor: it picks up at ``pick_v`` [V] and lets go below ``drop_v`` [V]."""

    device: str
    a: Pin
    b: Pin
    pick_v: float
    drop_v: float


class Island:
    """A part of the circuit in which everything hangs together; the rest it meets at earth only.

    ``base`` is the conductance matrix [S] with each element at a nominal value, ``inverse`` its inverse [ohm].
    ``ends`` gives the node numbers of each element, -1 for earth; ``numbers`` the elements' numbers in the circuit.
    """

    def __init__(self, nodes: list[Pin], base: Floats, ends: list[tuple[int, int]], numbers: list[int]) -> None:
        self.nodes = nodes
        self.base = base
        self.ends = ends
        self.numbers: Whole = np.array(numbers, dtype=np.intp)
        self.incidence = incidence(len(nodes), ends)

    @classmethod
    def of(
        cls, nodes: list[Pin], fixed: list[tuple[int, int, float]], ends: list[tuple[int, int]], numbers: list[int]
    ) -> Island:
        """From conductances: (node, node, siemens), -1 for earth."""
        base: Floats = np.zeros((len(nodes), len(nodes)))
        base[np.diag_indices(len(nodes))] = LEAK_S
        for a, b, siemens in fixed:
            stamp(base, a, b, siemens)
        for a, b in ends:
            stamp(base, a, b, NOMINAL_S)
        return cls(nodes, base, ends, numbers)

    @cached_property
    def index(self) -> dict[Pin, int]:
        return {pin: i for i, pin in enumerate(self.nodes)}

    @cached_property
    def inverse(self) -> Floats:
        return np.asarray(np.linalg.inv(self.base), dtype=np.float64)

    @cached_property
    def spread(self) -> Floats:
        """(nodes x elements): the voltage at each node for 1 A driven through each element."""
        return self.inverse @ self.incidence

    @cached_property
    def ports(self) -> Floats:
        """(elements x elements): the voltage across each element for 1 A driven through each other."""
        return self.incidence.T @ self.spread


def stamp(matrix: Floats, a: int, b: int, siemens: float) -> None:
    """Enter a conductance [S] between nodes ``a`` and ``b`` into a conductance matrix; -1 is earth."""
    if a >= 0:
        matrix[a, a] += siemens
    if b >= 0:
        matrix[b, b] += siemens
    if a >= 0 and b >= 0:
        matrix[a, b] -= siemens
        matrix[b, a] -= siemens


def incidence(size: int, ends: list[tuple[int, int]]) -> Floats:
    """(size x ends): +1 at the first node of each pair, -1 at its second."""
    found: Floats = np.zeros((size, len(ends)))
    for column, (a, b) in enumerate(ends):
        if a >= 0:
            found[a, column] += 1.0
        if b >= 0:
            found[b, column] -= 1.0
    return found
