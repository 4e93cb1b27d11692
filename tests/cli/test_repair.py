"""`wiregen repair`: what it offers was tried, and what it makes in the file `check` agrees with."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from wiregen.cli import boundary

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    status = boundary.run([str(word) for word in words])
    out, err = capsys.readouterr()
    return status, out, err


@pytest.fixture
def wrong(tmp_path: Path) -> Path:
    """Start and stop fixed at one terminal, a relay too few, and inputs wired the wrong way."""
    file = tmp_path / "wrong.yaml"
    file.write_bytes((EXAMPLES / "wrong_on_purpose.yaml").read_bytes())
    return file


def conflicts(capsys: pytest.CaptureFixture[str], file: Path) -> list[str]:
    return [c["says"] for c in json.loads(run(capsys, "check", file, "--format", "json")[1])["conflicts"]]


def errors(capsys: pytest.CaptureFixture[str], file: Path) -> set[tuple[str, str]]:
    found = json.loads(run(capsys, "check", file, "--format", "json")[1])["findings"]
    return {(f["code"], f["subject"]) for f in found if f["severity"] == "error"}


def offered(capsys: pytest.CaptureFixture[str], file: Path) -> list[dict[str, object]]:
    status, out, _ = run(capsys, "repair", file, "--format", "json")
    assert status in (0, 1)
    found: list[dict[str, object]] = json.loads(out)["repairs"]
    return found


def test_every_repair_ends_its_conflict_and_brings_no_error(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    before, known = conflicts(capsys, wrong), errors(capsys, wrong)
    repairs = offered(capsys, wrong)
    assert [r["number"] for r in repairs] == list(range(1, len(repairs) + 1))
    assert len({r["conflict"] for r in repairs}) == 2
    for repair in repairs:
        wrong.write_bytes(text)
        run(capsys, "repair", wrong, "--apply", repair["number"])
        assert repair["conflict"] in before
        assert repair["conflict"] not in conflicts(capsys, wrong)
        assert errors(capsys, wrong) <= known
        lines, after = text.decode().splitlines(), wrong.read_text(encoding="utf-8").splitlines()
        changes = repair["changes"]
        assert isinstance(changes, list)
        assert changes
        assert sum(line not in lines for line in after) <= len(changes)


def test_where_none_serves_that_is_said(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "repair", wrong)
    assert status == 1
    assert "no repair was found among the changes that were tried" in out


def test_a_change_of_polarity_is_never_safe(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    of = {str(r["says"]): r["safe"] for r in offered(capsys, wrong)}
    assert of["-KE1 wired for source"] is False


def test_a_function_fixed_where_it_cannot_be_is_freed_safely(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "brine.yaml"
    text = BRINE.read_text(encoding="utf-8")
    file.write_text(text.replace("{DI1: start, DI2: stop}", "{DI1: [start, stop]}"), encoding="utf-8")
    assert len(conflicts(capsys, file)) == 1
    first = offered(capsys, file)[0]
    assert (first["cost"], first["safe"]) == (1, True)
    assert run(capsys, "repair", file, "--apply", 1)[0] == 0
    assert conflicts(capsys, file) == []


def test_a_dry_run_shows_and_changes_nothing(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    _, out, _ = run(capsys, "repair", wrong, "--apply", 1, "--dry-run")
    assert out.startswith("---")
    assert wrong.read_bytes() == text
    assert sorted(p.name for p in wrong.parent.iterdir()) == ["wrong.yaml"]


def test_backups_are_never_overwritten(wrong: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = wrong.read_bytes()
    run(capsys, "repair", wrong, "--apply", 1)
    second = wrong.read_bytes()
    run(capsys, "repair", wrong, "--apply", 1)
    assert wrong.with_name("wrong.yaml.bak").read_bytes() == text
    assert wrong.with_name("wrong.yaml.bak2").read_bytes() == second
    assert wrong.read_bytes() != second


@pytest.mark.parametrize("words", [("--apply", "99"), ("--apply", "0"), ("--dry-run",), ("--variant", "none such")])
def test_what_cannot_be_done_is_status_2(
    wrong: Path, words: tuple[str, ...], capsys: pytest.CaptureFixture[str]
) -> None:
    text = wrong.read_bytes()
    assert run(capsys, "repair", wrong, *words)[0] == 2
    assert wrong.read_bytes() == text


def test_a_read_only_file_is_left_alone(
    wrong: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Somebody has locked it, though its folder would let it be replaced."""
    text = wrong.read_bytes()
    # The superuser may write everywhere, so what the system would tell others is put in.
    monkeypatch.setattr(os, "access", lambda path, mode: not (Path(path) == wrong.resolve() and mode & os.W_OK))
    status, _, told = run(capsys, "repair", wrong, "--apply", 1)
    assert status == 2
    assert "cannot be changed: it is read-only" in told
    assert wrong.read_bytes() == text
    assert [p.name for p in wrong.parent.iterdir()] == [wrong.name]


def test_without_a_conflict_there_is_nothing_to_repair(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "repair", BRINE)
    assert (status, out) == (0, "nothing to repair: everything has a terminal\n")


def test_what_nothing_selects_may_be_left_out_but_costs_most(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "orphan.yaml"
    text = BRINE.read_text(encoding="utf-8")
    level = "  -BL1: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +F1}\n"
    select = "    select: {by: [-SJ3]"
    spare = "      spare: {from: -BL2, signal: 4-20 mA, spans: 15 to 50 Hz, on_low: trip, on_high: trip}\n"
    text = text.replace(level, level + level.replace("-BL1", "-BL2")).replace(select, spare + select)
    file.write_text(text, encoding="utf-8")
    assert len(conflicts(capsys, file)) == 1
    repairs = offered(capsys, file)
    last = repairs[-1]
    assert last["says"] == "leave out the reference spare of -TA1, which nothing selects"
    assert last["safe"] is False
    assert all(int(str(r["cost"])) < int(str(last["cost"])) for r in repairs[:-1])
    run(capsys, "repair", file, "--apply", last["number"])
    assert conflicts(capsys, file) == []
    assert file.read_text(encoding="utf-8") == text.replace(spare, "")
