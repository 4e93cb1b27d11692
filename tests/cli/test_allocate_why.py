"""`wiregen allocate --why`: text, JSON, and names that are not there."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from command_line import run

EXAMPLES = Path(__file__).parents[2] / "examples"


def test_text_names_what_decided_and_what_each_other_terminal_costs(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "allocate", str(EXAMPLES / "brine_pump.yaml"), "--why", "reference auto")
    assert status == 0
    assert out.splitlines()[0] == "reference auto stands on -TA1:AI2"
    assert "only choice" in out.splitlines()[1]
    assert out.splitlines()[-1].split(None, 2) == ["-TA1:AI1", "impossible", "it cannot carry 4-20 mA"]


def test_json_holds_every_alternative(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "allocate", str(EXAMPLES / "crumb_feeder.yaml"), "--why", "stop", "--format", "json")
    why = json.loads(out)["why"]
    assert (status, why["terminal"], why["decided_by"]) == (0, "-TA1:DI1", "unusual")
    second = why["alternatives"][0]
    assert second["terminal"] == "-TA1:DI2"
    assert second["possible"]
    assert second["costs"] == [{"level": "unusual", "more": 1}]
    assert second["moves"] == [{"function": "start", "device": "-TA1", "from": "-TA1:DI2", "to": "-TA1:DI1"}]


def test_what_found_no_terminal_says_who_competes(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "allocate", str(EXAMPLES / "wrong_on_purpose.yaml"), "--why", "drum turns")
    assert status == 1
    assert out.startswith("drum turns has no terminal\ndecided by: conflict: drum turns needs a digital input")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("brine_pump.yaml", "--why", "fualt"), "(did you mean 'fault'?)"),
        (("brine_pump.yaml", "--why", "zzz"), "functions: start, stop,"),
        (("booster_set.yaml", "--why", "running"), "'running' is at 3 devices: add --at -TA1, -TA2 or -TA3"),
        (("booster_set.yaml", "--why", "running", "--at", "-TA9"), "it is at -TA1, -TA2 or -TA3"),
        (("booster_set.yaml", "--at", "-TA1"), "add --why FUNCTION"),
        (("brine_pump.yaml", "--why", ""), "no function ''"),
    ],
)
def test_names_that_are_not_there(capsys: pytest.CaptureFixture[str], words: tuple[str, ...], says: str) -> None:
    status, out, err = run(capsys, "allocate", str(EXAMPLES / words[0]), *words[1:])
    assert (status, out) == (2, "")
    assert says in err


def test_one_of_several_devices(capsys: pytest.CaptureFixture[str]) -> None:
    status, out, _ = run(capsys, "allocate", str(EXAMPLES / "booster_set.yaml"), "--why", "running", "--at", "-TA2")
    assert status == 0
    assert out.startswith("running stands on -TA2:")
