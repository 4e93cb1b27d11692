"""A time limit: the answer stands as far as it was found, and says of each level what is proven."""

from __future__ import annotations

import itertools

import pytest
from allocation_plants import plant, random_problem

from wiregen.allocation import allocate, deadline
from wiregen.allocation.model import Allocation, Problem
from wiregen.allocation.verifier import verify


def held_against(stopped: Allocation, whole: Allocation, problem: Problem) -> None:
    """What is said to be proven must be so: up to the first open level both agree, and there the bound holds."""
    verify(problem, stopped)
    assert len(stopped.unplaced) == len(whole.unplaced)
    for mine, best in zip(stopped.levels, whole.levels, strict=True):
        assert mine.name == best.name
        if mine.name != "tie-break":
            assert mine.bound <= best.value <= mine.value or not best.proven
        if not mine.proven:
            return


@pytest.mark.parametrize("seed", range(40))
def test_small_problems_stopped_at_once(seed: int) -> None:
    problem = random_problem(seed)
    stopped, whole = allocate(problem, time_limit_s=1e-9), allocate(problem)
    held_against(stopped, whole, problem)
    assert (stopped.status == "infeasible") == (whole.status == "infeasible")


@pytest.mark.parametrize("looks", range(0, 24, 3))
def test_a_plant_stopped_at_any_moment(looks: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The clock jumps past the deadline after so many looks at it, that is after so many runs of the solver."""
    problem = plant(90, seed=4, hard=True)
    seen = itertools.count()
    monkeypatch.setattr(deadline.time, "monotonic", lambda: 0.0 if next(seen) <= looks else 1e9)
    stopped = allocate(problem, time_limit_s=1e6)
    monkeypatch.undo()
    held_against(stopped, allocate(problem), problem)
    assert stopped.status == (
        "optimal" if all(v.proven for v in stopped.levels if v.name != "together") else "feasible"
    )


def test_stopped_at_once_nothing_is_claimed() -> None:
    allocation = allocate(plant(200, hard=True), time_limit_s=1e-9)
    assert allocation.status == "feasible"
    assert not any(level.proven for level in allocation.levels if level.value)


def test_time_enough_changes_nothing() -> None:
    problem = plant(60, seed=3, hard=True)
    assert allocate(problem, time_limit_s=1e6) == allocate(problem)
