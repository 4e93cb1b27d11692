"""Codes about starting and stopping: what a broken wire does, what an untouched button does, and restarting."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_ENERGISE = "IEC 60204-1, clause 9.2.3: a start acts by energising, a stop by de-energising, from memory"
_RESTART = "IEC 60204-1, clause 7.5: no unexpected restart when the supply returns, from memory"
_SELECTOR = "-SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}\n"

#: A drive that takes its commands by level, which no built-in profile does.
_LEVEL_DRIVE = """\
profile: drive_by_level
title: Drive that runs by level
controller: drive
terminals:
  - {label: 24V, role: supply_out, volts: 24 V, limit: {value: 100 mA, basis: "typical, invented"}, common: COM}
  - {label: COM, role: zero}
  - label: DI1
    role: digital_in
    group: group 1
    common: COM
    accepts: [contact]
    polarities: [source, sink]
    resistance: {value: 4 kohm, basis: "typical, invented"}
start_by: level
"""

ENTRIES = (
    Entry(
        code="stop-not-by-break",
        severity=ERROR,
        title="A stop, enable or trip that a broken wire does not bring about",
        what=(
            "A stop, an enable or an external trip acts when its input closes. What counts is what a broken wire "
            "does, not the letters NO and NC: a pressure switch may well be open at rest and closed while all is "
            "healthy."
        ),
        why=(
            "A broken wire, a loose clamp or a lost feed leaves the input open for ever: the motor runs on and its "
            "stop does nothing, and nobody notices until the stop is needed."
        ),
        remedy="Let the healthy circuit be closed: a break contact, without `healthy: open` or `acts_on: closing`.",
        basis=_ENERGISE,
        example=drive(
            "-BT1: {profile: contact, contact: NO, at: +C1, operated_when: winding above 140 C}\n",
            "external_trip: {by: -BT1, healthy: open}\n",
        ),
        right=(("contact: NO", "contact: NC"), ("{by: -BT1, healthy: open}", "-BT1")),
    ),
    Entry(
        code="start-by-break",
        severity=ERROR,
        title="A broken wire starts the motor",
        what="A start or a run command acts when its input opens.",
        why="Any broken wire, loose clamp or lost feed opens the input, and the motor starts with nobody's command.",
        remedy="Let the command act on closing, by a make contact.",
        basis=_ENERGISE,
        example=drive(
            START.replace("NO", "NC") + STOP,
            "run: {method: three-wire, start: {by: -SJ1, acts_on: opening}, stop: -SJ2}\n",
        ),
        right=(
            ("contact: NC, at: +C1, text: START", "contact: NO, at: +C1, text: START"),
            ("{by: -SJ1, acts_on: opening}", "-SJ1"),
        ),
    ),
    Entry(
        code="reverse-by-break",
        severity=ERROR,
        title="A broken wire reverses the motor",
        what="The direction command acts when its input opens.",
        why=(
            "A broken wire turns the machine the other way while it runs, against stops and limits that expect the "
            "first direction."
        ),
        remedy="Let the direction that is used most be that of the open input, and the other act on closing.",
        basis="IEC 60204-1, clause 9.4: a fault shall not cause a dangerous motion, from memory",
        example=drive(
            START + STOP + "-SJ3: {profile: selector, positions: [BACK, AHEAD], at: +C1}\n",
            THREE_WIRE + "reverse: {by: -SJ3, acts_on: opening}\n",
        ),
        right=(("positions: [BACK, AHEAD]", "positions: [AHEAD, BACK]"), ("{by: -SJ3, acts_on: opening}", "-SJ3")),
    ),
    Entry(
        code="runs-only-while-held",
        severity=ERROR,
        title="A make contact as stop",
        what="A stop or a trip is wired through a push-button that is open while nobody touches it.",
        why=(
            "The input is open at rest, which is a stop: the motor can run only while the button is held, and stops "
            "when it is let go."
        ),
        remedy="Take a break contact of the button: `contact: NC`.",
        basis=_ENERGISE,
        example=drive(START + STOP.replace("NC", "NO"), THREE_WIRE),
        right=(("contact: NO, at: +C1, text: STOP", "contact: NC, at: +C1, text: STOP"),),
    ),
    Entry(
        code="starts-on-release",
        severity=ERROR,
        title="A break contact as start",
        what="A start or a run command is wired through a push-button that is closed while nobody touches it.",
        why=(
            "The command stands while the button is left alone: the motor starts when the button is let go, or runs "
            "until it is pressed."
        ),
        remedy="Take a make contact of the button: `contact: NO`.",
        basis=_ENERGISE,
        example=drive(START.replace("NO", "NC") + STOP, THREE_WIRE),
        right=(("contact: NC, at: +C1, text: START", "contact: NO, at: +C1, text: START"),),
    ),
    Entry(
        code="single-channel-safety",
        severity=ERROR,
        title="An emergency stop or a safety relay on a plain input alone",
        what=(
            "An emergency stop or a contact of a safety relay acts through an ordinary input of a controller and "
            "through nothing else, or a safety relay is told to watch it by one channel (`channels: one`)."
        ),
        why=(
            "An ordinary input has one channel and no test: one short between cores, one stuck input or one fault in "
            "the program, and the emergency stop does nothing. It also leaves the motor's supply on."
        ),
        remedy=(
            "Lead it through two channels of a safety relay to the drive's safe torque off or to a contactor; a "
            "second contact may tell the plain input."
        ),
        basis="IEC 60204-1, clause 9.2 and ISO 13849-1, from memory",
        example=drive("-SF1: {profile: emergency_stop, at: +C1}\n" + STOP, "enable: -SF1.11-12\nexternal_trip: -SJ2\n"),
        right=(("  -SF1: {profile: emergency_stop, at: +C1}\n", ""), ("    enable: -SF1.11-12\n", "")),
    ),
    Entry(
        code="restart-not-declared",
        severity=WARNING,
        title="Nothing says whether the drive may restart by itself",
        what="A drive's section has no `restart:`.",
        why=(
            "When the supply returns after a dip, a command that is still there starts the motor. Whether that is "
            "wanted (a ventilator) or dangerous (a saw) only the designer knows."
        ),
        remedy="Add `restart: needs_start`, or `restart: allowed` where nobody can be hurt.",
        basis=_RESTART,
        example=drive(START + STOP, THREE_WIRE, said="inputs: source\nzero_volt: floating\n"),
        right=(("    zero_volt: floating\n", "    zero_volt: floating\n    restart: needs_start\n"),),
    ),
    Entry(
        code="restart-not-enforced",
        severity=ERROR,
        title="A new start is demanded, and a maintained command restarts",
        what=(
            "`restart: needs_start` stands at a drive that takes its commands by level, and a command stays closed: "
            "a two-wire run, or a start from something that is no push-button."
        ),
        why="When the supply returns or a trip is reset the command is still there, and the motor starts by itself.",
        remedy=(
            "Start by push-buttons (three-wire), take a drive that starts by the closing edge, or say `restart: "
            "allowed`."
        ),
        basis=_RESTART,
        example=drive(_SELECTOR, "run: {method: two-wire, forward: -SJ3}\n", profile="drive_by_level"),
        right=(("restart: needs_start", "restart: allowed"),),
        profile=_LEVEL_DRIVE,
    ),
    Entry(
        code="restart-by-setting",
        severity=NOTE,
        title="Only a setting keeps the drive from restarting",
        what=(
            "`restart: needs_start` stands at a drive, and a command stays closed: a two-wire run, or a start from "
            "something that is no push-button. The drive can take it by its closing edge, if it is set so."
        ),
        why="With the setting left out, or lost when the drive is replaced, the motor starts when the supply returns.",
        remedy=(
            "Keep the setting in the commissioning list and test it: switch the supply off and on with the command "
            "closed."
        ),
        basis=_RESTART,
        example=drive(_SELECTOR, "run: {method: two-wire, forward: -SJ3}\n"),
        right=(("restart: needs_start", "restart: allowed"),),
    ),
    Entry(
        code="run-incomplete",
        severity=ERROR,
        title="A run whose contacts do not fit its method",
        what="A two-wire run lacks its `forward`, or has a `stop` that it cannot use.",
        why=(
            "A two-wire run starts and stops by one maintained contact: open is stop. A stop of its own belongs to a "
            "three-wire run."
        ),
        remedy="Give the contacts of the method, or change the method.",
        basis="NEMA ICS 19, two-wire and three-wire control, from memory",
        example=drive(
            _SELECTOR,
            "run: {method: two-wire, reverse: -SJ3}\n",
            said="inputs: source\nzero_volt: floating\nrestart: allowed\n",
        ),
        right=(("reverse: -SJ3", "forward: -SJ3"),),
    ),
)
