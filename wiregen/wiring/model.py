"""The wired circuit as data: potentials, conductors, cables and strips, one result."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wiregen.terms import Notice, Pin

Side = Literal["inside", "outside"]
ConductorKind = Literal["wire", "core", "bridge", "link", "screen"]
PotentialKind = Literal["plus", "zero", "earth", "reference", "signal", "power"]


@dataclass(frozen=True, slots=True)
class Potential:
    """Pins at one electrical potential. ``name`` is unique and is what tags on sheets carry."""

    name: str
    number: str
    kind: PotentialKind
    supply: str | None
    pins: tuple[Pin, ...]


@dataclass(frozen=True, slots=True)
class Conductor:
    """One physical wire between two pins; a spare core has ``b`` None and ``number`` None.

    ``a_side`` and ``b_side`` say which clamp of a strip terminal it lands on. ``length_m`` is None where no route is
    declared.
    """

    id: str
    number: str | None
    kind: ConductorKind
    a: Pin
    b: Pin | None
    a_side: Side | None
    b_side: Side | None
    cable: str | None
    core: str | None
    area_mm2: float | None
    length_m: float | None
    colour: str
    potential: str | None
    function: str  # what it is for, in words
    gauge: str = ""  # where it is declared so


@dataclass(frozen=True, slots=True)
class Cable:
    """A cable from the place of its strip to a far place. ``marks`` are the marks of all cores, in core order.

    ``area_mm2`` is None where nothing says it: power cables are not sized. ``device`` is the one that has the cable for
    itself, or empty; such a cable may begin and end in one place. ``existing``: it is there already.
    """

    name: str
    a: str
    b: str
    category: str
    cores: int
    pairs: int | None
    used: int
    area_mm2: float | None
    screened: bool
    screen: str  # "none", "cabinet end", "both ends"
    length_m: float | None
    marks: tuple[str, ...]
    device: str = ""
    existing: bool = False
    gauge: str = ""  # its conductors as declared in American wire gauge, such as "14 AWG"

    @property
    def spare(self) -> int:
        return self.cores - self.used


@dataclass(frozen=True, slots=True)
class StripTerminal:
    """One terminal of a strip: ids of the conductors ``inside`` and ``outside``, names of those it is bridged to."""

    strip: str
    name: str
    potential: str | None
    inside: tuple[str, ...]
    outside: tuple[str, ...]
    bridged_to: tuple[str, ...]

    @property
    def pin(self) -> Pin:
        return Pin(self.strip, self.name)


@dataclass(frozen=True, slots=True)
class Strip:
    name: str
    place: str
    terminals: tuple[StripTerminal, ...]


@dataclass(frozen=True, slots=True)
class Wiring:
    potentials: tuple[Potential, ...]
    conductors: tuple[Conductor, ...]
    cables: tuple[Cable, ...]
    strips: tuple[Strip, ...]
    notices: tuple[Notice, ...] = ()
    _by_pin: Mapping[Pin, Potential] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_pin", {pin: p for p in reversed(self.potentials) for pin in p.pins})

    def potential_of(self, pin: Pin) -> Potential | None:
        return self._by_pin.get(pin)
