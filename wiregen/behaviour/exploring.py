"""In which states a plant works: found by trying deeds from its rest, fewest first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wiregen.behaviour.deeds import Deed
from wiregen.behaviour.drive import WAYS
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.standing import Hands, Standing

#: How many deeds lead to a state at most, and how many standings are looked at: beyond it a search is not whole.
DEEP, MANY = 5, 4000
#: Speeds as near as this are one [Hz]: typical, invented.
_SAME_HZ = 0.2


@dataclass(frozen=True, slots=True)
class Base:
    """A state in which a plant works: where it stands, and the deed that starts the drive there or has started it."""

    name: str
    drive: str
    standing: Standing
    start: Deed | None = None
    path: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Lead:
    """A standing and the deeds that lead to it: (deed, whether it was let go at once). ``start``: what made it move."""

    standing: Standing
    path: tuple[tuple[Deed, bool], ...] = ()
    before: Lead | None = None
    start: Deed | None = None

    @property
    def rank(self) -> tuple[int, int, bool]:
        """Fewest deeds first, then fewest buttons held down, then those that a hand starts."""
        held = sum(d.kind == "press" and not back for d, back in self.path)
        return len(self.path), held, not (self.start is None or self.start.by_hand)

    @property
    def says(self) -> tuple[str, ...]:
        return tuple(f"{d.says}{' and let go' if d.kind == 'press' and back else ''}" for d, back in self.path)


def bases(plant: Plant, drive: str, deeds: Sequence[Deed]) -> tuple[Base, ...]:
    """The states in which a drive works: ready at rest, then running by every run, reference and direction.

    Each is the one that the fewest deeds lead to. Where signals that are not in force could matter, a state comes
    twice: with all of them high, and with all of them low.
    """
    leads = sorted(search(plant, drive, deeds), key=lambda lead: lead.rank)
    found: dict[tuple[object, ...], Lead] = {}
    for lead in leads:
        memory = lead.standing.drive(drive)
        if memory.moving and not lead.standing.restless and not lead.standing.doubtful:
            found.setdefault((memory.moving, memory.reference, memory.run), lead)
    first = next(iter(found.values()), None)
    if first is None:
        return (Base("at rest", drive, leads[0].standing),)
    parent = first
    while parent.before is not None and parent.standing.drive(drive).moving:
        parent = parent.before
    ready = Base("stopped, ready", drive, parent.standing, first.start, parent.says)
    running = [b for lead in found.values() for b in _with_others(plant, drive, lead, deeds)]
    return (ready, *running)


def search(plant: Plant, drive: str, deeds: Sequence[Deed]) -> list[Lead]:
    """Every standing that deeds lead to, in the order of their number; the rest first."""
    rest = Lead(plant.at_rest())
    found = [rest]
    seen = {_mark(rest.standing)}
    layer = [rest]
    moves = [d for d in deeds if d.kind not in ("dip", "key", "set", "give")]
    for _ in range(DEEP):
        jobs = [(lead, d) for lead in layer for d in moves if d.on(lead.standing.hands) != lead.standing.hands]
        after = plant.settle([lead.standing for lead, _ in jobs], [d.on(lead.standing.hands) for lead, d in jobs])
        pressed = [n for n, (_, deed) in enumerate(jobs) if deed.kind == "press"]
        let_go = plant.settle([after[n] for n in pressed], [jobs[n][1].on(after[n].hands) for n in pressed])
        back = dict(zip(pressed, let_go, strict=True))
        layer = []
        for n, (lead, deed) in enumerate(jobs):
            for standing, undone in ((back.get(n), True), (after[n], False)):
                if standing is None or (mark := _mark(standing)) in seen:
                    continue
                seen.add(mark)
                started = standing.drive(drive).moving and not lead.standing.drive(drive).moving
                start = deed if started else lead.start if standing.drive(drive).moving else None
                layer.append(Lead(standing, (*lead.path, (deed, undone)), lead, start))
        found += layer
        if not layer or len(found) > MANY:
            break
    return found


def _with_others(plant: Plant, drive: str, lead: Lead, deeds: Sequence[Deed]) -> Iterator[Base]:
    """A running state with the signals that are not in force at both their ends; once where there are none."""
    base = Base(_named(lead.standing, drive), drive, lead.standing, lead.start, lead.says)
    signals = [d for d in deeds if d.kind in ("set", "give")]
    after = plant.settle([lead.standing] * len(signals), [d.on(lead.standing.hands) for d in signals])
    here = lead.standing.drive(drive)
    there = [s.drive(drive) for s in after]
    used = {
        d.device
        for d, m in zip(signals, there, strict=True)
        if m.moving != here.moving or abs(m.hz - here.hz) > _SAME_HZ
    }
    others = [d for d in signals if d.device not in used]
    if not others:
        yield base
        return
    for end, pick in (("high", max), ("low", min)):
        hands = lead.standing.hands
        for device in dict.fromkeys(d.device for d in others):
            hands = pick((d for d in others if d.device == device), key=lambda d: float(d.value)).on(hands)
        standing = plant.after(lead.standing, hands)
        yield replace(base, name=f"{base.name}, other signals {end}", standing=standing)


def _named(standing: Standing, drive: str) -> str:
    memory = standing.drive(drive)
    parts = [f"running {WAYS[memory.moving]}"]
    if memory.run:
        parts.append(f"run {memory.run}")
    if memory.reference:
        parts.append(f"reference {memory.reference}")
    return ", ".join(parts)


def _mark(standing: Standing) -> tuple[Hands, object]:
    return standing.hands, standing.memories
