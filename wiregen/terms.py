"""The words that every room uses: a place in the scheme, a pin, a finding and its severity."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

#: A path in the merged scheme, such as ``("control", "-TA1", "run", "stop")``. A list index stands as its decimal text.
Where = tuple[str, ...]


class Severity(StrEnum):
    """How bad a finding is. Only ``ERROR`` changes the exit status."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"


@dataclass(frozen=True, slots=True, order=True)
class Pin:
    """One connection point of one device, written ``-TA1:DI1``."""

    device: str
    name: str

    def __str__(self) -> str:
        return f"{self.device}:{self.name}"


@dataclass(frozen=True, slots=True)
class Finding:
    """Something wrong or worth knowing.

    ``value`` and ``limit`` are in ``unit``. ``accepted`` holds the user's reason when the scheme accepts the finding.
    """

    code: str
    severity: Severity
    where: Where
    subject: str
    message: str
    why: str
    remedy: str
    basis: str
    value: float | None = None
    limit: float | None = None
    unit: str = ""
    accepted: str | None = None


@dataclass(frozen=True, slots=True)
class Notice:
    """What a room noticed, by its code; review adds severity, reason and basis from the catalogue.

    ``remedy`` replaces the catalogue's general remedy where the room knows a better one.
    """

    code: str
    where: Where
    subject: str
    message: str
    remedy: str = ""
    value: float | None = None
    limit: float | None = None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Spot:
    """A place in a file. Lines and columns count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Complaint:
    """One reason why an input cannot be used, and where it stands."""

    spot: Spot
    message: str
    code: str = ""  # in words, where the catalogue explains it

    def __str__(self) -> str:
        return f"{self.spot}: {self.message}"


class WiregenError(Exception):
    """The root of every error that this project raises on purpose."""


@dataclass
class UnusableInput(WiregenError):
    """The scheme, a profile or an argument cannot be used. Carries every complaint, in file order."""

    complaints: tuple[Complaint, ...] = field(default_factory=tuple)

    def __str__(self) -> str:
        return "\n".join(str(c) for c in self.complaints)


class InternalFault(WiregenError):
    """A check of the tool on itself failed: a bug, never the user's doing."""
