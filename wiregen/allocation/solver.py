"""HiGHS behind one class: a program solved for one cost after another, each answer checked against what it reports."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import accumulate
from typing import Any

from wiregen.allocation.deadline import NEVER, Deadline, OutOfTime
from wiregen.allocation.program import Costs, Program
from wiregen.terms import InternalFault

#: Presolve rule 16 of HiGHS 1.15.1, left out: of 2,000 small random problems it made one feasible program "infeasible"
#: and two end in "solve error". Without presolve, and with presolve but this rule, all were right.
ENUMERATION = 1 << 16


@dataclass(frozen=True, slots=True)
class Solution:
    """Whole values of all columns, their cost, the least cost that is not ruled out, and whether the two are equal."""

    values: tuple[int, ...]
    value: int
    bound: int
    proven: bool


class Solver:
    """Keeps one HiGHS model of a program. Deterministic without deadline: one thread, fixed seed, limited by nodes."""

    def __init__(self, program: Program, presolve: bool, deadline: Deadline = NEVER) -> None:
        import highspy

        self._highspy = highspy
        self._program = program
        self._deadline = deadline
        self._presolve = "on" if presolve else "off"
        self._highs: Any = highspy.Highs()  # type: ignore[no-untyped-call]
        options: dict[str, bool | int | float | str] = {
            "output_flag": False,
            "threads": 1,
            "random_seed": 0,
            "mip_rel_gap": 0.0,
            "mip_abs_gap": 0.999,  # every cost is a whole number
            "presolve": self._presolve,
            "presolve_rule_off": ENUMERATION,
        }
        for name, value in options.items():
            self._accept(self._highs.setOptionValue(name, value))
        self._accept(self._highs.passModel(self._model()))

    def minimise(self, costs: Costs, node_limit: int | None = None, start: list[int] | None = None) -> Solution | None:
        """The least cost; None where no answer exists. With ``node_limit`` the best found, and a bound.

        Raises OutOfTime where the deadline passes before an answer is found; with one, it is returned with its bound.
        """
        kind = self._highspy.HighsModelStatus
        count = len(self._program.upper)
        self._accept(self._highs.changeColsCost(count, list(range(count)), [costs.get(c, 0) for c in range(count)]))
        self._accept(self._highs.setOptionValue("mip_max_nodes", 2**31 - 1 if node_limit is None else node_limit))
        if start is not None:
            self._offer(start)
        status = self._run()
        if status in (kind.kInfeasible, kind.kUnboundedOrInfeasible, kind.kSolveError):
            status = self._again_without_presolve()
        if status == kind.kInfeasible:
            return None
        if status == kind.kTimeLimit:
            return self._solution_in_time(costs)
        if status not in (kind.kOptimal, kind.kSolutionLimit):
            raise InternalFault(f"the solver stopped with: {self._highs.modelStatusToString(status)}")
        return self._solution(costs, status == kind.kOptimal)

    def infeasible_rows(self) -> frozenset[int]:
        """Rows that contradict one another even where columns need not be whole; none where that would help.

        Those with a multiplier in the ray that proves it (Farkas' lemma).
        """
        count = len(self._program.upper)
        continuous = [self._highspy.HighsVarType.kContinuous] * count
        self._accept(self._highs.changeColsIntegrality(count, list(range(count)), continuous))
        self._accept(self._highs.setOptionValue("presolve", "off"))
        self._accept(self._highs.setOptionValue("solver", "simplex"))
        self._highs.run()
        _, exists, ray = self._highs.getDualRay()
        rows = frozenset(i for i, multiplier in enumerate(ray) if abs(multiplier) > 1e-9) if exists else frozenset()
        self._accept(self._highs.setOptionValue("presolve", self._presolve))
        self._accept(self._highs.setOptionValue("solver", "choose"))
        whole = [self._highspy.HighsVarType.kInteger] * count
        self._accept(self._highs.changeColsIntegrality(count, list(range(count)), whole))
        return rows

    def _again_without_presolve(self) -> Any:
        """That no answer exists is said to a person, so it is not left to presolve alone."""
        self._accept(self._highs.setOptionValue("presolve", "off"))
        self._highs.clearSolver()
        status = self._run()
        self._accept(self._highs.setOptionValue("presolve", self._presolve))
        return status

    def _run(self) -> Any:
        """Run within what is left of the time, which HiGHS counts anew in each run."""
        left = self._deadline.left_s()
        if left is not None and left <= 0:
            raise OutOfTime
        self._accept(self._highs.setOptionValue("time_limit", math.inf if left is None else left))
        self._highs.run()
        return self._highs.getModelStatus()

    def _solution_in_time(self, costs: Costs) -> Solution:
        feasible = self._highspy.SolutionStatus.kSolutionStatusFeasible
        if self._highs.getInfo().primal_solution_status != int(feasible):
            raise OutOfTime
        return self._solution(costs, False)

    def hold(self, costs: Costs, value: int) -> None:
        """Let a level, once solved, become no worse."""
        if costs:
            self._program.hold(costs, value)
            self._accept(self._highs.addRow(-math.inf, value, len(costs), list(costs), list(costs.values())))

    def _model(self) -> Any:
        program, model = self._program, self._highspy.HighsLp()
        model.num_col_, model.num_row_ = len(program.upper), len(program.rows)
        model.col_cost_ = [0.0] * len(program.upper)
        model.col_lower_ = [0.0] * len(program.upper)
        model.col_upper_ = [float(u) for u in program.upper]
        model.integrality_ = [self._highspy.HighsVarType.kInteger] * len(program.upper)
        model.row_lower_ = [row.lower for row in program.rows]
        model.row_upper_ = [row.upper for row in program.rows]
        matrix = model.a_matrix_
        matrix.format_ = self._highspy.MatrixFormat.kRowwise
        matrix.num_col_, matrix.num_row_ = model.num_col_, model.num_row_
        matrix.start_ = list(accumulate((len(row.terms) for row in program.rows), initial=0))
        matrix.index_ = [column for row in program.rows for column in row.terms]
        matrix.value_ = [float(value) for row in program.rows for value in row.terms.values()]
        return model

    def _offer(self, start: list[int]) -> None:
        solution = self._highspy.HighsSolution()
        solution.col_value = [float(value) for value in start]
        self._accept(self._highs.setSolution(solution))

    def _solution(self, costs: Costs, optimal: bool) -> Solution:
        if not self._highs.getSolution().value_valid:
            raise InternalFault("the solver stopped at its limit without an answer")
        found = list(self._highs.getSolution().col_value)
        reported = self._highs.getInfo().objective_function_value
        exact = sum(cost * found[column] for column, cost in costs.items())
        if abs(reported - exact) > 1e-6 * (1 + abs(exact)):
            raise InternalFault(f"the solver reports a cost of {reported}, its answer costs {exact}")
        values = tuple(round(value) for value in found)
        self._verify(found, values)
        own = sum(cost * values[column] for column, cost in costs.items())
        proven = self._highs.getInfo().mip_dual_bound
        bound = own if optimal else max(0, math.ceil(proven - 1e-6)) if math.isfinite(proven) else 0
        return Solution(values, own, min(bound, own), bound >= own)

    def _verify(self, found: list[float], values: tuple[int, ...]) -> None:
        """The answer must be whole, and once rounded hold exactly."""
        program = self._program
        whole = all(abs(value - exact) < 1e-5 for value, exact in zip(values, found, strict=True))
        within = all(0 <= value <= upper for value, upper in zip(values, program.upper, strict=True))
        rows = all(r.lower <= sum(f * values[c] for c, f in r.terms.items()) <= r.upper for r in program.rows)
        if not (whole and within and rows):
            raise InternalFault("the solver's answer does not satisfy its own program")

    def _accept(self, status: Any) -> None:
        if status != self._highspy.HighsStatus.kOk:
            raise InternalFault("the solver refused a call")
