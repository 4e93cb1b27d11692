"""Operating points a second, as ratios in one run. Run ``operating_points.py`` to see the figures."""

from __future__ import annotations

import os

import pytest
from operating_points import NGSPICE, ours, theirs


@pytest.mark.skipif(NGSPICE is None and not os.environ.get("WIREGEN_TESTS_STRICT"), reason="ngspice is not installed")
def test_an_operating_point_is_a_hundred_times_as_quick_as_in_a_simulator() -> None:
    # The best of three: another program that takes the machine meanwhile is no failure.
    assert max(theirs() / ours() for _ in range(3)) >= 100


def test_the_cost_of_a_state_does_not_grow_with_their_number() -> None:
    assert min(ours(8192) / ours(512) for _ in range(3)) <= 1.5
