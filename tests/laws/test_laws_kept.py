"""The laws hold whatever earlier pack is kept: a scheme's own, that of another state of it, or of another plant."""

from __future__ import annotations

from dataclasses import replace
from itertools import permutations
from pathlib import Path

import pytest
import yaml
from laws import breaches, wired

import wiregen
from wiregen import profiles
from wiregen.advice.moves import as_built_of, moves
from wiregen.scheme import read

TESTS = Path(__file__).parents[1]
EXAMPLES = sorted((TESTS.parent / "examples").glob("*.yaml"))
FILES = [*EXAMPLES, *sorted((TESTS / "wiring" / "cases").glob("*.yaml"))]
PROFILES = profiles.load()
DESIGNS = {path.stem: wiregen.design(read(path, profiles=PROFILES)) for path in FILES}


@pytest.mark.parametrize("stem", list(DESIGNS))
def test_a_scheme_that_did_not_change_moves_nothing(stem: str) -> None:
    design = DESIGNS[stem]
    again = wiregen.design(replace(design.scheme, as_built=as_built_of(design, stem)))
    assert moves(again) == ()
    assert again.wiring.potentials == design.wiring.potentials
    assert again.wiring.strips == design.wiring.strips
    assert again.wiring.cables == design.wiring.cables
    assert set(again.wiring.conductors) == set(design.wiring.conductors)
    assert again.findings == design.findings


VARIANTS = [(p, v) for p in FILES for v in yaml.safe_load(p.read_text(encoding="utf-8")).get("variants", {})]


@pytest.mark.parametrize(("path", "variant"), [pytest.param(p, v, id=f"{p.stem} {v}") for p, v in VARIANTS])
def test_a_variant_made_from_what_is_built(path: Path, variant: str) -> None:
    """No law is broken, and no more conductors differ than where nothing is kept."""
    scheme, built = read(path, variant=variant, profiles=PROFILES), as_built_of(DESIGNS[path.stem], path.stem)
    kept = replace(scheme, as_built=built)
    assert breaches(wired(kept)) == breaches(wired(scheme))
    assert len(moves(wiregen.design(kept))) <= len(moves(wiregen.design(scheme), built))


@pytest.mark.parametrize(("one", "other"), list(permutations(sorted(p.stem for p in EXAMPLES), 2))[::7])
def test_a_pack_of_another_plant(one: str, other: str) -> None:
    scheme = replace(DESIGNS[one].scheme, as_built=as_built_of(DESIGNS[other], other))
    assert breaches(wired(scheme)) == []
