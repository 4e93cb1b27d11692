"""Codes about overrides: commands that go over others."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_SMOKE = "-SJ9: {profile: contact, contact: NO, at: +C1, operated_when: smoke is to be drawn off}\n"
_DEVICES = START + STOP + _SMOKE
_WHY = "why: smoke is drawn off while people leave"
_PRESET = "speed: {full: {preset: 50 Hz}}\n"


def _override(text: str) -> str:
    return f"override:\n  fire: {{{text}, {_WHY}}}\n"


def _without(text: str) -> tuple[tuple[str, str], ...]:
    """The example put right: an override always draws its warning, so it is left out with its contact."""
    return (("    override:\n", ""), (f"      fire: {{{text}, {_WHY}}}\n", ""), ("  " + _SMOKE, ""))


_PLAIN = "by: -SJ9, acts_on: closing, speed: full, ignores: [stop]"
_UNSAFE = "by: -SJ9, acts_on: closing, speed: full, ignores: [safe_torque_off]"
_UNKNOWN = "by: -SJ9, acts_on: closing, speed: full, ignores: [stopp]"
_BREAK = "by: -SJ9, acts_on: opening, speed: full, ignores: [stop]"

ENTRIES = (
    Entry(
        code="override-declared",
        severity=WARNING,
        title="A command that goes over others",
        what="A drive has an override: while its contact acts, the motor runs and what it ignores does nothing.",
        why=(
            "Whoever presses STOP expects the motor to stop. Every override must be known at the machine; it is "
            "printed on the sheet with its reason."
        ),
        remedy="Keep it only where its reason is worth it, put a notice at the machine, and test what still stops it.",
        basis=PRACTICE,
        example=drive(_DEVICES, THREE_WIRE + _PRESET + _override(_PLAIN)),
        right=_without(_PLAIN),
    ),
    Entry(
        code="override-over-safety",
        severity=ERROR,
        title="An override over what stops in an emergency",
        what=(
            "An override ignores an isolator, safe torque off, a guard or an emergency stop, or an input that one of "
            "these drives."
        ),
        why="People rely on these with their lives: while the override acts they would reach into a machine that runs.",
        remedy="Take the name out of `ignores`. What must run on in an emergency needs an assessment of its own.",
        basis="IEC 60204-1, clause 9.2.3.4.2: an emergency stop overrides all other functions, from memory",
        example=drive(_DEVICES, THREE_WIRE + _PRESET + _override(_UNSAFE)),
        right=_without(_UNSAFE),
        along=("override-declared",),
    ),
    Entry(
        code="override-ignores-unknown",
        severity=ERROR,
        title="An override over something that is not there",
        what="A name under `ignores` is no input of the drive and nothing else that an override can go over.",
        why="What was meant is not ignored, and the override fails when it is needed.",
        remedy="Write the name of the function that it goes over, such as stop, external_trip or lost_signal.",
        basis=PRACTICE,
        example=drive(_DEVICES, THREE_WIRE + _PRESET + _override(_UNKNOWN)),
        right=_without(_UNKNOWN),
        along=("override-declared",),
    ),
    Entry(
        code="override-by-break",
        severity=WARNING,
        title="An override that a broken wire brings about",
        what="An override acts when its input opens.",
        why="A broken wire, a loose clamp or a lost feed runs the motor, and its stop does nothing.",
        remedy="Let it act on closing, unless the reason for the override is worth a false one.",
        basis=PRACTICE,
        example=drive(
            _DEVICES.replace("contact: NO, at: +C1, operated", "contact: NC, at: +C1, operated"),
            THREE_WIRE + _PRESET + _override(_BREAK),
        ),
        right=(*_without(_BREAK)[:2], ("  " + _SMOKE.replace("contact: NO", "contact: NC"), "")),
        along=("override-declared",),
    ),
)
