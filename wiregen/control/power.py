"""The power side as it is declared: protective device, drive and motor. Nothing of it is rated."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Device, PowerSide
from wiregen.control.partners import Report
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Pin, Where


def power_sides(scheme: Scheme, devices: tuple[Device, ...], report: Report) -> Iterator[PowerSide]:
    """One entry a drive that declares `power`; what cannot be wired as declared is reported and left out."""
    by_name = {d.name: d for d in devices}
    taken: dict[str, str] = {}
    for name, control in scheme.model.control.items():
        drive = by_name.get(name)
        if drive is None or control.power is None:
            continue
        where: Where = ("control", name, "power")
        earth = next((t.label for t in drive.profile.power if t.role == "earth"), None)
        if earth is None:
            text = f"{name} ({drive.profile.title}) has no power terminals in its profile"
            report(Notice("power-unfit", where, name, text))
            continue
        supply = _partner(by_name, control.power.supply, "circuit_breaker", drive, (*where, "supply"), taken, report)
        motor = _partner(by_name, control.power.motor, "motor", drive, (*where, "motor"), taken, report)
        yield PowerSide(
            drive=name,
            supply=supply.name if supply else None,
            motor=motor.name if motor else None,
            feeders=_pairs(supply, "feeder", drive, "mains"),
            phases=_pairs(drive, "motor", motor, "motor"),
            earth=Pin(name, earth),
            motor_earth=_earth(motor),
            where=where,
        )


def _partner(
    by_name: dict[str, Device],
    name: str | None,
    kind: str,
    drive: Device,
    where: Where,
    taken: dict[str, str],
    report: Report,
) -> Device | None:
    device = by_name.get(name or "")
    if device is None:
        return None
    here, there = ("mains", "feeder") if kind == "circuit_breaker" else ("motor", "motor")
    wanted = sum(t.role == here for t in drive.profile.power)
    words = {"circuit_breaker": "protective device", "motor": "motor"}
    text = ""
    if device.kind != kind:
        text = f"{device.name} ({device.profile.title}) is no {words[kind]} that {drive.name} could be wired to"
    elif device.name in taken:
        text = f"{device.name} is wired to {taken[device.name]} already, and {drive.name} needs one of its own"
    elif kind == "circuit_breaker" and device.place != drive.place:
        text = f"{device.name} stands in {device.place} and {drive.name} in {drive.place}: they belong in one place"
    elif sum(t.role == there for t in device.profile.terminals) != wanted:
        text = f"{device.name} and {drive.name} have different numbers of phases"
    if text:
        report(Notice("power-unfit", where, device.name, text))
        return None
    taken[device.name] = drive.name
    return device


def _pairs(a: Device | None, role_a: str, b: Device | None, role_b: str) -> tuple[tuple[Pin, Pin], ...]:
    if a is None or b is None:
        return ()
    return tuple(zip(_pins(a, role_a), _pins(b, role_b), strict=True))


def _pins(device: Device, role: str) -> list[Pin]:
    own = device.profile.power if device.kind == "drive" else device.profile.terminals
    return [Pin(device.name, t.label) for t in own if t.role == role]


def _earth(device: Device | None) -> Pin | None:
    terminal = device.profile.first("earth") if device else None
    return Pin(device.name, terminal.label) if device and terminal else None
