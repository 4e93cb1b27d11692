"""The law of contacts in series and in parallel: current passes in exactly the states in which it is declared to."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator

from wiregen.control.functions import ContactTree, Leg, Series
from wiregen.terms import Pin

#: All states of so many contacts are tried; of more only those in which one contact moves.
MOST_CONTACTS = 8


def conducts_as_declared(tree: ContactTree, passes: Callable[[list[tuple[Pin, Pin]]], bool]) -> Iterator[str]:
    """``passes`` tells whether a current finds back to its supply with these contacts closed, all others open."""
    legs = list(dict.fromkeys(legs_in(tree)))
    every = itertools.product((False, True), repeat=len(legs))
    one = [tuple((i == j) != inverse for i in range(len(legs))) for j in range(len(legs)) for inverse in (False, True)]
    for state in every if len(legs) <= MOST_CONTACTS else one:
        closed = dict(zip(legs, state, strict=True))
        contacts = [(leg.a, leg.b) for leg, is_closed in closed.items() if is_closed]
        if passes(contacts) != _is_closed(tree, closed):
            yield f"with {[str(a) for a, _ in contacts]} closed alone the current does otherwise than declared"


def legs_in(tree: ContactTree) -> Iterator[Leg]:
    if isinstance(tree, Leg):
        yield tree
    else:
        for part in tree.parts:
            yield from legs_in(part)


def _is_closed(tree: ContactTree, closed: dict[Leg, bool]) -> bool:
    if isinstance(tree, Leg):
        return closed[tree]
    parts = [_is_closed(part, closed) for part in tree.parts]
    return all(parts) if isinstance(tree, Series) else any(parts)
