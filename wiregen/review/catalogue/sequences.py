"""Explanations: steps of a sequence that end otherwise than expected, or that cannot be done."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

ENTRIES = (
    Entry(
        code="step-not-as-expected",
        severity=ERROR,
        title="A step of the sequence does not end as expected",
        what=(
            "The scheme says under `steps` what is done and what is expected then. Computed from the wiring that is "
            "drawn and the settings that are listed, the machine does something else."
        ),
        why="Either the wiring does not do what is meant, or what is written down of the machine is wrong.",
        remedy="Look at `wiregen sequence`, which shows every step; then change the control, or what is expected.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            "steps:\n- {press: -SJ1, expect: {-TA1: running forward}}\n- {press: -SJ2, expect: {-TA1: running}}\n",
        ),
        right=(("press: -SJ2, expect: {-TA1: running}", "press: -SJ2, expect: {-TA1: still}"),),
    ),
    Entry(
        code="step-unfit",
        severity=ERROR,
        title="A step of the sequence that cannot be done or expected",
        what=(
            "A step operates what nobody can operate, turns a selector to a position that it does not have, sets what "
            "gives no signal, names a pin at which no conductor ends, or expects words that do not fit the device."
        ),
        why="What cannot be done proves nothing, and what cannot be seen cannot be expected.",
        remedy="Name a device and a word that fit; the message says which do.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            "steps:\n- {press: -SJ1, expect: {-TA1: turning}}\n",
        ),
        right=(("{-TA1: turning}", "{-TA1: running}"),),
    ),
)
