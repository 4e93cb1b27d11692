"""Chains of short wires between neighbours in one box, where a clamp takes two conductors."""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterable

from wiregen.terms import Pin

Clamp = Callable[[Pin], int]
Chain = tuple[Pin, ...]


def chains_from_outside(pins: Iterable[Pin], clamp: Clamp) -> list[Chain]:
    """Chains whose first pin also takes a conductor from outside the box, so that it needs two places to go on.

    A pin that takes one conductor only ends a chain.
    """
    going_on, last = _split(pins, clamp)
    if not going_on:
        return [(pin,) for pin in last]
    return [(*going_on, *last[:1]), *((pin,) for pin in last[1:])]


def chain_alone(pins: Iterable[Pin], clamp: Clamp) -> Chain | None:
    """One chain through all pins with nothing from outside.

    None where more than two of them take one conductor only.
    """
    going_on, last = _split(pins, clamp)
    if len(last) > 2:
        return None
    return (*last[:1], *going_on, *last[1:])


def links(chain: Chain) -> list[tuple[Pin, Pin]]:
    """The wires of a chain, from each pin to the next."""
    return list(itertools.pairwise(chain))


def _split(pins: Iterable[Pin], clamp: Clamp) -> tuple[list[Pin], list[Pin]]:
    going_on: list[Pin] = []
    last: list[Pin] = []
    for pin in pins:
        (going_on if clamp(pin) >= 2 else last).append(pin)
    return going_on, last
