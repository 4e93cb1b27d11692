"""Cores that are wanted between two places, and cables with the cores that they carry."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.terms import Pin
from wiregen.wiring.model import Cable
from wiregen.wiring.nets import Net


@dataclass(frozen=True, slots=True)
class CoreNeed:
    """One core wanted between two places: its net and the pin it leads to at the far one.

    ``run`` numbers the run that it is. ``device`` has the cable for itself; ``strip``: it ends on a strip there.
    ``order`` is its place among all cores of a cable, ``rank`` the place of its pin at the far device.
    """

    run: int
    near: str
    far: str
    device: str
    strip: bool
    category: str
    loop: str
    part: str
    net: Net
    pin: Pin
    order: tuple[int, ...]
    rank: tuple[int, int]
    earth: bool

    @property
    def route(self) -> Route:
        return Route(self.near, self.far, self.device, self.part, self.category)


@dataclass(frozen=True, slots=True)
class Route:
    """What the cores of one cable have in common."""

    near: str
    far: str
    device: str
    part: str
    category: str


@dataclass(frozen=True, slots=True)
class Core:
    """One core of a cable; ``need`` is None for a spare one."""

    mark: str
    need: CoreNeed | None


@dataclass(frozen=True, slots=True)
class LaidCable:
    cable: Cable
    cores: tuple[Core, ...]
