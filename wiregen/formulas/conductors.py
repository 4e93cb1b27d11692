"""Copper conductors: resistance by area and temperature, American wire gauge."""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Literal

from wiregen.formulas import tables
from wiregen.formulas.arguments import not_negative, positive

Plating = Literal["plain", "tinned"]
#: Annealed copper at 20 C (IEC 60028).
COPPER_OHM_MM2_PER_KM = 17.241
#: A stranded conductor has so many times the resistance of a solid one (from memory: 2 to 3 % more).
_AWG_STRANDED = 1.03
_GAUGE = re.compile(r"AWG\s*(\d+)|(\d+)\s*AWG", re.IGNORECASE)
#: Instrument cable of several pairs may have so many times the resistance of its conductors (BS 5308).
_LAY_OF_PAIRS = 1.02


@cache
def _resistances() -> dict[tuple[float, int, str], float]:
    return {
        (float(r["area_mm2"]), int(r["conductor_class"]), r["plating"]): float(r["resistance"])
        for r in tables.rows("conductors")
    }


@cache
def areas_mm2() -> tuple[float, ...]:
    """The standard areas [mm2] of the table, ascending; the standard starts at 0.5 mm2 and goes on. Source: IEC 60228.

    >>> areas_mm2()
    (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0, 16.0, 25.0, 35.0)
    """
    return tuple(sorted({area for area, _, _ in _resistances()}))


def next_area_mm2(area_mm2: float) -> float | None:
    """The next standard area above ``area_mm2`` [mm2]; None above the table.

    Raises ValueError unless the area is more than nothing. Source: IEC 60228.

    >>> next_area_mm2(0.75), next_area_mm2(0.823), next_area_mm2(35)
    (1.0, 1.0, None)
    """
    positive("an area", area_mm2)
    return next((a for a in areas_mm2() if a > area_mm2), None)


def _column(conductor_class: int) -> int:
    return {1: 2, 6: 5}.get(conductor_class, conductor_class)


def resistance_ohm_per_km(
    area_mm2: float, conductor_class: int = 5, plating: Plating = "plain", temperature_c: float = 20.0
) -> float:
    """The greatest resistance [ohm/km] of one copper conductor.

    ``area_mm2`` [mm2] is a standard area; ``conductor_class`` is 2 (stranded) or 5 (flexible; class 6 has the same
    limits, class 1 those of class 2); ``temperature_c`` [degC] is the conductor's. Raises ValueError for an area or
    class outside the table. Source: IEC 60228.

    >>> resistance_ohm_per_km(0.75)
    26.0
    >>> resistance_ohm_per_km(1.5, conductor_class=2)
    12.1
    """
    at_20_c = _resistances().get((float(area_mm2), _column(conductor_class), plating))
    if at_20_c is None:
        listed = ", ".join(f"{a:g}" for a in areas_mm2())
        raise ValueError(f"no {plating} conductor of {area_mm2:g} mm2 and class {conductor_class}; areas: {listed} mm2")
    return at_20_c * temperature_factor(temperature_c)


def temperature_factor(temperature_c: float) -> float:
    """Resistance of copper at ``temperature_c`` [degC] over that at 20 degC.

    The closed form of the table in the annex of IEC 60228, whose coefficient is rounded to 0.004/K; its printed factor
    is the inverse of this one. Raises ValueError at or below -230 degC. Source: IEC 60228.

    >>> round(1 / temperature_factor(70), 3)
    0.833
    """
    if not -230.0 < temperature_c < math.inf:
        raise ValueError("a temperature above -230 degC is needed")
    return (230.0 + temperature_c) / 250.0


def loop_resistance_ohm(
    length_m: float, area_mm2: float, conductor_class: int = 5, temperature_c: float = 20.0
) -> float:
    """The resistance [ohm] there and back of a cable of ``length_m`` [m].

    ``area_mm2`` [mm2], ``conductor_class`` and ``temperature_c`` [degC] as in `resistance_ohm_per_km`.
    Raises ValueError for a negative length. Source: IEC 60228.

    >>> round(loop_resistance_ohm(100, 0.75), 3)
    5.2
    """
    not_negative("a length", length_m)
    return 2 * length_m / 1000 * resistance_ohm_per_km(area_mm2, conductor_class, temperature_c=temperature_c)


