"""Cables: which cores go to which far place in which cable, how many cores it has, and how they are marked."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from wiregen import quantities
from wiregen.formulas import colours
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


@dataclass(frozen=True, slots=True)
class CoreNeed:
    """One core wanted between the cabinet and a far place: its net, the pin it ends on there, and its place in the order."""

    place: str
    category: str
    loop: str
    net: Net
    pin: Pin
    order: tuple[int, ...]
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


def lay_cables(scheme: Scheme, cabinet: str, needs: list[CoreNeed]) -> tuple[LaidCable, ...]:
    """All cables, by place in declared order, then by class; cores in terminal order, spares last."""
    places = list(scheme.model.places)
    groups: dict[tuple[int, int], list[CoreNeed]] = {}
    for need in needs:
        groups.setdefault((places.index(need.place), CLASS_ORDER.index(need.category)), []).append(need)
    laid: list[LaidCable] = []
    for key in sorted(groups):
        members = sorted(groups[key], key=lambda n: n.order)
        for part in _parts(members):
            laid.append(_lay(scheme, cabinet, part, f"-WG{len(laid) + 1}"))
    return tuple(laid)


def _parts(needs: list[CoreNeed]) -> Iterator[list[CoreNeed]]:
    """Split where the largest cable made would not take them with their spares. A loop stays whole."""
    category = needs[0].category
    if category in PAIRED:
        loops = list(dict.fromkeys(n.loop for n in needs))
        most = min(core_counts.pair_counts()[-1], 22) * 2 // 3
        for start in range(0, len(loops), most):
            chosen = set(loops[start : start + most])
            yield [n for n in needs if n.loop in chosen]
        return
    most = core_counts.core_counts()[-1] * 3 // 4
    for start in range(0, len(needs), most):
        yield needs[start : start + most]


def _lay(scheme: Scheme, cabinet: str, needs: list[CoreNeed], name: str) -> LaidCable:
    category, place = needs[0].category, needs[0].place
    said = scheme.model.cabling.classes.get(category) or CableClass()  # type: ignore[call-overload]
    spare = _share(said.spare or scheme.model.cabling.spare or DEFAULT_SPARE)
    paired = said.pairs if said.pairs is not None else category in PAIRED
    cores, pairs = _pairs(needs, spare) if paired else (_numbered(needs, spare), None)
    screen = said.screen or DEFAULT_SCREEN.get(category, "none")
    cable = Cable(
        name=name,
        a=cabinet,
        b=place,
        category=category,
        cores=len(cores),
        pairs=pairs,
        used=sum(core.need is not None for core in cores),
        area_mm2=quantities.parse(said.area, "mm2") if said.area else DEFAULT_AREA_MM2[category],
        screened=screen != "none",
        screen=screen,
        length_m=route_length(scheme, cabinet, place),
        marks=tuple(core.mark for core in cores),
    )
    return LaidCable(cable, tuple(cores))


def _numbered(needs: list[CoreNeed], spare: float) -> list[Core]:
    """Numbered cores, the next size made; a protective conductor is green-and-yellow and stands last."""
    signals = [n for n in needs if not n.earth]
    earths = [n for n in needs if n.earth]
    earth_count = 1 if earths else 0
    total = core_counts.next_size(
        core_counts.needed(len(signals) + earth_count, spare), core_counts.core_counts()
    ).chosen
    cores = [Core(str(i + 1), need) for i, need in enumerate(signals)]
    cores += [Core(str(i + 1), None) for i in range(len(signals), total - earth_count)]
    return cores + [Core(EARTH_MARK, need) for need in earths[:1]]


def _pairs(needs: list[CoreNeed], spare: float) -> tuple[list[Core], int]:
    """Whole pairs a loop, in DIN 47100 colours; the cable of a single instrument needs no spare pair."""
    by_loop: dict[str, list[CoreNeed]] = {}
    for need in needs:
        by_loop.setdefault(need.loop, []).append(need)
    slots: list[CoreNeed | None] = []
    for members in by_loop.values():
        slots += [*members, *([None] if len(members) % 2 else [])]
    used = len(slots) // 2
    pairs = core_counts.next_size(
        used if len(by_loop) == 1 else core_counts.needed(used, spare), core_counts.pair_counts()
    ).chosen
    slots += [None] * (2 * pairs - len(slots))
    marks = [mark for pair in range(pairs) for mark in _pair_marks(pair)]
    return [Core(mark, need) for mark, need in zip(marks, slots, strict=True)], pairs


def _pair_marks(pair: int) -> tuple[str, str]:
    """The colours of a pair, counted from 0; beyond the coloured ones pairs are numbered (common practice, no source)."""
    try:
        first, second = colours.pair_colours(pair + 1)
    except ValueError:
        return f"{pair + 1}a", f"{pair + 1}b"
    return first.code("DIN 47100"), second.code("DIN 47100")


def route_length(scheme: Scheme, cabinet: str, place: str) -> float | None:
    """m of cable route between a cabinet and a place, None where the scheme declares none."""
    route = scheme.model.places[place].route
    text = route.get(cabinet) if isinstance(route, dict) else route
    return quantities.parse(text, "m") if text else None


def _share(text: str) -> float:
    """Spare cores in % of the used ones."""
    return quantities.parse(text, "%")
