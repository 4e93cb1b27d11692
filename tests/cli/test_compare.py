"""`wiregen compare` and `wiregen explore`."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"
SVG = "{http://www.w3.org/2000/svg}"


def test_all_variants_are_compared_where_none_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "compare", BRINE)
    assert status == 0
    lines = out.splitlines()
    assert lines[0].split() == ["Measure", "as", "declared", "sinking"]
    assert lines[2].split() == ["Fits", "yes", "yes"]
    assert any(line.split() == ["Cores", "[m]", "245", "245"] for line in lines)


def test_one_row_an_alternative_for_programs(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "compare", BRINE, "sinking", "--format", "csv")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert [(r["alternative"], r["fits"], r["cables"]) for r in rows] == [
        ("as declared", "yes", "2"),
        ("sinking", "yes", "2"),
    ]
    _, out, _ = run(capsys, "compare", BRINE, "sinking", "--format", "json")
    first = json.loads(out)["alternatives"][0]
    assert (first["name"], first["used"]["digital input"], first["moved"]) == ("as declared", 5, 0)


def test_other_files_and_their_variants(capsys: pytest.CaptureFixture[str]) -> None:
    crumbs = EXAMPLES / "crumb_feeder.yaml"
    _, out, _ = run(capsys, "compare", BRINE, "sinking", crumbs, "--format", "json")
    names = [a["name"] for a in json.loads(out)["alternatives"]]
    assert names == ["brine_pump.yaml", "brine_pump.yaml sinking", "crumb_feeder.yaml"]


def test_one_that_does_not_fit_is_shown_and_told_by_the_status(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "compare", BRINE, EXAMPLES / "wrong_on_purpose.yaml")
    assert status == 1
    assert out.splitlines()[2].split() == ["Fits", "yes", "no"]


def test_a_folder_with_sheets_and_tables(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "compared"
    assert run(capsys, "compare", BRINE, "-o", folder)[0] == 0
    first = {p.name: p.read_bytes() for p in folder.iterdir()}
    assert {"comparison-01.svg", "comparison.csv", "comparison.xlsx", "comparison.json", "pack.json"} <= first.keys()
    assert b">sinking<" in first["comparison-01.svg"]
    assert run(capsys, "compare", BRINE, "-o", folder)[0] == 0
    assert {p.name: p.read_bytes() for p in folder.iterdir()} == first
    status, _, err = run(capsys, "draw", BRINE, "-o", folder)
    assert status == 2
    assert "holds a comparison" in err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("compare", BRINE, "sinkin"), "unknown variant `sinkin`"),
        (("compare", EXAMPLES / "irrigation_pump.yaml"), "has no variants"),
        (("compare", BRINE, "none.yaml"), "there is no such file"),
        (("compare", "none.yaml"), "there is no such file"),
        (("compare", BRINE, "-o", "x", "--format", "csv"), "-o writes all formats"),
        (("explore", BRINE, "--by", "cable"), "there is no measure 'cable' (did you mean 'cables'?)"),
        (("explore", BRINE, "--at", "-TA9"), "the scheme has no device '-TA9'"),
        (("explore", BRINE, "--most", "0"), "--most"),
        (("explore", BRINE, "--keep", "none"), "there is no such pack"),
        (("explore", "none.yaml"), "there is no such file"),
    ],
)
def test_what_cannot_be_used(words: tuple[object, ...], says: str, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, *words)
    assert (status, out) == (2, "")
    assert says in err


def test_exploring_shows_what_is_unbeaten_and_what_was_tried(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, err = run(capsys, "explore", BRINE, "--at", "-TA1", "--most", "5")
    assert status == 0
    rows = out.splitlines()
    assert rows[0].split()[:3] == ["warnings", "notes", "spare"]
    assert rows[2].endswith("as declared")
    assert rows[3].strip() == "-TA1 wired for sink"  # equal in every measure
    assert "5 of 16 combinations tried, those that change least" in err
    assert "more is better of: spare terminals" in err


def test_judged_by_one_measure_only_the_best_stay(capsys: pytest.CaptureFixture[str]) -> None:
    _, out, _ = run(capsys, "explore", BRINE, "--at", "-TA1", "--by", "core_m", "--format", "json")
    entries = json.loads(out)["alternatives"]
    best = {e["name"] for e in entries if e["unbeaten"]}
    least = min(e["core_m"] for e in entries if e["possible"] and e["fits"] and not e["errors"])
    assert best == {e["name"] for e in entries if e.get("core_m") == least and e["fits"] and not e["errors"]}
    assert "-TA1 two-wire" in best


def test_exploring_from_what_is_built(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    run(capsys, "pack", BRINE, "-o", tmp_path / "pack")
    _, out, _ = run(
        capsys, "explore", BRINE, "--keep", tmp_path / "pack", "--by", "moved", "--most", "4", "--format", "csv"
    )
    rows = list(csv.DictReader(io.StringIO(out)))
    assert [(r["alternative"], r["moved"]) for r in rows] == [("as declared", "0")]
