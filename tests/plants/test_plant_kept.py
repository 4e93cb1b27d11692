"""A plant of many drives from an earlier pack: what changes at one drive stays at that drive."""

from __future__ import annotations

from dataclasses import replace

import pytest
from plant_schemes import plant

import wiregen
from wiregen.advice.moves import Moved, as_built_of, moves
from wiregen.profiles import load
from wiregen.scheme import read_text

LIBRARY = load()


def kept(before: str, after: str) -> tuple[tuple[Moved, ...], int]:
    """What moves from one text to another with the first kept, and how much where nothing is."""
    built = as_built_of(wiregen.design(read_text(before, "plant.yaml", profiles=LIBRARY)), "before")
    scheme = read_text(after, "plant.yaml", profiles=LIBRARY)
    return moves(wiregen.design(replace(scheme, as_built=built))), len(moves(wiregen.design(scheme), built))


def touched(found: tuple[Moved, ...]) -> set[str]:
    """The devices at the ends of what moved, strips left out."""
    ends = [end for m in found for at in (m.was, m.now) if at for end in (at.a, at.b) if end]
    return {end.partition(":")[0] for end in ends} - {f"-X{n}" for n in range(1, 100)}


@pytest.mark.parametrize("shared", [False, True])
def test_one_contact_more_at_one_drive(shared: bool) -> None:
    text = plant(20, shared=shared)
    contact = "  -BP4: {profile: contact, contact: NC, at: +F4, text: Full 4, operated_when: full}\n"
    after = text.replace("  -BT4: {", f"{contact}  -BT4: {{", 1)
    after = after.replace("    external_trip: -BT4\n", "    external_trip: -BT4\n    enable: -BP4\n", 1)
    assert after.count("-BP4") == 2
    found, afresh = kept(text, after)
    assert touched(found) <= {"-TA4", "-BP4", "-BT4", "-SJ41", "-SJ42", "-SJ43", "-TB1"}
    assert not [m for m in found if m.kind == "function" and m.change == "moved"]
    assert len(found) <= 8 < afresh


def test_a_drive_that_goes_takes_only_its_own_along() -> None:
    """The last of the plant, so that nothing before it has another name: no conductor of another drive moves."""
    found, _ = kept(plant(12), plant(11))
    moved = [m for m in found if m.change in ("moved", "renumbered")]
    assert [m for m in moved if m.kind in ("function", "core")] == []
    assert len(moved) <= 4  # feeds on which it hung
    assert {m.change for m in found} <= {"gone", "moved", "new"}
