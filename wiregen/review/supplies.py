"""Supplies in the wired circuit: positives that are joined, and a positive on 0 V."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context, called, partner_pins
from wiregen.review.words import listed
from wiregen.terms import Notice, Pin, Where
from wiregen.wiring.model import Potential


def positives_joined(context: Context) -> Iterator[Notice]:
    """The positive terminals of two supplies on one potential."""
    positives = {supply.plus for supply in context.declared.supplies}
    for potential in context.wiring.potentials:
        found = [pin for pin in potential.pins if pin in positives]
        if len(found) > 1:
            where, through = _culprit(context, potential, found)
            text = f"{listed(found)} are joined{through}: each supply would feed into the other"
            yield Notice("positives-joined", where, listed(found), text)


def short_circuited(context: Context) -> Iterator[Notice]:
    """A positive terminal and a 0 V terminal on one potential."""
    positives = {supply.plus for supply in context.declared.supplies}
    zeros = {supply.zero for supply in context.declared.supplies}
    for potential in context.wiring.potentials:
        plus = [pin for pin in potential.pins if pin in positives]
        zero = [pin for pin in potential.pins if pin in zeros]
        if plus and zero:
            where, through = _culprit(context, potential, [*plus, *zero])
            text = f"{listed(plus)} is joined to {listed(zero)}{through}: the supply is short-circuited"
            yield Notice("supply-short-circuited", where, listed([*plus, *zero]), text)


def _culprit(context: Context, potential: Potential, ends: list[Pin]) -> tuple[Where, str]:
    """The last function with a pin on the potential that an earlier one has too, and a text that names the pin."""
    pins = set(potential.pins)
    first: dict[Pin, str] = {}
    where: Where = context.devices[ends[-1].device].where
    through = ""
    for function in context.declared.functions:
        for pin in (p for p in partner_pins(function) if p in pins):
            if pin in first and first[pin] != called(function):
                where, through = function.where, f" at {pin}, by {first[pin]} and {called(function)}"
            first.setdefault(pin, called(function))
    return where, through
