"""Codes about voltages: of supplies and what they feed, of neighbours, of earths and fuses."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import STOP, SUPPLY, drive

_TRANSFORMER = "-TB2: {profile: control_transformer, at: +C1, voltage: 120 V AC}\n"
_LAMP_AC = "-PF1: {profile: pilot_lamp, at: +C1, voltage: 120 V AC}\n"
_LAMP = "-PF2: {profile: pilot_lamp, at: +C1}\n"
_FUSE = "-FC1: {profile: fuse, at: +C1, rating: 2 A}\n"
_FUSED = "-TB1: {profile: supply_24v, at: +C1, fuse: -FC1}\n"
_FIELD = ("places:\n", "places:\n  +F1: {name: Pump, route: 20 m}\n")

ENTRIES = (
    Entry(
        code="voltage-mismatch",
        severity=ERROR,
        title="A load for another voltage",
        what="A lamp, horn, valve or coil is for one voltage, and its supply gives another.",
        why="At too high a voltage it burns, at too low a one it does not work; a coil for DC hums and burns on AC.",
        remedy="Name the supply that gives its voltage, or declare the load for the voltage there is.",
        basis=PRACTICE,
        example=drive(_TRANSFORMER + _LAMP, "relays:\n  running: {switches: -PF2, supply: -TB2}\n"),
        right=(("-PF2: {profile: pilot_lamp, at: +C1}", "-PF2: {profile: pilot_lamp, at: +C1, voltage: 120 V AC}"),),
    ),
    Entry(
        code="input-fed-with-ac",
        severity=ERROR,
        title="AC on what works on 24 V DC",
        what="`supply:` of an input, a card, a sensor or a transmitter names a supply that gives AC.",
        why="The inputs of drives and cards are for 24 V DC; mains voltage on one destroys it, and endangers people.",
        remedy="Feed it from a 24 V DC supply. An AC signal comes to an input through an interposing relay.",
        basis="IEC 61131-2, from memory",
        example=drive(
            _TRANSFORMER + _LAMP_AC + STOP,
            "enable: -SJ2\nrelays:\n  running: {switches: -PF1, supply: -TB2}\n",
            said="inputs: {wired: source, supply: -TB2}\nzero_volt: floating\nrestart: needs_start\n",
        ),
        right=(("inputs: {wired: source, supply: -TB2}", "inputs: source"),),
    ),
    Entry(
        code="control-circuit-unearthed",
        severity=WARNING,
        title="A control transformer without earth",
        what="`zero_volt: floating` stands at a control transformer: neither side of its secondary is earthed.",
        why=(
            "A first earth fault blows no fuse and shows nowhere; with a second one a coil pulls in that no contact "
            "has switched, or does not drop out."
        ),
        remedy="Earth its second pin (leave out `zero_volt`), or watch the insulation and say so by `accepted`.",
        basis="IEC 60204-1, clause 9.4.3.1, from memory",
        example=drive(
            "-TB2: {profile: control_transformer, at: +C1, voltage: 120 V AC, zero_volt: floating}\n" + _LAMP_AC,
            "relays:\n  running: {switches: -PF1}\n",
        ),
        right=((", zero_volt: floating}", "}"),),
    ),
    Entry(
        code="voltages-beside",
        severity=WARNING,
        title="Mains and 24 V on neighbouring relays",
        what="Two relays of one device with no other relay between carry a dangerous voltage and an extra-low one.",
        why=(
            "Makers of devices often forbid it: the insulation between neighbours is not made for it; and whoever "
            "works at the 24 V terminals has the other voltage at the next ones."
        ),
        remedy=(
            "Leave a relay between, use one voltage for both, or switch the higher one through an interposing relay "
            "(`through:`); else make sure that the device allows it."
        ),
        basis=PRACTICE,
        example=drive(
            _TRANSFORMER + SUPPLY + _LAMP_AC + _LAMP, "relays:\n  running: {switches: -PF1}\n  ready: -PF2\n"
        ),
        right=(
            ("-PF2: {profile: pilot_lamp, at: +C1}", "-PF2: {profile: pilot_lamp, at: +C1, voltage: 120 V AC}"),
            ("  -TB1: {profile: supply_24v, at: +C1}\n", ""),
        ),
    ),
    Entry(
        code="foreign-voltage",
        severity=NOTE,
        title="Live with the main switch off",
        what="Contacts of a device in one cabinet switch a circuit that a supply in another cabinet feeds.",
        why=(
            "They stay live when the main switch of their own cabinet is off. The sheet of the device says so; the "
            "terminals need a warning, and the conductors the colour of excepted circuits (orange)."
        ),
        remedy="Mark the terminals, or feed the circuit from the cabinet in which the contacts are.",
        basis="IEC 60204-1, clauses 5.3.5 and 13.2.4, from memory",
        example=drive(
            "-TB1: {profile: supply_24v, at: +C2}\n-KE1: {profile: io_digital_in_16, at: +C2}\n",
            "relays:\n  running: {switches: -KE1}\n",
            beside="-KE1: {inputs: source}\n",
        ).replace("places:\n", "places:\n  +C2: {name: Control room}\n", 1),
        right=(
            ("  +C2: {name: Control room}\n", ""),
            ("-TB1: {profile: supply_24v, at: +C2}", "-TB1: {profile: supply_24v, at: +C1}"),
            ("-KE1: {profile: io_digital_in_16, at: +C2}", "-KE1: {profile: io_digital_in_16, at: +C1}"),
        ),
    ),
    Entry(
        code="two-earths",
        severity=WARNING,
        title="Two earths in one 0 V system",
        what="Two devices whose 0 V are one say that it is earthed. One link is drawn, at the first of them.",
        why=(
            "Between two earths flows a current that belongs to no circuit: it disturbs signals, and an earth fault "
            "beside the second earth can bypass a contact."
        ),
        remedy="Say `earthed` at the supply alone, and `{joined_to: ...}` at the others.",
        basis="IEC 60204-1, clause 9.4.3.1, from memory",
        example=drive(
            SUPPLY + STOP,
            "enable: -SJ2\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: earthed\nrestart: needs_start\n",
        ),
        right=(("zero_volt: earthed", "zero_volt: {joined_to: -TB1}"),),
    ),
    Entry(
        code="fuse-unfit",
        severity=ERROR,
        title="What is named as a fuse is none, or stands in two feeds",
        what="`fuse:` names a device that is no fuse, or one that stands behind another supply already.",
        why="The circuit then has no protection, or two supplies would be joined; it is wired without the fuse.",
        remedy="Name a device with the profile `fuse`, one for each supply.",
        basis=PRACTICE,
        example=drive(
            "-TB1: {profile: supply_24v, at: +C1, fuse: -PF1}\n" + "-PF1: {profile: pilot_lamp, at: +C1}\n",
            "relays:\n  running: {switches: -PF1}\n",
        ),
        right=((", fuse: -PF1}", "}"),),
    ),
    Entry(
        code="fuse-idle",
        severity=WARNING,
        title="A fuse that protects nothing",
        what="A fuse is fed, and nothing hangs behind it.",
        why=(
            "What it should protect is fed past it. So it is where contacts switch 0 V: a fuse in the feed of such a "
            "duty lies beside the current."
        ),
        remedy="Declare the fuse at the supply itself, or at a duty that is fed from the ungrounded side.",
        basis=PRACTICE,
        example=drive(
            _FUSE + _FUSED + "-TB3: {profile: supply_24v, at: +C1}\n" + _LAMP,
            "relays:\n  running: {switches: -PF2, supply: -TB3}\n",
        ),
        right=(("supply: -TB3}", "supply: -TB1}"), ("  -TB3: {profile: supply_24v, at: +C1}\n", "")),
        along=(),
    ),
    Entry(
        code="protection-cannot-trip",
        severity=WARNING,
        title="A fuse that its supply cannot blow",
        what="The fuse needs more current to blow than the supply gives before it limits or switches off.",
        why=(
            "A short circuit behind the fuse takes down the supply and everything that it feeds; the fuse stays "
            "whole and shows nothing."
        ),
        remedy="Take a smaller fuse, a stronger supply, or an electronic circuit breaker made for such supplies.",
        basis="IEC 60269-2, conventional fusing current, from memory",
        example=drive(_FUSE.replace("2 A", "4 A") + _FUSED + _LAMP, "relays:\n  running: {switches: -PF2}\n"),
        right=(("rating: 4 A", "rating: 2 A"),),
    ),
    Entry(
        code="power-unfit",
        severity=ERROR,
        title="A power side that cannot be wired",
        what=(
            "`power:` of a drive names something that is no protective device or motor, that another drive has "
            "already, that stands in another place than the drive, or that has another number of phases."
        ),
        why="What the message names is not wired: the drawing and the lists lack it.",
        remedy="Name a device with the profile `motor_circuit_breaker` in the drive's place, and a `motor`, each once.",
        basis=PRACTICE,
        example=drive(
            "-QA1: {profile: motor_circuit_breaker, at: +C1}\n-MA1: {profile: motor, at: +C1}\n",
            "power: {supply: -MA1, motor: -MA1}\n",
        ),
        right=(("supply: -MA1", "supply: -QA1"),),
        along=("device-unused",),
    ),
    Entry(
        code="field-feed-unprotected",
        severity=NOTE,
        title="A feed into the field without a fuse",
        what="The ungrounded side of a supply runs into the field, and no fuse stands before it.",
        why="A short circuit at the machine takes down everything that the supply feeds, in the cabinet too.",
        remedy="Put a fuse before it: `fuse:` at the supply, or at the duties and references that lead to the field.",
        basis=PRACTICE,
        example=drive(
            _FUSE
            + "-TB1: {profile: supply_24v, at: +C1}\n-SJ2: {profile: push_button, contact: NC, at: +F1}\n"
            + _LAMP,
            "enable: -SJ2\nrelays:\n  running: {switches: -PF2, fuse: -FC1}\n",
            said="inputs: {wired: source, supply: -TB1}\nzero_volt: {joined_to: -TB1}\nrestart: needs_start\n",
        ).replace(*_FIELD),
        right=(
            ("-TB1: {profile: supply_24v, at: +C1}", "-TB1: {profile: supply_24v, at: +C1, fuse: -FC1}"),
            ("{switches: -PF2, fuse: -FC1}", "{switches: -PF2}"),
        ),
    ),
)
