"""Cables: which cores go to which far place in which cable, how many cores it has, and how they are marked."""

from __future__ import annotations

import itertools
from collections.abc import Iterator
from dataclasses import replace

from wiregen.formulas import colours
from wiregen.scheme import Scheme
from wiregen.wiring.cores import Core, CoreNeed, LaidCable, Route
from wiregen.wiring.existing import ExistingCables
from wiregen.wiring.makes import CLASS_ORDER, EARTH_MARK, Make, make_of
from wiregen.wiring.model import Cable
from wiregen.wiring.sites import Sites


def lay_cables(scheme: Scheme, sites: Sites, needs: list[CoreNeed], existing: ExistingCables) -> tuple[LaidCable, ...]:
    """All cables, by far place in declared order, then by class; cores in terminal order, spares last.

    Cables that are there already are used first; what finds no place in them goes into new ones.
    """
    groups: dict[Route, list[CoreNeed]] = {}
    for need in needs:
        groups.setdefault(need.route, []).append(need)
    devices = {name: index for index, name in enumerate(scheme.model.devices)}
    laid: list[LaidCable] = []
    taken = {*scheme.model.devices, *existing.names}
    names = (name for n in itertools.count(1) if (name := f"-WG{n}") not in taken)
    for route in sorted(groups, key=lambda r: _order(r, sites, devices)):
        make = make_of(scheme, route.category)
        members = existing.take(route, sorted(groups[route], key=lambda n: n.order), make.spare_percent)
        for part, made in _parts(members, make):
            laid.append(_lay(sites, part, made, next(names)))
    return (*existing.laid(), *laid)


def _order(route: Route, sites: Sites, devices: dict[str, int]) -> tuple[object, ...]:
    far, near = sites.order[route.far], sites.order[route.near]
    return far, near, route.part, devices.get(route.device, -1), CLASS_ORDER.index(route.category)


def _parts(needs: list[CoreNeed], make: Make) -> Iterator[tuple[list[CoreNeed], Make]]:
    """The needs of each cable. Pairs have no protective core: a device that needs one gets a cable of single cores."""
    if not make.paired:
        yield from ((part, make) for part in _cores_apart(needs, make))
        return
    earthed = {n.pin.device for n in needs if n.earth}
    yield from ((part, make) for part in _loops_apart([n for n in needs if n.pin.device not in earthed], make))
    single = replace(make, paired=False)
    yield from ((part, single) for part in _cores_apart([n for n in needs if n.pin.device in earthed], single))


def _loops_apart(needs: list[CoreNeed], make: Make) -> Iterator[list[CoreNeed]]:
    """Pairs in parts that one cable holds with its spares. A loop stays whole, its cores in order of the far device."""
    part: list[CoreNeed] = []
    pairs = 0
    for members in by_loop(needs).values():
        wanted = (len(members) + 1) // 2
        if part and pairs + wanted > make.most:
            yield part
            part, pairs = [], 0
        part += sorted(members, key=lambda n: n.rank)
        pairs += wanted
    if part:
        yield part


def by_loop(needs: list[CoreNeed]) -> dict[str, list[CoreNeed]]:
    """The needs of each loop, which share a pair."""
    found: dict[str, list[CoreNeed]] = {}
    for need in needs:
        found.setdefault(need.loop, []).append(need)
    return found


def _cores_apart(needs: list[CoreNeed], make: Make) -> Iterator[list[CoreNeed]]:
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


def _lay(sites: Sites, needs: list[CoreNeed], make: Make, name: str) -> LaidCable:
    first = needs[0]
    cores, pairs = _pairs(needs, make) if make.paired else (_numbered(needs, make), None)
    cable = Cable(
        name=name,
        a=first.near,
        b=first.far,
        category=first.category,
        cores=len(cores),
        pairs=pairs,
        used=sum(core.need is not None for core in cores),
        area_mm2=make.area_mm2,
        screened=make.screen != "none",
        screen=make.screen,
        length_m=sites.length_m(first.near, first.far, first.strip),
        marks=tuple(core.mark for core in cores),
        device=first.device,
        gauge=make.gauge,
    )
    return LaidCable(cable, tuple(cores))


def _numbered(needs: list[CoreNeed], make: Make) -> list[Core]:
    """Numbered cores, the next size made; a protective conductor is green-and-yellow and stands last."""
    signals, earths = [n for n in needs if not n.earth], [n for n in needs if n.earth]
    total = make.size(len(needs))
    cores = [Core(str(i + 1), need) for i, need in enumerate(signals)]
    cores += [Core(str(i + 1), None) for i in range(len(signals), total - len(earths))]
    return cores + [Core(EARTH_MARK, need) for need in earths]


def _pairs(needs: list[CoreNeed], make: Make) -> tuple[list[Core], int]:
    """Whole pairs a loop, in DIN 47100 colours."""
    loops = by_loop(needs)
    slots: list[CoreNeed | None] = []
    for members in loops.values():
        slots += [*members, *([None] if len(members) % 2 else [])]
    pairs = make.size(len(slots) // 2, single=len(loops) == 1 and "" not in loops)
    slots += [None] * (2 * pairs - len(slots))
    marks = [c.code("DIN 47100") for pair in range(1, pairs + 1) for c in colours.pair_colours(pair)]
    return [Core(mark, need) for mark, need in zip(marks, slots, strict=True)], pairs
