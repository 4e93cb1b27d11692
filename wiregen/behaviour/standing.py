"""How a plant stands: what hands and process do, what its controllers remember, and what can be seen."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import TypeVar

from wiregen.behaviour.drive import DriveMemory
from wiregen.behaviour.safety_relay import SafetyMemory

Memory = DriveMemory | SafetyMemory
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class Hands:
    """What people, process and mains do to a plant. What is not named is at rest, half way, healthy and fed.

    ``operated``, ``positions``, ``settings``, ``signals``, ``dead`` and ``stuck`` are those of `circuit.State`.
    ``commanded`` holds outputs of cards that their controller switches on, as the first pin of the channel
    (``-KE2:DO1``), and drives that the network tells to run (``-TA1``). ``stuck_on`` holds outputs of any controller
    that stay on. ``keys`` holds drives at whose own key somebody resets a trip.
    """

    operated: frozenset[str] = frozenset()
    positions: tuple[tuple[str, str], ...] = ()
    settings: tuple[tuple[str, float], ...] = ()
    signals: tuple[tuple[str, float], ...] = ()
    dead: frozenset[str] = frozenset()
    stuck: tuple[tuple[str, str, bool], ...] = ()
    commanded: frozenset[str] = frozenset()
    stuck_on: frozenset[str] = frozenset()
    keys: frozenset[str] = frozenset()

    def operate(self, *devices: str) -> Hands:
        return replace(self, operated=self.operated | set(devices))

    def release(self, *devices: str) -> Hands:
        return replace(self, operated=self.operated - set(devices))

    def turn(self, device: str, position: str) -> Hands:
        return replace(self, positions=_with(self.positions, device, position))

    def set(self, device: str, part: float) -> Hands:
        """A potentiometer's wiper, from 0.0 to 1.0."""
        return replace(self, settings=_with(self.settings, device, part))

    def give(self, device: str, value: float) -> Hands:
        """What a transmitter, or a card's analog output by its pin, gives [A or V]."""
        return replace(self, signals=_with(self.signals, device, value))

    def command(self, *outputs: str) -> Hands:
        return replace(self, commanded=self.commanded | set(outputs))

    def withdraw(self, *outputs: str) -> Hands:
        return replace(self, commanded=self.commanded - set(outputs))

    def off(self, devices: Iterable[str]) -> Hands:
        """Takes the supply of supplies and drives away."""
        return replace(self, dead=self.dead | set(devices))

    def on(self, devices: Iterable[str]) -> Hands:
        return replace(self, dead=self.dead - set(devices))

    def reset_at(self, drive: str, *, pressed: bool = True) -> Hands:
        """Somebody presses, or lets go, the reset key of a drive."""
        return replace(self, keys=self.keys | {drive} if pressed else self.keys - {drive})


def _with(pairs: tuple[tuple[str, _T], ...], key: str, value: _T) -> tuple[tuple[str, _T], ...]:
    return tuple(sorted({**dict(pairs), key: value}.items()))


@dataclass(frozen=True, slots=True)
class Reading:
    """What one operating point gives, as far as controllers and people see it.

    ``levels`` [1 on, 0 off, -1 neither] and ``values`` [V or A] stand in the order of the plant's inputs and signals.
    ``lit`` holds loads that do their work; ``shown`` what meters show [V or A]; ``strained`` what takes harm.
    """

    levels: tuple[int, ...]
    values: tuple[float, ...]
    lit: frozenset[str]
    picked: frozenset[str]
    unfed: frozenset[str]
    shown: tuple[tuple[str, float], ...] = ()
    strained: frozenset[str] = frozenset()
    restless: bool = False


@dataclass(frozen=True, slots=True)
class Standing:
    """A plant that has come to rest under its hands. ``memories`` are those of its controllers, by name.

    ``restless``: coils, contacts and controllers chase each other without end, so nothing here is to be relied upon.
    ``doubtful``: an input stood, now or on the way, at a voltage that promises neither on nor off.
    """

    hands: Hands = field(default_factory=Hands)
    memories: tuple[tuple[str, Memory], ...] = ()
    reading: Reading | None = None
    restless: bool = False
    doubtful: bool = False

    def drive(self, name: str) -> DriveMemory:
        """What a drive remembers. Raises KeyError for a name that is no drive."""
        found = dict(self.memories)[name]
        if not isinstance(found, DriveMemory):
            raise KeyError(name)
        return found

    def is_on(self, name: str) -> bool:
        """Whether a safety relay is on; no other device is."""
        memory = dict(self.memories).get(name)
        return isinstance(memory, SafetyMemory) and memory.on

    @property
    def lit(self) -> frozenset[str]:
        """The lamps, horns and valves that do their work."""
        return self.reading.lit if self.reading else frozenset()

    @property
    def picked(self) -> frozenset[str]:
        """The relays and contactors that are picked up."""
        return self.reading.picked if self.reading else frozenset()
