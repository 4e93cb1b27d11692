"""The terminal strip: terminals in order of cables and cores, then those that distribute, then protective earth."""

from __future__ import annotations

from dataclasses import dataclass, field

from wiregen.terms import Pin
from wiregen.wiring.cables import LaidCable
from wiregen.wiring.landing import NetPlan
from wiregen.wiring.model import Side


@dataclass(slots=True)
class Slot:
    """One strip terminal while the strip is being built: its net's key, and which conductor sits on each clamp."""

    name: str
    net: Pin | None
    earth: bool
    inside: str | None = None
    outside: str | None = None
    bridged: list[str] = field(default_factory=list)

    def take(self, side: Side, conductor: str) -> None:
        if side == "inside":
            assert self.inside is None
            self.inside = conductor
        else:
            assert self.outside is None
            self.outside = conductor

    def free(self) -> list[Side]:
        sides: list[Side] = []
        if self.inside is None:
            sides.append("inside")
        if self.outside is None:
            sides.append("outside")
        return sides


@dataclass(slots=True)
class StripBuilder:
    """Names terminals in order: numbers for all but protective earth, whose terminals are PE, PE2, PE3 ..."""

    strip: str
    slots: list[Slot] = field(default_factory=list)

    def add(self, net: Pin | None, earth: bool = False) -> Slot:
        same = sum(s.earth == earth for s in self.slots)
        name = ("PE" if same == 0 else f"PE{same + 1}") if earth else str(same + 1)
        slot = Slot(name, net, earth)
        self.slots.append(slot)
        return slot

    def of_net(self, net: Pin) -> list[Slot]:
        return [s for s in self.slots if s.net == net]

    def pin(self, slot: Slot) -> Pin:
        return Pin(self.strip, slot.name)


def core_slots(builder: StripBuilder, cables: tuple[LaidCable, ...]) -> dict[tuple[str, str], Slot]:
    """A terminal for every core, spare ones too, by cable and mark. Protective cores wait for the end of the strip."""
    found: dict[tuple[str, str], Slot] = {}
    for laid in cables:
        for core in laid.cores:
            if core.need is None or not core.need.earth:
                net = core.need.net.key if core.need else None
                found[laid.cable.name, core.mark] = builder.add(net)
    return found


def distribution_slots(builder: StripBuilder, plans: list[NetPlan], earth: Pin | None) -> None:
    """The terminals that only distribute a potential, net by net."""
    for plan in plans:
        if plan.net.key != earth:
            for _ in range(plan.extra_terminals):
                builder.add(plan.net.key)
