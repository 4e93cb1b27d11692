"""The campaign of single faults, against the bare circuit solutions that it needs and against a circuit simulator.

Run this file to see the figures: ``python tests/benchmarks/fault_campaign.py [EXAMPLE]``. Processor time, in one run.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

import operating_points

import wiregen
from wiregen.behaviour import plant as plants
from wiregen.behaviour.campaign import Campaign
from wiregen.behaviour.fault import Fault
from wiregen.circuit import Change, Circuit, Points, State, solve
from wiregen.circuit.changes import changed

ROOT = Path(__file__).parents[2]
#: The example with the most conductors.
LARGEST = "booster_set"


@dataclass(frozen=True)
class Measured:
    """Seconds of a campaign and of its bare solutions; how many faults, states and solutions these were."""

    campaign_s: float
    bare_s: float
    faults: int
    states: int
    solutions: int

    @property
    def ratio(self) -> float:
        return self.campaign_s / self.bare_s


def campaign_of(name: str = LARGEST) -> Campaign:
    return Campaign.of(wiregen.design(wiregen.read(ROOT / "examples" / f"{name}.yaml")))


def measured(campaign: Campaign, faults: Sequence[Fault]) -> Measured:
    """A campaign over some faults; then the same changes made and the same states solved, and nothing else."""
    campaign = replace(campaign)  # without what it knows from an earlier run
    asked: list[tuple[Change | None, Sequence[State]]] = []
    change: list[Change] = []

    def noted_change(circuit: Circuit, one: Change) -> Circuit:
        change.append(one)
        return changed(circuit, one)

    def noted_solve(circuit: Circuit, states: Sequence[State]) -> Points:
        fresh = circuit is not campaign.plant.circuit
        asked.append((change[-1] if fresh and change else None, states))
        return solve(circuit, states)

    plants.changed, plants.solve = noted_change, noted_solve  # type: ignore[attr-defined]
    try:
        begun = time.process_time()
        outcomes = sum(1 for _ in campaign.run(faults))
        spent = time.process_time() - begun
    finally:
        plants.changed, plants.solve = changed, solve  # type: ignore[attr-defined]
    begun = time.process_time()
    last: Change | None = None
    circuit = campaign.plant.circuit
    for one, states in asked:
        if one is None:
            circuit = campaign.plant.circuit
        elif one is not last:
            circuit = changed(campaign.plant.circuit, one)
        last = one
        solve(circuit, states)
    bare = time.process_time() - begun
    return Measured(spent, bare, len(faults), outcomes, sum(len(states) for _, states in asked))


def against_simulator(found: Measured) -> float:
    """How many times as long the simulator would take for the solutions alone: sampled on one circuit, and scaled."""
    return operating_points.theirs() * found.solutions / found.campaign_s


if __name__ == "__main__":
    own = campaign_of(*sys.argv[1:2])
    whole = measured(own, own.faults[::4])
    print(f"{whole.faults} faults, {whole.states} outcomes, {whole.solutions} operating points")
    print(f"{whole.campaign_s:.2f} s, the bare solutions {whole.bare_s:.2f} s: {whole.ratio:.2f} times")
    print(f"the simulator, sampled and scaled: {against_simulator(whole):.0f} times as long")
    few, many = measured(own, own.faults[::16]), measured(own, own.faults[::4])
    print(f"a fault costs {many.campaign_s / many.faults / (few.campaign_s / few.faults):.2f} times as much among more")
