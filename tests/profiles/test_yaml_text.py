"""YAML as text with places."""

from __future__ import annotations

import time

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from wiregen import yaml_text
from wiregen.terms import UnusableInput


def _said(text: str) -> list[str]:
    with pytest.raises(UnusableInput) as error:
        yaml_text.load(text, "f.yaml")
    return [str(c) for c in error.value.complaints]


def test_text_stays_what_was_typed() -> None:
    data, _ = yaml_text.load("a: NO\nb: 0012\nc: 12:30\nd: 1e3\ne: 2024-01-01\nf: yes\ng: 0x1F\n", "f.yaml")
    assert data == {"a": "NO", "b": "0012", "c": "12:30", "d": "1e3", "e": "2024-01-01", "f": "yes", "g": "0x1F"}


def test_only_a_plain_null_is_nothing() -> None:
    data, _ = yaml_text.load("a:\nb: ~\nc: null\nd: 'null'\ne: \"\"\nf: nullify\n", "f.yaml")
    assert data == {"a": None, "b": None, "c": None, "d": "null", "e": "", "f": "nullify"}


def test_values_and_keys_know_their_places() -> None:
    text = "a: 1\nb:\n  - {c: 23}\n"
    _, positions = yaml_text.load(text, "f.yaml")
    assert positions.values[("b", "0", "c")] == (3, 9, 16, 18)
    assert positions.keys[("b", "0", "c")] == (3, 6, 13, 14)
    assert str(positions.locate(("b", 0, "c"))) == "f.yaml:3:9"
    assert str(positions.locate(("b", 0, "c"), key=True)) == "f.yaml:3:6"
    assert str(positions.locate(("b", "union tag", 0, "c", "more"))) == "f.yaml:3:9"
    assert str(positions.locate(("nowhere",))) == "f.yaml:1:1"


@pytest.mark.parametrize("bom", ["", "\ufeff"])
@pytest.mark.parametrize("end", ["\n", "\r\n"])
@given(words=st.lists(st.from_regex(r"[a-zé€😀]{1,8}", fullmatch=True), min_size=1, max_size=5, unique=True))
def test_marks_cut_the_very_text(bom: str, end: str, words: list[str]) -> None:
    text = bom + "".join(f"{word}: {word}x{end}" for word in words)
    _, positions = yaml_text.load(text, "f.yaml")
    for line, word in enumerate(words, start=1):
        value, key = positions.values[(word,)], positions.keys[(word,)]
        assert text[value.start : value.end] == word + "x"
        assert text[key.start : key.end] == word
        assert (value.line, value.column, key.column) == (line, len(word) + 3, 1)


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "1:1: nothing stands in this file"),
        ("# nothing\n", "1:1: nothing stands in this file"),
        ("word", "1:1: the file must hold keys and values, `key: value`"),
        ("- a", "1:1: the file must hold keys and values, `key: value`"),
        ("a: [1,", "2:1: this is not valid YAML"),
        ("a: b: c", "1:5: this is not valid YAML: mapping values are not allowed in this context"),
        ("a:\n\t- b", "2:1: this is not valid YAML"),
        ("a: 1\n---\nb: 2", "2:1: this is not valid YAML: expected a single document"),
        ("a: *b", "1:4: this is not valid YAML: found undefined alias"),
        ("a: &x [*x]", "1:4: an alias stands inside what it refers to"),
        ("a: !!python/name:os.system x", "1:4: tag 'tag:yaml.org,2002:python/name:os.system' is not allowed"),
        ("a: !!binary aGk=", "1:4: tag 'tag:yaml.org,2002:binary' is not allowed"),
        ("a: &b {c: 1}\n<<: *b", "2:1: merge keys (`<<`) are not supported"),
        ("a: 1\nb: {c: 1, c: 2}", "2:11: duplicate key 'c'; it stands in line 2 already"),
        ("{[a]: b}", "1:2: a key must be plain text"),
        ("~: b", "1:1: a key is missing before the colon"),
        ("a: \x07b", "1:4: control character U+0007 is not allowed"),
        ("a: b\x00", "1:5: control character U+0000 is not allowed"),
        ('a: "b\\0"', "1:4: control character U+0000 is not allowed"),
        ('"a\\e": b', "1:1: control character U+001B is not allowed"),
        ("a: \ud800", "1:4: control character U+D800 is not allowed"),
        ("a: " + "[" * 100 + "]" * 100, "nested deeper than 60 levels"),
        ("a: " + "[" * 200_000, "exceeded maximum nesting depth"),
        ("{a: " * 50_000, "exceeded maximum nesting depth"),
        ("a: " + "x" * 4_000_000, "1:1: longer than 4000000 characters"),
    ],
    ids=lambda x: x[:30],
)
def test_what_cannot_be_read_is_told(text: str, message: str) -> None:
    assert any(message in s for s in _said(text))


def test_all_duplicate_keys_are_told() -> None:
    assert len(_said("a: 1\na: 2\nb: {c: 1, c: 2}\n")) == 2


def test_a_million_laughs_are_cut_short() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 10)}]" for i in range(1, 12)]
    start = time.perf_counter()
    assert "expands to more than 200000 values" in _said("\n".join(lines))[0]
    assert time.perf_counter() - start < 20


def test_bytes_that_are_no_text_are_told() -> None:
    assert yaml_text.decode("ä: €".encode(), "f.yaml") == "ä: €"
    with pytest.raises(UnusableInput, match=r"f\.yaml:2:2: is not text in UTF-8"):
        yaml_text.decode(b"a: b\nc\xff: d", "f.yaml")
    with pytest.raises(UnusableInput, match="longer than"):
        yaml_text.decode(b"x" * 16_000_001, "f.yaml")


_PLAIN = st.recursive(
    st.one_of(st.none(), st.text(st.characters(codec="utf-8", exclude_categories=("Cc", "Cs")), max_size=12)),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.from_regex(r"[a-z]{1,6}", fullmatch=True), inner),
    max_leaves=15,
)


@given(st.dictionaries(st.from_regex(r"[a-z]{1,6}", fullmatch=True), _PLAIN, min_size=1))
def test_what_a_yaml_library_writes_is_read_back(data: dict[str, object]) -> None:
    text = yaml.safe_dump(data, allow_unicode=True)
    assert yaml_text.load(text, "f.yaml")[0] == data


@given(st.text(max_size=200))
def test_no_text_gives_a_traceback(text: str) -> None:
    try:
        data, positions = yaml_text.load(text, "f.yaml")
    except UnusableInput as refused:
        spots = [complaint.spot for complaint in refused.complaints]
    else:
        spots = [positions.locate((), key=False), *(positions.locate((key,), key=True) for key in data)]
    assert spots
    assert all(spot.file == "f.yaml" and spot.line >= 1 and spot.column >= 1 for spot in spots)


def test_the_reader_in_python_says_the_same(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(yaml_text, "_Loader", yaml.SafeLoader)
    data, positions = yaml_text.load("\ufeffa: NO\nb: ~\nc: ''\n", "f.yaml")
    assert data == {"a": "NO", "b": None, "c": ""}
    assert positions.values[("a",)] == (1, 4, 4, 6)
    assert "nested deeper" in _said("a: " + "[" * 20_000)[0]


def test_near_misses() -> None:
    assert yaml_text.near_miss("strat", ["stop", "start"]) == "; did you mean 'start'?"
    assert yaml_text.near_miss("zebra", ["stop", "start"]) == ""
