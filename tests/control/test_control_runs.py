"""Runs, jog, limits, overrides and closed loops as functions: their names, senses and settings.

The names are those of the scheme format; what each needs is common practice, no source.
"""

from __future__ import annotations

import pytest
from control_schemes import at_drive, declared, end, function, notices

from wiregen.control.functions import Declared
from wiregen.terms import Pin

BUTTONS = """
-SJ1: {profile: push_button, contact: NO, at: +F1}
-SJ2: {profile: push_button, contact: NC, at: +F1}
-SJ3: {profile: selector, positions: [HAND, OFF, AUTO], at: +C1}
-SJ4: {profile: push_button, contact: NO, at: +C1}
-SJ5: {profile: push_button, contact: NC, at: +C1}
-BG1: {profile: limit_switch, contact: NC, at: +F1, operated_when: out}
-BG2: {profile: limit_switch, contact: NC, at: +F1, operated_when: in}
"""
LOCAL = "local: {method: three-wire, start: -SJ1, stop: -SJ2}"


def names(found: Declared) -> list[str]:
    return [f.name for f in found.functions]


def test_a_run_has_plain_names_where_no_other_has_the_same() -> None:
    found = at_drive(BUTTONS, f"run:\n  {LOCAL}\n  remote: {{method: two-wire, forward: -SJ4}}")
    assert names(found) == ["start", "stop", "run forward"]
    assert [f.run for f in found.functions] == ["local", "local", "remote"]
    assert [f.setting for f in found.functions] == ["of run local", "of run local", "of run remote"]


def test_names_of_runs_follow_where_both_have_the_same() -> None:
    found = at_drive(BUTTONS, f"run:\n  {LOCAL}\n  far: {{method: three-wire, start: -SJ4, stop: -SJ5}}")
    assert names(found) == ["start local", "stop local", "start far", "stop far"]
    assert {f.meaning for f in found.functions} == {"start", "stop"}
    assert [f.acts_on for f in found.functions] == ["closing", "open", "closing", "open"]


def test_the_first_of_one_name_has_the_usual_terminal() -> None:
    found = at_drive(BUTTONS, f"run:\n  {LOCAL}\n  far: {{method: three-wire, start: -SJ4, stop: -SJ5}}")
    usual = {name: end(found, name).usual for name in names(found)}
    assert usual == {
        "start local": (Pin("-TA1", "DI4"),),
        "stop local": (Pin("-TA1", "DI1"),),
        "start far": (),
        "stop far": (),
    }


@pytest.mark.parametrize("name", ["stop", "stop local"])
def test_fixed_understands_plain_and_full_names(name: str) -> None:
    runs = f"run:\n  {LOCAL}\n  remote: {{method: two-wire, forward: -SJ4}}"
    found = at_drive(BUTTONS, runs, rest=f"fixed: {{-TA1: {{DI5: {name}}}}}")
    assert end(found, "stop").fixed == Pin("-TA1", "DI5")
    assert notices(found) == {}


def test_one_function_under_both_names_is_fixed_twice() -> None:
    runs = f"run:\n  {LOCAL}\n  remote: {{method: two-wire, forward: -SJ4}}"
    found = at_drive(BUTTONS, runs, rest="fixed: {-TA1: {DI5: stop, DI6: stop local}}")
    assert "fixed on DI5 and on DI6" in notices(found)["function-on-two-terminals"]


def test_a_name_that_could_mean_two_is_refused_with_both() -> None:
    runs = f"run:\n  {LOCAL}\n  far: {{method: three-wire, start: -SJ4, stop: -SJ5}}"
    found = at_drive(BUTTONS, runs, rest="fixed: {-TA1: {DI5: stop}}")
    assert "did you mean stop" in notices(found)["fixed-function-unknown"]


def test_a_stop_of_a_run_that_always_stops_is_one_function() -> None:
    runs = f"run:\n  {LOCAL}\n  remote: {{method: two-wire, forward: -SJ4}}\nalways_stops: -SJ2"
    found = at_drive(BUTTONS, runs)
    assert names(found) == ["start", "stop", "run forward"]
    assert function(found, "stop").setting == "stops every run"


