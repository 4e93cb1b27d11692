"""Tables on sheets: nothing is lost, nothing overlaps, and they say what was wired by hand."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

import wiregen
from wiregen.drawing import draw, fonts, overlaps, table_ink
from wiregen.drawing.canvas import TEXT
from wiregen.drawing.references import References
from wiregen.drawing.sheet_set import Sheet
from wiregen.drawing.tables import Block, Column, Late, block, table_sheets
from wiregen.drawing.template import A3, A4, Paper, TitleBlock, frame
from wiregen.pipeline import Design

EXAMPLES = Path(__file__).parents[2] / "examples"
TITLE = TitleBlock("Pump", "Tables", "BR-1", "A", "iec", "for review", 1, 1)

WORDS = st.text("abcXYZ019-+:.()é", min_size=1, max_size=24)
CELLS = st.lists(WORDS, max_size=20).map(" ".join)


@st.composite
def blocks(draw: st.DrawFn) -> list[Block]:
    made = []
    for number in range(draw(st.integers(1, 3))):
        grouped = draw(st.lists(st.sampled_from(["", "left", "right side"]), min_size=1, max_size=8))
        columns = [Column(draw(WORDS), group, wraps=draw(st.booleans())) for group in grouped]
        rows = draw(st.lists(st.tuples(*[CELLS] * len(columns)), min_size=1, max_size=12))
        made.append(block(columns, rows, f"Block {number}", [draw(CELLS)]))
    return made


def drawn(given_blocks: list[Block], paper: Paper) -> list[bytes]:
    """The sheets of some blocks in their frames."""
    references, found = References(paper), []
    for sheet in table_sheets("Tables", given_blocks, paper.area):
        canvas = paper.canvas()
        table_ink.draw(canvas, sheet, references)
        frame(canvas, TITLE, paper)
        found.append(canvas)
    references.write(found)
    return [canvas.to_svg() for canvas in found]


def written(svg: bytes) -> list[str]:
    return re.findall(r"<text[^>]*>([^<]*)</text>", svg.decode())


@settings(max_examples=25, deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
@given(blocks(), st.sampled_from([A3, A4]))
def test_no_letter_is_lost_and_nothing_overlaps(made: list[Block], paper: Paper) -> None:
    sheets = drawn(made, paper)
    assert [found for svg in sheets for found in overlaps.check(svg)] == []
    on_paper = "".join("".join(written(svg)) for svg in sheets)
    for one in made:
        for row in one.rows:
            for cell in row:
                assert isinstance(cell, str)
                for word in cell.split():
                    if fonts.text_width(word, TEXT) < 5:
                        assert word in on_paper
    letters = sum(len("".join(str(c).split())) for b in made for r in b.rows for c in r)
    assert sum(len("".join(t.split())) for svg in sheets for t in written(svg)) >= letters


def test_a_long_table_goes_on_with_its_head_repeated() -> None:
    columns = (Column("Terminal", strong=True), Column("Function"))
    rows = [(f"-X1:{n}", "a function " * 40) for n in range(60)]
    sheets = table_sheets("Long", [block(columns, rows, "-X1", name="-X1")], A3.area)
    assert [s.title for s in sheets] == [f"Long -X1, {n} of {len(sheets)}" for n in range(1, len(sheets) + 1)]
    shown = [row.row[0] for s in sheets for piece in s.pieces for row in piece.rows]
    assert shown == [row[0] for row in rows]
    for number, svg in enumerate(drawn([block(columns, rows, "-X1")], A3)):
        words = written(svg)
        assert {"Terminal", "Function"} <= set(words)
        assert ("-X1 (continued)" in words) == (number > 0)


def test_a_row_higher_than_a_sheet_is_broken_and_nothing_of_it_is_lost() -> None:
    words = [f"word{n}" for n in range(4000)]
    sheets = drawn([block((Column("A"), Column("B")), [("x", " ".join(words))])], A4)
    assert len(sheets) > 1
    assert re.findall(r"word\d+", " ".join(" ".join(written(svg)) for svg in sheets)) == words


def test_narrow_tables_stand_beside_one_another() -> None:
    columns = (Column("Core"), Column("To"))
    many = [block(columns, [(str(n), "-SJ1:13") for n in range(12)], f"-W{w}") for w in range(6)]
    (sheet,) = table_sheets("Cables", many, A3.area)
    assert len({piece.x for piece in sheet.pieces}) == 3


def test_a_late_cell_says_its_words_when_the_sheets_have_numbers() -> None:
    references = References(A3)
    first, second = A3.canvas(), A3.canvas()
    references.mark("pin", "-TA1:DI1", first, 100.0, 100.0)
    late = Late(lambda: references.place("pin", "-TA1:DI1"))
    (sheet,) = table_sheets("T", [block((Column("Pin"), Column("Sheet")), [("-TA1:DI1", late)])], A3.area)
    table_ink.draw(second, sheet, references)
    references.write([first, second])
    assert f"1/{A3.zone_of(100, 100)}" in written(second.to_svg())


@pytest.fixture(scope="module")
def brine() -> Design:
    return wiregen.design(wiregen.read(EXAMPLES / "brine_pump.yaml"))


@pytest.fixture(scope="module")
def brine_sheets(brine: Design) -> dict[str, Sheet]:
    return {sheet.title: sheet for sheet in draw(brine).sheets}


def rows_of(sheet: Sheet) -> list[list[str]]:
    """The texts of a sheet by the height at which they stand, from left to right."""
    found: dict[float, list[tuple[float, str]]] = {}
    for element in re.findall(r"<text[^>]*class=\"text\"[^>]*>[^<]*</text>", sheet.svg.decode()):
        x, y = (float(re.findall(rf' {axis}="([^"]*)"', element)[0]) for axis in "xy")
        found.setdefault(y, []).append((x, re.sub("<[^>]*>", "", element)))
    return [[text for _, text in sorted(row)] for _, row in sorted(found.items())]


def test_the_strip_of_the_brine_pump(brine_sheets: dict[str, Sheet]) -> None:
    """Wired by hand: common practice, no source."""
    rows = rows_of(brine_sheets["Strip table of -X1"])
    by_terminal = {row[0]: row for row in rows}
    assert by_terminal["2"][:8] == ["2", "-TA1:DI1", "w14", "works", "-WG1", "2", "-SJ1:14", "site"]
    assert by_terminal["5"][:4] == ["5", "-WG1", "5", "spare"]
    assert by_terminal["1"][1] == "6", "bridged to the terminal of the transmitter"
    assert "start of -TA1" in by_terminal["2"]


def test_the_cables_of_the_brine_pump_by_core(brine: Design, brine_sheets: dict[str, Sheet]) -> None:
    rows = rows_of(brine_sheets["Cable table of -WG1 and -WG2"])
    words = [" ".join(row) for row in rows]
    for says in ("2 BK 02 -X1:2 -SJ1:14 start of -TA1", "5 BK -X1:5 spare", "screen PE -X1:PE PE"):
        assert any(says in row for row in words), says
    cores = [row[0] for row in rows if row[0] in {m for c in brine.wiring.cables for m in c.marks}]
    assert cores == [mark for cable in brine.wiring.cables for mark in cable.marks]


def test_the_functions_of_the_brine_pump_with_the_table_of_its_selection(brine_sheets: dict[str, Sheet]) -> None:
    words = [" ".join(row) for row in rows_of(brine_sheets["Function table of -TA1 and -KE5"])]
    for says in ("AI2 reference auto to be set 4-20 mA 15 to 50 Hz", "HAND 0 hand", "AUTO 1 auto"):
        assert any(says in row for row in words), says


def test_where_nothing_is_found_there_is_no_sheet_of_findings(brine: Design) -> None:
    nothing = replace(brine, findings=())
    assert not [s.title for s in draw(nothing).sheets if s.title.startswith("Findings")]


def test_every_finding_stands_on_its_sheets() -> None:
    design = wiregen.design(wiregen.read(EXAMPLES / "wrong_on_purpose.yaml"))
    sheets = [s for s in draw(design).sheets if s.title.startswith("Findings")]
    text = " ".join(" ".join(written(s.svg)) for s in sheets)
    assert design.findings
    for finding in design.findings:
        assert finding.code in text
        assert str(design.scheme.locate(finding.where).line) in text


def test_the_set_begins_with_a_cover_that_lists_every_sheet_and_an_overview(brine: Design) -> None:
    sheets = draw(brine).sheets
    assert [s.title for s in sheets[:2]] == ["Cover", "Overview"]
    index = {tuple(row[:2]) for row in rows_of(sheets[0])}
    for sheet in sheets:
        assert (sheet.number, sheet.title) in index
    cover = " ".join(written(sheets[0].svg))
    for says in ("Isolate every supply", "Prove dead", "no safety assessment", "Pilot lamp", "Potentiometer"):
        assert says in cover
    overview = written(sheets[1].svg)
    for says in ("+C1 Control cabinet", "+F1 Pump skid", "-WG1", "-WG2", "strip -X1", "control, 5 x 1.0 mm², 35 m"):
        assert says in overview
