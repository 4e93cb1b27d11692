"""A tie: two pins that must be joined, before any wire is chosen."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.terms import Pin, Where


@dataclass(frozen=True, slots=True)
class Tie:
    """Two pins to be joined, and why. ``loop`` names what must share one pair of an analog cable."""

    a: Pin
    b: Pin
    function: str = ""
    category: str = "control"
    loop: str = ""
    where: Where = ()
