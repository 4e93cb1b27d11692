"""What a pack holds, and that it is the same wherever it is written."""

from __future__ import annotations

import csv
import hashlib
import io
import json
import os
import subprocess
import sys
from pathlib import Path

import openpyxl
import pypdf
import pytest

import wiregen
from wiregen import packing
from wiregen.cli import boundary, status
from wiregen.packing import cautions
from wiregen.pipeline import Design

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"
LISTS = ("cable_schedule", "terminations", "strips", "functions", "readings", "test_sheet", "findings")


@pytest.fixture(scope="module")
def brine() -> Design:
    return wiregen.design(wiregen.read(BRINE))


@pytest.fixture(scope="module")
def folder(brine: Design, tmp_path_factory: pytest.TempPathFactory) -> Path:
    place = tmp_path_factory.mktemp("pack") / "out"
    wiregen.pack(brine, place)
    return place


def test_a_pack_holds_sheets_pdf_lists_design_and_cautions(folder: Path) -> None:
    names = {p.name for p in folder.iterdir()}
    sheets = {n for n in names if n.startswith("sheet-")}
    lists = {f"{name}.{suffix}" for name in LISTS for suffix in ("csv", "xlsx")}
    assert sheets
    assert names == sheets | lists | {"drawings.pdf", "design.json", "pack.json", "read_me_first.txt"}


def test_the_sheets_in_design_json_are_the_sheets_that_lie_there(folder: Path) -> None:
    sheets = json.loads((folder / "design.json").read_bytes())["sheets"]
    assert [s["file"] for s in sheets] == sorted(p.name for p in folder.glob("*.svg"))
    pdf = pypdf.PdfReader(io.BytesIO((folder / "drawings.pdf").read_bytes()))
    assert len(pdf.pages) == len(sheets)
    assert len(pdf.outline) == len(sheets)
    for sheet, mark in zip(sheets, pdf.outline, strict=True):
        assert sheet["title"] in mark.title  # type: ignore[union-attr]
        assert sheet["number"] in mark.title  # type: ignore[union-attr]


def test_csv_and_xlsx_hold_the_same(folder: Path) -> None:
    for name in LISTS:
        text = (folder / f"{name}.csv").read_bytes().decode("utf-8")
        rows = list(csv.reader(io.StringIO(text, newline="")))
        sheet = openpyxl.load_workbook(folder / f"{name}.xlsx").worksheets[0]
        cells = [list(row) for row in sheet.iter_rows(min_row=5, max_col=len(rows[0]), values_only=True)]
        assert len(cells) == len(rows) - 1
        for written, shown in zip(rows[1:], cells, strict=True):
            for text, cell in zip(written, shown, strict=True):
                as_text = f"{cell:g}" if isinstance(cell, int | float) else str(cell or "")
                assert text.removeprefix("'") == as_text


def test_the_cautions_say_what_has_to_be_said(folder: Path) -> None:
    text = " ".join((folder / "read_me_first.txt").read_text(encoding="ascii").lower().split())
    for words in (
        "isolate", "stored energy", "prove dead", "qualified", "local codes", "instructions of the makers",
        "licensed person", "no safety assessment",
    ):  # fmt: skip
        assert words in text


def test_the_cautions_name_every_list() -> None:
    listed = [line.split()[0] for line in cautions.CAUTIONS.partition("What lies here")[2].splitlines() if line.strip()]
    assert {*LISTS, "moves", "faults"} <= set(listed)


def test_no_file_names_a_place_of_this_machine(folder: Path) -> None:
    for path in folder.iterdir():
        if path.suffix in (".json", ".csv", ".svg", ".txt"):
            assert str(EXAMPLES.parent) not in path.read_text(encoding="utf-8")


def sums(place: Path) -> dict[str, str]:
    return {p.name: hashlib.sha256(p.read_bytes()).hexdigest() for p in sorted(place.iterdir())}


def test_the_same_scheme_gives_the_same_bytes_anywhere(folder: Path, tmp_path: Path) -> None:
    copy = tmp_path / "elsewhere" / "scheme.yaml"
    copy.parent.mkdir()
    copy.write_bytes(BRINE.read_bytes())
    environment = os.environ | {"PYTHONHASHSEED": "77", "TZ": "Pacific/Auckland", "LC_ALL": "C", "HOME": str(tmp_path)}
    command = [sys.executable, "-c", "import sys; from wiregen.cli import main; sys.exit(main())"]
    command += ["pack", "scheme.yaml", "-o", "deep/er/out"]
    subprocess.run(command, cwd=copy.parent, env=environment, check=True, capture_output=True)
    assert sums(copy.parent / "deep/er/out") == sums(folder)


def test_without_its_library_the_pdf_is_missing_and_the_rest_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from wiregen.drawing import pdf

    def missing(*args: object) -> bytes:
        raise pdf.CairoMissing("install the library")

    monkeypatch.setattr(pdf, "book", missing)
    for command, name in (("pack", "design.json"), ("draw", "sheet-01.svg")):
        found = boundary.run([command, str(BRINE), "-o", str(tmp_path / command)])
        told = capsys.readouterr()
        assert found == status.UNUSABLE
        assert "install the library" in told.err
        assert (tmp_path / command / name).exists()
        assert not (tmp_path / command / "drawings.pdf").exists()


def test_pack_and_draw_name_their_folder_and_return_0(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for command in ("pack", "draw"):
        assert boundary.run([command, str(BRINE), "-o", str(tmp_path / command)]) == status.OK
        assert capsys.readouterr().out.rstrip().endswith(str(tmp_path / command))
    drawn = {p.name for p in (tmp_path / "draw").iterdir()}
    packed = {p.name for p in (tmp_path / "pack").iterdir()}
    assert drawn < packed
    assert (tmp_path / "draw" / "drawings.pdf").read_bytes() == (tmp_path / "pack" / "drawings.pdf").read_bytes()


def test_a_scheme_with_errors_is_packed_marked_and_returns_1(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    button = "-SJ2: {profile: push_button, contact: N"
    scheme = tmp_path / "wrong.yaml"
    scheme.write_text(BRINE.read_text(encoding="utf-8").replace(button + "C", button + "O"), encoding="utf-8")
    assert boundary.run(["pack", str(scheme), "-o", str(tmp_path / "out")]) == status.ERRORS
    assert "runs-only-while-held" in capsys.readouterr().err
    assert json.loads((tmp_path / "out" / "design.json").read_bytes())["scheme"]["status"] == "not for construction"
    assert "not for construction" in (tmp_path / "out" / "sheet-01.svg").read_text(encoding="utf-8").lower()


@pytest.mark.parametrize("trouble", ["foreign", "file", "edited"])
def test_a_folder_that_must_not_be_written_is_status_2(
    brine: Design, tmp_path: Path, capsys: pytest.CaptureFixture[str], trouble: str
) -> None:
    out = tmp_path / "out"
    if trouble == "foreign":
        out.mkdir()
        (out / "thesis.txt").write_text("mine")
    elif trouble == "file":
        out.write_text("mine")
    else:
        packing.write(brine, out)
        (out / "terminations.csv").write_text("mine")
    before = {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()}
    assert boundary.run(["pack", str(BRINE), "-o", str(out)]) == status.UNUSABLE
    told = capsys.readouterr().err
    assert told.startswith(f"error: {out}: ")
    assert {"foreign": "thesis.txt", "file": "is a file", "edited": "terminations.csv"}[trouble] in told
    assert {p: p.read_bytes() for p in tmp_path.rglob("*") if p.is_file()} == before
