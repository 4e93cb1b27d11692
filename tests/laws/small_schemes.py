"""One small scheme for every profile that comes with the program: the least that uses a device of it."""

from __future__ import annotations

from textwrap import indent

_PLANT = """\
scheme: Small
places: {+C1: {name: Cabinet}, +F1: {name: Field, route: 12 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_extended, at: +C1}
"""
_DRIVE = """\
control:
  -TA1:
    inputs: source
    zero_volt: {joined_to: -TB1}
    restart: allowed
"""

#: Profile -> the device under test as declared, and what stands in the control section of the drive (or in its own).
_AT_THE_DRIVE = {
    "push_button": ("contact: NC", "enable: -D1"),
    "contact": ("contact: NC, operated_when: hot", "external_trip: -D1"),
    "limit_switch": ("contact: changeover", "enable: -D1.11-12"),
    "selector": ("positions: [A, B]", "run: {method: two-wire, forward: -D1}"),
    "emergency_stop": ("", "external_trip: -D1.11-12"),
    "proximity_two_wire": ("", "enable: -D1"),
    "proximity_three_wire": ("output: PNP", "enable: -D1"),
    "potentiometer": ("", "speed: {hand: {from: -D1, signal: 0-10 V}}"),
    "transmitter_two_wire": ("", "speed: {auto: {from: -D1, signal: 4-20 mA}}"),
    "transmitter_three_wire": ("", "speed: {auto: {from: -D1, signal: 4-20 mA}}"),
    "transmitter_four_wire": ("isolated: yes", "speed: {auto: {from: -D1, signal: 4-20 mA}}"),
    "pilot_lamp": ("", "relays: {fault: {switches: -D1, contact: NC}}"),
    "horn": ("", "relays: {fault: {switches: -D1, contact: NC}}"),
    "solenoid_valve": ("", "relays: {running: {switches: -D1}}"),
    "interposing_relay": ("poles: 4", "relays: {running: {switches: -D1}}\n    enable: -D1.41-42"),
    "contactor": ("", "relays: {running: {switches: -D1}}\n    enable: -D1.13-14"),
    "panel_meter": ("", "shows: {speed: {on: -D1, signal: 4-20 mA}}"),
    "io_digital_in_16": ("", "relays: {running: {switches: -D1}}"),
    "io_digital_out_16": ("", "run: {method: two-wire, forward: -D1}"),
    "io_relay_out_8": ("", "run: {method: two-wire, forward: -D1}"),
    "io_analog_in_8": ("", "shows: {speed: {on: -D1, signal: 0-10 V}}"),
    "io_analog_out_4": ("", "speed: {auto: {from: -D1, signal: 0-10 V}}"),
    "drive_compact": ("", "shows: {speed: {on: -D1, signal: 4-20 mA}}"),
    "safety_relay": ("", "safe_torque_off: {by: -D1}"),
    "thermistor": ("", "motor_thermistor: -D1"),
    "drive_extended": ("", "speed: {auto: {from: -D1, signal: 0-10 V}}"),
    "fuse": ("", "relays: {fault: {switches: -PF9, supply: -TB1, fuse: -D1}}"),
    "control_transformer": ("voltage: 24 V AC", "relays: {fault: {switches: -PF8, supply: -D1}}"),
    "motor": ("", "power: {motor: -D1}"),
    "motor_circuit_breaker": (
        "",
        "power: {}\n  -TA9: {inputs: source, zero_volt: floating, restart: allowed, power: {supply: -D1}}",
    ),
}
#: Profile -> what else the scheme needs, in the same place.
_BESIDE = {
    "fuse": "-PF9: {profile: pilot_lamp, at: PLACE}\n",
    "control_transformer": "-PF8: {profile: pilot_lamp, at: PLACE, voltage: 24 V AC}\n",
    "motor_circuit_breaker": "-TA9: {profile: drive_compact, at: PLACE}\n",
}
#: Profiles that this version can declare and not yet use in a circuit.
DECLARED_ONLY = ("resistor", "supply_24v")


def small(profile: str, place: str) -> str:
    """A scheme with one device of ``profile``, called -D1. KeyError for a profile that is not known here."""
    said, used = _AT_THE_DRIVE[profile] if profile not in DECLARED_ONLY else ("", "enable: -SJ9")
    more = f", {said}" if said else ""
    devices = f"-D1: {{profile: {profile}, at: {place}{more}}}\n" + _BESIDE.get(profile, "").replace("PLACE", place)
    if profile in DECLARED_ONLY:
        devices += "-SJ9: {profile: push_button, contact: NC, at: +F1}\n"
    return f"{_PLANT}{indent(devices, '  ')}{_DRIVE}    {used}\n"
