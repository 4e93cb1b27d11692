"""Strip terminals for every net, core and screen of a scheme, before any conductor is made."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterable

from wiregen.terms import Notice, Pin
from wiregen.wiring.as_wired import AsWired, Report
from wiregen.wiring.cores import CoreNeed, LaidCable
from wiregen.wiring.existing import ExistingCables
from wiregen.wiring.kept import Kept
from wiregen.wiring.landing import NetPlan
from wiregen.wiring.sites import Sites
from wiregen.wiring.strips import HubKey, Slot, Strips, class_of_net, voltage_class

#: (run, hub): a core of a run lands on the terminals of that hub.
Landing = tuple[int, HubKey]
RunAt = tuple[NetPlan, int]  # a net's plan and the index of the run in it


class FixedTerminals:
    """Which strip terminals are fixed for a net, in which place; each is given out once."""

    def __init__(self, wanted: Iterable[AsWired], plans: list[NetPlan], places: dict[str, str], report: Report) -> None:
        """``places`` says where each strip stands that an entry names."""
        self._wanted = [w for w in wanted if w.strip is not None]
        self._places, self._report = places, report
        self._plan_of = {pin: plan for plan in plans for pin in plan.net.pins}
        self._open = [w for w in self._wanted if self._is_free(w)]

    def for_core(self, plan: NetPlan, hub: int, run: int, existing: ExistingCables) -> Pin | None:
        """The terminal on which a core lands in a hub: that of the entry that names it, else of one that names none."""
        own = self._at(plan, hub)
        exact = next((w for w in own if w.cable and existing.core_of(w) == run), None)
        return self._give(exact or next((w for w in own if not w.cable), None))

    def for_distribution(self, plan: NetPlan, hub: int) -> Pin | None:
        return self._give(next(iter(self._at(plan, hub)), None))

    @property
    def terminals(self) -> frozenset[Pin]:
        """All that an entry names."""
        return frozenset(w.strip for w in self._wanted if w.strip is not None)

    def left(self) -> list[AsWired]:
        """Entries whose conductor lands on no strip terminal of its own."""
        return [w for w in self._open if w.firm]

    def _at(self, plan: NetPlan, hub: int) -> list[AsWired]:
        place = plan.hubs[hub].place
        own = [w for w in self._open if self._plan_of.get(w.pin) is plan]
        return [w for w in own if w.strip and self._places[w.strip.device] == place]

    def _give(self, want: AsWired | None) -> Pin | None:
        if want is None:
            return None
        # Several entries may say the same of one net.
        self._open = [w for w in self._open if w.strip != want.strip]
        return want.strip

    def _is_free(self, want: AsWired) -> bool:
        """Whether no other net is fixed on the terminal before."""
        first = next(w for w in self._wanted if w.strip == want.strip)
        if self._plan_of.get(first.pin) is self._plan_of.get(want.pin):
            return True
        if want.firm:
            text = f"{want.strip} is fixed for {first.title} and for {want.title}, which are two potentials"
            self._report(Notice("strip-terminal-fixed-twice", want.where, want.title, text))
        return False


def strip_places(wanted: Iterable[AsWired], plans: list[NetPlan], sites: Sites) -> dict[str, str]:
    """Where each strip stands that an entry names: in the place that says so, else where the first such net lands."""
    plan_of = {pin: plan for plan in plans for pin in plan.net.pins}
    found = {name: place for place in sites.order if (name := sites.strip_name(place)) is not None}
    for want in wanted:
        if want.strip is not None:
            plan = plan_of.get(want.pin)
            hubs = plan.hubs if plan else ()
            found.setdefault(want.strip.device, next((hub.place for hub in hubs), sites.main))
    return found


class Allotment:
    """The slots of all strips: which core lands where, which slots distribute, which are of protective earth."""

    def __init__(
        self,
        strips: Strips,
        plans: list[NetPlan],
        cables: tuple[LaidCable, ...],
        fixed: FixedTerminals,
        existing: ExistingCables,
        runs: dict[int, RunAt],
        earth: Pin,
        kept: Kept,
    ) -> None:
        self._strips, self._fixed, self._existing, self._runs = strips, fixed, existing, runs
        self._kept, self._reserved = kept, fixed.terminals
        self.of_core: dict[Landing, Slot] = {}
        self.of_spare: dict[tuple[str, str], Slot] = {}
        self._children = Counter((plan.net.key, run.near) for plan in plans for run in plan.runs)
        for laid in cables:
            self._cable(laid, earth)
        for plan in plans:
            if plan.net.key != earth:
                self._distribution(plan)
        earth_plan = next(plan for plan in plans if plan.net.key == earth)
        self._earth(earth_plan, Counter(screen_place(laid) for laid in cables if lands_on_earth(laid, cables)))
        strips.name_all()

    def _cable(self, laid: LaidCable, earth: Pin) -> None:
        klass = voltage_class(laid.cable.category)
        for core in laid.cores:
            if core.need is None:
                place, name = laid.cable.a, laid.cable.name
                wanted = self._kept.landing(name, core.mark, place, self._reserved)
                self.of_spare[name, core.mark] = self._strips.add(place, None, klass, wanted=wanted)
            elif core.need.net.key != earth:
                self._core(core.need, klass, (laid.cable.name, core.mark))

    def _core(self, need: CoreNeed, klass: str, core: tuple[str, str]) -> None:
        plan, index = self._runs[need.run]
        run = plan.runs[index]
        if self._is_cabinet(plan, run.near):
            self._land(plan, need.run, run.near, klass, core)
        if run.far is not None:
            self._land(plan, need.run, run.far, klass, core, far=True)
            if plan.hubs[run.far].up:
                # The terminals beside it are for the device cables, one each.
                for _ in range(self._children[plan.net.key, run.far] - 1):
                    hub = plan.net.key, run.far
                    wanted = self._spread(plan, run.far)
                    self._strips.add(plan.hubs[run.far].place, hub, klass, wanted=wanted)

    def _is_cabinet(self, plan: NetPlan, hub: int) -> bool:
        return self._strips.is_cabinet(plan.hubs[hub].place)

    def _land(self, plan: NetPlan, run: int, hub: int, klass: str, core: tuple[str, str], *, far: bool = False) -> None:
        key, place = (plan.net.key, hub), plan.hubs[hub].place
        wanted = self._fixed.for_core(plan, hub, run, self._existing)
        wanted = wanted or self._kept.landing(*core, place, self._reserved, far=far)
        self.of_core[run, key] = self._strips.add(place, key, klass, wanted=wanted)

    def _spread(self, plan: NetPlan, hub: int) -> Pin | None:
        """The terminal that distributes: as it is fixed, else one that did so before."""
        said = self._fixed.for_distribution(plan, hub)
        return said or self._kept.distribution(plan.net.key, plan.hubs[hub].place, self._reserved)

    def _distribution(self, plan: NetPlan) -> None:
        """Terminals beside those on which cores land: each takes two wires, a core's terminal one more."""
        for index, hub in enumerate(plan.hubs):
            key = plan.net.key, index
            landed = len(self._strips.of_hub(key))
            children = 0 if self._is_cabinet(plan, index) or hub.up else self._children[key]
            missing = max(0, len(hub.chains) - landed) + children
            extra = (missing + 1) // 2
            for _ in range(max(extra, 0 if landed else 1)):
                wanted = self._spread(plan, index)
                self._strips.add(hub.place, key, class_of_net(plan.net), wanted=wanted)

    def _earth(self, plan: NetPlan, screens: Counter[str]) -> None:
        """Protective earth: a clamp takes one conductor; cores and screens land outside, wires of the place inside."""
        for index, hub in enumerate(plan.hubs):
            key = plan.net.key, index
            cores = sum(index in (run.near, run.far) for run in plan.runs) - int(hub.up)
            outside = cores + screens[hub.place]
            for _ in range(max(len(hub.chains), outside, 1)):
                wanted = self._spread(plan, index)
                self._strips.add(hub.place, key, "", earth=True, wanted=wanted)


def screen_place(laid: LaidCable) -> str:
    """Where the screen of a cable lands: at its near end."""
    return laid.cable.a


def lands_on_earth(laid: LaidCable, cables: tuple[LaidCable, ...]) -> bool:
    """Whether a screen lands on a PE terminal. That of a device cable goes on to the screen of its strip's cable."""
    return laid.cable.screened and screen_of_strip(laid, cables) is None


def screen_of_strip(laid: LaidCable, cables: tuple[LaidCable, ...]) -> str | None:
    """The screened cable that leads to the strip in the field from which a device cable begins."""
    if laid.cable.a != laid.cable.b:
        return None
    to_strip = itertools.chain(cables)
    return next(
        (
            c.cable.name
            for c in to_strip
            if c.cable.screened and c.cable.b == laid.cable.a != c.cable.a and c.cable.category == laid.cable.category
        ),
        None,
    )
