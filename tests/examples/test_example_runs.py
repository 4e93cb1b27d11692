"""Examples with several runs, closed loops, limits and overrides, against what a practitioner works out by hand.

What is forced, which loops close, cables and cores, and the findings: common practice, no source, unless a line says
otherwise. Channels that the scheme leaves open are not asserted.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from example_designs import cables, closes, designed, findings, settings, terminals

import wiregen
from wiregen.terms import Pin


def test_pressure_pump_allocation_that_is_forced() -> None:
    """Only AI2 of the small drive takes 4-20 mA, which leaves AI1 to the potentiometer; 13 is a make contact."""
    found = terminals("pressure_pump")
    assert (found["-TA1 feedback"], found["-TA1 setpoint"], found["-TA1 running"]) == ("AI2", "AI1", "13")


def test_pressure_pump_has_one_loop_through_card_and_drive() -> None:
    """24 V, transmitter, card + to card -, drive, 0 V of the supply: one current, in this order."""
    design = designed("pressure_pump")
    card = terminals("pressure_pump")["-KE4 line pressure"]
    inlet, outlet = Pin("-KE4", card), Pin("-KE4", card.replace("+", "-"))
    loop = [
        (Pin("-TA1", "24V"), Pin("-BP1", "+")),
        (Pin("-BP1", "-"), inlet),
        (outlet, Pin("-TA1", "AI2")),
        (Pin("-TA1", "ACOM"), Pin("-TB1", "0V")),
    ]
    potentials = [design.wiring.potential_of(a) for a, _ in loop]
    assert [b in p.pins for p, (_, b) in zip(potentials, loop, strict=True) if p] == [True] * 4
    assert len({p.name for p in potentials if p}) == 4, "no piece of the loop is bridged by another"


def test_pressure_pump_cables() -> None:
    """24 V, start, stop and trip make four cores, with a fifth of the spare; the transmitter has a screened pair."""
    assert cables("pressure_pump") == [
        ("+C1", "+F1", "control", 5, 4, 1.0, False, 28.0),
        ("+C1", "+F1", "analog", 2, 2, 0.75, True, 28.0),
    ]


def test_pressure_pump_findings_and_settings() -> None:
    assert findings("pressure_pump") == [("warning", "start-beside-stop")]
    assert all(f.accepted for f in designed("pressure_pump").findings)
    found = settings("pressure_pump")
    assert found["reference pressure"] == "closed loop, slow down when the feedback rises, spans 20 to 50 Hz"
    assert found["feedback"] == "set 4-20 mA, spans 0 to 10 bar, signal low: run at 25 Hz, signal high: trip"
    assert found["setpoint"] == "set 0-10 V, spans 0 to 10 bar"
    assert (found["speed limits"], found["ramps"]) == ("15 to 50 Hz", "up 5 s, down 8 s")
    assert found["supply returns, trip reset"] == "needs a new start"


def test_stable_fan_fills_every_input() -> None:
    """Start, stop, run, trip, frost, smoke and two contacts of the selector: eight inputs for eight functions."""
    found = {name: at for name, at in terminals("stable_fan").items() if name.startswith("-TA1")}
    assert sorted(at for at in found.values() if at.startswith("DI")) == [f"DI{n}" for n in range(1, 9)]
    names = {name.removeprefix("-TA1 ") for name, at in found.items() if at.startswith("DI")}
    assert names == {
        "start",
        "stop",
        "run forward",
        "enable",
        "external trip",
        "override smoke",
        "select 1",
        "select 2",
    }


def test_stable_fan_loops_and_cable() -> None:
    """The selector and both buttons share one feed core: it and four signals are five, and seven is the next size."""
    assert closes("stable_fan", "-SJ2", "11", "12", "-TA1 stop", "-TA1:24V")
    assert closes("stable_fan", "-SJ3", "23", "24", "-TA1 select 2", "-TA1:24V")
    assert closes("stable_fan", "-BG9", "13", "14", "-TA1 override smoke", "-TA1:24V")
    assert cables("stable_fan") == [("+C1", "+F1", "control", 7, 5, 1.0, False, 18.0)]


def test_stable_fan_findings_and_settings() -> None:
    """An override always warns, with its reason; start, stop, selector in one cable are accepted; the rest notes."""
    assert findings("stable_fan") == [
        ("warning", "override-declared"),
        ("warning", "start-beside-stop"),
        ("note", "changeover-by-setting"),
        ("note", "safe-torque-off-linked"),
    ]
    (told,) = (f for f in designed("stable_fan").findings if f.code == "override-declared")
    assert told.message.endswith("because: smoke is drawn off while the animals are led out")
    found = settings("stable_fan")
    assert found["override smoke"] == "runs forward, at reference full, goes over stop, lost signal"
    assert found["select code 10 (HAND)"] == "run hand, reference hand"
    assert found["select code 00 (OFF)"] == "stop"
    assert found["select code 01 (AUTO)"] == "run auto, reference auto"
    assert found["stop"] == "stops every run"
    assert found["changeover between runs"] == "does not start by itself"


def test_stable_fan_prints_its_override_on_every_sheet_of_the_drive() -> None:
    sheets = [s for s in drawn("stable_fan") if s.title.startswith("Terminal diagram of -TA1")]
    assert len(sheets) == 2
    for sheet in sheets:
        text = sheet.svg.decode()
        assert "Override smoke of -TA1 runs forward, at reference full, goes over stop" in text
        assert "Why: smoke is drawn off while the" in text


@cache
def drawn(name: str) -> tuple[wiregen.drawing.Sheet, ...]:
    from wiregen import drawing

    return drawing.draw(designed(name)).sheets


def test_lifting_table_allocation_that_is_forced() -> None:
    """The lamp lights by a break contact, which only the changeover at 21 has; so the brake gets the contact at 13."""
    found = terminals("lifting_table")
    assert (found["-TA1 fault"], found["-TA1 brake open"]) == ("21", "13")
    assert {found[f"-TA1 limit {way}"] for way in ("forward", "reverse")} <= {f"DI{n}" for n in range(1, 7)}


def test_lifting_table_loops_and_cable() -> None:
    """One 24 V core, one 0 V core for the lamp, five inputs and the lamp: eight, and with 20 % spare the next is 12."""
    for switch, pins, function in (
        ("-BG1", ("11", "12"), "-TA1 limit forward"),
        ("-BG2", ("11", "12"), "-TA1 limit reverse"),
        ("-SJ1", ("13", "14"), "-TA1 run forward"),
        ("-SJ2", ("13", "14"), "-TA1 run reverse"),
    ):
        assert closes("lifting_table", switch, *pins, function, "-TA1:24V")
    assert cables("lifting_table") == [("+C1", "+F1", "control", 12, 8, 1.0, False, 9.0)]
    brake = designed("lifting_table").wiring
    assert Pin("-QA5", "A1") in (brake.potential_of(Pin("-TA1", "14")) or pytest.fail("brake open is not wired")).pins


def test_lifting_table_findings_and_settings() -> None:
    """Held buttons are level commands: a setting keeps them from restarting (IEC 60204-1, 7.5, from memory)."""
    assert findings("lifting_table") == [("note", "restart-by-setting")] * 2
    found = settings("lifting_table")
    assert found["run"] == "hold-to-run, from terminals, forward and reverse together: stop"
    assert found["motor"].startswith("power 1.5 kW, voltage 400 V, current 3.4 A")


def test_crumb_feeder_fills_every_input() -> None:
    found = terminals("crumb_feeder")
    drive = {name: at for name, at in found.items() if name.startswith("-TA1") and at.startswith("DI")}
    assert sorted(drive.values()) == [f"DI{n}" for n in range(1, 7)]
    assert found["-TA1 reference line"] == "AI2"
    assert cables("crumb_feeder") == [("+C1", "+F1", "control", 7, 5, 1.0, False, 14.0)]


def test_crumb_feeder_has_no_place_for_one_command_more(tmp_path: Path) -> None:
    path = Path(__file__).parents[2] / "examples" / "crumb_feeder.yaml"
    text = path.read_text(encoding="utf-8")
    more = text.replace("    always_stops: -SJ2\n", "    always_stops: -SJ2\n    enable: -SJ5\n").replace(
        "  -SJ4: ", "  -SJ5: {profile: push_button, contact: NC, at: +C1}\n  -SJ4: "
    )
    file = tmp_path / "more.yaml"
    file.write_text(more, encoding="utf-8")
    design = wiregen.design(wiregen.read(file))
    assert design.allocation.status == "infeasible"
    assert "terminals-too-few" in [f.code for f in design.findings]


def test_crumb_feeder_line_signals() -> None:
    """The controller's outputs share their 0 V with the drive once; no wire of them leaves the cabinet."""
    wiring = designed("crumb_feeder").wiring
    zero = wiring.potential_of(Pin("-TA1", "ACOM"))
    assert zero is not None
    assert {Pin("-KE2", "AO1-"), Pin("-KE1", "0VA"), Pin("-TB1", "0V")} <= set(zero.pins)
    run = wiring.potential_of(Pin("-KE1", "DO1"))
    assert run is not None
    assert Pin("-TA1", terminals("crumb_feeder")["-TA1 run forward"]) in run.pins


