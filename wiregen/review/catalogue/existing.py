"""Codes about what is there already: wired terminals, kept apart, existing strips, cables, cores and numbers."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

ENTRIES = (
    Entry(
        code="function-moved",
        severity=NOTE,
        title="A wired function moves to another terminal",
        what="`wired` has a function on one terminal; the allocation puts it on another, because not all can stay.",
        why="The conductor has to be moved at the controller, and every list and drawing of it changes.",
        remedy="Move the conductor as the terminations say; or put the function into `fixed`, which holds it there.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {DI2: start}
            wired:
              -TA1: {DI2: stop}
            """,
        ),
        right=(("{DI2: stop}", "{DI1: stop}"),),
    ),
    Entry(
        code="wired-not-kept",
        severity=WARNING,
        title="Something wired that the scheme no longer has",
        what="`wired` names a function that nothing declares at that device, or a terminal that carries none.",
        why="The conductor that is there serves nothing in this scheme; left on its terminal it may act unseen.",
        remedy="Take the entry out when the conductor has been removed, or declare what it does.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            wired:
              -TA1: {DI5: reset}
            """,
        ),
        right=(("{DI5: reset}", "{DI5: start}"),),
    ),
    Entry(
        code="apart-function-unknown",
        severity=ERROR,
        title="A function to keep apart that nothing declares",
        what="`apart` names a function that no device has.",
        why="Nothing is kept apart then: the two may well come to stand on one card and be lost together.",
        remedy=(
            "Write the function as it is called at the card, such as `running of -TA1`, or with its device added, "
            "such as `start of -TA1`."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY + "-KE1: {profile: io_digital_in_16, at: +C1}\n",
            "relays:\n  running: {switches: -KE1}\n  ready: {switches: -KE}\n",
            """
            banks:
              -KE: [-KE1, -KE2]
            apart:
              - [running of -TA1, redy of -TA1]
            """,
            beside="-KE1: {inputs: source}\n-KE2: {inputs: source}\n",
        ).replace("control:", "  -KE2: {profile: io_digital_in_16, at: +C1}\ncontrol:", 1),
        right=(("redy of", "ready of"),),
    ),
)
