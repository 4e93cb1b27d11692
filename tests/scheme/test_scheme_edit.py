"""Changing values in the text of a scheme: nothing else changes. What is read back is read by PyYAML itself."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
import yaml

from wiregen.scheme.edit import Change, Unspliceable, changed_lines, diff, edited
from wiregen.scheme.splicing import flow

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))

TEXT = """\
scheme: Pump    # a remark
# about devices
devices:
  -TA1: {profile: drive_compact, at: +C1}   # the drive
  -SJ1:
    profile: push_button   # a button
    contact: NO
  "-SJ2": {profile: push_button,
           contact: NC}
control:
  -TA1:
    inputs: source
    run: {method: three-wire, start: -SJ1, stop: -SJ2}
apart:
  - [a, b]
  - [c, d]   # these too
empty: {}
variants:
  other: {scheme: Fan}
  sinking:
    control: {-TA1: {inputs: sink}}
"""


def after(*changes: Change, text: str = TEXT, variant: str | None = None) -> str:
    return edited({"a.yaml": text}, "a.yaml", changes, variant).after["a.yaml"]


def changed(*changes: Change, text: str = TEXT, variant: str | None = None) -> list[tuple[str | None, str | None]]:
    change = edited({"a.yaml": text}, "a.yaml", changes, variant)
    return [(line.before, line.after) for line in changed_lines(change)]


@pytest.mark.parametrize(
    ("change", "before", "now"),
    [
        (Change(("scheme",), "Fan"), "scheme: Pump    # a remark", "scheme: Fan    # a remark"),
        (Change(("scheme",), "yes: no"), "scheme: Pump    # a remark", "scheme: 'yes: no'    # a remark"),
        (Change(("devices", "-SJ2", "contact"), "NO"), "           contact: NC}", "           contact: NO}"),
        (
            Change(("devices", "-TA1", "text"), "x"),
            "  -TA1: {profile: drive_compact, at: +C1}   # the drive",
            "  -TA1: {profile: drive_compact, at: +C1, text: x}   # the drive",
        ),
        (
            Change(("devices", "-TA1", "at"), None),
            "  -TA1: {profile: drive_compact, at: +C1}   # the drive",
            "  -TA1: {profile: drive_compact}   # the drive",
        ),
        (
            Change(("devices", "-TA1", "profile"), None),
            "  -TA1: {profile: drive_compact, at: +C1}   # the drive",
            "  -TA1: {at: +C1}   # the drive",
        ),
        (Change(("devices", "-SJ1", "contact"), None), "    contact: NO", None),
        (Change(("devices", "-SJ1", "text"), "GO"), None, "    text: GO"),
        (Change(("control", "-TA1", "limits", "forward"), "-SJ1"), None, "    limits: {forward: -SJ1}"),
        (
            Change(("control", "-TA1", "inputs"), {"group 1": "sink"}),
            "    inputs: source",
            "    inputs: {group 1: sink}",
        ),
        (Change(("apart", "1"), None), "  - [c, d]   # these too", None),
        (Change(("apart",), ["e", "f"], item=True), None, "  - [e, f]"),
        (Change(("apart", "0"), "c", item=True), "  - [a, b]", "  - [a, b, c]"),
        (Change(("empty", "x"), "y"), "empty: {}", "empty: {x: y}"),
        (Change(("banks", "-KE"), ["-KE1", "-KE2"]), None, "banks: {-KE: [-KE1, -KE2]}"),
    ],
)
def test_one_line_changes_and_no_other(change: Change, before: str | None, now: str | None) -> None:
    assert changed(change) == [(before, now)]


def test_a_whole_block_goes_and_the_remark_above_stays() -> None:
    text = after(Change(("devices", "-SJ1"), None))
    assert "-SJ1:\n" not in text
    assert "push_button   # a button" not in text
    assert "# about devices" in text
    assert yaml.safe_load(text)["devices"].keys() == {"-TA1", "-SJ2"}


def test_what_would_be_left_empty_goes_too() -> None:
    text = "a: 1\nfixed:\n  -TA1: {DI1: stop}\nb: 2\n"
    assert after(Change(("fixed", "-TA1", "DI1"), None), text=text) == "a: 1\nb: 2\n"


@pytest.mark.parametrize("end", ["\n", "\r\n"])
@pytest.mark.parametrize(
    ("text", "section", "left"),
    [
        ("a: 1\n\nfixed:\n  -TA1: {DI1: stop}\n\nb: 2\n", "fixed", "a: 1\n\nb: 2\n"),
        ("a: 1\n\nfixed:\n  -TA1: {DI1: stop}\nb: 2\n", "fixed", "a: 1\n\nb: 2\n"),
        ("a: 1\nfixed:\n  -TA1: {DI1: stop}\n\nb: 2\n", "fixed", "a: 1\n\nb: 2\n"),
        ("a: 1\n\nfixed:\n  -TA1: {DI1: stop}\n", "fixed", "a: 1\n"),
        ("fixed:\n  -TA1: {DI1: stop}\n\nb: 2\n", "fixed", "b: 2\n"),
        ("a: 1\n\n\nfixed: {-TA1: {DI1: stop}}\n# of b\n\nb: 2\n", "fixed", "a: 1\n\n\n# of b\n\nb: 2\n"),
    ],
)
def test_a_section_that_goes_leaves_no_hole(text: str, section: str, left: str, end: str) -> None:
    text, left = text.replace("\n", end), left.replace("\n", end)
    assert after(Change((section,), None), text=text) == left


def test_the_last_section_of_an_included_file_stays_and_is_empty() -> None:
    texts = {
        "main.yaml": "include: part.yaml\nscheme: A\n",
        "part.yaml": "# wired\nfixed:\n  -TA1: {DI1: stop}  # old\n",
    }
    change = edited(texts, "main.yaml", [Change(("fixed", "-TA1", "DI1"), None)])
    assert change.after["part.yaml"].startswith("# wired\nfixed: {}")


def test_in_a_variant_only_the_variant_changes() -> None:
    assert changed(Change(("control", "-TA1", "inputs"), "source"), variant="sinking") == [
        ("    control: {-TA1: {inputs: sink}}", "    control: {-TA1: {inputs: source}}")
    ]
    assert changed(Change(("control", "-TA1", "run", "stop"), "-SJ1"), variant="other") == [
        ("  other: {scheme: Fan}", "  other: {scheme: Fan, control: {-TA1: {run: {stop: -SJ1}}}}")
    ]
    assert changed(Change(("devices", "-SJ1"), None), variant="other") == [
        ("  other: {scheme: Fan}", "  other: {scheme: Fan, devices: {-SJ1: null}}")
    ]


def test_a_section_that_is_like_another_says_what_differs() -> None:
    text = "control:\n  -TA1: {inputs: source, run: {stop: a}}\n  -TA2: {like: -TA1}\n"
    assert (
        changed(Change(("control", "-TA2", "inputs"), "sink"), text=text)[0][1] == "  -TA2: {like: -TA1, inputs: sink}"
    )
    assert changed(Change(("control", "-TA2", "run", "stop"), None), text=text)[0][1] == (
        "  -TA2: {like: -TA1, run: {stop: null}}"
    )


def test_a_value_is_changed_in_the_file_where_it_stands() -> None:
    texts = {"main.yaml": "include: part.yaml\nscheme: A\n", "part.yaml": "devices:\n  -TA1: {at: +C1}\nscheme: B\n"}
    change = edited(texts, "main.yaml", [Change(("devices", "-TA1", "at"), "+C2"), Change(("scheme",), "C")])
    assert change.files == ("main.yaml", "part.yaml")
    assert change.after["main.yaml"] == "include: part.yaml\nscheme: C\n"
    assert change.after["part.yaml"] == "devices:\n  -TA1: {at: +C2}\nscheme: B\n"
    assert "+  -TA1: {at: +C2}" in diff(change)


@pytest.mark.parametrize(
    ("text", "change"),
    [
        ("a: &x {b: 1}\nc: *x\n", Change(("c", "b"), "2")),  # the other use would change too
        ("a: &x 1\nc: *x\n", Change(("a",), "2")),
        ("a: text\n", Change(("a", "b"), "2")),
        ("a: text\n", Change(("a",), "2", item=True)),
    ],
)
def test_what_cannot_be_changed_alone_is_refused(text: str, change: Change) -> None:
    with pytest.raises(Unspliceable):
        after(change, text=text)


def test_line_ends_stay_those_of_the_file() -> None:
    text = "a:\r\n  b: 1\r\nc: 2\r\n"
    assert after(Change(("a", "d"), "3"), text=text) == "a:\r\n  b: 1\r\n  d: 3\r\nc: 2\r\n"
    assert after(Change(("a",), None), text=text) == "c: 2\r\n"


@pytest.mark.parametrize(
    "text", ["NO", "a: b", "a, b", "{x}", "-x", "null", "~", "", "it's", "#", "4-20 mA", "é", "a\tb"]
)
def test_any_text_reads_back(text: str) -> None:
    (value,) = yaml.compose(f"{{k: {flow(text)}}}").value[0][1:]
    assert (value.value, value.tag.endswith("null")) == (text, False)


def _leaves(node: yaml.Node, where: tuple[str, ...] = ()) -> list[tuple[str, ...]]:
    if isinstance(node, yaml.MappingNode):
        return [leaf for k, v in node.value for leaf in _leaves(v, (*where, k.value))]
    if isinstance(node, yaml.SequenceNode):
        return [leaf for i, v in enumerate(node.value) for leaf in _leaves(v, (*where, str(i)))]
    return [where]


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_value_of_every_example_can_be_changed_and_taken_away(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    remarks = re.findall(r"(?m)(?:^|\s)#.*$", text)
    leaves = [
        leaf for leaf in _leaves(yaml.compose(text, Loader=yaml.SafeLoader)) if leaf[0] not in ("variants", "include")
    ]
    assert len(leaves) > 10
    for leaf in leaves[:: max(1, len(leaves) // 10)]:
        (only,) = changed(Change(leaf, "something else: 5"), text=text)
        assert "'something else: 5'" in str(only[1])
        assert re.findall(r"(?m)(?:^|\s)#.*$", after(Change(leaf, "x"), text=text)) == remarks
        gone = edited({"a.yaml": text}, "a.yaml", [Change(leaf, None)])
        assert len(changed_lines(gone)) <= 3
