"""Outputs: duties and what they switch, values shown, what cards read and operate; polarity of groups.

The names of functions are the format's; worked by hand.
"""

from __future__ import annotations

import pytest
from control_schemes import PLANT, at_drive, declared, end, function, notices

from wiregen.control.functions import Load, Meter, Potentiometer, Transmitter
from wiregen.terms import Pin

LOADS = """
-PF1: {profile: pilot_lamp, at: +F1}
-PJ1: {profile: horn, at: +C1}
-MB1: {profile: solenoid_valve, at: +F1}
-KF1: {profile: interposing_relay, at: +C1}
-QA1: {profile: contactor, at: +C1}
"""


@pytest.mark.parametrize(
    ("load", "a", "b", "earth", "current_a"),
    [
        ("-PF1", "X1", "X2", None, 0.02),
        ("-PJ1", "X1", "X2", None, 0.02),
        ("-MB1", "1", "2", "PE", 8 / 24),
        ("-KF1", "A1", "A2", None, 1 / 24),
        ("-QA1", "A1", "A2", None, 3 / 24),
    ],
)
def test_loads(load: str, a: str, b: str, earth: str | None, current_a: float) -> None:
    """The current follows from the profile's current, or its power at 24 V."""
    found = at_drive(LOADS, f"relays: {{running: {load}}}")
    partner = function(found, "running").partner
    assert partner == Load(load, Pin(load, a), Pin(load, b), Pin(load, earth) if earth else None)
    assert end(found, "running").load_a == pytest.approx(current_a)


@pytest.mark.parametrize(
    ("name", "duty", "forms", "setting"),
    [
        ("fault", "-PF1", {"NO"}, "set fault, energised while healthy"),
        ("fault", "{switches: -PF1, contact: NC}", {"NC"}, "set fault, energised while healthy"),
        ("fault", "{switches: -PF1, energised: in_fault}", {"NO"}, "set fault, energised in fault"),
        ("at_speed", "{switches: -PF1, contact: NO}", {"NO"}, "set at speed"),
        ("ready", "{switches: -PF1, contact: transistor}", {"transistor"}, "set ready"),
    ],
)
def test_duties(name: str, duty: str, forms: set[str], setting: str) -> None:
    found = at_drive(LOADS, f"relays: {{{name}: {duty}}}")
    made = function(found, name.replace("_", " "))
    assert (made.purpose, made.acts_on, made.setting) == ("output", "closed", setting)
    assert (made.ends[0].role, set(made.ends[0].forms), made.ends[0].bundle) == ("output", forms, "+F1 control")


def test_duty_read_by_a_card_has_two_ends() -> None:
    found = at_drive("-KE1: {profile: io_digital_in_16, at: +F1}", "relays: {running: -KE1}")
    here, there = function(found, "running").ends
    assert (here.id, there.id) == ("-TA1 running", "-KE1 running of -TA1")
    assert (here.role, there.role, set(here.forms), there.polarity) == ("output", "digital_in", {"NO"}, None)
    assert (here.bundle, there.bundle) == ("+F1 control", "+C1 control")
    assert there.premises[0].says == "running of -TA1 of -TA1"


def test_transistor_duty_fits_inputs_wired_for_source_only() -> None:
    found = at_drive(
        "-KE1: {profile: io_digital_in_16, at: +C1}",
        "relays: {running: {switches: -KE1, contact: transistor}}",
    )
    assert end(found, "running", number=1).polarity == "source"


@pytest.mark.parametrize(
    ("card", "forms", "polarity"),
    [
        ("io_digital_out_16", {"transistor"}, "source"),
        ("io_relay_out_8", {"NO"}, None),
        ("drive_compact", {"NO"}, None),
    ],
)
def test_input_driven_by_another_controller(card: str, forms: set[str], polarity: str | None) -> None:
    found = at_drive(f"-KE2: {{profile: {card}, at: +C1}}", "enable: -KE2")
    here, there = function(found, "enable").ends
    assert (there.id, set(there.forms), here.polarity) == ("-KE2 enable of -TA1", forms, polarity)


@pytest.mark.parametrize(
    ("section", "code", "says"),
    [
        ("relays: {fault: -SJ1}", "load-unfit", "is no load that fault of -TA1 could switch"),
        ("relays: {fault: -TB1}", "load-unfit", "is no load"),
        ("relays: {fault: {switches: -PF1, contact: changeover}}", "contact-unclear", "say contact: NO or contact: NC"),
        ("relays: {running: -TA2}", "input-without-meaning", "declare it there instead, as in `enable: -TA1`"),
        ("shows: {speed: -PF1}", "load-unfit", "shows no analog value"),
        ("speed: {auto: {from: -PF1}}", "source-unfit", "gives no analog signal"),
        ("speed: {auto: {from: -TB1}}", "source-unfit", "gives no analog signal"),
    ],
)
def test_what_an_output_cannot_do(section: str, code: str, says: str) -> None:
    more = "-SJ1: {profile: push_button, at: +C1}\n-TA2: {profile: drive_compact, at: +C1, zero_volt: floating}"
    found = at_drive(LOADS + more, section)
    assert says in notices(found)[code]


