"""What is built as an earlier pack has it, from its design.json: terminals, numbers, cables, where conductors land."""

from __future__ import annotations

import json
import os
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from wiregen.terms import Complaint, Pin, Spot, UnusableInput

FILE = "design.json"
MAX_BYTES = 200_000_000

Side = Literal["inside", "outside"]


@dataclass(frozen=True, slots=True)
class BuiltPotential:
    name: str
    number: str
    pins: tuple[Pin, ...]


@dataclass(frozen=True, slots=True)
class BuiltConductor:
    """As the wiring has it: of a core ``a`` is the near end; a spare core has no ``b``."""

    id: str
    number: str | None
    kind: str
    a: Pin
    b: Pin | None
    a_side: Side | None
    b_side: Side | None
    cable: str | None
    core: str | None
    potential: str | None


@dataclass(frozen=True, slots=True)
class BuiltCable:
    name: str
    a: str
    b: str
    category: str
    pairs: int | None
    used: int


@dataclass(frozen=True, slots=True)
class AsBuilt:
    """One earlier design. ``assignments`` holds (first pin of the channel, function)."""

    name: str
    assignments: tuple[tuple[Pin, str], ...]
    potentials: tuple[BuiltPotential, ...]
    conductors: tuple[BuiltConductor, ...]
    cables: tuple[BuiltCable, ...]
    strips: frozenset[str]

    def terminal_of(self, device: str, function: str) -> Pin | None:
        """Where a function of a device stands."""
        return next((pin for pin, name in self.assignments if pin.device == device and name == function), None)

    def place_of(self, devices: tuple[str, ...], names: tuple[str, ...]) -> Pin | None:
        """Where a function stands that goes by any of ``names``, at the first of ``devices`` that has it."""
        found = (self.terminal_of(device, name) for device in devices for name in names if name)
        return next((pin for pin in found if pin is not None), None)


def read_as_built(path: str | os.PathLike[str]) -> AsBuilt:
    """The design in a pack: ``path`` is its folder or its design.json.

    Raises UnusableInput where there is no such pack, or where it does not hold what a pack of this version holds.
    """
    folder = Path(path)
    file = folder / FILE if folder.is_dir() else folder
    try:
        if file.stat().st_size > MAX_BYTES:
            raise _unusable(file, f"is larger than {MAX_BYTES // 1_000_000} MB: that is no design of wiregen's")
        data = json.loads(file.read_bytes())
    except FileNotFoundError:
        missing = "there is no design.json in it" if folder.is_dir() else "there is no such pack"
        raise _unusable(folder, f"{missing}; --keep takes the folder that `wiregen pack` wrote") from None
    except OSError as error:
        raise _unusable(file, f"cannot be read: {error.strerror or error}") from None
    except (ValueError, RecursionError):
        raise _unusable(file, "is damaged: it is no JSON; pack the earlier scheme again") from None
    try:
        return _Design.model_validate(data).as_built(os.fspath(path))
    except ValidationError as error:
        raise UnusableInput(tuple(_complaint(file, e["loc"], e["msg"]) for e in error.errors()[:5])) from None


def _unusable(file: Path, says: str) -> UnusableInput:
    return UnusableInput((Complaint(Spot(str(file), 1, 1), says),))


def _complaint(file: Path, place: tuple[int | str, ...], says: str) -> Complaint:
    at = ".".join(map(str, place)) or "the whole"
    text = f"{at}: {says[:1].lower()}{says[1:]}; this is not what a pack of this version of wiregen holds"
    return Complaint(Spot(str(file), 1, 1), text)


class _Part(BaseModel):
    model_config = ConfigDict(extra="ignore", frozen=True, strict=True, populate_by_name=True, defer_build=True)


class _Assignment(_Part):
    device: str
    function: str
    terminal: str


class _Allocation(_Part):
    assignments: list[_Assignment]


class _Potential(_Part):
    name: str
    number: str
    pins: list[str]


class _Conductor(_Part):
    id: str
    number: str | None
    kind: str
    from_: str = Field(alias="from")
    to: str | None
    from_side: Side | None
    to_side: Side | None
    cable: str | None
    core: str | None
    potential: str | None

    def built(self) -> BuiltConductor:
        ends = _pin(self.from_), _pin(self.to) if self.to else None
        sides = self.from_side, self.to_side
        return BuiltConductor(self.id, self.number, self.kind, *ends, *sides, self.cable, self.core, self.potential)


class _Cable(_Part):
    name: str
    from_: str = Field(alias="from")
    to: str
    class_: str = Field(alias="class")
    pairs: int | None
    used: int


class _Strip(_Part):
    name: str


class _Design(_Part):
    allocation: _Allocation
    potentials: list[_Potential]
    conductors: list[_Conductor]
    cables: list[_Cable]
    strips: list[_Strip]

    def as_built(self, name: str) -> AsBuilt:
        return AsBuilt(
            name=name,
            assignments=tuple((Pin(a.device, a.terminal), a.function) for a in self.allocation.assignments),
            potentials=tuple(BuiltPotential(p.name, p.number, tuple(map(_pin, p.pins))) for p in self.potentials),
            conductors=tuple(c.built() for c in self.conductors),
            cables=tuple(BuiltCable(c.name, c.from_, c.to, c.class_, c.pairs, c.used) for c in self.cables),
            strips=frozenset(s.name for s in self.strips),
        )


def _pin(text: str) -> Pin:
    device, _, name = text.partition(":")
    return Pin(device, name)
