"""Nets into conductors, cables and strips: the one place where wires come into being."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wiregen.control.functions import CONTROLLERS, Declared
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Pin
from wiregen.wiring.allotting import Allotment, FixedTerminals, RunAt, screen_of_strip, strip_places
from wiregen.wiring.as_wired import AsWired, Report
from wiregen.wiring.cables import lay_cables
from wiregen.wiring.chains import Chain, links
from wiregen.wiring.conductors import ConductorBook, CoreAt
from wiregen.wiring.cores import CoreNeed, LaidCable
from wiregen.wiring.existing import ExistingCables
from wiregen.wiring.kept import Kept
from wiregen.wiring.landing import Ground, NetPlan, Run, plan_net
from wiregen.wiring.makes import make_of
from wiregen.wiring.model import Conductor, Potential, Side, Strip, StripTerminal
from wiregen.wiring.nets import Net, pin_ranks
from wiregen.wiring.parting import Parts
from wiregen.wiring.serving import Serving
from wiregen.wiring.sites import Sites
from wiregen.wiring.strips import HubKey, Slot, Strips


class Builder:
    """The state of wiring one scheme. Its results are read off when it has been made."""

    def __init__(
        self,
        scheme: Scheme,
        declared: Declared,
        nets: tuple[Net, ...],
        of_net: dict[Pin, Potential],
        wanted: tuple[AsWired, ...],
        report: Report,
    ) -> None:
        self._declared, self._of_net, self._report = declared, of_net, report
        self._sites = Sites(scheme)
        self._devices = {d.name: d for d in declared.devices}
        self._ranks = pin_ranks(declared.devices)
        self._earth = next(n.key for n in nets if of_net[n.key].kind == "earth")
        self._linked = self._links(nets)
        self._ground = self._ground_of(scheme, declared)
        self._plans = self._planned(scheme, nets, wanted)
        self._runs: dict[int, RunAt] = dict(enumerate((p, i) for p in self._plans for i in range(len(p.runs))))
        self._run_of = {(plan.net.key, index): number for number, (plan, index) in self._runs.items()}
        self._kept = Kept(scheme, nets, of_net)
        self._existing = ExistingCables(scheme, self._sites, (*wanted, *self._kept.wants()), self._kept, report)
        self.cables = lay_cables(scheme, self._sites, list(self._needs()), self._existing)
        self._cores = {core.need.run: (laid, core.mark) for laid in self.cables for core in laid.cores if core.need}
        places = strip_places(wanted, self._plans, self._sites)
        self._strips = Strips(self._sites, self._taken(scheme), places, self._kept.mains)
        fixed = FixedTerminals(wanted, self._plans, places, report)
        self._slots = Allotment(
            self._strips, self._plans, self.cables, fixed, self._existing, self._runs, self._earth, self._kept
        )
        self._tell_left(fixed)
        earthed = frozenset(of_net[key].name for key in self._linked)
        self._book = ConductorBook(scheme.model.practice, of_net, earthed)
        self._build()

    @property
    def conductors(self) -> tuple[Conductor, ...]:
        return tuple(self._book.all)

    def _build(self) -> None:
        for plan in self._plans:
            if plan.net.key != self._earth:
                self._wire_net(plan)
        self._spares()
        self._wire_net(self._earth_plan)
        self._screens()
        self._bridges()
        self._earth_links()

    # Plans

    def _ground_of(self, scheme: Scheme, declared: Declared) -> Ground:
        place_of = {d.name: d.place for d in declared.devices}
        serving, parts = Serving(declared, self._sites), Parts(scheme, declared)
        return Ground(self._sites, place_of, self._clamp, serving.cabinet, parts.part_of)

    def _planned(self, scheme: Scheme, nets: tuple[Net, ...], wanted: tuple[AsWired, ...]) -> list[NetPlan]:
        """The plan of every net; that of protective earth last of all, since it goes wherever a screen lands."""
        on_strip = {want.pin for want in wanted if want.strip is not None}
        plans = {net.key: self._plan(net, on_strip) for net in nets if net.key != self._earth}
        earth = next(net for net in nets if net.key == self._earth)
        places = [*self._home(earth), *self._link_places(plans), *self._screened(scheme, plans)]
        plans[earth.key] = plan_net(earth, self._ground, tuple(dict.fromkeys(places)))
        return [plans[net.key] for net in nets]

    def _plan(self, net: Net, on_strip: set[Pin]) -> NetPlan:
        forced = net.key in self._linked or bool(on_strip & set(net.pins))
        return plan_net(net, self._ground, self._home(net) if forced else ())

    def _home(self, net: Net) -> tuple[str, ...]:
        """The cabinet in which a net needs a terminal if it needs one at all; none for a net without pins."""
        places = [self._ground.place_of[p.device] for p in net.pins]
        return next(((p,) for p in places if self._sites.is_cabinet(p)), (self._sites.main,) if places else ())

    def _link_places(self, plans: dict[Pin, NetPlan]) -> list[str]:
        return [plans[key].hubs[0].place for key in self._linked]

    def _screened(self, scheme: Scheme, plans: dict[Pin, NetPlan]) -> list[str]:
        """The cabinets at which screens land."""
        runs = [(plan, run) for plan in plans.values() for run in plan.runs]
        existing = [c.from_ for c in scheme.model.cabling.existing.values() if (c.screen or "none") != "none"]
        existing += [c.to for c in scheme.model.cabling.existing.values() if (c.screen or "none") != "none"]
        made = [p.hubs[r.near].place for p, r in runs if make_of(scheme, r.category).screen != "none"]
        return [place for place in (*made, *existing) if self._sites.is_cabinet(place)]

    @property
    def _earth_plan(self) -> NetPlan:
        return next(p for p in self._plans if p.net.key == self._earth)

    def _clamp(self, pin: Pin) -> int:
        return self._devices[pin.device].profile.conductors_at(pin.name)

    def _links(self, nets: tuple[Net, ...]) -> dict[Pin, None]:
        """The nets at which a removable earth link stands: one for each 0 V that a declaration earths."""
        earthed = {z.zero for z in self._declared.zero_volts if z.mode == "earthed"}
        found: dict[str, Pin] = {}
        for net in nets:
            if earthed & set(net.pins):
                found.setdefault(self._of_net[net.key].name, net.key)
        return dict.fromkeys(found.values())

    def _taken(self, scheme: Scheme) -> list[str]:
        return [*self._devices, *scheme.model.cabling.existing, *(laid.cable.name for laid in self.cables)]

    # Cores

    def _needs(self) -> Iterator[CoreNeed]:
        """A core for every run: + first, then 0 V, then signals, each in terminal order."""
        for number, (plan, index) in self._runs.items():
            run, net = plan.runs[index], plan.net
            head = run.chain[0] if run.chain else self._first_beyond(plan, index)
            kind = self._of_net[net.key].kind
            first = {"plus": 0, "zero": 1}.get(kind, 2) if run.category == "control" else 0
            rank = self._ranks.get(head, (0, 0))
            yield CoreNeed(
                run=number,
                near=plan.hubs[run.near].place,
                far=run.place,
                device=run.device,
                strip=run.far is not None,
                category=run.category,
                loop=run.loop,
                part=run.part,
                net=net,
                pin=head,
                order=(first, *self._controller_rank(net), *rank),
                rank=rank,
                earth=kind == "earth",
            )

    def _first_beyond(self, plan: NetPlan, index: int) -> Pin:
        """The first pin that a core to another strip brings the net to."""
        far = plan.runs[index].far
        assert far is not None
        chains = plan.hubs[far].chains or tuple(run.chain for run in plan.runs if run.near == far and run.chain)
        return chains[0][0] if chains else plan.net.key

    def _controller_rank(self, net: Net) -> tuple[int, int]:
        """Cores run in terminal order: that of the first controller's terminal in the net."""
        ranks = [self._ranks[p] for p in net.pins if self._devices[p.device].kind in CONTROLLERS]
        return min(ranks) if ranks else (10**6, 0)

    # Nets

    def _wire_net(self, plan: NetPlan) -> None:
        net = plan.net
        for chain in plan.local:
            self._chain(net, chain)
        for index, run in enumerate(plan.runs):
            self._core(plan, index, run)
        for number, hub in enumerate(plan.hubs):
            self._attach(net, hub.chains, (net.key, number))
        for chain in plan.direct:
            self._chain(net, chain)
        if len(plan.direct) == 2:
            self._book.add(net, "wire", plan.direct[0][0], plan.direct[1][0])

    def _core(self, plan: NetPlan, index: int, run: Run) -> None:
        """A core from a strip terminal to the head of a chain in the field, or to a terminal of another strip."""
        number = self._run_of[plan.net.key, index]
        core: CoreAt = self._cores[number]
        near, side = self._clamp_of(plan, number, run.near)
        if run.far is None:
            near.take(side, self._book.add(plan.net, "core", near.pin, run.chain[0], side, None, core))
            self._chain(plan.net, run.chain)
            return
        up = plan.hubs[run.far].up
        far, far_side = self._clamp_of(plan, number, run.far, "inside" if up else "outside")
        made = self._book.add(plan.net, "core", near.pin, far.pin, side, far_side, core)
        near.take(side, made)
        far.take(far_side, made)

    def _clamp_of(self, plan: NetPlan, run: int, hub: int, side: Side = "outside") -> tuple[Slot, Side]:
        """The clamp on which a core lands: that of its own terminal, else the first free one of the hub."""
        key: HubKey = (plan.net.key, hub)
        own = self._slots.of_core.get((run, key))
        if own is not None:
            return own, side
        other: Side = "inside" if side == "outside" else "outside"
        laid, mark = self._cores[run]
        return self._first_free(self._strips.of_hub(key), (side, other), self._kept.core_clamps(laid.cable.name, mark))

    def _first_free(
        self, slots: list[Slot], sides: tuple[Side, ...], before: list[tuple[Pin, Side]]
    ) -> tuple[Slot, Side]:
        """A free clamp on the first side that has one: where the conductor was, else where none was, else any."""
        free = [(slot, at) for at in sides for slot in slots if slot.is_free(at)]
        free = [at for at in free if at[1] == free[0][1]]
        own = (at for at in free if (at[0].pin, at[1]) in before)
        fresh = (at for at in free if not self._kept.is_taken(at[0].pin, at[1]))
        return next(own, None) or next(fresh, None) or free[0]

    def _attach(self, net: Net, chains: tuple[Chain, ...], hub: HubKey) -> None:
        """Inside clamps first, those of cores before those of distribution; then outside clamps that no core took."""
        slots = self._strips.of_hub(hub)
        sides: tuple[Side, Side] = ("inside", "outside")
        # A wire that is there stays on its clamp; the others take what is left.
        for chain, place in self._stay(chains, slots):
            slot, side = place or self._first_free(slots, sides, [])
            slot.take(side, self._book.add(net, "wire", chain[0], slot.pin, None, side))
            self._chain(net, chain)

    def _stay(self, chains: tuple[Chain, ...], slots: list[Slot]) -> list[tuple[Chain, tuple[Slot, Side] | None]]:
        """Each chain with the clamp on which it is wired already; those without one come last."""
        of_pin = {slot.pin: slot for slot in slots}
        taken: set[tuple[Pin, Side]] = set()
        found: list[tuple[Chain, tuple[Slot, Side] | None]] = []
        for chain in chains:
            clamps = [(of_pin[p], side) for p, side in self._kept.clamps(chain[0]) if p in of_pin]
            own = next((at for at in clamps if at[0].is_free(at[1]) and (at[0].pin, at[1]) not in taken), None)
            if own is not None:
                taken.add((own[0].pin, own[1]))
            found.append((chain, own))
        return sorted(found, key=lambda entry: entry[1] is None)

    def _chain(self, net: Net, chain: Chain) -> None:
        for a, b in links(chain):
            self._book.add(net, "wire", a, b)

    def _spares(self) -> None:
        for laid in self.cables:
            for core in laid.cores:
                if core.need is None:
                    slot = self._slots.of_spare[laid.cable.name, core.mark]
                    slot.take("outside", self._book.spare((laid, core.mark), slot.pin))

    # Earth

    def _screens(self) -> None:
        """Each screen lands on protective earth at its near end, or goes on to the screen of the cable to its strip."""
        for laid in self.cables:
            if not laid.cable.screened:
                continue
            screen, net = Pin(laid.cable.name, "screen"), self._earth_plan.net
            onward = screen_of_strip(laid, self.cables)
            if onward is not None:
                self._book.add(net, "screen", screen, Pin(onward, "screen"))
                continue
            slot = self._earth_slot(laid)
            slot.take("outside", self._book.add(net, "screen", screen, slot.pin, None, "outside"))

    def _earth_slot(self, laid: LaidCable) -> Slot:
        hubs = [(self._earth, i) for i, hub in enumerate(self._earth_plan.hubs) if hub.place == laid.cable.a]
        slots = [slot for hub in hubs for slot in self._strips.of_hub(hub)]
        return self._first_free(slots, ("outside",), self._kept.clamps(Pin(laid.cable.name, "screen")))[0]

    def _bridges(self) -> None:
        for plan in self._plans:
            for number in range(len(plan.hubs)):
                for first, second in itertools.pairwise(self._strips.of_hub((plan.net.key, number))):
                    self._book.add(plan.net, "bridge", first.pin, second.pin)
                    first.bridged.append(second.name)
                    second.bridged.append(first.name)

    def _earth_links(self) -> None:
        for plan in self._plans:
            if plan.net.key in self._linked:
                slots, links = self._strips.of_hub((plan.net.key, 0)), self._kept.links()
                slot = next((s for s in slots if s.pin in links), slots[-1])
                earths = [i for i, hub in enumerate(self._earth_plan.hubs) if hub.place == plan.hubs[0].place]
                self._book.add(plan.net, "link", slot.pin, self._strips.of_hub((self._earth, earths[0]))[0].pin)

    # Results

    def _tell_left(self, fixed: FixedTerminals) -> None:
        for want in fixed.left():
            text = f"{want.strip} is fixed at {want.title}, whose conductor has no terminal left to land there"
            self._report(Notice("fixed-strip-unknown", want.where, want.title, text))

    def strips(self) -> tuple[Strip, ...]:
        return tuple(
            Strip(name, place, tuple(self._terminal(s) for s in slots)) for name, place, slots in self._strips.all()
        )

    def _terminal(self, slot: Slot) -> StripTerminal:
        return StripTerminal(
            strip=slot.strip,
            name=slot.name,
            potential=self._of_net[slot.hub[0]].name if slot.hub else None,
            inside=(slot.inside,) if slot.inside else (),
            outside=(slot.outside,) if slot.outside else (),
            bridged_to=tuple(slot.bridged),
        )

    def strip_pins(self) -> Iterator[tuple[Pin, Pin]]:
        """(net key, strip pin) of every terminal that is in a net, and the screens with protective earth."""
        for _, _, slots in self._strips.all():
            for slot in slots:
                if slot.hub is not None:
                    yield slot.hub[0], slot.pin
        for laid in self.cables:
            if laid.cable.screened:
                yield self._earth, Pin(laid.cable.name, "screen")
