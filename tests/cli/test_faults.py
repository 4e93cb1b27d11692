"""wiregen faults: what it prints, for people and for programs, and what it says of input that cannot be used."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from command_line import run

from wiregen.cli import status

BRINE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"
PUMP = Path(__file__).parents[2] / "examples" / "irrigation_pump.yaml"
KEYS = {"fault", "kind", "at", "state", "class", "motion", "stop", "lost", "noticed"}
KINDS = {"open", "short", "earth", "weld", "no-close", "supply", "signal", "swap"}


def test_json_is_as_promised(capsys: pytest.CaptureFixture[str]) -> None:
    done, out, _ = run(capsys, "faults", BRINE, "--format", "json")
    found = json.loads(out)
    assert done == status.OK
    assert found["faults"]
    for row in found["faults"]:
        assert row.keys() >= KEYS
        assert row["kind"] in KINDS
        assert row["stop"] in ("works", "other only", "none")
        assert row["noticed"] in ("at once", "at next start", "at next stop", "at test only", "never")
    assert {row["kind"] for row in found["faults"]} == KINDS
    counted: dict[str, int] = {}
    for row in found["faults"]:
        counted[row["class"]] = counted.get(row["class"], 0) + 1
    assert found["summary"] == counted
    assert any("no safety assessment" in text for text in found["assumptions"])
    assert len({(r["fault"], r["assumed"], r["state"], r["drive"]) for r in found["faults"]}) == len(found["faults"])


def test_text_groups_and_states_what_it_rests_on(capsys: pytest.CaptureFixture[str]) -> None:
    done, out, err = run(capsys, "faults", BRINE)
    assert done == status.OK
    assert err.strip() == "1 accepted"
    assert "cores 1 and 3 of -WG1 touch" in out
    assert "\nnotes\n" not in out
    assert "This is no safety assessment" in out
    assert "\nnotes\n" in run(capsys, "faults", BRINE, "--all")[1]


def test_a_remedy_is_tried_and_helps(capsys: pytest.CaptureFixture[str]) -> None:
    done, out, _ = run(capsys, "faults", BRINE, "--variant", "sinking", "--try", "--format", "json")
    assert done == status.OK
    (trial,) = json.loads(out)["tried"]
    assert "source" in trial["remedy"]
    assert trial["before"] == "self-start"
    assert trial["helps"] is True
    assert trial["after"] not in ("self-start", "unstoppable", "reverses", "speeds-up")


def test_csv_has_a_row_a_fault_and_state(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "faults", PUMP, "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(out.lstrip("\ufeff"))))
    found = json.loads(run(capsys, "faults", PUMP, "--format", "json")[1])["faults"]
    assert len(rows) == len(found)
    assert {row["class"] for row in rows} == {row["class"] for row in found}


@pytest.mark.parametrize("text", ["", "scheme: X\nplaces: {}\ndevices: {}\n", "scheme: {"])
def test_a_scheme_that_cannot_be_used_is_status_2(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str
) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(text, encoding="utf-8")
    done, out, err = run(capsys, "faults", path)
    assert (done, out) == (status.UNUSABLE, "")
    assert err.startswith(f"{path}:")


def test_a_scheme_without_a_drive_has_no_states(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "lamp.yaml"
    path.write_text(
        "scheme: A lamp\nplaces: {+C1: {name: Cabinet}}\ndevices:\n  -TB1: {profile: supply_24v, at: +C1}\n"
        "  -KE1: {profile: io_relay_out_8, at: +C1}\n  -PF1: {profile: pilot_lamp, at: +C1}\n"
        "control:\n  -KE1: {operates: {lamp: -PF1}}\n",
        encoding="utf-8",
    )
    done, out, _ = run(capsys, "faults", path)
    assert done == status.OK
    assert "0 faults" in out


def test_only_one_drive(capsys: pytest.CaptureFixture[str]) -> None:
    auger = BRINE.with_name("grain_auger.yaml")
    _, out, _ = run(capsys, "faults", auger, "--drive", "-TA2", "--format", "json")
    assert {row["drive"] for row in json.loads(out)["faults"]} == {"-TA2"}
    done, _, err = run(capsys, "faults", auger, "--drive", "-TA3")
    assert done == status.UNUSABLE
    assert "did you mean" in err


def test_a_pack_has_the_list_where_it_is_asked_for(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(capsys, "pack", PUMP, "--faults", "-o", tmp_path / "pack")[0] == status.OK
    names = {path.name for path in (tmp_path / "pack").iterdir()}
    assert {"faults.csv", "faults.xlsx", "findings.csv"} <= names
    assert run(capsys, "pack", PUMP, "-o", tmp_path / "pack")[0] == status.OK
    assert not (tmp_path / "pack" / "faults.csv").exists()
