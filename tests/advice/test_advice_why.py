"""Why a function got its terminal, against every placing of small random problems. Source: exhaustive search."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from allocation_plants import random_problem
from brute_force import Placing, cost, placings

import wiregen
from wiregen.advice import why as reasons
from wiregen.advice.why import Reason, in_words, why
from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.allocation.model import End, Problem
from wiregen.terms import Pin

EXAMPLES = Path(__file__).parents[2] / "examples"
LEVELS = ("unplaced", "moves", "unusual", "scarce", "together", "from the top")
SEEDS = range(25)


@cache
def every_placing(problem: Problem, drop: bool) -> tuple[tuple[tuple[int, ...], Placing], ...]:
    return tuple((cost(problem, chosen), chosen) for chosen in placings(problem, drop))


def with_end_at(problem: Problem, end: End, pin: Pin) -> list[tuple[tuple[int, ...], bool]]:
    """Costs of all placings where the end may stand there only, and whether it does."""
    index = problem.ends.index(end)
    free = forced(problem, end, None) if end.fixed else problem
    for drop in (False, True):
        allowed = [(c, p[index]) for c, p in every_placing(free, drop) if p[index] is None or p[index].pin == pin]
        if allowed:
            return [(c, at is not None) for c, at in allowed]
    raise AssertionError("nothing can be left out")


def forced(problem: Problem, end: End, pin: Pin | None) -> Problem:
    return replace(problem, ends=tuple(replace(e, fixed=pin) if e.id == end.id else e for e in problem.ends))


def check(problem: Problem, end: End) -> Reason:
    """Every alternative of one end against the least cost of the placings that have the end there."""
    allocation = allocate(problem)
    found = why(problem, end, allocation)
    base = min(c for c, _ in every_placing(problem, False) or every_placing(problem, True))
    for other in found.alternatives:
        costs = with_end_at(problem, end, other.terminal)
        least = min(costs)[0]
        seated = {is_there for c, is_there in costs if c == least}
        if len(seated) == 1:
            assert other.possible == (seated == {True} and least[0] <= base[0]), other
        if other.possible:
            differences = tuple((n, b - a) for n, a, b in zip(LEVELS, base, least, strict=True) if a != b)
            assert other.costs == differences
            assert other.decided_by == (differences[0][0] if differences else "tie-break")
    return found


@pytest.mark.parametrize("seed", SEEDS)
def test_costs_are_those_of_exhaustive_search(seed: int) -> None:
    problem = random_problem(seed)
    found = [check(problem, end) for end in problem.ends]
    for reason in found:
        assert reason.says
        possible = [a for a in reason.alternatives if a.possible]
        if reason.terminal is not None and reason.end.fixed is None:
            # Nothing is better than where it stands, level by level.
            assert all(not a.costs or a.costs[0][1] > 0 for a in possible)
            assert (reason.decided_by == "only choice") == (not possible)


def test_the_random_problems_show_every_kind_of_answer() -> None:
    """Else the test above would hold for little."""
    kinds: set[str] = set()
    wanted = {"fixed", "conflict", "only choice", "moves", "unusual", "scarce", "together", "from the top"}
    for seed in range(150):
        if wanted <= kinds:
            break
        problem = random_problem(seed)
        allocation = allocate(problem)
        kinds |= {why(problem, end, allocation).decided_by for end in problem.ends}
    assert wanted <= kinds


def test_what_is_impossible_says_what_stands_against_it() -> None:
    design = wiregen.design(wiregen.read(EXAMPLES / "brine_pump.yaml"))
    problem = problem_of(design.scheme, design.declared)
    ends = {end.function: end for end in problem.ends}
    stop = why(problem, ends["stop"], design.allocation)
    assert stop.decided_by == "fixed"
    first = stop.alternatives[0]
    assert (str(first.terminal), first.possible) == ("-TA1:DI1", False)
    assert first.because == "-TA1:DI1 is fixed for start and for stop; it can serve one"
    auto = why(problem, ends["reference auto"], design.allocation)
    assert auto.decided_by == "only choice"
    assert [(str(a.terminal), a.because) for a in auto.alternatives] == [("-TA1:AI1", "it cannot carry 4-20 mA")]
    assert why(problem, ends["fault"], design.allocation).alternatives[0].because == "it has no break contact"


def test_who_would_have_to_move_is_named() -> None:
    design = wiregen.design(wiregen.read(EXAMPLES / "crumb_feeder.yaml"))
    problem = problem_of(design.scheme, design.declared)
    stop = next(end for end in problem.ends if end.function == "stop")
    found = why(problem, stop, design.allocation)
    second = next(a for a in found.alternatives if a.terminal == Pin("-TA1", "DI2"))
    assert second.decided_by == "unusual"
    assert second.costs == (("unusual", 1),)
    assert [(m.function, str(m.was), str(m.now)) for m in second.moves] == [("start", "-TA1:DI2", "-TA1:DI1")]


def test_terminals_are_told_while_they_are_tried() -> None:
    design = wiregen.design(wiregen.read(EXAMPLES / "brine_pump.yaml"))
    problem = problem_of(design.scheme, design.declared)
    told: list[str] = []
    found = why(problem, problem.ends[0], design.allocation, told.append)
    assert told == [str(a.terminal) for a in found.alternatives]


def test_in_a_bank_terminals_that_nothing_tells_apart_are_tried_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """And the others of their kind cost the same in every preference but their place. Source: each tried alone."""
    design = wiregen.design(wiregen.read(EXAMPLES / "booster_set.yaml"))
    problem = problem_of(design.scheme, design.declared)
    end = next(e for e in problem.ends if e.function == "running of -TA2")
    single = {a.terminal: a for a in why(problem, end, design.allocation).alternatives}
    monkeypatch.setattr(reasons, "SINGLE", 4)
    grouped = why(problem, end, design.allocation).alternatives
    assert sum(1 + len(a.like) for a in grouped) == len(single)
    assert len(grouped) < len(single)
    for one in grouped:
        for pin in (one.terminal, *one.like):
            assert single[pin].possible == one.possible
            costs = [[cost for cost in a.costs if cost[0] != "from the top"] for a in (single[pin], one)]
            assert costs[0] == costs[1]


def test_differences_in_words() -> None:
    assert in_words("moves", 1) == "one more function leaves its wired terminal"
    assert in_words("scarce", 2) == "more use of scarce terminals by 2"
    assert in_words("scarce", -1) == "scarce: 1 less"
