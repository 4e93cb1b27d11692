"""Expected readings: their states, their bands, and the command that prints them."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

import wiregen
from wiregen.circuit.readings import readings
from wiregen.cli import boundary

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
BRINE = next(p for p in EXAMPLES if p.stem == "brine_pump")


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_every_reading_lies_in_its_band_and_every_place_is_read_at_rest(path: Path) -> None:
    design = wiregen.design(wiregen.read(path))
    found = design.readings
    at_rest = [(r.pin, r.to) for r in found if r.state == "at rest"]
    for r in found:
        value = r.volts if r.milliamps is None else r.milliamps
        assert value is not None
        assert (r.volts is None) != (r.milliamps is None)
        assert r.low < value < r.high
        assert (r.pin, r.to) in at_rest
    keys = [(r.state, r.pin, r.to, r.volts is None) for r in found]
    assert len(keys) == len(set(keys))


def test_one_change_at_a_time_and_each_reference_at_its_ends() -> None:
    found = wiregen.design(wiregen.read(BRINE)).readings
    assert list(dict.fromkeys(r.state for r in found)) == [
        "at rest",
        "-RA1 at 0 %",
        "-RA1 at 100 %",
        "-BL1 at 0 %",
        "-BL1 at 100 %",
        "-SJ1 operated",
        "-SJ2 operated",
        "-SJ3 in AUTO",
        "-BT1 operated",
        "fault of -TA1 off",
        "running of -TA1 on",
    ]
    wiper = {r.state: r.volts for r in found if str(r.pin) == "-TA1:AI1"}
    # 4.7 kohm from 10 V, loaded with 30 kohm: 10 V * 0.5 / (1 + 0.25 * 4.7 / 30). Source: the voltage divider.
    assert wiper["at rest"] == pytest.approx(5.0 / (1 + 0.25 * 4.7 / 30), abs=0.003)
    assert wiper["-RA1 at 0 %"] == pytest.approx(0.0, abs=0.01)
    assert wiper["-RA1 at 100 %"] == pytest.approx(10.0, abs=0.01)


def test_hot_conductors_and_stray_parts_widen_a_band() -> None:
    design = wiregen.design(wiregen.read(BRINE))
    found = readings(design.declared, design.allocation, design.wiring, design.circuit)
    row = next(r for r in found if str(r.pin) == "-TA1:AI2" and r.volts is not None)
    # 12 mA through 250 ohm, 10 % more or less, then 0.5 % and 0.1 V of the instrument.
    assert row.low == pytest.approx(3.0 * 0.9 - 0.115, abs=0.005)
    assert row.high == pytest.approx(3.0 * 1.1 + 0.115, abs=0.005)


def test_the_command_prints_what_design_json_says(capsys: pytest.CaptureFixture[str]) -> None:
    assert boundary.run(["readings", str(BRINE), "--format", "json"]) == 0
    data = json.loads(capsys.readouterr().out)
    listed = wiregen.design(wiregen.read(BRINE)).readings
    assert [(r["state"], r["pin"], r["volts"]) for r in data["readings"]] == [
        (r.state, str(r.pin), r.volts) for r in listed
    ]
    assert boundary.run(["readings", str(BRINE), "--state", "-SJ1 operated"]) == 0
    text = capsys.readouterr().out
    assert text.startswith("-SJ1 operated\n")
    assert "at rest" not in text
    assert "qualified people" in text


def test_an_unknown_state_is_told_with_one_that_is_like_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert boundary.run(["readings", str(BRINE), "--state", "-SJ1 operate"]) == 2
    assert "did you mean '-SJ1 operated'" in capsys.readouterr().err
