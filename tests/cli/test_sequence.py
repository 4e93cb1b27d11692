"""wiregen sequence: steps and charts on the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml
from command_line import run

from wiregen.cli import status

BRINE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"


def with_steps(tmp_path: Path, steps: str) -> Path:
    path = tmp_path / "pump.yaml"
    path.write_text(BRINE.read_text(encoding="utf-8") + f"\nsteps:\n{steps}", encoding="utf-8")
    return path


def test_taking_over_is_done_where_nothing_is_declared(capsys: pytest.CaptureFixture[str]) -> None:
    done, out, err = run(capsys, "sequence", BRINE)
    assert done == status.OK
    assert out.splitlines()[-1].endswith("steps, all as expected")
    assert "running forward at 24.1 Hz" in out
    assert err.strip() == "1 accepted"


def test_declared_steps_are_done_and_deviations_are_errors(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    good = with_steps(tmp_path, "- {press: -SJ1, expect: {-TA1: running forward}}\n")
    assert run(capsys, "sequence", good)[0] == status.OK
    wrong = with_steps(tmp_path, "- {press: -SJ1, expect: {-TA1: still}}\n")
    done, out, err = run(capsys, "sequence", wrong)
    assert done == status.ERRORS
    assert "1 not as expected: 1" in out
    assert "step-not-as-expected" in err
    assert run(capsys, "check", wrong)[0] == status.ERRORS
    assert run(capsys, "sequence", wrong, "--acceptance")[1].splitlines()[-1].endswith("all as expected")


def test_json_tells_every_step(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = with_steps(tmp_path, "- {operate: -BT1, expect: {-PF1: dark}}\n")
    done, out, _ = run(capsys, "sequence", path, "--format", "json")
    (step,) = json.loads(out)["steps"]
    assert done == status.ERRORS
    assert step["drives"] == {"-TA1": "tripped (external trip)"}
    assert step["working"] == ["-PF1"]
    assert step["deviations"] == [{"of": "-PF1", "expected": "dark", "found": "lit"}]


def test_written_steps_can_be_put_into_a_scheme(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    _, out, _ = run(capsys, "sequence", BRINE, "--write")
    assert yaml.safe_load(out)["steps"]
    path = tmp_path / "pump.yaml"
    path.write_text(BRINE.read_text(encoding="utf-8") + "\n" + out, encoding="utf-8")
    assert run(capsys, "check", path)[0] == status.OK
    assert run(capsys, "sequence", path)[0] == status.OK


def test_charts_are_written_and_numbered(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    chart = tmp_path / "chart.svg"
    assert run(capsys, "sequence", BRINE, "-o", chart)[0] == status.OK
    assert chart.read_bytes().startswith(b"<?xml")
    assert (tmp_path / "chart-2.svg").exists()
    first = chart.read_bytes()
    run(capsys, "sequence", BRINE, "-o", chart)
    assert chart.read_bytes() == first


def test_input_that_cannot_be_used_is_status_2(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    path = with_steps(tmp_path, "- {press: -SJ9}\n")
    done, out, err = run(capsys, "sequence", path)
    assert (done, out) == (status.UNUSABLE, "")
    assert err.startswith(f"{path}:")
    assert "device `-SJ9` is not declared" in err
    done, out, err = run(capsys, "sequence", BRINE, "-o", tmp_path / "no" / "chart.svg")
    assert done == status.UNUSABLE
    assert "chart.svg" in err
    assert "Traceback" not in err
