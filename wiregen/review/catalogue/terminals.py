"""Codes about terminals: assigned twice, too few, fixed to something that is not there."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

ENTRIES = (
    Entry(
        code="terminal-assigned-twice",
        severity=ERROR,
        title="Two functions on one terminal",
        what=(
            "`fixed` puts two functions on one terminal of a controller: two on one input, or two duties on one card "
            "channel."
        ),
        why=(
            "The controller reads or gives one signal there and cannot tell the two apart: whichever contact closes, "
            "both functions act, or whichever output is meant, both loads follow."
        ),
        remedy=(
            "Keep one of the functions on this terminal and leave the other to allocation, or fix it on a terminal "
            "of its own."
        ),
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {DI2: [start, stop]}
            """,
        ),
        right=(("{DI2: [start, stop]}", "{DI1: start, DI2: stop}"),),
    ),
    Entry(
        code="terminals-too-few",
        severity=ERROR,
        title="More functions than terminals for them",
        what=(
            "Some functions cannot all have a terminal. The message names the smallest set that competes: these "
            "functions, these terminals. They are drawn with open ends."
        ),
        why="What has no terminal cannot be wired: the scheme needs another device, a card, or fewer functions.",
        remedy=(
            "Take a device with more terminals of the kind that is short, read the signal with a card, or leave one "
            "of the functions out."
        ),
        basis=PRACTICE,
        example=drive(
            """
            -BL1: {profile: transmitter_two_wire, at: +C1}
            -BP1: {profile: transmitter_two_wire, at: +C1}
            -SJ3: {profile: selector, positions: [LEVEL, PRESSURE], at: +C1}
            """,
            """
            speed:
              level: {from: -BL1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: stop}
              pressure: {from: -BP1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: stop}
            select: {by: [-SJ3], when: {LEVEL: level, PRESSURE: pressure}}
            """,
        ),
        right=(
            ("profile: drive_compact", "profile: drive_extended"),
            ("    restart: needs_start\n", "    restart: needs_start\n    safe_torque_off: linked\n"),
        ),
    ),
    Entry(
        code="function-on-two-terminals",
        severity=ERROR,
        title="One function fixed on two terminals",
        what="`fixed` puts one function on two terminals of one controller.",
        why=(
            "A function is one input or one output of the controller: a second terminal would do something that "
            "nothing declares."
        ),
        remedy="Leave the function on the terminal where it is wired, and take it off the other.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {DI1: stop, DI2: stop}
            """,
        ),
        right=(("DI2: stop", "DI2: start"),),
    ),
    Entry(
        code="function-declared-twice",
        severity=ERROR,
        title="Two functions of one name at one device",
        what="Two entries give a device two functions of one name; an underscore in a key counts as a blank.",
        why="Lists, sheets and `fixed` know a function by its name. Only the first of the two is wired.",
        remedy="Give one of them another name, or leave it out.",
        basis=PRACTICE,
        example=drive(
            SUPPLY + "-PF1: {profile: pilot_lamp, at: +C1}\n-PF2: {profile: pilot_lamp, at: +C1}\n",
            """
            relays:
              at_speed: {switches: -PF1}
              at speed: {switches: -PF2}
            """,
        ),
        right=(("at speed:", "ready:"),),
        along=("device-unused",),
    ),
    Entry(
        code="fixed-terminal-unknown",
        severity=ERROR,
        title="A function fixed on a terminal that carries none",
        what=(
            "`fixed` puts a function on a terminal that is no input and no output: a 24 V, a 0 V or a common terminal."
        ),
        why=(
            "Supply and common terminals are wired by what stands at the inputs and outputs; no function can stand "
            "on them."
        ),
        remedy="Name an input or output terminal; `wiregen profiles NAME` shows them in order.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {24V: start}
            """,
        ),
        right=(("{24V: start}", "{DI4: start}"),),
        along=("terminals-too-few",),
    ),
    Entry(
        code="fixed-function-unknown",
        severity=ERROR,
        title="A fixed function that nothing declares",
        what="`fixed` names a function that the scheme does not declare at this controller.",
        why=(
            "What is fixed is often what is wired already. A name that matches nothing means that the wired terminal "
            "would be given to something else."
        ),
        remedy=(
            "Write the function as it is declared, blanks for underscores; at another device it is called `FUNCTION "
            "of DEVICE`."
        ),
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {DI5: reset}
            """,
        ),
        right=(("{DI5: reset}", "{DI5: start}"),),
    ),
    Entry(
        code="two-sources-joined",
        severity=ERROR,
        title="Two sources drive one input or load",
        what=(
            "Two things that each give a signal of their own - transistor outputs, contacts fed by a relay, sensors, "
            "analog outputs, transmitters - come together on one terminal, one load or one potential."
        ),
        why=(
            "One source drives current into the other, and the receiver obeys whichever is stronger: analog values "
            "add up to nonsense, and a lamp or relay no longer shows what it is declared to show."
        ),
        remedy=(
            "Give each source an input or a load of its own; to join two conditions, use one output that is set to "
            "both."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY + "-PF1: {profile: pilot_lamp, at: +C1}\n",
            """
            relays:
              fault: {switches: -PF1, contact: NC}
              running: {switches: -PF1}
            """,
        ),
        right=(("      running: {switches: -PF1}\n", ""),),
    ),
)
