"""Findings about runs, directions, overrides, loops and lost signals, beside the examples of the catalogue.

Tables of codes are compared with their evaluation by hand, code by code; the rest is common practice, no source.
"""

from __future__ import annotations

import random
from itertools import product

import pytest
from review_schemes import codes, designed, drive, found, only

SELECTORS = "\n".join(f"-SJ{n}: {{profile: selector, positions: [A, B], at: +C1}}" for n in (3, 4))
PLANT = f"""
-SJ1: {{profile: push_button, contact: NO, at: +C1}}
-SJ2: {{profile: push_button, contact: NC, at: +C1}}
-SJ5: {{profile: push_button, contact: NO, at: +C1}}
{SELECTORS}
"""
RUNS = """\
run:
  local: {method: three-wire, start: -SJ1, stop: -SJ2}
  far: {method: three-wire, start: -SJ5, stop: -SJ2}
always_stops: -SJ2
speed: {slow: {preset: 10 Hz}, fast: {preset: 40 Hz}}
"""


def table(rows: dict[str, tuple[str, str]]) -> str:
    """A scheme with this truth table; a row that is ("", "") is `stop`."""
    said = ", ".join(
        f"{code}: {'stop' if not run else f'{{run: {run}, speed: {speed}}}'}" for code, (run, speed) in rows.items()
    )
    return drive(PLANT, f"{RUNS}select: {{by: [-SJ3, -SJ4], when: {{{said}}}}}")


@pytest.mark.parametrize("seed", range(12))
def test_truth_tables_with_runs_against_every_code(seed: int) -> None:
    dice = random.Random(seed)
    keys = dice.sample(["".join(c) for c in product("01x", repeat=2)], dice.randint(2, 5))
    outcomes = [("local", "slow"), ("local", "fast"), ("far", "slow"), ("far", "fast"), ("", "")]
    rows = {key: dice.choice(outcomes) for key in keys}
    hits = {
        code: [rows[k] for k in rows if all(d in (c, "x") for d, c in zip(k, code, strict=True))]
        for code in ("00", "01", "10", "11")
    }
    seen = set(codes(designed(table(rows))))
    assert ("codes-missing" in seen) == any(not hit for hit in hits.values())
    assert ("codes-contradict" in seen) == any(len(set(hit)) > 1 for hit in hits.values())
    assert ("code-covered-twice" in seen) == any(len(hit) > len(set(hit)) for hit in hits.values())
    reached = {outcome for hit in hits.values() for outcome in hit}
    assert ("run-orphaned" in seen) == any(all(run != r for r, _ in reached) for run in ("local", "far"))
    assert ("reference-orphaned" in seen) == any(all(name != s for _, s in reached) for name in ("slow", "fast"))


def test_two_runs_with_one_stop_and_a_sound_table_have_no_findings() -> None:
    rows = {"00": ("", ""), "01": ("local", "slow"), "10": ("far", "slow"), "11": ("far", "fast")}
    assert codes(designed(table(rows))) == []


def test_a_run_that_only_an_impossible_code_selects() -> None:
    text = (
        table({"0": ("local", "slow"), "1": ("local", "fast")})
        .replace("[-SJ3, -SJ4]", "-SJ6")
        .replace("  -SJ4: ", "  -SJ6: {profile: selector, positions: [A, B, C], at: +C1}\n  -SJ4: ")
    )
    when = "when: {A: {run: local, speed: slow}, B: stop, C: {run: local, speed: fast}, 11: {run: far, speed: slow}}"
    text = text[: text.index("when:")] + when + "}\n"
    assert "only 11 does, which its contacts cannot give" in only(designed(text), "run-orphaned").message


def test_one_reference_needs_no_word_in_rows_that_choose_runs() -> None:
    text = table({"0x": ("local", "slow"), "1x": ("far", "slow")}).replace(", speed: slow}", "}")
    text = text.replace(", fast: {preset: 40 Hz}", "")
    assert {"selection-incomplete", "reference-orphaned"}.isdisjoint(codes(designed(text)))


@pytest.mark.parametrize("row", ["{speed: fast}", "{run: far}"])
def test_a_row_says_run_and_speed(row: str) -> None:
    text = table({"0x": ("local", "slow"), "1x": ("far", "fast")}).replace("{run: far, speed: fast}", row)
    assert only(designed(text), "selection-incomplete").where[-1] == "1x"


