"""Three-phase motors: what follows from a nameplate, and where one contradicts itself."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple

from wiregen.formulas.arguments import positive, proper_share

#: What no motor of the trade has: an efficiency below, or a slip above; from this power [W] on, and below it.
#: common practice, no source.
_SMALL_W = 750.0
_LEAST_EFFICIENCY, _LEAST_EFFICIENCY_SMALL = 0.55, 0.30
_MOST_SLIP, _MOST_SLIP_SMALL = 0.13, 0.25
#: Efficiency times power factor, where no power factor is given.
_MOST_PRODUCT = 0.97
#: A speed may lie so far above the synchronous one by rounding.
_ROUNDING = 1.0005


class Plate(NamedTuple):
    """What a nameplate says, at its rated point; None where it says nothing. Voltage between phases."""

    power_w: float | None = None
    voltage_v: float | None = None
    current_a: float | None = None
    cos_phi: float | None = None
    frequency_hz: float | None = None
    speed_per_min: float | None = None


class Contradiction(NamedTuple):
    """One quantity of a plate that cannot be: its name and unit, its value, the limit it breaks, and what it follows
    from."""

    quantity: str
    value: float
    limit: float
    unit: str
    keys: tuple[str, ...]


def apparent_va(voltage_v: float, current_a: float) -> float:
    """The apparent power [VA] of a three-phase motor.

    ``voltage_v`` [V] between phases, ``current_a`` [A]. Raises ValueError unless both are more than nothing.
    Source: IEC 60034-1.

    >>> round(apparent_va(400, 3.4))
    2356
    """
    return math.sqrt(3) * positive("a voltage", voltage_v) * positive("a current", current_a)


def efficiency(power_w: float, voltage_v: float, current_a: float, cos_phi: float) -> float:
    """The efficiency that a nameplate amounts to; above 1 where it contradicts itself.

    ``power_w`` [W] at the shaft, ``voltage_v`` [V], ``current_a`` [A], ``cos_phi`` [1]. Raises ValueError unless all
    are more than nothing, and for a power factor above 1. Source: IEC 60034-1.

    >>> round(efficiency(1500, 400, 3.4, 0.8), 3)
    0.796
    """
    drawn = apparent_va(voltage_v, current_a) * proper_share("a power factor", cos_phi)
    return positive("a power", power_w) / drawn


def rated_current_a(power_w: float, voltage_v: float, cos_phi: float, efficiency: float) -> float:
    """The current [A] of a motor.

    ``power_w`` [W] at the shaft, ``voltage_v`` [V], ``cos_phi`` [1], ``efficiency`` [1]. Raises ValueError unless all
    are more than nothing, and for a factor above 1. Source: IEC 60034-1.

    >>> round(rated_current_a(1500, 400, 0.8, 0.796), 2)
    3.4
    """
    per_ampere = apparent_va(voltage_v, 1.0) * proper_share("a power factor", cos_phi)
    return positive("a power", power_w) / (per_ampere * proper_share("an efficiency", efficiency))


def synchronous_per_min(frequency_hz: float, poles: int) -> float:
    """The speed [1/min] of the field.

    ``frequency_hz`` [Hz], ``poles`` an even number. Raises ValueError for no frequency and other poles.
    Source: IEC 60034-1.

    >>> synchronous_per_min(50, 4)
    1500.0
    """
    if poles < 2 or poles % 2:
        raise ValueError(f"poles are an even number from 2, not {poles}")
    return 120 * positive("a frequency", frequency_hz) / poles


def poles(frequency_hz: float, speed_per_min: float) -> int | None:
    """The number of poles at which a motor of ``speed_per_min`` [1/min] has the least slip; None above two poles'
    speed.

    ``frequency_hz`` [Hz]. Raises ValueError unless both are more than nothing. Source: IEC 60034-1.

    >>> poles(50, 1430), poles(60, 1740), poles(50, 3100)
    (4, 4, None)
    """
    pairs = math.floor(60 * positive("a frequency", frequency_hz) / positive("a speed", speed_per_min) * _ROUNDING)
    return 2 * pairs if pairs else None


def slip_share(frequency_hz: float, speed_per_min: float, poles: int) -> float:
    """The slip of a motor: how much slower than its field it turns.

    ``frequency_hz`` [Hz], ``speed_per_min`` [1/min], ``poles`` an even number. Negative where it turns faster. Raises
    ValueError as `synchronous_per_min` does, and for no speed. Source: IEC 60034-1.

    >>> round(slip_share(50, 1430, 4), 4)
    0.0467
    """
    return 1 - positive("a speed", speed_per_min) / synchronous_per_min(frequency_hz, poles)


def rated_torque_nm(power_w: float, speed_per_min: float) -> float:
    """The rated torque [Nm] of a motor.

    ``power_w`` [W] at the shaft, ``speed_per_min`` [1/min]. Raises ValueError unless both are more than nothing.
    Source: IEC 60034-1.

    >>> round(rated_torque_nm(1500, 1430), 2)
    10.02
    """
    return positive("a power", power_w) / (2 * math.pi / 60 * positive("a speed", speed_per_min))


def contradictions(plate: Plate) -> tuple[Contradiction, ...]:
    """What on a nameplate cannot be true together; nothing is said of what is not given.

    A motor cannot give more than it draws, wastes only so much, and turns a little slower than its field (as fast, if
    it is synchronous). Raises ValueError for a value that is not more than nothing, and a power factor above 1.
    Source: IEC 60034-1 for the laws; the limits are common practice, no source.

    >>> contradictions(Plate(1500, 400, 3.4, 0.8, 50, 1430))
    ()
    >>> [c.quantity for c in contradictions(Plate(4000, 400, 3.4, 0.8, 60, 1430))]
    ['efficiency', 'slip']
    """
    for name, value in plate._asdict().items():
        if value is not None and name != "cos_phi":
            positive(f"the {name.split('_')[0]} on a nameplate", value)
    if plate.cos_phi is not None:
        proper_share("a power factor", plate.cos_phi)
    return (*_of_power(plate), *_of_speed(plate))


def _of_power(plate: Plate) -> Iterator[Contradiction]:
    if plate.power_w is None or plate.voltage_v is None or plate.current_a is None:
        return
    product = plate.power_w / apparent_va(plate.voltage_v, plate.current_a)
    least = _LEAST_EFFICIENCY if plate.power_w >= _SMALL_W else _LEAST_EFFICIENCY_SMALL
    keys: tuple[str, ...] = ("power", "voltage", "current")
    if plate.cos_phi is None:
        if product > _MOST_PRODUCT:
            yield Contradiction("efficiency times power factor", product, _MOST_PRODUCT, "", keys)
        # A power factor of 0.4 is that of a slow or small motor.
        elif product < 0.4 * least:
            yield Contradiction("efficiency times power factor", product, 0.4 * least, "", keys)
        return
    found = product / plate.cos_phi
    keys = (*keys, "cos_phi")
    if found >= 1:
        yield Contradiction("efficiency", found, 1.0, "", keys)
    elif found < least:
        yield Contradiction("efficiency", found, least, "", keys)


def _of_speed(plate: Plate) -> Iterator[Contradiction]:
    if plate.frequency_hz is None or plate.speed_per_min is None:
        return
    keys = ("frequency", "speed")
    number = poles(plate.frequency_hz, plate.speed_per_min)
    if number is None:
        fastest = synchronous_per_min(plate.frequency_hz, 2)
        yield Contradiction("speed", plate.speed_per_min, fastest, "1/min", keys)
        return
    small = plate.power_w is None or plate.power_w < _SMALL_W
    slip, most = slip_share(plate.frequency_hz, plate.speed_per_min, number), _MOST_SLIP_SMALL if small else _MOST_SLIP
    if slip > most:
        yield Contradiction("slip", slip, most, "", keys)
