"""Contact marks, ferrules, letter codes, input types and bands at their edges."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.formulas import contact_marks, designations, ferrules, input_types, signal_bands


@pytest.mark.parametrize("sequence", range(1, 10))
def test_marks_read_back_as_what_they_were_made_for(sequence: int) -> None:
    for form in ("NO", "NC"):
        pins = contact_marks.pins_of(form, sequence)
        mark = contact_marks.contact_mark(*pins)
        assert mark == contact_marks.ContactMark(form, sequence, False)
        assert contact_marks.contact_mark(*reversed(pins)) == mark
    common, breaks, makes = contact_marks.pins_of("changeover", sequence)
    assert contact_marks.contact_form(common, breaks) == "NC"
    assert contact_marks.contact_form(common, makes) == "NO"
    assert contact_marks.contact_form(breaks, makes) is None


@pytest.mark.parametrize(("a", "b"), [("11", "22"), ("13", "13"), ("A1", "A2"), ("", ""), ("113", "114"), ("19", "10")])
def test_marks_that_follow_no_rule_say_nothing(a: str, b: str) -> None:
    assert contact_marks.contact_mark(a, b) is None


def test_a_mark_of_one_digit_has_no_place() -> None:
    assert contact_marks.contact_mark("3", "4") == contact_marks.ContactMark("NO", None, False)


@pytest.mark.parametrize("sequence", [0, 10])
def test_places_outside_are_refused(sequence: int) -> None:
    with pytest.raises(ValueError, match="outside 1 to 9"):
        contact_marks.pins_of("NO", sequence)


@given(st.floats(0.5, 25))
def test_a_ferrule_always_takes_its_conductor(area_mm2: float) -> None:
    found = ferrules.ferrule(area_mm2)
    assert found is not None
    assert found.area_mm2 >= area_mm2
    assert not [f for f in ferrules.sizes() if area_mm2 <= f.area_mm2 < found.area_mm2]


@pytest.mark.parametrize("area_mm2", [0.14, 0.25, 0.34, 25.1, 95.0])
def test_no_ferrule_outside_the_table(area_mm2: float) -> None:
    assert ferrules.ferrule(area_mm2) is None


@pytest.mark.parametrize("area_mm2", [0.0, -1.0, math.nan])
def test_a_conductor_has_an_area(area_mm2: float) -> None:
    with pytest.raises(ValueError, match="more than nothing"):
        ferrules.ferrule(area_mm2)


@pytest.mark.parametrize(
    ("designation", "item", "right"),
    [
        ("-SJ1", "push button", []),
        ("-SF1", "push button", []),
        ("-S1", "push button", []),
        ("-BT1", "process contact", []),
        ("-BL1", "transmitter", []),
        ("-PF1", "push button", ["SF", "SJ"]),
        ("-QA1", "relay", ["KF", "KF"]),
        ("PB1", "push button", []),
        ("-1", "push button", []),
        ("-QA1", "no such item", []),
    ],
)
def test_letters_that_fit_neither_edition(designation: str, item: str, right: list[str]) -> None:
    assert [c.code for c in designations.unlike(designation, item)] == right


def test_what_is_uncertain_is_never_asserted() -> None:
    unsure = {c.item for c in designations.letter_codes() if not c.certain}
    assert {"frequency converter", "power supply"} <= unsure
    for item in unsure:
        assert designations.unlike("-ZZ1", item) == ()


def test_each_item_has_both_editions() -> None:
    for item in {c.item for c in designations.letter_codes()}:
        assert [c.edition for c in designations.codes_of(item)] == list(designations.EDITIONS)


@pytest.mark.parametrize("rated", ["24 V DC", "48 V DC", "120 V AC", "230 V AC"])
@pytest.mark.parametrize("kind", ["1", "2", "3"])
def test_on_and_off_never_overlap(kind: input_types.InputKind, rated: input_types.Rated) -> None:
    one = input_types.input_type(kind, rated)
    assert one.certain == (rated == "24 V DC")
    assert one.on_most_v > float(rated.split()[0])
    assert one.off_most_v < one.off_guarded_v <= one.on_least_v < one.on_most_v
    assert one.off_most_a < one.on_least_a < one.on_most_a
    assert one.state(one.on_least_v, one.on_least_a) == "on"
    assert one.state(one.off_most_v, one.on_most_a) == "off"
    assert one.state(one.on_least_v, one.off_most_a) == "off"
    assert one.state((one.off_most_v + one.on_least_v) / 2, one.on_least_a) == "undefined"
    assert one.state(0.0, 0.0) == "off"


def test_unknown_types_and_polarities_are_refused() -> None:
    with pytest.raises(ValueError, match="use 1, 2 or 3"):
        input_types.input_type("4")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="use 24 V DC, 48 V DC"):
        input_types.input_type("1", "24 V")  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="use source or sink"):
        input_types.wiring("PNP")  # type: ignore[arg-type]


@given(st.floats(-100, 100))
def test_each_current_lies_in_exactly_one_band(current_ma: float) -> None:
    assert [b.holds(current_ma) for b in signal_bands.bands()].count(True) == 1
    assert signal_bands.band(current_ma)


def test_what_is_no_number_lies_in_no_band() -> None:
    with pytest.raises(ValueError, match="no band"):
        signal_bands.band(math.nan)


def test_only_a_live_zero_shows_a_broken_wire() -> None:
    # common practice, no source: a signal whose low end is not zero tells a broken wire from it.
    for signal in ("0-10 V", "-10-10 V", "0-20 mA", "4-20 mA"):
        assert signal_bands.span(signal).live_zero == (signal_bands.span(signal).low > 0)
    with pytest.raises(ValueError, match="is no signal"):
        signal_bands.span("4-20 V")
