"""Terminal strips: terminals in order of cables and cores, then those that distribute, then protective earth.

A place has one strip, or one for each class of voltage; a terminal that is fixed stands where it is said to stand.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from wiregen.allocation.parts import natural
from wiregen.terms import Pin
from wiregen.wiring.model import Side
from wiregen.wiring.nets import Net
from wiregen.wiring.sites import Sites

#: Hub of a net: the net's key and the hub's index in its plan.
HubKey = tuple[Pin, int]

#: Classes of cable and of function whose voltage is not that of 24 V control: they have strips of their own.
_AC = frozenset({"control_ac", "power"})


def voltage_class(category: str) -> str:
    """Which strip of a place a class of cable lands on: ``""`` for extra-low voltage, ``ac`` for what is more."""
    return "ac" if category in _AC else ""


def class_of_net(net: Net) -> str:
    """The strip on which a net lands, by the classes of what it is for."""
    return "ac" if any(voltage_class(use.category) for use in net.uses.values()) else ""


@dataclass(slots=True, eq=False)
class Slot:
    """One strip terminal while the strip is built: its hub, and which conductor sits on each clamp."""

    place: str
    strip: str
    hub: HubKey | None
    earth: bool
    name: str = ""
    inside: str | None = None
    outside: str | None = None
    bridged: list[str] = field(default_factory=list)

    @property
    def pin(self) -> Pin:
        return Pin(self.strip, self.name)

    def take(self, side: Side, conductor: str) -> None:
        if side == "inside":
            assert self.inside is None
            self.inside = conductor
        else:
            assert self.outside is None
            self.outside = conductor

    def is_free(self, side: Side) -> bool:
        return (self.inside if side == "inside" else self.outside) is None


class Strips:
    """All strips of a scheme. Terminals are added first, then named, then wired."""

    def __init__(
        self, sites: Sites, taken: Iterable[str], fixed: dict[str, str], built: dict[tuple[str, str], str]
    ) -> None:
        """``taken`` are the names of other things; ``fixed`` holds the places of the strips that are named.

        ``built`` holds the strips that stand already, by place and voltage class.
        """
        self._sites = sites
        self._fixed = fixed
        self._built = built
        self._slots: dict[str, list[Slot]] = {}
        self._of_hub: dict[HubKey, list[Slot]] = {}
        self._places: dict[str, str] = {}
        self._wanted: set[Slot] = set()
        self._main: dict[tuple[str, str], str] = {}
        known = {
            *taken,
            *fixed,
            *built.values(),
        }
        self._names = (name for n in range(1, 10**6) if (name := f"-X{n}") not in known)
        for cabinet in sites.cabinets:
            self.main(cabinet, "")

    def main(self, place: str, klass: str) -> str:
        """The strip of a place on which terminals of a voltage class stand unless they are fixed elsewhere."""
        key = place, klass
        if key not in self._main:
            own = self._sites.strip_name(place) or next((s for s, at in self._fixed.items() if at == place), None)
            self._main[key] = own if own and not klass else self._built.get(key) or next(self._names)
        return self._main[key]

    def is_cabinet(self, place: str) -> bool:
        return self._sites.is_cabinet(place)

    def add(
        self, place: str, hub: HubKey | None, klass: str, *, earth: bool = False, wanted: Pin | None = None
    ) -> Slot:
        strip = wanted.device if wanted else self.main(place, klass)
        slot = Slot(place, strip, hub, earth, wanted.name if wanted else "")
        if wanted:
            self._wanted.add(slot)
        self._slots.setdefault(strip, []).append(slot)
        if hub is not None:
            self._of_hub.setdefault(hub, []).append(slot)
        self._places.setdefault(strip, place)
        return slot

    def of_hub(self, hub: HubKey) -> list[Slot]:
        return self._of_hub.get(hub, [])

    def name_all(self) -> None:
        """Numbers for all that are not fixed, in order; protective earth is PE, PE2, PE3 ... at the end."""
        for strip, slots in self._slots.items():
            taken = {slot.name for slot in slots if slot.name}
            numbers = (str(n) for n in range(1, 10**6))
            earths = ("PE" if n == 1 else f"PE{n}" for n in range(1, 10**6))
            for slot in slots:
                if not slot.name:
                    series = earths if slot.earth else numbers
                    slot.name = next(name for name in series if name not in taken)
            if any(slot in self._wanted for slot in slots):
                slots.sort(key=lambda s: (s.earth, natural(s.name)))
            self._slots[strip] = slots
        rank = {slot: index for slots in self._slots.values() for index, slot in enumerate(slots)}
        for members in self._of_hub.values():
            members.sort(key=lambda s: (s.strip, rank[s]))

    def all(self) -> Iterator[tuple[str, str, list[Slot]]]:
        """Name, place and terminals of every strip, in order of the places."""
        ordered = sorted(self._slots, key=lambda s: (self._sites.order[self._places[s]], natural(s)))
        return ((name, self._places[name], self._slots[name]) for name in ordered)