def test_the_stop_of_several_runs_that_always_stops_is_one_function() -> None:
    runs = f"run:\n  {LOCAL}\n  far: {{method: three-wire, start: -SJ4, stop: -SJ2}}\nalways_stops: -SJ2"
    assert names(at_drive(BUTTONS, runs)) == ["start local", "stop", "start far"]


def test_a_stop_of_its_own_for_every_run() -> None:
    runs = f"run:\n  {LOCAL}\n  remote: {{method: two-wire, forward: -SJ4}}\nalways_stops: -SJ5"
    found = at_drive(BUTTONS, runs)
    assert names(found) == ["start", "stop", "run forward", "always stops"]
    own = function(found, "always stops")
    assert (own.acts_on, own.meaning, own.where) == ("open", "stop", ("control", "-TA1", "always_stops"))


def test_a_run_from_the_network_takes_no_terminal() -> None:
    found = at_drive(BUTTONS, f"run:\n  {LOCAL}\n  far: {{method: two-wire, from: network}}")
    assert names(found) == ["start", "stop"]
    assert [(r.name, r.network) for r in dict(found.runs)["-TA1"]] == [("local", False), ("far", True)]
    assert ("run far", "two-wire, from the network") in [(s.subject, s.says) for s in found.settings]


@pytest.mark.parametrize(
    ("run", "says"),
    [
        ("{method: two-wire, from: network, forward: -SJ1}", "`forward` does not belong"),
        ("{method: hold-to-run, reverse: -SJ1}", "needs `forward:`"),
        ("{method: hold-to-run, forward: -SJ1, both: stop}", "it has no `reverse:`"),
        ("{method: hold-to-run, forward: -SJ1, stop: -SJ2}", "`stop` does not belong"),
        ("{method: three-wire, start: -SJ1, stop: -SJ2, both: stop}", "`both` does not belong"),
    ],
)
def test_run_incomplete(run: str, says: str) -> None:
    assert says in notices(at_drive(BUTTONS, f"run: {run}"))["run-incomplete"]


def test_three_wire_reversing_in_both_its_forms() -> None:
    two_starts = at_drive(BUTTONS, "run: {method: three-wire, start: -SJ1, start_reverse: -SJ4, stop: -SJ2}")
    assert [(f.name, f.acts_on) for f in two_starts.functions] == [
        ("start", "closing"),
        ("start reverse", "closing"),
        ("stop", "open"),
    ]
    direction = at_drive(BUTTONS, "run: {method: three-wire, start: -SJ1, stop: -SJ2}\nreverse: -SJ4")
    assert [(f.name, f.acts_on) for f in direction.functions][2] == ("reverse", "closed")


def test_held_commands_limits_jog_and_motor_potentiometer() -> None:
    found = at_drive(
        BUTTONS,
        """
        run: {method: hold-to-run, forward: -SJ1, reverse: -SJ4, both: stop}
        limits: {forward: -BG1, reverse: -BG2}
        jog: {forward: -SJ3@HAND, reverse: -SJ3@AUTO, speed: creep}
        raise: -SJ2
        lower: -SJ5
        speed: {creep: {preset: 5 Hz}}
        """,
    )
    assert [(f.name, f.acts_on) for f in found.functions] == [
        ("run forward", "closed"),
        ("run reverse", "closed"),
        ("limit forward", "open"),
        ("limit reverse", "open"),
        ("raise", "closed"),
        ("lower", "closed"),
        ("jog forward", "closed"),
        ("jog reverse", "closed"),
    ]
    assert function(found, "jog forward").setting == "at reference creep"
    assert "forward and reverse together: stop" in next(s.says for s in found.settings if s.subject == "run")


@pytest.mark.parametrize(("acts", "expected"), [("closing", "closed"), ("opening", "open")])
def test_an_override_acts_as_it_says(acts: str, expected: str) -> None:
    override = f"override: {{fire: {{by: -SJ4, acts_on: {acts}, speed: full, ignores: stop, why: smoke}}}}"
    found = at_drive(BUTTONS, f"{override}\nspeed: {{full: {{preset: 50 Hz}}}}")
    (own,) = found.functions
    assert (own.name, own.acts_on) == ("override fire", expected)
    assert own.setting.endswith("runs forward, at reference full, goes over stop")


