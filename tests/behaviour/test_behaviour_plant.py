"""Plants of the examples under hands: what runs, what stops, and what comes back with the supply."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

import wiregen
from wiregen.behaviour import Plant, Standing
from wiregen.circuit import Change
from wiregen.terms import Pin

EXAMPLES = Path(__file__).parents[2] / "examples"


@cache
def plant(name: str) -> Plant:
    return Plant.of_design(wiregen.design(wiregen.read(EXAMPLES / f"{name}.yaml")))


def led(name: str, *deeds: str) -> Standing:
    """The standing of an example after deeds such as ``operate -SJ1``, from its rest."""
    own = plant(name)
    standing = own.at_rest()
    for deed in deeds:
        word, *what = deed.split()
        hands = standing.hands
        match word:
            case "press":
                standing = own.after(standing, hands.operate(*what))
                standing = own.after(standing, standing.hands.release(*what))
                continue
            case "dip":
                standing = own.after(standing, hands.off(own.fed_devices))
                standing = own.after(standing, standing.hands.on(own.fed_devices))
                continue
            case "key":
                standing = own.after(standing, hands.reset_at(what[0]))
                standing = own.after(standing, standing.hands.reset_at(what[0], pressed=False))
                continue
            case "give":
                hands = hands.give(what[0], float(what[1]))
            case "turn":
                hands = hands.turn(*what)
            case _:
                hands = getattr(hands, word)(*what)
        standing = own.after(standing, hands)
    assert not standing.restless
    assert not standing.doubtful
    return standing


def test_a_start_lasts_until_the_stop_and_the_stop_until_the_next_start() -> None:
    # Three-wire control, low-voltage protection: common practice, no source.
    assert led("brine_pump").drive("-TA1").moving == 0
    assert led("brine_pump", "operate -SJ1").drive("-TA1").moving == 1
    assert led("brine_pump", "press -SJ1").drive("-TA1").moving == 1
    assert led("brine_pump", "press -SJ1", "operate -SJ2").drive("-TA1").moving == 0
    assert led("brine_pump", "press -SJ1", "press -SJ2").drive("-TA1").moving == 0
    assert led("brine_pump", "press -SJ1", "dip").drive("-TA1").moving == 0
    assert led("brine_pump", "operate -SJ1", "dip").drive("-TA1").moving == 0
    assert led("brine_pump", "operate -SJ1", "operate -SJ2", "release -SJ2").drive("-TA1").moving == 0


def test_a_contact_that_stays_closed_runs_again_when_the_supply_returns() -> None:
    # Two-wire control, low-voltage release: common practice, no source.
    assert led("irrigation_pump", "turn -SJ1 ON").drive("-TA1").moving == 1
    assert led("irrigation_pump", "turn -SJ1 ON", "dip").drive("-TA1").moving == 1
    assert led("irrigation_pump", "turn -SJ1 ON", "turn -SJ1 OFF", "dip").drive("-TA1").moving == 0


def test_a_seal_in_of_a_contactor_drops_with_its_supply() -> None:
    running = ("operate LS1", "press PB1")
    assert led("dough_mixer_120v", *running).drive("VFD1").moving == 1
    assert led("dough_mixer_120v", *running).picked == {"1CR"}
    assert led("dough_mixer_120v", *running, "dip").drive("VFD1").moving == 0
    assert led("dough_mixer_120v", *running, "operate PB2").picked == frozenset()


def test_a_lost_signal_trips_and_a_trip_stays_until_it_is_reset() -> None:
    auto = ("turn -SJ3 AUTO", "press -SJ1")
    assert led("brine_pump", *auto).drive("-TA1").hz == pytest.approx(32.5, abs=0.01)  # 12 mA of 15 to 50 Hz
    low = led("brine_pump", *auto, "give -BL1 0.0035")
    assert (low.drive("-TA1").moving, low.lit) == (0, {"-PF1"})
    assert led("brine_pump", *auto, "give -BL1 0.0039").drive("-TA1").moving == 1  # NAMUR NE 43: still a measurement
    back = led("brine_pump", *auto, "give -BL1 0.0035", "give -BL1 0.012")
    assert back.drive("-TA1").tripped
    assert led("brine_pump", *auto, "operate -BT1", "release -BT1").drive("-TA1").tripped == "external trip"
    reset = led("brine_pump", *auto, "operate -BT1", "release -BT1", "key -TA1")
    assert (reset.drive("-TA1").tripped, reset.drive("-TA1").moving) == ("", 0)
    assert led("brine_pump", *auto, "operate -BT1", "key -TA1").drive("-TA1").tripped  # its cause is still there


def test_a_safety_relay_takes_its_reset_when_it_is_let_go_and_the_motor_a_start_after_it() -> None:
    stopped = ("press -SJ1", "operate -SF1")
    assert led("dough_mixer", *stopped).drive("-TA1").why == "safe torque off 1"
    assert led("dough_mixer", *stopped).lit == {"-PF1"}
    assert led("dough_mixer", *stopped, "release -SF1").drive("-TA1").why == "safe torque off 1"
    assert led("dough_mixer", *stopped, "release -SF1", "operate -SJ5").lit == {"-PF1"}
    assert led("dough_mixer", *stopped, "press -SJ5").lit == {"-PF1"}
    after = led("dough_mixer", *stopped, "release -SF1", "press -SJ5")
    assert (after.drive("-TA1").moving, after.lit) == (0, frozenset())
    assert led("dough_mixer", *stopped, "release -SF1", "press -SJ5", "press -SJ1").drive("-TA1").moving == 1
    assert led("dough_mixer", "press -SJ1", "operate -BT1").drive("-TA1").tripped == "motor thermistor"


def test_directions_limits_and_relays_that_keep_a_direction() -> None:
    assert led("lifting_table", "operate -SJ1").drive("-TA1").moving == 1
    assert led("lifting_table", "operate -SJ1").picked == {"-QA5"}
    assert led("lifting_table", "operate -SJ2").drive("-TA1").moving == -1
    assert led("lifting_table", "operate -SJ1", "operate -SJ2").drive("-TA1").moving == 0
    assert led("lifting_table", "operate -SJ1", "operate -BG1").drive("-TA1").moving == 0
    assert led("lifting_table", "operate -BG1", "operate -SJ2").drive("-TA1").moving == -1
    assert led("lifting_table", "operate -SJ1", "dip").drive("-TA1").moving == 0
    assert led("shuttle", "press -SJ1", "press -BG1").drive("-TA1").moving == -1
    assert led("shuttle", "press -SJ1", "press -BG1", "operate -BG2").drive("-TA1").moving == 1


def test_a_loop_that_loses_its_feedback_does_as_declared() -> None:
    run = ("press -SJ1",)
    assert led("pressure_pump", *run, "give -BP1 0.003").drive("-TA1").hz == 25.0
    assert led("pressure_pump", *run, "give -BP1 0.006").drive("-TA1").hz == 50.0  # too low: it runs up to its end
    assert led("pressure_pump", *run, "give -BP1 0.018").drive("-TA1").hz == 20.0
    assert led("pressure_pump", *run, "give -BP1 0.022").drive("-TA1").tripped


def test_a_change_in_the_wiring_is_another_plant() -> None:
    own = plant("brine_pump")
    running = led("brine_pump", "press -SJ1")
    stop = Pin("-TA1", "DI2")
    wire = next(r.of for r in own.circuit.fixed if r.kind == "wire" and stop in (r.a, r.b))
    broken = own.changed(Change(opened=(wire,)))
    assert broken.after(running, running.hands).drive("-TA1").why == "stop"
    assert own.after(running, running.hands).drive("-TA1").moving == 1


def test_every_example_comes_to_rest_and_no_motor_moves_before_a_command() -> None:
    for path in sorted(EXAMPLES.glob("*.yaml")):
        own = plant(path.stem)
        rest = own.at_rest()
        assert not rest.restless, path.stem
        assert not rest.doubtful, path.stem
        assert all(rest.drive(name).moving == 0 for name in own.drives), path.stem
