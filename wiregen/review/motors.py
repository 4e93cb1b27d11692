"""Motors: whether what their plates are declared to say can be true together."""

from __future__ import annotations

import math
from collections.abc import Iterator

from wiregen import quantities
from wiregen.formulas import motors
from wiregen.formulas.motors import Contradiction, Plate
from wiregen.review.context import Context
from wiregen.scheme.model import Motor
from wiregen.terms import Notice, Where


def nameplate(context: Context) -> Iterator[Notice]:
    """A plate whose power does not follow from voltage, current and power factor, or whose speed is no motor's."""
    for controller, control in context.scheme.model.control.items():
        if control.motor is None:
            continue
        where: Where = ("control", controller, "motor")
        subject = f"motor of {controller}"
        plate = _plate(control.motor)
        if plate.frequency_hz == 0:
            yield Notice(
                "nameplate-contradicts",
                (*where, "frequency"),
                subject,
                f"the plate of the {subject} says 0 Hz: no motor turns",
            )
            plate = plate._replace(frequency_hz=None)
        for found in motors.contradictions(plate):
            text = f"the plate of the {subject} contradicts itself: {_says(plate, found)}"
            key = "speed" if "speed" in found.keys else "current"
            value, limit, unit = _shown(found)
            yield Notice("nameplate-contradicts", (*where, key), subject, text, value=value, limit=limit, unit=unit)


def _plate(said: Motor) -> Plate:
    """The figures of a plate in base units. A power in VA is none at the shaft, so nothing follows from it."""
    power, unit = quantities.parse_any(said.power) if said.power else (None, "")
    return Plate(
        power_w=power if unit == "W" else None,
        voltage_v=quantities.parse(said.voltage.strip().rstrip("ACD "), "V") if said.voltage else None,
        current_a=_parsed(said.current, "A"),
        cos_phi=float(said.cos_phi) if said.cos_phi else None,
        frequency_hz=_parsed(said.frequency, "Hz"),
        speed_per_min=_parsed(said.speed, "1/min"),
    )


def _parsed(text: str | None, unit: str) -> float | None:
    return quantities.parse(text, unit) if text else None


def _says(plate: Plate, found: Contradiction) -> str:
    match found.quantity:
        case "speed":
            return (
                f"{found.value:g} 1/min at {plate.frequency_hz:g} Hz is faster than the {found.limit:g} 1/min of two "
                f"poles"
            )
        case "slip":
            assert plate.frequency_hz is not None  # a slip follows from both
            assert plate.speed_per_min is not None
            poles = motors.poles(plate.frequency_hz, plate.speed_per_min) or 2
            field = motors.synchronous_per_min(plate.frequency_hz, poles)
            return (
                f"{plate.speed_per_min:g} 1/min at {plate.frequency_hz:g} Hz is a slip of {100 * found.value:.0f} % "
                f"against the {field:g} 1/min of {poles} poles, and {100 * found.limit:.0f} % is much"
            )
    return _of_power(plate, found)


def _of_power(plate: Plate, found: Contradiction) -> str:
    assert plate.power_w is not None  # an efficiency follows from all three
    assert plate.voltage_v is not None
    assert plate.current_a is not None
    drawn = f"{quantities.say(plate.voltage_v, 'V')} and {quantities.say(plate.current_a, 'A')}"
    if plate.cos_phi is not None:
        drawn += f" at a power factor of {plate.cos_phi:g}"
    # The product with the power factor is what the limits are of where none is given.
    at_limit = plate.current_a * found.value / found.limit
    much = "more than such a motor can give" if found.value >= found.limit else "far less than such a motor gives"
    bound = "more than" if found.value >= found.limit else "less than"
    return (
        f"{quantities.say(plate.power_w, 'W')} from {drawn} is {much} ({found.quantity} {found.value:.2f}); "
        f"at this voltage it takes {bound} {quantities.say(at_limit, 'A')}"
    )


def _shown(found: Contradiction) -> tuple[float | None, float, str]:
    """Value, limit and unit as a reader wants them: shares in percent; no value where it is beyond all numbers."""
    times, unit = (1, found.unit) if found.unit else (100, "%")
    value = times * found.value
    return value if math.isfinite(value) else None, times * found.limit, unit