def any_area_ohm_per_km(area_mm2: float, conductor_class: int = 5, temperature_c: float = 20.0) -> float:
    """The resistance [ohm/km] of one plain copper conductor of any area, at most about what makers state.

    ``area_mm2`` [mm2] need not be standard: between standard areas, and beside the table, the resistivity of copper is
    raised as the table raises it for strands, lay and tolerance. ``conductor_class`` and ``temperature_c`` [degC] as in
    `resistance_ohm_per_km`, with which it agrees at standard areas. Raises ValueError for an area that is not more than
    nothing, and for an unknown class. Source: IEC 60228 with the resistivity of IEC 60028; beside the standard's sizes
    common practice, no source.

    >>> any_area_ohm_per_km(0.75), round(any_area_ohm_per_km(0.34), 1)
    (26.0, 57.4)
    """
    positive("an area", area_mm2)
    if float(area_mm2) in areas_mm2():
        return resistance_ohm_per_km(area_mm2, conductor_class, temperature_c=temperature_c)
    below = max((a for a in areas_mm2() if a < area_mm2), default=areas_mm2()[0])
    above = min((a for a in areas_mm2() if a > area_mm2), default=areas_mm2()[-1])
    raised_below, raised_above = (
        resistance_ohm_per_km(a, conductor_class) * a / COPPER_OHM_MM2_PER_KM for a in (below, above)
    )
    part = (area_mm2 - below) / (above - below) if below < area_mm2 < above else 0.0
    raised = raised_below + (raised_above - raised_below) * part
    return COPPER_OHM_MM2_PER_KM / area_mm2 * raised * temperature_factor(temperature_c)


def pair_ohm_per_km(area_mm2: float, conductor_class: int = 5, temperature_c: float = 20.0) -> float:
    """The greatest resistance [ohm/km] of one core of an instrument cable of several pairs.

    2 % more than `resistance_ohm_per_km`, because pairs are laid up longer than their cable. ``area_mm2`` [mm2],
    ``conductor_class`` and ``temperature_c`` [degC] as there. Raises ValueError as it does. Source: BS 5308.

    >>> round(pair_ohm_per_km(0.75), 2)
    26.52
    """
    return _LAY_OF_PAIRS * resistance_ohm_per_km(area_mm2, conductor_class, temperature_c=temperature_c)


def winding_factor(temperature_c: float, reference_c: float = 20.0) -> float:
    """Resistance of a copper winding at ``temperature_c`` [degC] over that at ``reference_c`` [degC].

    What a coil that is hot draws less. Raises ValueError at or below -235 degC. Source: IEC 60034-1, from memory.

    >>> round(winding_factor(75), 4)
    1.2157
    """
    if not (-235.0 < temperature_c < math.inf and -235.0 < reference_c < math.inf):
        raise ValueError("temperatures above -235 degC are needed")
    return (235.0 + temperature_c) / (235.0 + reference_c)


def awg_diameter_mm(gauge: int) -> float:
    """The diameter [mm] of a solid conductor of American wire ``gauge`` (0 to 40). Raises ValueError outside. Source:
    ASTM B258.

    >>> round(awg_diameter_mm(16), 3)
    1.291
    """
    if not 0 <= gauge <= 40:
        raise ValueError(f"AWG {gauge} is outside 0 to 40")
    return 0.127 * float(92 ** ((36 - gauge) / 39))


def awg_area_mm2(gauge: int) -> float:
    """The area [mm2] of a solid conductor of American wire ``gauge`` (0 to 40). Source: ASTM B258.

    >>> round(awg_area_mm2(18), 3)
    0.823
    """
    return math.pi / 4 * awg_diameter_mm(gauge) ** 2


def awg_resistance_ohm_per_km(gauge: int, *, stranded: bool = False, temperature_c: float = 20.0) -> float:
    """The resistance [ohm/km] of a copper conductor of American wire ``gauge`` at ``temperature_c`` [degC].

    A ``stranded`` one has 3 % more than a solid one (from memory: 2 to 3 %). Raises ValueError as `awg_diameter_mm` and
    `temperature_factor` do. Source: ASTM B258 with the resistivity of IEC 60028.

    >>> round(awg_resistance_ohm_per_km(14), 3), round(awg_resistance_ohm_per_km(14, stranded=True), 2)
    (8.285, 8.53)
    """
    strands = _AWG_STRANDED if stranded else 1.0
    return COPPER_OHM_MM2_PER_KM / awg_area_mm2(gauge) * strands * temperature_factor(temperature_c)


def awg_gauge(text: str) -> int | None:
    """The gauge that ``text`` names, or None where it names none. Source: ASTM B258.

    >>> awg_gauge("AWG 18"), awg_gauge("16 AWG"), awg_gauge("1.0 mm2")
    (18, 16, None)
    """
    match = _GAUGE.fullmatch(text.strip())
    return int(match.group(1) or match.group(2)) if match else None
