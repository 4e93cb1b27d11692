"""Nets into conductors, cables and strips: the one place where wires come into being."""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.terms import Pin
from wiregen.wiring.cables import CoreNeed, LaidCable, lay_cables
from wiregen.wiring.chains import Chain, links
from wiregen.wiring.conductors import ConductorBook, CoreAt
from wiregen.wiring.landing import NetPlan, plan_net
from wiregen.wiring.model import Conductor, Potential, Side, Strip, StripTerminal
from wiregen.wiring.nets import Net, pin_ranks
from wiregen.wiring.strips import Slot, StripBuilder, core_slots, distribution_slots


class Builder:
    """The state of wiring one scheme. Its results are read off when it has been made."""

    def __init__(
        self,
        scheme: Scheme,
        declared: Declared,
        nets: tuple[Net, ...],
        of_net: dict[Pin, Potential],
        cabinet: str,
        strip: str,
    ) -> None:
        self._declared, self._of_net, self._cabinet = declared, of_net, cabinet
        self._devices = {d.name: d for d in declared.devices}
        self._ranks = pin_ranks(declared.devices)
        self._earth = next(n.key for n in nets if of_net[n.key].kind == "earth")
        self._linked = self._links(nets)
        self._plans = [self._plan(net) for net in nets]
        self._earth_plan = next(p for p in self._plans if p.net.key == self._earth)
        self._strip = StripBuilder(strip)
        self.cables = lay_cables(scheme, self._cabinet, list(self._needs()))
        self._cores = {
            core.need.pin: (laid, core.mark) for laid in self.cables for core in laid.cores if core.need is not None
        }
        earthed = frozenset(of_net[key].name for key in self._linked)
        self._book = ConductorBook(scheme.model.practice, of_net, earthed)
        self._build()

    @property
    def conductors(self) -> tuple[Conductor, ...]:
        return tuple(self._book.all)

    def _build(self) -> None:
        slots = core_slots(self._strip, self.cables)
        distribution_slots(self._strip, self._plans, self._earth)
        for plan in self._plans:
            if plan is not self._earth_plan:
                self._wire_net(plan, slots)
        self._spares(slots)
        self._wire_earth()
        self._bridges()
        self._earth_links()

    def _plan(self, net: Net) -> NetPlan:
        forced = net.key == self._earth or net.key in self._linked
        return plan_net(net, self._declared, self._cabinet, self._clamp, forced)

    def _clamp(self, pin: Pin) -> int:
        return self._devices[pin.device].profile.conductors_at(pin.name)

    def _links(self, nets: tuple[Net, ...]) -> frozenset[Pin]:
        """The nets at which a removable earth link stands: one for each 0 V that a declaration earths."""
        earthed = {z.zero for z in self._declared.zero_volts if z.mode == "earthed"}
        found: dict[str, Pin] = {}
        for net in nets:
            if earthed & set(net.pins):
                found.setdefault(self._of_net[net.key].name, net.key)
        return frozenset(found.values())

    # Cores

    def _needs(self) -> Iterator[CoreNeed]:
        """A core for every chain in the field: + first, then 0 V, then signals, each in terminal order."""
        for plan in self._plans:
            kind = self._of_net[plan.net.key].kind
            for group in plan.groups:
                head = group.chain[0]
                first = {"plus": 0, "zero": 1}.get(kind, 2) if group.category == "control" else 0
                order = (first, *self._controller_rank(plan.net), *self._ranks[head])
                yield CoreNeed(
                    group.place, group.category, group.loop, plan.net, head, order, self._ranks[head], kind == "earth"
                )

    def _controller_rank(self, net: Net) -> tuple[int, int]:
        """Cores run in terminal order: that of the first controller's terminal in the net."""
        ranks = [self._ranks[p] for p in net.pins if self._devices[p.device].kind in ("drive", "card", "safety_relay")]
        return min(ranks) if ranks else (10**6, 0)

    # Nets

    def _wire_net(self, plan: NetPlan, slots: dict[tuple[str, str], Slot]) -> None:
        net = plan.net
        for chain in plan.local:
            self._chain(net, chain)
        for group in plan.groups:
            laid, mark = self._cores[group.chain[0]]
            self._core(net, slots[laid.cable.name, mark], group.chain, (laid, mark))
        for chain in plan.cabinet:
            self._chain(net, chain)
        heads = [chain[0] for chain in plan.cabinet]
        if not plan.direct:
            self._attach(net, heads)
        elif len(heads) == 2:
            self._book.add(net, "wire", heads[0], heads[1])

    def _core(self, net: Net, slot: Slot, chain: Chain, core: CoreAt) -> None:
        """A core from the outside of a strip terminal to the head of a chain in the field."""
        slot.take("outside", self._book.add(net, "core", self._strip.pin(slot), chain[0], "outside", None, core))
        self._chain(net, chain)

    def _attach(self, net: Net, heads: list[Pin]) -> None:
        """Inside clamps first, those of cores before those of distribution; then outside clamps that no core took."""
        slots = self._strip.of_net(net.key)
        inside: list[tuple[Slot, Side]] = [(s, "inside") for s in slots if s.inside is None]
        outside: list[tuple[Slot, Side]] = [(s, "outside") for s in slots if s.outside is None]
        places = [*inside, *outside][: len(heads)]
        for head, (slot, side) in zip(heads, places, strict=True):
            slot.take(side, self._book.add(net, "wire", head, self._strip.pin(slot), None, side))

    def _chain(self, net: Net, chain: Chain) -> None:
        for a, b in links(chain):
            self._book.add(net, "wire", a, b)

    def _spares(self, slots: dict[tuple[str, str], Slot]) -> None:
        for laid in self.cables:
            for core in laid.cores:
                if core.need is None:
                    slot = slots[laid.cable.name, core.mark]
                    slot.take("outside", self._book.spare((laid, core.mark), self._strip.pin(slot)))

    # Earth

    def _wire_earth(self) -> None:
        """Protective earth: each clamp takes one conductor; cores and screens land outside, cabinet wires inside."""
        plan = self._earth_plan
        screens = [laid for laid in self.cables if laid.cable.screened]
        if not (plan.net.pins or screens or self._linked):
            return
        for _ in range(max(len(plan.cabinet), len(screens) + len(plan.groups), 1)):
            self._strip.add(self._earth, earth=True)
        slots = self._strip.of_net(self._earth)
        for chain, slot in zip(plan.cabinet, slots, strict=False):
            slot.take("inside", self._book.add(plan.net, "wire", chain[0], self._strip.pin(slot), None, "inside"))
            self._chain(plan.net, chain)
        outside = iter(slots)
        for group in plan.groups:
            self._core(plan.net, next(outside), group.chain, self._cores[group.chain[0]])
        for laid in screens:
            slot = next(outside)
            slot.take("outside", self._screen(laid, slot))

    def _screen(self, laid: LaidCable, slot: Slot) -> str:
        screen = Pin(laid.cable.name, "screen")
        return self._book.add(self._earth_plan.net, "screen", screen, self._strip.pin(slot), None, "outside")

    def _bridges(self) -> None:
        for plan in self._plans:
            for first, second in itertools.pairwise(self._strip.of_net(plan.net.key)):
                self._book.add(plan.net, "bridge", self._strip.pin(first), self._strip.pin(second))
                first.bridged.append(second.name)
                second.bridged.append(first.name)

    def _earth_links(self) -> None:
        for plan in self._plans:
            if plan.net.key in self._linked:
                slot, earth = self._strip.of_net(plan.net.key)[-1], self._strip.of_net(self._earth)[0]
                self._book.add(plan.net, "link", self._strip.pin(slot), self._strip.pin(earth))

    # Results

    def strips(self) -> tuple[Strip, ...]:
        if not self._strip.slots:
            return ()
        terminals = tuple(self._terminal(s) for s in self._strip.slots)
        return (Strip(self._strip.strip, self._cabinet, terminals),)

    def _terminal(self, slot: Slot) -> StripTerminal:
        return StripTerminal(
            strip=self._strip.strip,
            name=slot.name,
            potential=self._of_net[slot.net].name if slot.net else None,
            inside=(slot.inside,) if slot.inside else (),
            outside=(slot.outside,) if slot.outside else (),
            bridged_to=tuple(slot.bridged),
        )

    def strip_pins(self) -> Iterator[tuple[Pin, Pin]]:
        """(net key, strip pin) of every terminal that is in a net, and the screens with protective earth."""
        for slot in self._strip.slots:
            if slot.net is not None:
                yield slot.net, self._strip.pin(slot)
        for laid in self.cables:
            if laid.cable.screened:
                yield self._earth, Pin(laid.cable.name, "screen")
