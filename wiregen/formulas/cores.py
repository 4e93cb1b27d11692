"""How many cores a cable needs, and the size that is made."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction
from functools import cache
from typing import NamedTuple

from wiregen.formulas import tables


class Choice(NamedTuple):
    """One choice from a standard series: what was asked for, what was chosen, and what is left over."""

    asked: int
    chosen: int
    margin: int


@cache
def core_counts() -> tuple[int, ...]:
    """Core counts of flexible control cable, ascending. Source: common practice, no source.

    >>> core_counts()[:6]
    (2, 3, 4, 5, 7, 12)
    """
    return _series("cores")


@cache
def pair_counts() -> tuple[int, ...]:
    """Pair counts of instrument cable, ascending. Source: BS 5308.

    >>> pair_counts()
    (1, 2, 5, 10, 15, 20, 30, 50)
    """
    return _series("pairs")


def needed(used: int, spare_percent: float, least_spare: int = 1) -> int:
    """Cores (or pairs) needed: ``used`` and ``spare_percent`` [%] more, rounded up, at least ``least_spare`` more.

    A pair of a single instrument takes ``least_spare`` 0 and ``spare_percent`` 0. Raises ValueError where an argument
    is negative. Source: common practice, no source.

    >>> needed(4, 20), needed(10, 10), needed(12, 20)
    (5, 11, 15)
    """
    if used < 0 or least_spare < 0 or not 0 <= spare_percent < math.inf:
        raise ValueError("used, spare_percent and least_spare cannot be negative")
    # In floats 10 x 1.1 is a little more than 11 and would round up to 12.
    with_spare = used * (1 + Fraction(str(spare_percent)) / 100)
    return max(math.ceil(with_spare), used + least_spare)


def next_size(asked: int, series: Sequence[int]) -> Choice:
    """The smallest member of an ascending ``series`` that holds ``asked``.

    Raises ValueError where the series ends below it: more than one cable is due. Source: common practice, no source.

    >>> next_size(6, core_counts())
    Choice(asked=6, chosen=7, margin=1)
    """
    for size in series:
        if size >= asked:
            return Choice(asked, size, size - asked)
    raise ValueError(f"no size of the series holds {asked}; the largest is {max(series, default=0)}")


def _series(family: str) -> tuple[int, ...]:
    return tuple(sorted(int(r["count"]) for r in tables.rows("cable_sizes") if r["family"] == family))
