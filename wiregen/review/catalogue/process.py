"""Codes about closed loops, lost signals, and one current through several receivers."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

_TRANSMITTER = "-BP1: {profile: transmitter_two_wire, measures: 0 to 10 bar, at: +C1}\n"
_FOUR_WIRE = _TRANSMITTER.replace("two", "four")
#: Two receivers leave it enough on a low supply too.
_MODEST = """\
profile: transmitter_modest
title: Transmitter, two-wire, for long loops
device: transmitter_two_wire
designated_as: transmitter
terminals:
  - {label: "+", role: plus}
  - {label: "-", role: minus, gives: [4-20 mA]}
figures:
  lift_off: {value: 9 V, basis: "typical, invented"}
"""
_SETPOINT = "      setpoint: {preset: 4 bar}\n"
_FEEDBACK = "      feedback: {from: -BP1, signal: 4-20 mA, spans: 0 to 10 bar, on_low: trip}\n"
_RISES = "      when_feedback_rises: slow_down\n"


def _loop(*lines: str) -> str:
    return f"speed:\n  auto:\n    spans: 20 to 50 Hz\n    process:\n{''.join(lines)}"


_CARD = "-KE4: {profile: io_analog_in_8, at: +C1}\n"
_JOINED = "inputs: source\nzero_volt: {joined_to: -TB1}\nrestart: needs_start\n"
_READS = "-KE4: {reads: {pressure: -BP1}}\n"
_REFERENCE = "speed:\n  auto: {from: -BP1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip}\n"
_SERIES = "IEC 60381-1: receivers of a direct current signal stand in series, from memory"


def _shared(loop: str, reference: str = _REFERENCE, reads: str = _READS) -> str:
    """A transmitter that a card and the drive read, with the loop as given."""
    transmitter = _TRANSMITTER.replace("transmitter_two_wire, ", "transmitter_modest, ")
    transmitter = transmitter.replace("at: +C1", f"at: +C1, loop: [{loop}]")
    return drive(SUPPLY + transmitter + _CARD, reference, said=_JOINED, beside=reads)


ENTRIES = (
    Entry(
        code="feedback-without-setpoint",
        severity=ERROR,
        title="A feedback and no setpoint",
        what="A closed loop is told what the process does, and not what it shall do.",
        why="The controller has nothing to hold the process at, and runs to one end of its range.",
        remedy="Add `setpoint:`, wired or as a preset.",
        basis=PRACTICE,
        example=drive(_TRANSMITTER, _loop(_FEEDBACK, _RISES)),
        right=(("    when_feedback_rises", "    setpoint: {preset: 4 bar}\n          when_feedback_rises"),),
    ),
    Entry(
        code="setpoint-without-feedback",
        severity=ERROR,
        title="A setpoint and no feedback",
        what="A closed loop is told what the process shall do, and never what it does.",
        why="The controller would run to one end of its range and stay there.",
        remedy="Add `feedback:` with the transmitter that measures the process.",
        basis=PRACTICE,
        example=drive(
            _TRANSMITTER + "-SJ3: {profile: selector, positions: [A, B], at: +C1}\n",
            _loop(_SETPOINT, _RISES)
            + "  level: {from: -BP1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip}\n"
            + "select: {by: -SJ3, when: {A: level, B: auto}}\n",
        ),
        right=(
            ("          setpoint: {preset: 4 bar}\n          when_feedback_rises: slow_down\n", ""),
            ("      auto:\n        spans: 20 to 50 Hz\n        process:\n", "      auto: {preset: 50 Hz}\n"),
        ),
    ),
    Entry(
        code="process-sense-missing",
        severity=WARNING,
        title="Nothing said of which way the feedback answers",
        what="A closed loop does not say whether the motor shall slow down or speed up when its feedback rises.",
        why=(
            "A pump that holds a pressure slows down when it rises; a fan that cools speeds up when the temperature "
            "rises. Set the wrong way, the drive runs to one end of its range."
        ),
        remedy="Add `when_feedback_rises: slow_down` or `speed_up`.",
        basis=PRACTICE,
        example=drive(_TRANSMITTER, _loop(_SETPOINT, _FEEDBACK)),
        right=(("on_low: trip}\n", "on_low: trip}\n          when_feedback_rises: slow_down\n"),),
    ),
    Entry(
        code="setpoint-unfit",
        severity=ERROR,
        title="A setpoint that its feedback can never meet",
        what="The setpoint of a closed loop lies outside what its feedback measures, or has another unit.",
        why="The difference never becomes zero: the drive runs to one end of its range and stays there.",
        remedy="Give the setpoint in the feedback's unit and inside its span, or take a transmitter that spans more.",
        basis=PRACTICE,
        example=drive(_TRANSMITTER, _loop(_SETPOINT.replace("4 bar", "12 bar"), _FEEDBACK, _RISES)),
        right=(("preset: 12 bar", "preset: 4 bar"),),
    ),
    Entry(
        code="loss-unseen",
        severity=ERROR,
        title="An answer to a loss that the signal cannot show",
        what="`on_low` or `on_loss` stands at a signal whose low end is nothing at all, such as 0-10 V or 0-20 mA.",
        why="A broken wire reads zero, which is a valid value: the drive never sees the loss and never answers it.",
        remedy="Use 4-20 mA, where zero is no value, or leave the answer out.",
        basis="NAMUR NE 43",
        example=drive(
            _FOUR_WIRE + SUPPLY,
            "speed:\n  auto: {from: -BP1, signal: 0-10 V, spans: 10 to 50 Hz, on_loss: trip}\n",
            said=_JOINED,
        ),
        right=(("signal: 0-10 V", "signal: 4-20 mA"),),
    ),
    Entry(
        code="reference-beyond-limits",
        severity=WARNING,
        title="A reference beyond the speed limits",
        what="A preset or the span of a reference asks for more or less than `speed_limits` allows.",
        why="The drive holds at its limit: part of the signal does nothing, and the speed is another than said.",
        remedy="Change the reference or the limits, so that the reference lies inside.",
        basis=PRACTICE,
        example=drive(START + STOP, THREE_WIRE + "speed: {full: {preset: 60 Hz}}\nspeed_limits: 15 to 50 Hz\n"),
        right=(("preset: 60 Hz", "preset: 50 Hz"),),
    ),
    Entry(
        code="loop-order-wrong",
        severity=ERROR,
        title="A receiver in a loop that passes nothing on",
        what=(
            "A receiver that gives the current to the common 0 V of its device stands in a loop before another "
            "receiver. Only inputs with two terminals of their own can stand before the last."
        ),
        why="The current goes to 0 V in that receiver: those after it read nothing.",
        remedy="Let the receiver with the single terminal stand last in `loop`; with two of them use an isolator.",
        basis=_SERIES,
        example=_shared("-TA1, -KE4"),
        right=(("loop: [-TA1, -KE4]", "loop: [-KE4, -TA1]"),),
        profile=_MODEST,
    ),
    Entry(
        code="loop-receiver-idle",
        severity=ERROR,
        title="A device in a loop that does not read it",
        what="The `loop` of a transmitter names a device that has no use for its signal.",
        why="No terminal is found for it, so nothing carries the current through it, and what was meant is not read.",
        remedy="Let the device read the transmitter, under `reads` or as a reference, or take it out of `loop`.",
        basis=PRACTICE,
        example=_shared("-KE4, -TA1", reads="-KE4: {reads: {level: -BP2}}\n").replace(
            "  -KE4: {profile", "  -BP2: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +C1}\n  -KE4: {profile"
        ),
        right=(("loop: [-KE4, -TA1]", "loop: [-TA1]"),),
        profile=_MODEST,
    ),
    Entry(
        code="loop-receiver-left-out",
        severity=ERROR,
        title="A receiver outside the loop of its signal",
        what="A device reads a transmitter whose `loop` does not name it.",
        why="It would stand beside the loop and take part of its current: all receivers read too little.",
        remedy="Name every receiver in `loop`, in electrical order.",
        basis=_SERIES,
        example=_shared("-TA1"),
        right=(("loop: [-TA1]", "loop: [-KE4, -TA1]"),),
        along=("signal-used-twice",),
        profile=_MODEST,
    ),
    Entry(
        code="loop-not-current",
        severity=ERROR,
        title="A voltage in a loop",
        what="A receiver in a `loop` takes the signal as a voltage.",
        why="Receivers in a loop share one current. A voltage needs its receivers side by side.",
        remedy="Use a current signal, or leave `loop` out and give each receiver its own signal.",
        basis=_SERIES,
        example=drive(
            SUPPLY + _FOUR_WIRE.replace("at: +C1", "at: +C1, loop: [-TA1]"),
            "speed:\n  auto: {from: -BP1, signal: 0-10 V, spans: 10 to 50 Hz}\n",
            said=_JOINED,
        ),
        right=(("signal: 0-10 V", "signal: 4-20 mA"), ("spans: 10 to 50 Hz", "spans: 10 to 50 Hz, on_low: trip")),
    ),
)
