"""Codes about several runs of one drive: what selects them, and what a changeover does."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, drive

_RESTART = "IEC 60204-1, clause 7.3 and 9.2.3.2: no start by choosing a mode alone, from memory"
_SELECTOR = "-SJ3: {profile: selector, positions: [HAND, OFF, AUTO], at: +C1}\n"
_AUTO = "-SJ4: {profile: selector, positions: [WAIT, GO], at: +C1}\n"
_CHOICE = "-SJ3: {profile: selector, positions: [HAND, AUTO], at: +C1}\n"
_BUTTON = "-SJ4: {profile: push_button, contact: NO, at: +C1}"
_RUNS = """\
run:
  local: {method: three-wire, start: -SJ1, stop: -SJ2}
  remote: {method: two-wire, forward: -SJ4}
"""
_DEVICES = START + STOP + _SELECTOR + _AUTO
_WHEN = "select: {by: -SJ3, when: {HAND: {run: local}, OFF: stop, AUTO: {run: remote}}}\n"
_PRESETS = "speed: {slow: {preset: 10 Hz}, fast: {preset: 40 Hz}}\n"

_INPUTS = "\n".join(
    f"""  - label: DI{n}
    role: digital_in
    group: group 1
    common: COM
    accepts: [contact]
    polarities: [source, sink]
    resistance: {{value: 4 kohm, basis: "typical, invented"}}"""
    for n in (1, 2, 3, 4)
)
#: A drive that takes its commands by level, which no built-in profile does.
_LEVEL_DRIVE = f"""\
profile: drive_by_level_4
title: Drive that runs by level
controller: drive
terminals:
  - {{label: 24V, role: supply_out, volts: 24 V, limit: {{value: 100 mA, basis: "typical, invented"}}, common: COM}}
  - {{label: COM, role: zero}}
{_INPUTS}
start_by: level
"""

ENTRIES = (
    Entry(
        code="run-selection-missing",
        severity=ERROR,
        title="Several runs and nothing that selects",
        what="A drive has two or more named runs and no `select:`.",
        why="Commands of both runs would act together: whoever stands at the machine cannot know who starts it.",
        remedy="Add `select:` with a selector whose rows name a run each, or leave one run.",
        basis=PRACTICE,
        example=drive(_DEVICES.replace(_SELECTOR, ""), _RUNS),
        right=(
            ("forward: -SJ4}\n", f"forward: -SJ4}}\n    {_WHEN}"),
            (_AUTO.strip(), f"{_AUTO.strip()}\n  {_SELECTOR.strip()}"),
        ),
    ),
    Entry(
        code="run-orphaned",
        severity=WARNING,
        title="A run that nothing selects",
        what=(
            "A run is declared and no row of the selection brings it into force, or only one that its contacts cannot "
            "give."
        ),
        why="Its contacts, terminals and cores do nothing; most often a row names the wrong run.",
        remedy="Name it in a row of `select: when`, or leave it out.",
        basis=PRACTICE,
        example=drive(_DEVICES, _RUNS + _WHEN.replace("{run: remote}", "{run: local}")),
        right=(("AUTO: {run: local}", "AUTO: {run: remote}"),),
    ),
    Entry(
        code="run-undeclared",
        severity=ERROR,
        title="A code for a run that is not declared",
        what="A row of the selection names a run that does not stand under `run:`.",
        why="Nothing says what starts and stops the motor in that position.",
        remedy="Declare the run under `run:`, or name one that is there.",
        basis=PRACTICE,
        example=drive(_DEVICES, _RUNS + _WHEN.replace("OFF: stop", "OFF: {run: distant}")),
        right=(("OFF: {run: distant}", "OFF: stop"),),
    ),
    Entry(
        code="selection-incomplete",
        severity=ERROR,
        title="A row of the selection that leaves a choice open",
        what="A drive has several runs and a row names none, or it has several references and a row names none.",
        why="In that position nobody can say where the command comes from, or how fast the motor runs.",
        remedy="Write both into the row, as in `{run: local, speed: slow}`, or `stop`.",
        basis=PRACTICE,
        example=drive(
            _DEVICES,
            _RUNS
            + _PRESETS
            + "select:\n  by: -SJ3\n"
            + "  when: {HAND: {run: local, speed: slow}, OFF: slow, AUTO: {run: remote, speed: fast}}\n",
        ),
        right=(("OFF: slow", "OFF: stop"),),
    ),
    Entry(
        code="starts-by-changeover",
        severity=WARNING,
        title="The motor starts when its selector is turned",
        what="`starts_after_changeover: yes` stands at a drive with several runs.",
        why=(
            "Where a command of the other run stands, turning the selector starts the motor: whoever turns it may "
            "stand at the machine, and has given no start."
        ),
        remedy="Leave `starts_after_changeover` out; a new start is then needed after every changeover.",
        basis=_RESTART,
        example=drive(_DEVICES, _RUNS + _WHEN + "starts_after_changeover: yes\n"),
        right=(("    starts_after_changeover: yes\n", ""),),
    ),
    Entry(
        code="changeover-by-setting",
        severity=NOTE,
        title="Only a setting keeps the drive from starting by a changeover",
        what=(
            "A command of one run stays closed while another run is in force. The drive can be set to take it by its "
            "closing edge only."
        ),
        why="With the setting left out, the motor starts as soon as the selector brings that run into force.",
        remedy="Keep the setting in the commissioning list and test it: turn the selector with the command closed.",
        basis=_RESTART,
        example=drive(_DEVICES, _RUNS + _WHEN),
        right=(
            ("remote: {method: two-wire, forward: -SJ4}", "remote: {method: three-wire, start: -SJ4, stop: -SJ5}"),
            (_AUTO.strip(), f"{_BUTTON}\n  {_BUTTON.replace('-SJ4', '-SJ5').replace('NO', 'NC')}"),
        ),
    ),
    Entry(
        code="changeover-not-enforced",
        severity=ERROR,
        title="The motor starts by a changeover that shall not start it",
        what=(
            "A command of one run stays closed while another run is in force, the drive takes commands by level, and "
            "`starts_after_changeover` does not say yes."
        ),
        why="Turning the selector brings the run into force, its command stands, and the motor starts.",
        remedy=(
            "Start that run by a push-button (three-wire), take a drive that starts by the closing edge, or say "
            "`starts_after_changeover: yes` and mean it."
        ),
        basis=_RESTART,
        example=drive(
            f"{_CHOICE}{_AUTO}{START}{STOP}",
            _RUNS + "select: {by: -SJ3, when: {HAND: {run: local}, AUTO: {run: remote}}}\n",
            said="inputs: source\nzero_volt: floating\nrestart: allowed\n",
            profile="drive_by_level_4",
        ),
        right=(
            ("      remote: {method: two-wire, forward: -SJ4}\n", ""),
            ("    select: {by: -SJ3, when: {HAND: {run: local}, AUTO: {run: remote}}}\n", ""),
            ("  " + _CHOICE, ""),
            ("  " + _AUTO, ""),
        ),
        profile=_LEVEL_DRIVE,
    ),
)
