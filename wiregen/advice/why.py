"""Why a function got its terminal: the same problem solved again with the function forced onto each other terminal."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from wiregen.allocation import NODE_LIMIT, allocate
from wiregen.allocation import words as spoken
from wiregen.allocation.levels import FIRST, LAST
from wiregen.allocation.model import Allocation, Channel, End, Problem
from wiregen.allocation.parts import split
from wiregen.allocation.problem import obstacles
from wiregen.terms import Pin

TIE_BREAK = "tie-break"
#: Every level, in the order in which they are solved.
_LEVELS = ("unplaced", *FIRST, "together", *LAST)
#: Terminals up to which each is tried by itself.
SINGLE = 24


@dataclass(frozen=True, slots=True)
class Move:
    """Another function that stands elsewhere; None where it has no terminal."""

    function: str
    device: str
    was: Pin | None
    now: Pin | None


@dataclass(frozen=True, slots=True)
class Alternative:
    """One other terminal. ``costs`` holds (level, how much more) where it differs; ``because`` says why it cannot be.

    ``decided_by`` is the first level in which it costs more, or ``tie-break`` where it is as good in every one. Those
    in ``like`` differ from it by nothing but their place: they cost the same in every level but ``from the top``.
    """

    terminal: Pin
    because: str = ""
    decided_by: str = ""
    costs: tuple[tuple[str, int], ...] = ()
    moves: tuple[Move, ...] = ()
    like: tuple[Pin, ...] = ()

    @property
    def possible(self) -> bool:
        return not self.because


@dataclass(frozen=True, slots=True)
class Reason:
    """Why one end of a function stands on ``terminal``, or nowhere. Alternatives stand in physical order.

    ``decided_by`` is the level at which the last of them fell out: ``fixed`` where the scheme decides, ``only choice``
    where no other is possible, ``conflict`` where the function has no terminal.
    """

    end: End
    terminal: Pin | None
    decided_by: str
    says: str
    alternatives: tuple[Alternative, ...]


def why(problem: Problem, end: End, allocation: Allocation, tell: Callable[[str], None] = lambda _: None) -> Reason:
    """Why ``allocation``, the answer to ``problem``, has ``end`` where it is.

    Every alternative is the best placing of all ends with this one fixed there, so a cost is what the whole scheme
    would pay. A terminal that is fixed is weighed as if it were not; where not all ends can be placed, another may
    stand back. ``tell`` hears which terminal is tried now.
    """
    part = next(p for p in split(problem) if end in p.ends)
    base = allocate(part, node_limit=NODE_LIMIT)
    at = allocation.of_end(end.id)
    terminal = Pin(at.device, at.channel) if at else None
    tried = []
    for channel, *like in _grouped(part, [c for c in _candidates(part, end) if c.pin != terminal]):
        tell(str(channel.pin))
        tried.append(replace(_tried(part, end, channel, base), like=tuple(c.pin for c in like)))
    decided = _decided(end, terminal, tried)
    return Reason(end, terminal, decided, _says(end, terminal, decided, tried, allocation), tuple(tried))


def _candidates(part: Problem, end: End) -> list[Channel]:
    """Every terminal of the kind that the end needs, at the devices where it may stand."""
    return [c for c in part.channels if c.device in end.devices and c.role == end.role]


def _grouped(part: Problem, channels: list[Channel]) -> list[list[Channel]]:
    """Each terminal alone; beyond `SINGLE` those together that no end tells apart, the topmost first."""
    if len(channels) <= SINGLE:
        return [[channel] for channel in channels]
    told_apart = {pin for end in part.ends for pin in (*end.usual, end.fixed, end.kept) if pin is not None}
    groups: dict[object, list[Channel]] = {}
    for channel in sorted(channels, key=lambda c: c.position):
        own = channel.pin if channel.pin in told_apart else None
        groups.setdefault((replace(channel, name="", pins=(), position=0), own), []).append(channel)
    return sorted(groups.values(), key=lambda group: channels.index(group[0]))


def _tried(part: Problem, end: End, channel: Channel, base: Allocation) -> Alternative:
    hindered = [o for o in obstacles(end, channel, dict(part.polarity)) if o.kind != "device"]
    if hindered:
        says = spoken.listed(spoken.obstacle(o, end, channel) for o in hindered)
        return Alternative(channel.pin, because=f"it {says}")
    ends = tuple(replace(e, fixed=channel.pin) if e.id == end.id else e for e in part.ends)
    found = allocate(replace(part, ends=ends), node_limit=NODE_LIMIT)
    if found.of_end(end.id) is None or len(found.unplaced) > len(base.unplaced):
        return Alternative(channel.pin, because=_conflict(end, found, base))
    return Alternative(channel.pin, "", *_compared(base, found), _moves(part, end, base, found))


def _conflict(end: End, found: Allocation, base: Allocation) -> str:
    """The conflict that holding the end here brings about: its own, else one that was not there before."""
    known = {c.says for c in base.conflicts}
    own = [c for c in found.conflicts if end.id in c.members] or [c for c in found.conflicts if c.says not in known]
    return (own or list(found.conflicts))[0].says


def _compared(base: Allocation, found: Allocation) -> tuple[str, tuple[tuple[str, int], ...]]:
    """The first level in which the second answer costs more, and all differences. The tie-break costs nothing."""
    before = {level.name: level.value for level in base.levels}
    now = {level.name: level.value for level in found.levels}
    names = [name for name in ("unplaced", *before) if name in now | before and name != TIE_BREAK]
    costs = ((name, now.get(name, 0) - before.get(name, 0)) for name in dict.fromkeys(names))
    differing = tuple((name, more) for name, more in costs if more)
    return (differing[0][0] if differing else TIE_BREAK), differing


def _moves(part: Problem, end: End, base: Allocation, found: Allocation) -> tuple[Move, ...]:
    moves = []
    for other in part.ends:
        was, now = _pin(base, other), _pin(found, other)
        if other.id != end.id and was != now:
            device = (now or was or Pin(other.devices[0], "")).device
            moves.append(Move(other.function, device, was, now))
    return tuple(moves)


def _pin(allocation: Allocation, end: End) -> Pin | None:
    at = allocation.of_end(end.id)
    return Pin(at.device, at.channel) if at else None


def _decided(end: End, terminal: Pin | None, tried: list[Alternative]) -> str:
    if terminal is None:
        return "conflict"
    if end.fixed is not None:
        return "fixed"
    reached = [_LEVELS.index(a.decided_by) for a in tried if a.possible]
    return _LEVELS[max(reached)] if reached else "only choice"


def _says(end: End, terminal: Pin | None, decided: str, tried: list[Alternative], allocation: Allocation) -> str:
    if terminal is None:
        return next(u.why for u in allocation.unplaced if u.end == end.id)
    if decided == "fixed":
        return f"`fixed` puts {end.function} on {terminal}"
    if decided == "only choice":
        return f"no other terminal can take {end.function} while everything else has a place"
    last = [str(a.terminal) for a in tried if a.possible and a.decided_by == decided]
    rivals = spoken.listed(last)
    if decided == TIE_BREAK:
        return f"{rivals} would be as good in every preference; the tie-break makes the answer the same everywhere"
    return f"the last that {'were' if len(last) > 1 else 'was'} as good until then: {rivals}"


#: What one more of a level means, for one and for several.
_MORE = {
    "unplaced": ("one more function finds no terminal", "{} more functions find no terminal"),
    "moves": ("one more function leaves its wired terminal", "{} more functions leave their wired terminals"),
    "unusual": ("one more function off its usual terminal", "{} more functions off their usual terminals"),
    "scarce": ("more use of scarce terminals by 1", "more use of scarce terminals by {}"),
    "together": ("one more group of terminals reached by a cable", "{} more groups of terminals reached by cables"),
    "from the top": ("one place further down", "{} places further down"),
}


def in_words(level: str, more: int) -> str:
    """A difference in one level, in plain words.

    >>> in_words("unusual", 1), in_words("from the top", -2)
    ('one more function off its usual terminal', 'from the top: 2 less')
    """
    if more < 0 or level not in _MORE:
        return f"{level}: {abs(more)} {'less' if more < 0 else 'more'}"
    one, several = _MORE[level]
    return one if more == 1 else several.format(more)
