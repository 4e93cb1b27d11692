"""The solver is not believed: its report is compared with what its answer costs, and 'no answer' is asked twice."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest
from allocation_plants import random_problem

from wiregen.allocation import program
from wiregen.allocation.classes import Counted
from wiregen.allocation.solver import ENUMERATION, Solver
from wiregen.terms import InternalFault


def small() -> program.Program:
    """Two unlike columns, at least one of them: least cost 1."""
    made = program.Program(Counted(random_problem(0), (), (), (), (), ()))
    a, b = made.column(1), made.column(3)
    made.row(1, 9, {a: 1, b: 1})
    return made


class Lying:
    """Stands in front of the real solver and changes one of its answers."""

    def __init__(self, real: Any, **lies: Any) -> None:
        self._real, self._lies = real, lies

    def __getattr__(self, name: str) -> Any:
        return self._lies.get(name) or getattr(self._real, name)


def test_it_minimises_and_proves() -> None:
    solution = Solver(small(), presolve=True).minimise({0: 5, 1: 2})
    assert solution is not None
    assert (solution.values, solution.value, solution.bound, solution.proven) == ((0, 1), 2, 2, True)


def test_held_levels_hold() -> None:
    solver = Solver(small(), presolve=True)
    first = solver.minimise({0: 1})
    assert first is not None
    assert first.value == 0
    solver.hold({0: 1}, 0)
    second = solver.minimise({1: 1})
    assert second is not None
    assert second.values == (0, 1)


def test_a_report_that_differs_from_the_answer_is_an_internal_fault() -> None:
    solver = Solver(small(), presolve=True)
    info = SimpleNamespace(objective_function_value=1.0, mip_dual_bound=1.0)
    solver._highs = Lying(solver._highs, getInfo=lambda: info)
    with pytest.raises(InternalFault, match=r"reports a cost of 1\.0, its answer costs 2"):
        solver.minimise({0: 5, 1: 2})


@pytest.mark.parametrize("values", [[0.0, 0.0], [0.5, 0.5], [0.0, 4.0]])
def test_an_answer_that_does_not_hold_is_an_internal_fault(values: list[float]) -> None:
    solver = Solver(small(), presolve=True)
    info = SimpleNamespace(objective_function_value=5 * values[0] + 2 * values[1], mip_dual_bound=0.0)
    found = SimpleNamespace(col_value=values, value_valid=True)
    solver._highs = Lying(solver._highs, getInfo=lambda: info, getSolution=lambda: found)
    with pytest.raises(InternalFault, match="does not satisfy"):
        solver.minimise({0: 5, 1: 2})


def test_an_unknown_end_of_the_search_is_an_internal_fault() -> None:
    solver = Solver(small(), presolve=True)
    solver._highs = Lying(solver._highs, getModelStatus=lambda: solver._highspy.HighsModelStatus.kMemoryLimit)
    with pytest.raises(InternalFault, match="Memory limit"):
        solver.minimise({0: 1})


def test_no_answer_is_asked_again_without_presolve() -> None:
    """A presolve that finds a sound program infeasible must not turn into 'no allocation exists'."""
    solver = Solver(small(), presolve=True)
    real = solver._highs
    asked: list[str] = []

    def status() -> Any:
        asked.append(real.getOptionValue("presolve")[1])
        return solver._highspy.HighsModelStatus.kInfeasible if asked == ["on"] else real.getModelStatus()

    solver._highs = Lying(real, getModelStatus=status)
    solution = solver.minimise({0: 5, 1: 2})
    assert solution is not None
    assert solution.value == 2
    assert len(asked) == 2


def test_what_has_no_answer_is_found_to_have_none() -> None:
    made = small()
    made.row(9, 9, {0: 1})
    for presolve in (True, False):
        assert Solver(made, presolve).minimise({0: 1}) is None


#: A program from a random allocation: rows (lower, upper, columns), all factors 1, and the cost of each column.
TRAP_ROWS = (
    (1, 1, (0, 1, 2, 11)),
    (1, 1, (3, 4, 5, 12)),
    (1, 1, (6, 7, 13)),
    (1, 1, (8, 14)),
    (1, 1, (9, 10, 15)),
    (0, 1, (0, 3)),
    (0, 1, (1, 4, 6, 9)),
    (0, 1, (2, 5, 7, 10)),
    (0, 1, (8,)),
    (0, 1, (8, 9, 10)),
    (0, 1, (11, 12, 13, 14, 15)),
    (0, 1, (1, 2, 8, 9)),
)
TRAP_COSTS = {0: 2, 2: 1, 3: 2, 5: 1, 7: 1, 8: 2, 10: 1}


@pytest.mark.parametrize("presolve", [True, False])
def test_a_program_that_a_presolve_rule_gets_wrong(presolve: bool) -> None:
    """HiGHS 1.15.1 with all its presolve rules ends in "solve error" at cost 3. Source: all values of 16 columns."""
    made = program.Program(Counted(random_problem(0), (), (), (), (), ()))
    for _ in range(16):
        made.column(1)
    for lower, upper, columns in TRAP_ROWS:
        made.row(lower, upper, dict.fromkeys(columns, 1))
    solution = Solver(made, presolve).minimise(TRAP_COSTS)
    assert solution is not None
    assert solution.value == min(
        sum(TRAP_COSTS.get(c, 0) for c in range(16) if bits >> c & 1)
        for bits in range(1 << 16)
        if all(lower <= sum(bits >> c & 1 for c in columns) <= upper for lower, upper, columns in TRAP_ROWS)
    )


def test_the_wrong_presolve_rule_is_left_out() -> None:
    solver = Solver(small(), presolve=True)
    assert solver._highs.getOptionValue("presolve_rule_off")[1] == ENUMERATION
