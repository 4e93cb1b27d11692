"""Cables that are there already: they are used first, on the cores that are fixed, else in order; they are finite."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from wiregen.formulas import colours
from wiregen.formulas import cores as core_counts
from wiregen.scheme import Scheme
from wiregen.scheme.as_built import BuiltCable
from wiregen.scheme.model import ExistingCable
from wiregen.terms import Notice, Pin
from wiregen.wiring.as_wired import AsWired, Report
from wiregen.wiring.cores import Core, CoreNeed, LaidCable, Route
from wiregen.wiring.kept import Kept
from wiregen.wiring.makes import COLOURED, DEFAULT_AREA_MM2, EARTH_MARK, PAIRED, area_of, gauge_of, make_of
from wiregen.wiring.model import Cable
from wiregen.wiring.sites import Sites

#: Classes that old cables mix: what is fixed so stays so, and review says what is wrong with it.
_BESIDE = frozenset({"control", "thermistor"})


@dataclass(slots=True)
class _Open:
    """An existing cable while its cores are given out."""

    name: str
    declared: ExistingCable
    marks: tuple[str, ...]
    route: Route | None = None
    of_mark: dict[str, CoreNeed] = field(default_factory=dict)
    built: BuiltCable | None = None  # of an earlier pack: nothing in the scheme declares it
    paired: dict[str, bool] = field(default_factory=dict)  # by class, as the scheme has its cables made

    def fits(self, route: Route) -> bool:
        """Whether it runs so, is of that class, and holds nothing that must be kept apart from it."""
        return self.declared.class_ == route.category and self._runs(route)

    def may_hold(self, route: Route) -> bool:
        """Whether a core that is fixed in it may lie there beside cores of another class."""
        return route.category in _BESIDE and self.declared.class_ in _BESIDE and self._runs(route)

    def _runs(self, route: Route) -> bool:
        own = {self.declared.from_, self.declared.to} == {route.near, route.far}
        if self.built is not None:
            return own and self.route in (None, route) and self._made_alike(route)
        return own and not route.device and (self.route is None or self.route.part == route.part)

    def _made_alike(self, route: Route) -> bool:
        """Whether its cores are in pairs or not, as its class is made now; with a protective core they never are."""
        in_pairs = self.built is not None and self.built.pairs is not None
        return in_pairs == self.paired.get(route.category, False) or EARTH_MARK in self.marks

    def mark(self, core: str) -> str | None:
        """The mark of a core by its mark, or of a coloured one by its number."""
        if core in self.marks:
            return core
        return self.marks[int(core) - 1] if core.isdecimal() and 0 < int(core) <= len(self.marks) else None


class ExistingCables:
    """Gives out the cores of existing cables, and says what does not fit."""

    def __init__(self, scheme: Scheme, sites: Sites, wanted: Sequence[AsWired], kept: Kept, report: Report) -> None:
        self._scheme, self._sites, self._report = scheme, sites, report
        self._cables = [_Open(name, c, _marks(c)) for name, c in scheme.model.cabling.existing.items()]
        paired = {c: make_of(scheme, c).paired for c in DEFAULT_AREA_MM2}
        self._cables += [_built(cable, marks, paired) for cable, marks in kept.cables() if _runs_still(cable, sites)]
        self._of_name = {cable.name: cable for cable in reversed(self._cables)}
        self.names = frozenset((*(c.name for c in self._cables), *(c.name for c in kept.built.cables)))
        self._wanted = [w for w in wanted if w.cable or w.core]
        self._firm = [w for w in self._wanted if w.firm]
        self._of_want: dict[AsWired, CoreNeed] = {}
        self._routes: dict[AsWired, Route] = {}
        self._told: set[AsWired] = set()
        for want in (w for w in self._wanted if w.where):
            self._check(want)

    def take(self, route: Route, needs: list[CoreNeed], spare_percent: float) -> list[CoreNeed]:
        """Put as many of ``needs`` as there is room for into existing cables; gives the rest, which need new ones."""
        wants = self._matched(needs)
        left = list(needs)
        mine = {want.cable for want in wants}
        earthed = any(need.earth for need in needs)
        for cable in (c for c in self._cables if c.fits(route) and (c.built is None or c.name in mine)):
            if cable.built is not None and EARTH_MARK in cable.marks and not earthed:
                continue  # a protective core is never a spare one
            cable.route = route
            before = len(left)
            self._fixed(cable, left, wants)
            held = [need.run for want, need in wants.items() if want.cable and want.cable != cable.name]
            self._in_order(cable, left, held)
            self._judge(cable, before, left, spare_percent)
        self._beside(route, left, wants, spare_percent)
        self._remember(route, needs)
        return left

    def _beside(self, route: Route, left: list[CoreNeed], wants: dict[AsWired, CoreNeed], spare_percent: float) -> None:
        """What is fixed in a cable of another class, and nothing else, goes there."""
        for cable in (c for c in self._cables if c.may_hold(route) and not c.fits(route)):
            before = len(left)
            self._fixed(cable, left, {want: need for want, need in wants.items() if want.firm})
            if len(left) < before:
                self._judge(cable, 0, [], spare_percent)

    def laid(self) -> tuple[LaidCable, ...]:
        """Every existing cable, used or not; and a word on each core that could not be brought where it is fixed."""
        for want in self._wanted:
            if want.firm and want not in self._of_want:
                self._elsewhere(want)
        return tuple(self._lay(cable) for cable in self._cables if cable.built is None or cable.of_mark)

    def core_of(self, want: AsWired) -> int | None:
        """The run of the core that an entry names."""
        need = self._of_want.get(want)
        return need.run if need else None

    # Cores that are fixed

    def _matched(self, needs: list[CoreNeed]) -> dict[AsWired, CoreNeed]:
        """The need that each entry means: the core of its net; where several lead that way, the one to its own pin."""
        found: dict[AsWired, CoreNeed] = {}
        taken: set[int] = set()
        at_pin: dict[Pin, list[CoreNeed]] = {}
        for need in needs if self._wanted else ():
            for pin in need.net.pins:
                at_pin.setdefault(pin, []).append(need)
        for want in (w for w in self._wanted if w.pin in at_pin):
            cable = self._of_name.get(want.cable or "")
            own = [n for n in at_pin[want.pin] if n.run not in taken]
            own = [n for n in own if cable and (cable.fits(n.route) or (want.firm and cable.may_hold(n.route)))]
            best = next((n for n in own if n.pin == want.pin), own[0] if own else None)
            if best is not None and want not in self._of_want:
                found[want] = best
                taken.add(best.run)
        return found

    def _fixed(self, cable: _Open, left: list[CoreNeed], wants: dict[AsWired, CoreNeed]) -> None:
        for want, need in wants.items():
            mark = cable.mark(want.core) if want.core else None
            if want.cable != cable.name or need not in left:
                continue
            if mark is None:
                mark = self._free(cable, [need])
            if mark is None or (mark in cable.of_mark and cable.of_mark[mark].net.key != need.net.key):
                if want.firm and mark in cable.of_mark:
                    self._twice(want, cable, str(mark))
                continue
            if mark in cable.of_mark or (mark == EARTH_MARK) != need.earth:
                continue
            cable.of_mark[mark] = need
            self._of_want[want] = need
            left.remove(need)

    def _check(self, want: AsWired) -> None:
        """Cables and cores that are named and not there."""
        cable = self._of_name.get(want.cable or "")
        if want.cable is None:
            text = f"core {want.core} is fixed at {want.title}, and no cable: say which, as in cable: -W7"
        elif cable is None:
            there = ", ".join(self._scheme.model.cabling.existing) or "none"
            text = (
                f"{want.cable} is fixed at {want.title}, and `cabling: existing` does not declare it (it has: {there})"
            )
        elif want.core is not None and cable.mark(want.core) is None:
            text = f"{cable.name} has no core {want.core} for {want.title}; its cores are {', '.join(cable.marks)}"
        else:
            return
        self._report(Notice("fixed-cable-unknown", want.where, want.title, text))

    def _twice(self, want: AsWired, cable: _Open, mark: str) -> None:
        other = next((w.title for w, need in self._of_want.items() if need is cable.of_mark[mark]), "another signal")
        text = f"core {mark} of {cable.name} is fixed for {want.title} and for {other}; a core carries one conductor"
        self._told.add(want)
        self._report(Notice("core-fixed-twice", want.where, want.title, text))

    def _remember(self, route: Route, needs: list[CoreNeed]) -> None:
        for want in (w for w in self._wanted if w.firm):
            if any(want.pin in n.net.pins for n in needs):
                self._routes.setdefault(want, route)

    def _elsewhere(self, want: AsWired) -> None:
        """The cable is there, but the conductor does not go where it runs."""
        cable = self._of_name.get(want.cable or "")
        if cable is None or (want.core and cable.mark(want.core) is None) or want in self._told:
            return
        route = self._routes.get(want)
        runs = f"{cable.name} runs from {cable.declared.from_} to {cable.declared.to}, class {cable.declared.class_}"
        goes = f"goes from {route.near} to {route.far}, class {route.category}" if route else "does not leave its place"
        text = f"{want.title} is fixed in {cable.name}, but {goes}; {runs}"
        self._report(Notice("fixed-cable-elsewhere", want.where, want.title, text))

    # The others

    def _in_order(self, cable: _Open, left: list[CoreNeed], held: list[int]) -> None:
        """The needs that are left, in order, on free cores; a loop of a paired class takes whole pairs."""
        units: dict[object, list[CoreNeed]] = {}
        for need in left:
            if need.run not in held:
                own = need.category in PAIRED and not need.earth
                units.setdefault(need.loop if own else need.run, []).append(need)
        for members in units.values():
            if members[0].category in PAIRED and len(members) > 1:
                self._pairs(cable, sorted(members, key=lambda n: n.rank), left)
            elif mark := self._free(cable, members):
                cable.of_mark[mark] = members[0]
                left.remove(members[0])

    def _free(self, cable: _Open, members: list[CoreNeed]) -> str | None:
        waiting = (w for w in self._firm if w.cable == cable.name and w not in self._of_want)
        kept = {cable.mark(w.core) for w in waiting if w.core}
        marks = [m for m in cable.marks if m not in cable.of_mark and m not in kept]
        return next((m for m in marks if (m == EARTH_MARK) == members[0].earth), None)

    def _pairs(self, cable: _Open, members: list[CoreNeed], left: list[CoreNeed]) -> None:
        plain = [m for m in cable.marks if m != EARTH_MARK]
        pairs = [plain[i : i + 2] for i in range(0, len(plain) - 1, 2)]
        free = [pair for pair in pairs if not set(pair) & cable.of_mark.keys()]
        wanted = (len(members) + 1) // 2
        if len(free) < wanted:
            return
        marks = [mark for pair in free[:wanted] for mark in pair]
        for mark, need in zip(marks, members, strict=False):
            cable.of_mark[mark] = need
            left.remove(need)

    def _judge(self, cable: _Open, before: int, left: list[CoreNeed], spare_percent: float) -> None:
        used, cores = len(cable.of_mark), len(cable.marks)
        if cable.built is not None and used <= cable.built.used:
            return  # as it was
        where = ("cabling", "existing", cable.name)
        asked = core_counts.needed(used, spare_percent) - used if used else 0
        if left and used and cable.built is None:
            names = ", ".join(dict.fromkeys(n.net.uses[n.pin].function if n.pin in n.net.uses else "" for n in left))
            text = (
                f"{before} cores are wanted where {cable.name} runs, and {before - len(left)} find a place in it; "
                f"a new cable takes the rest: {names}"
            )
            self._report(
                Notice("existing-cable-full", where, cable.name, text, value=before, limit=cores, unit="cores")
            )
        if cores - used < asked:
            policy = "one spare" if asked == 1 else f"{asked} spares"
            text = f"{used} of {cores} cores of {cable.name} are used; the policy asks for {policy}"
            self._report(
                Notice("spare-below-policy", where, cable.name, text, value=cores - used, limit=asked, unit="cores")
            )

    def _lay(self, cable: _Open) -> LaidCable:
        said = cable.declared
        near, far = (said.from_, said.to) if self._sites.near_first(said.from_, said.to) else (said.to, said.from_)
        strip = any(need.strip for need in cable.of_mark.values())
        screen = said.screen or "none"
        if cable.built is not None and cable.route is not None:
            return self._lay_built(cable, cable.built, cable.route, near, far)
        made = Cable(
            name=cable.name,
            a=near,
            b=far,
            category=said.class_,
            cores=len(cable.marks),
            pairs=None,
            used=len(cable.of_mark),
            area_mm2=area_of(said.area) if said.area else DEFAULT_AREA_MM2[said.class_],
            gauge=gauge_of(said.area),
            screened=screen != "none",
            screen=screen,
            length_m=self._sites.length_m(near, far, strip),
            marks=cable.marks,
            existing=True,
        )
        return LaidCable(made, tuple(Core(mark, cable.of_mark.get(mark)) for mark in cable.marks))

    def _lay_built(self, cable: _Open, built: BuiltCable, route: Route, near: str, far: str) -> LaidCable:
        """A cable of an earlier pack: its name and cores stay; how its class is made says the scheme."""
        make = make_of(self._scheme, route.category)
        made = Cable(
            name=built.name,
            a=near,
            b=far,
            category=route.category,
            cores=len(cable.marks),
            pairs=built.pairs,
            used=len(cable.of_mark),
            area_mm2=make.area_mm2,
            gauge=make.gauge,
            screened=make.screen != "none",
            screen=make.screen,
            length_m=self._sites.length_m(near, far, any(need.strip for need in cable.of_mark.values())),
            marks=cable.marks,
            device=route.device,
        )
        return LaidCable(made, tuple(Core(mark, cable.of_mark.get(mark)) for mark in cable.marks))


def _built(cable: BuiltCable, marks: tuple[str, ...], paired: dict[str, bool]) -> _Open:
    declared = ExistingCable.model_validate(
        {"from": cable.a, "to": cable.b, "cores": str(max(1, len(marks))), "class": cable.category}
    )
    return _Open(cable.name, declared, marks, built=cable, paired=paired)


def _runs_still(cable: BuiltCable, sites: Sites) -> bool:
    return cable.a in sites.order and cable.b in sites.order and cable.category in DEFAULT_AREA_MM2


def _marks(cable: ExistingCable) -> tuple[str, ...]:
    """The marks of all cores in order; the protective one, if it has one, last."""
    count = int(cable.cores) - int(cable.pe)
    coloured = cable.marks == "colours"
    names = (
        colours.core_colour(n).code("DIN 47100") if coloured and n <= COLOURED else str(n) for n in range(1, count + 1)
    )
    return (*names, *((EARTH_MARK,) if cable.pe else ()))
