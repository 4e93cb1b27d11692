"""Every sheet of a random scheme shows exactly its circuit, and nothing on it lies on anything else.

`draw` itself reads the sheets back and raises where they differ from the circuit; here they are read once more.
"""

from __future__ import annotations

import random as standard
from typing import Any

import yaml
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from long_names import lengthened
from scheme_maker import scheme_texts
from small_schemes import small
from wild_schemes import Wild

from wiregen import drawing, pipeline, profiles
from wiregen.drawing import overlaps, readback
from wiregen.scheme import read_text
from wiregen.terms import UnusableInput

PROFILES = profiles.load()
UNSHRUNK = (Phase.explicit, Phase.reuse, Phase.generate)  # to shrink a whole scheme takes minutes
SETTINGS = settings(
    max_examples=8, phases=UNSHRUNK, suppress_health_check=list(HealthCheck), derandomize=True, deadline=None
)


def faults(scheme: str | dict[str, Any]) -> list[str]:
    """What is wrong with the sheets of a scheme; nothing where it cannot be read."""
    text = scheme if isinstance(scheme, str) else yaml.safe_dump(scheme, sort_keys=False)
    try:
        design = pipeline.design(read_text(text, "random.yaml", profiles=PROFILES))
    except UnusableInput:
        return []
    sheets = drawing.draw(design).sheets
    differs = readback.compare(readback.read([s.svg for s in sheets]), design.wiring.potentials)
    return [*differs, *(f"sheet {s.number}: {found}" for s in sheets for found in overlaps.check(s.svg))]


@SETTINGS
@given(scheme_texts())
def test_sheets_of_random_schemes(text: str) -> None:
    assert faults(text) == []


@SETTINGS
@given(scheme_texts(), st.integers(0, 10**6))
def test_sheets_with_long_names_and_texts(text: str, seed: int) -> None:
    assert faults(lengthened(yaml.safe_load(text), seed)) == []


@SETTINGS
@given(scheme_texts(), st.integers(0, 10**6))
def test_sheets_of_schemes_that_make_no_sense(text: str, seed: int) -> None:
    assert faults(Wild(yaml.safe_load(text), standard.Random(seed)).spoil()) == []


def test_sheets_of_a_small_scheme_with_each_profile() -> None:
    for practice in ("iec", "nfpa"):
        for name in sorted(PROFILES):
            for place in ("+C1", "+F1"):
                assert faults(f"practice: {practice}\n{small(name, place)}") == [], (name, practice, place)
