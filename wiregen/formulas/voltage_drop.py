"""Voltage drop in copper cables: how much, the area that keeps a limit, the longest cable that does."""

from __future__ import annotations

import math
from typing import Literal

from wiregen.formulas import conductors
from wiregen.formulas.arguments import not_negative, positive, proper_share

#: Copper in service [ohm mm2/m] and the reactance of a cable [ohm/m] (IEC 60364-5-52 annex G, from memory).
_COPPER_IN_SERVICE = 0.0225
_REACTANCE = 0.08e-3


def drop_v(
    current_a: float, length_m: float, area_mm2: float, conductor_class: int = 5, temperature_c: float = 20.0
) -> float:
    """The voltage [V] that ``current_a`` [A] loses there and back in a cable of ``length_m`` [m], DC or resistive AC.

    ``area_mm2`` [mm2] (any), ``conductor_class`` and ``temperature_c`` [degC] as in `conductors.any_area_ohm_per_km`.
    Raises ValueError for a negative current or length. Source: IEC 60228 with Ohm's law.

    >>> round(drop_v(0.208, 100, 0.75), 2)
    1.08
    """
    not_negative("a current", current_a)
    not_negative("a length", length_m)
    return current_a * 2 * length_m / 1000 * conductors.any_area_ohm_per_km(area_mm2, conductor_class, temperature_c)


def drop_percent(lost_v: float, nominal_v: float) -> float:
    """A voltage drop ``lost_v`` [V] in percent of ``nominal_v`` [V].

    Raises ValueError for a negative drop or no nominal voltage. Source: IEC 60204-1 (the 5 % of its clause 12.5 are of
    the nominal voltage).

    >>> round(drop_percent(6.45, 230), 2)
    2.8
    """
    return 100 * not_negative("a voltage drop", lost_v) / positive("a nominal voltage", nominal_v)


def smallest_area_mm2(
    current_a: float, length_m: float, most_drop_v: float, conductor_class: int = 5, temperature_c: float = 20.0
) -> float | None:
    """The smallest standard area [mm2] that loses at most ``most_drop_v`` [V]; None where the table has none.

    ``current_a`` [A], ``length_m`` [m], ``conductor_class`` and ``temperature_c`` [degC] as in `drop_v`. Raises
    ValueError for a negative current or length, and unless some drop is allowed. Source: IEC 60228 with Ohm's law.

    >>> smallest_area_mm2(21.74, 40, 0.03 * 230, conductor_class=2, temperature_c=70)
    6.0
    """
    positive("a voltage drop", most_drop_v)
    return next(
        (
            a
            for a in conductors.areas_mm2()
            if drop_v(current_a, length_m, a, conductor_class, temperature_c) <= most_drop_v
        ),
        None,
    )


def longest_m(
    current_a: float, area_mm2: float, most_drop_v: float, conductor_class: int = 5, temperature_c: float = 20.0
) -> float:
    """The longest cable [m] in which ``current_a`` [A] loses at most ``most_drop_v`` [V], there and back.

    ``area_mm2`` [mm2], ``conductor_class`` and ``temperature_c`` [degC] as in `drop_v`. Raises ValueError unless
    current and drop are more than nothing. Source: IEC 60228 with Ohm's law.

    >>> round(longest_m(0.208, 0.75, 2.4))
    222
    """
    positive("a current", current_a)
    return positive("a voltage drop", most_drop_v) / drop_v(current_a, 1.0, area_mm2, conductor_class, temperature_c)


def ac_drop_v(current_a: float, length_m: float, area_mm2: float, cos_phi: float, phases: Literal[1, 3] = 3) -> float:
    """The voltage [V] that a cable in service loses: against neutral for three phases, between both cores for one.

    ``current_a`` [A], ``length_m`` [m], ``area_mm2`` [mm2], ``cos_phi`` [1] of the load (inductive). Raises ValueError
    for a negative current or length, no area, a power factor outside 0 to 1, other phases.
    Source: IEC 60364-5-52 annex G, from memory (copper, 0.08 mohm/m).

    >>> round(ac_drop_v(50, 100, 16, 0.8), 3)
    5.865
    """
    not_negative("a current", current_a)
    not_negative("a length", length_m)
    positive("an area", area_mm2)
    proper_share("a power factor", cos_phi)
    if phases not in (1, 3):
        raise ValueError(f"there are 1 or 3 phases, not {phases}")
    sin_phi = math.sqrt(1 - cos_phi**2)
    once = current_a * length_m * (_COPPER_IN_SERVICE / area_mm2 * cos_phi + _REACTANCE * sin_phi)
    return once if phases == 3 else 2 * once
