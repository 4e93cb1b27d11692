"""The campaign: every single fault in every state of interest, and what comes of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from wiregen.behaviour.classes import CLASSES, Facts, FaultClass, Judgement, Noticed, StopWorks, judge, judge_dip
from wiregen.behaviour.controllers import Drive
from wiregen.behaviour.deeds import deeds_for, resets
from wiregen.behaviour.exploring import Base, bases
from wiregen.behaviour.fault import Fault
from wiregen.behaviour.fault_list import all_faults
from wiregen.behaviour.plant import DesignLike, Plant
from wiregen.behaviour.scripts import Script, scripts, traced
from wiregen.behaviour.standing import Standing
from wiregen.behaviour.views import View, Viewer, same_speed
from wiregen.scheme import Scheme


@dataclass(frozen=True, slots=True)
class Outcome:
    """What one fault does in one state. ``shown_by`` says what must be done for its class to show."""

    fault: Fault
    state: str
    drive: str
    fault_class: FaultClass
    motion: str
    stop: StopWorks
    lost: tuple[str, ...]
    noticed: Noticed
    shown_by: str
    doubtful: bool


@dataclass
class Campaign:
    """The faults of a design and the states in which they are tried. Made by `of`; `run` gives the outcomes."""

    plant: Plant
    facts: Facts
    scripts: tuple[Script, ...]
    faults: tuple[Fault, ...]
    bases: tuple[Base, ...]
    _viewer: Viewer = field(init=False)
    _known: dict[frozenset[str], list[Outcome]] = field(init=False, default_factory=dict)

    def __post_init__(self) -> None:
        self._viewer = Viewer(self.plant)

    @classmethod
    def of(cls, design: DesignLike, only: Sequence[str] = ()) -> Campaign:
        """The campaign of a design: its drives, or only some, one after the other, the others at rest meanwhile."""
        plant = Plant.of_design(design)
        viewer = Viewer(plant)
        found: list[Script] = []
        all_bases: list[Base] = []
        for drive in only or plant.drives:
            deeds = deeds_for(design.declared, design.allocation, drive)
            states = bases(plant, drive, deeds)
            all_bases += states
            found += scripts(plant, viewer, states, deeds, resets(design.declared, deeds))
        faults = all_faults(design.declared, design.allocation, design.wiring)
        return cls(plant, _facts(plant, design.scheme, found), tuple(found), faults, tuple(all_bases))

    def run(self, faults: Sequence[Fault] | None = None) -> Iterator[Outcome]:
        """The outcomes, fault by fault, state by state. Faults that join the same potentials are worked out once."""
        for fault in self.faults if faults is None else faults:
            found = self._known.get(fault.pair) if fault.pair else None
            if found is None:
                found = self._of_fault(fault)
                if fault.pair:
                    self._known[fault.pair] = found
            yield from (replace(outcome, fault=fault) for outcome in found)

    def _of_fault(self, fault: Fault) -> list[Outcome]:
        plant = self.plant.changed(fault.change)
        first = self._with(plant, fault)
        if not any(outcome.doubtful for outcome in first):
            return first
        # A doubtful input may be taken either way: the worse of the two counts.
        second = self._with(plant.doubting(1 - plant.doubt), fault)
        return [min(same, key=lambda o: CLASSES.index(o.fault_class)) for same in zip(first, second, strict=True)]

    def _with(self, plant: Plant, fault: Fault) -> list[Outcome]:
        """The outcomes in every state."""
        viewer = self._viewer if plant.doubt == self.plant.doubt else Viewer(plant)
        found = {id(b): (b, Judgement(running=bool(b.standing.drive(b.drive).moving))) for b in self.bases}
        doubtful: set[int] = set()
        if fault.returns:
            for base, trace in zip(self.bases, self._dipped(plant, fault), strict=True):
                judge_dip(base, [viewer.view(s) for s in trace], self.facts, found[id(base)][1])
            return [_outcome(fault, base, judgement, False) for base, judgement in found.values()]
        hands = [[fault.on(stage.hands) for stage in script.stages] for script in self.scripts]
        traces = traced(plant, [s.base.standing for s in self.scripts], hands)
        for script, trace in zip(self.scripts, traces, strict=True):
            judgement = found[id(script.base)][1]
            views = [viewer.view(s) for s in trace]
            judge(script, views, self.facts, judgement)
            judgement.motion = judgement.motion or motion(self.facts, script.healthy[0], views[0])
            if any(s.doubtful for s in trace):
                doubtful.add(id(script.base))
        return [_outcome(fault, base, judgement, n in doubtful) for n, (base, judgement) in found.items()]

    def _dipped(self, plant: Plant, fault: Fault) -> list[list[Standing]]:
        """Every base before, without, and again with a supply."""
        before = [base.standing for base in self.bases]
        hands = [[s.hands, s.hands.off(fault.dead), s.hands] for s in before]
        return traced(plant, before, hands)


def summary(outcomes: Sequence[Outcome]) -> dict[str, int]:
    """How many outcomes there are of every class, worst first."""
    counted = Counter(o.fault_class for o in outcomes)
    return {name: counted[name] for name in CLASSES if counted[name]}


def motion(facts: Facts, healthy: View, fault: View) -> str:
    """What the motors do when the fault comes, in words."""
    parts = []
    for name, h, f in zip(facts.drives, healthy.motions, fault.motions, strict=True):
        if h.moving and not f.moving:
            says = f"stops: tripped, {f.tripped}" if f.tripped else "stops"
        elif not h.moving and f.moving:
            says = f"starts by itself: {f.says()}"
        elif h.moving and f.moving != h.moving:
            says = f"reverses: {f.says()}"
        elif h.moving:
            says = f"keeps {f.says()}" if same_speed(h.hz, f.hz) else f"changes to {f.says()}"
        elif f.tripped and not h.tripped:
            says = f"stays still, trips: {f.tripped}"
        else:
            says = "stays still"
        if len(facts.drives) == 1:
            return says
        parts.append((name, says))
    told = [f"{name} {says}" for name, says in parts if says != "stays still"]
    return "; ".join(told) or "all stay still"


def _outcome(fault: Fault, base: Base, judgement: Judgement, doubtful: bool) -> Outcome:
    worst = judgement.worst
    return Outcome(
        fault=fault,
        state=base.name,
        drive=base.drive,
        fault_class=worst,
        motion=judgement.motion,
        stop=judgement.stop,
        lost=tuple(judgement.lost),
        noticed=judgement.noticed,
        shown_by=judgement.classes.get(worst, ""),
        doubtful=doubtful,
    )


def _facts(plant: Plant, scheme: Scheme, found: Sequence[Script]) -> Facts:
    needs = frozenset(
        name for name in plant.drives if (c := scheme.model.control.get(name)) and c.restart == "needs_start"
    )
    drives = [(name, c.spec) for name, c in plant.controllers if isinstance(c, Drive)]
    stops = {(n, f) for n, spec in drives for run in spec.runs for f in run.stops}
    levels = {(n, f) for n, spec in drives for f in spec.level_commands | {o.function for o in spec.overrides}}
    starting = [
        (script, n, stage.deed)
        for script in found
        for n, stage in enumerate(script.stages[1:], 1)
        if stage.deed is not None
        and stage.deed.kind not in ("dip", "key")
        and not script.standings[n - 1].drive(script.base.drive).moving
        and script.standings[n].drive(script.base.drive).moving
        and not (stage.back and stage.deed.kind == "press")
    ]
    starters = {deed.device for _, _, deed in starting}
    starters |= {script.base.start.device for script in found if script.base.start is not None}
    ways = {
        (script.base.drive, deed, script.standings[n].drive(script.base.drive).moving)
        for script, n, deed in starting
        if not script.stages[n].back
    }
    return Facts(plant.drives, needs, frozenset(stops), frozenset(levels), frozenset(starters), frozenset(ways))
