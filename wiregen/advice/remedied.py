"""Remedies against faults, tried: the scheme with the change, and the same faults once more."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from wiregen.advice.comparison import Source
from wiregen.behaviour.campaign import Campaign, Outcome
from wiregen.behaviour.classes import CLASSES, FaultClass
from wiregen.behaviour.remedies import Remedy, remedies
from wiregen.behaviour.severities import independent_stops, severity
from wiregen.pipeline import Design
from wiregen.terms import Severity, UnusableInput


@dataclass(frozen=True, slots=True)
class Tried:
    """A remedy that was tried. ``before`` and ``after`` are the worst classes of the faults that it is meant for.

    ``helps``: every one of them is less bad than before. ``after`` is None, and ``why`` says why, where the scheme with
    the remedy cannot be made.
    """

    remedy: Remedy
    faults: tuple[str, ...]
    before: FaultClass
    after: FaultClass | None
    helps: bool
    why: str = ""


def tried(source: Source, design: Design, outcomes: Sequence[Outcome]) -> tuple[Tried, ...]:
    """Every remedy that the scheme can say, tried against the faults that it is meant for: errors and warnings."""
    independent = independent_stops(design.declared)
    meant: dict[str, tuple[Remedy, list[Outcome]]] = {}
    for outcome in outcomes:
        if severity(outcome, independent) is Severity.NOTE:
            continue
        for remedy in remedies(outcome, design):
            if remedy.patch is not None:
                meant.setdefault(remedy.says, (remedy, []))[1].append(outcome)
    return tuple(_tried(source, remedy, found) for remedy, found in meant.values())


def _tried(source: Source, remedy: Remedy, found: list[Outcome]) -> Tried:
    names = tuple(dict.fromkeys(o.fault.name for o in found))
    before = _worst([o.fault_class for o in found])
    try:
        design = replace(source, patch=remedy.patch).design()
    except UnusableInput as error:
        return Tried(remedy, names, before, None, False, str(error.complaints[0].message))
    campaign = Campaign.of(design)
    kinds = {(o.fault.name, o.fault.kind, o.fault.assumed) for o in found}
    again = list(campaign.run([f for f in campaign.faults if (f.name, f.kind, f.assumed) in kinds]))
    if not again:
        return Tried(remedy, names, before, None, False, "the faults that it is meant for are not there any more")
    worst = {key: _worst([o.fault_class for o in found if o.fault.name == key]) for key in names}
    helps = all(
        CLASSES.index(o.fault_class) > CLASSES.index(worst[o.fault.name]) for o in again if o.fault.name in worst
    )
    return Tried(remedy, names, before, _worst([o.fault_class for o in again]), helps)


def _worst(classes: Sequence[FaultClass]) -> FaultClass:
    return min(classes, key=CLASSES.index)