def test_crumb_feeder_findings_and_settings() -> None:
    assert findings("crumb_feeder") == [("note", "changeover-by-setting"), ("note", "restart-by-setting")]
    found = settings("crumb_feeder")
    assert {code: found[f"select code {code}"] for code in ("00x", "100", "101", "010", "011")} == {
        "00x": "stop",
        "100": "run local, reference feed",
        "101": "run local, reference wash",
        "010": "run line, reference line",
        "011": "run line, reference wash",
    }


def test_storm_pumps_share_their_cards() -> None:
    """One card each for starts, speeds and reports; relay contacts of one relay select at three drives."""
    found = terminals("storm_pumps")
    starts = [found[f"-KE3 run forward led of -TA{n}"] for n in (1, 2, 3)]
    assert starts == ["DO1", "DO2", "DO3"]
    assert [found[f"-TA{n} reference led"] for n in (1, 2, 3)] == ["AI2"] * 3
    assert len({found[f"-KE1 {what} of -TA{n}"] for n in (1, 2, 3) for what in ("running", "fault")}) == 6
    for n, (a, b) in enumerate((("11", "14"), ("21", "24"), ("31", "34")), 1):
        assert closes("storm_pumps", "-KF1", a, b, f"-TA{n} select 1", "-TB1:24V")
        assert closes("storm_pumps", f"-BL{n + 1}", "13", "14", f"-TA{n} run forward backup", "-TB1:24V")


def test_storm_pumps_cables_and_findings() -> None:
    """Three floats and their feed: four cores of five; the level has a pair. The accepted warnings do not count."""
    assert cables("storm_pumps") == [
        ("+C1", "+F1", "control", 5, 4, 1.0, False, 45.0),
        ("+C1", "+F1", "analog", 2, 2, 0.75, True, 45.0),
    ]
    assert findings("storm_pumps") == [("warning", "starts-by-changeover")] * 3 + [("note", "field-feed-unprotected")]
    assert all(f.accepted for f in designed("storm_pumps").findings if f.severity == "warning")
    assert settings("storm_pumps")["select code 0"] == "run backup, reference backup"
