"""Codes about signal circuits: loops, what feeds them, what drives them, and their way back."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, Entry
from wiregen.review.catalogue.plant import STOP, SUPPLY, drive

_SELECTOR = "-SJ3: {profile: selector, positions: [A, B], at: +C1}\n"

#: A drive without a 10 V output, which no built-in profile lacks.
_NO_REFERENCE_OUTPUT = """\
profile: drive_without_10v
title: Drive without a 10 V output
controller: drive
terminals:
  - {label: 24V, role: supply_out, volts: 24 V, limit: {value: 100 mA, basis: "typical, invented"}, common: COM}
  - {label: COM, role: zero}
  - label: AI1
    role: analog_in
    common: ACOM
    accepts: [0-10 V]
    resistance: {0-10 V: {value: 30 kohm, basis: "typical, invented"}}
  - {label: ACOM, role: analog_zero}
joined_inside: [[COM, ACOM]]
start_by: edge
"""

ENTRIES = (
    Entry(
        code="signal-used-twice",
        severity=ERROR,
        title="One signal for two inputs",
        what="One transmitter or one potentiometer feeds two analog inputs side by side.",
        why=(
            "Two current inputs side by side share the current and both read too little; two voltage inputs load the "
            "source, and where they belong to two drives their 10 V outputs are joined."
        ),
        remedy="Give each input a source of its own, or pass the signal on with `shows` from the first controller.",
        basis=PRACTICE,
        example=drive(
            _SELECTOR + "-RA1: {profile: potentiometer, at: +C1}\n",
            """
            speed:
              full: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}
              half: {from: -RA1, signal: 0-10 V, spans: 0 to 25 Hz}
            select: {by: [-SJ3], when: {A: half, B: full}}
            """,
        ),
        right=(("half: {from: -RA1, signal: 0-10 V, spans: 0 to 25 Hz}", "half: {preset: 25 Hz}"),),
    ),
    Entry(
        code="loop-without-supply",
        severity=ERROR,
        title="A two-wire transmitter without a supply in its loop",
        what="A two-wire transmitter is a reference, and nothing feeds its loop.",
        why=(
            "It has no terminals for a supply of its own: it takes what it needs from the loop, and without a feed "
            "no current flows."
        ),
        remedy=(
            "Feed the loop from the drive's 24 V output (leave `supply:` out) or from a supply that the scheme "
            "declares."
        ),
        basis="ISA-50.00.01, transmitter types, from memory",
        example=drive(
            STOP + "-BL1: {profile: transmitter_two_wire, at: +C1}\n",
            """
            enable: -SJ2
            speed:
              level: {from: -BL1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip, supply: -SJ2}
            """,
        ),
        right=((", supply: -SJ2", ""),),
        along=("supply-unknown",),
    ),
    Entry(
        code="active-into-fed-loop",
        severity=ERROR,
        title="An active output in a loop that a supply feeds",
        what=(
            "The scheme names a supply for the loop of an output that drives its own current: an analog output of a "
            "controller, or a four-wire transmitter that has a supply of its own."
        ),
        why=(
            "Two sources drive one loop: the output is pushed backwards by the supply, reads wrong and may be "
            "destroyed."
        ),
        remedy="Leave `supply:` out: an active output needs only its input and a common 0 V.",
        basis="ISA-50.00.01, transmitter types, from memory",
        example=drive(
            SUPPLY + "-KE4: {profile: io_analog_out_4, at: +C1}\n",
            """
            speed:
              remote: {from: -KE4, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: stop, supply: -TB1}
            """,
        ),
        right=((", supply: -TB1", ""),),
    ),
    Entry(
        code="return-missing",
        severity=ERROR,
        title="An output or feed without a way back",
        what=(
            "Inputs are fed from outside, and the 0 V to which they return is declared apart from that of the "
            "supply: their current finds no way back."
        ),
        why=(
            "Current flows only in a closed circuit: the contact closes, a meter shows 24 V, and the input does not "
            "move."
        ),
        remedy=(
            "Say `zero_volt: {joined_to: ...}` with the supply that feeds the inputs, or feed them from the device's "
            "own 24 V."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY + STOP,
            "enable: -SJ2\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: floating\nrestart: needs_start\n",
        ),
        right=(("zero_volt: floating", "zero_volt: {joined_to: -TB1}"),),
    ),
    Entry(
        code="reference-supply-missing",
        severity=ERROR,
        title="A potentiometer at a drive without a 10 V output",
        what="A potentiometer is a reference of a drive that has no 10 V output.",
        why="A potentiometer divides a voltage; with nothing on its high end the wiper stays at 0 V.",
        remedy="Take a drive with a 10 V output, or another source.",
        basis=PRACTICE,
        example=drive(
            "-RA1: {profile: potentiometer, at: +C1}\n",
            """
            speed:
              hand: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}
            """,
            profile="drive_without_10v",
        ),
        right=(("profile: potentiometer", "profile: transmitter_three_wire"),),
        profile=_NO_REFERENCE_OUTPUT,
    ),
)
