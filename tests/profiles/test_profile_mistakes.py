"""Bad profiles: each mistake is told with its line, its column and what would be right."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wiregen.profiles import builtin_root
from wiregen.profiles.reading import read
from wiregen.terms import UnusableInput

GOOD = """\
profile: sample
title: Sample drive
controller: drive
terminals:
  - {label: 24V, role: supply_out, volts: 24 V, limit: {value: 150 mA, basis: "typical, invented"}, common: COM}
  - {label: COM, role: zero}
  - {label: DI1, role: digital_in, group: group 1, common: COM, accepts: [contact], polarities: [source, sink]}
  - {label: AI1, role: analog_in, accepts: [4-20 mA], resistance: {4-20 mA: {value: 250 ohm, basis: typical}}}
  - {label: "21", role: relay, form: changeover, pins: ["21", "22", "24"], rating: {DC-13: 1 A 24 V, basis: typical}}
  - {label: DO1, role: digital_out, form: transistor, feed: 24V, common: COM, polarities: [source]}
  - {label: AO1, role: analog_out, gives: [0-10 V]}
joined_inside: [[COM, DO1]]
usual: {start: DI1}
figures:
  power: {value: 5 W, basis: typical}
"""


def _said(text: str, name: str = "sample") -> list[str]:
    with pytest.raises(UnusableInput) as error:
        read(text, "p.yaml", name)
    return [str(c) for c in error.value.complaints]


def test_the_sample_itself_is_good() -> None:
    assert read(GOOD, "p.yaml", "sample").title == "Sample drive"


CASES = [
    ("title: Sample drive\n", "", "1:1: 'title' is missing"),
    ("title:", "titel:", "2:1: unknown key 'titel'; did you mean 'title'?"),
    ("controller: drive", "controller: drives", "3:13: controller: 'drives' is not known; did you mean 'drive'?"),
    ("controller: drive", "controller: zebra", "3:13: controller: 'zebra' is not known; use one of drive, card"),
    ("controller: drive", "size: 3", "3:1: unknown key 'size'; known here are profile, title"),
    ("controller: drive", "symbol: a", "1:10: give exactly one of 'controller' and 'device'"),
    (
        "controller: drive",
        "controller: supply",
        "1:10: a supply has 1 pin(s) of role 'zero'",
        "role: zero",
        "role: earth",
    ),
    (
        "profile: sample",
        "profile: Sample",
        "1:10: profile: 'Sample' is not small letters, digits and underscores, a letter first",
    ),
    ("label: COM,", "label: [COM],", "6:13: terminals label: text is needed here, not a list"),
    ("role: zero", "role: zeros", "6:24: role: 'zeros' is not known; did you mean 'zero'?"),
    ("role: digital_in,", "rolle: digital_in,", "7:18: unknown key 'rolle'; did you mean 'role'?"),
    ("role: digital_in,", "rolle: digital_in,", "7:5: 'role' is missing in 'terminals'"),
    ('basis: "typical, invented"', "basis: typical, invented", "unknown key 'invented'; text that holds a comma"),
    ("150 mA", "150 mX", "terminals limit: '150 mX' is not a quantity with a known unit"),
    ("150 mA", "150 V", "'150 V' is not in A"),
    ("150 mA", "0 mA", "'0 mA' must be more than nothing"),
    ("volts: 24 V", "volts: lots", "5:43: 'lots' is not a quantity"),
    ('basis: "typical, invented"', 'basis: ""', "at least 3 characters"),
    ("{label: COM, role", "{label: 24V, role", "6:13: label '24V' stands twice"),
    ('["21", "22", "24"]', '["21", "22", "COM"]', "pin 'COM' belongs to terminal 'COM' already"),
    ('["21", "22", "24"]', '["21", "22", "22"]', "terminal '21' names a pin twice"),
    ('["21", "22", "24"]', '["21", "22"]', "a changeover contact has 3 pins; 2 given"),
    ('["21", "22", "24"]', '["22", "21", "24"]', "the first pin of terminal '21' must be '21'"),
    ('["21", "22", "24"]', '["21", "22", "2 4"]', "pin '2 4' is not letters, digits and"),
    ("group: group 1, ", "", "7:5: terminal 'DI1' of role 'digital_in' needs 'group'"),
    ("polarities: [source, sink]", "polarities: []", "terminal 'DI1' of role 'digital_in' needs 'polarities'"),
    ("polarities: [source, sink]", "polarities: [sorce]", "polarities: 'sorce' is not known; did you mean 'source'?"),
    ("accepts: [contact]", "accepts: [0-12 V]", "accepts: '0-12 V' is not known; did you mean '0-10 V'?"),
    ("accepts: [contact]", "accepts: {a: b}", "terminals accepts: a list is needed here, not a mapping"),
    ("{4-20 mA: {value", "{4-21 mA: {value", "'4-21 mA' is none of this terminal's signals; did you mean '4-20 mA'?"),
    ("250 ohm", "250 V", "'250 V' is not in ohm"),
    ("form: transistor", "form: NO", "of role 'digital_out' needs 'form: transistor'"),
    ("form: changeover", "form: transistor", "of role 'relay' is NO, NC or changeover"),
    ("feed: 24V", "feed: 24VA", "10:61: feed names pin '24VA', which this profile does not have; did you mean '24V'?"),
    ("group 1, common: COM", "group 1, common: COMM", "common names pin 'COMM', which this profile does not have"),
    ("[[COM, DO1]]", "[[COM, DOI]]", "12:23: joined_inside names pin 'DOI', which this profile does not have"),
    ("[[COM, DO1]]", "[[COM]]", "12:17: joined_inside joins two pins or more"),
    ("[[COM, DO1]]", "[COM, DO1]", "joined_inside: a list is needed here, not 'COM'"),
    ("{start: DI1}", "{start: DI7}", "13:16: usual names 'DI7', which is no channel of this profile; did you mean"),
    ("{start: DI1}", "{start: COM}", "13:16: usual names 'COM', which is no channel of this profile"),
    ("power:", "powr:", "figure 'powr' is not known; did you mean 'power'?"),
    ("5 W", "5 m", "'5 m' is not in W or VA"),
    ("DC-13: 1 A 24 V", "DC-99: 1 A 24 V", "'DC-99' is no utilisation category"),
    ("DC-13: 1 A 24 V", "DC-13: lots", "'lots' is no rating; write it as in '1 A 230 V'"),
    (", basis: typical}}\n  - {label: DO1", "}}\n  - {label: DO1", "a rating needs its 'basis'"),
    ("usual:", "start_by: now\nusual:", "start_by: 'now' is not known; use one of edge, level"),
    ("usual:", "start_by: {stop: 20 ms}\nusual:", "start_by is `edge`, `level` or `{with_stop_closed: 20 ms}`"),
    ("usual:", "start_by: {with_stop_closed: 20 m}\nusual:", "'20 m' is not in s"),
    ("usual:", "marks: [{}]\nusual:", "a contact needs the marks of NO, NC or changeover"),
    ("usual:", "marks: [{NO: [A, B, C]}]\nusual:", "a NO contact has 2 pins; 3 given"),
    ("usual:", 'marks: [{NO: ["21", "25"]}]\nusual:', "pin '21' belongs to '21' already"),
    ("usual:", "marks: [{NOO: [A, B]}]\nusual:", "unknown key 'NOO'; did you mean 'NO'?"),
    ("usual:", "conductors: many\nusual:", "conductors: Input should be a valid integer"),
    ("usual:", "conductors: 9\nusual:", "less than or equal to 4"),
    ("usual:", "usual: {}\nusual:", "duplicate key 'usual'"),
    ("accepts: [contact]", "accepts: [contact], isolated: perhaps", "isolated: Input should be a valid boolean"),
    ("gives: [0-10 V]", "gives: [0-10 V], isolated: yes", "isolated terminal 'AO1' needs its own pair of pins"),
]


@pytest.mark.parametrize("case", CASES, ids=lambda c: c[2])
def test_a_mistake_is_told_at_its_place(case: tuple[str, ...]) -> None:
    old, new, message, *more = case
    assert old in GOOD
    text = GOOD.replace(old, new, 1)
    if more:
        text = text.replace(more[0], more[1], 1)
    said = _said(text)
    assert any(message in s for s in said), said
    assert all(s.startswith("p.yaml:") for s in said)


def test_all_mistakes_are_told_in_file_order() -> None:
    said = _said(
        GOOD.replace("role: zero", "role: zeros").replace("controller:", "contoller:").replace("5 W", "five W")
    )
    assert [s.split(":")[1] for s in said] == ["3", "6", "15"]


def test_file_and_profile_bear_one_name() -> None:
    assert _said(GOOD, "other") == [
        "p.yaml:1:10: profile 'sample' stands in a file called 'other'; file and profile bear one name"
    ]


@pytest.mark.parametrize(
    ("device", "terminals", "message"),
    [
        ("lamp", "[{label: X1, role: load}]", "a lamp has 2 pin(s) of role 'load'; 1 given"),
        ("potentiometer", '[{label: "1", role: low_end}]', "a potentiometer has 1 pin(s) of role 'wiper'; 0 given"),
        ("relay", "[{label: A1, role: coil}]", "a relay has 2 pin(s) of role 'coil'; 1 given"),
        ("contact", "[]", "a contact needs 'marks' or terminals of role 'contact'"),
        ("selector", "[]", "a profile needs 'terminals' or 'marks'"),
    ],
)
def test_a_kind_has_the_pins_that_control_relies_on(device: str, terminals: str, message: str) -> None:
    said = _said(f"profile: sample\ntitle: Sample\ndevice: {device}\nterminals: {terminals}\n")
    assert any(message in s for s in said), said


def test_how_long_a_stop_must_have_been_closed() -> None:
    text = GOOD.replace("usual:", "start_by: {with_stop_closed: 20 ms}\nusual:")
    profile = read(text, "p.yaml", "sample")
    assert profile.start_by == "edge"
    assert profile.start_with_stop_closed is not None
    assert (profile.start_with_stop_closed.si, profile.start_with_stop_closed.basis) == (0.02, "not stated")


@pytest.mark.parametrize(
    ("power", "message"),
    [
        ("[{label: L1, role: mains}]", "power terminals need one of role earth: PE"),
        ("[{label: PE, role: earth}, {label: COM, role: mains}]", "label 'COM' stands twice"),
        (
            "[{label: PE, role: earth}, {label: U, role: relay, form: NO}]",
            "is of role mains, motor or earth, not 'relay'",
        ),
        ("[{label: PE, role: earth, pins: [PE, PE2]}]", "power terminal 'PE' has one pin"),
    ],
)
def test_power_terminals(power: str, message: str) -> None:
    said = _said(GOOD.replace("usual:", f"power: {power}\nusual:"))
    assert any(message in s for s in said), said


@settings(max_examples=300, deadline=None)
@given(st.data())
def test_no_mutation_of_a_profile_gives_a_traceback(data: st.DataObject) -> None:
    text = data.draw(st.sampled_from([p.read_text(encoding="utf-8") for p in sorted(builtin_root().glob("*.yaml"))]))
    start = data.draw(st.integers(0, len(text)))
    end = data.draw(st.integers(start, min(len(text), start + 30)))
    piece = data.draw(
        st.one_of(
            st.text(max_size=8), st.sampled_from(["{", "]", ": ", "- ", "null", "[[a]]", "{value: 1 A}", "\t", "&a *a"])
        )
    )
    # All built-in profiles bear another name than `sample`, so each text is refused.
    with pytest.raises(UnusableInput) as error:
        read(text[:start] + piece + text[end:], "p.yaml", "sample")
    assert error.value.complaints
    assert all(c.spot.line >= 1 and c.spot.column >= 1 and c.message for c in error.value.complaints)
