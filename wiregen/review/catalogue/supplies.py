"""Codes about supplies: none, several, joined, and how 0 V is tied."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

_LAMP = "-PF1: {profile: pilot_lamp, at: +C1}\n"
_RUNNING = "relays:\n  running: {switches: -PF1}\n"
_CHANGEOVER = "-SJ2: {profile: push_button, contacts: [changeover, NC], at: +C1}\n"
_SECOND_DRIVE = "-TA2:\n  inputs: source\n  zero_volt: floating\n  restart: needs_start\n"
_SECOND = "-TB2: {profile: supply_24v, at: +C1}\n"

ENTRIES = (
    Entry(
        code="supply-missing",
        severity=ERROR,
        title="Nothing feeds what needs 24 V",
        what="A load, a card or a sensor needs a supply, and its place holds none, nor does the cabinet.",
        why="Without a supply the circuit stays open at its beginning.",
        remedy="Declare a supply in the place, or name one with `supply:`.",
        basis=PRACTICE,
        example=drive(_LAMP, _RUNNING),
        right=(("  -PF1:", "  -TB1: {profile: supply_24v, at: +C1}\n  -PF1:"),),
    ),
    Entry(
        code="supply-unclear",
        severity=ERROR,
        title="Several supplies, and none named",
        what="A load, a card or a sensor could be fed from several supplies of its place.",
        why="Supplies differ in what they keep alive and in their load; a guess could join what must stay apart.",
        remedy="Name the supply with `supply:`.",
        basis=PRACTICE,
        example=drive(SUPPLY + _SECOND + _LAMP, _RUNNING),
        right=(
            ("{switches: -PF1}", "{switches: -PF1, supply: -TB1}"),
            ("  -TB2: {profile: supply_24v, at: +C1}\n", ""),
        ),
        along=("device-unused",),
    ),
    Entry(
        code="supply-unknown",
        severity=ERROR,
        title="A supply that supplies nothing",
        what="`supply:` names a device that has no 24 V output with a 0 V of its own.",
        why="Nothing can be fed from it.",
        remedy="Name a supply unit, or a controller with a 24 V output.",
        basis=PRACTICE,
        example=drive(
            SUPPLY + _LAMP + "-KE1: {profile: io_digital_in_16, at: +C1}\n",
            "relays:\n  running: {switches: -PF1, supply: -KE1}\n  ready: {switches: -KE1}\n",
            beside="-KE1: {inputs: source}\n",
        ),
        right=(("supply: -KE1}", "supply: -TB1}"),),
    ),
    Entry(
        code="zero-volt-not-declared",
        severity=WARNING,
        title="Nothing says how the drive's 0 V is tied",
        what="A controller has a 24 V output of its own and no `zero_volt:`. It is drawn floating.",
        why=(
            "Whether its 0 V is earthed inside, joined to the supply's or left floating decides whether an earth "
            "fault is noticed, whether the circuit has two earths, and whether cards and drive understand each "
            "other."
        ),
        remedy=(
            "Add `zero_volt: earthed`, `floating`, `inside` or `{joined_to: ...}`, as the device's instructions have "
            "it."
        ),
        basis="IEC 60204-1, clause 9.4.3.1, from memory",
        example=drive(START + STOP, THREE_WIRE, said="inputs: source\nrestart: needs_start\n"),
        right=(("    inputs: source\n", "    inputs: source\n    zero_volt: floating\n"),),
    ),
    Entry(
        code="zero-volt-unfit",
        severity=ERROR,
        title="A 0 V that cannot be tied as declared",
        what=(
            "`zero_volt` ties a 0 V to a device that has none, back to itself in a circle, or in a way that the "
            "device does not allow: a card's 0 V comes with its feed."
        ),
        why="Nothing then says where the 0 V is tied, and whether it is earthed at all.",
        remedy="Join the drives' and cards' 0 V to that of a supply, and say of the supply whether it is earthed.",
        basis="IEC 60204-1, clause 9.4.3.1, from memory",
        example=drive(
            "-TB1: {profile: supply_24v, at: +C1, zero_volt: {joined_to: -TA1}}\n" + STOP,
            "enable: -SJ2\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: {joined_to: -TB1}\nrestart: needs_start\n",
        ),
        right=(("zero_volt: {joined_to: -TA1}", "zero_volt: earthed"),),
    ),
    Entry(
        code="positives-joined",
        severity=ERROR,
        title="Two positive terminals joined",
        what=(
            "The circuits as declared would join the positive terminals of two supplies, most often at a contact that "
            "two controllers use. They are kept apart: what the message names is not wired. At the common pin of a "
            "changeover contact the code is `changeover-between-supplies`."
        ),
        why=(
            "The supply with the higher voltage feeds into the other: a drive's small 24 V output carries the "
            "cabinet's load or is destroyed, and switching one off no longer makes its circuit dead."
        ),
        remedy="Use one contact for each controller, or feed both circuits from one supply.",
        basis=PRACTICE,
        example=drive(
            _CHANGEOVER + "-TA2: {profile: drive_compact, at: +C1}\n",
            "enable: -SJ2.21-22\n",
            beside=_SECOND_DRIVE + "  external_trip: -SJ2.21-22\n",
        ),
        right=(("external_trip: -SJ2.21-22", "external_trip: -SJ2.11-12"),),
        along=("contact-used-twice",),
    ),
    Entry(
        code="changeover-between-supplies",
        severity=ERROR,
        title="A changeover contact between two supplies",
        what=(
            "The two halves of a changeover contact stand in circuits of different supplies, and its common pin would "
            "join them. The second is not wired."
        ),
        why=(
            "Both halves have one pin: two positive terminals, or 24 V and a mains voltage, meet at it, and while the "
            "contact moves over, an arc may join what each half switches."
        ),
        remedy="Use a second contact, or a second pole of the relay, for the other; or feed both from one supply.",
        basis=PRACTICE,
        example=drive(
            _CHANGEOVER + "-TA2: {profile: drive_compact, at: +C1}\n",
            "enable: -SJ2.11-12\n",
            beside=_SECOND_DRIVE + "  reset: -SJ2.11-14\n",
        ),
        right=(("reset: -SJ2.11-14", "external_trip: -SJ2.21-22"),),
    ),
    Entry(
        code="supply-short-circuited",
        severity=ERROR,
        title="A positive terminal joined to 0 V",
        what=(
            "The circuits as declared would join the positive terminal of a supply to 0 V, most often at a contact "
            "that serves inputs of both polarities. They are kept apart: what the message names is not wired."
        ),
        why="Wired so, the supply would be short-circuited as soon as it is switched on.",
        remedy=(
            "Use one contact for inputs wired for source (contacts switch +24 V) and another for those wired for "
            "sink (contacts switch 0 V)."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY
            + "-SJ2: {profile: push_button, contacts: [changeover, NC], at: +C1}\n"
            + "-KE1: {profile: io_digital_in_16, at: +C1}\n",
            "enable: -SJ2.11-12\n",
            beside="-KE1: {inputs: sink, reads: {pressed: -SJ2.11-14}}\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: {joined_to: -TB1}\nrestart: needs_start\n",
        ),
        right=(("-SJ2.11-14", "-SJ2.21-22"),),
    ),
)
