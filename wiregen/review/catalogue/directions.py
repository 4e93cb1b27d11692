"""Codes about directions of travel and their limits."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_ALLOWED = "inputs: source\nzero_volt: floating\nrestart: allowed\n"
_BUTTONS = """\
-SJ4: {profile: push_button, contact: NO, at: +C1, text: OUT}
-SJ5: {profile: push_button, contact: NO, at: +C1, text: IN}
"""
_BACK = "-SJ4: {profile: push_button, contact: NO, at: +C1, text: START BACK}\n"
_DIRECTION = "-SJ5: {profile: selector, positions: [AHEAD, BACK], at: +C1}\n"
_HOLD = "run: {method: hold-to-run, forward: -SJ4, reverse: -SJ5, both: stop}\n"
_LIMIT = "-BG1: {profile: limit_switch, contact: NC, at: +C1, operated_when: table is out}\n"
_TRAVEL = "EN 60204-32 and common practice, from memory: a limit acts by opening"

ENTRIES = (
    Entry(
        code="both-directions-unanswered",
        severity=WARNING,
        title="Both directions at once, and nothing said",
        what=(
            "A run has a contact for each direction, both can be closed together, and the scheme does not say what "
            "the drive does then."
        ),
        why=(
            "Two buttons pressed, two outputs on or a short between two cores: one drive stops, another keeps its "
            "direction, a third follows the last command."
        ),
        remedy="Add `both: stop`, or take one selector whose positions exclude each other.",
        basis=PRACTICE,
        example=drive(_BUTTONS, _HOLD.replace(", both: stop", ""), said=_ALLOWED),
        right=(("reverse: -SJ5}", "reverse: -SJ5, both: stop}"),),
    ),
    Entry(
        code="direction-said-twice",
        severity=WARNING,
        title="Two things that turn the motor the other way",
        what="A drive has a reverse command in its run and a direction contact (`reverse:`) beside it.",
        why="With both closed one maker's drive runs forward, another's in reverse.",
        remedy="Use one form: a second start (`start_reverse`, or `reverse` in the run), or a direction contact.",
        basis=PRACTICE,
        example=drive(
            START + STOP + _BACK + _DIRECTION,
            THREE_WIRE.replace("stop: -SJ2", "start_reverse: -SJ4, stop: -SJ2") + "reverse: -SJ5\n",
        ),
        right=(
            ("    reverse: -SJ5\n", ""),
            ("  " + _DIRECTION, ""),
        ),
    ),
    Entry(
        code="limit-not-by-break",
        severity=ERROR,
        title="A limit that a broken wire does not bring about",
        what="A limit acts when its input closes.",
        why="A broken wire leaves the input open for ever: the machine travels past its end, and nothing tells before.",
        remedy="Let the input be closed while the direction is allowed: a break contact, without `healthy: open`.",
        basis=_TRAVEL,
        example=drive(
            _BUTTONS + _LIMIT.replace("contact: NC", "contact: NO"),
            _HOLD + "limits: {forward: {by: -BG1, healthy: open}}\n",
            said=_ALLOWED,
        ),
        right=(
            ("contact: NO, at: +C1, operated", "contact: NC, at: +C1, operated"),
            ("{by: -BG1, healthy: open}", "-BG1"),
        ),
    ),
    Entry(
        code="limit-blocks",
        severity=ERROR,
        title="A make contact as limit",
        what="A limit is wired through the make contact of a limit switch, open away from the end of the travel.",
        why="An open limit input forbids its direction: the machine moves only while it stands at its end already.",
        remedy="Take a break contact of the limit switch: `contact: NC`.",
        basis=_TRAVEL,
        example=drive(
            _BUTTONS + _LIMIT.replace("contact: NC", "contact: NO"), _HOLD + "limits: {forward: -BG1}\n", said=_ALLOWED
        ),
        right=(("contact: NO, at: +C1, operated", "contact: NC, at: +C1, operated"),),
    ),
    Entry(
        code="limit-without-motion",
        severity=WARNING,
        title="A limit for a direction in which nothing runs",
        what="A limit of the reverse direction stands at a drive that no command runs in reverse.",
        why="Either the reverse command has been forgotten, or the limit guards the wrong direction.",
        remedy="Give the limit to the direction that it ends, or declare what runs in reverse.",
        basis=PRACTICE,
        example=drive(START + STOP + _LIMIT, THREE_WIRE + "limits: {reverse: -BG1}\n"),
        right=(("limits: {reverse: -BG1}", "limits: {forward: -BG1}"),),
    ),
    Entry(
        code="one-way-only",
        severity=WARNING,
        title="A motor potentiometer that goes one way",
        what="A drive has an input that raises its speed and none that lowers it, or the reverse.",
        why="Once raised, the speed comes back only with a stop, if at all.",
        remedy="Add the other of `raise:` and `lower:`.",
        basis=PRACTICE,
        example=drive(START + STOP + _BUTTONS.splitlines()[0] + "\n", THREE_WIRE + "raise: -SJ4\n"),
        right=(
            ("raise: -SJ4\n", "raise: -SJ4\n    lower: -SJ5\n"),
            ("text: OUT}\n", "text: OUT}\n  -SJ5: {profile: push_button, contact: NO, at: +C1, text: IN}\n"),
        ),
    ),
    Entry(
        code="direction-lost-in-dip",
        severity=WARNING,
        title="A direction that a dip of the voltage loses",
        what=(
            "A relay that holds itself in keeps the direction, or the drive remembers it from a push of a button, and "
            "the command to run comes from something that stays: a selector, another controller, a drive whose stop is "
            "fed from elsewhere."
        ),
        why=(
            "A dip of some hundredths of a second lets the relay go, and nobody notices: the motor runs on, or starts "
            "again, in the other direction, from the middle of its travel."
        ),
        remedy=(
            "Lead the command to run through a contact of the same relays so that it falls with them, feed relays and "
            "commands from one supply, or keep the direction in something that stays, such as a selector."
        ),
        basis=PRACTICE,
        example=drive(
            "-TB1: {profile: supply_24v, at: +C1}\n-SJ3: {profile: selector, positions: [OFF, RUN], at: +C1}\n"
            "-KF1: {profile: interposing_relay, poles: 2, at: +C1}\n"
            "-BG1: {profile: limit_switch, contact: NO, at: +C1, operated_when: car at the far end}\n"
            "-BG2: {profile: limit_switch, contact: NC, at: +C1, operated_when: car at the near end}\n",
            "run: {method: two-wire, forward: -SJ3}\nreverse: -KF1\n",
            said=_ALLOWED.replace("inputs: source", "inputs: {wired: source, supply: -TB1}").replace(
                "floating", "{joined_to: -TB1}"
            ),
            beside="-KF1: {energise: {all: [-BG2, {any: [-BG1, -KF1.21-24]}]}, supply: -TB1}\n",
        ),
        right=(
            ("-SJ3: {profile: selector, positions: [OFF, RUN]", "-SJ3: {profile: push_button, contact: NO"),
            ("  -KF1: {profile", "  -SJ2: {profile: push_button, contact: NC, at: +C1}\n  -KF1: {profile"),
            ("{method: two-wire, forward: -SJ3}", "{method: three-wire, start: -SJ3, stop: -SJ2}"),
        ),
    ),
)
