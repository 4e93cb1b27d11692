"""Things below one another on as many sheets as they need."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TypeVar

T = TypeVar("T")


def filled(
    things: Iterable[T], height: Callable[[T], float], room: float, between: float = 0.0
) -> Iterator[tuple[T, ...]]:
    """What stands on each sheet, in order; a thing higher than ``room`` stands alone. Heights and rooms in mm."""
    stack: list[T] = []
    used = 0.0
    for thing in things:
        tall = height(thing)
        if stack and used + tall > room:
            yield tuple(stack)
            stack, used = [], 0.0
        stack.append(thing)
        used += tall + between
    if stack:
        yield tuple(stack)
