"""``--time-limit``: an answer comes in any case, and what is not proven of it is said."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from wiregen.cli.boundary import run

BOOSTER = Path(__file__).parents[2] / "examples" / "booster_set.yaml"


def test_an_answer_that_is_not_proven_is_called_feasible(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["allocate", str(BOOSTER), "--time-limit", "0.000001"]) == 0
    told = capsys.readouterr()
    assert "status: feasible" in told.out
    assert "not proven\n" in told.out
    assert told.err.startswith("not proven within 1e-06 s: ")


def test_design_json_holds_value_and_bound_of_each_level(capsys: pytest.CaptureFixture[str]) -> None:
    run(["allocate", str(BOOSTER), "--time-limit", "0.000001", "--format", "json"])
    allocation = json.loads(capsys.readouterr().out)["allocation"]
    assert allocation["status"] == "feasible"
    assert all(level["bound"] <= level["value"] for level in allocation["levels"])
    assert all(level["proven"] == (level["bound"] == level["value"]) for level in allocation["levels"])


def test_with_time_enough_nothing_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["check", str(BOOSTER), "--time-limit", "1000"]) == 0
    assert "not proven" not in capsys.readouterr().err


@pytest.mark.parametrize("value", ["0", "-1", "nan", "inf", "soon", ""])
@pytest.mark.parametrize("command", ["check", "allocate", "draw", "schedule", "pack"])
def test_what_is_no_time_is_refused(command: str, value: str, tmp_path: Path) -> None:
    output = ["-o", str(tmp_path / "out")] if command in ("draw", "pack") else []
    assert run([command, str(BOOSTER), "--time-limit", value, *output]) == 2
    assert not (tmp_path / "out").exists()
