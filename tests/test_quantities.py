"""Quantities as people write them."""

from __future__ import annotations

import doctest

import pytest

from wiregen import quantities


def test_doctests() -> None:
    result = doctest.testmod(quantities)
    assert result.attempted >= 5
    assert result.failed == 0


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("35 m", "m", 35.0),
        ("4.7 kohm", "ohm", 4700.0),
        ("4.7 k\u03a9", "ohm", 4700.0),
        ("4.7 k\u2126", "ohm", 4700.0),
        ("1.5 mm\u00b2", "mm2", 1.5),
        ("20ms", "s", 0.02),
        ("0.5 A", "A", 0.5),
    ],
)
def test_spellings(text: str, unit: str, value: float) -> None:
    assert quantities.parse(text, unit) == pytest.approx(value)


@pytest.mark.parametrize(
    ("text", "unit", "says"),
    [
        ("far", "m", "is not a quantity"),
        ("35", "m", "has no unit"),
        ("35 V", "m", "is not in m"),
        ("1e999 m", "m", "is not"),
        ("9" * 400 + " m", "m", "is too large"),
    ],
)
def test_what_is_wrong_is_said(text: str, unit: str, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        quantities.parse(text, unit)
