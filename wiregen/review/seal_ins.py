"""Seal-ins: relays that hold themselves in, and let go when the supply fails or the drive trips."""

from __future__ import annotations

from wiregen.control.functions import Contact, ContactTree, Function, Load
from wiregen.review.context import Context, legs_of
from wiregen.review.trees import coil_circuits, passes, tree_of

_BUTTONS = ("push", "mushroom")


class SealIns:
    """Which relays come back by themselves, and which stay in through a trip, with every button left alone."""

    def __init__(self, context: Context) -> None:
        self._context = context
        self._trees: dict[str, list[ContactTree]] = {}
        for relay, tree in coil_circuits(context):
            self._trees.setdefault(relay, []).append(tree)
        self._returning = self._grown(frozenset())

    def relays_at(self, function: Function) -> tuple[str, ...]:
        """The relays in the circuit of a function that contacts energise."""
        return tuple(
            dict.fromkeys(leg.contact.device for leg in legs_of(function) if leg.contact.device in self._trees)
        )

    def needs_start(self, function: Function) -> bool:
        """Whether the circuit of a function stays open when the supply returns, until somebody acts on a button."""
        tree = tree_of(function)
        return tree is not None and bool(self.relays_at(function)) and not self._passes(tree, self._returning)

    def holds_through_trip(self, function: Function, drive: str) -> bool:
        """Whether a function stays on while its drive trips: no relay that the drive drives lets the seal go."""
        tree = tree_of(function)
        return tree is not None and self._passes(tree, self._held(drive), self._driven_by(drive))

    def _grown(self, inside: frozenset[str]) -> frozenset[str]:
        """The relays that pull in by themselves: the least set, so that none is there only because it holds itself."""
        more = frozenset(r for r, trees in self._trees.items() if any(self._passes(tree, inside) for tree in trees))
        return inside if more <= inside else self._grown(inside | more)

    def _held(self, drive: str) -> frozenset[str]:
        """The relays that may stay in through a trip: the greatest set, so that a relay may hold itself."""
        inside, gone = frozenset(self._trees), self._driven_by(drive)
        while True:
            less = frozenset(r for r in inside if any(self._passes(t, inside, gone) for t in self._trees[r]))
            if less == inside:
                return inside
            inside = less

    def _driven_by(self, drive: str) -> frozenset[str]:
        """Relays that an output of the drive energises; its duties are off while it is tripped."""
        return frozenset(
            f.partner.device
            for f in self._context.declared.functions
            if f.purpose == "output" and f.controller == drive and isinstance(f.partner, Load)
        )

    def _passes(self, tree: ContactTree, inside: frozenset[str], gone: frozenset[str] = frozenset()) -> bool:
        """Whether current may pass with the relays ``inside`` in and those ``gone`` out; of the rest the worst."""

        def closed(contact: Contact) -> bool:
            if contact.device in self._trees:
                return contact.form == "NC" or contact.device in inside
            if contact.device in gone:
                return contact.form == "NC"
            if self._context.devices[contact.device].profile.actuator in _BUTTONS:
                return contact.form == "NC"
            return True

        return passes(tree, closed)
