"""Sequences: steps as declared, their deviations, and the standard sequence of taking over."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

import wiregen
from wiregen import profiles
from wiregen.behaviour import Plant
from wiregen.behaviour.acceptance import acceptance, acceptance_data
from wiregen.behaviour.expectations import Deviation
from wiregen.behaviour.sequence import run
from wiregen.behaviour.traces import traces
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import Canvas
from wiregen.drawing.timing_chart import as_svg, charts, draw
from wiregen.pipeline import Design
from wiregen.scheme import read_text
from wiregen.scheme.steps import Step
from wiregen.terms import UnusableInput

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = (EXAMPLES / "brine_pump.yaml").read_text(encoding="utf-8")


def designed(steps: str, start_by: str = "", text: str = BRINE) -> Design:
    known = dict(profiles.load(None))
    if start_by:
        found = known["drive_compact"].model_copy(update={"start_by": start_by, "start_with_stop_closed": None})
        known["drive_compact"] = found
    return wiregen.design(read_text(f"{text}\n{steps}", "pump.yaml", profiles=known))


def codes(design: Design) -> list[tuple[str, int]]:
    found = [f for f in design.findings if f.code.startswith("step-")]
    return [(f.code, design.scheme.locate(f.where).line - BRINE.count("\n") - 1) for f in found]


GOOD = """\
steps:
- {expect: {-TA1: still, -PF1: dark}}
- {press: -SJ1, expect: {-TA1: running forward at 24 Hz, -KE5: {running of -TA1: on}}}
- {set: {-RA1: 100 %}, expect: {-TA1: running forward at 50 Hz}}
- {turn: {-SJ3: AUTO}, expect: {-TA1: running at 32.5 Hz}}
- {set: {-BL1: 20 mA}, expect: {-TA1: running at 50 Hz}}
- {break: "-BL1:-", expect: {-TA1: tripped, -PF1: lit, -KE5: {running of -TA1: off}}}
- {mend: "-BL1:-", expect: {-TA1: tripped}}
- {reset: -TA1, expect: {-TA1: still, -PF1: dark}}
- {operate: -SJ2}
- {press: -SJ1, expect: {-TA1: still}}
- {release: -SJ2, expect: {-TA1: still}}
- {press: -SJ1, expect: {-TA1: running}}
- {power: {-TB1: off}, expect: {-TA1: running, -KE5: {running of -TA1: off}}}
- {power: off, expect: {-TA1: still}}
- {power: on, expect: {-TA1: still}}
"""


def test_steps_that_hold_are_silent() -> None:
    assert codes(designed(GOOD)) == []


def test_steps_that_do_not_hold_are_found_where_they_stand() -> None:
    wrong = GOOD.replace("{release: -SJ2, expect: {-TA1: still}}", "{release: -SJ2, expect: {-TA1: running reverse}}")
    assert codes(designed(wrong)) == [("step-not-as-expected", 12)]


METER = (EXAMPLES / "mash_mixer.yaml").read_text(encoding="utf-8")
MIXING = "steps:\n- {turn: {-SJ2: RECIPE}}\n- {command: {-KE2: mixer on}, expect: {-TA1: running at 25 Hz, -PG1: %s}}\n"


@pytest.mark.parametrize(
    ("signal", "right", "wrong", "unfit"),
    [("4-20 mA", "12 mA", "9 mA", "5 V"), ("0-10 V", "5 V", "4 V", "10 mA")],
)
def test_a_meter_shows_its_signal_in_its_own_unit(signal: str, right: str, wrong: str, unfit: str) -> None:
    # Half of 0 to 50 Hz is half of the span: IEC 60381-1 and -2, from memory.
    text = METER.replace("on: -PG1, signal: 4-20 mA", f"on: -PG1, signal: {signal}")
    for shown, found in ((right, []), (wrong, ["step-not-as-expected"]), (unfit, ["step-unfit"])):
        design = designed(MIXING % shown, text=text)
        assert [f.code for f in design.findings if f.code.startswith("step-")] == found, shown
        assert all(right in f.message for f in design.findings if f.code == "step-not-as-expected")


@pytest.mark.parametrize(
    "step",
    [
        "{operate: -TA1}",
        "{turn: {-SJ3: OFF}}",
        "{turn: {-SJ1: HAND}}",
        "{set: {-SJ1: 4 mA}}",
        "{set: {-RA1: 12 mA}}",
        "{set: {-BL1: 50 %}}",
        "{command: {-KE5: lamp}}",
        "{power: {-SJ1: off}}",
        "{reset: -SJ1}",
        '{break: "-SJ1:99"}',
        "{press: -SJ1, expect: {-PF1: green}}",
        "{press: -SJ1, expect: {-TA1: running fast}}",
        "{press: -SJ1, expect: {-TA1: still at 5 Hz}}",
        "{press: -SJ1, expect: {-TA1: running at 5 mA}}",
        "{press: -SJ1, expect: {-SJ2: pressed}}",
        "{press: -SJ1, expect: {-KE5: on}}",
        "{press: -SJ1, expect: {-KE5: {no such: on}}}",
    ],
)
def test_a_step_that_nobody_can_do_is_found(step: str) -> None:
    assert codes(designed(f"steps:\n- {step}\n")) == [("step-unfit", 2)]


@pytest.mark.parametrize(
    ("steps", "says"),
    [
        ("steps: [{press: -SJ9}]", "not declared"),
        ("steps: [{press: -SJ1, turn: {-SJ3: AUTO}}]", "does one thing"),
        ("steps: [{says: nothing}]", "does something"),
        ("steps: [{power: half}]", "half"),
        ("steps: [{set: {-BL1: much}}]", "much"),
        ("steps: [{pres: -SJ1}]", "pres"),
        ("steps: [{press: -SJ1, expect: {-KE5: {running of -TA1: maybe}}}]", "maybe"),
        ("steps: 5", "steps"),
    ],
)
def test_steps_that_cannot_be_read_are_refused_with_their_place(steps: str, says: str) -> None:
    with pytest.raises(UnusableInput) as refused:
        designed(steps)
    (complaint,) = refused.value.complaints
    assert says in str(complaint)
    assert complaint.spot.line == BRINE.count("\n") + 2


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.yaml")), ids=lambda p: p.stem)
def test_every_example_passes_its_taking_over(path: Path) -> None:
    design = wiregen.design(wiregen.read(path))
    plant = Plant.of_design(design)
    steps = acceptance(plant, design)
    frames = run(plant, steps)
    assert [(f.number, f.says, f.deviations, f.unfit) for f in frames if f.deviations or f.unfit] == []
    if path.stem != "wrong_on_purpose":
        expected = [str(e) for s in steps for e in s.expect.values()]
        assert any(e.startswith("running") for e in expected)
        assert "still" in expected
        assert {s.power for s in steps} >= {"off", "on"}


def test_taking_over_shows_a_drive_that_restarts_where_it_must_not() -> None:
    """A start that is taken by its level runs again after the supply returns while it is held."""
    design = wiregen.design(wiregen.read(EXAMPLES / "lifting_table.yaml"))
    own = wiregen.design(
        read_text(
            (EXAMPLES / "lifting_table.yaml").read_text(encoding="utf-8"),
            "table.yaml",
            profiles={
                n: p.model_copy(update={"start_by": "level", "start_with_stop_closed": None})
                for n, p in profiles.load(None).items()
            },
        )
    )
    steps = acceptance(Plant.of_design(design), design)
    frames = run(Plant.of_design(own), steps)
    wrong = [f for f in frames if f.deviations]
    assert wrong
    assert wrong[0].step.power == "on" or "release" in wrong[0].says
    assert any(f.step.power == "on" for f in wrong)


def test_a_command_that_a_relay_holds_need_not_return_with_the_supply() -> None:
    """A button seals a relay in; it drops with the supply (no-voltage release), so nothing asks the drive to run.

    Common practice, no source.
    """
    text = """
