"""From answers to the text of a scheme, with comments that say what each part is for."""

from __future__ import annotations

from wiregen import quantities
from wiregen.interview.questions import Answers


def scheme_text(answers: Answers) -> str:
    """A whole scheme file in YAML that passes the tool's own checks."""
    devices = _devices(answers)
    field = any("at: +F1" in line for line in devices)
    return "\n".join([*_head(answers, field), *devices, *_control(answers), *(_cabling() if field else [])]) + "\n"


def _quoted(text: str) -> str:
    return f'"{text}"'


def _head(answers: Answers, field: bool) -> list[str]:
    lines = [
        "# Written by `wiregen begin`. Change what differs; `wiregen check` says what is wrong, with line and column.",
        "# It is for review by a qualified person; local codes and the device maker's instructions come first.",
        f"scheme: {_quoted(answers['title'])}",
    ]
    if answers["drawing"]:
        lines.append(f"drawing: {_quoted(answers['drawing'])}")
    lines += [
        "revision: A",
        f"practice: {answers['practice']}",
        "",
        "places:                # where things stand; a place with a route is reached by cable from the cabinet",
        f"  +C1: {{name: {_quoted(answers['cabinet'])}}}",
    ]
    if field:
        lines.append(f"  +F1: {{name: {_quoted(answers['machine'])}, route: {answers['route']}}}")
    return [*lines, ""]


def _stand(answers: Answers) -> str:
    return "+F1" if answers["field"] == "yes" and answers["stand"] == "machine" else "+C1"


def _field(answers: Answers) -> str:
    return "+F1" if answers["field"] == "yes" else "+C1"


def _devices(answers: Answers) -> list[str]:
    stand, field = _stand(answers), _field(answers)
    lines = [
        "devices:               # every item by its designation (IEC 81346), its profile and its place",
        *(["  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}"] if _needs_supply(answers) else []),
        f"  -TA1: {{profile: drive_{answers['drive']}, at: +C1}}",
    ]
    if answers["start"] == "buttons":
        lines.append(f"  -SJ1: {{profile: push_button, contact: NO, at: {stand}, text: START}}")
        if answers["reverse"] == "yes":
            lines.append(f"  -SJ3: {{profile: push_button, contact: NO, at: {stand}, text: START REVERSE}}")
        lines.append(f"  -SJ2: {{profile: push_button, contact: NC, at: {stand}, text: STOP}}  # opens to stop")
    elif answers["reverse"] == "yes":
        lines.append(f'  -SJ1: {{profile: selector, positions: [FORWARD, "0", REVERSE], at: {stand}}}')
    else:
        lines.append(f'  -SJ1: {{profile: selector, positions: ["0", RUN], at: {stand}}}')
    return [
        *lines,
        *_trip_device(answers, field),
        *_speed_devices(answers, field),
        *_lamps(answers),
        *_safety_devices(answers),
        "",
    ]


def _with_relay(answers: Answers) -> bool:
    return answers["drive"] == "extended" and answers["safety"] == "relay"


def _needs_supply(answers: Answers) -> bool:
    """Lamps and a safety relay must live while the drive is dead."""
    return bool(_lamps(answers)) or _with_relay(answers)


def _safety_devices(answers: Answers) -> list[str]:
    if not _with_relay(answers):
        return []
    return [
        "  -KF10: {profile: safety_relay, at: +C1}",
        "  -SF1: {profile: emergency_stop, at: +C1}    # its two contacts stand in the two channels",
        "  -SJ9: {profile: push_button, contact: NO, at: +C1, text: SAFETY RESET}",
    ]


def _trip_device(answers: Answers, field: str) -> list[str]:
    """The healthy contact is closed, so that a broken wire trips."""
    if answers["trip"] == "none":
        return []
    name, text = {"winding": ("-BT1", "Winding"), "pressure": ("-BP1", "Pressure")}[answers["trip"]]
    operated = _quoted(answers["trip_at"])
    return [f"  {name}: {{profile: contact, contact: NC, at: {field}, text: {text}, operated_when: {operated}}}"]


def _speed_devices(answers: Answers, field: str) -> list[str]:
    lines: list[str] = []
    if answers["speed"] in ("knob", "both"):
        lines.append("  -RA1: {profile: potentiometer, resistance: 4.7 kohm, at: +C1}")
    if answers["speed"] in ("signal", "both"):
        lines.append(
            f"  -BP2: {{profile: transmitter_two_wire, measures: {_quoted(answers['measures'])}, at: {field}}}"
        )
    if answers["speed"] == "both":
        lines.append("  -SJ4: {profile: selector, positions: [HAND, AUTO], at: +C1}")
    if answers["speed"] == "fixed":
        lines += [
            f'  -SJ{5 + i}: {{profile: selector, positions: ["0", "1"], at: +C1, text: SPEED {i + 1}}}'
            for i in range(1 if answers["count"] == "2" else 2)
        ]
    return lines


