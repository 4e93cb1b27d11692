"""Potentiometers as references: what the load of the input takes off, and what the reference supply has to give."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from wiregen.formulas.arguments import not_negative, positive, share


class Worst(NamedTuple):
    """Where the loading error is greatest, and how great, as shares of the full travel and of the full output."""

    position: float
    error: float


def output_share(position: float, pot_ohm: float, load_ohm: float) -> float:
    """The output of a loaded potentiometer as a share of its supply.

    ``position`` [1] of the wiper, 0 at the low end, ``pot_ohm`` [ohm] of the whole track, ``load_ohm`` [ohm] of the
    input. Raises ValueError for a position outside 0 to 1 and no resistance. Source: common practice, no source (Ohm's
    law).

    >>> round(output_share(0.5, 10_000, 200_000), 5)
    0.49383
    """
    share("a position", position)
    k = positive("a potentiometer", pot_ohm) / positive("a load", load_ohm)
    return position / (1 + k * position * (1 - position))


def error_share(position: float, pot_ohm: float, load_ohm: float) -> float:
    """How much of the full output the load takes off at ``position`` [1]; never negative.

    ``pot_ohm`` [ohm], ``load_ohm`` [ohm] as in `output_share`. Raises ValueError as it does.
    Source: common practice, no source (Ohm's law).

    >>> round(100 * error_share(0.5, 10_000, 200_000), 3)
    0.617
    """
    return max(0.0, position - output_share(position, pot_ohm, load_ohm))


def worst_error(pot_ohm: float, load_ohm: float) -> Worst:
    """The greatest loading error and where it lies: near two thirds, about 4/27 of ``pot_ohm`` over ``load_ohm``.

    ``pot_ohm`` [ohm], ``load_ohm`` [ohm] as in `output_share`. Raises ValueError as it does.
    Source: common practice, no source (Ohm's law).

    >>> worst = worst_error(10_000, 200_000)
    >>> round(worst.position, 3), round(100 * worst.error, 3)
    (0.668, 0.733)
    """
    k = positive("a potentiometer", pot_ohm) / positive("a load", load_ohm)

    # The derivative of the error is nothing where k x^3 - 2 k x^2 + (k - 3) x + 2 is: once, between 0.5 and 1.
    def falls(x: float) -> bool:
        return ((k * x - 2 * k) * x + k - 3) * x + 2 < 0

    position = _border(falls, 0.5, 1.0)
    return Worst(position, error_share(position, pot_ohm, load_ohm))


def largest_pot_ohm(load_ohm: float, most_error_share: float) -> float:
    """The largest potentiometer [ohm] whose worst loading error stays within ``most_error_share`` [1].

    ``load_ohm`` [ohm] of the input. The inverse of `worst_error`. Raises ValueError for no load, and an error outside
    0.0001 to 0.5. Source: common practice, no source (Ohm's law).

    >>> round(largest_pot_ohm(30_000, 0.02))
    4175
    """
    positive("a load", load_ohm)
    if not 0.0001 <= most_error_share <= 0.5:
        raise ValueError(f"a loading error must lie in 0.0001 to 0.5, not {most_error_share:g}")
    # The error grows with the ratio; a thousand times the load has an error of 0.94.
    return _border(lambda ohms: worst_error(ohms, load_ohm).error > most_error_share, 0.0, 1000 * load_ohm)


def wiper_v(
    supply_v: float,
    position: float,
    pot_ohm: float,
    load_ohm: float,
    above_ohm: float = 0.0,
    below_ohm: float = 0.0,
) -> float:
    """The voltage [V] at the wiper against the foot of the resistance below.

    ``supply_v`` [V], ``position`` [1], ``pot_ohm`` [ohm], ``load_ohm`` [ohm] from wiper to foot, ``above_ohm`` [ohm]
    and ``below_ohm`` [ohm] what stands in series at the high and the low end: cores, resistors. Raises ValueError for a
    position outside 0 to 1, no resistance, a negative one. Source: common practice, no source (Ohm's law).

    >>> round(wiper_v(10, 0.5, 4700, 30_000), 2)
    4.81
    """
    positive("a supply", supply_v)
    share("a position", position)
    positive("a potentiometer", pot_ohm)
    lower = not_negative("the resistance below", below_ohm) + position * pot_ohm
    upper = not_negative("the resistance above", above_ohm) + (1 - position) * pot_ohm
    loaded = lower * positive("a load", load_ohm) / (lower + load_ohm)
    return supply_v * loaded / (upper + loaded)


def supply_current_a(
    supply_v: float, pot_ohm: float, load_ohm: float, above_ohm: float = 0.0, below_ohm: float = 0.0
) -> float:
    """The greatest current [A] that a potentiometer and its load take from the reference supply, whatever the position.

    ``supply_v`` [V], ``pot_ohm`` [ohm], ``load_ohm`` [ohm], ``above_ohm`` [ohm], ``below_ohm`` [ohm] as in `wiper_v`;
    it flows with the wiper at the high end. Raises ValueError as `wiper_v` does. Source: common practice, no source
    (Ohm's law).

    >>> round(1000 * supply_current_a(10, 4700, 30_000), 2)
    2.46
    """
    positive("a supply", supply_v)
    lower = not_negative("the resistance below", below_ohm) + positive("a potentiometer", pot_ohm)
    loaded = lower * positive("a load", load_ohm) / (lower + load_ohm)
    return supply_v / (not_negative("the resistance above", above_ohm) + loaded)


def _border(beyond: Callable[[float], bool], low: float, high: float) -> float:
    """The argument between ``low`` and ``high`` from which on ``beyond`` is true, to the last bits of a float."""
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (low, middle) if beyond(middle) else (middle, high)
    return (low + high) / 2
