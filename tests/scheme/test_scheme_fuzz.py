"""Mutated schemes: whatever stands in a file, reading it ends in a scheme or in complaints, never in anything else."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from wiregen.profiles import load
from wiregen.scheme import read_text
from wiregen.scheme.tree import plain, tree_of
from wiregen.terms import Complaint, UnusableInput

FOLDER = Path(__file__).parent
TEXTS = [
    (FOLDER.parents[1] / "examples" / "brine_pump.yaml").read_text(encoding="utf-8"),
    (FOLDER / "cases" / "right.yaml").read_text(encoding="utf-8"),
]
PROFILES = load()
WORDS = [
    *(
        "",
        "~",
        "null",
        ":",
        ": ",
        "-",
        "- ",
        "{",
        "}",
        "[",
        "]",
        ",",
        "#",
        "&a ",
        "*a",
        "!!int ",
        "<<",
        "|",
        ">",
        "'",
        '"',
    ),
    *("@", "%", "\t", "\n", "\x00", "\ud800", "\ufeff", "\u2028", "0", "-1", "1e999", "NaN", "9" * 5000, "yes"),
    *("-TA1", "+C1", "-SJ3@", "-KF1.", "network", "stop", "group 1"),
    *("variants: ", "include: ", "control: ", "all: ", "any: ", "by: ", "method: "),
]
LINE_ENDS = "\n\r\x85\u2028\u2029"


def _never_worse(text: str, variant: str | None = None) -> None:
    """Either a scheme that agrees with itself, or complaints that stand in the text and on one line each."""
    complaints: tuple[Complaint, ...] = ()
    try:
        scheme = read_text(text, "s.yaml", variant=variant, profiles=PROFILES)
    except UnusableInput as error:
        complaints = error.complaints
    if not complaints:
        assert set(scheme.profiles) == {d.profile for d in scheme.model.devices.values()}
        assert all(d.at in scheme.model.places for d in scheme.model.devices.values())
    last = sum(text.count(end) for end in LINE_ENDS) + 2
    for complaint in complaints:
        assert 1 <= complaint.spot.line <= last
        assert complaint.spot.column >= 1
        assert complaint.message.isprintable()


@st.composite
def _mutated_texts(draw: st.DrawFn) -> str:
    text = draw(st.sampled_from(TEXTS))
    for _ in range(draw(st.integers(1, 4))):
        start = draw(st.integers(0, len(text)))
        end = min(len(text), start + draw(st.sampled_from([0, 1, 2, 5, 20, 200])))
        new = draw(st.sampled_from(WORDS) | st.text(max_size=8) | st.just(text[start:end] * 2))
        text = text[:start] + new + text[end:]
    return text


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(_mutated_texts(), st.sampled_from([None, "sinking", "less", "zzz"]))
def test_mutated_text(text: str, variant: str | None) -> None:
    _never_worse(text, variant)


_LEAVES = st.none() | st.sampled_from([w for w in WORDS if w.isprintable()]) | st.text(max_size=5)
_DATA = st.recursive(
    _LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(min_size=1, max_size=5), inner, max_size=3),
    max_leaves=6,
)


def _paths(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    inner = data.items() if isinstance(data, Mapping) else enumerate(data) if isinstance(data, list) else ()
    return [path, *(p for key, value in inner for p in _paths(value, (*path, key)))]


def _replaced(data: Any, path: tuple[Any, ...], new: Any, key: str | None) -> Any:
    if not path:
        return new
    if isinstance(data, list):
        return [_replaced(v, path[1:], new, key) if i == path[0] else v for i, v in enumerate(data)]
    last = len(path) == 1 and key is not None
    return {
        (key if last and k == path[0] else k): (v if last else _replaced(v, path[1:], new, key)) if k == path[0] else v
        for k, v in data.items()
    }


@st.composite
def _mutated_data(draw: st.DrawFn) -> str:
    data: Any = plain(tree_of(draw(st.sampled_from(TEXTS)), "f"))
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(_paths(data)[1:] or [()]))
        rename = draw(st.none() | st.sampled_from([k for p in _paths(data) for k in p if isinstance(k, str)] or [None]))
        data = _replaced(data, path, draw(_DATA), rename)
        if not isinstance(data, Mapping):
            break
    return json.dumps(data)


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(_mutated_data())
def test_mutated_data(text: str) -> None:
    """JSON is YAML: any value may stand in any place, any key may take another's name."""
    _never_worse(text)
