"""Places, strips and existing cables that contradict one another are told with their line."""

from __future__ import annotations

from collections.abc import Callable

import pytest

BASE = """\
scheme: x
places:
  +C1: {}
  +F1: {route: 3 m}
  +F2: {route: 5 m}
devices:
  -TB1: {profile: supply_24v, at: +C1}
"""


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ("{route: 3 m}", "{route: 3 m, strip: -X11, spread: yes}", "4:34 device cables of a place with a strip begin"),
        ("+C1: {}", "+C1: {spread: yes}", "3:9 `+C1` is a cabinet, where devices have no cables"),
        ("{route: 3 m}", "{route: 3 m, strip: X}", "4:28 `X` is not a strip's name"),
        ("{route: 3 m}", "{route: 3 m, strip: -TB1}", "4:28 `-TB1` is a device"),
        ("+F2: {route: 5 m}", "+F2: {}", "4:16 with several cabinets a route says where it begins, as in `{+C1: 3 m}`"),
    ],
)
def test_places(complaints: Callable[..., list[str]], old: str, new: str, says: str) -> None:
    found = complaints(BASE.replace(old, new, 1))
    assert len(found) == 1
    assert found[0].startswith(says)


def test_two_places_cannot_have_one_strip(complaints: Callable[..., list[str]]) -> None:
    text = BASE.replace("3 m}", "3 m, strip: -X11}").replace("5 m}", "5 m, strip: -X11}")
    assert complaints(text) == ["5:28 `-X11` is the strip of `+F1` already"]


@pytest.mark.parametrize(
    ("cable", "says"),
    [
        ("-W7: {from: +C1, to: +C1, cores: 7}", "cable `-W7` begins and ends at `+C1`"),
        ("-W7: {from: +F1, to: +F2, cores: 7}", "cable `-W7` begins at no strip"),
        ("-TB1: {from: +C1, to: +F1, cores: 7}", "`-TB1` is a device: give the cable a name of its own"),
        ("W: {from: +C1, to: +F1, cores: 7}", "`W` is not a cable's name"),
        ("-W7: {from: +C1, to: +F9, cores: 7}", "place `+F9` is not declared"),
        ("-W7: {from: +C1, to: +F1, cores: 1, pe: yes}", "no core beside its protective conductor"),
        ("-W7: {from: +C1, to: +F1, cores: 700}", "a whole number from 1 to 200"),
        ("-W7: {from: +C1, to: +F1}", "cores"),
    ],
)
def test_existing_cables(complaints: Callable[..., list[str]], cable: str, says: str) -> None:
    found = complaints(BASE + f"cabling: {{existing: {{{cable}}}}}\n")
    assert len(found) == 1
    assert says in found[0]
    assert found[0].startswith("8:")


def test_a_cabinet_may_have_a_route_to_another(complaints: Callable[..., list[str]]) -> None:
    """It is a cabinet because the route of a field place begins there."""
    text = BASE.replace("+F1: {route: 3 m}", "+F1: {route: {+C1: 3 m}}")
    assert complaints(text.replace("+F2: {route: 5 m}", "+F2: {route: {+F1: 5 m}}")) == []
