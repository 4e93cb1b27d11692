"""The brine pump, wired by a practitioner's hand. What the scheme leaves no choice in must come out as there.

Source of every expectation: worked by hand; common practice, no source. Where allocation was free to choose (`external
trip`, `select 1`, the card's input) the test asks where it put the function.
"""

from __future__ import annotations

from wiring_cases import Case, case

FIELD = ("-SJ1:13", "-SJ2:11", "-BT1:11")


def brine() -> Case:
    return case("brine_pump")


def test_no_notice() -> None:
    assert brine().notices == {}


# Invariants of any right answer


def test_transmitter_lies_between_a_supply_and_the_input() -> None:
    b = brine()
    assert b.on("-BL1:-") == {"-BL1:-", "-TA1:AI2"}
    assert b.potential("-BL1:+").kind == "plus"
    assert not b.on("-BL1:+") & {"-TA1:AI1", "-TA1:AI2"}


def test_contacts_share_one_feed() -> None:
    b = brine()
    assert set(FIELD) <= b.on("-SJ1:13")
    assert b.potential("-SJ1:13").kind == "plus"


def test_positives_and_zero_stay_apart() -> None:
    b = brine()
    assert len({b.potential(p).name for p in ("-TA1:24V", "-TB1:24V", "-TA1:COM")}) == 3


def test_lamp_and_card_return_to_the_supply_that_feeds_them() -> None:
    b = brine()
    assert {"-TA1:21", "-TA1:13"} <= b.on("-TB1:24V")
    assert {"-PF1:X2", "-KE5:COM1"} <= b.on("-TB1:0V")


def test_potentiometer() -> None:
    b = brine()
    assert (b.on("-RA1:3"), b.on("-RA1:2")) == ({"-RA1:3", "-TA1:10V"}, {"-RA1:2", "-TA1:AI1"})
    assert "-TA1:ACOM" in b.on("-RA1:1")


def test_screen_on_earth_at_one_end() -> None:
    b = brine()
    (screen,) = b.of_kind("screen")
    assert (str(screen.a), str(screen.b)) == ("-WG2:screen", "-X1:PE")


# Where the scheme leaves no choice

#: Potentials by name, pins of the strip left out.
FORCED = {
    "24 V of -TA1": {"-TA1:24V", "-SJ1:13", "-SJ2:11", "-BT1:11", "-SJ3:13", "-BL1:+"},
    "start of -TA1": {"-TA1:DI1", "-SJ1:14"},
    "stop of -TA1": {"-TA1:DI2", "-SJ2:12"},
    "10 V of -TA1": {"-TA1:10V", "-RA1:3"},
    "reference hand of -TA1": {"-TA1:AI1", "-RA1:2"},
    "reference auto of -TA1": {"-TA1:AI2", "-BL1:-"},
    "24 V of -TB1": {"-TB1:24V", "-KE5:24V", "-TA1:21", "-TA1:13"},
    "fault of -TA1": {"-TA1:22", "-PF1:X1"},
    "0 V of -TB1": {
        "-TB1:0V",
        "-TA1:COM",
        "-TA1:ACOM",
        "-RA1:1",
        "-KE5:0V",
        "-KE5:COM1",
        "-PF1:X2",
    },
    "PE": {"-TB1:PE", "-WG2:screen"},
}


def test_forced_potentials() -> None:
    b = brine()
    by_name = {p.name: {str(q) for q in p.pins if q.device != "-X1"} for p in b.wiring.potentials}
    assert {name: by_name.get(name) for name in FORCED} == FORCED
    free = {name: pins for name, pins in by_name.items() if name not in FORCED}
    assert set(free) == {"external trip of -TA1", "select 1 of -TA1", "running of -TA1"}
    assert [len(pins) for pins in free.values()] == [2, 2, 2]


def test_free_choices_land_on_inputs() -> None:
    b = brine()
    for contact, device in (("-BT1:12", "-TA1"), ("-SJ3:14", "-TA1"), ("-TA1:14", "-KE5")):
        (other,) = b.on(contact) - {contact}
        assert other.startswith(f"{device}:DI")


def test_numbers_run_from_the_drive_to_zero_volt() -> None:
    """24 V first, 0 V last, protective earth without a number of its own; one number a potential."""
    numbers = [p.number for p in brine().wiring.potentials]
    assert numbers == [f"{n:02d}" for n in range(1, 13)] + ["PE"]
    assert (brine().potential("-TA1:24V").number, brine().potential("-TB1:0V").number) == ("01", "12")


