"""Scripts: what is tried in a state, with and without a fault, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wiregen.behaviour.deeds import Deed
from wiregen.behaviour.exploring import Base
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.safety_relay import SafetyMemory
from wiregen.behaviour.standing import Hands, Standing
from wiregen.behaviour.views import View, Viewer, looks_the_same


@dataclass(frozen=True, slots=True)
class Stage:
    """One stage: the hands, and what was done. ``back``: it was undone. In the first the fault comes."""

    hands: Hands
    deed: Deed | None = None
    back: bool = False

    @property
    def says(self) -> str:
        if self.deed is None:
            return "the fault comes"
        return f"{self.deed.says}{' and back' if self.back else ''}"


@dataclass(frozen=True, slots=True)
class Script:
    """Stages from a state, and how a healthy plant stands at each and what it shows."""

    base: Base
    stages: tuple[Stage, ...]
    healthy: tuple[View, ...]
    standings: tuple[Standing, ...]


def scripts(
    plant: Plant, viewer: Viewer, bases: Sequence[Base], deeds: Sequence[Deed], resets: Sequence[Deed]
) -> Iterator[Script]:
    """For every state: each deed and its undoing, and after what has stopped the drive the way back to running."""
    running = [b for b in bases if b.standing.drive(b.drive).moving]
    for base in bases:
        stages: list[tuple[Stage, ...]] = [(Stage(base.standing.hands),)]
        for deed in deeds:
            if deed.kind != "key" and deed.on(base.standing.hands) != base.standing.hands:
                stages.append((stages[0][0], *_there_and_back(deed, base.standing.hands)))
        tried = zip(stages, _traces(plant, base, stages), strict=True)
        kept = [(own, trace) for own, trace in tried if _matters(viewer, own, trace)]
        stop = _stop_of(plant, base, running, deeds)
        longer = [_continued(base, own, trace, resets, stop) for own, trace in kept]
        for own, trace in zip(longer, _traces(plant, base, longer), strict=True):
            yield Script(base, own, tuple(viewer.view(s) for s in trace), tuple(trace))


def _matters(viewer: Viewer, stages: tuple[Stage, ...], trace: Sequence[Standing]) -> bool:
    """Whether a deed is worth trying: a signal that nobody looks at here is tried by the bases with signals at ends."""
    deed = stages[1].deed if len(stages) > 1 else None
    if deed is None or deed.kind not in ("set", "give"):
        return True
    return not looks_the_same(viewer.view(trace[0]), viewer.view(trace[1]))


def _there_and_back(deed: Deed, hands: Hands) -> tuple[Stage, Stage]:
    return Stage(deed.on(hands), deed), Stage(hands, deed, back=True)


def _stop_of(plant: Plant, base: Base, running: Sequence[Base], deeds: Sequence[Deed]) -> Deed | None:
    """A button that stops what the base's start has started, for bases at rest."""
    like = next((b for b in running if b.start == base.start), None)
    if like is None or base.standing.drive(base.drive).moving:
        return None
    buttons = [d for d in deeds if d.kind == "press" and d.by_hand and d != base.start]
    after = plant.settle([like.standing] * len(buttons), [d.on(like.standing.hands) for d in buttons])
    return next((d for d, s in zip(buttons, after, strict=True) if not s.drive(base.drive).moving), None)


def _continued(
    base: Base, stages: tuple[Stage, ...], trace: Sequence[Standing], resets: Sequence[Deed], stop: Deed | None
) -> tuple[Stage, ...]:
    """The stages, and what brings the drive back to where it was: resets, a new start; or after a start the stop."""
    if len(stages) < 2:
        return stages
    hands = base.standing.hands
    was, now = base.standing.drive(base.drive).moving, trace[-1].drive(base.drive)
    more: list[Stage] = []
    if was and not now.moving and base.start is not None:
        dropped = now.tripped or any(isinstance(m, SafetyMemory) and not m.on for _, m in trace[-1].memories)
        for reset in resets if dropped else ():
            more += _there_and_back(reset, hands)
        more += _start_again(base.start, hands)
    elif not was and now.moving and stop is not None:
        more += _there_and_back(stop, hands)
    return (*stages, *more)


def _start_again(start: Deed, hands: Hands) -> tuple[Stage, Stage]:
    """A start that is pressed is pressed again; one that lasts is taken away and given anew."""
    off = hands
    if start.kind in ("press", "actuate"):
        off = hands.release(start.device)
    elif start.kind in ("command", "network"):
        off = hands.withdraw(start.device)
    elif start.kind == "turn" and dict(hands.positions).get(start.device) == start.value:
        off = replace(hands, positions=tuple(p for p in hands.positions if p[0] != start.device))
    if off == hands:
        return _there_and_back(start, hands)
    return Stage(off, start, back=True), Stage(hands, start)


def _traces(plant: Plant, base: Base, stages: Sequence[tuple[Stage, ...]]) -> list[list[Standing]]:
    return traced(plant, [base.standing] * len(stages), [[stage.hands for stage in own] for own in stages])


def traced(plant: Plant, before: Sequence[Standing], hands: Sequence[Sequence[Hands]]) -> list[list[Standing]]:
    """Every standing of several traces, each from its own beginning under its own hands, side by side."""
    found: list[list[Standing]] = [[] for _ in hands]
    for n in range(max((len(own) for own in hands), default=0)):
        lanes = [i for i, own in enumerate(hands) if len(own) > n]
        was = [found[i][-1] if found[i] else before[i] for i in lanes]
        for i, standing in zip(lanes, plant.settle(was, [hands[i][n] for i in lanes]), strict=True):
            found[i].append(standing)
    return found
