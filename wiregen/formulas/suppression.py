"""Suppression of coils: the voltage that a contact sees when it opens, and how long the coil takes to let go.

The current of a coil decays; the moment at which the armature lets go is when it falls below the drop-out current. The
time that the armature then moves is not in it.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Literal, NamedTuple

from wiregen.formulas import tables
from wiregen.formulas.arguments import not_negative, positive

Suppressor = Literal["none", "diode", "diode and zener", "RC", "varistor"]
#: What a diode takes while it conducts [V]; common practice, no source.
DIODE_V = 0.7


class Release(NamedTuple):
    """How many times as long as without suppression a coil takes to let go, least and most."""

    suppressor: str
    least: float
    most: float


@cache
def releases() -> dict[str, Release]:
    """The usual release time factors by suppressor. Source: common practice, no source, from memory.

    >>> releases()["diode"].least
    3.0
    """
    return {r["suppressor"]: Release(r["suppressor"], float(r["least"]), float(r["most"])) for r in _rows()}


def release(suppressor: Suppressor) -> Release:
    """The usual release time factor of one suppressor. Raises ValueError for an unknown one.

    Source: common practice, no source, from memory.

    >>> release("diode and zener").most < release("diode").least
    True
    """
    if suppressor not in releases():
        raise ValueError(f"{suppressor!r} is no suppressor; use {', '.join(releases())}")
    return releases()[suppressor]


def clamped_decay_s(
    inductance_h: float, coil_ohm: float, supply_v: float, drop_out_share: float, clamp_v: float = DIODE_V
) -> float:
    """How long [s] the current of a coil takes to its drop-out share through a clamp of constant voltage.

    ``inductance_h`` [H], ``coil_ohm`` [ohm], ``supply_v`` [V] before, ``drop_out_share`` [1] of the current,
    ``clamp_v`` [V] across the coil: 0.7 V of a diode, those of diode and zener together, or of a varistor. Raises
    ValueError unless coil and supply are more than nothing, for a negative clamp, and a share that does not lie between
    0 and 1. Source: common practice, no source (the law of a coil).

    >>> round(1000 * clamped_decay_s(0.7, 84.3, 12, 0.3), 1), round(1000 * clamped_decay_s(0.7, 84.3, 12, 0.3, 24.7), 1)
    (9.0, 2.2)
    """
    current = positive("a supply", supply_v) / positive("the resistance of a coil", coil_ohm)
    ahead = not_negative("a clamp", clamp_v) / coil_ohm
    least = _drop_out(drop_out_share) * current
    return positive("an inductance", inductance_h) / coil_ohm * math.log((current + ahead) / (least + ahead))


def resistor_decay_s(inductance_h: float, coil_ohm: float, across_ohm: float, drop_out_share: float) -> float:
    """How long [s] the current of a coil takes to its drop-out share through a resistor across it.

    ``inductance_h`` [H], ``coil_ohm`` [ohm], ``across_ohm`` [ohm], ``drop_out_share`` [1] of the current. Raises
    ValueError as `clamped_decay_s` does. Source: common practice, no source (the law of a coil).

    >>> round(1000 * resistor_decay_s(0.7, 84.3, 330, 0.3), 1)
    2.0
    """
    around = positive("the resistance of a coil", coil_ohm) + not_negative("the resistance across", across_ohm)
    return positive("an inductance", inductance_h) / around * -math.log(_drop_out(drop_out_share))


def resistor_peak_v(supply_v: float, coil_ohm: float, across_ohm: float) -> float:
    """The voltage [V] across a contact that opens a coil with a resistor across it: the coil drives its current on.

    ``supply_v`` [V], ``coil_ohm`` [ohm], ``across_ohm`` [ohm]. Raises ValueError unless supply and coil are more than
    nothing, and for a negative resistor. Source: common practice, no source (the law of a coil).

    >>> round(resistor_peak_v(24, 115.2, 330), 1)
    92.8
    """
    current = positive("a supply", supply_v) / positive("the resistance of a coil", coil_ohm)
    return supply_v + current * not_negative("the resistance across", across_ohm)


def clamped_peak_v(supply_v: float, clamp_v: float = DIODE_V) -> float:
    """The voltage [V] across a contact that opens a coil with a clamp across it.

    ``supply_v`` [V], ``clamp_v`` [V] as in `clamped_decay_s`. Raises ValueError for no supply and a negative clamp.
    Source: common practice, no source (the law of a coil).

    >>> clamped_peak_v(24), clamped_peak_v(24, 24.7)
    (24.7, 48.7)
    """
    return positive("a supply", supply_v) + not_negative("a clamp", clamp_v)


def stored_j(inductance_h: float, current_a: float) -> float:
    """The energy [J] in a coil, which a suppressor has to take each time.

    ``inductance_h`` [H], ``current_a`` [A]. Raises ValueError for no inductance and a negative current.
    Source: common practice, no source (the law of a coil).

    >>> round(stored_j(0.92, 0.208), 4)
    0.0199
    """
    return positive("an inductance", inductance_h) * not_negative("a current", current_a) ** 2 / 2


def _rows() -> tuple[tables.Row, ...]:
    return tables.rows("release_factors")


def _drop_out(share: float) -> float:
    if not 0 < share < 1:
        raise ValueError(f"a drop-out share must lie between 0 and 1, not {share:g}")
    return share
