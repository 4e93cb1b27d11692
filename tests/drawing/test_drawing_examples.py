"""The sheets of every example can be read: nothing lies on anything else, and no text beside a symbol is cut off."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import wiregen
from wiregen import drawing
from wiregen.drawing import overlaps

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_nothing_overlaps_and_nothing_is_cut_off(path: Path) -> None:
    design = wiregen.design(wiregen.read(path))
    sheets = drawing.draw(design).sheets
    assert [(s.number, found) for s in sheets for found in overlaps.check(s.svg)] == []
    written = " ".join(" ".join(re.findall(r"<text[^>]*>([^<]*)</text>", s.svg.decode())) for s in sheets)
    drawn = {leg.device for p in design.wiring.potentials for leg in p.pins}
    for device in design.declared.devices:
        if device.declared.operated_when and device.name in drawn:
            words = device.declared.operated_when.split()
            assert re.search(r"\s+".join(map(re.escape, words)), written), device.name
