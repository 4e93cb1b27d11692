"""`--keep PACK`: an earlier pack that stays, and packs that cannot be used."""

from __future__ import annotations

import csv
import io
import json
from pathlib import Path

import pytest
from command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"


@pytest.fixture
def pack(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Path:
    folder = tmp_path / "earlier"
    assert run(capsys, "pack", BRINE, "-o", folder)[0] == 0
    return folder


@pytest.fixture
def scheme(tmp_path: Path) -> Path:
    text = BRINE.read_text(encoding="utf-8").replace("{DI1: start, DI2: stop}", "{DI3: start, DI2: stop}")
    file = tmp_path / "later.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_every_command_that_designs_keeps(
    pack: Path, scheme: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    status, out, _ = run(capsys, "check", scheme, "--keep", pack)
    assert (status, out.count("function-moved")) == (0, 2)
    _, out, _ = run(capsys, "allocate", scheme, "--keep", pack / "design.json", "--format", "json")
    assert json.loads(out)["allocation"]["levels"][0] == {"name": "moves", "value": 1, "bound": 1, "proven": True}
    _, out, _ = run(capsys, "schedule", scheme, "--keep", pack, "--list", "moves")
    rows = list(csv.DictReader(io.StringIO(out)))
    assert [(r["was_from"], r["is_from"]) for r in rows] == [
        ("-TA1:DI3", "-TA1:DI4"),
        ("-TA1:DI1", "-TA1:DI3"),
        ("-TA1:DI1", "-TA1:DI3"),
        ("-TA1:DI3", "-TA1:DI4"),
    ]
    assert run(capsys, "draw", scheme, "--keep", pack, "-o", tmp_path / "sheets")[0] == 0


def test_a_pack_is_replaced_by_one_that_keeps_it(pack: Path, scheme: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = {c["id"]: c["number"] for c in json.loads((pack / "design.json").read_bytes())["conductors"]}
    assert run(capsys, "pack", scheme, "--keep", pack, "-o", pack)[0] == 0
    assert {c["id"]: c["number"] for c in json.loads((pack / "design.json").read_bytes())["conductors"]} == before
    assert (pack / "moves.csv").read_text(encoding="utf-8").count("\n") == 5


def test_a_pack_that_moves_nothing_is_the_same_pack(
    pack: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    run(capsys, "pack", BRINE, "--keep", pack, "-o", tmp_path / "again")
    for name in ("terminations.csv", "cable_schedule.csv", "strips.csv", "functions.csv", "sheet-01.svg"):
        assert (tmp_path / "again" / name).read_bytes() == (pack / name).read_bytes(), name


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is damaged: it is no JSON"),
        ("{", "is damaged: it is no JSON"),
        ("[]", "the whole: input should be"),
        ("{}", "allocation: field required; this is not what a pack of this version of wiregen holds"),
        ('{"allocation": {"assignments": [{"device": 1}]}}', "allocation.assignments.0.device: input should be"),
        ("[" * 100_000, "is damaged: it is no JSON"),
        ("\udcff", "is damaged: it is no JSON"),
    ],
)
def test_a_damaged_design(text: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "design.json").write_bytes(text.encode("utf-8", "surrogateescape"))
    status, out, err = run(capsys, "check", BRINE, "--keep", tmp_path)
    assert (status, out) == (2, "")
    assert says in err
    assert str(tmp_path / "design.json") in err


def test_no_pack(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path, says in ((tmp_path / "none", "there is no such pack"), (tmp_path, "there is no design.json in it")):
        status, _, err = run(capsys, "check", BRINE, "--keep", path)
        assert status == 2
        assert says in err


def test_numbers_of_another_kind_do_no_harm(pack: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Pins that are none, ids twice, a core of a cable that is nowhere: what cannot be used is not kept."""
    data = json.loads((pack / "design.json").read_bytes())
    data["conductors"] += [data["conductors"][0], {**data["conductors"][4], "cable": "-W99", "from": "nonsense"}]
    data["potentials"][0]["pins"] = ["", ":", "::", "-TA1:"]
    data["cables"][0]["from"] = "+NOWHERE"
    data["allocation"]["assignments"] = [{"device": "-TA1", "function": "start", "terminal": "COM"}]
    (pack / "design.json").write_text(json.dumps(data), encoding="utf-8")
    status, _, err = run(capsys, "check", BRINE, "--keep", pack)
    assert status == 0, err
