"""The laws hold for every example and variant, for the cases of wiring, and for a small scheme of every profile."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml
from laws import breaches, wired
from small_schemes import DECLARED_ONLY, small

from wiregen import profiles
from wiregen.scheme import read, read_text

TESTS = Path(__file__).parents[1]
FILES = [*sorted((TESTS.parent / "examples").glob("*.yaml")), *sorted((TESTS / "wiring" / "cases").glob("*.yaml"))]
PROFILES = profiles.load()


def variants(path: Path) -> list[str | None]:
    declared = yaml.safe_load(path.read_text(encoding="utf-8")).get("variants", {})
    return [None, *declared]


@pytest.mark.parametrize(
    ("path", "variant"),
    [pytest.param(p, v, id=f"{p.stem} {v or ''}".strip()) for p in FILES for v in variants(p)],
)
def test_examples_and_cases(path: Path, variant: str | None) -> None:
    assert breaches(wired(read(path, variant=variant, profiles=PROFILES))) == []


EXAMPLES = [p for p in FILES if p.parent.name == "examples" and p.stem != "wrong_on_purpose"]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_everything_in_an_example_is_wired(path: Path) -> None:
    """So that the laws of completeness are not passed over there."""
    design = wired(read(path, profiles=PROFILES))
    assert design.codes <= {"spare-below-policy"}
    assert design.is_complete
    assert len(EXAMPLES) >= 7


@pytest.mark.parametrize("place", ["+C1", "+F1"])
@pytest.mark.parametrize("profile", sorted(PROFILES))
def test_small_schemes(profile: str, place: str) -> None:
    design = wired(read_text(small(profile, place), "small.yaml", profiles=PROFILES))
    assert breaches(design) == []
    assert design.is_complete
    used = {pin.device for c in design.wiring.conductors for pin in (c.a, c.b) if pin}
    assert ("-D1" in used) == (profile not in DECLARED_ONLY or profile == "supply_24v")
