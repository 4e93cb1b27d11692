"""Codes about what the wired circuit does: loops that run out of voltage, inputs that are neither on nor off."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, WARNING, Entry
from wiregen.review.catalogue.plant import STOP, drive

_FIELD = "  +F1: {name: Field, route: %s}\n"


def _far(route: str, devices: str, control: str, *, profile: str = "drive_compact") -> str:
    """The plant with a place in the field."""
    text = drive(devices, control, profile=profile)
    return text.replace("devices:\n", _FIELD % route + "devices:\n", 1)


def _two_wire(*, profile: str) -> str:
    devices = STOP + "-BG1: {profile: proximity_two_wire, at: +C1}\n"
    return drive(devices, "run: {method: three-wire, start: -BG1, stop: -SJ2}\n", profile=profile)


_THREE_WIRE = (("proximity_two_wire", "proximity_three_wire, output: PNP"),)

ENTRIES = (
    Entry(
        code="loop-out-of-compliance",
        severity=WARNING,
        title="A current loop that runs out of voltage",
        what=(
            "With the supply 15 % low and the conductors hot, the cable and the receivers leave a two-wire "
            "transmitter less than its lift-off voltage before the loop reaches 20 mA."
        ),
        why=(
            "The transmitter lives on what the loop leaves it. The upper end of the range is never reported: the "
            "reading stays below the true value, and nothing shows it."
        ),
        remedy="Shorten the cable or take a larger area, use receivers with less resistance, or a higher supply.",
        basis="IEC 61131-2, range of the supply; Ohm's law",
        example=_far(
            "4 km",
            STOP + "-BL1: {profile: transmitter_two_wire, at: +F1}\n",
            """
            enable: -SJ2
            speed:
              level: {from: -BL1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip}
            """,
        ),
        right=(("route: 4 km", "route: 1 km"),),
    ),
    Entry(
        code="loop-short-of-voltage",
        severity=ERROR,
        title="A current loop that cannot carry its signal",
        what="At its nominal supply already the loop leaves a two-wire transmitter too little voltage for 20 mA.",
        why="The upper end of the range is never reported: the loop cannot carry the signal that is declared.",
        remedy="Shorten the cable or take a larger area, use receivers with less resistance, or a higher supply.",
        basis="IEC 60381-1, upper end of the signal, from memory; Ohm's law",
        example=_far(
            "8 km",
            STOP + "-BL1: {profile: transmitter_two_wire, at: +F1}\n",
            """
            enable: -SJ2
            speed:
              level: {from: -BL1, signal: 4-20 mA, spans: 10 to 50 Hz, on_low: trip}
            """,
        ),
        right=(("route: 8 km", "route: 1 km"),),
    ),
    Entry(
        code="sensor-not-surely-off",
        severity=WARNING,
        title="A sensor that leaks too much for its input",
        what="A sensor that blocks still lets a current through that holds its input above its off range.",
        why="The input may read on although the sensor blocks: a start that nobody gave, or a stop that is not seen.",
        remedy="Set a resistor across the input, or use a sensor with three wires.",
        basis="IEC 61131-2, ranges of digital inputs; IEC 60947-5-2, leakage of sensors",
        example=_two_wire(profile="drive_compact"),
        right=_THREE_WIRE,
        along=("sensor-not-surely-on", "sensor-starved"),
    ),
    Entry(
        code="sensor-not-surely-on",
        severity=WARNING,
        title="A sensor that drops too much for its input",
        what="With the supply 15 % low, a sensor that conducts leaves its input less than it needs to be surely on.",
        why="The input may stay off although the sensor conducts; it works on the bench and fails on a low supply.",
        remedy="Use a sensor with three wires, which drops less, or an input of a type with a lower on level.",
        basis="IEC 61131-2, ranges of digital inputs and of the supply; IEC 60947-5-2, drop of sensors",
        example=_two_wire(profile="drive_compact"),
        right=_THREE_WIRE,
        along=("sensor-not-surely-off", "sensor-starved"),
    ),
    Entry(
        code="sensor-starved",
        severity=WARNING,
        title="A two-wire sensor with too little current",
        what="The input draws less than the least current that a two-wire sensor needs while it conducts.",
        why="The sensor lives on the current that it lets through; with less it may let go, flicker, or never switch.",
        remedy="Set a resistor across the input, or use a sensor with three wires.",
        basis="IEC 60947-5-2, least operating current, from memory",
        example=_two_wire(profile="drive_compact"),
        right=_THREE_WIRE,
        along=("sensor-not-surely-off", "sensor-not-surely-on"),
    ),
    Entry(
        code="supply-overloaded",
        severity=WARNING,
        title="A supply of which more is asked than it gives",
        what="In some state the loads of a 24 V or 10 V terminal take more than it gives, and its voltage falls.",
        why="Inputs, transmitters and relays on it fall out together, and what stays on is a matter of chance.",
        remedy="Feed some of the loads from another supply, or take one that gives more.",
        basis="IEC 61131-2, range of the supply: -15 %",
        example=drive(
            STOP
            + "-SJ1: {profile: push_button, contact: NO, at: +C1}\n"
            + "-TB1: {profile: supply_24v, at: +C1, zero_volt: earthed, figures: {limit of 24V: 10 mA}}\n"
            + "-PF1: {profile: pilot_lamp, at: +C1, text: RUNS, colour: green}\n",
            "run: {method: three-wire, start: -SJ1, stop: -SJ2}\nrelays: {running: {switches: -PF1, supply: -TB1}}\n",
        ),
        right=(("limit of 24V: 10 mA", "limit of 24V: 1 A"),),
    ),
    Entry(
        code="coil-never-rests",
        severity=ERROR,
        title="A relay that takes its own feed away",
        what="In some state coils pick up and let go without end, because their contacts open their own circuit.",
        why="The relay chatters until its contacts are burnt; nothing that hangs on it can be relied on.",
        remedy="Feed the coil through a contact of something else, or through its own make contact as a seal-in.",
        basis="common practice, no source",
        example=drive(
            STOP
            + "-SJ1: {profile: push_button, contact: NO, at: +C1}\n"
            + "-TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}\n"
            + "-SJ3: {profile: push_button, contact: NO, at: +C1}\n"
            + "-KF1: {profile: interposing_relay, at: +C1, poles: 2}\n",
            "run: {method: three-wire, start: -SJ1, stop: -SJ2}\nenable: -KF1.21-24\nreset: -SJ3\n",
            beside="-KF1: {energise: -KF1.11-12, supply: -TB1}\n",
        ),
        right=(
            ("energise: -KF1.11-12", "energise: -SJ4"),
            ("  -SJ3: {profile", "  -SJ4: {profile: push_button, contact: NO, at: +C1}\n  -SJ3: {profile"),
        ),
    ),
)
