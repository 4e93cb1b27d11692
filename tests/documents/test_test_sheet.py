"""The test sheet: its columns and order, every core once, expectations that are those of the readings."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import wiregen
from wiregen import documents
from wiregen.drawing import overlaps, sheet_set

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))


@pytest.fixture(scope="module", params=EXAMPLES, ids=lambda p: p.stem)
def design(request: pytest.FixtureRequest) -> wiregen.Design:
    return wiregen.design(wiregen.read(request.param))


def test_columns_and_order(design: wiregen.Design) -> None:
    table = documents.test_sheet(design)
    keys = ["step", "state", "from", "to", "expect", "least", "most", "read", "ok", "remark"]
    assert [c.key for c in table.columns] == keys
    steps = [tuple(map(int, str(s).split("."))) for s in table.column("step")]
    assert steps == sorted(steps)
    assert sum(count for _, count in documents.test_sections(table)) == len(table.rows)
    assert str(table.rows[0][1]).startswith("isolate")
    assert str(table.rows[-1][1]).startswith("reviewed by a licensed")
    assert all(cell is None for row in table.rows for cell in row[7:])


def test_every_core_is_tested_end_to_end_once_and_against_its_neighbours(design: wiregen.Design) -> None:
    rows = documents.test_sheet(design).rows
    ends = [(r[2], r[3]) for r in rows if "ohm" in str(r[4])]
    for c in design.wiring.conductors:
        if c.kind == "core" and c.b is not None:
            assert ends.count((str(c.a), str(c.b))) == 1, c.id
    for cable in design.wiring.cables:
        inside = [c for c in design.wiring.conductors if c.cable == cable.name and c.kind == "core" and c.core]
        open_rows = [r for r in rows if str(r[1]).startswith(f"{cable.name} not landed")]
        assert len(open_rows) == max(0, len(inside) - 1 + cable.screened), cable.name


def test_static_readings_are_those_of_the_design(design: wiregen.Design) -> None:
    listed = {(r.state, str(r.pin), str(r.to), f"{r.volts:.2f} V") for r in design.readings if r.volts is not None}
    static = [r for r in documents.test_sheet(design).rows if str(r[0]).startswith("3.") and str(r[4]).endswith(" V")]
    asked = {(r[1], r[2], r[3], r[4]) for r in static}
    given = {str(e.a) for e in design.circuit.elements if e.kind == "supply"}
    assert asked <= listed
    # What a change moves by more than a volt is asked for in that state.
    rest = {(r.pin, r.to): r.volts for r in design.readings if r.state == "at rest" and r.volts is not None}
    for r in design.readings:
        if r.volts is not None and abs(r.volts - rest.get((r.pin, r.to), r.volts)) > 1.0 and str(r.pin) not in given:
            assert (r.state, str(r.pin), str(r.to), f"{r.volts:.2f} V") in asked


def test_nobody_is_asked_to_bridge_a_contact(design: wiregen.Design) -> None:
    said = " ".join(str(r[1]).lower() for r in documents.test_sheet(design).rows if r[1] != "bridge")
    assert not re.search(r"\bjumper|bridge (the|a|across)|short (the|a|out)|defeat|override the", said)


def test_loops_are_read_at_the_currents_of_a_live_zero(design: wiregen.Design) -> None:
    rows = [str(r[1]) for r in documents.test_sheet(design).rows if str(r[0]).startswith("4.")]
    loops = {(r.split(" at ")[0], r.split(" mA ")[1]) for r in rows}
    assert len(rows) % 5 == 0
    assert len(loops) == len(rows) // 5 or not rows


def test_the_brine_pump_at_3_5_and_21_milliamps() -> None:
    path = next(p for p in EXAMPLES if p.stem == "brine_pump")
    rows = {str(r[1]): r for r in documents.test_sheet(wiregen.design(wiregen.read(path))).rows}
    # Through 250 ohm. Source: Ohm's law; 3.5 and 21 mA are the failure signals of NAMUR NE 43.
    for milliamps in (3.5, 21.0):
        volts = float(str(rows[f"-BL1 at {milliamps:g} mA (reference auto)"][4]).removesuffix(" V"))
        assert volts == pytest.approx(milliamps * 0.250, abs=0.006)
    assert rows["hold -SJ2 and press -SJ1"][4] == "-TA1 does not start"


def test_its_sheets_are_clean() -> None:
    path = next(p for p in EXAMPLES if p.stem == "brine_pump")
    sheets = [s for s in sheet_set.draw(wiregen.design(wiregen.read(path))).sheets if s.title.startswith("Test sheet")]
    assert sheets
    for sheet in sheets:
        assert list(overlaps.check(sheet.svg)) == []
