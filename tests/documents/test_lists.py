"""The lists of the brine pump against what was wired by hand, and laws that hold for the lists of any design."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import wiregen
from wiregen import documents
from wiregen.allocation.model import Unplaced
from wiregen.documents import Table
from wiregen.pipeline import Design
from wiregen.terms import Finding, Severity

BRINE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"


@pytest.fixture(scope="module")
def brine() -> Design:
    return wiregen.design(wiregen.read(BRINE))


def by(table: Table, key: str) -> dict[object, dict[str, object]]:
    return {record[key]: dict(record) for record in table.records()}


def test_every_row_has_a_cell_for_every_column_and_numbers_where_numbers_belong(brine: Design) -> None:
    for table in documents.lists(brine):
        for row in table.rows:
            for column, cell in zip(table.columns, row, strict=True):
                if column.kind == "number":
                    assert cell is None or isinstance(cell, int | float)
                else:
                    assert cell is None or isinstance(cell, str)


def test_units_end_the_keys_of_their_columns(brine: Design) -> None:
    for table in documents.lists(brine):
        for column in table.columns:
            assert not column.unit or column.key.endswith("_" + column.unit)
        assert len({c.key for c in table.columns}) == len(table.columns)


def test_the_cable_schedule_of_the_brine_pump(brine: Design) -> None:
    """Wired by hand: common practice, no source."""
    cables = by(documents.cable_schedule(brine), "cable")
    assert list(cables) == ["-WG1", "-WG2"]
    control, analog = cables["-WG1"], cables["-WG2"]
    assert (control["from"], control["to"], control["class"]) == ("+C1", "+F1", "control")
    assert (control["cores"], control["used"], control["spare"], control["pairs"]) == (5, 4, 1, None)
    assert (control["area_mm2"], control["screen"], control["length_m"]) == (1.0, "none", 35.0)
    assert (analog["cores"], analog["used"], analog["spare"], analog["pairs"]) == (2, 2, 0, 1)
    assert (analog["area_mm2"], analog["screen"], analog["length_m"]) == (0.75, "cabinet end", 35.0)


def test_cores_come_cable_by_cable_in_the_order_of_their_marks(brine: Design) -> None:
    records = documents.terminations(brine).records()
    cores = [(r["cable"], r["core"]) for r in records if r["kind"] == "core"]
    assert cores == [(c.name, mark) for c in brine.wiring.cables for mark in c.marks]
    kinds = [r["kind"] for r in records]
    assert kinds.index("wire") == len([k for k in kinds if k in ("core", "screen")]), "cables come before cabinet wires"


def test_every_conductor_is_listed_once(brine: Design) -> None:
    listed = documents.terminations(brine).column("conductor")
    assert sorted(str(c) for c in listed) == sorted(c.id for c in brine.wiring.conductors)


def test_a_spare_core_lands_and_ends_nowhere(brine: Design) -> None:
    (spare,) = [r for r in documents.terminations(brine).records() if r["cable"] == "-WG1" and r["to"] is None]
    assert spare["number"] is None
    assert spare["function"] == "spare"
    assert spare["from_side"] == "outside"
    landing = by(documents.strip_table(brine), "terminal")[spare["from"]]
    assert (landing["outside_core"], landing["potential"], landing["inside_to"]) == (
        f"-WG1:{spare['core']}",
        None,
        None,
    )


def test_the_screen_is_listed_with_its_cable(brine: Design) -> None:
    (screen,) = [r for r in documents.terminations(brine).records() if r["kind"] == "screen"]
    assert (screen["cable"], screen["from"], screen["to"]) == ("-WG2", "-WG2:screen", "-X1:PE")


def test_ferrules_are_those_of_the_standard(brine: Design) -> None:
    """DIN 46228-4: 0.75 mm2 grey, 1.0 mm2 red; from memory."""
    collars = {1.0: "RD", 0.75: "GY"}
    rows = [r for r in documents.terminations(brine).records() if r["kind"] == "core"]
    assert {(r["area_mm2"], r["collar"], r["collar_code"]) for r in rows} == {
        (area, collar, "DIN 46228-4") for area, collar in collars.items()
    }
    others = [r for r in documents.terminations(brine).records() if r["kind"] in ("bridge", "link", "screen")]
    assert others
    assert all(r["collar"] is None for r in others)


def test_the_strip_table_shows_the_far_end_of_what_lands_there(brine: Design) -> None:
    conductors = {c.id: c for c in brine.wiring.conductors}
    for row in documents.strip_table(brine).records():
        for side in ("inside", "outside"):
            ids, ends = row[f"{side}_conductor"], row[f"{side}_to"]
            if ids is None:
                assert ends is None
                continue
            for name in str(ids).split("; "):
                pins = {str(conductors[name].a), str(conductors[name].b)}
                assert row["terminal"] in pins
                far = pins - {row["terminal"], "None"}
                assert far <= set(str(ends or "").split("; "))
    terminals = [row["terminal"] for row in documents.strip_table(brine).records()]
    assert terminals == [str(t.pin) for strip in brine.wiring.strips for t in strip.terminals]


def test_bridges_in_the_strip_table_go_both_ways(brine: Design) -> None:
    rows = by(documents.strip_table(brine), "terminal")
    pairs = {(a, b) for a, row in rows.items() if row["bridged_to"] for b in str(row["bridged_to"]).split("; ")}
    assert pairs
    assert pairs == {(b, a) for a, b in pairs}


def test_the_function_table_says_what_has_to_be_set(brine: Design) -> None:
    """The scheme fixes start and stop to inputs that are usual for neither; AI2 alone takes a current."""
    rows = by(documents.function_table(brine), "function")
    assert (rows["start"]["terminal"], rows["start"]["terminal_function"]) == ("-TA1:DI1", "to be set")
    assert rows["start"]["polarity"] == "source: contacts switch +24 V"
    assert (rows["reference auto"]["signal"], rows["reference auto"]["spans"]) == ("4-20 mA", "15 to 50 Hz")
    assert rows["reference auto"]["terminal_function"] == "to be set"
    assert rows["running of -TA1"]["device"] == "-KE5"
    assert rows["running of -TA1"]["terminal_function"] is None, "a card has nothing to set"
    order = [str(t) for t in documents.function_table(brine).column("terminal")]
    assert order.index("-TA1:DI2") < order.index("-TA1:AI1") < order.index("-TA1:21") < order.index("-KE5:DI1")


def test_what_found_no_terminal_is_listed_too(brine: Design) -> None:
    gone = brine.allocation.assignments[0]
    unplaced = Unplaced(gone.end, gone.function, gone.device, "no free terminal")
    allocation = replace(brine.allocation, assignments=brine.allocation.assignments[1:], unplaced=(unplaced,))
    table = documents.function_table(replace(brine, allocation=allocation))
    last = table.records()[-1]
    assert (last["function"], last["terminal"], last["terminal_function"]) == (gone.function, None, "not placed")
    assert len(table.rows) == len(brine.allocation.assignments) + len(brine.declared.settings)


def test_findings_are_listed_worst_first_with_their_line(brine: Design) -> None:
    def finding(severity: Severity, *where: str) -> Finding:
        return Finding("unused-device", severity, where, where[-1], "m", "w", "r", "common practice, no source")

    control = brine.scheme.locate(("control", "-TA1")).line
    found = (finding(Severity.NOTE, "devices", "-TA1"), finding(Severity.ERROR, "control", "-TA1"))
    table = documents.finding_table(replace(brine, findings=found))
    assert next((r["severity"], r["line"]) for r in table.records()) == ("error", control)
    assert "control:" in BRINE.read_text().splitlines()[control - 2]
