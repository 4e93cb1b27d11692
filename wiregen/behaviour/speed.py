"""Which frequency a drive runs at, from its references and the signals that it sees."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from wiregen import quantities
from wiregen.allocation.answer import SIGNALS
from wiregen.behaviour.drive_spec import DriveSpec, Loop, ReferenceSpec
from wiregen.formulas import signal_bands

#: A loop whose feedback comes as near as this to its setpoint regulates; else it runs to an end: typical, invented.
_NEAR = 0.03

Values = tuple[tuple[str, float], ...]  # (function, V or A)


@dataclass(frozen=True, slots=True)
class Speed:
    """What a reference gives: ``hz`` [Hz], and ``answer``: `trip` or `stop` where its signal is lost, with why."""

    hz: float
    answer: str = ""
    why: str = ""


def part_of(signal: str, value: float) -> float:
    """A value [V or A] as a part of its signal's range, 0.0 to 1.0; beyond the range it stays at the end."""
    low, high = _range(signal)
    return min(1.0, max(0.0, (value - low) / (high - low)))


def value_of(signal: str, part: float) -> float:
    """The value [V or A] of a signal at a part of its range."""
    low, high = _range(signal)
    return low + part * (high - low)


@cache
def _range(signal: str) -> tuple[float, float]:
    """Both ends of a signal [V or A]; of what is no analog signal, such as that of motor thermistors, 0 and 10 V."""
    if signal not in SIGNALS:
        return 0.0, 10.0
    span = signal_bands.span(signal)
    scale = 1000.0 if span.unit == "mA" else 1.0
    return span.low / scale, span.high / scale


@cache
def _failure_ma() -> tuple[float, float]:
    """A live signal at or below the first is lost, at or above the second too high [mA]. Source: NAMUR NE 43."""
    found = {band.name: band for band in signal_bands.bands()}
    low, high = found["failure low"].high_ma, found["failure high"].low_ma
    assert low is not None
    assert high is not None
    return low, high


def is_current(signal: str) -> bool:
    """Whether a signal is a current, not a voltage."""
    return signal.endswith("mA")


def lost(signal: str, value: float) -> str:
    """`low` where a signal tells that it is lost, `high` where it is too high to be true, else empty."""
    if not is_current(signal):
        return ""
    low_ma, high_ma = _failure_ma()
    if signal == "4-20 mA" and value <= low_ma / 1000:
        return "low"
    return "high" if value >= high_ma / 1000 else ""


def speed(spec: DriveSpec, name: str, values: Values, before_hz: float, tried: tuple[str, ...] = ()) -> Speed:
    """The speed by a reference; ``before_hz`` is what `hold` holds. Without any reference, the drive's greatest."""
    reference = spec.reference(name)
    if reference is None:
        return Speed(spec.limited(spec.top_hz))
    if reference.kind == "preset":
        return Speed(spec.limited(reference.preset_hz))
    if reference.kind == "network":
        return Speed(spec.limited((reference.low_hz + reference.high_hz) / 2))
    seen = dict(values)
    functions = [reference.function]
    if reference.loop is not None:
        functions = [reference.loop.feedback_from, reference.loop.setpoint_from]
    for function in functions:
        said = next(((s, low, high) for f, s, low, high in spec.answers if f == function), None)
        if said is None:
            continue
        state = lost(said[0], seen.get(function, 0.0))
        answer = {"low": said[1], "high": said[2]}.get(state, "")
        if answer:
            return _answered(spec, answer, f"{function} {state}", values, before_hz, (*tried, name))
    if reference.loop is not None:
        return Speed(spec.limited(_closed(spec, reference, reference.loop, seen)))
    part = part_of(reference.signal, seen.get(reference.function, 0.0))
    return Speed(spec.limited(reference.low_hz + part * (reference.high_hz - reference.low_hz)))


def _answered(
    spec: DriveSpec, answer: str, why: str, values: Values, before_hz: float, tried: tuple[str, ...]
) -> Speed:
    if answer in ("trip", "stop"):
        return Speed(0.0, answer, why)
    if answer == "hold":
        return Speed(before_hz, "", why)
    word, _, rest = answer.partition(" ")
    if word == "run":
        return Speed(spec.limited(quantities.parse(rest.removeprefix("at "), "Hz")), "", why)
    if rest in tried:
        return Speed(0.0, "stop", why)
    other = speed(spec, rest, values, before_hz, tried)
    return Speed(other.hz, other.answer, why)


def _closed(spec: DriveSpec, reference: ReferenceSpec, loop: Loop, seen: dict[str, float]) -> float:
    """A loop in the end: half way while its feedback is where it should be, else at the end that it runs to."""

    def part(function: str) -> float:
        signal = next((s for f, s, _, _ in spec.answers if f == function), "")
        return part_of(signal, seen.get(function, 0.0))

    setpoint = part(loop.setpoint_from) if loop.setpoint is None else loop.setpoint
    error = setpoint - part(loop.feedback_from)
    if abs(error) <= _NEAR:
        return (reference.low_hz + reference.high_hz) / 2
    up = (error > 0.0) != loop.rises
    return reference.high_hz if up else reference.low_hz
