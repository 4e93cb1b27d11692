"""What an argument of a formula may be. Each check gives the value back, or raises ValueError that names it."""

from __future__ import annotations

import math


def positive(what: str, value: float) -> float:
    """``value``, if it is more than nothing and not endless."""
    if not 0 < value < math.inf:
        raise ValueError(f"{what} must be more than nothing, not {value:g}")
    return value


def not_negative(what: str, value: float) -> float:
    """``value``, if it is zero or more and not endless."""
    if not 0 <= value < math.inf:
        raise ValueError(f"{what} must be zero or more, not {value:g}")
    return value


def finite(what: str, value: float) -> float:
    """``value``, if it is a number and not endless."""
    if not math.isfinite(value):
        raise ValueError(f"{what} must be a number, not {value:g}")
    return value


def share(what: str, value: float) -> float:
    """``value``, if it lies in 0 to 1."""
    if not 0 <= value <= 1:
        raise ValueError(f"{what} must lie in 0 to 1, not {value:g}")
    return value


def proper_share(what: str, value: float) -> float:
    """``value``, if it lies above 0 and up to 1."""
    if not 0 < value <= 1:
        raise ValueError(f"{what} must lie above 0 and up to 1, not {value:g}")
    return value


def ascending(low: tuple[str, float], high: tuple[str, float]) -> None:
    """Raises ValueError unless the first of two named values is the smaller one."""
    if not low[1] < high[1]:
        raise ValueError(f"{low[0]} must be less than {high[0]}, not {low[1]:g} and {high[1]:g}")


def count(what: str, value: int) -> int:
    """``value``, if it is a whole number from 1."""
    if value != int(value) or value < 1:
        raise ValueError(f"{what} must be a whole number from 1, not {value}")
    return int(value)
