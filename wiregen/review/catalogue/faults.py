"""Explanations of what single faults do: told by `wiregen faults`, which tries them."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

#: Class of a fault -> the code of what it does.
CODES = {
    "self-start": "fault-starts-motor",
    "unstoppable": "fault-defeats-stop",
    "reverses": "fault-reverses-motor",
    "speeds-up": "fault-speeds-motor-up",
    "restarts": "fault-restarts-motor",
    "unprotected": "fault-defeats-protection",
    "damages": "fault-damages",
}
_EARTHED_SINK = "inputs: sink\nzero_volt: earthed\nrestart: needs_start\n"
_TRIP = "-BT1: {profile: contact, contact: NC, at: +C1, operated_when: winding above 140 C}\n"
_DIRECTION = "-SJ3: {profile: selector, positions: [FORWARD, REVERSE], at: +C1}\n"
_SPEEDS = "speed:\n  slow: {preset: 10 Hz}\n  fast: {preset: 40 Hz}\n"

ENTRIES = (
    Entry(
        code="fault-starts-motor",
        severity=ERROR,
        title="A single fault starts a motor",
        what=(
            "With one fault in the wiring a motor starts that nobody has started: when the fault comes, or when its "
            "stop is let go."
        ),
        why="Somebody may have a hand in the machine. An earth fault must not start one.",
        remedy=(
            "Wire for source (contacts switch +24 V) on an earthed supply, take a start only with the stop closed, "
            "keep the conductor of a start apart from what is live."
        ),
        basis="IEC 60204-1 9.4.3, earth faults; from memory",
        example=drive(START + STOP, THREE_WIRE, said=_EARTHED_SINK),
        right=(("inputs: sink", "inputs: source"),),
        told_by="faults",
    ),
    Entry(
        code="fault-defeats-stop",
        severity=ERROR,
        title="A single fault keeps a stop from stopping",
        what="With one fault in the wiring the stop of a run has no effect any more: the motor runs on.",
        why="A stop acts by de-energising, so that a broken wire stops; what keeps it energised takes the stop away.",
        remedy=(
            "Stop by a break contact, wired for source (contacts switch +24 V) on an earthed supply; against "
            "conductors that touch and contacts that weld only a second, independent stop helps."
        ),
        basis="IEC 60204-1 9.2.3 and 9.4.3; from memory",
        example=drive(START + STOP, THREE_WIRE, said=_EARTHED_SINK),
        right=(("inputs: sink", "inputs: source"),),
        told_by="faults",
    ),
    Entry(
        code="fault-reverses-motor",
        severity=ERROR,
        title="A single fault turns a motor round",
        what="With one fault in the wiring a motor turns the other way than it is told.",
        why="What is driven the wrong way runs against its end, or takes in a hand that it should push off.",
        remedy="Let the direction that a broken wire brings be the harmless one, or give each way its own command.",
        basis="common practice, no source",
        example=drive(
            START + STOP + _DIRECTION,
            THREE_WIRE + "reverse: -SJ3\n",
        ),
        right=(("reverse: -SJ3\n", "speed: {one: {preset: 20 Hz}}\n"), (_DIRECTION.strip(), "")),
        told_by="faults",
    ),
    Entry(
        code="fault-speeds-motor-up",
        severity=ERROR,
        title="A single fault makes a motor faster",
        what="With one fault in the wiring a motor runs clearly faster than it is told.",
        why="What a machine does at a slow speed, with people near, it then does at a fast one.",
        remedy="Let the code that broken wires bring select the slowest speed; let a lost signal stop the motor.",
        basis="common practice, no source",
        example=drive(
            START + STOP + "-SJ3: {profile: selector, positions: [FAST, SLOW], at: +C1}\n",
            THREE_WIRE + _SPEEDS + "select: {by: -SJ3, when: {FAST: fast, SLOW: slow}}\n",
        ),
        right=(("positions: [FAST, SLOW]", "positions: [SLOW, FAST]"),),
        along=("code-zero-not-slowest",),
        told_by="faults",
    ),
    Entry(
        code="fault-restarts-motor",
        severity=NOTE,
        title="A motor runs again by itself after a fault, though it needs a start",
        what=(
            "A supply that dips, or a fault that goes, gives back a command that stands, and a drive that takes "
            "commands by their edge sees a new one."
        ),
        why="The drive needs a start after its own supply was gone; that of its inputs alone looks like a start.",
        remedy="Start by a button, or feed the contacts from the drive's own 24 V, which goes with the drive.",
        basis="IEC 60204-1 7.5, supply interruption; from memory",
        example=drive(
            SUPPLY + "-SJ1: {profile: selector, positions: [HALT, RUN], at: +C1}\n",
            "run: {method: two-wire, forward: -SJ1}\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: {joined_to: -TB1}\nrestart: needs_start\n",
        ),
        right=(
            ("inputs: {wired: source, supply: -TB1}", "inputs: source"),
            ("zero_volt: {joined_to: -TB1}", "zero_volt: floating"),
            ("-TB1: {profile: supply_24v, at: +C1}", ""),
        ),
        told_by="faults",
    ),
    Entry(
        code="fault-defeats-protection",
        severity=WARNING,
        title="A single fault keeps a trip, an enable or a limit from acting",
        what="With one fault in the wiring something that should stop the motor, or keep it still, acts no more.",
        why="Nobody notices before it is needed.",
        remedy=(
            "Wire for source (contacts switch +24 V) on an earthed supply; watch the circuit in two channels, or test "
            "it at intervals and sign for it."
        ),
        basis="ISO 13849-2 annex D, faults of conductors; from memory",
        example=drive(START + STOP + _TRIP, THREE_WIRE + "external_trip: -BT1\n", said=_EARTHED_SINK),
        right=(("inputs: sink", "inputs: source"),),
        told_by="faults",
    ),
    Entry(
        code="fault-damages",
        severity=WARNING,
        title="A single fault does harm to a part",
        what="With one fault in the wiring more current or voltage comes to an input or a load than it bears.",
        why="The part may fail, now or later, and then the wiring has two faults.",
        remedy="Limit the current with a fuse or a resistor in the feed; keep 24 V apart from analog conductors.",
        basis="common practice, no source",
        example=drive(
            START + STOP + "-BL1: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +C1}\n",
            THREE_WIRE + "speed: {level: {from: -BL1, signal: 4-20 mA, spans: 15 to 50 Hz, on_loss: trip}}\n",
        ),
        right=(
            ("{from: -BL1, signal: 4-20 mA, spans: 15 to 50 Hz, on_loss: trip}", "{preset: 20 Hz}"),
            ("-BL1: {profile: transmitter_two_wire, measures: 0 to 3 m, at: +C1}", ""),
        ),
        told_by="faults",
    ),
)
