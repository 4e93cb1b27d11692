"""Codes about the safety chain: emergency stops, safety relays, safe torque off and motor thermistors."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

_STOP_0 = "IEC 60204-1, clause 9.2: an emergency stop removes the power that moves, from memory"
_CATEGORY = "ISO 13849-1, clause 6.2: in category 3 and above one fault does not lose the safety function, from memory"
_CHAIN = (
    SUPPLY
    + "-KF10: {profile: safety_relay, at: +C1}\n"
    + "-SF1: {profile: emergency_stop, at: +C1}\n"
    + "-SJ5: {profile: push_button, contact: NO, at: +C1, text: RESET}\n"
    + START
    + STOP
)
_RESET = "reset: {by: -SJ5, monitored: yes}"
_RELAY = f"-KF10: {{guards: [-SF1], channels: two, {_RESET}}}\n"
_OFF = THREE_WIRE + "safe_torque_off: {by: -KF10, channels: two}\n"


def _chain(devices: str = _CHAIN, control: str = _OFF, relay: str = _RELAY) -> str:
    """A drive whose safe torque off hangs on an emergency stop through a safety relay."""
    return drive(devices, control, profile="drive_extended", beside=relay)


ENTRIES = (
    Entry(
        code="safe-torque-off-open",
        severity=WARNING,
        title="Safe torque off neither driven nor linked",
        what="The drive has terminals for safe torque off, and its section does not say what they are wired to.",
        why=(
            "With these inputs open the drive gives no torque: the motor never turns. Who then links them in a hurry "
            "takes away a safety function that the machine may need."
        ),
        remedy=(
            "Say `safe_torque_off: {by: ..., channels: two}`, or `safe_torque_off: linked` where the machine needs no "
            "such function."
        ),
        basis="IEC 61800-5-2, clause 4.2.2.2: safe torque off acts while its input is without current, from memory",
        example=drive(START + STOP, THREE_WIRE, profile="drive_extended"),
        right=(("    run:", "    safe_torque_off: linked\n    run:"),),
    ),
    Entry(
        code="safe-torque-off-linked",
        severity=NOTE,
        title="Safe torque off is linked",
        what="Both channels of the drive's safe torque off are fed straight from 24 V: nothing takes the torque away.",
        why=(
            "The drive has the function and does not use it. Nobody may count on it: neither for an emergency stop nor "
            "against starting while somebody works at the machine."
        ),
        remedy="Leave it so where the risk assessment asks for nothing else; the sheet says so.",
        basis="IEC 61800-5-2, clause 4.2.2.2, from memory",
        example=drive(START + STOP, THREE_WIRE + "safe_torque_off: linked\n", profile="drive_extended"),
        right=(("profile: drive_extended", "profile: drive_compact"), ("    safe_torque_off: linked\n", "")),
    ),
    Entry(
        code="safe-torque-off-one-conductor",
        severity=ERROR,
        title="Both channels of safe torque off on one conductor",
        what="`channels: one` lets one contact and one conductor feed both channels of the drive's safe torque off.",
        why=(
            "The two channels then fail together: one welded contact, or one short of that conductor to 24 V, and the "
            "torque stays on when it must go."
        ),
        remedy="Give each channel a contact and a conductor of its own: `channels: two`.",
        basis=_CATEGORY,
        example=_chain(control=_OFF.replace("channels: two", "channels: one")),
        right=(("channels: one", "channels: two"),),
    ),
    Entry(
        code="safe-torque-off-unfit",
        severity=ERROR,
        title="Safe torque off by something that cannot take it away",
        what="`safe_torque_off: {by: ...}` names a device that is no safety relay and no emergency stop or switch.",
        why=(
            "An ordinary relay, an output or a drive does not notice a fault of its own: it may stay closed with the "
            "emergency stop pressed."
        ),
        remedy="Name a safety relay, or an emergency stop device with a contact for each channel.",
        basis=_CATEGORY,
        example=_chain(
            _CHAIN + "-QA2: {profile: contactor, at: +C1}\n",
            control=THREE_WIRE + "relays: {running: {switches: -QA2}}\nsafe_torque_off: {by: -QA2}\n",
        ),
        right=(("{by: -QA2}", "{by: -KF10}"),),
        along=("safety-relay-idle",),
    ),
    Entry(
        code="safety-channels-in-one-cable",
        severity=WARNING,
        title="Both channels in one cable",
        what=(
            "The two channels of a safety relay, or of a drive's safe torque off, run side by side in one cable. "
            "Whether the relay finds a short between them is not known here."
        ),
        why=(
            "A crushed cable can join cores of both channels. If nothing finds that short, it bridges the emergency "
            "stop in both channels at once."
        ),
        remedy=(
            "Keep the channels in cables of their own by `apart_cables`, protect the cable for good, or take a relay "
            "that finds a short between its channels."
        ),
        basis="ISO 13849-2, table D.4: shorts are left out only between cables apart or protected, from memory",
        example=_chain(
            _CHAIN.replace("-SF1: {profile: emergency_stop, at: +C1}", "-SF1: {profile: emergency_stop, at: +F1}")
        ).replace("places:\n", "places:\n  +F1: {name: Machine, route: 12 m}\n"),
        right=(("emergency_stop, at: +F1", "emergency_stop, at: +C1"), ("  +F1: {name: Machine, route: 12 m}\n", "")),
    ),
    Entry(
        code="reset-not-monitored",
        severity=WARNING,
        title="A reset that is not monitored",
        what="The reset of the safety relay does not say `monitored: yes`.",
        why=(
            "A relay that takes the closed reset button by its level closes by itself when the emergency stop is "
            "pulled out again, if the button sticks, is wedged or its cores touch."
        ),
        remedy="Say `reset: {by: ..., monitored: yes}`, and take a relay that waits for the button to be let go again.",
        basis="ISO 13849-1, clause 5.2.2: manual reset by a deliberate act, from memory",
        example=_chain(relay=_RELAY.replace(_RESET, "reset: -SJ5")),
        right=(("reset: -SJ5", _RESET),),
    ),
    Entry(
        code="safety-reset-missing",
        severity=WARNING,
        title="A safety relay without a reset",
        what="The safety relay has terminals for a reset, and its section names no `reset:`.",
        why="Its reset terminals stay open, so that it never closes after the emergency stop has been released.",
        remedy="Say `reset: {by: ..., monitored: yes}` with a push-button from where the danger can be seen.",
        basis="ISO 13849-1, clause 5.2.2: manual reset by a deliberate act, from memory",
        example=_chain(
            _CHAIN.replace("-SJ5: {profile: push_button, contact: NO, at: +C1, text: RESET}\n", ""),
            relay=_RELAY.replace(f", {_RESET}", ""),
        ),
        right=(
            ("  -SF1:", "  -SJ5: {profile: push_button, contact: NO, at: +C1}\n  -SF1:"),
            (
                "channels: two}\n  -KF10: {guards: [-SF1], channels: two}",
                f"channels: two}}\n  -KF10: {{guards: [-SF1], {_RESET}}}",
            ),
        ),
    ),
    Entry(
        code="guard-contacts-too-few",
        severity=ERROR,
        title="Fewer contacts than channels",
        what="A device that opens a channel each by a contact of its own has fewer contacts than there are channels.",
        why="The channel without a contact does not see the device: what looks like two channels is one.",
        remedy="Take a device with a contact for each channel, or give it another: `contacts: [NC, NC]`.",
        basis=_CATEGORY,
        example=_chain(
            _CHAIN + "-BG1: {profile: limit_switch, contacts: [NC], opens: positively, at: +C1, text: Lid closed}\n",
            relay=_RELAY.replace("[-SF1]", "[-SF1, -BG1]"),
        ),
        right=(("contacts: [NC]", "contacts: [NC, NC]"),),
    ),
    Entry(
        code="guard-unfit",
        severity=ERROR,
        title="Nothing that a safety relay could watch",
        what="A guard or the reset of a safety relay names a device that has no contact.",
        why="The channel needs a contact that opens it: without one it stays open, or is not watched at all.",
        remedy="Name a device with contacts: an emergency stop, a position switch, a push-button for the reset.",
        basis="common practice, no source",
        example=_chain(
            _CHAIN + "-BG1: {profile: proximity_three_wire, output: PNP, at: +C1}\n",
            control=_OFF + "enable: -BG1\n",
            relay=_RELAY.replace("[-SF1]", "[-SF1, -BG1]"),
        ),
        right=(("guards: [-SF1, -BG1]", "guards: [-SF1]"),),
    ),
    Entry(
        code="guard-not-positive",
        severity=NOTE,
        title="A position switch as a guard, and nothing says that it opens by direct action",
        what="A position switch guards a safety relay without `opens: positively`.",
        why="A contact that only a spring opens stays closed when the spring breaks or the contact welds.",
        remedy="Take a switch with direct opening action, operated by the opening guard, and say `opens: positively`.",
        basis="IEC 60947-5-1, annex K and ISO 14119, clause 5.4: direct opening action, from memory",
        example=_chain(
            _CHAIN + "-BG1: {profile: limit_switch, contacts: [NC, NC], at: +C1, text: Lid closed}\n",
            relay=_RELAY.replace("[-SF1]", "[-SF1, -BG1]"),
        ),
        right=(("contacts: [NC, NC]", "contacts: [NC, NC], opens: positively"),),
    ),
    Entry(
        code="guards-missing",
        severity=WARNING,
        title="A safety relay that watches nothing",
        what="Something hangs on a safety relay, and nothing is named that it watches.",
        why="Its channels stay open, so that it never closes and what hangs on it never runs.",
        remedy="Name what it watches: `guards: [-SF1]`.",
        basis="common practice, no source",
        example=_chain(
            _CHAIN.replace("-SF1: {profile: emergency_stop, at: +C1}\n", ""),
            relay=_RELAY.replace("guards: [-SF1], ", ""),
        ),
        right=(
            ("  -SJ5:", "  -SF1: {profile: emergency_stop, at: +C1}\n  -SJ5:"),
            ("-KF10: {channels: two, ", "-KF10: {guards: [-SF1], channels: two, "),
        ),
    ),
    Entry(
        code="safety-relay-idle",
        severity=WARNING,
        title="A safety relay that takes nothing away",
        what="A safety relay watches an emergency stop, and none of its safe contacts acts on anything.",
        why="Pressing the emergency stop drops the relay, and the machine runs on.",
        remedy="Let it drive the drive's safe torque off, or a contactor in the motor's supply.",
        basis=_STOP_0,
        example=_chain(control=THREE_WIRE + "safe_torque_off: linked\n"),
        right=(("safe_torque_off: linked", "safe_torque_off: {by: -KF10}"),),
    ),
    Entry(
        code="signalling-contact-inverse",
        severity=ERROR,
        title="A contact that is closed only while the safety relay has dropped",
        what=(
            "A run, an enable, a stop or a trip of a drive goes through the signalling contact of a safety relay, "
            "which is open while the relay is closed and all is healthy."
        ),
        why="The drive is held while all is healthy, and let go by pressing the emergency stop.",
        remedy="Take a make contact, or let a card read the signalling contact; the torque goes by safe torque off.",
        basis=_STOP_0,
        example=_chain(control=_OFF + "enable: -KF10.31-32\n"),
        right=(("    enable: -KF10.31-32\n", ""),),
    ),
    Entry(
        code="safety-show-unfit",
        severity=ERROR,
        title="Something that a safety relay cannot show",
        what="`shows:` at a safety relay asks for another thing than `operated`, or for a signal with a span.",
        why=(
            "A safety relay has one contact that tells something: it is closed while the relay has dropped, so it says "
            "that a guard was operated or that there is no voltage."
        ),
        remedy="Say `shows: {operated: {on: ...}}`.",
        basis="common practice, no source",
        example=_chain(
            _CHAIN + "-PF1: {profile: pilot_lamp, at: +C1}\n",
            relay=_RELAY.replace(_RESET, _RESET + ", shows: {ready: -PF1}"),
        ),
        right=(("{ready: -PF1}", "{operated: -PF1}"),),
        along=("device-unused",),
    ),
    Entry(
        code="thermistor-beside-control",
        severity=WARNING,
        title="Motor thermistors in one cable with the control",
        what="The conductors of motor thermistors are fixed in a cable that also carries 24 V conductors.",
        why=(
            "The input measures small voltages on a line that runs along the motor. Its neighbours disturb it, and a "
            "short to one of them puts 24 V on it or hides an overheated winding."
        ),
        remedy="Lay a cable of its own for the thermistors, best a screened pair, apart from the motor cable.",
        basis="IEC 60204-1, clause 13.1.3: circuits in one cable must not impair each other, from memory",
        example=drive(
            START.replace("+C1", "+F1")
            + STOP.replace("+C1", "+F1")
            + "-SJ9: {profile: push_button, contact: NC, at: +C1, text: STOP}\n"
            "-BT1: {profile: thermistor, at: +F1, text: Winding}\n",
            THREE_WIRE + "enable: -SJ9\nsafe_torque_off: linked\nmotor_thermistor: -BT1\n",
            "fixed:\n  -TA1: {T1: {cable: -W7, core: 6}, T2: {cable: -W7, core: 7}}\n"
            "cabling:\n  existing: {-W7: {from: +C1, to: +F1, cores: 7}}\n",
            profile="drive_extended",
        ).replace("places:\n", "places:\n  +F1: {name: Machine, route: 12 m}\n"),
        right=(("fixed:\n  -TA1: {T1: {cable: -W7, core: 6}, T2: {cable: -W7, core: 7}}\n", ""),),
    ),
    Entry(
        code="thermistor-unfit",
        severity=ERROR,
        title="No thermistor at the motor thermistor input",
        what="`motor_thermistor` names a device that is no thermistor.",
        why=(
            "The input measures a resistance of some hundred ohms to some kilohms. A contact there is taken for a "
            "short when it is closed, and the trip level means nothing to it."
        ),
        remedy="Name the thermistors of the winding; a thermostat's contact belongs at `external_trip`.",
        basis="IEC 60947-8: built-in thermal protection, from memory",
        example=drive(
            START + STOP + "-BT1: {profile: contact, contact: NC, at: +C1, operated_when: winding above 140 C}\n",
            THREE_WIRE + "safe_torque_off: linked\nmotor_thermistor: -BT1\n",
            profile="drive_extended",
        ),
        right=(("motor_thermistor: -BT1", "external_trip: -BT1"),),
        along=("device-unused",),
    ),
)
