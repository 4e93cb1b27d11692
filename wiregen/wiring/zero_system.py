"""The 0 V system: which 0 V terminals may be joined because a current must find its way back.

A scheme says how each 0 V is tied. Two that are declared apart are not joined behind its back: one that is floating is
not earthed through another, and one that is earthed inside its device gets no second earth.
"""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.control.functions import Declared
from wiregen.terms import Pin
from wiregen.wiring.joins import Joins


@dataclass(frozen=True, slots=True)
class _Anchor:
    device: str
    mode: str


class ZeroSystem:
    """0 V pins that are joined so far, each set with what is declared of it."""

    def __init__(self, declared: Declared) -> None:
        self._joins: Joins[Pin] = Joins()
        self._anchors: dict[Pin, frozenset[_Anchor]] = {}
        for device in declared.devices:
            for inside in device.profile.joined_inside:
                for name in inside[1:]:
                    self._joins.join(Pin(device.name, inside[0]), Pin(device.name, name))
        for zero in declared.zero_volts:
            supply_unit = any(s.device == zero.device and not s.own for s in declared.supplies)
            if zero.mode != "joined" and (zero.declared or supply_unit):
                root = self._joins.root(zero.zero)
                self._anchors[root] = self._at(root) | {_Anchor(zero.device, zero.mode)}

    def _at(self, pin: Pin) -> frozenset[_Anchor]:
        return self._anchors.get(self._joins.root(pin), frozenset())

    def joined(self, a: Pin, b: Pin) -> bool:
        return self._joins.joined(a, b)

    def join(self, a: Pin, b: Pin) -> None:
        """Take note that two pins are joined."""
        anchors = self._at(a) | self._at(b)
        self._joins.join(a, b)
        self._anchors[self._joins.root(a)] = anchors

    def objection(self, a: Pin, b: Pin) -> str:
        """Why ``a`` and ``b`` may not be joined, as ``-TA1 is declared floating``; empty where they may."""
        if self.joined(a, b):
            return ""
        first, second = self._at(a), self._at(b)
        for one, other in ((first, second), (second, first)):
            for anchor in sorted(one, key=lambda n: n.device):
                others = {n.mode for n in other}
                if (anchor.mode == "inside" and others) or (anchor.mode == "floating" and others - {"floating"}):
                    said = "earthed inside" if anchor.mode == "inside" else "floating"
                    return f"the 0 V of {anchor.device} is declared {said}"
        return ""
