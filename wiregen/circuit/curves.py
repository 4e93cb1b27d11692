"""Curves: the current through an element over the voltage across it, in at most four straight pieces.

Every curve rises or stays level with the voltage, so a circuit of them has one operating point.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

#: A closed contact: common practice, no source.
CONTACT_OHM = 0.01
#: A transistor output that conducts: typical, invented.
TRANSISTOR_OHM = 0.5
#: A diode, in two straight pieces: typical, invented.
DIODE_V = 0.7
DIODE_OHM = 1.0
#: In series with the drop of a sensor that conducts: typical, invented.
SENSOR_OHM = 10.0
#: What a supply that gives nothing, or all it can, still is from terminal to terminal: typical, invented.
BLEED_S = 1e-6
#: Below this voltage a sensor's leakage falls to nothing: typical, invented.
LEAKAGE_KNEE_V = 5.0


@dataclass(frozen=True, slots=True)
class Curve:
    """``i = slope * v + offset`` [A] in each piece; ``knots`` [V] part the pieces. Four slopes, four offsets.

    ``usual`` is the piece on which the element works where nothing is wrong: where the search begins.
    """

    knots: tuple[float, float, float]
    slopes: tuple[float, float, float, float]
    offsets: tuple[float, float, float, float]
    usual: int = 0

    @property
    def idle_v(self) -> float:
        """The highest knot [V]: of a supply, its voltage where nothing is asked of it."""
        return max((knot for knot in self.knots if math.isfinite(knot)), default=math.inf)

    def amps(self, volts: float) -> float:
        """The current [A] at ``volts`` [V] across the element."""
        piece = sum(volts > knot for knot in self.knots)
        return self.slopes[piece] * volts + self.offsets[piece]


def pieces(knots: tuple[float, ...], slopes: tuple[float, ...], offset: float = 0.0, usual: int = 0) -> Curve:
    """The continuous curve with these slopes, whose first piece is ``slope * v + offset``.

    >>> pieces((0.7,), (0.0, 1.0)).amps(1.7)
    1.0
    """
    offsets = [offset]
    for knot, before, after in zip(knots, slopes, slopes[1:], strict=False):
        offsets.append(offsets[-1] + (before - after) * knot)
    missing = 3 - len(knots)
    return Curve(
        (*knots, *([math.inf] * missing)),  # type: ignore[arg-type]
        (*slopes, *([slopes[-1]] * missing)),  # type: ignore[arg-type]
        (*offsets, *([offsets[-1]] * missing)),  # type: ignore[arg-type]
        usual,
    )


OPEN = pieces((), (0.0,))


def resistor(ohm: float) -> Curve:
    """A resistance. Raises ValueError unless it is above zero."""
    if not ohm > 0.0:
        raise ValueError(f"a resistance above zero is needed, not {ohm:g} ohm")
    return pieces((), (1.0 / ohm,))


CLOSED = resistor(CONTACT_OHM)
CONDUCTS = resistor(TRANSISTOR_OHM)
DIODE = pieces((DIODE_V,), (0.0, 1.0 / DIODE_OHM))


def supply(volts: float, ohm: float, limit_a: float = math.inf) -> Curve:
    """A supply from its positive to its negative terminal: gives about ``limit_a`` [A] at most, takes nothing back.

    >>> round(supply(24.0, 0.05, 5.0).amps(23.9), 3), round(supply(24.0, 0.05, 5.0).amps(0.0), 3)
    (-2.0, -5.0)
    """
    if math.isinf(limit_a):
        return pieces((volts,), (1.0 / ohm, BLEED_S), -volts / ohm)
    knee = volts - limit_a * ohm
    return pieces((knee, volts), (BLEED_S, 1.0 / ohm, BLEED_S), -limit_a - BLEED_S * knee, usual=1)


def regulator(amps: float, least_v: float) -> Curve:
    """A two-wire transmitter: lets ``amps`` [A] through from ``least_v`` [V] on, in proportion below, none reversed."""
    return pieces((0.0, least_v), (0.0, amps / least_v, 0.0), usual=2)


def driver(amps: float, most_v: float) -> Curve:
    """An active current output: ``amps`` [A] out of its first pin up to ``most_v`` [V], none from 1 V above on."""
    return pieces((most_v, most_v + 1.0), (0.0, amps, 0.0), -amps)


def drop(volts: float) -> Curve:
    """A sensor that conducts: nothing up to its drop [V], then what the rest of the circuit allows."""
    return pieces((volts,), (0.0, 1.0 / SENSOR_OHM), usual=1)


def leakage(amps: float) -> Curve:
    """A sensor that does not conduct: it still lets ``amps`` [A] through."""
    return pieces((0.0, LEAKAGE_KNEE_V), (0.0, amps / LEAKAGE_KNEE_V, 0.0), usual=2) if amps > 0.0 else OPEN
