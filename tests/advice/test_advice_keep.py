"""As built first: pack, change one thing, design with the pack kept: only what must differ differs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from brute_force import cost, placings

import wiregen
from wiregen import pipeline, profiles
from wiregen.advice.moves import Moved, as_built_of, moves
from wiregen.allocation.intake import problem_of
from wiregen.control import interpret
from wiregen.documents import moves_table
from wiregen.pipeline import Design
from wiregen.scheme import read_text

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = (EXAMPLES / "brine_pump.yaml").read_text(encoding="utf-8")
PROFILES = profiles.load()


def changed(*pairs: tuple[str, str]) -> str:
    text = BRINE
    for old, new in pairs:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return text


def designed(text: str, keep: Design | None = None, variant: str | None = None) -> Design:
    scheme = read_text(text, "pump.yaml", variant=variant, profiles=PROFILES)
    return pipeline.design(replace(scheme, as_built=as_built_of(keep, "before")) if keep else scheme)


BEFORE = designed(BRINE)
INTERLOCK = (
    ("  -RA1: {", "  -BP9: {profile: contact, contact: NC, at: +F1, text: Tank, operated_when: full}\n  -RA1: {"),
    ("    external_trip: -BT1\n", "    external_trip: -BT1\n    enable: -BP9\n"),
)


def told(found: tuple[Moved, ...]) -> list[str]:
    """Each move on one line."""

    def at(place: object) -> str:
        ends = [getattr(place, key) for key in ("a", "b", "number", "core")] if place else []
        return " ".join(text for text in ends if text) or "-"

    return [f"{m.kind} {m.change}: {at(m.was)} > {at(m.now)}" for m in found]


def test_one_more_contact_takes_the_spare_core_and_a_number_of_its_own() -> None:
    after = designed(changed(*INTERLOCK), BEFORE)
    assert told(moves(after)) == [
        "function new: - > -TA1:DI4",
        "core moved: -X1:5 5 > -X1:5 -BP9:12 13 5",
        "wire new: - > -BT1:11 -BP9:11 01",
        "wire new: - > -TA1:DI4 -X1:5 13",
    ]
    assert [(f.code, f.subject) for f in after.findings if not f.accepted] == [("spare-below-policy", "-WG1")]
    afresh = moves(designed(changed(*INTERLOCK)), as_built_of(BEFORE, "before"))
    assert len(afresh) > 20  # what keeping saves: numbers, strip and cores all shift


def test_one_contact_less_leaves_a_spare_core() -> None:
    gone = changed(("    external_trip: -BT1\n", ""), (_line("-BT1"), ""))
    assert told(moves(designed(gone, BEFORE))) == [
        "function gone: -TA1:DI3 > -",
        "wire gone: -SJ2:11 -BT1:11 01 > -",
        "core moved: -X1:4 -BT1:12 04 4 > -X1:4 4",
        "wire gone: -TA1:DI3 -X1:4 04 > -",
    ]


def test_a_function_that_must_go_elsewhere_takes_its_wire_and_number_along() -> None:
    after = designed(changed(("{DI1: start, DI2: stop}", "{DI3: start, DI2: stop}")), BEFORE)
    assert told(moves(after)) == [
        "function moved: -TA1:DI1 > -TA1:DI3",
        "function moved: -TA1:DI3 > -TA1:DI4",
        "wire moved: -TA1:DI1 -X1:2 02 > -TA1:DI3 -X1:2 02",
        "wire moved: -TA1:DI3 -X1:4 04 > -TA1:DI4 -X1:4 04",
    ]
    moved = [f.message for f in after.findings if f.code == "function-moved"]
    assert moved == [
        "start was on -TA1:DI1 and moves to -TA1:DI3",
        "external trip was on -TA1:DI3 and moves to -TA1:DI4",
    ]


def test_more_contacts_than_spare_cores_bring_a_cable_and_leave_the_old_one() -> None:
    more = "".join(
        f"  -BP{n}: {{profile: contact, contact: NC, at: +F1, text: T{n}, operated_when: full}}\n" for n in (7, 8, 9)
    )
    text = changed(
        ("  -RA1: {", more + "  -RA1: {"),
        ("    external_trip: -BT1\n", "    external_trip: -BT1\n    enable: -BP9\n    reset: -BP8\n"),
        ("{profile: io_digital_in_16, at: +C1}", "{profile: io_digital_in_16, at: +C1}"),
        ("  -KE5: {inputs: source}", "  -KE5: {inputs: source, reads: {tank: -BP7}}"),
    )
    after = designed(text, BEFORE)
    old = {c.name: c for c in BEFORE.wiring.cables}
    now = {c.name: c for c in after.wiring.cables}
    assert {name: c.cores for name, c in now.items() if name in old} == {name: c.cores for name, c in old.items()}
    assert set(now) - set(old) == {"-WG3"}
    assert not [m for m in moves(after) if m.change in ("gone", "renumbered")]


def test_what_leads_to_the_field_stays_while_the_cabinet_changes() -> None:
    """A lamp takes the place of a card: wires of the cabinet change, no core and no strip terminal does."""
    lamp = changed(
        ("  -KE5: {profile: io_digital_in_16, at: +C1}\n", "  -PF2: {profile: pilot_lamp, at: +C1, text: RUNS}\n"),
        ("      running: {switches: -KE5}", "      running: {switches: -PF2, supply: -TB1}"),
        ("  -KE5: {inputs: source}\n", ""),
    )
    after = designed(lamp, BEFORE)
    assert {m.kind for m in moves(after)} <= {"function", "wire"}
    names = {s.name: [t.name for t in s.terminals] for s in after.wiring.strips}
    assert names == {s.name: [t.name for t in s.terminals] for s in BEFORE.wiring.strips}


@pytest.mark.parametrize(
    "text",
    [
        changed(*INTERLOCK),
        changed(("{DI1: start, DI2: stop}", "{DI3: start, DI4: stop}")),
        changed(("{DI1: start, DI2: stop}", "{DI3: {keep_free: burnt}}")),
        changed(("{DI1: start, DI2: stop}", "{DI6: stop, DI1: {keep_free: burnt}}")),
    ],
)
def test_no_answer_moves_fewer_functions(text: str) -> None:
    """The level `moves` is proven, and is that of every placing tried. Source: exhaustive search."""
    scheme = replace(read_text(text, "pump.yaml", profiles=PROFILES), as_built=as_built_of(BEFORE, "before"))
    problem = problem_of(scheme, interpret(scheme))
    assert any(end.kept for end in problem.ends)
    level = pipeline.design(scheme).allocation.levels[0]
    assert (level.name, level.proven) == ("moves", True)
    assert level.value == min(cost(problem, chosen)[1] for chosen in placings(problem))


def test_wired_in_the_scheme_comes_before_the_pack() -> None:
    text = BRINE.replace("fixed:\n  -TA1: {DI1: start, DI2: stop}", "wired:\n  -TA1: {DI3: start, DI2: stop}")
    assert text != BRINE
    after = designed(text, BEFORE)
    at = {a.function: a.channel for a in after.allocation.assignments if a.device == "-TA1"}
    assert (at["start"], at["stop"]) == ("DI3", "DI2")
    assert at["external trip"] != "DI3"


def test_a_terminal_that_is_gone_is_named() -> None:
    text = BRINE.replace("-TA1: {profile: drive_compact", "-TA1: {profile: drive_extended")
    after = designed(text, BEFORE)
    messages = [f.message for f in after.findings if f.code == "function-moved"]
    assert any(
        m.startswith("running was on -TA1:13, which -TA1 does not have any more, and moves to") for m in messages
    )


def test_a_device_that_was_renamed_is_suspected() -> None:
    after = designed(BRINE.replace("-TA1", "-TA7"), BEFORE)
    (found,) = (f for f in after.findings if f.code == "wired-not-kept")
    assert (
        found.message
        == "-TA1 of the earlier pack is not in the scheme, and -TA7 does the same: nothing of -TA1 is kept"
    )
    assert after.scheme.locate(found.where).line > 1


def test_numbers_of_what_is_gone_come_to_mean_nothing_else() -> None:
    gone = changed(("    external_trip: -BT1\n", "    enable: -BT1\n"))
    after = designed(gone, BEFORE)
    old, new = {p.name: p.number for p in BEFORE.wiring.potentials}, {p.name: p.number for p in after.wiring.potentials}
    assert new["enable of -TA1"] == old["external trip of -TA1"]  # the same wire on the same contact
    dropped = designed(
        changed(
            ("    external_trip: -BT1\n", ""),
            (_line("-BT1"), ""),
            *INTERLOCK[:1],
            ("  -KE5: {inputs: source}", "  -KE5: {inputs: source, reads: {tank: -BP9}}"),
        ),
        BEFORE,
    )
    numbers = {p.name: p.number for p in dropped.wiring.potentials}
    assert numbers["tank of -KE5"] not in {p.number for p in BEFORE.wiring.potentials}


def test_the_list_of_moves_is_empty_where_nothing_moved() -> None:
    assert moves_table(designed(BRINE, BEFORE)).rows == ()
    rows = moves_table(designed(changed(*INTERLOCK), BEFORE)).records()
    assert [(r["kind"], r["change"], r["is_from"], r["is_number"]) for r in rows] == [
        ("function", "new", "-TA1:DI4", None),
        ("core", "moved", "-X1:5", "13"),
        ("wire", "new", "-BT1:11", "01"),
        ("wire", "new", "-TA1:DI4", "13"),
    ]


def test_a_pack_is_read_back_as_it_was_designed(tmp_path: Path) -> None:
    wiregen.pack(BEFORE, tmp_path / "pack")
    scheme = wiregen.read(EXAMPLES / "brine_pump.yaml", keep=tmp_path / "pack")
    built = as_built_of(BEFORE, str(tmp_path / "pack"))
    assert scheme.as_built is not None
    assert set(scheme.as_built.conductors) == set(built.conductors)
    assert set(scheme.as_built.cables) == set(built.cables)
    assert set(scheme.as_built.assignments) == set(built.assignments)
    assert scheme.as_built.strips == built.strips


def _line(device: str) -> str:
    """The line of the example that declares a device."""
    return next(line + "\n" for line in BRINE.splitlines() if line.startswith(f"  {device}: {{"))
