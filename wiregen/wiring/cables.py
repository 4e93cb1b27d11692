"""Cables: which cores go to which far place in which cable, how many cores it has, and how they are marked."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from wiregen import quantities
from wiregen.formulas import colours, conductors
from wiregen.formulas import cores as core_counts
from wiregen.scheme import Scheme
from wiregen.scheme.model import CableClass
from wiregen.terms import Pin
from wiregen.wiring.model import Cable
from wiregen.wiring.nets import Net

#: Area of a core by class, mm2. common practice, no source.
DEFAULT_AREA_MM2 = {
    "control": 1.0,
    "control_ac": 1.5,
    "analog": 0.75,
    "pulse": 0.75,
    "safety": 1.0,
    "thermistor": 0.75,
    "power": 2.5,
}
#: Analog and pulse signals run in screened pairs. common practice, no source.
PAIRED = frozenset({"analog", "pulse"})
DEFAULT_SCREEN = {"analog": "cabinet end", "pulse": "both ends"}
DEFAULT_SPARE = "20 %"
CLASS_ORDER = ("control", "control_ac", "safety", "analog", "pulse", "thermistor", "power")
EARTH_MARK = "GNYE"
#: Pairs that have colours of their own (DIN 47100 has 44 cores).
_COLOURED_PAIRS = 22


@dataclass(frozen=True, slots=True)
class CoreNeed:
    """One core wanted between the cabinet and a far place: its net and the pin it ends on there.

    ``order`` is its place among all cores of a cable, ``rank`` the place of its pin at the far device.
    """

    place: str
    category: str
    loop: str
    net: Net
    pin: Pin
    order: tuple[int, ...]
    rank: tuple[int, int]
    earth: bool


@dataclass(frozen=True, slots=True)
class Core:
    """One core of a cable; ``need`` is None for a spare one."""

    mark: str
    need: CoreNeed | None


@dataclass(frozen=True, slots=True)
class LaidCable:
    cable: Cable
    cores: tuple[Core, ...]


@dataclass(frozen=True, slots=True)
class _Make:
    """How the cables of one class are made in this scheme."""

    paired: bool
    spare_percent: float
    area_mm2: float
    screen: str

    @property
    def sizes(self) -> Sequence[int]:
        """The numbers of cores, or of pairs, that are made."""
        return (
            [n for n in core_counts.pair_counts() if n <= _COLOURED_PAIRS] if self.paired else core_counts.core_counts()
        )

    def size(self, used: int, *, single: bool = False) -> int:
        """The next size made for so many cores or pairs and their spares; a single instrument needs no spare pair.

        Where no size holds all the spares that are asked for, the largest made.
        """
        wanted = used if single else core_counts.needed(used, self.spare_percent)
        return core_counts.next_size(max(used, min(wanted, self.sizes[-1])), self.sizes).chosen

    @property
    def most(self) -> int:
        """How many cores or pairs one cable can use and still have its spares; at least one."""
        return next(
            (n for n in range(self.sizes[-1], 1, -1) if core_counts.needed(n, self.spare_percent) <= self.sizes[-1]), 1
        )


def lay_cables(scheme: Scheme, cabinet: str, needs: list[CoreNeed]) -> tuple[LaidCable, ...]:
    """All cables, by place in declared order, then by class; cores in terminal order, spares last."""
    places = list(scheme.model.places)
    groups: dict[tuple[int, int], list[CoreNeed]] = {}
    for need in needs:
        groups.setdefault((places.index(need.place), CLASS_ORDER.index(need.category)), []).append(need)
    laid: list[LaidCable] = []
    names = (name for n in itertools.count(1) if (name := f"-WG{n}") not in scheme.model.devices)
    for key in sorted(groups):
        members = sorted(groups[key], key=lambda n: n.order)
        make = _make(scheme, members[0].category)
        for part, made in _parts(members, make):
            laid.append(_lay(scheme, cabinet, part, made, next(names)))
    return tuple(laid)


def _make(scheme: Scheme, category: str) -> _Make:
    said = scheme.model.cabling.classes.get(category) or CableClass()  # type: ignore[call-overload]
    spare = said.spare or scheme.model.cabling.spare or DEFAULT_SPARE
    return _Make(
        paired=said.pairs if said.pairs is not None else category in PAIRED,
        spare_percent=quantities.parse(spare, "%"),
        area_mm2=_area_mm2(said.area) if said.area else DEFAULT_AREA_MM2[category],
        screen=said.screen or DEFAULT_SCREEN.get(category, "none"),
    )


def _area_mm2(text: str) -> float:
    gauge = conductors.awg_gauge(text)
    return quantities.parse(text, "mm2") if gauge is None else round(conductors.awg_area_mm2(gauge), 2)


def _parts(needs: list[CoreNeed], make: _Make) -> Iterator[tuple[list[CoreNeed], _Make]]:
    """The needs of each cable. Pairs have no protective core: a device that needs one gets a cable of single cores."""
    if not make.paired:
        yield from ((part, make) for part in _cores_apart(needs, make))
        return
    earthed = {n.pin.device for n in needs if n.earth}
    yield from ((part, make) for part in _loops_apart([n for n in needs if n.pin.device not in earthed], make))
    single = replace(make, paired=False)
    yield from ((part, single) for part in _cores_apart([n for n in needs if n.pin.device in earthed], single))


def _loops_apart(needs: list[CoreNeed], make: _Make) -> Iterator[list[CoreNeed]]:
    """Pairs in parts that one cable holds with its spares. A loop stays whole, its cores in order of the far device."""
    part: list[CoreNeed] = []
    pairs = 0
    for members in _by_loop(needs).values():
        wanted = (len(members) + 1) // 2
        if part and pairs + wanted > make.most:
            yield part
            part, pairs = [], 0
        part += sorted(members, key=lambda n: n.rank)
        pairs += wanted
    if part:
        yield part


def _by_loop(needs: list[CoreNeed]) -> dict[str, list[CoreNeed]]:
    found: dict[str, list[CoreNeed]] = {}
    for need in needs:
        found.setdefault(need.loop, []).append(need)
    return found


def _cores_apart(needs: list[CoreNeed], make: _Make) -> Iterator[list[CoreNeed]]:
    """Cores in parts that one cable holds with its spares.

    A cable has one protective core: of several devices that need one, each gets a cable of its own.
    """
    earths = [n.pin.device for n in needs if n.earth]
    own = earths if len(earths) > 1 else []
    for members in (
        [n for n in needs if n.pin.device not in own],
        *([n for n in needs if n.pin.device == d] for d in own),
    ):
        for start in range(0, len(members), make.most):
            yield members[start : start + make.most]


def _lay(scheme: Scheme, cabinet: str, needs: list[CoreNeed], make: _Make, name: str) -> LaidCable:
    place = needs[0].place
    cores, pairs = _pairs(needs, make) if make.paired else (_numbered(needs, make), None)
    cable = Cable(
        name=name,
        a=cabinet,
        b=place,
        category=needs[0].category,
        cores=len(cores),
        pairs=pairs,
        used=sum(core.need is not None for core in cores),
        area_mm2=make.area_mm2,
        screened=make.screen != "none",
        screen=make.screen,
        length_m=route_length(scheme, cabinet, place),
        marks=tuple(core.mark for core in cores),
    )
    return LaidCable(cable, tuple(cores))


def _numbered(needs: list[CoreNeed], make: _Make) -> list[Core]:
    """Numbered cores, the next size made; a protective conductor is green-and-yellow and stands last."""
    signals, earths = [n for n in needs if not n.earth], [n for n in needs if n.earth]
    total = make.size(len(needs))
    cores = [Core(str(i + 1), need) for i, need in enumerate(signals)]
    cores += [Core(str(i + 1), None) for i in range(len(signals), total - len(earths))]
    return cores + [Core(EARTH_MARK, need) for need in earths]


def _pairs(needs: list[CoreNeed], make: _Make) -> tuple[list[Core], int]:
    """Whole pairs a loop, in DIN 47100 colours."""
    loops = _by_loop(needs)
    slots: list[CoreNeed | None] = []
    for members in loops.values():
        slots += [*members, *([None] if len(members) % 2 else [])]
    pairs = make.size(len(slots) // 2, single=len(loops) == 1 and "" not in loops)
    slots += [None] * (2 * pairs - len(slots))
    marks = [c.code("DIN 47100") for pair in range(1, pairs + 1) for c in colours.pair_colours(pair)]
    return [Core(mark, need) for mark, need in zip(marks, slots, strict=True)], pairs


def route_length(scheme: Scheme, cabinet: str, place: str) -> float | None:
    """m of cable route between a cabinet and a place, None where the scheme declares none."""
    route = scheme.model.places[place].route
    text = route.get(cabinet) if isinstance(route, dict) else route
    return quantities.parse(text, "m") if text else None
