"""What can be seen of a standing, and how two of them differ."""

from __future__ import annotations

from dataclasses import dataclass, field

from wiregen.behaviour.drive import DriveMemory, running
from wiregen.behaviour.plant import Plant
from wiregen.behaviour.standing import Memory, Reading, Standing

#: Speeds differ by more than this [Hz] or this part; shown values by this part of their range. typical, invented.
_HZ, _HZ_PART, _SHOWN_PART = 0.5, 0.03, 0.03


@dataclass(frozen=True, slots=True)
class Motion:
    """What a drive does: ``moving`` 1, -1 or 0, ``hz`` [Hz], why it tripped, which lost signal it does without."""

    moving: int
    hz: float
    tripped: str
    fed: bool = True
    answered: str = ""

    def says(self) -> str:
        """In words."""
        if not self.moving:
            return "tripped" if self.tripped else "still"
        return running(self.moving, self.hz)


@dataclass(frozen=True, slots=True)
class View:
    """A standing as people and controllers see it. ``acting`` holds (controller, function) that act."""

    motions: tuple[Motion, ...]  # in the order of the plant's drives
    acting: frozenset[tuple[str, str]]
    lit: frozenset[str]
    reads: frozenset[tuple[str, str]]
    values: tuple[float, ...]  # what meters and analog inputs of cards show, in parts of their range
    strained: frozenset[str]
    restless: bool


def faster(a: float, b: float) -> bool:
    """Whether ``a`` [Hz] is clearly more than ``b``."""
    return a - b > max(_HZ, _HZ_PART * max(a, b))


def same_speed(a: float, b: float) -> bool:
    """Whether neither of two speeds [Hz] is clearly more than the other."""
    return not (faster(a, b) or faster(b, a))


def same_motion(a: Motion, b: Motion) -> bool:
    """Whether two drives do the same, as far as anybody could tell."""
    return a.moving == b.moving and bool(a.tripped) == bool(b.tripped) and same_speed(a.hz, b.hz)


def shows_the_same(a: View, b: View) -> bool:
    """Whether lamps, meters and what cards read agree."""
    return (
        a.lit == b.lit
        and a.reads == b.reads
        and all(abs(x - y) <= _SHOWN_PART for x, y in zip(a.values, b.values, strict=True))
    )


def looks_the_same(a: View, b: View) -> bool:
    """Whether nobody could tell the two apart by motors, lamps, meters and what cards read."""
    return shows_the_same(a, b) and all(same_motion(x, y) for x, y in zip(a.motions, b.motions, strict=True))


@dataclass
class Viewer:
    """Makes views of a plant's standings, each once."""

    plant: Plant
    _acting: dict[tuple[int, ...], tuple[frozenset[tuple[str, str]], frozenset[tuple[str, str]]]] = field(
        default_factory=dict
    )
    _known: dict[tuple[tuple[tuple[str, Memory], ...], Reading, bool], View] = field(default_factory=dict)

    def __post_init__(self) -> None:
        cards = {name for name, _ in self.plant.cards}
        self._shown = [(n, s.full) for n, s in enumerate(self.plant.observer.signals) if s.pin.device in cards]

    def view(self, standing: Standing) -> View:
        reading = standing.reading
        assert reading is not None
        key = (standing.memories, reading, standing.restless)
        found = self._known.get(key)
        if found is None:
            acting, reads = self._of_levels(reading.levels)
            motions = tuple(
                Motion(m.moving, m.hz, m.tripped, m.fed, m.answered)
                for _, m in standing.memories
                if isinstance(m, DriveMemory)
            )
            hot = frozenset(
                (name, "motor thermistor")
                for name, m in standing.memories
                if isinstance(m, DriveMemory) and "motor thermistor" in m.acting
            )
            values = tuple(reading.values[n] / span for n, span in self._shown)
            meters = self.plant.observer.meters
            values += tuple(v / m.full for m, (_, v) in zip(meters, reading.shown, strict=True))
            found = View(motions, acting | hot, reading.lit, reads, values, reading.strained, standing.restless)
            self._known[key] = found
        return found

    def _of_levels(self, levels: tuple[int, ...]) -> tuple[frozenset[tuple[str, str]], frozenset[tuple[str, str]]]:
        found = self._acting.get(levels)
        if found is None:
            doubt = self.plant.doubt
            controllers = frozenset(
                (name, w.function) for name, c in self.plant.controllers for w in c.wires if w.acts(levels, doubt)
            )
            reads = frozenset(
                (name, w.function) for name, wires in self.plant.cards for w in wires if w.acts(levels, doubt)
            )
            found = self._acting[levels] = controllers, reads
        return found
