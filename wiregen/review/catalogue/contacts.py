"""Codes about contacts and the devices that stand at the far side of a function."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

ENTRIES = (
    Entry(
        code="contact-unknown",
        severity=ERROR,
        title="A contact that the device does not have",
        what="A function names a contact by its pins, and the device has no such contact, or no contact at all.",
        why=(
            "Marks are how the electrician finds the contact: a make contact ends in 3 and 4, a break contact in 1 "
            "and 2."
        ),
        remedy="Name a contact that the device has, or give it the contact with `contact:` or `contacts:`.",
        basis="EN 50005, contact marks, from memory",
        example=drive("-SJ1: {profile: push_button, contact: NO, at: +C1}\n", "enable: -SJ1.11-12\n"),
        right=(("contact: NO", "contact: NC"),),
        along=("device-unused",),
    ),
    Entry(
        code="contact-unclear",
        severity=ERROR,
        title="Several contacts, and none named",
        what=(
            "A function names a device that has several unused contacts of different forms or positions and does not "
            "say which of them it means, or a duty asks for a changeover, which are two."
        ),
        why="A make and a break contact of one device do the opposite of each other.",
        remedy="Name the contact by its pins, as in -SJ1.13-14, or a selector's by its position, as in -SJ3@AUTO.",
        basis=PRACTICE,
        example=drive("-SJ1: {profile: push_button, contacts: [NC, NO], at: +C1}\n", "enable: -SJ1\n"),
        right=(("enable: -SJ1\n", "enable: -SJ1.11-12\n"),),
        along=("device-unused",),
    ),
    Entry(
        code="position-unknown",
        severity=ERROR,
        title="A position that the selector does not have",
        what=(
            "A function names a contact by a position of its selector that is not declared, or in which no contact "
            "closes."
        ),
        why=(
            "A selector with three positions has a contact for the first and the third; the middle one leaves both "
            "open."
        ),
        remedy="Name a declared position; `contact_per_position: yes` gives the selector a contact in each.",
        basis=PRACTICE,
        example=drive("-SJ3: {profile: selector, positions: [OFF, LOCAL], at: +C1}\n", "enable: -SJ3@LOCALE\n"),
        right=(("@LOCALE", "@LOCAL"),),
        along=("device-unused",),
    ),
    Entry(
        code="contact-used-twice",
        severity=ERROR,
        title="One contact for two functions",
        what=(
            "One contact, or one sensor's output, stands in the circuits of two functions, and nothing says that it "
            "is shared."
        ),
        why=(
            "Both inputs hang on one wire: they always act together, and where two supplies feed them their positive "
            "terminals are joined."
        ),
        remedy=(
            "Use a second contact of the device, or a relay with a contact for each function; where both inputs have "
            "one supply and shall act together, say so with `shared:` at the device."
        ),
        basis=PRACTICE,
        example=drive(
            "-SJ1: {profile: push_button, contacts: [NC, NC], at: +C1}\n",
            """
            enable: -SJ1.11-12
            external_trip: -SJ1.11-12
            """,
        ),
        right=(("external_trip: -SJ1.11-12", "external_trip: -SJ1.21-22"),),
    ),
    Entry(
        code="operated-when-missing",
        severity=WARNING,
        title="A process contact that does not say when it operates",
        what="A contact that a pressure, a level, a temperature or another quantity operates has no `operated_when`.",
        why=(
            "Drawn at rest, a break contact may be the healthy state or the fault: only the words beside it tell the "
            "electrician which way it moves, and at what value."
        ),
        remedy="Add `operated_when:` with the quantity and the value, as in `operated_when: winding above 140 C`.",
        basis=PRACTICE,
        example=drive("-BT1: {profile: contact, contact: NC, at: +C1}\n", "external_trip: -BT1\n"),
        right=(("contact: NC, at: +C1}", "contact: NC, at: +C1, operated_when: winding above 140 C}"),),
    ),
    Entry(
        code="source-unfit",
        severity=ERROR,
        title="A reference from something that gives no signal",
        what="A reference comes `from` a device that gives no analog signal.",
        why="A contact, a lamp or a supply gives neither a voltage nor a current that could set a speed.",
        remedy=(
            "Take the reference from a potentiometer, a transmitter or an analog output, or set it in the device "
            "with `preset:`."
        ),
        basis=PRACTICE,
        example=drive(
            START + STOP + "-RA1: {profile: potentiometer, at: +C1}\n",
            THREE_WIRE + "speed:\n  hand: {from: -SJ1, signal: 0-10 V, spans: 0 to 50 Hz}\n",
        ),
        right=(("from: -SJ1", "from: -RA1"),),
        along=("device-unused",),
    ),
    Entry(
        code="input-without-meaning",
        severity=ERROR,
        title="A drive's input that nothing gives a meaning",
        what="A duty of one controller switches a drive, and nothing says what the drive does with the signal.",
        why="A drive's input starts, stops, enables or selects; a card's program reads a name, a drive does not.",
        remedy="Declare the function at the drive that receives it and name the sender there, as in `enable: -TA1`.",
        basis=PRACTICE,
        example=drive(
            "-TA2: {profile: drive_compact, at: +C1}\n",
            "relays:\n  running: {switches: -TA2}\n",
            beside="-TA2: {inputs: source, zero_volt: floating, restart: needs_start}\n",
        ),
        right=(
            ("    relays:\n      running: {switches: -TA2}\n", ""),
            ("restart: needs_start}", "restart: needs_start, enable: -TA1}"),
        ),
    ),
    Entry(
        code="load-unfit",
        severity=ERROR,
        title="An output that switches something that is no load",
        what=(
            "A relay, a transistor or an analog output is declared to act on a device that is neither a load nor an "
            "input."
        ),
        why="A contact cannot switch a push-button or a sensor: there is no coil, no lamp and no input behind it.",
        remedy=(
            "Name a lamp, a horn, a valve, a relay's coil or another controller; for `shows` a meter or an analog "
            "input."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY + START + STOP + "-PF1: {profile: pilot_lamp, at: +C1}\n",
            THREE_WIRE + "relays:\n  running: {switches: -SJ1}\n",
        ),
        right=(("switches: -SJ1", "switches: -PF1"),),
        along=("device-unused",),
    ),
)
