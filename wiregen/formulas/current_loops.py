"""Current loops: whether a two-wire transmitter has voltage enough, at both ends of its range.

A loop is judged with the lowest supply, the lift-off voltage of the transmitter, all burdens, hot conductors, and the
current that it sends at a failure, which is more than 20 mA. A lift-off that falls with the current is judged at both
ends.
"""

from __future__ import annotations

from typing import NamedTuple

from wiregen.formulas import conductors
from wiregen.formulas.arguments import ascending, not_negative, positive

#: What a transmitter signals at a failure, least and most usual [mA] (NAMUR NE 43).
FAULT_LOW_MA = 3.6
FAULT_HIGH_MA = 21.0


class End(NamedTuple):
    """A loop at one current: what the transmitter gets, what it needs, and what is left over (negative: too little)."""

    current_ma: float
    available_v: float
    needed_v: float

    @property
    def spare_v(self) -> float:
        return self.available_v - self.needed_v

    @property
    def spare_ohm(self) -> float:
        """The resistance that the loop could still take at this current."""
        return self.spare_v / self.current_ma * 1000

    @property
    def holds(self) -> bool:
        return self.spare_v >= 0


class Compliance(NamedTuple):
    """Both ends of a loop."""

    low: End
    high: End

    @property
    def holds(self) -> bool:
        return self.low.holds and self.high.holds

    @property
    def worst(self) -> End:
        """The end that has less voltage to spare."""
        return min(self.low, self.high, key=lambda end: end.spare_v)


def most_loop_ohm(supply_v: float, lift_off_v: float, current_ma: float = FAULT_HIGH_MA, fixed_v: float = 0.0) -> float:
    """The greatest resistance [ohm] of all burdens and the cable together; negative where the supply is too low.

    ``supply_v`` [V] is the lowest supply, ``lift_off_v`` [V] what the transmitter needs at ``current_ma`` [mA],
    ``fixed_v`` [V] what diodes and displays take whatever the current. Raises ValueError for a supply or current that
    is not more than nothing, and a negative voltage. Source: common practice, no source (Ohm's law).

    >>> round(most_loop_ohm(24, 10.5, 23)), most_loop_ohm(24, 12, 25)
    (587, 480.0)
    """
    positive("a supply", supply_v)
    not_negative("a lift-off voltage", lift_off_v)
    not_negative("a fixed drop", fixed_v)
    return (supply_v - lift_off_v - fixed_v) / positive("a current", current_ma) * 1000


def compliance(
    supply_v: float,
    lift_off_v: float,
    burden_ohm: float,
    cable_ohm: float,
    *,
    low_ma: float = FAULT_LOW_MA,
    high_ma: float = FAULT_HIGH_MA,
    lift_off_low_v: float | None = None,
    fixed_v: float = 0.0,
) -> Compliance:
    """What a two-wire transmitter gets and needs at ``low_ma`` and ``high_ma`` [mA].

    ``supply_v`` [V] is the lowest supply, ``lift_off_v`` [V] is needed at ``high_ma``, ``lift_off_low_v`` [V] at
    ``low_ma`` (the same where it is not stated), ``burden_ohm`` [ohm] is the sum of all receivers, ``cable_ohm`` [ohm]
    the cable there and back, hot, ``fixed_v`` [V] what diodes and displays take. Raises ValueError for a supply or
    current that is not more than nothing, a negative voltage or resistance, and ends in the wrong order. Source: NAMUR
    NE 43 for the currents; Ohm's law.

    >>> both = compliance(20.4, 12.0, 250, 2.0)
    >>> both.holds, round(both.high.available_v, 2), round(both.worst.spare_ohm)
    (True, 15.11, 148)
    """
    positive("a supply", supply_v)
    positive("the low current", low_ma)
    ascending(("the low current", low_ma), ("the high current", high_ma))
    positive("the high current", high_ma)
    needed = {low_ma: lift_off_v if lift_off_low_v is None else lift_off_low_v, high_ma: lift_off_v}
    series = not_negative("a burden", burden_ohm) + not_negative("the resistance of a cable", cable_ohm)
    not_negative("a fixed drop", fixed_v)
    low, high = (
        End(ma, supply_v - fixed_v - series * ma / 1000, not_negative("a lift-off voltage", volts))
        for ma, volts in needed.items()
    )
    return Compliance(low, high)


def most_current_ma(supply_v: float, lift_off_v: float, loop_ohm: float, fixed_v: float = 0.0) -> float:
    """The current [mA] above which a loop runs out of voltage; 0 where the supply is below the lift-off voltage.

    ``supply_v`` [V], ``lift_off_v`` [V], ``fixed_v`` [V] as in `most_loop_ohm`, ``loop_ohm`` [ohm] all resistance in
    the loop. Raises ValueError unless supply and resistance are more than nothing. Source: common practice, no source
    (Ohm's law).

    >>> most_current_ma(24, 12, 600)
    20.0
    """
    left = most_loop_ohm(supply_v, lift_off_v, 1000.0, fixed_v)
    return max(0.0, left) / positive("the resistance of a loop", loop_ohm) * 1000


def least_supply_v(
    lift_off_v: float, loop_ohm: float, current_ma: float = FAULT_HIGH_MA, fixed_v: float = 0.0
) -> float:
    """The least supply [V] of a loop: the inverse of `most_loop_ohm`.

    ``lift_off_v`` [V], ``loop_ohm`` [ohm], ``current_ma`` [mA], ``fixed_v`` [V] as there. Raises ValueError for a
    current that is not more than nothing, and where another is negative. Source: common practice, no source (Ohm's
    law).

    >>> least_supply_v(12, 600, 20)
    24.0
    """
    not_negative("a lift-off voltage", lift_off_v)
    not_negative("a fixed drop", fixed_v)
    resistance = not_negative("the resistance of a loop", loop_ohm)
    return lift_off_v + fixed_v + resistance * positive("a current", current_ma) / 1000


def longest_m(spare_ohm: float, area_mm2: float, conductor_class: int = 5, temperature_c: float = 70.0) -> float:
    """The longest cable [m] there and back whose resistance is at most ``spare_ohm`` [ohm]; 0 where none is left.

    ``area_mm2`` [mm2], ``conductor_class`` and ``temperature_c`` [degC] as in `conductors.any_area_ohm_per_km`. Raises
    ValueError for a resistance that is no number. Source: IEC 60228.

    >>> round(longest_m(350, 0.75, temperature_c=20))
    6731
    """
    if not spare_ohm < float("inf"):
        raise ValueError(f"a resistance must be a number, not {spare_ohm:g}")
    return max(0.0, spare_ohm) / (2 * conductors.any_area_ohm_per_km(area_mm2, conductor_class, temperature_c)) * 1000
