"""Every explanation of a fault: its example brings the code about, and put right it does not."""

from __future__ import annotations

import pytest

import wiregen
from wiregen import profiles
from wiregen.behaviour.campaign import Campaign
from wiregen.behaviour.classes import CLASSES
from wiregen.behaviour.severities import independent_stops, severity
from wiregen.review import catalogue
from wiregen.review.catalogue.entry import Entry
from wiregen.review.catalogue.faults import CODES
from wiregen.scheme import read_text
from wiregen.terms import Severity

ENTRIES = tuple(e for e in catalogue.entries() if e.told_by == "faults")
#: What welds and what touches no wiring can always take away: there the example is about the other kinds.
AVOIDABLE = ("open", "no-close", "earth", "supply")


def found(entry: Entry, text: str) -> set[Severity]:
    """The severities with which a scheme shows a code."""
    design = wiregen.design(read_text(text, "example.yaml", profiles=profiles.load(None)))
    campaign = Campaign.of(design)
    kinds = {f.kind for f in campaign.faults} if entry.code == "fault-damages" else set(AVOIDABLE)
    outcomes = list(campaign.run([f for f in campaign.faults if f.kind in kinds and not f.assumed]))
    assert outcomes
    independent = independent_stops(design.declared)
    return {severity(o, independent) for o in outcomes if CODES.get(o.fault_class) == entry.code}


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.code)
def test_the_example_of_a_fault_shows_it_and_put_right_it_does_not(entry: Entry) -> None:
    assert entry.severity in found(entry, entry.example)
    assert found(entry, entry.fixed_by) == set()


def test_every_class_that_is_no_plain_note_has_a_code() -> None:
    assert {e.code for e in ENTRIES} == set(CODES.values())
    assert list(CODES) == list(CLASSES[: len(CODES)])
