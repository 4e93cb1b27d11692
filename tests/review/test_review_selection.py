"""Truth tables of selections, against a second way of reading them, and how far contacts reach."""

from __future__ import annotations

import re
from itertools import product

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from review_schemes import codes, designed, drive, found, only

from wiregen.review.context import context_of
from wiregen.review.selection import graph_of, reached, selections

PUSH = "-SJ{n}: {{profile: push_button, contact: NO, at: +C1}}\n"


def table(rows: dict[str, str], presets: dict[str, float], contacts: int, selector: str = "") -> str:
    """A drive with presets, selected by push-buttons, or by the one selector that is given."""
    devices = selector or "".join(PUSH.format(n=n) for n in range(1, contacts + 1))
    by = "-SJ1" if selector else ", ".join(f"-SJ{n}" for n in range(1, contacts + 1))
    speed = "\n".join(f"  {name}: {{preset: {hz} Hz}}" for name, hz in presets.items())
    when = ", ".join(f"{key}: {name}" for key, name in rows.items())
    devices += "\n-SF9: {profile: emergency_stop, at: +C1}\n"
    control = f"speed:\n{speed}\nselect: {{by: [{by}], when: {{{when}}}}}\n"
    return drive(devices, control, profile="drive_extended", safe_torque_off="{by: -SF9}")


def reach(text: str) -> set[str]:
    design = designed(text)
    context = context_of(design.scheme, design.declared, design.allocation, design.wiring)
    (selection,) = selections(context)
    return reached(selection)


def test_hand_and_auto_reach_two_references() -> None:
    """A hand/auto selection reaches two references. Common practice, no source."""
    selector = "-SJ1: {profile: selector, positions: [HAND, AUTO], at: +C1}"
    presets = {"hand": 10, "auto": 40}
    text = table({"HAND": "hand", "AUTO": "auto"}, presets, 1, selector)
    assert reach(text) == {"hand", "auto"}
    assert codes(designed(text)) == []


def test_two_contacts_reach_four_references_and_no_fifth() -> None:
    """Two selecting contacts reach four references. Common practice, no source."""
    presets = {name: 10.0 * (n + 1) for n, name in enumerate("abcde")}
    rows = dict(zip(("00", "01", "10", "11"), "abcd", strict=True))
    assert reach(table(rows, {name: presets[name] for name in "abcd"}, 2)) == set("abcd")
    five = designed(table(rows, presets, 2))
    assert only(five, "reference-orphaned").subject == "-TA1 e"


@pytest.mark.parametrize("contacts", [1, 2, 3, 4])
def test_codes_and_contacts_are_nodes_of_one_graph(contacts: int) -> None:
    """n independent contacts give two to the n codes (counted by product), each of which leads to one reference."""
    rows = {"".join(digits): f"r{i}" for i, digits in enumerate(product("01", repeat=contacts))}
    design = designed(table(rows, {name: i + 1 for i, name in enumerate(rows.values())}, contacts))
    context = context_of(design.scheme, design.declared, design.allocation, design.wiring)
    graph = graph_of(next(selections(context)))
    assert sum(kind == "code" for kind, _ in graph) == 2**contacts
    for contact in (node for node in graph if node[0] == "contact"):
        assert {name for kind, name in nx.descendants(graph, contact) if kind == "reference"} == set(rows.values())


ROWS = st.dictionaries(
    st.text("01x", min_size=3, max_size=3), st.sampled_from(["low", "mid", "high"]), min_size=1, max_size=6
)


@settings(max_examples=60, deadline=None)
@given(ROWS)
def test_tables_are_judged_as_by_patterns(rows: dict[str, str]) -> None:
    """Second method: each row as a regular expression over all eight codes."""
    presets = {"low": 5.0, "mid": 20.0, "high": 45.0}
    design = designed(table(rows, presets, 3))
    every = ["".join(digits) for digits in product("01", repeat=3)]
    hits = {
        code: [name for row, name in rows.items() if re.fullmatch(row.replace("x", "[01]"), code)] for code in every
    }
    seen = set(codes(design))
    assert ("codes-missing" in seen) == any(not names for names in hits.values())
    assert ("codes-contradict" in seen) == any(len(set(names)) > 1 for names in hits.values())
    assert ("code-covered-twice" in seen) == any(len(names) > len(set(names)) for names in hits.values())
    orphans = set(presets) - {name for names in hits.values() for name in names}
    assert {f.subject for f in found(design, "reference-orphaned")} == {f"-TA1 {name}" for name in orphans}
    idle = {
        n + 1
        for n in range(3)
        if all(set(hits[f"{c[:n]}0{c[n + 1 :]}"]) == set(hits[f"{c[:n]}1{c[n + 1 :]}"]) for c in every)
    }
    assert {f.subject for f in found(design, "selecting-contact-idle")} == {f"-TA1 -SJ{n}" for n in idle}
    faster = {name for name in hits["000"] if presets[name] > 5.0}
    assert {f.subject for f in found(design, "code-zero-not-slowest")} == {f"-TA1 {name}" for name in faster}