HOLD = "run: {method: hold-to-run, forward: %s, reverse: %s}"
EXCLUDING = """
-SJ6: {profile: selector, positions: [BACK, STAY, AHEAD], at: +C1}
-BG1: {profile: contact, contact: changeover, at: +C1, operated_when: out}
-SJ7: {profile: push_button, contact: NO, at: +C1}
-SJ8: {profile: push_button, contact: NO, at: +C1}
"""


@pytest.mark.parametrize(
    ("forward", "reverse", "told"),
    [
        ("-SJ6@AHEAD", "-SJ6@BACK", False),
        ("-BG1.11-14", "-BG1.11-12", False),
        ("-SJ7", "-SJ8", True),
        ("-SJ6@AHEAD", "-SJ8", True),
    ],
)
def test_directions_that_exclude_each_other_need_no_word(forward: str, reverse: str, told: bool) -> None:
    design = designed(drive(EXCLUDING, HOLD % (forward, reverse), restart="allowed"))
    assert ("both-directions-unanswered" in codes(design)) == told


def test_a_network_run_that_needs_a_start_is_told() -> None:
    design = designed(drive("", "run: {method: two-wire, from: network}"))
    assert [(f.code, str(f.severity)) for f in design.findings] == [("restart-by-setting", "note")]


@pytest.mark.parametrize(
    ("ignores", "code"),
    [
        ("emergency_stop", "override-over-safety"),
        ("isolator", "override-over-safety"),
        ("safe_torque_off", "override-over-safety"),
        ("enable", "override-over-safety"),
        ("entry", "override-ignores-unknown"),
        ("external_trip", ""),
    ],
)
def test_what_an_override_may_go_over(ignores: str, code: str) -> None:
    """The enable is driven by an emergency stop here, so nothing may go over it."""
    devices = """
    -SF1: {profile: emergency_stop, at: +C1}
    -BT1: {profile: contact, contact: NC, at: +C1, operated_when: hot}
    -SJ1: {profile: push_button, contact: NO, at: +C1}
    """
    override = f"override: {{fire: {{by: -SJ1, acts_on: closing, ignores: {ignores}, why: smoke}}}}"
    seen = codes(designed(drive(devices, f"enable: -SF1.11-12\nexternal_trip: -BT1\n{override}")))
    assert [c for c in seen if c.startswith("override-") and c != "override-declared"] == ([code] if code else [])
    assert "override-declared" in seen


def test_references_of_jog_override_and_lost_signals_are_in_use_and_must_be_there() -> None:
    devices = """
    -SJ1: {profile: push_button, contact: NO, at: +C1}
    -BP1: {profile: transmitter_two_wire, at: +C1}
    """
    control = """
    jog: {forward: -SJ1, speed: creep}
    speed:
      auto: {from: -BP1, signal: 4-20 mA, spans: 5 to 50 Hz, on_low: {use: %s}}
      creep: {preset: 5 Hz}
      calm: {preset: 15 Hz}
    """
    assert codes(designed(drive(devices, control % "calm"))) == []
    wrong = designed(drive(devices, control % "calmer"))
    assert only(wrong, "reference-undeclared").where == ("control", "-TA1", "speed", "auto", "on_low")
    assert only(wrong, "selection-missing").message.startswith("-TA1 has the references auto and calm")


LOOP = """
-TB1: {profile: supply_24v, at: +C1}
-KE4: {profile: io_analog_in_8, at: +C1}
-KE5: {profile: io_analog_in_8, at: +C1}
-BP1: {profile: transmitter_two_wire, at: +C1, loop: [%s], figures: {lift_off: 5 V}}
"""


@pytest.mark.parametrize(
    ("loop", "expected"),
    [
        ("-KE4, -KE5, -TA1", []),
        ("-KE5, -KE4, -TA1", []),
        ("-KE4, -TA1, -KE5", ["loop-order-wrong"]),
        ("-KE4, -TA1", ["loop-receiver-left-out", "signal-used-twice", "signal-used-twice"]),
    ],
)
def test_receivers_in_one_loop(loop: str, expected: list[str]) -> None:
    """Receivers of a current stand in series; the one that gives it to 0 V ends the loop (IEC 60381-1, from memory)."""
    design = designed(
        drive(
            LOOP % loop,
            "speed: {auto: {from: -BP1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: stop}}",
            zero_volt="{joined_to: -TB1}",
            beside="-KE4: {reads: {a: -BP1}}\n-KE5: {reads: {b: -BP1}}",
        )
    )
    assert sorted(codes(design)) == expected
    assert [f.severity for f in found(design, "loop-order-wrong")] == ["error"] * ("loop-order-wrong" in expected)
