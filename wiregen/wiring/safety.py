"""Ties of the safety chain: monitored loops of a safety relay, safe torque off, motor thermistors.

Every channel has conductors of its own, in cables of their own class.
"""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.allocation.model import Assignment
from wiregen.control.functions import Function, Leg, Parallel, Series, Supply, Thermistor
from wiregen.terms import Pin
from wiregen.wiring.digital import ends_of
from wiregen.wiring.placement import Placement
from wiregen.wiring.returns import title_of
from wiregen.wiring.tie import Tie


class SafetyTies:
    """The ties of one function of the safety chain at a time."""

    def __init__(self, placement: Placement) -> None:
        self._placement = placement

    def of_loop(self, function: Function) -> Iterator[Tie]:
        """From the first terminal of a channel through the contacts back to its second."""
        at = self._placement.at(function.ends[0])
        feed, back = (Pin(at.device, at.pins[0]), Pin(at.device, at.pins[-1])) if at else (None, None)
        yield from self._contacts(function, feed, back)

    def of_torque_off(self, function: Function) -> Iterator[Tie]:
        """+24 V, a contact of this channel's own, the input, 0 V of the same supply."""
        at, supply = self._placement.at(function.ends[0]), function.supply
        plus = Pin(at.device, at.pins[0]) if at else None
        if isinstance(function.partner, Leg | Series | Parallel):
            yield from self._contacts(function, supply.plus if supply else None, plus)
        else:
            yield from self._switched(function, supply, plus)
        back = self._back(at)
        if back is not None and supply is not None and back != supply.zero:
            yield _tie(function, back, supply.zero, back=True)

    def of_thermistor(self, function: Function) -> Iterator[Tie]:
        """From the first terminal of the input through the sensors back to its second."""
        at, sensors = self._placement.at(function.ends[0]), function.partner
        if at is not None and isinstance(sensors, Thermistor):
            yield _tie(function, sensors.a, Pin(at.device, at.pins[0]))
            yield _tie(function, sensors.b, Pin(at.device, at.pins[-1]), back=True)

    def _back(self, at: Assignment | None) -> Pin | None:
        """The second pin of a channel of safe torque off; where it has one alone, the common of its device."""
        if at is None or len(at.pins) > 1:
            return Pin(at.device, at.pins[-1]) if at else None
        return self._placement.return_of(at)

    def _switched(self, function: Function, supply: Supply | None, plus: Pin | None) -> Iterator[Tie]:
        """By the contact of a safety relay, or, linked, straight from the supply."""
        far = function.ends[1] if len(function.ends) == 2 else function.follows
        if far is None:
            if plus is not None and supply is not None:
                yield _tie(function, plus, supply.plus)
            return
        contact = self._placement.at(far)
        if contact is None:
            return
        if supply is not None:
            yield _tie(function, Pin(contact.device, contact.pins[0]), supply.plus)
        if plus is not None:
            yield _tie(function, Pin(contact.device, contact.pins[-1]), plus)

    def _contacts(self, function: Function, feed: Pin | None, to: Pin | None) -> Iterator[Tie]:
        """Contacts between two pins. Where one of these is missing, the contacts are joined all the same."""
        assert isinstance(function.partner, Leg | Series | Parallel)
        starts, ends, inner = ends_of(function.partner)
        yield from (_tie(function, start, feed or starts[0]) for start in starts if start != feed)
        yield from (_tie(function, a, b) for a, b in inner)
        yield from (_tie(function, end, to or ends[0], back=True) for end in ends if end != to)


def _tie(function: Function, a: Pin, b: Pin, *, back: bool = False) -> Tie:
    title = f"{title_of(function)}, return" if back else title_of(function)
    return Tie(a, b, title, function.category, where=function.where)
