"""Allocation as data: what the problem is made of and what the answer says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from wiregen.control.functions import End, Premise
from wiregen.terms import Pin

__all__ = ["Allocation", "Assignment", "Channel", "Conflict", "End", "Level", "Problem", "Unplaced"]


@dataclass(frozen=True, slots=True)
class Channel:
    """The pins that one function may occupy. ``name`` is its first pin, ``position`` its place in physical order."""

    device: str
    name: str
    pins: tuple[str, ...]
    role: str
    group: str
    signals: frozenset[str]
    polarities: frozenset[str]
    abilities: frozenset[str]
    forms: frozenset[str]
    position: int
    scarce: int = 0
    keep_free: str | None = None
    limit_a: float | None = None  # A that an output carries on 24 V DC; None where the profile does not say
    limit_ac_a: float | None = None  # A that it carries on alternating current
    limit_ac_v: float | None = None  # V up to which it does

    def carries_a(self, end: End) -> float | None:
        """A that this output carries at the voltage of the end's load; None where the profile does not say."""
        if end.load_ac_v is None:
            return self.limit_a
        if self.limit_ac_a is None or self.limit_ac_v is None:
            return None
        return self.limit_ac_a if end.load_ac_v <= self.limit_ac_v else 0.0

    @property
    def pin(self) -> Pin:
        return Pin(self.device, self.name)


@dataclass(frozen=True, slots=True)
class Problem:
    """Ends to place, channels to place them on, the polarity that each group is declared to have, sets to keep apart.

    ``polarity`` maps (device, group) to ``source`` or ``sink``; a group that it does not name is the solver's choice.
    ``apart`` holds sets of ids of ends, no two of which may stand on one device.
    The order of ``ends`` is the declared order: equal ends take equal channels in that order. The order of ``channels``
    means nothing. ``grounds`` say where in the scheme stands what the problem rests on; they bear on no answer.
    """

    ends: tuple[End, ...]
    channels: tuple[Channel, ...]
    polarity: tuple[tuple[tuple[str, str], str], ...] = ()
    apart: tuple[tuple[str, ...], ...] = ()
    grounds: tuple[Premise, ...] = ()


@dataclass(frozen=True, slots=True)
class Assignment:
    """One end on its channel. ``pins`` are those that the function uses, of the channel's pins."""

    function: str
    device: str
    channel: str
    pins: tuple[str, ...]
    form: str
    signal: str
    polarity: str
    usual: bool
    moved: bool
    end: str  # the id of the end


@dataclass(frozen=True, slots=True)
class Unplaced:
    end: str
    function: str
    device: str
    why: str


@dataclass(frozen=True, slots=True)
class Level:
    """One level of preference: its value, the proven bound, and whether the value is proven least.

    Every level is least with all earlier ones held. Where ``together`` is not proven, and in banks with many choices,
    later levels hold the groups that each bundle uses, not only their number. The value of ``tie-break`` means nothing.
    """

    name: str
    value: int
    bound: int
    proven: bool


@dataclass(frozen=True, slots=True)
class Conflict:
    """Ends that together ask for more channels than there are. ``members`` are ids of ends: all that compete.

    ``premises`` cannot hold together, and without any one of them the others can; of many equal ends they name only as
    many as are too many.
    """

    members: tuple[str, ...]
    channels: tuple[str, ...]
    says: str
    premises: tuple[Premise, ...] = ()


@dataclass(frozen=True, slots=True)
class Allocation:
    status: Literal["optimal", "feasible", "infeasible"]
    assignments: tuple[Assignment, ...]
    unplaced: tuple[Unplaced, ...] = ()
    levels: tuple[Level, ...] = ()
    conflicts: tuple[Conflict, ...] = ()
    _by_end: Mapping[str, Assignment] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_by_end", {a.end: a for a in reversed(self.assignments)})

    def of_end(self, end: str) -> Assignment | None:
        return self._by_end.get(end)
