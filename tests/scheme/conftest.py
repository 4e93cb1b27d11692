"""What the tests of reading share: the profiles that come with the program, and the brine pump."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path

import pytest

from wiregen.profiles import load
from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme, read_text
from wiregen.terms import UnusableInput

BRINE_PUMP = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"


@pytest.fixture(scope="session")
def profiles() -> Mapping[str, Profile]:
    return load()


@pytest.fixture(scope="session")
def read(profiles: Mapping[str, Profile]) -> Callable[..., Scheme]:
    """Reads a text as `s.yaml`."""

    def read_it(text: str, variant: str | None = None) -> Scheme:
        return read_text(text, "s.yaml", variant=variant, profiles=profiles)

    return read_it


@pytest.fixture(scope="session")
def complaints(read: Callable[..., Scheme]) -> Callable[..., list[str]]:
    """The complaints about a text, as `line:column message`; none where it can be read."""

    def complaints_about(text: str, variant: str | None = None) -> list[str]:
        try:
            read(text, variant)
        except UnusableInput as error:
            return [f"{c.spot.line}:{c.spot.column} {c.message}" for c in error.complaints]
        return []

    return complaints_about


@pytest.fixture(scope="session")
def brine_pump() -> str:
    return BRINE_PUMP.read_text(encoding="utf-8")
