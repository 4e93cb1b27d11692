"""Poles of supplies: positive terminals of two supplies are never joined, nor a positive terminal with 0 V."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Declared, Device
from wiregen.terms import Notice, Pin
from wiregen.wiring.joins import Joins
from wiregen.wiring.tie import Tie

_POSITIVE = ("supply_out", "reference_out")
_ZERO = ("zero", "analog_zero")


class Poles:
    """The positive and the 0 V terminals that are in each potential so far."""

    def __init__(self, declared: Declared) -> None:
        self._joins: Joins[Pin] = Joins()
        self._plus: dict[Pin, tuple[Pin, ...]] = {}
        self._zero: dict[Pin, tuple[Pin, ...]] = {}
        self._commons = frozenset(pin for device in declared.devices for pin in _commons(device))
        for device in declared.devices:
            for terminal in device.profile.terminals:
                pin = Pin(device.name, terminal.label)
                if terminal.role in _POSITIVE:
                    self._plus[pin] = (pin,)
                elif terminal.role in _ZERO:
                    self._zero[pin] = (pin,)
        # What lies behind a fuse is positive too: joined to what lies before it, the fuse would protect nothing.
        self._plus.update({pin: (pin,) for pin in declared.hot})
        self._zero.update({pin: (pin,) for pin in declared.cold})

    def join(self, a: Pin, b: Pin) -> None:
        """Take note that two pins are joined."""
        if self._joins.joined(a, b):
            return
        plus, zero = self._of(self._plus, a, b), self._of(self._zero, a, b)
        self._joins.join(a, b)
        self._plus[self._joins.root(a)], self._zero[self._joins.root(a)] = plus, zero

    def objection(self, tie: Tie) -> Notice | None:
        """What would be wrong if the tie were made; None where nothing would."""
        if self._joins.joined(tie.a, tie.b):
            return None
        plus, zero = self._of(self._plus, tie.a, tie.b), self._of(self._zero, tie.a, tie.b)
        through = f"at {tie.a}, by {tie.function}" if tie.function else f"at {tie.a}"
        if len(plus) > 1:
            text = f"{plus[0]} and {plus[1]} would be joined {through}; they are kept apart, so it is not wired there"
            subject = f"{plus[0]} and {plus[1]}"
            if {tie.a, tie.b} & self._commons:
                return Notice("changeover-between-supplies", tie.where, subject, text)
            return Notice("positives-joined", tie.where, subject, text)
        if plus and zero:
            text = f"{plus[0]} would be joined to {zero[0]} {through}, which is a short circuit; it is not wired there"
            return Notice("supply-short-circuited", tie.where, f"{plus[0]} and {zero[0]}", text)
        return None

    def _of(self, members: dict[Pin, tuple[Pin, ...]], a: Pin, b: Pin) -> tuple[Pin, ...]:
        first, second = self._joins.root(a), self._joins.root(b)
        return members.get(first, ()) + (members.get(second, ()) if second != first else ())


def _commons(device: Device) -> Iterator[Pin]:
    """The common pins of a device's changeover contacts, whose two halves share them."""
    for first, second in zip(device.contacts, device.contacts[1:], strict=False):
        if first.element == second.element and first.a == second.a:
            yield Pin(device.name, first.a)
