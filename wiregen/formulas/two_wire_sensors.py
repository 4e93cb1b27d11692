"""Two-wire sensors at a digital input: what is left of the voltage, what leaks, and the resistor that bleeds it off."""

from __future__ import annotations

from typing import NamedTuple

from wiregen.formulas import preferred_numbers
from wiregen.formulas.arguments import count, not_negative, positive
from wiregen.formulas.preferred_numbers import Series

#: Rated powers [W] of resistors that are common, and how much of it one may take. common practice, no source.
_RATED_POWERS = (0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 10.0)
_LOADED_TO = 0.5


class Bleed(NamedTuple):
    """A resistor across an input: the greatest that helps, the preferred one, what it takes, and what it is made for.

    ``rated_w`` is None where no common resistor stands the power.
    """

    most_ohm: float
    chosen_ohm: float
    power_w: float
    rated_w: float | None


def left_v(supply_v: float, drop_v: float, in_series: int = 1) -> float:
    """The voltage [V] across an input while sensors conduct; 0 where they take all of it.

    ``supply_v`` [V], ``drop_v`` [V] of one conducting sensor, ``in_series`` of them. Raises ValueError for a supply
    that is not more than nothing, a negative drop, a wrong count. Source: IEC 60947-5-2 (drops of two-wire sensors).

    >>> left_v(24.0, 8), round(left_v(20.4, 8), 1)
    (16.0, 12.4)
    """
    positive("a supply", supply_v)
    return max(0.0, supply_v - count("sensors in series", in_series) * not_negative("a drop", drop_v))


def leaking_v(leakage_a: float, input_ohm: float, in_parallel: int = 1, bleed_ohm: float | None = None) -> float:
    """The voltage [V] that the leakage of open sensors leaves across an input, the supply being no limit.

    ``leakage_a`` [A] of one sensor, ``in_parallel`` of them, ``input_ohm`` [ohm] of the input, ``bleed_ohm`` [ohm] of a
    resistor across it. Raises ValueError for a negative leakage, no resistance, a wrong count. Source: IEC 60947-5-2.

    >>> round(leaking_v(0.0015, 4800), 2), round(leaking_v(0.0015, 4800, bleed_ohm=10_000), 2)
    (7.2, 4.86)
    """
    total = count("sensors in parallel", in_parallel) * not_negative("a leakage", leakage_a)
    conductance = 1 / positive("the resistance of an input", input_ohm)
    if bleed_ohm is not None:
        conductance += 1 / positive("a bleed resistor", bleed_ohm)
    return total / conductance


def bleed_for_leakage(
    leakage_a: float,
    input_ohm: float,
    off_most_v: float,
    most_supply_v: float,
    in_parallel: int = 1,
    series: Series = "E12",
) -> Bleed | None:
    """The resistor across an input that holds it off while sensors leak; None where it is off without.

    ``leakage_a`` [A] of one sensor, ``in_parallel`` of them, ``input_ohm`` [ohm] of the input at its off limit
    ``off_most_v`` [V], ``most_supply_v`` [V] the highest supply, at which the resistor gets its power. A lower value
    does too; the preferred one of ``series`` is the next below. Raises ValueError where one of these is not more than
    nothing. Source: IEC 61131-2 and IEC 60947-5-2 for the limits; the load of a resistor is common practice, no source.

    >>> bleed = bleed_for_leakage(0.0015, 4800, 5, 28.8)
    >>> round(bleed.most_ohm), bleed.chosen_ohm, round(bleed.power_w, 3), bleed.rated_w
    (10909, 10000.0, 0.083, 0.25)
    """
    positive("an off limit", off_most_v)
    total = count("sensors in parallel", in_parallel) * positive("a leakage", leakage_a)
    surplus = total - off_most_v / positive("the resistance of an input", input_ohm)
    positive("the highest supply", most_supply_v)
    return _bleed(off_most_v / surplus, most_supply_v, series) if surplus > 0 else None


def bleed_for_least_current(
    least_a: float,
    input_a: float,
    across_v: float,
    most_supply_v: float,
    series: Series = "E12",
) -> Bleed | None:
    """The resistor across an input that lets a conducting sensor have its least current; None where it has it.

    ``least_a`` [A] the sensor needs, ``input_a`` [A] the input draws at ``across_v`` [V], the least voltage across it,
    ``most_supply_v`` [V] as in `bleed_for_leakage`. Raises ValueError where one of these is not more than nothing,
    ``input_a`` where it is negative. Source: IEC 60947-5-2 for the limits.

    >>> bleed_for_least_current(0.005, 0.003, 16, 28.8).chosen_ohm
    6800.0
    """
    missing = positive("the least current of a sensor", least_a) - not_negative("the current of an input", input_a)
    positive("the voltage across an input", across_v)
    positive("the highest supply", most_supply_v)
    return _bleed(across_v / missing, most_supply_v, series) if missing > 0 else None


def rated_power_w(power_w: float) -> float | None:
    """The rated power [W] of the smallest common resistor that ``power_w`` [W] loads to half; None where there is none.

    Raises ValueError for a negative power. Source: common practice, no source.

    >>> rated_power_w(0.083), rated_power_w(0.2), rated_power_w(9)
    (0.25, 0.5, None)
    """
    not_negative("a power", power_w)
    return next((w for w in _RATED_POWERS if power_w <= _LOADED_TO * w), None)


def _bleed(most_ohm: float, most_supply_v: float, series: Series) -> Bleed:
    chosen = preferred_numbers.at_most(most_ohm, series)
    power = most_supply_v**2 / chosen
    return Bleed(most_ohm, chosen, power, rated_power_w(power))