scheme: Held by a relay
places: {+C1: {name: Cabinet}}
devices:
  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}
  -TA1: {profile: drive_compact, at: +C1}
  -KF1: {profile: interposing_relay, at: +C1, poles: 2}
  -SJ1: {profile: push_button, contact: NO, at: +C1}
  -SJ2: {profile: push_button, contact: NC, at: +C1}
control:
  -TA1:
    inputs: {wired: source, supply: -TB1}
    zero_volt: {joined_to: -TB1}
    restart: allowed
    run: {method: two-wire, forward: -KF1}
    speed: {one: {preset: 30 Hz}}
  -KF1:
    energise: {all: [-SJ2, {any: [-SJ1, -KF1]}]}
    supply: -TB1
"""
    design = designed("", text=text)
    plant = Plant.of_design(design)
    frames = run(plant, acceptance(plant, design))
    assert [(f.says, f.deviations) for f in frames if f.deviations] == []
    assert any(f.step.power == "on" and not f.standing.drive("-TA1").moving for f in frames)
    held = designed("", text=text[: text.index("  -KF1:\n")].replace("forward: -KF1}", "forward: -SJ1}"))
    steps = acceptance(Plant.of_design(held), held)
    assert [s.expect for s in steps if s.power == "on"] == [{"-TA1": "running forward"}]


def test_steps_that_are_written_read_back_as_they_were() -> None:
    import yaml

    design = wiregen.design(wiregen.read(EXAMPLES / "brine_pump.yaml"))
    plant = Plant.of_design(design)
    text = yaml.safe_dump({"steps": acceptance_data(plant, design)}, sort_keys=False)
    again = designed(text)
    assert again.scheme.model.steps == acceptance(plant, design)
    assert codes(again) == []


def test_a_chart_shows_every_step_and_every_trace_that_moves() -> None:
    design = designed(GOOD)
    plant = Plant.of_design(design)
    frames = run(plant, design.scheme.model.steps)
    found = traces(plant, frames)
    names = {t.name for t in found}
    assert {"start of -TA1", "stop of -TA1", "-TA1 tripped", "-TA1 keeps its start", "-PF1 PUMP FAULT", "-TA1"} <= names
    speed = next(t for t in found if t.group == "speed")
    assert [round(step[-1], 1) for step in speed.values[:5]] == [0.0, 24.1, 50.0, 32.5, 50.0]
    start = next(t for t in found if t.name == "start of -TA1")
    assert start.values[1] == (1.0, 0.0)  # pressed, and let go
    parts = charts(frames, found, Box(0.0, 0.0, 400.0, 270.0))
    assert [c.first for c in parts] == [1, 12]
    for chart in parts:
        svg = as_svg(chart).decode("utf-8")
        assert all("<text" in svg and n in svg for n in ("Inputs", "Outputs", "Speed, Hz"))


@pytest.mark.parametrize("count", [1, 3, 5, 9, 14])
@pytest.mark.parametrize("wrong", [0, 3])
def test_charts_fit_their_area_with_many_drives_and_much_that_is_wrong(count: int, wrong: int) -> None:
    plant = Plant.of_design(designed(GOOD))
    frames = run(plant, designed(GOOD).scheme.model.steps)
    says = Deviation("-TA1", "running reverse at 12.5 Hz", "tripped (external trip), " * 12)
    frames = tuple(replace(f, deviations=(says,) * wrong) for f in frames)
    found = traces(plant, frames)
    speed = next(t for t in found if t.group == "speed")
    listed = [*(t for t in found if t is not speed), *(replace(speed, name=f"-TA{n + 1}") for n in range(count))]
    area = Box(0.0, 0.0, 400.0, 240.0)
    parts = charts(frames, listed, area)
    for trace in listed:
        shown = [f.number for c in parts for f in c.frames if trace.name in {t.name for t in c.traces}]
        assert set(shown) == {f.number for f in frames}, trace.name
    for chart in parts:
        assert draw(Canvas(400.0, 240.0, chart.title), chart, area) <= area.y1
        own = Box(0.0, 0.0, chart.width, chart.height)
        assert draw(Canvas(own.x1, own.y1, chart.title), chart, own) <= own.y1


def test_a_pack_of_a_scheme_with_steps_has_a_sheet_of_its_chart() -> None:
    from wiregen.drawing import sheet_set

    titles = [s.title for s in sheet_set.draw(designed(GOOD)).sheets]
    assert [t for t in titles if t.startswith("Timing")] == [
        "Timing chart, steps 1 to 10",
        "Timing chart, steps 11 to 15",
    ]
    assert not any(s.title.startswith("Timing") for s in sheet_set.draw(designed("")).sheets)


def test_a_part_of_a_plant_has_the_steps_that_concern_it() -> None:
    turned = Step.model_validate({"turn": {"-SJ3": "AUTO", "-SJ9": "ON"}, "expect": {"-TA1": "still"}})
    here = turned.within({"-SJ3", "-TA1"})
    assert here is not None
    assert (here.turn, here.expect) == ({"-SJ3": "AUTO"}, {"-TA1": "still"})
    assert turned.within({"-SJ8"}) is None
    broken = Step.model_validate({"break": ["-TA1:DI1", "-TA2:DI1"]}).within({"-TA1"})
    assert broken is not None
    assert broken.break_ == ("-TA1:DI1",)
    assert Step.model_validate({"power": "off"}).within(()) is not None
