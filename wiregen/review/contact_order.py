"""The order of contacts in series: where another order would need fewer cores."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wiregen.control.functions import ContactTree, Function, Leg, Parallel, Series, legs_in
from wiregen.review.context import Context, called
from wiregen.review.trees import tree_of, written
from wiregen.review.words import listed
from wiregen.terms import Notice, Pin
from wiregen.wiring.digital import ends_of
from wiregen.wiring.joins import Joins
from wiregen.wiring.placement import Placement

#: The orders of so many contacts in series are tried, all of them; of more none.
MOST_IN_SERIES = 6
LONGEST = 120  # characters of an order that a message writes out


def costs_cores(context: Context) -> Iterator[Notice]:
    """Contacts in series in several places, wired in the declared order, though another takes fewer cores."""
    cores = _Cores(context)
    for function in context.declared.functions:
        tree = tree_of(function)
        poles = cores.poles(function) if tree is not None else None
        if tree is None or poles is None:
            continue
        declared = cores.count(tree, *poles)
        best = min(_orders(tree), key=lambda order: cores.count(order, *poles), default=tree)
        least = cores.count(best, *poles)
        if least < declared:
            shown = _shown(best)
            how = f"in the order {shown}" if len(shown) <= LONGEST else "with those of one place next to one another"
            text = (
                f"the contacts of {called(function)} take {declared} cores in their declared order; "
                f"{how} they would take {least}"
            )
            yield Notice(
                "contact-order", function.where, called(function), text, value=float(declared), limit=float(least)
            )


def _shown(tree: ContactTree) -> str:
    parts = tree.parts if isinstance(tree, Series) else (tree,)
    return listed([written(part) for part in parts], "and")


def _orders(tree: ContactTree) -> Iterator[ContactTree]:
    """The tree with the members of one series after another in every order, the declared one first."""
    if isinstance(tree, Leg):
        yield tree
        return
    if isinstance(tree, Series) and len(tree.parts) <= MOST_IN_SERIES:
        yield from (Series(order) for order in itertools.permutations(tree.parts))
    for index, part in enumerate(tree.parts):
        for other in _orders(part):
            parts = (*tree.parts[:index], other, *tree.parts[index + 1 :])
            yield Series(parts) if isinstance(tree, Series) else Parallel(parts)


class _Cores:
    """Counts the cores between places that a tree of contacts needs beside those that feed other functions."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._place = {device.name: device.place for device in context.declared.devices}
        self._placement = Placement(context.declared, context.allocation)
        strips = context.wiring.strips
        self._cabinet = strips[0].place if strips else ""

    def poles(self, function: Function) -> tuple[Pin, Pin] | None:
        """What feeds a function and what it drives; None where one of them is not there."""
        if function.supply is None:
            return None
        if function.coil is not None:
            return function.supply.plus, function.coil.a
        feed, pin = self._placement.feed(function.ends[0], function.supply), self._placement.pin(function.ends[0])
        return (feed, pin) if feed and pin else None

    def count(self, tree: ContactTree, feed: Pin, driven: Pin) -> int:
        starts, ends, inner = ends_of(tree)
        nets: Joins[Pin] = Joins()
        for a, b in (*inner, *((feed, pin) for pin in starts), *((driven, pin) for pin in ends)):
            nets.join(a, b)
        own = {pin for leg in legs_in(tree) for pin in (leg.a, leg.b)}
        total = 0
        for pins in nets.sets():
            places = {self._place[pin.device] for pin in pins}
            far = places - {self._cabinet}
            if len(places) > 1:
                total += len(far - self._fed(feed, own) if feed in pins else far)
        return total

    def _fed(self, feed: Pin, own: set[Pin]) -> set[str]:
        """Far places that a core of the feed goes to for other functions."""
        potential = self._context.wiring.potential_of(feed)
        pins = [pin for pin in potential.pins if pin not in own] if potential else []
        return {self._place[pin.device] for pin in pins if pin.device in self._place}
