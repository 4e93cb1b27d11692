"""Schemes that make no sense still become a design: with findings, never a crash, and within the laws."""

from __future__ import annotations

import yaml
from hypothesis import HealthCheck, assume, given, settings
from laws import Wired, breaches
from scheme_maker import Table
from wild_schemes import wild_schemes

from wiregen import pipeline, profiles
from wiregen.scheme import read_text
from wiregen.terms import UnusableInput

PROFILES = profiles.load()


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(wild_schemes())
def test_no_crash_and_no_breach(scheme: Table) -> None:
    text = yaml.safe_dump(scheme, sort_keys=False)
    try:
        read = read_text(text, "wild.yaml", profiles=PROFILES)
    except UnusableInput:
        assume(False)
    design = pipeline.design(read)
    assert breaches(Wired(read, design.declared, design.allocation, design.wiring)) == []
    assert all(f.message and f.why and f.remedy for f in design.findings)
