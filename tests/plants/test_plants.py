"""Plants of many drives: cabinets that share nothing are solved apart, cards that are shared bind them together."""

from __future__ import annotations

import pytest
import yaml
from plant_schemes import plant

import wiregen
from wiregen.pipeline import Design
from wiregen.profiles import load
from wiregen.scheme import read_text


def designed(text: str) -> Design:
    return wiregen.design(read_text(text, "plant.yaml", profiles=load()))


def placed(design: Design, cabinet: str) -> dict[tuple[str, str], tuple[str, str]]:
    """(drive, function) -> where it stands, for the controllers of one cabinet."""
    place = {d.name: d.place for d in design.declared.devices}
    found = design.allocation.assignments
    return {(a.end, a.function): (a.device, a.channel) for a in found if place[a.device] == cabinet}


@pytest.mark.parametrize("drives", [1, 7, 25])
@pytest.mark.parametrize("shared", [False, True])
def test_a_plant_has_as_many_drives_as_asked_and_no_fault(drives: int, shared: bool) -> None:
    text = plant(drives, shared=shared)
    design = designed(text)
    assert sum(d.kind == "drive" for d in design.declared.devices) == drives
    assert design.allocation.status == "optimal"
    # The pumps have start and stop beside one another in one cable, as plants have.
    assert {f.code for f in design.findings if f.severity != "note"} <= {"start-beside-stop"}
    assert text == plant(drives, shared=shared)


def test_cabinets_that_share_nothing_get_the_same_answers_apart_and_together() -> None:
    whole = designed(plant(25))
    for cabinet in (1, 2, 3):
        alone = designed(plant(25, only=cabinet))
        assert placed(alone, f"+C{cabinet}") == placed(whole, f"+C{cabinet}")
        assert len(placed(alone, f"+C{cabinet}")) > 20


def test_a_card_shared_by_cabinets_is_filled_from_all_of_them() -> None:
    design = designed(plant(25, shared=True))
    read = [a for a in design.allocation.assignments if a.device.startswith("-KE11")]
    assert len(read) == 50
    assert len({(a.device, a.channel) for a in read}) == 50
    assert {d.name for d in design.declared.devices if d.name.startswith("-KE11")} == {a.device for a in read}


def test_the_kinds_of_drives_are_mixed() -> None:
    control = yaml.safe_load(plant(8))["control"]
    runs = [str(sorted(section["run"])) for name, section in control.items() if name.startswith("-TA")]
    assert len(set(runs)) == 3


def test_readings_do_not_depend_on_how_many_states_are_solved_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    text = plant(4)
    at_once = designed(text).readings
    monkeypatch.setattr("wiregen.circuit.readings._AT_ONCE", 1)
    assert len({r.state for r in at_once}) > 16  # more than one round
    assert designed(text).readings == at_once
