"""The rules one by one, and the brine pump by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest
from allocation_plants import BOTH, CONTACT, MILLIAMPS, NONE, VOLTS, channel, compact_drive, input_card

from wiregen.allocation import allocate
from wiregen.allocation.model import Allocation, Assignment, End, Problem
from wiregen.terms import InternalFault, Pin


def end(function: str, role: str = "digital_in", device: str = "-TA1", **more: object) -> End:
    signals = more.pop("signals", CONTACT if role == "digital_in" else NONE)
    return End(f"{device} {function}", function, (device,), role, signals, **more)  # type: ignore[arg-type]


def places(allocation: Allocation) -> dict[str, str]:
    return {f"{a.device} {a.function}": a.channel for a in allocation.assignments}


def only(problem: Problem) -> Assignment:
    allocation = allocate(problem)
    assert allocation.status == "optimal"
    (assignment,) = allocation.assignments
    return assignment


def brine_pump() -> Problem:
    """Start and stop are fixed, everything else is for choice."""
    usual = {"external trip": (Pin("-TA1", "DI2"),), "start": (Pin("-TA1", "DI4"),), "stop": (Pin("-TA1", "DI1"),)}
    ends = (
        end("start", usual=usual["start"], fixed=Pin("-TA1", "DI1"), bundle="+F1 control"),
        end("stop", usual=usual["stop"], fixed=Pin("-TA1", "DI2"), bundle="+F1 control"),
        end("external trip", usual=usual["external trip"], bundle="+F1 control"),
        end("reference hand", "analog_in", signals=VOLTS),
        end("reference auto", "analog_in", signals=MILLIAMPS, bundle="+F1 analog"),
        end("select 1"),
        end("fault", "relay", forms=frozenset({"NC"})),
        end("running", "relay", forms=frozenset({"NO"})),
        end("running of -TA1", device="-KE5"),
    )
    polarity = ((("-TA1", "DI"), "source"), (("-KE5", "1"), "source"), (("-KE5", "2"), "source"))
    return Problem(ends, tuple(compact_drive("-TA1") + input_card("-KE5")), polarity)


def test_the_brine_pump_is_allocated_as_by_hand() -> None:
    """Forced: a break contact exists only on the changeover, current only on AI2. Source: worked by hand."""
    allocation = allocate(brine_pump())
    found = places(allocation)
    assert allocation.status == "optimal"
    assert found["-TA1 start"] == "DI1"
    assert found["-TA1 stop"] == "DI2"
    assert found["-TA1 external trip"] == "DI3"
    assert found["-TA1 select 1"] == "DI4"
    assert found["-TA1 reference hand"] == "AI1"
    assert found["-TA1 reference auto"] == "AI2"
    assert found["-TA1 fault"] == "21"
    assert found["-TA1 running"] == "13"
    assert found["-KE5 running of -TA1"] == "DI3", "DI1 and DI2 of this card count pulses"
    pins = {a.function: a.pins for a in allocation.assignments}
    assert pins["fault"] == ("21", "22")
    assert pins["running"] == ("13", "14")
    by_name = {a.function: a for a in allocation.assignments}
    assert (by_name["fault"].form, by_name["running"].form, by_name["start"].form) == ("NC", "NO", "")
    assert by_name["reference auto"].signal == "4-20 mA"
    assert by_name["start"].polarity == "source"
    assert [a.function for a in allocation.assignments] == [e.function for e in brine_pump().ends]


def test_levels_come_in_their_order_and_are_proven() -> None:
    levels = allocate(brine_pump()).levels
    names = ["moves", "unusual", "scarce", "together", "from the top", "tie-break"]
    assert [level.name for level in levels] == names
    assert all(level.proven and level.value == level.bound for level in levels)
    # Start, stop and trip off their usual place; DI1 (2), AI2 (1) and 21 (2) in use.
    assert [level.value for level in levels[:3]] == [0, 3, 5]


@pytest.mark.parametrize(
    ("forms", "form", "pins"),
    [
        ({"NO"}, "NO", ("21", "24")),
        ({"NC"}, "NC", ("21", "22")),
        ({"changeover"}, "changeover", ("21", "22", "24")),
        ({"NO", "NC"}, "NO", ("21", "24")),
        (set(), "NO", ("21", "24")),
    ],
)
def test_a_changeover_gives_the_pins_of_the_chosen_contact(forms: set[str], form: str, pins: tuple[str, ...]) -> None:
    """Pins common, break, make: 1, 2, 4 are the function digits of a changeover contact (EN 50005, from memory)."""
    relay = channel("-TA1", "21", "output", 0, pins=("21", "22", "24"), forms=frozenset({"NO", "NC", "changeover"}))
    found = only(Problem((end("fault", "output", forms=frozenset(forms)),), (relay,)))
    assert (found.form, found.pins) == (form, pins)


def test_a_transistor_output_says_its_polarity_and_a_relay_none() -> None:
    transistor = channel("-KA1", "DO1", "output", 0, polarities=frozenset({"source"}), forms=frozenset({"transistor"}))
    relay = channel("-KA1", "13", "output", 1, pins=("13", "14"), forms=frozenset({"NO"}))
    for forms, polarity, form in (({"transistor"}, "source", "transistor"), ({"NO"}, "", "NO")):
        found = only(Problem((end("x", "output", "-KA1", forms=frozenset(forms)),), (transistor, relay)))
        assert (found.polarity, found.form) == (polarity, form)


@pytest.mark.parametrize("role", ["digital_out", "output"])
def test_a_sourcing_output_serves_no_end_that_must_be_sunk(role: str) -> None:
    transistor = channel("-KA1", "DO1", role, 0, polarities=frozenset({"source"}), forms=frozenset({"transistor"}))
    assert allocate(Problem((end("x", role, "-KA1", polarity="sink"),), (transistor,))).status == "infeasible"
    assert only(Problem((end("x", role, "-KA1", polarity="source"),), (transistor,))).polarity == "source"
    assert only(Problem((end("x", role, "-KA1"),), (transistor,))).polarity == "source"


@pytest.mark.parametrize(
    ("wanted", "chosen"),
    [
        ({"0-10 V", "4-20 mA"}, "4-20 mA"),
        ({"0-10 V", "0-20 mA"}, "0-20 mA"),
        ({"0-10 V", "-10-10 V"}, "0-10 V"),
        ({"-10-10 V"}, "-10-10 V"),
        (set(), ""),
    ],
)
def test_of_several_signals_the_one_that_shows_a_broken_wire_comes_first(wanted: set[str], chosen: str) -> None:
    """4 mA is alive, 0 mA is a broken wire: common practice, NAMUR NE 43 builds on it (from memory)."""
    able = channel("-TA1", "AI1", "analog_in", 0, signals=VOLTS | MILLIAMPS | {"0-20 mA", "-10-10 V"})
    assert only(Problem((end("r", "analog_in", signals=frozenset(wanted)),), (able,))).signal == chosen


def test_a_group_is_wired_as_its_only_choosy_end_needs() -> None:
    ends = (end("a"), end("b", polarity="sink"), end("c"))
    allocation = allocate(Problem(ends, tuple(compact_drive("-TA1"))))
    assert {a.polarity for a in allocation.assignments} == {"sink"}


def test_opposed_ends_go_to_groups_of_their_own() -> None:
    ends = tuple(end(f"f{n}", device="-KE1", polarity="source" if n % 2 else "sink") for n in range(10))
    allocation = allocate(Problem(ends, tuple(input_card("-KE1"))))
    groups = {(a.polarity, int(a.channel[2:]) > 8) for a in allocation.assignments}
    assert allocation.status == "optimal"
    assert len(groups) == 2


def test_a_group_whose_channels_take_one_polarity_only_is_wired_so() -> None:
    sinking = replace(input_card("-KE1")[0], polarities=frozenset({"sink"}))
    assert only(Problem((end("a", device="-KE1"),), (sinking,))).polarity == "sink"


def test_kept_comes_before_usual_and_fixed_before_both() -> None:
    drive = tuple(compact_drive("-TA1"))
    stop = end("stop", usual=(Pin("-TA1", "DI1"),), kept=Pin("-TA1", "DI5"))
    kept = only(Problem((stop,), drive))
    assert (kept.channel, kept.usual, kept.moved) == ("DI5", False, False)
    fixed = only(Problem((replace(stop, fixed=Pin("-TA1", "DI6")),), drive))
    assert (fixed.channel, fixed.usual, fixed.moved) == ("DI6", False, True)
    usual = only(Problem((replace(stop, kept=None),), drive))
    assert (usual.channel, usual.usual, usual.moved) == ("DI1", True, False)


def test_a_function_without_a_usual_place_is_nowhere_unusual() -> None:
    allocation = allocate(Problem((end("override fire"),), tuple(compact_drive("-TA1"))))
    assert allocation.assignments[0].usual
    assert next(level.value for level in allocation.levels if level.name == "unusual") == 0


def test_scarce_channels_stay_free_and_the_rest_fills_from_the_top_in_declared_order() -> None:
    ends = tuple(end(name) for name in ("reverse", "enable", "jog forward", "jog reverse"))
    allocation = allocate(Problem(ends, tuple(compact_drive("-TA1"))))
    assert [a.channel for a in allocation.assignments] == ["DI2", "DI3", "DI4", "DI5"]


def test_a_channel_kept_free_is_not_used() -> None:
    drive = [replace(c, keep_free="damaged") if c.name in ("DI2", "DI3") else c for c in compact_drive("-TA1")]
    allocation = allocate(Problem((end("a"), end("b")), tuple(drive)))
    assert [a.channel for a in allocation.assignments] == ["DI4", "DI5"]


def test_a_load_goes_where_it_can_be_carried() -> None:
    weak = channel("-KA1", "DO1", "output", 0, limit_a=0.05, forms=frozenset({"transistor"}))
    strong = channel("-KA1", "DO2", "output", 1, limit_a=0.5, forms=frozenset({"transistor"}))
    assert only(Problem((end("horn", "output", "-KA1", load_a=0.1),), (weak, strong))).channel == "DO2"
    assert only(Problem((end("lamp", "output", "-KA1", load_a=0.02),), (weak, strong))).channel == "DO1"


def test_functions_of_one_bundle_share_a_group_and_the_bank_chooses_the_card() -> None:
    cards = input_card("-KE1") + input_card("-KE2")
    ends = tuple(
        End(f"{place} {n}", f"{place} {n}", ("-KE1", "-KE2"), "digital_in", CONTACT, bundle=place)
        for n in range(6)
        for place in ("+F1", "+F2", "+F3")
    )
    allocation = allocate(Problem(ends, tuple(cards)))
    for place in ("+F1", "+F2", "+F3"):
        mine = [a for a in allocation.assignments if a.function.startswith(place)]
        assert len({(a.device, int(a.channel[2:]) > 8) for a in mine}) == 1
    assert {level.name: level.value for level in allocation.levels}["together"] == 3


def test_what_must_stand_apart_stands_on_different_cards() -> None:
    cards = tuple(c for n in (1, 2, 3) for c in input_card(f"-KE{n}"))
    names = [f"duty {n}" for n in range(12)]
    ends = tuple(End(n, n, ("-KE1", "-KE2", "-KE3"), "digital_in", CONTACT) for n in names)
    triples = tuple(tuple(names[i : i + 3]) for i in range(0, 12, 3))
    allocation = allocate(Problem(ends, cards, (), triples))
    device = {a.end: a.device for a in allocation.assignments}
    assert allocation.status == "optimal"
    assert all(len({device[member] for member in triple}) == 3 for triple in triples)


def test_equal_drives_are_wired_alike() -> None:
    """A person who knows one pump of a station knows them all."""
    drives = [f"-TA{n}" for n in range(1, 13)]
    names = ("start", "stop", "external trip", "select 1", "reset")
    ends = tuple(
        end(name, device=device, bundle=f"+F{device[3:]} control", polarity="source" if name == "reset" else None)
        for device in drives
        for name in names
    )
    allocation = allocate(Problem(ends, tuple(c for d in drives for c in compact_drive(d))))
    each = {d: [a.channel for a in allocation.assignments if a.device == d] for d in drives}
    assert len({tuple(channels) for channels in each.values()}) == 1


def test_an_empty_problem_has_an_empty_optimal_answer() -> None:
    allocation = allocate(Problem((), tuple(compact_drive("-TA1"))))
    assert (allocation.status, allocation.assignments, allocation.conflicts) == ("optimal", (), ())
    assert all(level.value == 0 and level.proven for level in allocation.levels)


def test_a_malformed_problem_is_an_internal_fault() -> None:
    drive = tuple(compact_drive("-TA1"))
    with pytest.raises(InternalFault, match="one id"):
        allocate(Problem((end("a"), end("a")), drive))
    with pytest.raises(InternalFault, match="one name"):
        allocate(Problem((end("a"),), drive + drive))
    with pytest.raises(InternalFault, match="'b', which is no end"):
        allocate(Problem((end("a"),), drive, (), (("-TA1 a", "b"),)))
    with pytest.raises(InternalFault, match="'PNP' is no polarity"):
        allocate(Problem((end("a"),), drive, ((("-TA1", "DI"), "PNP"),)))


def test_both_is_what_an_input_takes_unless_it_says_otherwise() -> None:
    silent = replace(input_card("-KE1")[0], polarities=NONE)
    for polarity in sorted(BOTH):
        assert only(Problem((end("a", device="-KE1", polarity=polarity),), (silent,))).polarity == polarity
