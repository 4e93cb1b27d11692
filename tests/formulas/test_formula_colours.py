"""Letter codes, core colours and circuit colours."""

from __future__ import annotations

import itertools

import pytest

from wiregen.formulas import colours
from wiregen.formulas.colours import Colour


def test_all_core_colours_differ() -> None:
    codes = [colours.core_colour(k).code("DIN 47100") for k in range(1, 55)]
    assert len(set(codes)) == 54


def test_a_core_and_its_reverse_are_never_both_made() -> None:
    # Base and tracer cannot be told apart by eye at once; IEC 60757 prints both in one order.
    printed = [colours.core_colour(k).code() for k in range(1, 55)]
    assert len(set(printed)) == 54


def test_green_with_yellow_is_left_to_the_protective_conductor() -> None:
    for codes in (("GN", "YE"), ("YE", "GN", "BK"), ("GNYE", "BK")):
        with pytest.raises(ValueError, match="protective conductor"):
            colours.combined(*codes)
    assert colours.combined("GNYE") == "GNYE"
    two_coloured = [colours.core_colour(k) for k in range(1, 45)]
    assert not [c for c in two_coloured if {c.base, c.tracer} == {"GN", "YE"}]


def test_a_core_that_has_no_code_keeps_its_own_order() -> None:
    assert colours.core_colour(46).code() == colours.core_colour(46).code("DIN 47100") == "YEGNBK"


def test_the_order_of_naming_does_not_matter() -> None:
    for codes in itertools.permutations(("WH", "BN", "RD")):
        assert colours.combined(*codes) == "BNRDWH"


def test_an_unknown_code_is_refused_with_the_known_ones() -> None:
    with pytest.raises(ValueError, match="'GE' is no colour code; known are BK, BN, RD"):
        colours.combined("GE")


@pytest.mark.parametrize("core", [0, -1, 55])
def test_beyond_the_table_there_is_no_colour(core: int) -> None:
    with pytest.raises(ValueError, match="the table ends at 54"):
        colours.core_colour(core)


@pytest.mark.parametrize("practice", ["iec", "nfpa"])
def test_each_circuit_has_a_colour_in_each_practice(practice: colours.Practice) -> None:
    kinds: tuple[colours.CircuitKind, ...] = (
        "power",
        "ac_control",
        "dc_control",
        "excepted",
        "neutral",
        "ac_return",
        "dc_return",
        "excepted_return",
        "protective",
    )
    for kind in kinds:
        colour = colours.circuit_colour(kind, practice)
        assert colour.base in colours.letter_codes()
        assert (colour.code() == "GNYE") == (kind == "protective")


def test_an_unknown_circuit_is_refused() -> None:
    with pytest.raises(ValueError, match="'steam'"):
        colours.circuit_colour("steam")  # type: ignore[arg-type]


def test_colours_in_words() -> None:
    assert Colour("GNYE").words == "green-and-yellow"
    assert Colour("WH", "GN", "BK").words == "white with green stripe and black ring"
