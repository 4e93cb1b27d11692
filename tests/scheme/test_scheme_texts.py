"""Texts that show something else than they hold: characters that steer a terminal or turn the direction of reading."""

from __future__ import annotations

from collections.abc import Callable

import pytest

PLANT = """\
scheme: "%TITLE%"
places: {+C1: {name: "%PLACE%"}}
devices:
  -TA1: {profile: drive_compact, at: +C1, text: "%TEXT%"}
accepted: [{code: zero-volt-not-declared, why: "%WHY%"}]
"""


def _plant(**texts: str) -> str:
    filled = PLANT
    for name in ("TITLE", "PLACE", "TEXT", "WHY"):
        filled = filled.replace(f"%{name}%", texts.get(name, "pump"))
    return filled


@pytest.mark.parametrize("slot", ["TITLE", "PLACE", "TEXT", "WHY"])
@pytest.mark.parametrize("number", [0x200E, 0x202E, 0x2066, 0xFEFF, 0x061C])
def test_invisible_characters_are_refused(complaints: Callable[..., list[str]], slot: str, number: int) -> None:
    for written in (chr(number), f"\\u{number:04x}"):
        found = complaints(_plant(**{slot: f"pu{written}mp"}))
        assert len(found) == 1
        assert f"U+{number:04X}" in found[0]


@pytest.mark.parametrize("text", ["Pumpe für Sole", "насос", "مضخة", "泵 2", "Ω ± µ ° ²", "caf\u00e9 \u00a0 x"])
def test_texts_of_any_language_are_read(complaints: Callable[..., list[str]], text: str) -> None:
    assert complaints(_plant(TITLE=text, PLACE=text, TEXT=text, WHY=text)) == []