def test_field_wires_run_from_button_to_button() -> None:
    b = brine()
    assert {frozenset(("-SJ1:13", "-SJ2:11")), frozenset(("-SJ2:11", "-BT1:11"))} <= b.wires()
    assert [c.cable for c in b.at("-SJ1:13") if c.kind == "core"] == ["-WG1"]


def test_drive_has_one_tie_to_zero_volt() -> None:
    """A second one, at ACOM, would be a loop through the drive."""
    b = brine()
    (tie,) = b.at("-TA1:COM")
    assert "-X1" in (tie.a.device, tie.b.device if tie.b else "")
    (reference,) = b.at("-TA1:ACOM")
    assert {str(reference.a), str(reference.b)} == {"-TA1:ACOM", "-RA1:1"}


def test_cables() -> None:
    b = brine()
    first, second = b.wiring.cables
    assert (first.name, first.a, first.b, first.category) == ("-WG1", "+C1", "+F1", "control")
    assert (first.cores, first.used, first.spare, first.area_mm2, first.screened) == (5, 4, 1, 1.0, False)
    assert (second.name, second.category, second.pairs, second.used, second.spare) == ("-WG2", "analog", 1, 2, 0)
    assert (second.area_mm2, second.screen, first.length_m, second.length_m) == (0.75, "cabinet end", 35.0, 35.0)
    assert b.cores_in("-WG1") == {"1": "-SJ1:13", "2": "-SJ1:14", "3": "-SJ2:12", "4": "-BT1:12", "5": ""}
    assert b.cores_in("-WG2") == {"WH": "-BL1:+", "BN": "-BL1:-"}


def test_strip() -> None:
    """Cores in cable order, the spare one on a terminal of its own, then what distributes, then PE."""
    b = brine()
    names = [t.name for t in b.terminals()]
    assert names[:7] == ["1", "2", "3", "4", "5", "6", "7"]
    assert names[-1] == "PE"
    conductors = {c.id: c for c in b.wiring.conductors}
    outside = [conductors[t.outside[0]] for t in b.terminals()[:7]]
    assert [(c.cable, c.core) for c in outside] == [
        ("-WG1", "1"),
        ("-WG1", "2"),
        ("-WG1", "3"),
        ("-WG1", "4"),
        ("-WG1", "5"),
        ("-WG2", "WH"),
        ("-WG2", "BN"),
    ]
    inside = [str(conductors[t.inside[0]].a) if t.inside else "" for t in b.terminals()[:7]]
    assert inside[:4] == ["-TA1:24V", "-TA1:DI1", "-TA1:DI2", next(iter(b.on("-BT1:12") - {"-BT1:12"}))]
    assert inside[4:] == ["", "-SJ3:13", "-TA1:AI2"]
    assert b.terminals()[4].potential is None
    assert (b.terminals()[0].bridged_to, b.terminals()[5].bridged_to) == (("6",), ("1",))


def test_earth_link_is_drawn_at_the_supply_and_joins_nothing() -> None:
    b = brine()
    (link,) = b.of_kind("link")
    assert {b.potential(str(link.a)).name, b.potential(str(link.b)).name} == {"0 V of -TB1", "PE"}


def test_colours() -> None:
    """DC control circuits are blue, the protective conductor green-and-yellow (IEC 60204-1, 13.2.4)."""
    b = brine()
    assert {c.colour for c in b.of_kind("wire")} == {"BU", "GNYE"}
    assert {c.colour for c in b.of_kind("core")} == {"BK", "WH", "BN"}


def test_unused_terminals_are_on_no_potential() -> None:
    b = brine()
    used = {str(p) for q in b.wiring.potentials for p in q.pins}
    assert not used & {"-TA1:AO1", "-TA1:24", "-KE5:COM2", "-TB1:L", "-TB1:N"}


def test_sink_turns_the_feeds_over() -> None:
    """The variant: the contacts switch 0 V, the loop stays on +24 V."""
    b = case("brine_pump", "sinking")
    assert {*FIELD, "-SJ3:13", "-TB1:0V"} <= b.on("-TA1:COM")
    assert b.on("-TA1:24V") == {"-TA1:24V", "-BL1:+"}
    assert b.on("-BL1:-") == {"-BL1:-", "-TA1:AI2"}
