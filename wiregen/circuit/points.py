"""Operating points as an answer: voltages between pins, currents through elements and conductors."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

import numpy as np

from wiregen.circuit.build import Circuit
from wiregen.circuit.engine import Tables
from wiregen.circuit.network import Element, Floats, Resistance, Truths, Whole
from wiregen.circuit.state import State
from wiregen.terms import Pin


class Points:
    """The operating points of some states, in their order.

    ``restless`` marks states in which coils and contacts chase each other without end: their voltages mean nothing.
    ``picked`` (states, coils) and ``fed`` (states, feeds) say how the circuit's coils and fed devices ended.
    """

    def __init__(
        self,
        circuit: Circuit,
        states: Sequence[State],
        volts: Sequence[Floats],
        options: Whole,
        curves: Tables,
        picked: Truths,
        fed: Truths,
        restless: Truths,
        chasing: Truths,
    ) -> None:
        self.circuit, self.states = circuit, tuple(states)
        self._volts, self._options, self._curves = volts, options, curves
        self.picked, self.fed, self.restless, self._chasing = picked, fed, restless, chasing

    def to_earth(self, pin: Pin) -> Floats:
        """The voltage [V] of a pin to earth, one a state. Zero at earth, and at a pin to which nothing is joined."""
        number = self.circuit.island_of(pin)
        if number is None:
            return np.zeros(len(self.states))
        return self._volts[number][:, self.circuit.islands[number].index[pin]]

    def volts(self, pin: Pin, to: Pin) -> Floats:
        """The voltage [V] from ``pin`` to ``to``, one a state."""
        return self.to_earth(pin) - self.to_earth(to)

    def amps(self, part: Element | Resistance) -> Floats:
        """The current [A] from ``a`` to ``b`` of a part, one a state."""
        across = self.volts(part.a, part.b)
        if isinstance(part, Resistance):
            return across / part.ohm
        number = self._numbers[part]
        curves = self._curves.part(np.array([number])).chosen(self._options[:, [number]])
        slope, offset = curves.at(curves.pieces(across[:, None]))
        return slope[:, 0] * across + offset[:, 0]

    def out_of(self, pin: Pin) -> Floats:
        """The current [A] that a device drives out of one of its pins into the conductors there, one a state."""
        total = np.zeros(len(self.states))
        for part in self._conductors.get(pin, ()):
            total += self.amps(part) if part.a == pin else -self.amps(part)
        return total

    def picked_up(self, state: int) -> frozenset[str]:
        """The relays and contactors that are picked up in a state."""
        return frozenset(c.device for c, on in zip(self.circuit.coils, self.picked[state], strict=True) if on)

    def chasing(self, state: int) -> frozenset[str]:
        """The relays and contactors that pick up and let go without end in a state; none where it is at rest."""
        return frozenset(c.device for c, on in zip(self.circuit.coils, self._chasing[state], strict=True) if on)

    @cached_property
    def _numbers(self) -> dict[Element, int]:
        return {element: i for i, element in enumerate(self.circuit.elements)}

    @cached_property
    def _conductors(self) -> dict[Pin, list[Resistance]]:
        found: dict[Pin, list[Resistance]] = {}
        for part in self.circuit.fixed:
            if part.kind in ("wire", "core", "bridge", "screen", "link"):
                found.setdefault(part.a, []).append(part)
                found.setdefault(part.b, []).append(part)
        return found
