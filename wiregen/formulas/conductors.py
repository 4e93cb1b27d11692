"""Copper conductors: resistance by area and temperature, American wire gauge."""

from __future__ import annotations

import math
import re
from functools import cache
from typing import Literal

from wiregen.formulas import tables

Plating = Literal["plain", "tinned"]
#: Annealed copper at 20 C (IEC 60028).
COPPER_OHM_MM2_PER_KM = 17.241
_GAUGE = re.compile(r"AWG\s*(\d+)|(\d+)\s*AWG", re.IGNORECASE)


@cache
def _resistances() -> dict[tuple[float, int, str], float]:
    return {
        (float(r["area_mm2"]), int(r["conductor_class"]), r["plating"]): float(r["resistance"])
        for r in tables.rows("conductors")
    }


@cache
def areas_mm2() -> tuple[float, ...]:
    """The standard areas [mm2] of the table, ascending; the standard starts at 0.5 mm2. Source: IEC 60228.

    >>> areas_mm2()
    (0.5, 0.75, 1.0, 1.5, 2.5, 4.0, 6.0, 10.0)
    """
    return tuple(sorted({area for area, _, _ in _resistances()}))


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
    row = {1: 2, 6: 5}.get(conductor_class, conductor_class)
    at_20_c = _resistances().get((float(area_mm2), row, plating))
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
    if not temperature_c > -230.0:
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
    if not length_m >= 0:
        raise ValueError("a length cannot be negative")
    return 2 * length_m / 1000 * resistance_ohm_per_km(area_mm2, conductor_class, temperature_c=temperature_c)


def awg_diameter_mm(gauge: int) -> float:
    """The diameter [mm] of a solid conductor of American wire ``gauge`` (0 to 40). Source: ASTM B258.

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


def awg_resistance_ohm_per_km(gauge: int) -> float:
    """The resistance [ohm/km] at 20 degC of a solid copper conductor of American wire ``gauge``; stranded ones have
    2 to 3 % more. Source: ASTM B258 with the resistivity of IEC 60028.

    >>> round(awg_resistance_ohm_per_km(14), 3)
    8.285
    """
    return COPPER_OHM_MM2_PER_KM / awg_area_mm2(gauge)


def awg_gauge(text: str) -> int | None:
    """The gauge that ``text`` names, or None where it names none. Source: ASTM B258.

    >>> awg_gauge("AWG 18"), awg_gauge("16 AWG"), awg_gauge("1.0 mm2")
    (18, 16, None)
    """
    match = _GAUGE.fullmatch(text.strip())
    return int(match.group(1) or match.group(2)) if match else None
