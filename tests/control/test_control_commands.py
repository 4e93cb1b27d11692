"""What a drive's section declares, as digital inputs: names, senses, order, ends.

Names and senses are those of the format's table of functions; the sense of a broken wire is common practice, no source.
"""

from __future__ import annotations

import pytest
from control_schemes import at_drive, end, function, notices

from wiregen.control.functions import Leg
from wiregen.terms import Pin

BUTTONS = """
-SJ1: {profile: push_button, contact: NO, at: +F1}
-SJ2: {profile: push_button, contact: NC, at: +F1}
-SJ3: {profile: push_button, contact: NO, at: +C1}
"""

#: Declaration -> the functions it makes, and when each acts.
TABLE = [
    (
        "run: {method: three-wire, start: -SJ1, start_reverse: -SJ3, stop: -SJ2}",
        [("start", "closing"), ("start reverse", "closing"), ("stop", "open")],
    ),
    (
        "run: {method: two-wire, forward: -SJ1, reverse: -SJ3}",
        [("run forward", "closed"), ("run reverse", "closed")],
    ),
    ("reverse: -SJ1", [("reverse", "closed")]),
    ("enable: -SJ1", [("enable", "open")]),
    ("external_trip: -SJ2", [("external trip", "open")]),
    ("reset: -SJ1", [("reset", "closing")]),
    ("raise: -SJ1", [("raise", "closed")]),
    ("lower: -SJ1", [("lower", "closed")]),
]


@pytest.mark.parametrize(
    ("section", "expected"), TABLE, ids=[t[0].partition(":")[0] + str(n) for n, t in enumerate(TABLE)]
)
def test_functions_and_senses(section: str, expected: list[tuple[str, str]]) -> None:
    found = at_drive(BUTTONS, section)
    assert [(f.name, f.acts_on) for f in found.functions] == expected
    assert {f.purpose for f in found.functions} == {"input"}
    assert {f.category for f in found.functions} == {"control"}
    assert [f.order for f in found.functions] == list(range(len(expected)))
    assert notices(found) == {}


#: Function, how its contact is named, when it then acts, and the setting that this needs.
SENSES = [
    ("enable", "-SJ1", "open", ""),
    ("enable", "{by: -SJ1, healthy: closed}", "open", ""),
    ("enable", "{by: -SJ1, healthy: open}", "closed", "set enable to act when its input is closed"),
    ("enable", "{by: -SJ1, acts_on: opening}", "open", ""),
    ("enable", "{by: -SJ1, acts_on: closing}", "closed", "set enable to act when its input is closed"),
    ("external_trip", "{by: -SJ1, healthy: open}", "closed", "set external trip to act when its input is closed"),
    ("reverse", "{by: -SJ1, acts_on: closing}", "closed", ""),
    ("reverse", "{by: -SJ1, acts_on: opening}", "open", "set reverse to act when its input is open"),
    ("reset", "{by: -SJ1, acts_on: closing}", "closing", ""),
    ("reset", "{by: -SJ1, acts_on: opening}", "opening", "set reset to act when its input is opened (edge)"),
]


@pytest.mark.parametrize(("name", "use", "acts", "setting"), SENSES)
def test_sense_overridden(name: str, use: str, acts: str, setting: str) -> None:
    found = at_drive(BUTTONS, f"{name}: {use}")
    made = function(found, name.replace("_", " "))
    assert (made.acts_on, made.setting) == (acts, setting)


def test_letters_do_not_change_the_sense() -> None:
    """A stop with a make contact is wired as declared."""
    found = at_drive(BUTTONS, "run: {method: three-wire, start: -SJ1, stop: -SJ3}")
    stop = function(found, "stop")
    assert stop.acts_on == "open"
    assert isinstance(stop.partner, Leg)
    assert (stop.partner.contact.form, stop.partner.a, stop.partner.b) == ("NO", Pin("-SJ3", "13"), Pin("-SJ3", "14"))


def test_end_of_an_input() -> None:
    found = at_drive(BUTTONS, "run: {method: three-wire, start: -SJ1, stop: -SJ2}", rest="fixed: {-TA1: {DI6: start}}")
    start, stop = end(found, "start"), end(found, "stop")
    assert (start.id, start.function, start.devices, start.role) == ("-TA1 start", "start", ("-TA1",), "digital_in")
    assert start.signals == {"contact"}
    assert (start.fixed, stop.fixed) == (Pin("-TA1", "DI6"), None)
    assert (start.usual, stop.usual) == ((Pin("-TA1", "DI4"),), (Pin("-TA1", "DI1"),))
    assert start.where == ("control", "-TA1", "run", "start")
    assert [p.kind for p in start.premises] == ["need"]


def test_what_shares_a_cable_is_one_bundle() -> None:
    found = at_drive(BUTTONS, "run: {method: three-wire, start: -SJ1, stop: -SJ2}\nenable: -SJ3")
    assert [end(found, name).bundle for name in ("start", "stop", "enable")] == ["+F1 control", "+F1 control", ""]


@pytest.mark.parametrize(
    ("run", "says"),
    [
        ("{method: three-wire, start: -SJ1}", "needs `stop:`"),
        ("{method: three-wire, stop: -SJ2}", "needs `start:`"),
        ("{method: two-wire, reverse: -SJ1}", "needs `forward:`"),
        ("{method: two-wire, forward: -SJ1, stop: -SJ2}", "`stop` does not belong to the two-wire run"),
        ("{method: three-wire, start: -SJ1, stop: -SJ2, forward: -SJ3}", "`forward` does not belong"),
    ],
)
def test_run_incomplete(run: str, says: str) -> None:
    assert says in notices(at_drive(BUTTONS, f"run: {run}"))["run-incomplete"]


@pytest.mark.parametrize(
    ("fixed", "code", "says"),
    [
        ("{-TA1: {DI1: stpo}}", "fixed-function-unknown", "did you mean stop"),
        ("{-TA1: {24V: stop}}", "fixed-terminal-unknown", "it has DI1, DI2"),
        ("{-TA1: {DI1: stop, DI2: stop}}", "function-on-two-terminals", "fixed on DI1 and on DI2"),
        ("{-TA1: {22: stop}}", "", ""),
    ],
)
def test_fixed(fixed: str, code: str, says: str) -> None:
    run = "run: {method: three-wire, start: -SJ1, stop: -SJ2}"
    found = notices(at_drive(BUTTONS, run, rest=f"fixed: {fixed}"))
    assert says in found.get(code, "")
    assert list(found) == ([code] if code else [])


def test_a_pin_names_its_whole_terminal() -> None:
    """22 is the second pin of the relay 21."""
    found = at_drive("-PF1: {profile: pilot_lamp, at: +C1}", "relays: {fault: -PF1}", rest="fixed: {-TA1: {22: fault}}")
    assert end(found, "fault").fixed == Pin("-TA1", "21")


@pytest.mark.parametrize(
    "section",
    [
        "run: {method: three-wire, start: -SJ1, stop: -SJ2}\nrelays: {start: -PF1}",
        "relays: {at_speed: -PF1, at speed: -PF2}",
    ],
)
def test_two_functions_of_one_name(section: str) -> None:
    lamps = "-PF1: {profile: pilot_lamp, at: +C1}\n-PF2: {profile: pilot_lamp, at: +C1}\n"
    found = at_drive(BUTTONS + lamps, section)
    assert "two functions called" in notices(found)["function-declared-twice"]
    ids = [e.id for f in found.functions for e in f.ends]
    assert len(set(ids)) == len(ids)
    assert [f.order for f in found.functions] == list(range(len(found.functions)))
