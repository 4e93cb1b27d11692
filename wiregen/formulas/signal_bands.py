"""The bands of a 4-20 mA signal, and what the signals span."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wiregen.formulas import tables


class Band(NamedTuple):
    """One band [mA]; None is an open end, ``low_in`` and ``high_in`` say whether the end belongs to it."""

    name: str
    low_ma: float | None
    low_in: bool
    high_ma: float | None
    high_in: bool

    def holds(self, current_ma: float) -> bool:
        above = self.low_ma is None or current_ma > self.low_ma or (self.low_in and current_ma == self.low_ma)
        below = self.high_ma is None or current_ma < self.high_ma or (self.high_in and current_ma == self.high_ma)
        return above and below


class Span(NamedTuple):
    """What a signal spans, in V or mA. One with a live zero tells a broken wire from the low end."""

    low: float
    high: float
    unit: str
    live_zero: bool


_SPANS = {
    "0-10 V": Span(0.0, 10.0, "V", False),
    "-10-10 V": Span(-10.0, 10.0, "V", False),
    "0-20 mA": Span(0.0, 20.0, "mA", False),
    "4-20 mA": Span(4.0, 20.0, "mA", True),
}


@cache
def bands() -> tuple[Band, ...]:
    """All bands in ascending order [mA]. Source: NAMUR NE 43.

    >>> [b.name for b in bands()][:3]
    ['failure low', 'undefined low', 'under range']
    """
    return tuple(
        Band(
            r["band"],
            float(r["low"]) if r["low"] else None,
            r["low_in"] == "yes",
            float(r["high"]) if r["high"] else None,
            r["high_in"] == "yes",
        )
        for r in tables.rows("signal_bands")
    )


def band(current_ma: float) -> str:
    """The band in which ``current_ma`` [mA] lies. Raises ValueError for what is no number. Source: NAMUR NE 43.

    >>> band(3.6), band(12), band(20.2), band(21)
    ('failure low', 'measuring', 'over range', 'failure high')
    """
    for one in bands():
        if one.holds(current_ma):
            return one.name
    raise ValueError(f"{current_ma!r} mA lies in no band")


def span(signal: str) -> Span:
    """What ``signal`` spans. Raises ValueError for an unknown signal. Source: IEC 60381-1, IEC 60381-2.

    >>> span("4-20 mA").live_zero, span("0-10 V").high
    (True, 10.0)
    """
    if signal not in _SPANS:
        raise ValueError(f"{signal!r} is no signal; use {', '.join(_SPANS)}")
    return _SPANS[signal]
