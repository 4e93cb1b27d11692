"""One thing gone wrong, as data: what differs in the wiring, and what no hand can move any more."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Literal

from wiregen.behaviour.standing import Hands
from wiregen.circuit import AS_DRAWN, Change

FaultKind = Literal["open", "short", "earth", "weld", "no-close", "supply", "signal", "swap"]


@dataclass(frozen=True, slots=True)
class Fault:
    """A single fault. ``at`` names conductors by id, or pins; ``devices`` are those that it stands nearest to.

    ``stuck`` contacts (device, contact, closed), outputs ``stuck_on`` and ``off``, a device that stays ``actuated`` or
    ``idle``, a ``signal`` that stays (device, A or V), and supplies ``dead`` are said to hands; ``returns``: the supply
    comes back. ``pair``: the two potentials that touch, where nothing else differs.
    ``assumed`` names what differs from the design beside the fault; ``excluded`` why a standard lets it
    out.
    """

    name: str
    kind: FaultKind
    at: tuple[str, ...]
    devices: tuple[str, ...] = ()
    change: Change = AS_DRAWN
    stuck: tuple[tuple[str, str, bool], ...] = ()
    stuck_on: tuple[str, ...] = ()
    actuated: str = ""
    idle: str = ""
    signal: tuple[str, float] | None = None
    dead: tuple[str, ...] = ()
    returns: bool = False
    pair: frozenset[str] = frozenset()
    assumed: str = ""
    excluded: str = ""

    def on(self, hands: Hands) -> Hands:
        """The same hands at a plant with this fault; a dip that returns is no lasting fault and leaves them."""
        operated = hands.operated | {self.actuated} if self.actuated else hands.operated - {self.idle}
        found = replace(hands, operated=operated) if operated != hands.operated else hands
        if self.stuck:
            found = replace(found, stuck=(*found.stuck, *self.stuck))
        if self.stuck_on:
            found = replace(found, stuck_on=found.stuck_on | set(self.stuck_on))
        if self.signal is not None:
            found = found.give(*self.signal)
        if self.dead and not self.returns:
            found = found.off(self.dead)
        return found


def unlike(faults: Iterable[Fault]) -> tuple[Fault, ...]:
    """The faults without those that do the same as an earlier one."""
    seen: dict[tuple[object, ...], Fault] = {}
    for fault in faults:
        key = (
            frozenset(fault.change.opened),
            frozenset((frozenset((a, b)), ohm) for a, b, ohm in fault.change.joined),
            fault.stuck,
            fault.stuck_on,
            fault.actuated,
            fault.idle,
            fault.signal,
            fault.dead,
            fault.returns,
            fault.assumed,
        )
        seen.setdefault(key, fault)
    return tuple(seen.values())
