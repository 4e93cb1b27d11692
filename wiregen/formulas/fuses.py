"""Fuses: the current at which one must blow."""

from __future__ import annotations

#: Up to this rated current [A] it takes so many times the rated one to blow a fuse. IEC 60269-2, from memory.
_FACTORS = ((4.0, 2.1), (13.0, 1.9), (400.0, 1.6))


def fusing_current_a(rated_a: float) -> float:
    """The conventional fusing current [A] of a general-purpose fuse: it blows within an hour (up to 63 A).

    ``rated_a`` [A] is its rated current. Raises ValueError outside the table. Source: IEC 60269-2 (gG), from memory.

    >>> fusing_current_a(2), fusing_current_a(10), fusing_current_a(20)
    (4.2, 19.0, 32.0)
    """
    if rated_a > 0:
        for most, factor in _FACTORS:
            if rated_a <= most:
                return factor * rated_a
    raise ValueError(f"no fuse of {rated_a:g} A is in the table")
