"""Every example of the catalogue of findings, wrong and put right, is drawn, reads back, and nothing overlaps."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from wiregen import pipeline, profiles, scheme
from wiregen.drawing import draw, overlaps
from wiregen.review import catalogue
from wiregen.review.catalogue import Entry

ENTRIES = [e for e in catalogue.entries() if not e.refused]


@pytest.mark.parametrize("entry", ENTRIES, ids=lambda e: e.code)
def test_examples_of_findings_are_drawn(entry: Entry, tmp_path: Path) -> None:
    """`draw` raises where the sheets do not show exactly the circuit."""
    extra = None
    if entry.profile:
        extra = tmp_path
        (extra / f"{yaml.safe_load(entry.profile)['profile']}.yaml").write_text(entry.profile, encoding="utf-8")
    for text in (entry.example, entry.fixed_by):
        design = pipeline.design(scheme.read_text(text, "scheme.yaml", profiles=profiles.load(extra)))
        for sheet in draw(design).sheets:
            assert overlaps.check(sheet.svg) == (), sheet.title
