"""Codes about polarity: which side of the supply the contacts at an input switch."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, Entry
from wiregen.review.catalogue.plant import STOP, drive

_PNP = "-BG1: {profile: proximity_three_wire, output: PNP, at: +C1}\n"
_NPN = "-BG2: {profile: proximity_three_wire, output: NPN, at: +C1}\n"

ENTRIES = (
    Entry(
        code="polarity-mismatch",
        severity=ERROR,
        title="A sensor or output of the wrong polarity for its input",
        what=(
            "A PNP sensor or a sourcing transistor output stands at inputs wired for sink (contacts switch 0 V), or "
            "an NPN sensor at inputs wired for source (contacts switch +24 V)."
        ),
        why=(
            "A PNP output switches +24 V: at an input that is already held at +24 V nothing flows and it never acts. "
            "An NPN output switches 0 V and does nothing at an input that waits for +24 V."
        ),
        remedy="Wire the group of inputs the other way, choose the sensor's other variant, or put a relay between.",
        basis="IEC 61131-2 and IEC 60947-5-2, input and output types, from memory",
        example=drive(
            _PNP,
            "enable: -BG1\n",
            said="inputs: sink\nzero_volt: floating\nrestart: needs_start\n",
        ),
        right=(("inputs: sink", "inputs: source"),),
    ),
    Entry(
        code="polarity-mixed",
        severity=ERROR,
        title="Drivers of both polarities at one common",
        what=(
            "At inputs that share one common stand sensors or outputs that need source (contacts switch +24 V) and "
            "others that need sink (contacts switch 0 V)."
        ),
        why=(
            "The common of a group lies on 0 V or on +24 V, so all inputs of the group are wired one way; half the "
            "sensors never act."
        ),
        remedy=(
            "Take all sensors in one polarity, use a controller with two groups and wire one each way, or put a "
            "relay between for the odd ones."
        ),
        basis="IEC 61131-2, input types, from memory",
        example=drive(_PNP + _NPN, "enable: -BG1\nexternal_trip: -BG2\n"),
        right=(("output: NPN", "output: PNP"),),
    ),
    Entry(
        code="group-unknown",
        severity=ERROR,
        title="A group of inputs that the controller does not have",
        what="`inputs:` states the polarity of a group by a name that the controller's profile does not have.",
        why="The group that was meant keeps the polarity that is taken by default, and its sensors may never act.",
        remedy="Name a group of the profile; `wiregen profiles NAME` shows the group of each input.",
        basis=PRACTICE,
        example=drive(
            STOP,
            "enable: -SJ2\nsafe_torque_off: linked\n",
            said="inputs: {group 1: source, group 3: source}\nzero_volt: floating\nrestart: needs_start\n",
            profile="drive_extended",
        ),
        right=(("group 3", "group 2"),),
    ),
    Entry(
        code="polarity-not-declared",
        severity=NOTE,
        title="Nothing says which side the contacts switch",
        what=(
            "A controller's inputs are used and the scheme does not say how they are wired; source (contacts switch "
            "+24 V) is taken."
        ),
        why="Sensors, cards and the parameter or link that sets the inputs must all agree with the wiring.",
        remedy=(
            "Add `inputs: source` (contacts switch +24 V) or `inputs: sink` (contacts switch 0 V) to the controller."
        ),
        basis="IEC 61131-2, standard inputs take current in, from memory",
        example=drive(STOP, "enable: -SJ2\n", said="zero_volt: floating\nrestart: needs_start\n"),
        right=(("    zero_volt: floating\n", "    inputs: source\n    zero_volt: floating\n"),),
    ),
)