def _lamps(answers: Answers) -> list[str]:
    lines = []
    if answers["fault"] == "yes":
        lines.append("  -PF1: {profile: pilot_lamp, at: +C1, text: FAULT}")
    if answers["running"] == "yes":
        lines.append("  -PF2: {profile: pilot_lamp, at: +C1, text: RUNNING}")
    return lines


def _control(answers: Answers) -> list[str]:
    plus = answers["wired"] == "plus"
    lines = [
        "control:               # what the drive has to do; which terminal does it is the tool's answer",
        "  -TA1:",
        f"    inputs: {'source' if plus else 'sink'}     # contacts switch {'+24 V' if plus else '0 V'}",
        "    zero_volt: {joined_to: -TB1}" if _needs_supply(answers) else "    zero_volt: floating",
        f"    restart: {'allowed' if answers['restart'] == 'yes' else 'needs_start'}",
        *_run(answers),
    ]
    if answers["trip"] != "none":
        lines.append(f"    external_trip: {'-BT1' if answers['trip'] == 'winding' else '-BP1'}")
    return [*lines, *_speed(answers), *_relays(answers), *_safety(answers), ""]


def _run(answers: Answers) -> list[str]:
    both = answers["reverse"] == "yes"
    if answers["start"] == "buttons":
        reverse = ", start_reverse: -SJ3" if both else ""
        return [f"    run: {{method: three-wire, start: -SJ1{reverse}, stop: -SJ2}}"]
    if both:
        return ["    run: {method: two-wire, forward: -SJ1@FORWARD, reverse: -SJ1@REVERSE}"]
    return ["    run: {method: two-wire, forward: -SJ1}"]


def _speed(answers: Answers) -> list[str]:
    highest = answers["highest"]
    knob = f"{{from: -RA1, signal: 0-10 V, spans: 0 to {highest}}}"
    lost = f"on_low: {answers['lost']}, on_high: {answers['lost']}"
    signal = f"{{from: -BP2, signal: 4-20 mA, spans: 0 to {highest}, {lost}}}"
    if answers["speed"] == "knob":
        return [f"    speed: {{hand: {knob}}}"]
    if answers["speed"] == "signal":
        return [f"    speed: {{auto: {signal}}}"]
    if answers["speed"] == "both":
        return [
            "    speed:",
            f"      hand: {knob}",
            f"      auto: {signal}",
            "    select: {by: [-SJ4], when: {HAND: hand, AUTO: auto}}",
        ]
    return _fixed_speeds(int(answers["count"]), quantities.parse(highest, "Hz"))


def _fixed_speeds(count: int, highest_hz: float) -> list[str]:
    """Evenly spaced up to the highest; code 0 is the slowest, so that a broken selecting wire never speeds up."""
    speeds = [f"      speed_{i + 1}: {{preset: {highest_hz * (i + 1) / count:.4g} Hz}}" for i in range(count)]
    codes = ["0", "1"] if count == 2 else ["00", "10", "01", "11"]
    names = [f"speed_{min(i + 1, count)}" for i in range(len(codes))]
    by = "-SJ5" if count == 2 else "-SJ5, -SJ6"
    when = ", ".join(f'"{code}": {name}' for code, name in zip(codes, names, strict=True))
    return ["    speed:               # fixed in the device", *speeds, f"    select: {{by: [{by}], when: {{{when}}}}}"]


def _relays(answers: Answers) -> list[str]:
    lines = []
    if answers["fault"] == "yes":
        lines.append(
            "      fault: {switches: -PF1, contact: NC}   # energised while healthy: the lamp also tells a dead drive"
        )
    if answers["running"] == "yes":
        lines.append("      running: {switches: -PF2, contact: NO}")
    return ["    relays:", *lines] if lines else []


def _safety(answers: Answers) -> list[str]:
    """The chain is declared, not judged: which category the machine needs, its risk assessment says."""
    if answers["drive"] != "extended":
        return []
    if answers["safety"] == "linked":
        return ["    safe_torque_off: linked   # the function is not used"]
    return [
        "    safe_torque_off: {by: -KF10, channels: two}",
        "  -KF10:               # more emergency stops and guards go into the list; no safety assessment",
        "    guards: [-SF1]",
        "    channels: two",
        "    reset: {by: -SJ9, monitored: yes}",
        "    supply: -TB1",
    ]


def _cabling() -> list[str]:
    return [
        "cabling:",
        "  spare: 20 %          # of the used cores, at least one a cable",
        "  classes: {control: {area: 1.0 mm2}, analog: {area: 0.75 mm2, screen: cabinet end}}",
    ]
