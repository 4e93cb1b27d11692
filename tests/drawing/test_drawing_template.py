"""Frame, zones and title block, against ISO 216, ISO 5457 and ISO 7200 (figures from memory), and against overlaps."""

from __future__ import annotations

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from wiregen.drawing import overlaps
from wiregen.drawing.box import Box
from wiregen.drawing.template import A3, A4, A4_UPRIGHT, PAPERS, Paper, TitleBlock, frame

CAUTIONS = (
    "Isolate, wait for stored energy, prove dead. For qualified people only; local codes, the device maker's "
    "instructions and the review of a licensed person come first.",
    "The checks of this tool are no safety assessment.",
    "Contacts of -TA1 switch +24 V.",
)
BLOCK = TitleBlock(
    title="Brine transfer pump",
    sheet_title="Terminal diagram of -TA1",
    drawing="BR-1042",
    revision="A",
    practice="iec",
    status="for review",
    sheet=2,
    sheets=6,
    date="2026-01-31",
    cautions=CAUTIONS,
)
LONG = replace(
    BLOCK,
    title="Brine transfer pump with stand-by pump and recirculation for the second evaporator line of the east hall "
    * 2,
    sheet_title="Terminal diagram of -TA1, continued, with the cards -KE1 to -KE5 and all feeds, second part of three",
    drawing="BR-1042-0001-0002-0003-0004-0005-0006-0007",
    status="not for construction",
    warning="NOT FOR CONSTRUCTION: 3 errors stand in this scheme; see the list of findings before anything is built",
)


def texts(svg: bytes) -> list[str]:
    return [e.text or "" for e in ElementTree.fromstring(svg).iter("{http://www.w3.org/2000/svg}text")]


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
@pytest.mark.parametrize("block", [BLOCK, LONG, replace(BLOCK, cautions=(), date="")], ids=["usual", "long", "bare"])
def test_nothing_on_the_sheet_overlaps(paper: Paper, block: TitleBlock) -> None:
    canvas = paper.canvas(block.sheet_title)
    area = frame(canvas, block, paper)
    canvas.rect(area, 0.25, "rule")
    assert overlaps.check(canvas.to_svg()) == ()
    assert paper.frame.holds(area)
    assert not area.overlaps(paper.block)
    assert area.height > 0.6 * paper.height


@pytest.mark.parametrize("paper", PAPERS.values(), ids=PAPERS)
@pytest.mark.parametrize("block", [BLOCK, LONG], ids=["usual", "long"])
def test_no_caution_is_lost(paper: Paper, block: TitleBlock) -> None:
    canvas = paper.canvas()
    frame(canvas, block, paper)
    shown = " ".join(texts(canvas.to_svg()))
    for sentence in (*block.cautions, block.warning):
        assert sentence in shown


def test_the_title_block_says_what_the_scheme_says() -> None:
    canvas = A3.canvas()
    frame(canvas, BLOCK)
    entries = {
        "Brine transfer pump",
        "Terminal diagram of -TA1",
        "BR-1042",
        "A",
        "IEC",
        "for review",
        "2 of 6",
        "2026-01-31",
    }
    assert entries <= set(texts(canvas.to_svg()))


def test_a_title_that_is_too_long_is_visibly_cut() -> None:
    canvas = A3.canvas()
    frame(canvas, LONG)
    title = next(t for t in texts(canvas.to_svg()) if t.startswith("Brine transfer pump with"))
    assert title.endswith("...")


def test_sizes_and_margins() -> None:
    """ISO 216: A3 is 420 x 297, A4 297 x 210. ISO 5457: 20 mm at the filing edge, 10 mm elsewhere; fields of 50 mm
    from the axes. ISO 7200: a title block at most 180 mm wide, which just fits an upright A4.
    """
    assert (A3.width, A3.height, A4.width, A4.height) == (420, 297, 297, 210)
    assert A3.frame == Box(20, 10, 410, 287)
    assert A3.columns == (20, 60, 110, 160, 210, 260, 310, 360, 410)
    assert A3.rows == (10, 48.5, 98.5, 148.5, 198.5, 248.5, 287)
    assert A3.block == Box(230, 255, 410, 287)
    assert A4_UPRIGHT.block.width == 180
    assert A4_UPRIGHT.frame.width == 180


@pytest.mark.parametrize(
    ("paper", "x", "y", "zone"),
    [
        (A3, 21, 11, "A1"),
        (A3, 61, 50, "B2"),
        (A3, 209.9, 148.4, "C4"),
        (A3, 210, 148.5, "D5"),
        (A3, 409, 286, "F8"),
        (A3, 0, 400, "F1"),
        (A4, 290, 205, "D6"),
        (A4_UPRIGHT, 190, 290, "F4"),
    ],
)
def test_zones(paper: Paper, x: float, y: float, zone: str) -> None:
    assert paper.zone_of(x, y) == zone


def test_the_marks_in_the_border_are_the_zones() -> None:
    canvas = A3.canvas()
    frame(canvas, BLOCK)
    marks = [i for i in canvas.items if i.category == "frame" and i.text]
    assert len(marks) == 2 * (8 + 6)
    for mark in marks:
        x, y = mark.box.centre
        inside = A3.zone_of(x, y)
        assert mark.text in (inside[0], inside[1:])
