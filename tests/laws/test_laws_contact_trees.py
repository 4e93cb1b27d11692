"""Random trees of contacts, relays that hold themselves in, relays between: wired as declared, and drawn as wired.

That current passes in exactly the declared states is the law of `tree_laws`; that the sheets show the circuit is proven
by reading them back from their geometry.
"""

from __future__ import annotations

import pytest
from contact_trees import TreeScheme
from laws import breaches
from wired_design import Wired

from wiregen import pipeline, profiles
from wiregen.drawing import overlaps, sheet_set
from wiregen.pipeline import Design
from wiregen.scheme import read_text

PROFILES = profiles.load()
SEEDS = range(14)


def designed(seed: int) -> Design:
    text = TreeScheme(seed, "nfpa" if seed % 3 == 0 else "iec").text()
    return pipeline.design(read_text(text, "trees.yaml", profiles=PROFILES))


@pytest.mark.parametrize("seed", SEEDS)
def test_trees_are_wired_and_drawn(seed: int) -> None:
    design = designed(seed)
    wired = Wired(design.scheme, design.declared, design.allocation, design.wiring)
    assert wired.is_complete
    assert breaches(wired) == []
    assert "sneak-path" not in {f.code for f in design.findings}, "no contact stands in two circuits"
    sheets = sheet_set.draw(design).sheets
    here = [s for s in sheets if s.title.startswith(("Contact", "Relay"))]
    assert here
    assert [(s.number, says) for s in here for says in overlaps.check(s.svg)] == []


def test_the_trees_are_of_every_sort() -> None:
    texts = [TreeScheme(seed).text() for seed in SEEDS]
    for word in ("all:", "any:", "through:", "energise:", "@C.2", "wired: sink", "wired: source", "solenoid_valve"):
        assert any(word in text for text in texts), word
