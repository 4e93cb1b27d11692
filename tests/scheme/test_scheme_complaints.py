"""What is said about wrong schemes: a file in cases/ ends with its complaints, as `#! LINE:COLUMN message`."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from wiregen.scheme import Scheme
from wiregen.terms import UnusableInput

CASES = sorted((Path(__file__).parent / "cases").glob("*.yaml"))
EXPECTED = "#! "


def _parts(path: Path) -> tuple[str, list[str]]:
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    text = "".join(line for line in lines if not line.startswith(EXPECTED))
    return text, [line.removeprefix(EXPECTED).rstrip("\n") for line in lines if line.startswith(EXPECTED)]


@pytest.mark.parametrize("path", CASES, ids=lambda p: p.stem)
def test_every_complaint_is_told_with_line_and_column(path: Path, complaints: Callable[..., list[str]]) -> None:
    text, expected = _parts(path)
    assert complaints(text) == expected


@pytest.mark.parametrize("path", CASES, ids=lambda p: p.stem)
def test_a_complaint_that_quotes_a_key_stands_where_the_key_stands(path: Path) -> None:
    """The columns are checked against the text itself, not only against what was once written down."""
    text, expected = _parts(path)
    lines = text.splitlines()
    names = "unknown key|device|place|unknown profile|duplicate key|variant"
    pattern = re.compile(rf"(\d+):(\d+) (?:{names}) [`']([^`'?]+)")
    for complaint in expected:
        if match := pattern.match(complaint):
            line, column, quoted = int(match[1]), int(match[2]), match[3]
            assert re.match(rf"(\w+ of )?{re.escape(quoted)}", lines[line - 1][column - 1 :]), complaint


def test_cases_hold_wrong_schemes_and_a_right_one() -> None:
    counts = {path.stem: len(_parts(path)[1]) for path in CASES}
    assert counts.pop("right") == 0
    assert all(counts.values())


def test_errors_of_text_names_and_model_come_together_in_file_order(
    brine_pump: str, complaints: Callable[..., list[str]]
) -> None:
    text = (
        brine_pump.replace("practice: iec", "practise: iec")
        .replace("route: 35 m", "route: 35")
        .replace("contact: NO, at: +F1", "contact: NO, at: +F2")
        .replace("stop: -SJ2}", "stop: -SJ9}")
        .replace("{area: 1.0 mm2}", "{area: 1.0 mm2")
    )
    assert len(complaints(text)) == 1, "a syntax error stops at the first"
    assert complaints(text.replace("{area: 1.0 mm2", "{area: 1.0 mm2}")) == [
        "5:1 unknown key `practise`; did you mean `practice`?",
        "9:33 `route`: '35' has no unit; write it as in '35 m'",
        "14:49 place `+F2` is not declared; did you mean `+F1`?",
        "28:50 device `-SJ9` is not declared; did you mean `-SJ3`?",
    ]


def test_a_complaint_names_its_file(read: Callable[..., Scheme]) -> None:
    with pytest.raises(UnusableInput) as caught:
        read("scheme: x\nplaces: {}\ndevices: {-A1: {}}\n")
    assert str(caught.value).splitlines()[0] == (
        "s.yaml:2:1: declare at least one place: the cabinet, which has no `route`"
    )


def test_many_errors_are_all_told_and_in_time(complaints: Callable[..., list[str]]) -> None:
    devices = "\n".join(f"  -SJ{n}: {{profile: push_buton{n}, at: +C{n + 2}}}" for n in range(500))
    found = complaints(f"scheme: x\nplaces:\n  +C1: {{}}\ndevices:\n{devices}\n")
    assert len(found) == 1000
    assert found[0] == "5:19 unknown profile `push_buton0`; did you mean `push_button`?"
