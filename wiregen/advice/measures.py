"""What an alternative costs and gives, in figures that can be compared."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace
from typing import Literal

from wiregen.advice.moves import as_built_of, moves
from wiregen.advice.reference_errors import reference_errors
from wiregen.allocation.intake import problem_of
from wiregen.allocation.words import ROLES
from wiregen.behaviour.campaign import Campaign
from wiregen.behaviour.classes import CLASSES, DANGEROUS
from wiregen.circuit.readings import reading_states
from wiregen.circuit.solve import solve
from wiregen.control.functions import Function
from wiregen.control.senses import sense_of
from wiregen.pipeline import Design
from wiregen.scheme.as_built import AsBuilt

Figure = float | int | None
#: Less is better, or more is.
Better = Literal["less", "more"]

#: Kinds of conductors that a person lays and terminates.
_LAID = ("wire", "core")


@dataclass(frozen=True, slots=True)
class Measures:
    """One alternative. ``used`` and ``spare`` count terminals by kind; a terminal that is kept free is neither.

    ``settings`` are terminals and values that must be set in a device because they are not as supplied. ``core_m`` [m]
    counts every core of every cable; None where a cable has no length. ``load_ma`` [mA] is the greatest current out of
    each DC supply in the base state and after each single change from it. ``reference_errors`` are the greatest errors
    that the wiring brings into speed references, as shares of their signals' ranges. ``stops_unseen`` are stops, trips
    and enables that a broken wire disables. ``moved`` are conductors to be taken off, moved or laid to make this of
    what is there; None where there is nothing. ``open_faults`` counts conductors by the worst that comes of it when
    one of them opens; None where that was not tried.
    """

    unplaced: int
    used: tuple[tuple[str, int], ...]
    spare: tuple[tuple[str, int], ...]
    devices: int
    settings: int
    conductors: int
    cables: int
    core_m: float | None
    errors: int
    warnings: int
    notes: int
    load_ma: tuple[tuple[str, float], ...]
    reference_errors: tuple[tuple[str, float], ...]
    restart: tuple[tuple[str, str], ...]
    broken_wire: tuple[tuple[str, tuple[str, ...]], ...]
    stops_unseen: int
    moved: int | None
    open_faults: tuple[tuple[str, int], ...] | None = None

    @property
    def fits(self) -> bool:
        return self.unplaced == 0

    def with_moved(self, moved: int | None) -> Measures:
        """The same with another count of what has to be moved."""
        return replace(self, moved=moved)

    def figure(self, key: str) -> Figure:
        """A measure as one number: lists are summed, of errors the worst is taken. None where it is not known."""
        if key == "reference_error":
            return max((error for _, error in self.reference_errors), default=None)
        if key == "dangerous_opens":
            counted = self.open_faults
            return None if counted is None else sum(number for what, number in counted if what in DANGEROUS)
        value: object = getattr(self, key)
        if isinstance(value, tuple):
            return round(float(sum(number for _, number in value)), 6)
        return value if isinstance(value, int | float) else None


#: What is compared, and which way is better.
DIRECTIONS: tuple[tuple[str, Better], ...] = (
    ("errors", "less"),
    ("warnings", "less"),
    ("notes", "less"),
    ("spare", "more"),
    ("devices", "less"),
    ("settings", "less"),
    ("conductors", "less"),
    ("cables", "less"),
    ("core_m", "less"),
    ("load_ma", "less"),
    ("reference_error", "less"),
    ("stops_unseen", "less"),
    ("dangerous_opens", "less"),
    ("moved", "less"),
)


def measured(design: Design, built: AsBuilt | None = None, *, faults: bool = False) -> Measures:
    """The measures of a design. ``built`` is what it would be made from; with ``faults`` every conductor is opened."""
    used, spare = _terminals(design)
    severities = Counter(str(f.severity) for f in design.findings if f.accepted is None)
    wiring = design.wiring
    lengths = [(c.cores, c.length_m) for c in wiring.cables]
    return Measures(
        unplaced=len(design.allocation.unplaced),
        used=used,
        spare=spare,
        devices=len(design.declared.devices),
        settings=_settings(design),
        conductors=sum(c.kind in _LAID and c.b is not None for c in wiring.conductors),
        cables=len(wiring.cables),
        core_m=None if any(m is None for _, m in lengths) else round(sum(n * m for n, m in lengths if m), 3),
        errors=severities["error"],
        warnings=severities["warning"],
        notes=severities["note"],
        load_ma=_loads(design),
        reference_errors=reference_errors(design),
        restart=_restarts(design),
        broken_wire=(broken := _broken_wires(design.functions)),
        stops_unseen=sum(len(names) for what, names in broken if what == UNSEEN),
        moved=_moved(design, built),
        open_faults=_open_faults(design) if faults else None,
    )


def _moved(design: Design, built: AsBuilt | None) -> int | None:
    if built is None:
        return None
    return sum(m.kind in _LAID and m.change != "renumbered" for m in moves(design, built))


def first_built(design: Design) -> AsBuilt:
    """A design as what later ones are made from."""
    return as_built_of(design, "the first")


def _terminals(design: Design) -> tuple[tuple[tuple[str, int], ...], tuple[tuple[str, int], ...]]:
    channels = [c for c in problem_of(design.scheme, design.declared).channels if c.keep_free is None]
    taken = {(a.device, a.channel) for a in design.allocation.assignments}
    used = Counter(c.role for c in channels if (c.device, c.name) in taken)
    free = Counter(c.role for c in channels if (c.device, c.name) not in taken)
    roles = [role for role in ROLES if role in used or role in free]
    return tuple((ROLES[r], used[r]) for r in roles), tuple((ROLES[r], free[r]) for r in roles)


def _settings(design: Design) -> int:
    """Terminals that are not used as supplied or need a setting for their wiring, and settings without a terminal."""
    cards = {d.name for d in design.declared.devices if d.kind in ("card", "safety_relay")}
    usual = {end.id for f in design.functions for end in f.ends if end.usual}
    needed = {f.ends[0].id for f in design.functions if f.setting and f.ends}
    to_set = (
        a.end in needed or (a.device not in cards and not (a.end in usual and a.usual))
        for a in design.allocation.assignments
    )
    return sum(to_set) + len(design.declared.settings)


def _loads(design: Design) -> tuple[tuple[str, float], ...]:
    """The greatest current [mA] out of each DC supply, over the states in which readings are expected."""
    circuit = design.circuit
    states = reading_states(design.declared, design.allocation, circuit)
    points = solve(circuit, states)
    direct = {s.device for s in design.declared.supplies if not s.alternating}
    most: dict[str, float] = {}
    for part in circuit.elements:
        if part.kind == "supply" and part.of in direct and circuit.wired(part.a):
            found = [abs(float(a)) for a, lost in zip(points.amps(part), points.restless, strict=True) if not lost]
            most[part.of] = max([most.get(part.of, 0.0), *(a * 1000.0 for a in found)])
    return tuple((name, round(ma, 1)) for name, ma in most.items())


def _open_faults(design: Design) -> tuple[tuple[str, int], ...]:
    """(class, open conductors of which it is the worst in any state), the worst class first."""
    campaign = Campaign.of(design)
    worst: dict[str, int] = {}
    for outcome in campaign.run([fault for fault in campaign.faults if fault.kind == "open"]):
        rank = CLASSES.index(outcome.fault_class)
        worst[outcome.fault.name] = min(rank, worst.get(outcome.fault.name, rank))
    counted = Counter(worst.values())
    return tuple((name, counted[rank]) for rank, name in enumerate(CLASSES) if counted[rank])


def _restarts(design: Design) -> tuple[tuple[str, str], ...]:
    """What each drive is declared to do when its supply returns."""
    drives = (d.name for d in design.declared.devices if d.kind == "drive")
    control = design.scheme.model.control
    said = ((name, control[name].restart if name in control else None) for name in drives)
    words = {"allowed": "restarts by itself", "needs_start": "needs a new start", None: "not declared"}
    return tuple((name, words[restart]) for name, restart in said)


UNSEEN = "nothing, unseen"
_ANSWERS = {"trip": "trips", "stop": "stops", "hold": "holds"}


def _broken_wires(functions: tuple[Function, ...]) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """What an open conductor of each function does, by how it is declared; what is not known is left out."""
    found: dict[str, list[str]] = {}
    for function in functions:
        if (says := _broken(function)) is not None:
            found.setdefault(says, []).append(f"{function.name} of {function.controller}")
    return tuple((what, tuple(names)) for what, names in found.items())


def _broken(function: Function) -> str | None:
    sense = sense_of(function.meaning)
    if function.purpose == "analog_in":
        low = function.on_low
        return _ANSWERS.get(low, low) or ("falls to its low end" if function.signal.endswith(" V") else None)
    if function.purpose != "input" or function.meaning not in _KNOWN:
        return None
    if sense.stops:
        return "stops" if function.acts_on in ("open", "opening") else UNSEEN
    if function.meaning in ("start", "start reverse"):
        return "does not start" if function.acts_on in ("closing", "closed") else "may start"
    return "stops" if function.acts_on == "closed" else "may start"


_KNOWN = frozenset(
    {
        *("start", "start reverse", "stop", "run forward", "run reverse", "enable"),
        *("external trip", "always stops", "limit forward", "limit reverse"),
    }
)
