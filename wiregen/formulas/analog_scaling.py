"""Analog signals in the units of whoever uses them: scaling, resolution, and errors put together.

A span runs from ``low_user`` to ``high_user`` in the user's own unit: Hz, bar, %. It may fall instead of rise.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from wiregen.formulas.arguments import count, finite, not_negative

_MOST_BITS = 32


def step_user(low_user: float, high_user: float, resolution_bits: int) -> float:
    """The smallest step of a converter in the user's unit, always positive.

    ``low_user`` [the user's unit] and ``high_user`` [the user's unit] are what its whole range stands for,
    ``resolution_bits`` without sign. Raises ValueError for a span without width, and bits outside 1 to 32.
    Source: common practice, no source.

    >>> round(1000 * step_user(0, 10, 10), 3), round(1000 * step_user(4, 20, 12), 2)
    (9.775, 3.91)
    """
    if count("the bits of a converter", resolution_bits) > _MOST_BITS:
        raise ValueError(f"the bits of a converter must be at most {_MOST_BITS}, not {resolution_bits}")
    return abs(_width(low_user, high_user)) / ((1 << resolution_bits) - 1)


def in_user(error_share: float, low_user: float, high_user: float) -> float:
    """An error in the user's unit, always positive.

    ``error_share`` [1] of the span from ``low_user`` [the user's unit] to ``high_user`` [the user's unit]. Raises
    ValueError for an error that is no number and a span without width. Source: common practice, no source.

    >>> round(in_user(0.013, 10, 50), 2)
    0.52
    """
    return abs(finite("an error", error_share) * _width(low_user, high_user))


def scaled_user(
    signal_user: float, signal_low_user: float, signal_high_user: float, low_user: float, high_user: float
) -> float:
    """What a signal means; beyond its ends it goes on in a straight line.

    ``signal_user`` [V or mA] on the span ``signal_low_user`` [V or mA] to ``signal_high_user`` [V or mA] stands for
    ``low_user`` [the user's unit] to ``high_user`` [the user's unit]. The way back is the same with the spans changed
    over. Raises ValueError for a span without width, and what is no number. Source: common practice, no source.

    >>> scaled_user(12, 4, 20, 10, 50), scaled_user(30, 10, 50, 4, 20)
    (30.0, 12.0)
    """
    part = (finite("a signal", signal_user) - signal_low_user) / _width(signal_low_user, signal_high_user)
    return low_user + part * _width(low_user, high_user)


def worst_share(errors: Sequence[float]) -> float:
    """Errors put together as if all went the same way: their sum. They are shares of one span, of any sign.

    Raises ValueError for what is no number. Source: common practice, no source.

    >>> round(worst_share([0.003, -0.004]), 6)
    0.007
    """
    return math.fsum(abs(finite("an error", e)) for e in errors)


def likely_share(errors: Sequence[float]) -> float:
    """Errors put together as if each went its own way: the root of the sum of their squares. Shares of one span.

    Raises ValueError for what is no number. Source: common practice, no source.

    >>> round(likely_share([0.003, -0.004]), 6)
    0.005
    """
    return math.hypot(*(finite("an error", e) for e in errors))


def error_of_part_share(part_share: float, low_user: float, high_user: float, of_user: float) -> float:
    """An error of a reading as a share of the span: ``part_share`` [1] of the value ``of_user`` [the user's unit].

    ``low_user`` [the user's unit] and ``high_user`` [the user's unit] are the span. Raises ValueError for a negative
    error, a span without width, and what is no number. Source: common practice, no source.

    >>> error_of_part_share(0.01, 0, 50, 25)
    0.005
    """
    not_negative("an error", part_share)
    return abs(part_share * finite("a value", of_user) / _width(low_user, high_user))


def _width(low: float, high: float) -> float:
    if finite("an end of a span", low) == finite("an end of a span", high):
        raise ValueError(f"a span must have two different ends, not {low:g} twice")
    return high - low
