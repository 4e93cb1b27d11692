"""Part by part: solve each part once, and join their answers into one."""

from __future__ import annotations

from typing import Literal

from wiregen.allocation import deficiency, parts
from wiregen.allocation.answer import assignments
from wiregen.allocation.levels import Placing, Settings, place
from wiregen.allocation.model import Allocation, Channel, Conflict, Level, Problem, Unplaced

LEVELS = ("moves", "unusual", "scarce", "together", "from the top", "tie-break")


def solve(problem: Problem, settings: Settings) -> Allocation:
    """The best allocation of all parts, not yet verified."""
    solved: dict[Problem, Placing] = {}
    placings: list[Placing] = []
    placed: dict[str, Channel] = {}
    conflicts: list[Conflict] = []
    unplaced: dict[str, Unplaced] = {}
    for part in parts.split(problem):
        form = parts.canonical(part)
        if form not in solved:
            solved[form] = place(form, settings)
        placings.append(solved[form])
        seats = dict(zip(part.ends, solved[form].channels, strict=True))
        placed |= {end.id: part.channels[index] for end, index in seats.items() if index is not None}
        missing = [end for end, index in seats.items() if index is None]
        if missing:
            reasons = deficiency.explain(part)
            conflicts += reasons
            unplaced |= {end.id: deficiency.unplaced(end, reasons) for end in missing}
    levels = _levels(placings)
    return Allocation(
        status=_status(bool(unplaced), levels),
        assignments=assignments(problem, placed),
        unplaced=tuple(unplaced[end.id] for end in problem.ends if end.id in unplaced),
        levels=levels,
        conflicts=tuple(conflicts),
    )


def _levels(placings: list[Placing]) -> tuple[Level, ...]:
    """Each level over all parts. ``unplaced`` comes first, and only where something is unplaced."""
    found = [level for placing in placings for level in placing.levels]
    names = [name for name in ("unplaced", *LEVELS) if name in LEVELS or any(level.name == name for level in found)]
    return tuple(_sum(name, [level for level in found if level.name == name]) for name in names)


def _sum(name: str, levels: list[Level]) -> Level:
    value, bound = sum(level.value for level in levels), sum(level.bound for level in levels)
    return Level(name, value, bound, all(level.proven for level in levels))


def _status(missing: bool, levels: tuple[Level, ...]) -> Literal["optimal", "feasible", "infeasible"]:
    if missing:
        return "infeasible"
    return "optimal" if all(level.proven for level in levels if level.name != "together") else "feasible"
