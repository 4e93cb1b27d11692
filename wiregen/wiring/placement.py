"""Where the ends of functions stand: their pins, what feeds them and where their current returns to."""

from __future__ import annotations

from wiregen.allocation.model import Allocation, Assignment
from wiregen.control.functions import Declared, Device, End, Supply
from wiregen.terms import Pin


class Placement:
    """Answers questions about the terminals that allocation chose. An end without a terminal has no pin."""

    def __init__(self, declared: Declared, allocation: Allocation) -> None:
        self._declared = declared
        self._by_end = {a.end: a for a in allocation.assignments}
        self._devices = {d.name: d for d in declared.devices}

    def at(self, end: End) -> Assignment | None:
        return self._by_end.get(end.id)

    def device(self, name: str) -> Device:
        return self._devices[name]

    def pin(self, end: End) -> Pin | None:
        """The first pin of the end's channel."""
        at = self.at(end)
        return Pin(at.device, at.pins[0]) if at else None

    def used_channels(self, device: str) -> frozenset[str]:
        return frozenset(a.channel for a in self._by_end.values() if a.device == device)

    def group(self, at: Assignment) -> str:
        """The group of inputs in which a channel stands."""
        terminal = self._devices[at.device].profile.terminal_of(at.channel)
        return terminal.group if terminal else ""

    def polarity(self, end: End) -> str:
        """The polarity of the group that an input stands in; of its device's first group while it is not placed."""
        at = self.at(end)
        if at and at.polarity:
            return at.polarity
        return next((g.polarity for g in self._declared.groups if g.device in end.devices), "source")

    def feed(self, end: End, supply: Supply | None) -> Pin | None:
        """What a contact at this input switches: +24 V for source, 0 V for sink."""
        if supply is None:
            return None
        return supply.plus if self.polarity(end) == "source" else supply.zero

    def return_of(self, at: Assignment) -> Pin | None:
        """Where the current of a digital channel returns to: the common that it names, else its device's 0 V."""
        profile = self._devices[at.device].profile
        terminal = profile.terminal_of(at.channel)
        if terminal and terminal.common:
            return Pin(at.device, terminal.common)
        zero = profile.first("zero")
        return Pin(at.device, zero.label) if zero else None

    def analog_return(self, at: Assignment) -> Pin | None:
        """The second pin of an isolated pair; else the 0 V that the terminal names, else its device's."""
        if len(at.pins) == 2:
            return Pin(at.device, at.pins[1])
        terminal = self._devices[at.device].profile.terminal_of(at.channel)
        return Pin(at.device, terminal.common) if terminal and terminal.common else self.analog_zero(at.device)

    def analog_zero(self, device: str) -> Pin | None:
        """The 0 V of a device's analog side."""
        profile = self._devices[device].profile
        terminal = profile.first("analog_zero") or profile.first("zero")
        return Pin(device, terminal.label) if terminal else None
