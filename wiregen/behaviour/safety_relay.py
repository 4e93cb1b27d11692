"""The state machine of a safety relay: channels that must both open and both close, and a reset that is watched."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SafetySpec:
    """``channels`` are the names of those in use; ``reset`` whether there is one; ``monitored`` whether it is watched.

    A watched reset acts when its contact is let go (ISO 13849-1, manual reset; from memory), another as it is closed.
    """

    name: str
    channels: tuple[str, ...]
    reset: bool
    monitored: bool


@dataclass(frozen=True, slots=True)
class SafetyMemory:
    """``owed`` are channels that must open before the relay takes a reset: it saw one channel open alone."""

    on: bool = False
    pressed: bool = False
    owed: frozenset[str] = frozenset()


def step(spec: SafetySpec, before: SafetyMemory, fed: bool, closed: frozenset[str]) -> SafetyMemory:
    """The relay one instant later; ``closed`` holds its channels, and `reset`, whose circuits are closed."""
    if not fed:
        return SafetyMemory(pressed="reset" in closed)
    opened = frozenset(spec.channels) - closed
    owed = before.owed - opened
    if before.on and opened:
        owed = frozenset(spec.channels) - opened
    pressed = "reset" in closed
    if not spec.channels:
        return SafetyMemory(on=True, pressed=pressed)
    if opened or owed:
        return SafetyMemory(False, pressed, owed)
    if not spec.reset:
        released = True
    elif spec.monitored:
        released = before.pressed and not pressed
    else:
        released = pressed
    return SafetyMemory(before.on or released, pressed, owed)
