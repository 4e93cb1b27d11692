"""Nets into conductors, cables and strips: the one place where wires come into being."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.terms import Pin
from wiregen.wiring.cables import CoreNeed, LaidCable, lay_cables
from wiregen.wiring.chains import links
from wiregen.wiring.colours import core_colour, panel_area_mm2, panel_colour
from wiregen.wiring.landing import NetPlan, plan_net
from wiregen.wiring.model import Conductor, ConductorKind, Potential, Side, Strip, StripTerminal
from wiregen.wiring.nets import Net, pin_ranks
from wiregen.wiring.strips import Slot, StripBuilder, core_slots, distribution_slots


class Builder:
    """The state of wiring one scheme. Its results are read off at the end."""

    def __init__(
        self,
        scheme: Scheme,
        declared: Declared,
        nets: tuple[Net, ...],
        of_net: dict[Pin, Potential],
        cabinet: str,
        strip: str,
    ) -> None:
        self._scheme, self._declared, self._of_net, self._cabinet = scheme, declared, of_net, cabinet
        self._devices = {d.name: d for d in declared.devices}
        self._ranks = pin_ranks(declared.devices)
        self._earth = next((n.key for n in nets if of_net[n.key].kind == "earth"), None)
        self._linked = self._links(nets)
        self.plans = [
            plan_net(n, declared, cabinet, self._clamp, n.key == self._earth or n.key in self._linked) for n in nets
        ]
        self.conductors: list[Conductor] = []
        self._counts: dict[str, int] = {}
        self._strip = StripBuilder(strip)
        self.cables: tuple[LaidCable, ...] = ()

    def build(self) -> None:
        self.cables = lay_cables(self._scheme, self._cabinet, list(self._needs()))
        slots = core_slots(self._strip, self.cables)
        distribution_slots(self._strip, self.plans, self._earth)
        for plan in self.plans:
            if plan.net.key != self._earth:
                self._wire_net(plan, slots)
        self._spares(slots)
        self._wire_earth()
        self._bridges()
        self._earth_links()

    # Nets

    def _clamp(self, pin: Pin) -> int:
        return self._devices[pin.device].profile.conductors_at(pin.name)

    def _links(self, nets: tuple[Net, ...]) -> set[Pin]:
        """The nets at which a removable earth link stands: one for each 0 V that a supply's declaration earths."""
        earthed = {z.zero for z in self._declared.zero_volts if z.mode == "earthed"}
        found: dict[str, Pin] = {}
        for net in nets:
            if earthed & set(net.pins):
                found.setdefault(self._of_net[net.key].name, net.key)
        return set(found.values()) if self._earth is not None else set()

    def _needs(self) -> Iterator[CoreNeed]:
        for plan in self.plans:
            kind = self._of_net[plan.net.key].kind
            for group in plan.groups:
                first = {"plus": 0, "zero": 1}.get(kind, 2) if group.category == "control" else 0
                order = (first, *self._controller_rank(plan.net), *self._ranks[group.chain[0]])
                yield CoreNeed(
                    group.place, group.category, group.loop, plan.net, group.chain[0], order, kind == "earth"
                )

    def _controller_rank(self, net: Net) -> tuple[int, int]:
        """Cores run in terminal order: that of the first controller's terminal in the net."""
        ranks = [self._ranks[p] for p in net.pins if self._devices[p.device].kind in ("drive", "card")]
        return min(ranks) if ranks else (10**6, 0)

    def _wire_net(self, plan: NetPlan, slots: dict[tuple[str, str], Slot]) -> None:
        net = plan.net
        for chain in plan.local:
            self._chain(net, chain)
        for group in plan.groups:
            self._core(net, group.chain[0], slots)
            self._chain(net, group.chain)
        for chain in plan.cabinet:
            self._chain(net, chain)
        if plan.direct:
            if len(plan.cabinet) == 2:
                self._wire(net, plan.cabinet[0][0], plan.cabinet[1][0])
            return
        self._attach(net, [chain[0] for chain in plan.cabinet], self._strip.of_net(net.key))

    def _core(self, net: Net, head: Pin, slots: dict[tuple[str, str], Slot]) -> None:
        laid, core = self._core_at(head)
        slot = slots[laid.cable.name, core]
        self._strip_end(net, slot, "outside", head, "core", (laid, core))

    def _core_at(self, head: Pin) -> tuple[LaidCable, str]:
        for laid in self.cables:
            for core in laid.cores:
                if core.need is not None and core.need.pin == head:
                    return laid, core.mark
        raise KeyError(head)

    def _attach(self, net: Net, heads: list[Pin], slots: list[Slot]) -> None:
        """Inside clamps first, those of cores before those of distribution; then the outside clamps that no core took."""
        places = [(s, "inside") for s in slots if s.inside is None] + [
            (s, "outside") for s in slots if s.outside is None
        ]
        for head, (slot, side) in zip(heads, places, strict=False):
            self._strip_end(net, slot, "inside" if side == "inside" else "outside", head, "wire", None)

    def _strip_end(
        self, net: Net, slot: Slot, side: Side, far: Pin, kind: ConductorKind, core: tuple[LaidCable, str] | None
    ) -> None:
        a = self._strip.pin(slot)
        if kind == "wire":
            made = self._add(net, kind, far, a, None, side)
        else:
            made = self._add(net, kind, a, far, side, None, core)
        slot.take(side, made)

    def _chain(self, net: Net, chain: tuple[Pin, ...]) -> None:
        for a, b in links(chain):
            self._wire(net, a, b)

    def _wire(self, net: Net, a: Pin, b: Pin) -> None:
        self._add(net, "wire", a, b, None, None)

    # What is not a signal

    def _spares(self, slots: dict[tuple[str, str], Slot]) -> None:
        for laid in self.cables:
            for core in laid.cores:
                if core.need is None:
                    slot = slots[laid.cable.name, core.mark]
                    slot.take("outside", self._spare(laid, core.mark, self._strip.pin(slot)))

    def _spare(self, laid: LaidCable, mark: str, pin: Pin) -> str:
        identity = self._next("core")
        cable = laid.cable
        self.conductors.append(
            Conductor(
                identity,
                None,
                "core",
                pin,
                None,
                "outside",
                None,
                cable.name,
                mark,
                cable.area_mm2,
                cable.length_m,
                core_colour(mark),
                None,
                "spare",
            )  # fmt: skip
        )
        return identity

    def _wire_earth(self) -> None:
        """Protective earth: each clamp takes one conductor; cores and screens land outside, cabinet wires inside."""
        if self._earth is None:
            return
        plan = next(p for p in self.plans if p.net.key == self._earth)
        screens = [laid for laid in self.cables if laid.cable.screened]
        cores = [
            (laid, core) for laid in self.cables for core in laid.cores if core.need is not None and core.need.earth
        ]
        if not (plan.net.pins or screens):
            self._earth = None
            return
        for _ in range(max(len(plan.cabinet), len(screens) + len(cores), 1)):
            self._strip.add(self._earth, earth=True)
        slots = self._strip.of_net(self._earth)
        for chain, slot in zip(plan.cabinet, slots, strict=False):
            self._chain(plan.net, chain)
            self._strip_end(plan.net, slot, "inside", chain[0], "wire", None)
        outside = iter(slots)
        for laid, core in cores:
            assert core.need is not None
            slot = next(outside)
            self._strip_end(plan.net, slot, "outside", core.need.pin, "core", (laid, core.mark))
            self._chain(plan.net, next(g.chain for g in plan.groups if g.chain[0] == core.need.pin))
        for laid in screens:
            slot = next(outside)
            slot.take("outside", self._screen(plan.net, laid, slot))

    def _screen(self, net: Net, laid: LaidCable, slot: Slot) -> str:
        return self._add(net, "screen", Pin(laid.cable.name, "screen"), self._strip.pin(slot), None, "outside")

    def _bridges(self) -> None:
        for plan in self.plans:
            slots = self._strip.of_net(plan.net.key)
            for first, second in zip(slots, slots[1:], strict=False):
                self._add(plan.net, "bridge", self._strip.pin(first), self._strip.pin(second), None, None)
                first.bridged.append(second.name)
                second.bridged.append(first.name)

    def _earth_links(self) -> None:
        if self._earth is None:
            return
        earth = self._strip.of_net(self._earth)[0]
        for plan in self.plans:
            if plan.net.key in self._linked:
                slot = self._strip.of_net(plan.net.key)[-1]
                self._add(plan.net, "link", self._strip.pin(slot), self._strip.pin(earth), None, None)

    # Conductors

    def _next(self, kind: str) -> str:
        letter = {"wire": "w", "core": "c", "bridge": "b", "link": "e", "screen": "s"}[kind]
        self._counts[letter] = self._counts.get(letter, 0) + 1
        return f"{letter}{self._counts[letter]:02d}"

    def _add(
        self,
        net: Net,
        kind: ConductorKind,
        a: Pin,
        b: Pin,
        a_side: Side | None,
        b_side: Side | None,
        core: tuple[LaidCable, str] | None = None,
    ) -> str:
        identity = self._next(kind)
        potential = self._of_net[net.key]
        cable = core[0].cable if core else None
        practice = self._scheme.model.practice
        self.conductors.append(
            Conductor(
                id=identity,
                number=potential.number,
                kind=kind,
                a=a,
                b=b,
                a_side=a_side,
                b_side=b_side,
                cable=cable.name if cable else None,
                core=core[1] if core else None,
                area_mm2=cable.area_mm2 if cable else panel_area_mm2(kind, potential.kind),
                length_m=cable.length_m if cable else None,
                colour=core_colour(core[1])
                if core
                else panel_colour(kind, potential.kind, practice, net.key in self._linked),
                potential=potential.name,
                function=self._function(net, a, b),
            )
        )
        return identity

    def _function(self, net: Net, a: Pin, b: Pin) -> str:
        use = net.uses.get(b) or net.uses.get(a)
        return use.function if use else self._of_net[net.key].name

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
        if self._earth is not None:
            for laid in self.cables:
                if laid.cable.screened:
                    yield self._earth, Pin(laid.cable.name, "screen")
