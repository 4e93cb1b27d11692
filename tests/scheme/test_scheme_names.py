"""Designations and contacts as they are written."""

from __future__ import annotations

import doctest

import pytest

from wiregen.scheme import ContactText, names, split_contact
from wiregen.scheme.wrong import listed, nearest

DECLARED = frozenset({"-SJ3", "-KF1", "-KF1.2", "PB1"})


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("-SJ3", ContactText("-SJ3")),
        ("-SJ3@AUTO", ContactText("-SJ3", position="AUTO")),
        ("-SJ3@AUTO.2", ContactText("-SJ3", position="AUTO", nth=2)),
        ("-SJ3@10", ContactText("-SJ3", position="10")),
        ("-KF1.11-14", ContactText("-KF1", contact="11-14")),
        ("-KF1.2", ContactText("-KF1.2")),
        ("-KF1.2.21-24", ContactText("-KF1.2", contact="21-24")),
        ("PB1.13-14", ContactText("PB1", contact="13-14")),
        ("-XX9.13-14", ContactText("-XX9", contact="13-14")),
        ("-XX9", ContactText("-XX9")),
    ],
)
def test_a_contact_is_taken_apart(text: str, expected: ContactText) -> None:
    assert split_contact(text, DECLARED) == expected


@pytest.mark.parametrize(
    "text", ["-SJ3@", "-SJ3@.2", "-SJ3@AUTO.", "-SJ3@AUTO.x", "-SJ3@AUTO.0", "-KF1.11", "-KF1.", "-KF1.x"]
)
def test_what_is_no_contact_is_told(text: str) -> None:
    with pytest.raises(ValueError, match="is not a contact"):
        split_contact(text, DECLARED)


def test_the_examples_of_the_docstrings() -> None:
    result = doctest.testmod(names)
    assert (result.attempted, result.failed) == (2, 0)


# Letters, then a number, after a prefix sign: IEC 81346-1. Names without a dash: common practice, no source.
@pytest.mark.parametrize(
    ("name", "iec", "nfpa"),
    [
        ("-TA1", True, True),
        ("-K101", True, True),
        ("-TA1.KF2", True, True),
        ("-TA1.2", True, True),
        ("PB1", False, True),
        ("1CR", False, True),
        ("-1CR", False, True),
        ("TA1", False, True),
        ("-TA1-KF1", False, False),
        ("-TÄ1", False, False),
        ("-TA１", False, False),
        ("", False, False),
        ("-", False, False),
        ("-TA1 ", False, False),
        ("-TA1\n", False, False),
        ("../x", False, False),
        ("-A1\\B", False, False),
        ("-ABCD12345.ABCD12345.ABCD12345", False, False),
    ],
)
def test_designations_of_devices(name: str, iec: bool, nfpa: bool) -> None:
    assert (names.wrong_device_name(name, "iec") is None) is iec
    assert (names.wrong_device_name(name, "nfpa") is None) is nfpa


@pytest.mark.parametrize("name", ["+C1", "+F12", "+MCC1", "+C1.A2", "+1"])
def test_designations_of_places(name: str) -> None:
    assert names.wrong_place_name(name) is None


@pytest.mark.parametrize("name", ["C1", "+", "+c1", "+C/1", "+C1\n", "+C1.", "-C1", "+ABCDEFGHI"])
def test_what_is_no_place(name: str) -> None:
    assert names.wrong_place_name(name) is not None


def test_names_in_messages_are_short_and_clean() -> None:
    assert names.shown("a\nb\x1b\u202ec") == "a?b??c"
    assert names.shown("x" * 100) == "x" * 57 + "..."


@pytest.mark.parametrize(
    ("word", "expected"),
    [("no", "NO"), ("nc", "NC"), ("change-over", "changeover"), ("zzz", None), ("", None), ("n" * 10_000, None)],
)
def test_near_misses(word: str, expected: str | None) -> None:
    assert nearest(word, ["NO", "NC", "changeover"]) == expected


def test_lists_in_messages() -> None:
    assert listed([]) == ""
    assert [listed(["a"]), listed(["a", "b"]), listed(["a", "b", "c"], "and")] == ["a", "a or b", "a, b and c"]
