"""A smallest set of things that cannot hold together, found with few tests."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TypeVar

Thing = TypeVar("Thing")


def minimal(things: Sequence[Thing], fits: Callable[[list[Thing]], bool]) -> list[Thing]:
    """Those of ``things`` that do not fit together, while without any one of them the others do.

    ``fits`` must stay true when things are taken away, and be false for all of them. By QuickXplain (Junker, AAAI 2004,
    from memory): few tests where the set is small; of several such sets one of the earlier things is found. Empty where
    not even nothing fits.
    """

    def narrow(held: list[Thing], added: bool, rest: list[Thing]) -> list[Thing]:
        if added and not fits(held):
            return []
        if len(rest) == 1:
            return rest
        half = len(rest) // 2
        later = narrow(held + rest[:half], True, rest[half:])
        return narrow(held + later, bool(later), rest[:half]) + later

    return narrow([], True, list(things)) if things else []