def test_shown_values() -> None:
    found = at_drive(
        "-PG1: {profile: panel_meter, at: +F1}\n-KE3: {profile: io_analog_in_8, at: +C1}",
        "shows: {speed: {on: -PG1, spans: 0 to 50 Hz}, load: {on: -KE3, signal: 0-10 V}}",
    )
    speed, load = function(found, "show speed"), function(found, "show load")
    assert speed.partner == Meter("-PG1", Pin("-PG1", "+"), Pin("-PG1", "-"))
    assert (speed.signal, speed.setting, speed.category) == ("4-20 mA", "set 4-20 mA, spans 0 to 50 Hz", "analog")
    assert [e.id for e in load.ends] == ["-TA1 show load", "-KE3 show load of -TA1"]
    assert [e.role for e in load.ends] == ["analog_out", "analog_in"]
    assert {frozenset(e.signals) for e in load.ends} == {frozenset({"0-10 V"})}


def test_reference_from_another_controller() -> None:
    found = at_drive("-KE4: {profile: io_analog_out_4, at: +C1}", "speed: {led: {from: -KE4, signal: 0-10 V}}")
    here, there = function(found, "reference led").ends
    assert (here.id, there.id) == ("-TA1 reference led", "-KE4 reference led of -TA1")
    assert (here.role, there.role, set(there.signals)) == ("analog_in", "analog_out", {"0-10 V"})


@pytest.mark.parametrize(
    ("profile", "said", "signal"),
    [
        ("potentiometer", "", "0-10 V"),
        ("transmitter_two_wire", "", "4-20 mA"),
        ("transmitter_four_wire", ", signal: 0-20 mA", "0-20 mA"),
    ],
)
def test_signal_where_none_is_said(profile: str, said: str, signal: str) -> None:
    found = at_drive(f"-D1: {{profile: {profile}, at: +C1{said}}}", "speed: {auto: {from: -D1}}")
    assert function(found, "reference auto").signal == signal


def test_sources() -> None:
    found = at_drive(
        """
        -RA1: {profile: potentiometer, at: +C1}
        -BP2: {profile: transmitter_two_wire, at: +C1}
        -BP3: {profile: transmitter_three_wire, at: +C1}
        -BP4: {profile: transmitter_four_wire, at: +C1}
        -BP5: {profile: transmitter_four_wire, isolated: no, at: +C1}
        """,
        "speed: {a: {from: -RA1}, b: {from: -BP2}, c: {from: -BP3}, d: {from: -BP4}, e: {from: -BP5}}",
    )
    partners = [f.partner for f in found.functions]
    assert partners[0] == Potentiometer("-RA1", Pin("-RA1", "1"), Pin("-RA1", "2"), Pin("-RA1", "3"))
    units = [p for p in partners[1:] if isinstance(p, Transmitter)]
    assert [(u.wires, u.output.name, u.output_return and u.output_return.name, u.isolated) for u in units] == [
        (2, "-", None, False),
        (3, "out", None, False),
        (4, "out+", "out-", True),
        (4, "out+", "out-", False),
    ]


def test_cards_read_and_operate_under_names_of_their_own() -> None:
    found = declared(
        PLANT + LOADS + "-KE1: {profile: io_digital_in_16, at: +C1}\n-KE2: {profile: io_relay_out_8, at: +C1}\n"
        "-BG1: {profile: proximity_three_wire, output: PNP, at: +F1}",
        "-KE1: {inputs: source, reads: {lid_closed: -BG1}}\n-KE2: {operates: {water: -MB1}}",
    )
    assert [(f.controller, f.name, f.purpose, f.acts_on) for f in found.functions] == [
        ("-KE1", "lid closed", "input", "closed"),
        ("-KE2", "water", "output", "closed"),
    ]


# Groups of inputs


@pytest.mark.parametrize(
    ("inputs", "polarities", "declared_so"),
    [
        ("inputs: source", ["source", "source"], [True, True]),
        ("inputs: sink", ["sink", "sink"], [True, True]),
        ("inputs: {wired: sink, supply: -TB1}", ["sink", "sink"], [True, True]),
        ("inputs: {group 1: source, group 2: sink}", ["source", "sink"], [True, True]),
        ("inputs: {group 2: sink}", ["source", "sink"], [False, True]),
        ("inputs: {wired: sink, group 2: source}", ["sink", "source"], [True, True]),
        ("inputs: {supply: -TB1}", ["source", "source"], [False, False]),
    ],
)
def test_groups(inputs: str, polarities: list[str], declared_so: list[bool]) -> None:
    found = declared(
        "-TB1: {profile: supply_24v, at: +C1}\n-TA1: {profile: drive_extended, at: +C1, zero_volt: floating}",
        f"-TA1: {{restart: allowed, {inputs}}}",
    )
    assert [g.polarity for g in found.groups] == polarities
    assert [g.declared for g in found.groups] == declared_so
    assert [str(g.common) for g in found.groups] == ["-TA1:COM1", "-TA1:COM2"]
    assert ("polarity-not-declared" in notices(found)) == (not all(declared_so))


def test_group_that_returns_inside_has_no_common() -> None:
    found = declared("-TA1: {profile: drive_compact, at: +C1, zero_volt: floating}", "-TA1: {inputs: sink}")
    assert [(g.group, g.common) for g in found.groups] == [("group 1", None)]


def test_card_without_a_section_is_told_of_when_it_is_used() -> None:
    unused = declared(
        PLANT + "-KE1: {profile: io_digital_in_16, at: +C1}", "-TA1: {inputs: source, zero_volt: floating}"
    )
    assert "polarity-not-declared" not in notices(unused)
    used = at_drive("-KE1: {profile: io_digital_in_16, at: +C1}", "relays: {running: -KE1}")
    assert notices(used)["polarity-not-declared"].startswith("-KE1 does not say")
