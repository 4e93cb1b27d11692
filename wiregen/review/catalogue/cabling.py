"""Codes about colours, screens, long signals and stations."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_FIELD = ("places:\n", "places:\n  +F1: {name: Pump, route: 20 m}\n")
_POT = "-RA1: {profile: potentiometer, resistance: 4.7 kohm, at: +F1}\n"
_TWO = "-BL1: {profile: transmitter_two_wire, at: +F1}\n"
_STOP = "{profile: push_button, contact: NC, at:"
_HAND = "speed:\n  hand: {from: -RA1, signal: 0-10 V, spans: 0 to 50 Hz}\n"
_AUTO = "speed:\n  auto: {from: -BL1, signal: 4-20 mA, spans: 0 to 50 Hz, on_low: trip, on_high: trip}\n"

ENTRIES = (
    Entry(
        code="actuator-colour-unfit",
        severity=WARNING,
        title="A button in the colour of another",
        what=(
            "The `colour:` of a push button or emergency stop is kept for another meaning, such as a red START or a "
            "green STOP. Under `practice: iec` only."
        ),
        why="In a hurry people press what the colour tells them, not what the label says.",
        remedy="Start: white, grey, black or green. Stop: black, grey, white or red. Reset: blue. Emergency stop: red.",
        basis="IEC 60204-1, clause 10.2.1, from memory",
        example=drive(START.replace("START}", "START, colour: red}") + STOP, THREE_WIRE),
        right=(("colour: red", "colour: white"),),
    ),
    Entry(
        code="lamp-colour-unfit",
        severity=WARNING,
        title="A lamp in the colour of another",
        what="The `colour:` of a lamp says something else than what its relay tells. Under `practice: iec` only.",
        why="A green lamp for a fault says from afar that all is well; a red one for running calls for action.",
        remedy="Fault: yellow, or red where it is dangerous. Running, ready, at speed: green or white.",
        basis="IEC 60204-1, clause 10.3.2, from memory",
        example=drive(
            "-TB1: {profile: supply_24v, at: +C1}\n-PF1: {profile: pilot_lamp, at: +C1, colour: green}\n",
            "relays:\n  fault: {switches: -PF1, contact: NC}\n",
        ),
        right=(("colour: green", "colour: yellow"),),
    ),
    Entry(
        code="gnye-as-signal",
        severity=ERROR,
        title="The protective colour on a signal",
        what="`fixed` or `wired` puts something else than protective earth on a green-and-yellow core.",
        why="Whoever works there takes the core for earth, touches it, or connects it to PE.",
        remedy="Use another core; where the cable has none left, lay another cable.",
        basis="IEC 60204-1, clause 13.2.2, from memory",
        example=drive(
            STOP.replace("+C1", "+F1"),
            "enable: -SJ2\n",
            """
            fixed:
              -TA1: {DI3: {function: enable, cable: -W7, core: GNYE}}
            cabling:
              existing:
                -W7: {from: +C1, to: +F1, cores: 5, pe: yes}
            """,
        ).replace(*_FIELD),
        right=(("core: GNYE", "core: 2"),),
        along=("fixed-cable-elsewhere",),
    ),
    Entry(
        code="analog-unscreened",
        severity=WARNING,
        title="Analog signals without a screen",
        what="A cable that carries analog signals has no screen.",
        why="Motor cables and switched coils beside it are heard in the signal: the speed is unsteady.",
        remedy="Give the class `analog` a screen: `screen: cabinet end`.",
        basis=PRACTICE,
        example=drive(_TWO, _AUTO, "cabling: {classes: {analog: {screen: none}}}\n").replace(*_FIELD),
        right=(("screen: none", "screen: cabinet end"),),
    ),
    Entry(
        code="analog-screened-both-ends",
        severity=NOTE,
        title="The screen of analog signals on PE at both ends",
        what="The screen of a cable with analog signals is earthed at both ends.",
        why="Where the two earths differ in potential, a current flows in the screen and is heard in the signal.",
        remedy="Earth it at the cabinet alone, unless high frequencies are the trouble and both ends share one earth.",
        basis=PRACTICE,
        example=drive(_TWO, _AUTO, "cabling: {classes: {analog: {screen: both ends}}}\n").replace(*_FIELD),
        right=(("screen: both ends", "screen: cabinet end"),),
    ),
    Entry(
        code="voltage-signal-long",
        severity=NOTE,
        title="A voltage signal over a long way",
        what="A signal of 0-10 V or -10-10 V runs through more than 30 m of cable.",
        why="Its receiver takes next to no current, so that whatever the cable picks up counts as signal.",
        remedy="Send it as 4-20 mA, or set the speed at a place nearby.",
        basis=PRACTICE,
        example=drive(_POT, _HAND).replace("places:\n", "places:\n  +F1: {name: Pump, route: 60 m}\n"),
        right=(("route: 60 m", "route: 25 m"),),
    ),
    Entry(
        code="stop-not-at-station",
        severity=WARNING,
        title="A station that can start and not stop",
        what="A drive is started from several places, and in one of them stands no stop.",
        why="Who has started it there and sees something go wrong must run to another place to stop it.",
        remedy="Put a stop at every station, all of them in series: `stop: {all: [...]}`.",
        basis="IEC 60204-1, clause 9.2.3.2, from memory",
        example=drive(
            START + STOP + "-SJ3: {profile: push_button, contact: NO, at: +F1, text: START}\n"
            "-SJ4: {profile: push_button, contact: NC, at: +C1, text: STOP}\n",
            "run: {method: three-wire, start: {any: [-SJ1, -SJ3]}, stop: {all: [-SJ4, -SJ2]}}\n",
        ).replace(*_FIELD),
        right=(
            ("-SJ4: {profile: push_button, contact: NC, at: +C1", "-SJ4: {profile: push_button, contact: NC, at: +F1"),
        ),
    ),
    Entry(
        code="start-beside-stop",
        severity=WARNING,
        title="Start, stop and their feed in one cable, and no other stop",
        what=(
            "The cores of start and stop lie in one cable with the potential that feeds both, and nothing stops the "
            "drive but that stop: no enable, no second stop, no OFF position, no safe torque off whose wires run "
            "elsewhere."
        ),
        why=(
            "A crushed or flooded cable joins cores: the feed on the core of start starts the motor, the feed on the "
            "core of stop keeps it running, and the button beside it does nothing."
        ),
        remedy=(
            "Give a stop or an enable whose wires do not lie in that cable, such as a second stop in the cabinet. "
            "Where an isolator stops the machine whatever the cable does, accept the finding and say so."
        ),
        basis="IEC 60204-1, clause 9.4.3: conductors that touch shall not start a machine or keep it from stopping, "
        "from memory",
        example=drive(
            START.replace("+C1", "+F1") + STOP.replace("+C1", "+F1"),
            "run: {method: three-wire, start: -SJ1, stop: -SJ2}\n",
        ).replace(*_FIELD),
        right=(
            (
                "at: +F1, text: STOP}\n",
                "at: +F1, text: STOP}\n  -SJ4: {profile: push_button, contact: NC, at: +C1, text: STOP}\n",
            ),
            ("stop: -SJ2}\n", "stop: -SJ2}\n    enable: -SJ4\n"),
        ),
    ),
    Entry(
        code="fault-shown-inverse",
        severity=WARNING,
        title="A fault lamp that is lit while there is no fault",
        what=(
            "A lamp or a horn hangs on the `fault` of a drive, and the duty says neither by which `contact` nor when "
            "the relay is energised. A fault relay is energised while there is no fault, so its make contact is closed."
        ),
        why="The lamp says the contrary of its label, and a horn sounds until something breaks.",
        remedy=(
            "Say `contact: NC`, which also shows a drive that is dead; `energised: in_fault` if the drive is to be set "
            "so; or `contact: NO` for a lamp that says that all is well."
        ),
        basis=PRACTICE,
        example=drive(
            "-TB1: {profile: supply_24v, at: +C1}\n-PF1: {profile: pilot_lamp, at: +C1, text: FAULT}\n",
            "relays:\n  fault: {switches: -PF1}\n",
        ),
        right=(("{switches: -PF1}", "{switches: -PF1, contact: NC}"),),
    ),
)
