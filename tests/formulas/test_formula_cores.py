"""Cores and sizes: always to the safe side."""

from __future__ import annotations

import math
from decimal import ROUND_CEILING, Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.formulas import cores


@pytest.mark.parametrize(
    ("used", "spare_percent", "expected"),
    [
        (0, 20, 1),
        (1, 20, 2),
        (4, 20, 5),
        (5, 20, 6),
        (6, 20, 8),
        (10, 20, 12),
        (10, 10, 11),
        (10, 0, 11),
        (100, 7, 107),
    ],
)
def test_cores_needed(used: int, spare_percent: float, expected: int) -> None:
    # Worked out by hand: used x (1 + spare), rounded up, at least one spare. common practice, no source.
    assert cores.needed(used, spare_percent) == expected


def test_a_single_instrument_needs_no_spare_pair() -> None:
    assert cores.needed(1, 0, least_spare=0) == 1


@given(st.integers(0, 5000), st.decimals(0, 200, places=2))
def test_needed_agrees_with_decimal_arithmetic(used: int, percent: Decimal) -> None:
    exact = (used * (1 + percent / 100)).to_integral_value(ROUND_CEILING)
    assert cores.needed(used, float(percent)) == max(int(exact), used + 1)


@pytest.mark.parametrize(
    ("used", "percent", "least"), [(-1, 20, 1), (1, -1, 1), (1, math.nan, 1), (1, math.inf, 1), (1, 20, -1)]
)
def test_negative_needs_are_refused(used: int, percent: float, least: int) -> None:
    with pytest.raises(ValueError, match="cannot be negative"):
        cores.needed(used, percent, least)


@given(st.integers(0, 61))
def test_the_next_size_is_the_smallest_that_holds(asked: int) -> None:
    choice = cores.next_size(asked, cores.core_counts())
    assert choice.chosen == min(c for c in cores.core_counts() if c >= asked)
    assert (choice.asked, choice.margin) == (asked, choice.chosen - asked)


def test_beyond_the_series_more_than_one_cable_is_due() -> None:
    with pytest.raises(ValueError, match="holds 62; the largest is 61"):
        cores.next_size(62, cores.core_counts())


@pytest.mark.parametrize("series", [cores.core_counts(), cores.pair_counts()])
def test_series_ascend(series: tuple[int, ...]) -> None:
    assert list(series) == sorted(set(series))
