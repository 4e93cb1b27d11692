"""The capacitance of control cables: what leaks on AC past an open contact, and the cable that holds a coil in."""

from __future__ import annotations

import math
from functools import cache
from typing import Literal

from wiregen.formulas import tables
from wiregen.formulas.arguments import not_negative, positive

Insulation = Literal["PVC", "PE"]
#: Between two cores of a control cable [uF/km], where nothing better is known; common practice, no source.
USUAL_UF_PER_KM = 0.3


@cache
def _capacitances() -> dict[tuple[str, str], float]:
    return {(r["insulation"], r["between"]): float(r["most"]) for r in tables.rows("cable_capacitance")}


def pair_uf_per_km(insulation: Insulation, *, screened_pairs: bool = False, area_mm2: float = 1.0) -> float:
    """The greatest capacitance [uF/km] between the cores of a pair of an instrument cable.

    ``area_mm2`` [mm2] of a core, up to 1.5. ``screened_pairs``: each pair has a screen, or there are one or two pairs
    in all; it counts for PE. Raises ValueError for another insulation or area. Source: BS 5308.

    >>> pair_uf_per_km("PVC"), pair_uf_per_km("PE"), pair_uf_per_km("PE", screened_pairs=True)
    (0.25, 0.075, 0.115)
    """
    if not 0 < area_mm2 <= 1.5:
        raise ValueError(f"an area must be more than nothing and at most 1.5 mm2, not {area_mm2:g}")
    if insulation not in ("PVC", "PE"):
        raise ValueError(f"{insulation!r} is no insulation; use PVC or PE")
    between = "pair"
    if insulation == "PE":
        between = ("screened pair" if screened_pairs else "pair") + (", 1.5 mm2" if area_mm2 > 1 else "")
    return _capacitances()[insulation, between] / 1000


def capacitive_a(voltage_v: float, frequency_hz: float, capacitance_uf: float) -> float:
    """The current [A] that flows through a capacitance.

    ``voltage_v`` [V], ``frequency_hz`` [Hz], ``capacitance_uf`` [uF]. Raises ValueError for a negative capacitance, and
    a voltage or frequency that is not more than nothing. Source: common practice, no source (the law of a capacitor).

    >>> round(1000 * capacitive_a(230, 50, 0.3), 1)
    21.7
    """
    positive("a voltage", voltage_v)
    omega = 2 * math.pi * positive("a frequency", frequency_hz)
    return voltage_v * omega * not_negative("a capacitance", capacitance_uf) * 1e-6


def most_uf(hold_va: float, voltage_v: float, frequency_hz: float = 50.0) -> float:
    """The greatest capacitance [uF] across an open contact that does not hold a coil in.

    ``hold_va`` [VA] is the sealed power of the coil, ``voltage_v`` [V], ``frequency_hz`` [Hz]. The rule of handbooks,
    500 VA/V2 at 50 Hz. Raises ValueError where one is not more than nothing. Source: common practice, no source, from
    memory.

    >>> round(most_uf(4, 230), 4)
    0.0378
    """
    at_50_hz = 500 * positive("the sealed power of a coil", hold_va) / positive("a voltage", voltage_v) ** 2
    return at_50_hz * 50 / positive("a frequency", frequency_hz)


def longest_m(
    hold_va: float, voltage_v: float, frequency_hz: float = 50.0, uf_per_km: float = USUAL_UF_PER_KM
) -> float:
    """The longest control cable [m] behind whose open contact a coil still lets go.

    ``hold_va`` [VA], ``voltage_v`` [V], ``frequency_hz`` [Hz] as in `most_uf`, ``uf_per_km`` [uF/km] between the cores.
    Raises ValueError where one is not more than nothing. Source: common practice, no source, from memory.

    >>> round(longest_m(4, 230))
    126
    """
    return most_uf(hold_va, voltage_v, frequency_hz) / positive("a capacitance per length", uf_per_km) * 1000
