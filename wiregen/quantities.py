"""Quantities as a person writes them, to SI floats and back. Only the edge of the program uses text with units.

``parse("4.7 kohm", "ohm")`` gives ``4700.0``. Lengths are in m, areas in mm2, times in s, temperatures in degC.
"""

from __future__ import annotations

import math
import re

#: Unit -> (base unit, factor). Spelling is case-sensitive where the trade's is (mA is not MA), forgiving in ohm, mm2.
UNITS: dict[str, tuple[str, float]] = {
    "V": ("V", 1.0),
    "mV": ("V", 1e-3),
    "kV": ("V", 1e3),
    "A": ("A", 1.0),
    "mA": ("A", 1e-3),
    "ohm": ("ohm", 1.0),
    "kohm": ("ohm", 1e3),
    "Mohm": ("ohm", 1e6),
    "W": ("W", 1.0),
    "kW": ("W", 1e3),
    "VA": ("VA", 1.0),
    "kVA": ("VA", 1e3),
    "m": ("m", 1.0),
    "mm": ("m", 1e-3),
    "km": ("m", 1e3),
    "mm2": ("mm2", 1.0),
    "Hz": ("Hz", 1.0),
    "kHz": ("Hz", 1e3),
    "s": ("s", 1.0),
    "ms": ("s", 1e-3),
    "min": ("s", 60.0),
    "%": ("%", 1.0),
    "degC": ("degC", 1.0),
    "C": ("degC", 1.0),
    "1/min": ("1/min", 1.0),
    "rpm": ("1/min", 1.0),
}

_SPELLINGS = {
    "Ω": "ohm",
    "\u2126": "ohm",  # the ohm sign, which looks like the letter
    "kΩ": "kohm",
    "k\u2126": "kohm",
    "mm²": "mm2",
    "°C": "degC",
    "Ohm": "ohm",
    "kOhm": "kohm",
}
_NUMBER = r"[-+]?(?:\d+(?:\.\d+)?|\.\d+)"
_QUANTITY = re.compile(rf"({_NUMBER})\s*(\S*)")
_ANY_RANGE = re.compile(rf"({_NUMBER})\s*(?:to|-|\.\.\.?)\s*({_NUMBER})\s*(\S.*)")
_RANGE = re.compile(rf"({_NUMBER})\s*(?:to|-|\.\.\.?)\s*({_NUMBER})\s*(\S*)")


def parse(text: str, unit: str) -> float:
    """The value of ``text`` in the base unit ``unit``.

    Raises ValueError with a sentence that says what would be right.

    >>> parse("4.7 kohm", "ohm")
    4700.0
    >>> parse("150 mA", "A")
    0.15
    """
    match = _QUANTITY.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not a quantity; write a number and its unit, as in {_example(unit)!r}")
    number, suffix = match.groups()
    return _scaled(number, suffix, unit, text)


def parse_range(text: str, unit: str) -> tuple[float, float]:
    """Both ends of ``"15 to 50 Hz"`` or ``"4-20 mA"`` in the base unit.

    >>> parse_range("15 to 50 Hz", "Hz")
    (15.0, 50.0)
    """
    match = _RANGE.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not a range; write it as in {'0 to 50 ' + unit!r}")
    low, high, suffix = match.groups()
    return _scaled(low, suffix, unit, text), _scaled(high, suffix, unit, text)


def parse_span(text: str) -> tuple[float, float, str]:
    """Both ends of a range in any unit, and the unit as written: that of a process need not be known here.

    >>> parse_span("0 to 10 bar")
    (0.0, 10.0, 'bar')
    """
    match = _ANY_RANGE.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not a range; write it as in '0 to 10 bar'")
    return _finite(match.group(1), 1.0, text), _finite(match.group(2), 1.0, text), match.group(3)


def parse_any(text: str) -> tuple[float, str]:
    """The value and the base unit of any quantity known here; ``"24 V"`` gives ``(24.0, "V")``."""
    match = _QUANTITY.fullmatch(text.strip())
    if match:
        suffix = _SPELLINGS.get(match.group(2), match.group(2))
        if suffix in UNITS:
            base, factor = UNITS[suffix]
            return _finite(match.group(1), factor, text), base
    raise ValueError(f"{text!r} is not a quantity with a known unit ({', '.join(UNITS)})")


def say(value: float, unit: str) -> str:
    """``value`` in base ``unit`` as short text with a prefix that reads well.

    >>> say(4700.0, "ohm")
    '4.7 kohm'
    >>> say(0.15, "A")
    '150 mA'
    """
    for name in _PREFERRED.get(unit, ()):
        factor = UNITS[name][1]
        if abs(value) >= factor:
            return f"{_short(value / factor)} {name}"
    smallest = _PREFERRED.get(unit, (unit,))[-1]
    return f"{_short(value / UNITS[smallest][1])} {smallest}"


_PREFERRED = {
    "A": ("A", "mA"),
    "V": ("V", "mV"),
    "ohm": ("Mohm", "kohm", "ohm"),
    "W": ("kW", "W"),
    "VA": ("kVA", "VA"),
    "s": ("s", "ms"),
    "Hz": ("Hz",),
    "m": ("m",),
    "mm2": ("mm2",),
}


def _short(value: float) -> str:
    return f"{value:.4g}"


def _example(unit: str) -> str:
    return {"m": "35 m", "mm2": "1.0 mm2", "ohm": "4.7 kohm", "%": "20 %", "A": "150 mA"}.get(unit, f"10 {unit}")


def _finite(number: str, factor: float, text: str) -> float:
    value = float(number) * factor
    if not math.isfinite(value):
        raise ValueError(f"{text!r} is too large")
    return round(value, 12)


def _scaled(number: str, suffix: str, unit: str, text: str) -> float:
    suffix = _SPELLINGS.get(suffix, suffix)
    if not suffix:
        raise ValueError(f"{text!r} has no unit; write it as in {_example(unit)!r}")
    base, factor = UNITS.get(suffix, ("", 0.0))
    if base != unit:
        raise ValueError(f"{text!r} is not in {unit}; write it as in {_example(unit)!r}")
    return _finite(number, factor, text)
