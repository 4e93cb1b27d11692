"""The sheet of all symbols: clean, complete, and naming every profile that is drawn with a symbol."""

from __future__ import annotations

from pathlib import Path

import pytest

from wiregen import profiles
from wiregen.cli import boundary
from wiregen.drawing import overlaps
from wiregen.drawing.symbol_sheet import COLUMNS, ROWS, entries, symbol_sheet
from wiregen.drawing.symbols import KINDS

SHEET = symbol_sheet(profiles.load().values())


def test_nothing_on_the_sheet_overlaps() -> None:
    assert overlaps.check(SHEET) == ()
    assert len(entries()) <= COLUMNS * ROWS


def test_every_kind_of_symbol_is_shown() -> None:
    assert {entry.kind for entry in entries()} | {"through"} == set(KINDS)  # another receiver looks like a box


def test_every_profile_with_a_symbol_of_its_own_is_named() -> None:
    text = SHEET.decode()
    own = [p for p in profiles.load().values() if p.controller is None or p.profile == "safety_relay"]
    assert [p.profile for p in own if p.profile not in text] == []


def test_the_command_writes_the_sheet(tmp_path: Path) -> None:
    file = tmp_path / "symbols.svg"
    assert boundary.run(["profiles", "--sheet", str(file)]) == 0
    assert file.read_bytes() == SHEET


@pytest.mark.parametrize(
    "said", [("--sheet", "x.png"), ("--sheet", "none/such/x.svg"), ("contact", "--sheet", "x.svg")]
)
def test_what_cannot_be_written_is_told(said: tuple[str, ...]) -> None:
    assert boundary.run(["profiles", *said]) == 2
    assert not Path("x.svg").exists()
