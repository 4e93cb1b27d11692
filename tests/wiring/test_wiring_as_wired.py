"""What is wired stays: strips, cables, cores and numbers as `fixed` and `wired` have them.

Every expectation is worked out by hand from the scheme (common practice, no source).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from wiregen import pipeline, profiles, scheme
from wiregen.pipeline import Design

EXAMPLE = Path(__file__).parents[2] / "examples" / "retrofit_dosing_pump.yaml"


def designed(changes: dict[str, str] | None = None, variant: str | None = None) -> Design:
    """The retrofit, with some texts of it changed; each stands in it once."""
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in (changes or {}).items():
        assert text.count(old) == 1
        text = text.replace(old, new)
    return pipeline.design(scheme.read_text(text, "x.yaml", variant=variant, profiles=profiles.load()))


def cores(design: Design, cable: str) -> dict[str, tuple[str, str]]:
    """Core -> (strip terminal, pin in the field)."""
    return {str(c.core): (str(c.a), str(c.b) if c.b else "") for c in design.wiring.conductors if c.cable == cable}


def told(design: Design) -> dict[str, str]:
    return {f.code: f.message for f in design.findings}


def test_allocation_is_forced() -> None:
    """DI1 and DI2 are fixed, the trip stays on DI5, DI6 is damaged; the enable has its usual DI3."""
    places = {a.function: a.channel for a in designed().allocation.assignments}
    assert places == {"start": "DI1", "stop": "DI2", "enable": "DI3", "external trip": "DI5", "running": "13"}


def test_every_core_of_the_old_cable_is_used_once() -> None:
    """Cores 1 to 4 and 7 as read at the machine; the lamp's 0 V and the enable take 5 and 6, 0 V before signals."""
    design = designed()
    assert cores(design, "-W7") == {
        "1": ("-X3:1", "-SJ1:13"),
        "2": ("-X3:2", "-SJ1:14"),
        "3": ("-X3:3", "-SJ2:12"),
        "4": ("-X3:4", "-BT1:12"),
        "5": ("-X3:5", "-PF1:X2"),
        "6": ("-X3:6", "-BP1:12"),
        "7": ("-X3:7", "-PF1:X1"),
    }
    (cable,) = design.wiring.cables
    assert (cable.name, cable.cores, cable.used, cable.existing, cable.area_mm2) == ("-W7", 7, 7, True, 1.5)
    # 18 m of route, 2 m in the cabinet, 1 m at the devices.
    assert cable.length_m == 21.0


def test_answer_says_that_no_spare_is_left() -> None:
    assert told(designed()) == {
        "field-feed-unprotected": "-TB1:24V goes into the field in -W7, and no fuse stands before it",
        "spare-below-policy": "7 of 7 cores of -W7 are used; the policy asks for one spare",
        "start-beside-stop": "stop of -TA1, start and what feeds both (24 V of -TB1) lie in -W7, and nothing else "
        "stops -TA1: cores that touch there start the motor or hold it against its stop",
    }


def test_numbers_are_kept_and_others_begin_where_they_are_told_to() -> None:
    numbers = {p.name: p.number for p in designed().wiring.potentials}
    assert numbers == {
        "24 V of -TB1": "101",
        "start of -TA1": "102",
        "stop of -TA1": "103",
        "external trip of -TA1": "104",
        "0 V of -TB1": "100",
        "enable of -TA1": "201",
        "running of -TA1": "202",
        "PE": "PE",
    }


def test_eighth_core_goes_to_a_new_cable() -> None:
    """With the selector a signal more is wanted; what is fixed and what is wired keep their cores."""
    design = designed(variant="flush")
    assert {c.name: (c.cores, c.used) for c in design.wiring.cables} == {"-W7": (7, 7), "-WG1": (2, 1)}
    assert cores(design, "-W7")["7"] == ("-X3:7", "-PF1:X1")
    assert cores(design, "-WG1")["1"][1] == "-SJ3:14"
    assert "8 cores are wanted" in told(design)["existing-cable-full"]
    assert cores(design, "-WG1")["2"][1] == ""  # the spare one lands too


@pytest.mark.parametrize(
    ("changes", "code", "says"),
    [
        ({"cable: -W7, core: 3, ": "cable: -W7, core: 2, "}, "core-fixed-twice", "core 2 of -W7"),
        ({"cable: -W7, core: 3, ": "cable: -W8, core: 3, "}, "fixed-cable-unknown", "-W8"),
        ({"cable: -W7, core: 3, ": "cable: -W7, core: 8, "}, "fixed-cable-unknown", "no core 8"),
        ({"number: 103": "number: 102"}, "number-kept-twice", "102"),
        ({'"-PF1:X2": 100': '"-PF1:X3": 100'}, "kept-number-unknown", "-PF1:X3"),
        ({'strip: "-X3:3"': 'strip: "-X3:2"'}, "strip-terminal-fixed-twice", "-X3:2"),
        ({'strip: "-X3:3"': "strip: -X3"}, "fixed-strip-unknown", "-X3"),
        (
            {"from: +C1, to: +F1, cores: 7": "from: +C1, to: +F1, cores: 7, class: safety"},
            "fixed-cable-elsewhere",
            "-W7",
        ),
    ],
)
def test_what_contradicts_itself_is_found(changes: dict[str, str], code: str, says: str) -> None:
    design = designed(changes)
    assert says in told(design)[code]


@pytest.mark.parametrize(
    ("marks", "expected"),
    [
        ("marks: numbers", ("1", "2", "3", "4", "5", "6", "7")),
        # The first seven colours of DIN 47100.
        ("marks: colours", ("WH", "BN", "GN", "YE", "GY", "PK", "BU")),
        ("marks: numbers, pe: yes", ("1", "2", "3", "4", "5", "6", "GNYE")),
    ],
)
def test_cores_are_marked_as_the_cable_is(marks: str, expected: tuple[str, ...]) -> None:
    design = designed({"marks: numbers": marks})
    (cable, *_) = design.wiring.cables
    assert cable.marks == expected
    used = cores(design, "-W7")
    assert used[expected[1]] == ("-X3:2", "-SJ1:14")
    if "pe" in marks:
        assert used["GNYE"][1] == ""  # GNYE is never a signal: it stays spare


def test_numbers_by_line_follow_the_declared_functions() -> None:
    """Line 201 is `stop` or `start`, whichever comes first; a second potential of a line has a letter behind."""
    design = designed({'numbers: {first: 201, keep: {"-PF1:X2": 100}}': "numbers: {by: line, first: 201}"})
    lines = {f.name: str(201 + index) for index, f in enumerate(design.functions)}
    numbers = {p.name: p.number for p in design.wiring.potentials}
    assert numbers["enable of -TA1"] == lines["enable"]
    assert numbers["running of -TA1"].rstrip("A") == lines["running"]
    assert len(set(numbers.values())) == len(numbers)
