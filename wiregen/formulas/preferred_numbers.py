"""Preferred numbers of resistors and capacitors: the series E3 to E192."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from functools import cache
from typing import Literal

from wiregen.formulas import tables
from wiregen.formulas.arguments import positive

Series = Literal["E3", "E6", "E12", "E24", "E48", "E96", "E192"]
#: The series of two digits are listed, those of three follow a rule with one exception (from memory).
_LISTED = ("E3", "E6", "E12", "E24")
_BY_RULE = {"E48": 48, "E96": 96, "E192": 192}
_EXCEPTION = {9.19: 9.20}


@cache
def values(series: Series = "E24") -> tuple[float, ...]:
    """The numbers of one decade, from 1 to below 10. Raises ValueError for an unknown series.

    Source: IEC 60063, from memory.

    >>> values("E6")
    (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
    >>> values("E96")[:4]
    (1.0, 1.02, 1.05, 1.07)
    """
    if series in _LISTED:
        wanted = _LISTED[: _LISTED.index(series) + 1]
        return tuple(float(r["value"]) for r in tables.rows("preferred_numbers") if r["widest_series"] in wanted)
    if series in _BY_RULE:
        exact = (round(10 ** (k / _BY_RULE[series]), 2) for k in range(_BY_RULE[series]))
        return tuple(_EXCEPTION.get(value, value) for value in exact)
    raise ValueError(f"{series!r} is no series; use {', '.join((*_LISTED, *_BY_RULE))}")


def at_most(value_ohm: float, series: Series = "E24") -> float:
    """The largest preferred number that is not above ``value_ohm`` [ohm, or any other unit].

    Raises ValueError unless the value is more than nothing. Source: IEC 60063, from memory.

    >>> at_most(10_900), at_most(10_900, "E12"), at_most(4.7)
    (10000.0, 10000.0, 4.7)
    """
    return _near(value_ohm, series)[0]


def at_least(value_ohm: float, series: Series = "E24") -> float:
    """The smallest preferred number that is not below ``value_ohm`` [ohm, or any other unit].

    Raises ValueError unless the value is more than nothing. Source: IEC 60063, from memory.

    >>> at_least(10_900), at_least(4.7), at_least(0.99)
    (11000.0, 4.7, 1.0)
    """
    return _near(value_ohm, series)[1]


def _near(value: float, series: Series) -> tuple[float, float]:
    """The preferred numbers at or below, and at or above."""
    positive("a value", value)
    decade = math.floor(math.log10(value))
    # The decades beside it too: a logarithm just below or above a whole number may be rounded onto it.
    numbers = [_scaled(v, d) for d in (decade - 1, decade, decade + 1) for v in values(series)]
    below = numbers[bisect_right(numbers, value) - 1]
    above = numbers[bisect_left(numbers, value)]
    return below, above


def _scaled(value: float, decade: int) -> float:
    """The nearest float to ``value`` in a decade: 4.7 and 3 give 4700.0, not 4700.000000000001."""
    return float(f"{value}e{decade}")