def test_three_positions_give_three_codes() -> None:
    """Two contacts of one selector never close together: 11 is not missing, and a row for it selects nothing."""
    selector = "-SJ1: {profile: selector, positions: [A, B, C], at: +C1}"
    presets = {"a": 10, "b": 5, "c": 30}
    sound = table({"A": "a", "B": "b", "C": "c"}, presets, 1, selector)
    assert codes(designed(sound)) == []
    never = designed(table({"A": "a", "B": "b", "C": "a", "11": "c"}, presets, 1, selector))
    assert "only 11 does, which its contacts cannot give" in only(never, "reference-orphaned").message


def test_a_missing_position_is_named() -> None:
    selector = "-SJ1: {profile: selector, positions: [A, B, C], at: +C1}"
    design = designed(table({"A": "a", "B": "b"}, {"a": 10, "b": 5}, 1, selector))
    finding = only(design, "codes-missing")
    assert finding.message == "the selection of -TA1 says nothing for C: 1 of 3 positions is missing"


def test_a_changeover_gives_two_codes() -> None:
    """A make and a break contact of one button are never both open, never both closed."""
    devices = "-SJ1: {profile: push_button, contacts: [NO, NC], at: +C1}"
    control = """
    speed: {slow: {preset: 5 Hz}, fast: {preset: 40 Hz}}
    select: {by: [-SJ1.13-14, -SJ1.21-22], when: {01: slow, 10: fast}}
    """
    design = designed(drive(devices, control))
    assert codes(design) == ["code-zero-undeclared"]
    assert "code 00" in found(design, "code-zero-undeclared")[0].message


def test_a_key_of_wrong_length_names_what_would_be_right() -> None:
    design = designed(table({"0": "slow", "1": "fast", "01": "fast"}, {"slow": 5, "fast": 40}, 1))
    finding = only(design, "code-malformed")
    assert finding.message == (
        "'01' is no code of the selection of -TA1: write one digit (0, 1, or x for either), one for each of -SJ1"
    )
    assert finding.where == ("control", "-TA1", "select", "when", "01")


def test_a_reference_of_a_malformed_row_is_no_orphan() -> None:
    """One mistake is told once: the row is wrong, not the reference."""
    design = designed(table({"0": "slow", "1": "slow", "11": "fast"}, {"slow": 5, "fast": 40}, 1))
    assert "reference-orphaned" not in codes(design)


def test_code_zero_compares_what_references_may_command() -> None:
    devices = """
    -SJ1: {profile: selector, positions: [HAND, FIX], at: +C1}
    -RA1: {profile: potentiometer, at: +C1}
    """
    control = """
    speed:
      hand: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}
      fix: {preset: 22 Hz}
    select: {by: [-SJ1], when: {HAND: hand, FIX: fix}}
    """
    finding = only(designed(drive(devices, control)), "code-zero-not-slowest")
    assert (finding.value, finding.limit, finding.unit) == (50.0, 22.0, "Hz")


def test_a_single_reference_needs_no_selection() -> None:
    design = designed(
        drive("-RA1: {profile: potentiometer, at: +C1}", "speed: {hand: {from: -RA1, spans: 0 to 50 Hz}}")
    )
    assert codes(design) == []


def test_an_empty_table_is_missing_everything_and_nothing_more() -> None:
    design = designed(table({}, {"slow": 5}, 2))
    assert codes(design) == ["reference-orphaned", "codes-missing"]


def test_ten_contacts_are_checked_code_by_code() -> None:
    """The widest table that is checked: 1023 of its 1024 codes are covered by ten rows, one for each first 1."""
    rows = {"0" * n + "1" + "x" * (9 - n): "slow" for n in range(10)}
    design = designed(table(rows, {"slow": 5}, 10))
    assert only(design, "codes-missing").message.endswith("says nothing for 0000000000: 1 of 1024 codes is missing")


def test_a_selector_without_named_positions_gives_both_digits() -> None:
    selector = "-SJ1: {profile: selector, at: +C1}"
    assert codes(designed(table({"0": "slow", "1": "fast"}, {"slow": 5, "fast": 40}, 1, selector))) == []
    assert (
        "says nothing for 1" in only(designed(table({"0": "slow"}, {"slow": 5}, 1, selector)), "codes-missing").message
    )
