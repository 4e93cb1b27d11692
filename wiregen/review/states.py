"""States: every combination in which the devices around some contacts can stand, fewest operated first."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator, Mapping

from wiregen.control.functions import Contact, ContactTree, Device, legs_in
from wiregen.review.context import Context
from wiregen.review.trees import coil_circuits, passes

#: Device -> its position, by number: 0 is at rest, or a selector's first position.
State = Mapping[str, int]
RELAYS = ("relay", "contactor")


def positions_of(device: Device) -> tuple[str, ...]:
    """The positions of a selector, 0 and 1 where it names none; of any other device at rest and operated."""
    if device.kind == "selector":
        return device.positions
    return ("at rest", "energised" if device.kind in RELAYS else "operated")


class Switches:
    """The devices whose contacts are given, and the relays and contacts that decide over the relays among them."""

    def __init__(self, context: Context, contacts: Iterable[Contact]) -> None:
        self._devices = context.devices
        trees = list(coil_circuits(context))
        names = dict.fromkeys(contact.device for contact in contacts)
        for name in (queue := list(names)):
            for relay, tree in trees:
                if relay == name:
                    new = [leg.contact.device for leg in legs_in(tree) if leg.contact.device not in names]
                    names.update(dict.fromkeys(new))
                    queue += dict.fromkeys(new)
        self._trees = [(relay, tree) for relay, tree in trees if relay in names]
        self._sizes = {name: len(positions_of(self._devices[name])) for name in names}

    @property
    def count(self) -> int:
        """How many states there are, those in which a relay stands against its coil included."""
        return math.prod(self._sizes.values())

    def closed(self, contact: Contact, state: State) -> bool:
        at = state[contact.device]
        if contact.position is not None:
            return positions_of(self._devices[contact.device])[at] == contact.position
        return (contact.form == "NO") == (at > 0)

    def passes(self, tree: ContactTree, state: State) -> bool:
        """Whether a tree lets current pass in a state."""
        return passes(tree, lambda contact: self.closed(contact, state))

    def states(self, most: int) -> Iterator[State]:
        """At most ``most`` states, those with the fewest devices out of their rest first."""
        return itertools.islice(self._all(), most)

    def steady(self, state: State) -> bool:
        """Whether every relay stands as the contacts of its coil have it."""
        should: dict[str, bool] = {}
        for relay, tree in self._trees:
            should[relay] = should.get(relay, False) or self.passes(tree, state)
        return all((state[relay] > 0) == on for relay, on in should.items())

    def _all(self) -> Iterator[State]:
        names = list(self._sizes)
        rest = dict.fromkeys(names, 0)
        for moved in range(len(names) + 1):
            for those in itertools.combinations(names, moved):
                for at in itertools.product(*(range(1, self._sizes[name]) for name in those)):
                    yield {**rest, **dict(zip(those, at, strict=True))}


def shown(context: Context, state: State) -> str:
    """A state in words: what does not stand at rest, or in a selector's first position."""
    parts = []
    for name, at in state.items():
        device = context.devices[name]
        if device.kind == "selector":
            parts.append(f"{name} in {positions_of(device)[at]}")
        elif at:
            parts.append(f"{name} {positions_of(device)[at]}")
    return f"with {', '.join(parts)}" if parts else "with everything at rest"
