"""States and changes: how the devices of a circuit stand, and what is not as it was drawn."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.terms import Pin


@dataclass(frozen=True, slots=True)
class State:
    """How everything stands. What is not named is at rest, healthy and fed.

    ``operated`` holds devices whose contacts or sensors are actuated: a button pressed, a process contact or a guard
    operated, a string of thermistors hot. ``positions`` puts selectors elsewhere than into their first position.
    ``energised`` holds outputs that a controller has switched on, as the first pin of the channel (``-TA1:21``), and
    safety relays that have picked up, as a device (``-KF10``). ``picked`` holds relays and contactors that were picked
    up before; the circuit decides which of them hold.
    ``settings``: a potentiometer's wiper from 0.0 at its low end to 1.0; ``signals``: what a transmitter or an analog
    output gives, in A or V. ``dead`` holds supplies and controllers that are without their feed.
    ``stuck`` holds contacts that do not move: (device, contact, whether it is closed).
    """

    name: str = "at rest"
    operated: frozenset[str] = frozenset()
    positions: tuple[tuple[str, str], ...] = ()
    energised: frozenset[str] = frozenset()
    picked: frozenset[str] = frozenset()
    settings: tuple[tuple[str, float], ...] = ()
    signals: tuple[tuple[str, float], ...] = ()
    dead: frozenset[str] = frozenset()
    stuck: tuple[tuple[str, str, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class Change:
    """What differs from the circuit as drawn: conductors that are open, pins that touch.

    ``opened`` holds ids of conductors; ``joined`` pairs of pins and the resistance [ohm] between them. The pin
    `EARTH` stands for earth.
    """

    name: str = ""
    opened: tuple[str, ...] = ()
    joined: tuple[tuple[Pin, Pin, float], ...] = ()


#: Earth as a pin: what an earth fault joins a conductor to.
EARTH = Pin("", "earth")
AS_DRAWN = Change()