TRANSMITTERS = """
-BP1: {profile: transmitter_two_wire, at: +F1}
-BP2: {profile: transmitter_two_wire, at: +F1}
-RA1: {profile: potentiometer, at: +C1}
"""
LOOP = "process: {setpoint: {preset: 4 bar}, feedback: {from: -BP1, spans: 0 to 9 bar}, when_feedback_rises: slow_down}"


def test_a_closed_loop_has_a_feedback_and_a_preset_takes_no_terminal() -> None:
    found = at_drive(TRANSMITTERS, f"speed: {{auto: {{spans: 20 to 50 Hz, {LOOP}}}}}")
    assert names(found) == ["feedback"]
    assert end(found, "feedback").usual == (Pin("-TA1", "AI2"),)
    said = [(s.subject, s.says) for s in found.settings if "auto" in s.subject]
    assert said == [
        ("reference auto", "closed loop, slow down when the feedback rises, spans 20 to 50 Hz"),
        ("setpoint of auto", "preset 4 bar"),
    ]


def test_a_wired_setpoint_and_two_loops() -> None:
    wired = LOOP.replace("{preset: 4 bar}", "{from: -RA1, spans: 0 to 9 bar}")
    one = at_drive(TRANSMITTERS, f"speed: {{auto: {{{wired}}}}}")
    assert names(one) == ["setpoint", "feedback"]
    two = at_drive(TRANSMITTERS, f"speed: {{day: {{{LOOP}}}, night: {{{LOOP.replace('-BP1', '-BP2')}}}}}")
    assert names(two) == ["feedback day", "feedback night"]


def test_answers_to_a_lost_signal_in_plain_words() -> None:
    found = at_drive(
        TRANSMITTERS,
        """
        speed:
          a: {from: -BP1, signal: 4-20 mA, on_low: {run_at: 20 Hz}, on_high: {use: b}}
          b: {preset: 10 Hz}
        """,
    )
    own = function(found, "reference a")
    assert (own.on_low, own.on_high) == ("run at 20 Hz", "use b")
    assert own.setting == "set 4-20 mA, signal low: run at 20 Hz, signal high: use b"


def test_a_reference_from_the_network_takes_no_terminal() -> None:
    found = at_drive("", "speed: {auto: {from: network, spans: 0 to 50 Hz, on_loss: stop}}")
    assert found.functions == ()
    assert [s.says for s in found.settings if s.subject == "reference auto"] == [
        "from the network, spans 0 to 50 Hz, network lost: stop"
    ]


def test_what_is_recorded_of_motor_and_ramps() -> None:
    found = at_drive(
        "", "motor: {power: 4 kW, speed: 1450 1/min}\nramps: {up: 5 s, down: 8 s}\nspeed_limits: 15 to 50 Hz"
    )
    said = {s.subject: s.says for s in found.settings}
    assert (said["motor"], said["ramps"]) == ("power 4 kW, speed 1450 1/min", "up 5 s, down 8 s")
    assert said["speed limits"] == "15 to 50 Hz"


def test_the_supply_of_a_loop_is_that_of_its_last_receiver() -> None:
    """The loop comes back to the receiver that gives its current to 0 V."""
    found = declared(
        """
        -TB1: {profile: supply_24v, at: +C1}
        -TA1: {profile: drive_compact, at: +C1}
        -KE4: {profile: io_analog_in_8, at: +C1}
        -BP1: {profile: transmitter_two_wire, at: +F1, loop: [-KE4, -TA1]}
        """,
        """
        -TA1: {inputs: source, zero_volt: {joined_to: -TB1}, speed: {auto: {from: -BP1}}}
        -KE4: {reads: {pressure: -BP1}}
        """,
    )
    assert {f.supply.device for f in found.functions if f.supply} == {"-TA1"}
