"""Sheets of large schemes and of long texts: clean, whole, and in letters that can be read."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import pytest
from large_schemes import LONG, SCHEMES

import wiregen
from wiregen import drawing, pipeline, profiles
from wiregen.drawing import fonts, overlaps, readback
from wiregen.scheme import read_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
SVG = "{http://www.w3.org/2000/svg}"
#: What must be read on site: 2.5 mm capitals; all else 2.0 mm, after the two sizes of lettering next to one another in
#: ISO 3098 (1.8 and 2.5 mm, from memory), of which the smaller is taken larger.
ON_SITE, LEAST = 2.5, 2.0


def design(name: str) -> pipeline.Design:
    return pipeline.design(read_text(SCHEMES[name], f"{name}.yaml", profiles=profiles.load()))


@pytest.mark.parametrize("name", SCHEMES)
def test_large_schemes_come_out_clean(name: str) -> None:
    made = design(name)
    assert made.allocation.status == "optimal"
    sheets = drawing.draw(made).sheets
    assert readback.compare(readback.read([s.svg for s in sheets]), made.wiring.potentials) == ()
    assert [(s.number, found) for s in sheets for found in overlaps.check(s.svg)] == []


def test_a_bridge_to_a_terminal_of_another_column_is_told() -> None:
    """Between neighbours of one column a bridge is drawn; where a column ends both its ends must name the other."""
    made = design("40 devices")
    at: dict[str, set[tuple[str, str]]] = {}  # pin -> the columns, by sheet and place across it, where it stands
    told: set[str] = set()
    for sheet in drawing.draw(made).sheets:
        if sheet.title.startswith("Supplies and distribution"):
            for pin in ElementTree.fromstring(sheet.svg).iter(SVG + "circle"):
                if pin.get("class") == "pin":
                    at.setdefault(pin.get("data-pin", ""), set()).add((sheet.number, pin.get("cx", "")))
            written = " ".join(t for t, _ in texts(sheet.svg))  # a list may go on in a second line
            told |= {name for names in re.findall(r"bridge (\w+(?:, \w+)*)", written) for name in names.split(", ")}
    bridges = [(c.a, c.b) for c in made.wiring.conductors if c.kind == "bridge" and c.b is not None]
    shown = [(a, b) for a, b in bridges if str(a) in at and str(b) in at]
    parted = [(a, b) for a, b in shown if not at[str(a)] & at[str(b)]]
    assert parted
    assert {pin.name for pair in parted for pin in pair} <= told


def test_a_long_designation_on_a_place_sheet_stands_clear() -> None:
    """Of a device whose cable begins at a strip beside it: the mark of the core stands on the same side."""
    text = next(p for p in EXAMPLES if p.stem == "two_well_pumps").read_text(encoding="utf-8")
    long = "-BP91.1234.WWWW5678"
    made = pipeline.design(read_text(re.sub(r"-BP2\b", long, text), "long.yaml", profiles=profiles.load()))
    sheets = [s for s in drawing.draw(made).sheets if s.title.startswith("Devices at")]
    assert any(t == long for s in sheets for t, _ in texts(s.svg))
    assert [found for s in sheets for found in overlaps.check(s.svg)] == []


def test_a_device_with_a_long_text_shows_it_whole() -> None:
    written = " ".join(t for s in drawing.draw(design("long texts")).sheets for t, _ in texts(s.svg))
    assert " ".join(LONG.split()[:6]) in written
    assert written.count("boiler") >= 4


def texts(svg: bytes) -> list[tuple[str, float]]:
    """Every text of a sheet with the height of its capitals, mm."""
    found = ElementTree.fromstring(svg).iter(SVG + "text")
    return [(e.text or "", fonts.cap_height(float(e.get("font-size", "0")))) for e in found]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_texts_are_large_enough(path: Path) -> None:
    """Nothing below 2.0 mm; pins, terminals and numbers of conductors 2.5 mm."""
    made = wiregen.design(wiregen.read(path))
    sheets = drawing.draw(made).sheets
    pins = {pin.name for p in made.wiring.potentials for pin in p.pins}
    pins.discard("screen")  # no one looks for a screen by its mark
    names = {p.number for p in made.wiring.potentials} | pins
    small = [(s.number, t) for s in sheets for t, height in texts(s.svg) if height < LEAST - 0.01]
    assert small == []
    diagrams = [s for s in sheets if s.title.startswith("Terminal diagram")]
    read = [(s.number, t, round(h, 2)) for s in diagrams for t, h in texts(s.svg) if t.lstrip("-") in names]
    assert [found for found in read if found[2] < ON_SITE] == []
