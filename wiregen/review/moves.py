"""What does not stay where it is wired."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context
from wiregen.terms import Notice, Pin


def moved(context: Context) -> Iterator[Notice]:
    """Functions that `wired` has on one terminal and the allocation on another."""
    for function in context.declared.functions:
        for end in function.ends:
            at = context.allocation.of_end(end.id)
            if end.kept is None or at is None or Pin(at.device, at.channel) == end.kept:
                continue
            text = f"{end.function} is wired on {end.kept} and moves to {Pin(at.device, at.channel)}"
            where = ("wired", end.kept.device, end.kept.name)
            yield Notice("function-moved", where, f"{end.kept} {end.function}", text)
