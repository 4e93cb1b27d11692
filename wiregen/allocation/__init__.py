"""Allocation: each function gets a channel, by a strict order of preferences, proven and verified; else the reasons."""

from __future__ import annotations

from wiregen.allocation.model import Allocation, Problem

__all__ = ["NODE_LIMIT", "allocate"]

#: Nodes the search for ``together`` may take in one bank. Banks of 90 ends that were tried were proven at the first.
NODE_LIMIT = 20


def allocate(
    problem: Problem, *, presolve: bool = True, node_limit: int | None = NODE_LIMIT, time_limit_s: float | None = None
) -> Allocation:
    """The best allocation: of all ends, or where none exists, of as many as can be placed, with the reasons.

    ``node_limit`` bounds the search for the level ``together``, the only one that may stay unproven: 0 takes what is
    constructed, None searches until it is proven, however long that takes. ``presolve`` False is for checks of the
    solver. After ``time_limit_s`` seconds the answer stands as far as it was found, each level with the bound that is
    proven of it; whether there is one is settled however long it takes. Every answer is verified without the solver's
    code before it is returned.

    Raises InternalFault if the problem is malformed (an id twice) or a check of the answer fails.
    """
    # Late, so that a command that does not allocate need not wait for the solver's import.
    from wiregen.allocation.deadline import within
    from wiregen.allocation.joining import solve
    from wiregen.allocation.levels import Settings
    from wiregen.allocation.problem import check
    from wiregen.allocation.verifier import verify

    check(problem)
    allocation = solve(problem, Settings(presolve, node_limit, within(time_limit_s)))
    verify(problem, allocation)
    return allocation
