"""Voltage signals on cables: what arrives, and what a return that others use shifts."""

from __future__ import annotations

from wiregen.formulas import conductors
from wiregen.formulas.arguments import finite, not_negative, positive


def error_share(loop_ohm: float, input_ohm: float) -> float:
    """The share of a voltage signal that its cable takes.

    ``loop_ohm`` [ohm] there and back, ``input_ohm`` [ohm] of the input. Raises ValueError for a negative resistance and
    an input without any. Source: common practice, no source (Ohm's law).

    >>> round(100 * error_share(5.2, 20_000), 3), round(100 * error_share(5.2, 500), 2)
    (0.026, 1.03)
    """
    cable = not_negative("the resistance of a cable", loop_ohm)
    return cable / (positive("the resistance of an input", input_ohm) + cable)


def arriving_v(signal_v: float, loop_ohm: float, input_ohm: float) -> float:
    """The voltage [V] of ``signal_v`` [V] at the input.

    ``loop_ohm`` [ohm], ``input_ohm`` [ohm] as in `error_share`; a signal may be negative. Raises ValueError as it does,
    and for a signal that is no number. Source: common practice, no source (Ohm's law).

    >>> round(arriving_v(10, 5.2, 500), 3)
    9.897
    """
    return finite("a signal", signal_v) * (1 - error_share(loop_ohm, input_ohm))


def return_shift_v(others_a: float, core_ohm: float) -> float:
    """The voltage [V] that the current of others in a shared return adds to a signal.

    ``others_a`` [A], ``core_ohm`` [ohm] of the shared core. Raises ValueError where one is negative.
    Source: common practice, no source (Ohm's law).

    >>> round(return_shift_v(0.050, 2.6), 3)
    0.13
    """
    return not_negative("a current", others_a) * not_negative("the resistance of a core", core_ohm)


def longest_m(
    input_ohm: float,
    area_mm2: float,
    most_error_share: float,
    conductor_class: int = 5,
    temperature_c: float = 70.0,
) -> float:
    """The longest cable [m] that takes at most ``most_error_share`` [1] of a voltage signal.

    ``input_ohm`` [ohm], ``area_mm2`` [mm2], ``conductor_class`` and ``temperature_c`` [degC] as in
    `conductors.any_area_ohm_per_km`. Raises ValueError for no input, and an error outside 0 to 1. Source: IEC 60228.

    >>> round(longest_m(20_000, 0.75, 0.001))
    321
    """
    positive("the resistance of an input", input_ohm)
    if not 0 < most_error_share < 1:
        raise ValueError(f"an error must lie between 0 and 1, not {most_error_share:g}")
    most_ohm = input_ohm * most_error_share / (1 - most_error_share)
    return most_ohm / (2 * conductors.any_area_ohm_per_km(area_mm2, conductor_class, temperature_c)) * 1000
