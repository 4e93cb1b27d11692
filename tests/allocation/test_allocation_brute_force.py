"""The room against exhaustive search on small random problems with something of everything. Source: every placing."""

from __future__ import annotations

import random
from dataclasses import replace

import pytest
from allocation_plants import random_problem
from brute_force import least, placings

from wiregen.allocation import allocate
from wiregen.allocation.model import Allocation, Problem
from wiregen.terms import Pin

SEEDS = range(160)


def costs(allocation: Allocation) -> tuple[int, ...]:
    """Values of all levels but the tie-break, unplaced first."""
    values = {level.name: level.value for level in allocation.levels}
    return tuple(values.get(name, 0) for name in ("unplaced", "moves", "unusual", "scarce", "together", "from the top"))


@pytest.mark.parametrize("seed", SEEDS)
def test_same_cost_on_every_level_as_exhaustive_search(seed: int) -> None:
    problem = random_problem(seed)
    allocation = allocate(problem)
    assert costs(allocation) == least(problem)
    assert (allocation.status == "optimal") == any(True for _ in placings(problem))
    assert all(level.proven for level in allocation.levels)


@pytest.mark.parametrize("seed", SEEDS[:80])
def test_presolve_changes_nothing(seed: int) -> None:
    problem = random_problem(seed)
    assert allocate(problem, presolve=False) == allocate(problem)


def test_the_random_problems_are_of_both_kinds() -> None:
    """Else the tests above would hold for nothing."""
    problems = [random_problem(seed) for seed in SEEDS]
    solvable = sum(any(True for _ in placings(problem)) for problem in problems)
    assert 40 < solvable < 120
    for has in (
        lambda p: any(e.kept for e in p.ends),
        lambda p: any(e.usual for e in p.ends),
        lambda p: any(e.fixed for e in p.ends),
        lambda p: p.apart,
        lambda p: any(e.polarity for e in p.ends),
    ):
        assert sum(1 for p in problems if has(p) and any(True for _ in placings(p))) >= 15


@pytest.mark.parametrize("seed", range(25))
def test_parts_that_share_nothing_get_the_same_answer_apart_and_together(seed: int) -> None:
    one, two = _moved(random_problem(seed), "-A"), _moved(random_problem(seed + 1000), "-B")
    both = Problem(
        ends=tuple(e for pair in _interleaved(one.ends, two.ends) for e in pair),
        channels=two.channels + one.channels,
        polarity=one.polarity + two.polarity,
        apart=one.apart + two.apart,
    )
    whole, first, second = allocate(both), allocate(one), allocate(two)
    assert set(whole.assignments) == set(first.assignments) | set(second.assignments)
    assert set(whole.unplaced) == set(first.unplaced) | set(second.unplaced)
    assert costs(whole) == tuple(a + b for a, b in zip(costs(first), costs(second), strict=True))


@pytest.mark.parametrize("seed", range(25))
def test_the_order_of_channels_sets_and_polarities_means_nothing(seed: int) -> None:
    problem = random_problem(seed)
    rng = random.Random(seed)
    shuffled = replace(
        problem,
        channels=tuple(rng.sample(problem.channels, len(problem.channels))),
        apart=tuple(tuple(rng.sample(s, len(s))) for s in rng.sample(problem.apart, len(problem.apart))),
        polarity=tuple(rng.sample(problem.polarity, len(problem.polarity))),
    )
    assert allocate(shuffled) == allocate(problem)


@pytest.mark.parametrize("seed", range(25))
def test_the_order_of_ends_changes_no_cost(seed: int) -> None:
    problem = random_problem(seed)
    shuffled = replace(problem, ends=tuple(random.Random(seed).sample(problem.ends, len(problem.ends))))
    assert costs(allocate(shuffled)) == costs(allocate(problem))


def _interleaved(one: tuple, two: tuple) -> list[tuple]:  # type: ignore[type-arg]
    longest = max(len(one), len(two))
    return [(*one[i : i + 1], *two[i : i + 1]) for i in range(longest)]


def _moved(problem: Problem, prefix: str) -> Problem:
    """The same problem on other devices, with other ids."""

    def device(name: str) -> str:
        return prefix + name.removeprefix("-K")

    def pin(old: Pin | None) -> Pin | None:
        return Pin(device(old.device), old.name) if old else None

    return Problem(
        ends=tuple(
            replace(
                end,
                id=prefix + end.id,
                devices=tuple(device(d) for d in end.devices),
                usual=tuple(Pin(device(p.device), p.name) for p in end.usual),
                fixed=pin(end.fixed),
                kept=pin(end.kept),
                bundle=end.bundle and prefix + end.bundle,
            )
            for end in problem.ends
        ),
        channels=tuple(replace(c, device=device(c.device)) for c in problem.channels),
        polarity=tuple(((device(d), group), p) for (d, group), p in problem.polarity),
        apart=tuple(tuple(prefix + member for member in members) for members in problem.apart),
    )
