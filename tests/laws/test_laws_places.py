"""The laws hold wherever things stand: strips in the field, spread cables, a second cabinet, cables kept apart.

Every example and case is changed in these ways; each change keeps what the scheme declares and moves where it stands.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from pathlib import Path
from typing import Any, ClassVar

import pytest
import yaml
from laws import breaches
from wired_design import wired

from wiregen import drawing, pipeline
from wiregen.drawing import overlaps
from wiregen.profiles import load
from wiregen.scheme import read_text

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted(p for p in (ROOT / "examples").glob("*.yaml") if "wrong" not in p.stem)
FILES = [*EXAMPLES, *sorted((ROOT / "tests" / "wiring" / "cases").glob("*.yaml"))]
PROFILES = load()


class PlainText(yaml.SafeLoader):
    """Every scalar as text, so that NO stays NO."""

    yaml_implicit_resolvers: ClassVar[dict[str, Any]] = {}


Data = dict[str, Any]


def _fields(data: Data) -> list[str]:
    places = data["places"]
    return [p for p, said in places.items() if isinstance(said, dict) and "route" in said and "strip" not in said]


def with_strips(data: Data) -> None:
    for index, place in enumerate(_fields(data)):
        data["places"][place] = {**data["places"][place], "strip": f"-X{50 + index}"}


def spread(data: Data) -> None:
    for place in _fields(data):
        data["places"][place] = {**data["places"][place], "spread": "yes"}


def in_two_cabinets(data: Data) -> None:
    """Half of what stands in the cabinet goes to a second one, which is as near to each field place."""
    places = data["places"]
    cabinet = next(p for p, said in places.items() if not (isinstance(said, dict) and "route" in said))
    for place in _fields(data) or ["+F9"]:
        said = places.setdefault(place, {"route": "4 m"})
        route = said["route"] if isinstance(said["route"], dict) else {cabinet: said["route"]}
        places[place] = {**said, "route": {**route, "+C9": "3 m"}}
    places["+C9"] = {"route": {cabinet: "7 m"}}
    chance = random.Random(data["scheme"])
    for device in data["devices"].values():
        if device["at"] == cabinet and chance.random() < 0.5:
            device["at"] = "+C9"


def in_two_cabinets_with_strips(data: Data) -> None:
    in_two_cabinets(data)
    for index, place in enumerate(p for p in _fields(data) if p != "+C9"):
        data["places"][place]["strip"] = f"-X{50 + index}"


def apart(data: Data) -> None:
    names = [name for name, device in data["devices"].items() if device["at"] in _fields(data)]
    if len(names) > 1:
        data["apart_cables"] = [names[:3]]


CHANGES = (with_strips, spread, in_two_cabinets, in_two_cabinets_with_strips, apart)


def changed(path: Path, change: Callable[[Data], None]) -> str:
    data = yaml.load(path.read_text(encoding="utf-8"), PlainText)
    data.pop("variants", None)
    change(data)
    return yaml.safe_dump(data, sort_keys=False, allow_unicode=True)


def cases(files: list[Path]) -> list[Any]:
    plain = [p for p in files if p.stem != "two_well_pumps"]  # it has all of this already
    return [pytest.param(p, c, id=f"{p.stem} {c.__name__}") for p in plain for c in CHANGES]


@pytest.mark.parametrize(("path", "change"), cases(FILES))
def test_laws_hold_wherever_things_stand(path: Path, change: Callable[[Data], None]) -> None:
    scheme = read_text(changed(path, change), path.name, profiles=PROFILES)
    assert breaches(wired(scheme)) == []


@pytest.mark.parametrize("change", CHANGES, ids=lambda c: c.__name__)
@pytest.mark.parametrize("name", ["brine_pump", "booster_set", "retrofit_dosing_pump"])
def test_sheets_show_the_circuit_wherever_things_stand(name: str, change: Callable[[Data], None]) -> None:
    """Drawing proves each sheet against the circuit by reading it back."""
    text = changed(ROOT / "examples" / f"{name}.yaml", change)
    sheets = drawing.draw(pipeline.design(read_text(text, name, profiles=PROFILES))).sheets
    assert [(s.title, found) for s in sheets for found in overlaps.check(s.svg)] == []
