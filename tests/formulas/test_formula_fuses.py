"""Conventional fusing currents of general-purpose fuses: the factors of IEC 60269-2 (gG), from memory."""

from __future__ import annotations

import pytest

from wiregen.formulas.fuses import fusing_current_a


@pytest.mark.parametrize(
    ("rated_a", "factor"), [(0.5, 2.1), (2, 2.1), (4, 2.1), (6, 1.9), (10, 1.9), (16, 1.6), (63, 1.6)]
)
def test_factors(rated_a: float, factor: float) -> None:
    assert fusing_current_a(rated_a) == pytest.approx(factor * rated_a)


@pytest.mark.parametrize("rated_a", [0.0, -1.0, 1000.0, float("nan")])
def test_nothing_outside_the_table(rated_a: float) -> None:
    with pytest.raises(ValueError, match="no fuse of"):
        fusing_current_a(rated_a)
