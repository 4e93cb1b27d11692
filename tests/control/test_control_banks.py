"""Banks: what is declared at a bank stands on a card that allocation chooses, and that card's supply feeds it.

Every expectation is worked out by hand from the declarations (common practice, no source).
"""

from __future__ import annotations

import pytest

from wiregen.pipeline import Design, design
from wiregen.profiles import load
from wiregen.scheme import read_text
from wiregen.terms import Pin, UnusableInput

TWO_CARDS = """\
scheme: Two pumps read by a bank of two cards
places: {+C1: {}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TB2: {profile: supply_24v, at: +C1, zero_volt: {joined_to: -TB1}}
  -TA1: {profile: drive_compact, at: +C1}
  -TA2: {profile: drive_compact, at: +C1}
  -KE1: {profile: io_digital_in_16, at: +C1, supply: -TB1}
  -KE2: {profile: io_digital_in_16, at: +C1, supply: -TB2}
  -BG1: {profile: limit_switch, contact: NO, at: +C1}
banks: {-KE: [-KE1, -KE2]}
control:
  -TA1: {inputs: source, zero_volt: floating, restart: needs_start, relays: {running: {switches: -KE}}}
  -TA2: {inputs: source, zero_volt: floating, restart: needs_start, relays: {running: {switches: -KE}}}
  -KE: {inputs: source, reads: {gate: -BG1}}
%REST%
"""


def designed(rest: str = "") -> Design:
    return design(read_text(TWO_CARDS.replace("%REST%", rest), "x.yaml", profiles=load()))


def card_of(found: Design, function: str) -> str:
    return next(a.device for a in found.allocation.assignments if a.function == function)


def test_apart_puts_two_drives_on_two_cards() -> None:
    """With one card lost, only one pump's signal is lost with it."""
    found = designed("apart: [[running of -TA1, running of -TA2]]")
    assert {card_of(found, "running of -TA1"), card_of(found, "running of -TA2")} == {"-KE1", "-KE2"}


@pytest.mark.parametrize(("card", "supply"), [("-KE1", "-TB1"), ("-KE2", "-TB2")])
def test_supply_of_the_chosen_card_feeds_the_contact(card: str, supply: str) -> None:
    """A dry contact is fed from the supply of the input that receives it, whichever card that is."""
    found = designed(f"fixed: {{{card}: {{DI1: running of -TA1, DI2: gate}}}}")
    for function in ("running", "gate"):
        declared = next(f for f in found.functions if f.name == function and f.controller != "-TA2")
        assert declared.supply is not None
        assert declared.supply.device == supply
    feed = found.wiring.potential_of(Pin("-BG1", "13"))
    assert feed is not None
    assert Pin(supply, "24V") in feed.pins
    assert next(f.controller for f in found.functions if f.name == "gate") == card


def test_no_word_of_the_bank_is_left_in_the_wiring() -> None:
    found = designed()
    assert not [c for c in found.wiring.conductors if c.function.endswith(" -KE")]
    assert {f.code for f in found.findings if f.severity == "error"} == set()


@pytest.mark.parametrize(
    ("banks", "says"),
    [
        ("{-KE: []}", "bank `-KE` has no cards"),
        ("{-KE1: [-KE1]}", "`-KE1` is a device already"),
        ("{-KE: [-TA1]}", "a bank is of I/O cards: `-TA1`"),
        ("{-KE: [-KE9]}", "device `-KE9` is not declared"),
    ],
)
def test_wrong_banks_are_refused(banks: str, says: str) -> None:
    text = TWO_CARDS.replace("{-KE: [-KE1, -KE2]}", banks).replace("%REST%", "")
    with pytest.raises(UnusableInput) as caught:
        read_text(text, "x.yaml", profiles=load())
    assert says in str(caught.value)


def test_what_is_wired_stays_and_what_cannot_is_told() -> None:
    """DI9 is kept though DI1 is free; the second is fixed elsewhere, so `wired` gives way to `fixed`."""
    rest = "wired: {-KE2: {DI9: running of -TA1, DI3: gate, DI4: gone}}\nfixed: {-KE2: {DI3: running of -TA2}}"
    found = designed(rest)
    places = {a.function: (a.device, a.channel) for a in found.allocation.assignments}
    assert places["running of -TA1"] == ("-KE2", "DI9")
    assert places["running of -TA2"] == ("-KE2", "DI3")
    assert places["gate"] != ("-KE2", "DI3")
    codes = {(f.code, f.subject) for f in found.findings}
    assert ("function-moved", "-KE2:DI3 gate") in codes
    assert ("wired-not-kept", "-KE2:DI4 gone") in codes
    assert next(level.value for level in found.allocation.levels if level.name == "moves") == 1
