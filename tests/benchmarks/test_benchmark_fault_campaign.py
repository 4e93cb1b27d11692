"""The campaign of single faults, as ratios in one run. Run ``fault_campaign.py`` to see the figures."""

from __future__ import annotations

import os

import pytest
from fault_campaign import against_simulator, campaign_of, measured
from operating_points import NGSPICE


def test_a_campaign_costs_at_most_twice_its_bare_circuit_solutions() -> None:
    own = campaign_of()
    assert min(measured(own, own.faults[::20]).ratio for _ in range(3)) <= 2.0


def test_a_fault_costs_no_more_among_many() -> None:
    own = campaign_of("brine_pump")
    few = min(measured(own, own.faults[::8]).campaign_s / len(own.faults[::8]) for _ in range(3))
    many = min(measured(own, own.faults[::2]).campaign_s / len(own.faults[::2]) for _ in range(3))
    assert many / few <= 2.0


@pytest.mark.skipif(NGSPICE is None and not os.environ.get("WIREGEN_TESTS_STRICT"), reason="ngspice is not installed")
def test_a_campaign_is_quicker_than_its_solutions_in_a_simulator() -> None:
    # Sampled on one circuit in one process, and scaled: a new netlist for every fault would cost the simulator more.
    own = campaign_of("brine_pump")
    assert max(against_simulator(measured(own, own.faults[::4])) for _ in range(3)) >= 2.0
