"""Cables: what runs where in which cable, how many cores it has, how they are marked.

Source of the expectations, unless a test names another: common practice, no source; worked by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from wiring_cases import CASES, case

from wiregen import pipeline, profiles
from wiregen.scheme import read_text
from wiregen.wiring.model import Wiring


def rewired(name: str, *changes: tuple[str, str]) -> Wiring:
    """A case with its text changed."""
    text = Path(CASES / f"{name}.yaml").read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return pipeline.design(read_text(text, "s.yaml", profiles=profiles.load())).wiring


def test_classes_are_cabled_apart() -> None:
    c = case("brine_pump")
    assert [(x.name, x.category) for x in c.wiring.cables] == [("-WG1", "control"), ("-WG2", "analog")]


def test_a_cable_has_one_protective_core() -> None:
    """Two valves with a protective terminal each: a cable for each, and one for what needs none."""
    c = case("valves")
    by_name = {x.name: c.cores_in(x.name) for x in c.wiring.cables}
    assert by_name == {
        "-WG1": {"1": "-PF1:X2", "2": "-PF1:X1", "3": ""},
        "-WG2": {"1": "-MB1:2", "2": "-MB1:1", "3": "", "GNYE": "-MB1:PE"},
        "-WG3": {"1": "-MB2:2", "2": "-MB2:1", "3": "", "GNYE": "-MB2:PE"},
        "-WG4": {"1": "-MB3:2", "2": "-MB3:1", "3": "", "GNYE": "-MB3:PE"},
    }
    assert [x.b for x in c.wiring.cables] == ["+F1", "+F1", "+F1", "+F2"]


def test_valves_in_paired_cable_still_have_protective_cores() -> None:
    wiring = rewired("valves", ("control:\n", "cabling: {classes: {control: {pairs: yes}}}\ncontrol:\n"))
    assert [x.pairs for x in wiring.cables] == [2, None, None, None]
    assert sum(c.colour == "GNYE" for c in wiring.conductors if c.kind == "core") == 3


@pytest.mark.parametrize(
    ("spare", "cores", "left"),
    [("0 %", 4, 1), ("20 %", 4, 1), ("34 %", 5, 2), ("100 %", 7, 4), ("400 %", 18, 15), ("1900 %", 61, 58)],
)
def test_spares_by_policy(spare: str, cores: int, left: int) -> None:
    """Three cores used; at least one spare; then the next size made."""
    wiring = rewired("many_spares", ("spare: 100 %", f"spare: {spare}"))
    (cable,) = wiring.cables
    assert (cable.used, cable.cores, cable.spare) == (3, cores, left)


def test_more_spares_than_any_cable_holds() -> None:
    """The largest size made, with one core used in each."""
    wiring = rewired("many_spares", ("spare: 100 %", "spare: 90000 %"))
    assert [(x.used, x.cores) for x in wiring.cables] == [(1, 61)] * 3


def test_spare_of_the_scheme_and_of_a_class() -> None:
    """The class says more than the scheme."""
    whole = ("classes: {control: {area: AWG 16, spare: 100 %, screen: both ends}}", "spare: 100 %")
    assert rewired("many_spares", whole).cables[0].cores == 7


def test_area_by_gauge() -> None:
    """AWG 16 is 1.31 mm2 (ASTM B258)."""
    (cable,) = case("many_spares").wiring.cables
    assert (cable.area_mm2, cable.screen, cable.screened) == (1.31, "both ends", True)


def test_length_is_the_route() -> None:
    assert {x.name: x.length_m for x in case("valves").wiring.cables} == {
        "-WG1": 15.0,
        "-WG2": 15.0,
        "-WG3": 15.0,
        "-WG4": 25.0,
    }


def test_analog_without_screen_and_pairs() -> None:
    plain = "cabling: {classes: {analog: {screen: none, pairs: no, area: 1.5 mm2}}}\ncontrol:\n"
    wiring = rewired("drive_alone", ("control:\n", plain))
    analog = next(x for x in wiring.cables if x.category == "analog")
    assert (analog.marks, analog.pairs, analog.screened, analog.area_mm2) == (("1", "2", "3"), None, False, 1.5)
    assert not [c for c in wiring.conductors if c.kind == "screen"]


def test_large_places_take_several_cables() -> None:
    """200 buttons: no cable beyond the largest size made, spares in each."""
    devices = "\n".join(f"  -SJ{n}: {{profile: push_button, contact: NO, at: +F1}}" for n in range(200))
    cards = "\n".join(f"  -KE{n}: {{profile: io_digital_in_16, at: +C1}}" for n in range(13))
    read = [", ".join(f"b{i}: -SJ{i}" for i in range(start, min(200, start + 16))) for start in range(0, 200, 16)]
    reads = "\n".join(f"  -KE{n}: {{inputs: source, reads: {{{those}}}}}" for n, those in enumerate(read))
    text = (
        "scheme: Many buttons\nplaces: {+C1: {}, +F1: {route: 5 m}}\n"
        f"devices:\n  -TB1: {{profile: supply_24v, at: +C1}}\n{cards}\n{devices}\ncontrol:\n{reads}\n"
    )
    wiring = pipeline.design(read_text(text, "s.yaml", profiles=profiles.load())).wiring
    assert sum(x.used for x in wiring.cables) == 201
    assert all(x.cores <= 61 and x.spare >= 1 for x in wiring.cables)
    assert len(wiring.cables) == 5
