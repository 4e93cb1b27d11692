"""Codes about analog references: what is lost with the signal, and what the source can give."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import drive

_POT = "-RA1: {profile: potentiometer, at: +C1}\n"
_LEVEL = "-BL1: {profile: transmitter_two_wire, at: +C1}\n"

ENTRIES = (
    Entry(
        code="signal-inverse",
        severity=WARNING,
        title="A voltage signal of which less means faster",
        what="A 0-10 V reference is declared `inverse: yes`: 0 V commands the highest speed.",
        why=(
            "A broken wire, a short circuit and a dead source all read 0 V: every fault of the signal runs the motor "
            "up."
        ),
        remedy="Use the signal the right way round, or 4-20 mA, where a broken wire can be told from the lowest value.",
        basis=PRACTICE,
        example=drive(_POT, "speed:\n  hand: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz, inverse: yes}\n"),
        right=((", inverse: yes", ""),),
    ),
    Entry(
        code="loss-unanswered",
        severity=NOTE,
        title="Nothing said for a lost signal",
        what="A 4-20 mA reference does not say what the drive does when the current falls below its low end.",
        why=(
            "Below 3.6 mA the wire is broken or the transmitter has failed. The drive can see that and trip, stop or "
            "hold, but only if it is told to; else it runs at its lowest speed, or at none."
        ),
        remedy="Add `on_low:` (`trip`, `stop` or `hold`), and `on_high:` for a failure upwards.",
        basis="NAMUR NE 43",
        example=drive(_LEVEL, "speed:\n  level: {from: -BL1, signal: 4-20 mA, spans: 10 to 50 Hz}\n"),
        right=(("spans: 10 to 50 Hz", "spans: 10 to 50 Hz, on_low: trip"),),
    ),
    Entry(
        code="signal-unfit",
        severity=ERROR,
        title="A signal that its source cannot give",
        what=(
            "A reference asks a source for a signal that it does not give: a voltage of a two-wire transmitter, a "
            "current of a potentiometer."
        ),
        why=(
            "The input is set for a signal that never comes: it reads nothing, or a current input short-circuits a "
            "voltage."
        ),
        remedy="State the signal that the source gives, or take another source.",
        basis="ISA-50.00.01, transmitter types, from memory",
        example=drive(_LEVEL, "speed:\n  level: {from: -BL1, signal: 0-10 V, spans: 10 to 50 Hz}\n"),
        right=(("signal: 0-10 V", "signal: 4-20 mA"),),
    ),
)
