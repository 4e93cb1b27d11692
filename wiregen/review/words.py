"""Plain words that several rules use in their messages."""

from __future__ import annotations

from collections.abc import Iterable

_SWITCHED = {"source": "contacts switch +24 V", "sink": "contacts switch 0 V"}
_LISTED = 6


def wired(polarity: str) -> str:
    """``source (contacts switch +24 V)``: the words never stand alone, since standards use them the other way."""
    return f"{polarity} ({_SWITCHED[polarity]})"


def listed(names: Iterable[object], last: str = "and") -> str:
    """``a, b and c``; of many the first few, and how many more."""
    shown = [str(name) for name in names]
    if len(shown) > _LISTED:
        shown = [*shown[: _LISTED - 1], f"{len(shown) - _LISTED + 1} more"]
    return f" {last} ".join([", ".join(shown[:-1]), shown[-1]]) if len(shown) > 1 else "".join(shown)
