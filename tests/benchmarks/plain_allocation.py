"""Allocation against the plain model: one variable for each end and each channel that serves it, the same solver.

``python tests/benchmarks/plain_allocation.py [SIGNALS ...]`` compares both in one run, within one time limit each. The
plain model is asked for the levels up to ``scarce`` only; ours for all six, dealt out and verified.
"""

from __future__ import annotations

import math
import sys
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

import highspy

from wiregen.allocation import allocate
from wiregen.allocation.model import Allocation, Channel, End, Problem

sys.path.insert(0, str(Path(__file__).parents[1] / "allocation"))
from allocation_plants import plant  # the plants of the allocation's own tests
from brute_force import serves

TIME_LIMIT_S = 300.0
LEVELS = ("moves", "unusual", "scarce")


class Plain(NamedTuple):
    """How long the plain model took, and the levels that it proved, in order."""

    seconds: float
    proven: dict[str, int]


class Ours(NamedTuple):
    seconds: float
    answer: Allocation


def ours(problem: Problem, time_limit_s: float = TIME_LIMIT_S) -> Ours:
    """Processor time and answer of all six levels."""
    begun = time.process_time()
    answer = allocate(problem, time_limit_s=time_limit_s)
    return Ours(time.process_time() - begun, answer)


def plain(problem: Problem, time_limit_s: float = TIME_LIMIT_S) -> Plain:
    """Processor time and proven values of the first three levels, each held while the next is solved."""
    begun = time.process_time()
    end_of_time = time.monotonic() + time_limit_s
    pairs = [(i, t) for i, e in enumerate(problem.ends) for t, c in enumerate(problem.channels) if serves(e, c)]
    solver = _solver(problem, pairs)
    proven: dict[str, int] = {}
    for level in LEVELS:
        costs = [_cost(level, problem.ends[i], problem.channels[t]) for i, t in pairs]
        solver.changeColsCost(len(pairs), list(range(len(pairs))), costs)
        solver.setOptionValue("time_limit", max(0.0, end_of_time - time.monotonic()))
        solver.run()
        if solver.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            break
        proven[level] = round(solver.getInfo().objective_function_value)
        used = [column for column, cost in enumerate(costs) if cost]
        if used:
            solver.addRow(-math.inf, proven[level], len(used), used, [costs[column] for column in used])
    return Plain(time.process_time() - begun, proven)


def _cost(level: str, end: End, channel: Channel) -> float:
    if level == "moves":
        return float(end.kept is not None and end.kept != channel.pin)
    if level == "unusual":
        here = [pin for pin in end.usual if pin.device == channel.device]
        return float(bool(end.usual) and channel.pin not in here)
    return float(channel.scarce)


def _solver(problem: Problem, pairs: list[tuple[int, int]]) -> Any:
    groups = {(c.device, c.group) for c in problem.channels if c.role == "digital_in"}
    switch = {group: len(pairs) + number for number, group in enumerate(sorted(groups))}
    solver = highspy.Highs()
    for name, value in {
        "output_flag": False,
        "threads": 1,
        "random_seed": 0,
        "mip_rel_gap": 0.0,
        "mip_abs_gap": 0.999,
    }.items():
        solver.setOptionValue(name, value)
    count = len(pairs) + len(switch)
    solver.addVars(count, [0.0] * count, [1.0] * count)
    solver.changeColsIntegrality(count, list(range(count)), [highspy.HighsVarType.kInteger] * count)
    for lower, upper, terms in _rows(problem, pairs, switch):
        solver.addRow(lower, upper, len(terms), list(terms), list(terms.values()))
    return solver


Row = tuple[float, float, dict[int, float]]


def _rows(problem: Problem, pairs: list[tuple[int, int]], switch: dict[tuple[str, str], int]) -> Iterator[Row]:
    of_end: dict[int, list[int]] = defaultdict(list)
    of_channel: dict[int, list[int]] = defaultdict(list)
    on_device: dict[tuple[str, str], list[int]] = defaultdict(list)
    for column, (i, t) in enumerate(pairs):
        of_end[i].append(column)
        of_channel[t].append(column)
        on_device[problem.ends[i].id, problem.channels[t].device].append(column)
    for i in range(len(problem.ends)):
        yield 1.0, 1.0, dict.fromkeys(of_end[i], 1.0)
    for columns in of_channel.values():
        yield -math.inf, 1.0, dict.fromkeys(columns, 1.0)
    for column, (i, t) in enumerate(pairs):
        end, at = problem.ends[i], problem.channels[t]
        if end.role == "digital_in" and end.polarity:
            sign = -1.0 if end.polarity == "source" else 1.0
            yield -math.inf, 1.0 if sign > 0 else 0.0, {column: 1.0, switch[at.device, at.group]: sign}
    for members in problem.apart:
        for device in dict.fromkeys(c.device for c in problem.channels):
            columns = [column for member in members for column in on_device.get((member, device), [])]
            if columns:
                yield -math.inf, 1.0, dict.fromkeys(columns, 1.0)


def compared(signals: int) -> str:
    """One row of figures for a plant of so many signals."""
    problem = plant(signals)
    mine = ours(problem)
    levels = {level.name: level for level in mine.answer.levels}
    open_levels = [name for name, level in levels.items() if not level.proven and name != "together"]
    together = levels["together"]
    row = f"{signals:5d} signals: ours {mine.seconds:6.2f} s, {mine.answer.status}, open {open_levels or 'none'}, "
    row += f"together {together.value}, at least {together.bound} (+{together.value / together.bound - 1:.0%})"
    if signals <= 1000:
        theirs = plain(problem)
        assert all(levels[name].value == value for name, value in theirs.proven.items()), "the two models disagree"
        row += f"; plain {theirs.seconds:6.2f} s, proven {sorted(theirs.proven)}, {theirs.seconds / mine.seconds:.0f}x"
    return row


if __name__ == "__main__":
    for size in [int(word) for word in sys.argv[1:]] or [200, 1000, 2000]:
        print(compared(size), flush=True)
