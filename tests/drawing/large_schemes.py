"""Schemes of a size that fills sheets: a card with all of its channels used, forty devices, devices with long texts."""

from __future__ import annotations

LONG = "Emergency lighting of the northern staircase, second landing, beside the fire door to the boiler house"


def sixteen_channels() -> str:
    """One input card whose 16 channels are all used, by contacts and sensors in two places."""
    lines = ["scheme: Sixteen channels", "places:", "  +C1: {name: Cabinet}", "  +F1: {name: Mill, route: 40 m}"]
    lines += ["  +F2: {name: Silo, route: 25 m}", "devices:", "  -TB1: {profile: supply_24v, at: +C1}"]
    lines += ["  -KE1: {profile: io_digital_in_16, at: +C1}"]
    reads = []
    for n in range(1, 17):
        place = ("+F1", "+F2", "+C1")[n % 3]
        kind = ("contact, contact: NC", "proximity_three_wire, output: PNP", "limit_switch, contact: NO")[n % 3]
        lines.append(f"  -BG{n}: {{profile: {kind}, at: {place}, text: Gate {n} closed}}")
        reads.append(f"gate {n}: -BG{n}")
    lines += ["control:", "  -KE1:", "    inputs: source", f"    reads: {{{', '.join(reads)}}}"]
    return "\n".join(lines) + "\n"


def forty_devices() -> str:
    """Four drives with nine devices each, four in the field and five in the cabinet, and what feeds them."""
    lines = ["scheme: Forty devices", "places:", "  +C1: {name: Cabinet}"]
    lines += [f"  +F{n}: {{name: Line {n}, route: {20 + n} m}}" for n in range(1, 5)]
    lines += ["devices:", "  -TB1: {profile: supply_24v, at: +C1}"]
    control = ["control:"]
    for n in range(1, 5):
        lines += [
            f"  -TA{n}: {{profile: drive_extended, at: +C1}}",
            f"  -SJ{n}1: {{profile: push_button, contact: NO, at: +F{n}, text: START}}",
            f"  -SJ{n}2: {{profile: push_button, contact: NC, at: +F{n}, text: STOP}}",
            f"  -BT{n}: {{profile: contact, contact: NC, at: +F{n}, operated_when: winding above 140 C}}",
            f"  -BL{n}: {{profile: transmitter_two_wire, measures: 0 to 3 m, at: +F{n}}}",
            f"  -SJ{n}3: {{profile: selector, positions: [HAND, AUTO], at: +C1}}",
            f"  -RA{n}: {{profile: potentiometer, at: +C1}}",
            f"  -PF{n}1: {{profile: pilot_lamp, at: +C1, text: RUNS}}",
            f"  -PF{n}2: {{profile: pilot_lamp, at: +C1, text: FAULT}}",
            f"  -PG{n}: {{profile: panel_meter, at: +C1}}",
        ]
        control += [
            f"  -TA{n}:",
            "    inputs: source",
            "    zero_volt: {joined_to: -TB1}",
            "    restart: needs_start",
            f"    run: {{method: three-wire, start: -SJ{n}1, stop: -SJ{n}2}}",
            f"    external_trip: -BT{n}",
            f"    speed: {{hand: {{from: -RA{n}, signal: 0-10 V}}, auto: {{from: -BL{n}, signal: 4-20 mA}}}}",
            f"    select: {{by: [-SJ{n}3], when: {{HAND: hand, AUTO: auto}}}}",
            f"    relays: {{running: {{switches: -PF{n}1}}, fault: {{switches: -PF{n}2, contact: NC}}}}",
            f"    shows: {{speed: {{on: -PG{n}, signal: 4-20 mA, spans: 0 to 50 Hz}}}}",
        ]
    return "\n".join([*lines, *control]) + "\n"


def long_texts() -> str:
    """Devices, places and conditions whose texts are as long as anyone would write them."""
    return f"""\
scheme: "{LONG}"
places:
  +C1: {{name: "{LONG}"}}
  +F1: {{name: "{LONG}", route: 40 m}}
devices:
  -TB1: {{profile: supply_24v, at: +C1, text: "{LONG}"}}
  -TA1: {{profile: drive_compact, at: +C1, text: "{LONG}"}}
  -SJ1: {{profile: push_button, contact: NO, at: +F1, text: "{LONG}"}}
  -SJ2: {{profile: push_button, contact: NC, at: +C1, text: "{LONG}"}}
  -BT1: {{profile: contact, contact: NC, at: +F1, text: "{LONG}", operated_when: "{LONG}"}}
  -RA1: {{profile: potentiometer, at: +F1, text: "{LONG}"}}
  -PF1: {{profile: pilot_lamp, at: +F1, text: "{LONG}"}}
control:
  -TA1:
    inputs: source
    zero_volt: {{joined_to: -TB1}}
    restart: needs_start
    run: {{method: three-wire, start: -SJ1, stop: -SJ2}}
    external_trip: -BT1
    speed: {{hand: {{from: -RA1, signal: 0-10 V}}}}
    relays: {{fault: {{switches: -PF1, contact: NC}}}}
"""


SCHEMES = {"16 channels": sixteen_channels(), "40 devices": forty_devices(), "long texts": long_texts()}
