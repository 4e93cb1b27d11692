"""The classes of faults, from what was tried with and without the fault."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal, get_args

from wiregen.behaviour.deeds import Deed
from wiregen.behaviour.exploring import Base
from wiregen.behaviour.scripts import Script, Stage
from wiregen.behaviour.views import Motion, View, faster, looks_the_same, same_motion, shows_the_same

#: Worst first.
FaultClass = Literal[
    "self-start",
    "unstoppable",
    "reverses",
    "speeds-up",
    "restarts",
    "unprotected",
    "damages",
    "misleads",
    "slows",
    "stoppable",
    "blocked",
    "stops",
    "hidden",
]
#: Earliest first, for a motor at rest.
Noticed = Literal["at once", "at next start", "at next stop", "at test only", "never"]
StopWorks = Literal["works", "other only", "none"]

CLASSES: tuple[FaultClass, ...] = get_args(FaultClass)
#: Those in which a motor does what nobody wants of it.
DANGEROUS: tuple[FaultClass, ...] = CLASSES[:4]
NOTICED: tuple[Noticed, ...] = get_args(Noticed)
_NOTICED_RUNNING: tuple[Noticed, ...] = ("at once", "at next stop", "at next start", "at test only", "never")

_PROTECTS = ("external trip", "enable", "limit ", "safe torque off", "motor thermistor", "always stops")


@dataclass(frozen=True, slots=True)
class Facts:
    """What the judging needs to know of a plant: its drives, those that need a start, what stops each run."""

    drives: tuple[str, ...]
    needs_start: frozenset[str]
    stops: frozenset[tuple[str, str]]  # (drive, function) that stop by acting
    levels: frozenset[tuple[str, str]]  # and commands that stop by being taken away
    starters: frozenset[str]  # the devices that a motor is started by
    ways: frozenset[tuple[str, Deed, int]]  # (drive, deed, way): what a whole plant at rest runs which way by

    def protects(self, function: tuple[str, str]) -> bool:
        """Whether a function keeps the machine from harm beside its stop."""
        return function[1].startswith(_PROTECTS)


@dataclass
class Judgement:
    """What one fault does in one state, gathered script by script."""

    running: bool = False
    motion: str = ""
    classes: dict[FaultClass, str] = field(default_factory=dict)  # with the deed that shows it first
    noticed: Noticed = "never"
    lost: dict[str, None] = field(default_factory=dict)
    own_stop_fails: bool = False
    other_stop_works: bool = False  # one that a person gives

    def add(self, found: FaultClass, says: str) -> None:
        self.classes.setdefault(found, says)

    def seen(self, when: Noticed) -> None:
        """The earlier counts: a motor that runs is stopped before it is started, one at rest the other way round."""
        order = _NOTICED_RUNNING if self.running else NOTICED
        self.noticed = min(self.noticed, when, key=order.index)

    @property
    def worst(self) -> FaultClass:
        return min(self.classes, key=CLASSES.index, default="hidden")

    @property
    def stop(self) -> StopWorks:
        if not self.own_stop_fails:
            return "works"
        return "other only" if self.other_stop_works else "none"


def judge(script: Script, faulty: Sequence[View], facts: Facts, into: Judgement) -> None:
    """Compare the stages of one script, with the fault and without; what is found goes ``into`` the judgement."""
    drive = facts.drives.index(script.base.drive)
    stopped_by_fault = bool(_moves(script.healthy[0], drive)) and not _moves(faulty[0], drive)
    previous_role = ""
    for n, (stage, healthy, fault) in enumerate(zip(script.stages, script.healthy, faulty, strict=True)):
        before = (script.healthy[n - 1], faulty[n - 1]) if n else (script.healthy[0], script.healthy[0])
        role = _role(script, n, drive, facts)
        when = _when(n, role, previous_role)
        if not looks_the_same(healthy, fault):
            into.seen(when)
        if fault.strained - healthy.strained or (fault.restless and not healthy.restless):
            into.add("damages", stage.says)
        for d in range(len(facts.drives)):
            quiet = stopped_by_fault and d == drive
            _motion(stage, role, previous_role, d, (before[0], healthy), (before[1], fault), facts, quiet, into)
        if (
            not stopped_by_fault
            and not shows_the_same(healthy, fault)
            and all(map(same_motion, healthy.motions, fault.motions))
        ):
            into.add("misleads", stage.says)
        if n:
            _lost(before, healthy, fault, facts, into)
            if _moves(faulty[0], drive) and role in ("deed", "back"):
                _commands_lost(before, healthy, fault, facts, into)
            _stops(drive, role, stage, healthy, fault, before, into)
        previous_role = role


def _moves(view: View, drive: int) -> int:
    return view.motions[drive].moving


def _role(script: Script, n: int, drive: int, facts: Facts) -> str:
    """What a stage is to the healthy drive: fault, start, own stop, other stop, dip, deed, back."""
    if n == 0:
        return "fault"
    before, after = script.healthy[n - 1], script.healthy[n]
    stage = script.stages[n]
    if not _moves(before, drive) and _moves(after, drive):
        return "start"
    if _moves(before, drive) and not _moves(after, drive):
        if stage.deed is not None and stage.deed.kind == "dip":
            return "dip"
        own = ((after.acting - before.acting) & facts.stops) | ((before.acting - after.acting) & facts.levels)
        return "own stop" if own and not _protected(before, after, facts) else "other stop"
    return "back" if stage.back else "deed"


def _protected(before: View, after: View, facts: Facts) -> bool:
    """Whether something that protects begins to act."""
    return any(facts.protects(f) for f in (after.acting - before.acting) - facts.stops)


def _when(n: int, role: str, previous: str) -> Noticed:
    if n == 0:
        return "at once"
    if role == "start" or previous == "start":
        return "at next start"
    if role == "own stop" or previous == "own stop":
        return "at next stop"
    return "at test only"


def _motion(
    stage: Stage,
    role: str,
    previous_role: str,
    d: int,
    healthy: tuple[View, View],
    fault: tuple[View, View],
    facts: Facts,
    stopped_by_fault: bool,
    into: Judgement,
) -> None:
    """One drive at one stage. A difference counts where it begins, not at every stage that it lasts."""
    h0, h, f0, f = (v.motions[d] for v in (*healthy, *fault))
    says = f"{facts.drives[d]}: {stage.says}"
    if not h.moving and f.moving:
        if f0.moving and h0.moving:
            fails: FaultClass = "unprotected" if _protected(*healthy, facts) else "stoppable"
            into.add("unstoppable" if role == "own stop" else fails, says)
        elif not f0.moving and (stage.back or stage.deed is None or stage.deed.device not in facts.starters):
            again = role in ("dip", "back", "deed") and previous_role in ("dip", "other stop", "back")
            into.add("restarts" if again and facts.drives[d] in facts.needs_start else "self-start", says)
        return
    if not f.moving:
        if h.moving and f0.moving:
            into.add("stops", says)
        elif h.moving and not h0.moving and not stopped_by_fault:
            into.add("blocked", says)
        elif bool(h.tripped) and not f.tripped and f.fed and not h0.tripped and not stopped_by_fault:
            into.add("unprotected", says)
        return
    if f.moving != h.moving:
        already = bool(f0.moving and h0.moving and f0.moving != h0.moving)
        # What the fault has stopped, and its own button starts the other way, goes as it is told.
        told = not f0.moving and not stage.back and (facts.drives[d], stage.deed, f.moving) in facts.ways
        if not already and not told:
            into.add("reverses", says)
    elif stopped_by_fault and not f0.moving and role != "start":
        if stage.back or stage.deed is None or stage.deed.device not in facts.starters:
            _comes_back(facts.drives[d], healthy[1], facts, says, into)
    elif f.answered and not h.answered:
        # It does what is declared for a lost signal.
        into.add("stoppable", f"{says}: {f.answered}")
    elif faster(f.hz, h.hz) and not _was(f0, h0, faster(f0.hz, h0.hz)):
        into.add("speeds-up", says)
    elif faster(h.hz, f.hz) and not _was(f0, h0, faster(h0.hz, f0.hz)):
        into.add("slows", says)


def _comes_back(drive: str, healthy: View, facts: Facts, says: str, into: Judgement) -> None:
    """What the fault has stopped moves again: with a command that still stands a restart, else by itself."""
    if not any(name == drive and (name, f) in facts.levels for name, f in healthy.acting):
        into.add("self-start", says)
    elif drive in facts.needs_start:
        into.add("restarts", says)


def _was(f0: Motion, h0: Motion, differed: bool) -> bool:
    return bool(f0.moving and h0.moving) and differed


def _lost(before: tuple[View, View], healthy: View, fault: View, facts: Facts, into: Judgement) -> None:
    """Functions and lamps that follow a deed in a healthy plant and not in this one."""
    changed = (before[0].acting ^ healthy.acting) | (before[0].reads ^ healthy.reads)
    now, then = fault.acting | fault.reads, before[1].acting | before[1].reads
    for function in sorted(changed):
        if (function in now) != (function in then):
            continue
        name = f"{function[1]} of {function[0]}"
        into.lost.setdefault(name)
        begins = function in healthy.acting
        if facts.protects(function):
            if begins and function not in now:
                into.add("unprotected", name)
        elif function[1].startswith("channel") and not begins and function in now:
            into.add("unprotected", name)
    for lamp in sorted((before[0].lit ^ healthy.lit) - (before[1].lit ^ fault.lit)):
        into.lost.setdefault(lamp)


def _commands_lost(before: tuple[View, View], healthy: View, fault: View, facts: Facts, into: Judgement) -> None:
    """Commands beside start and stop that a running drive does not follow any more."""
    for function in sorted(before[0].acting ^ healthy.acting):
        other = (
            function in facts.stops | facts.levels
            or facts.protects(function)
            or function[1].startswith(("start", "channel"))
        )
        if not other and (function in fault.acting) == (function in before[1].acting):
            into.add("stoppable", f"{function[1]} of {function[0]}")


def judge_dip(base: Base, trace: Sequence[View], facts: Facts, into: Judgement) -> None:
    """A supply that goes and comes back; ``trace``: before it, without it, and with it again."""
    before, without, again = trace
    for name, h, off, f in zip(facts.drives, before.motions, without.motions, again.motions, strict=True):
        says = f"{name}: the supply returns"
        if f.moving and not h.moving:
            into.add("self-start", says)
        elif f.moving and not off.moving and name in facts.needs_start:
            into.add("restarts", says)
        elif f.moving and h.moving and f.moving != h.moving:
            into.add("reverses", says)
        elif h.moving and (not off.moving or not f.moving):
            into.add("stops", says)
    if not looks_the_same(before, without):
        into.seen("at once")
    elif not looks_the_same(before, again):
        into.seen("at next start")
    if again.strained - before.strained or again.restless:
        into.add("damages", "the supply returns")
    drive = facts.drives.index(base.drive)
    into.motion = _dip_says(before.motions[drive], without.motions[drive], again.motions[drive])


def _dip_says(before: Motion, without: Motion, again: Motion) -> str:
    if not before.moving:
        return f"starts by itself: {again.says()}" if again.moving else "stays still"
    if without.moving and again.moving:
        return f"keeps {again.says()}"
    return f"stops, and comes back with the supply: {again.says()}" if again.moving else "stops, and stays still"


def _stops(
    drive: int,
    role: str,
    stage: Stage,
    healthy: View,
    fault: View,
    before: tuple[View, View],
    into: Judgement,
) -> None:
    """Whether what stops the healthy drive still stops this one."""
    if not _moves(before[1], drive) or role not in ("own stop", "other stop"):
        return
    if role == "own stop":
        into.own_stop_fails |= bool(_moves(fault, drive))
    elif not _moves(fault, drive) and stage.deed is not None:
        into.other_stop_works |= stage.deed.by_hand
