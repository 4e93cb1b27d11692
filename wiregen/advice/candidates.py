"""Changes that may end a conflict, each as a merge patch with its cost; whether one does shows when it is tried."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from wiregen.advice.alternatives import Patch, choices, joined
from wiregen.allocation.model import Conflict
from wiregen.pipeline import Design
from wiregen.profiles.model import Profile
from wiregen.scheme.model import FixedEntry
from wiregen.terms import Where

#: What each kind of change costs. Common practice, no source: what moves a wire costs less than what changes how a
#: signal is sent, and that less than another device;
#: what nothing selects was meant for something, so leaving it out costs most.
COSTS = {"free": 1, "swap": 2, "signal": 4, "polarity": 5, "profile": 8, "orphan": 12}


@dataclass(frozen=True, slots=True)
class Candidate:
    """One change, in words, what it costs, and the merge patch that makes it."""

    says: str
    cost: int
    patch: Patch


def candidates(design: Design, conflict: Conflict, library: Mapping[str, Profile]) -> tuple[Candidate, ...]:
    """Single changes of what the conflict rests on, cheapest first."""
    found = {c.says: c for c in (*_freed(design, conflict), *_swapped(design, conflict))}
    for candidate in (*_orphans(design, conflict), *_otherwise(design, conflict, library)):
        found.setdefault(candidate.says, candidate)
    return tuple(sorted(found.values(), key=lambda c: c.cost))


def pairs(singles: tuple[Candidate, ...]) -> tuple[Candidate, ...]:
    """Every two of them together that do not change one thing twice, cheapest first."""
    both = (
        Candidate(f"{a.says}; {b.says}", a.cost + b.cost, joined(a.patch, b.patch))
        for a, b in itertools.combinations(singles, 2)
        if not set(_leaves(a.patch)) & set(_leaves(b.patch))
    )
    return tuple(sorted(both, key=lambda c: c.cost))


def _leaves(patch: Mapping[str, Any], above: Where = ()) -> Iterator[Where]:
    for key, value in patch.items():
        if isinstance(value, dict) and value:
            yield from _leaves(value, (*above, key))
        else:
            yield (*above, key)


# What is fixed


def _labels(conflict: Conflict) -> tuple[tuple[str, str], ...]:
    """Device and label of each entry of `fixed` that the conflict rests on."""
    places = (p.where for p in conflict.premises if p.where[:1] == ("fixed",) and len(p.where) == 3)
    return tuple(dict.fromkeys((where[1], where[2]) for where in places))


def _freed(design: Design, conflict: Conflict) -> Iterator[Candidate]:
    for device, label in _labels(conflict):
        entries = design.scheme.model.fixed.get(device, {}).get(label, ())
        for gone in entries:
            rest = [_plain(entry) for entry in entries if entry is not gone]
            if None not in rest:
                said = f"fix {gone.function} no more" if gone.function else f"keep nothing free ({gone.keep_free})"
                value = rest[0] if len(rest) == 1 else rest or None
                yield Candidate(f"{said} at {device}:{label}", COSTS["free"], {"fixed": {device: {label: value}}})


def _swapped(design: Design, conflict: Conflict) -> Iterator[Candidate]:
    for device, label in _labels(conflict):
        table = design.scheme.model.fixed.get(device, {})
        for other in table:
            if other == label or len(table[other]) != 1 or len(table.get(label, ())) != 1:
                continue
            one, two = _plain(table[label][0]), _plain(table[other][0])
            if one is not None and two is not None:
                says = f"swap {one} at {device}:{label} and {two} at {device}:{other}"
                yield Candidate(says, COSTS["swap"], {"fixed": {device: {label: two, other: one}}})


def _plain(entry: FixedEntry) -> str | None:
    """The entry as a file has it, where that is a name alone."""
    return entry.function if entry.function and not entry.keep_free else None


# What may be declared otherwise


def _otherwise(design: Design, conflict: Conflict, library: Mapping[str, Profile]) -> Iterator[Candidate]:
    """Signals, polarities and profiles of the controllers that the conflict is about."""
    ends = {end.id: end for function in design.functions for end in function.ends}
    devices = tuple(dict.fromkeys(d for m in conflict.members if m in ends for d in ends[m].devices))
    if not devices:
        return
    kinds = {"inputs": "polarity", "reference": "signal", "profile": "profile"}
    for choice in choices(design.scheme, library, devices):
        kind = kinds.get(choice.subject.split()[0])
        if kind is not None:
            yield from (Candidate(o.name, COSTS[kind], o.patch) for o in choice.others)


def _orphans(design: Design, conflict: Conflict) -> Iterator[Candidate]:
    """References that take a terminal and that nothing selects, left out."""
    orphaned = {f.where for f in design.findings if f.code == "reference-orphaned"}
    for place in dict.fromkeys(p.where for p in conflict.premises if p.where in orphaned):
        if place[:1] == ("control",) and place[2:3] == ("speed",) and len(place) == 4:
            says = f"leave out the reference {place[3]} of {place[1]}, which nothing selects"
            yield Candidate(says, COSTS["orphan"], {"control": {place[1]: {"speed": {place[3]: None}}}})
