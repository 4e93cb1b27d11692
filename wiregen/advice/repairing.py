"""Repairs of conflicts: changes that were made and worked out before they are offered, cheapest first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wiregen import profiles
from wiregen.advice.candidates import Candidate, candidates, pairs
from wiregen.advice.comparison import Source
from wiregen.advice.moves import Moved, as_built_of, moves
from wiregen.allocation.model import Conflict
from wiregen.pipeline import Design
from wiregen.terms import Finding, Severity, UnusableInput

ENOUGH = 4  # repairs that are offered for one conflict
_TRIALS = 60  # changes that are tried for one conflict


@dataclass(frozen=True, slots=True)
class Repair:
    """A change that ends a conflict and brings no new error. ``number`` counts from 1 over all conflicts.

    ``safe``: it changes nothing but where functions are fixed, so every declaration of how the machine stops, starts,
    is limited, trips and answers a lost signal, every polarity and supply, and what is kept free, is as before; and
    nothing is newly warned of.
    """

    number: int
    conflict: Conflict
    change: Candidate
    safe: bool
    findings: tuple[Finding, ...]  # that were not there before and are not accepted
    moved: tuple[Moved, ...]


def repairs(source: Source, design: Design, tell: Callable[[str], None] = lambda _: None) -> tuple[Repair, ...]:
    """Repairs of every conflict of ``design``, which ``source`` gives; single changes, and pairs where none serves."""
    library = profiles.load(source.profiles_dir) if design.allocation.conflicts else {}
    found: list[Repair] = []
    for conflict in design.allocation.conflicts:
        singles = candidates(design, conflict, library)
        own: list[Repair] = []
        trials = 0
        for several in (singles, pairs(singles)):
            for change in several if not own else ():
                if len(own) == ENOUGH or trials == _TRIALS:
                    break
                trials += 1
                tell(change.says)
                repair = _tried(source, design, conflict, change)
                if repair is not None:
                    own.append(replace(repair, number=len(found) + len(own) + 1))
        found += own
    return tuple(found)


def _tried(source: Source, before: Design, conflict: Conflict, change: Candidate) -> Repair | None:
    """The change, made; None where it does not serve."""
    try:
        after = replace(source, patch=change.patch).design()
    except UnusableInput:
        return None
    if any(set(c.members) & set(conflict.members) for c in after.allocation.conflicts):
        return None
    known = {(f.code, f.subject) for f in before.findings}
    new = tuple(f for f in after.findings if f.accepted is None and (f.code, f.subject) not in known)
    if any(f.severity is Severity.ERROR for f in new):
        return None
    return Repair(0, conflict, change, _safe(before, after, new), new, moves(after, as_built_of(before, "")))


def _safe(before: Design, after: Design, new: tuple[Finding, ...]) -> bool:
    one, other = (d.scheme.model.model_copy(update={"fixed": {}}) for d in (before, after))
    free = _kept_free(before) == _kept_free(after)
    return one == other and free and all(f.severity is Severity.NOTE for f in new)


def _kept_free(design: Design) -> set[tuple[str, str]]:
    """Device and label of what is kept free: it may be burnt, or promised to somebody."""
    tables = design.scheme.model.fixed
    return {(d, label) for d in tables for label, entries in tables[d].items() if any(e.keep_free for e in entries)}
