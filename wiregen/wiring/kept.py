"""What is built already and stays where nothing forces a change: numbers, cores, strip terminals, clamps and ids."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence

from wiregen.allocation.parts import natural
from wiregen.formulas import colours
from wiregen.scheme import Scheme
from wiregen.scheme.as_built import AsBuilt, BuiltCable, BuiltPotential
from wiregen.terms import Pin
from wiregen.wiring.as_wired import AsWired
from wiregen.wiring.makes import COLOURED, EARTH_MARK
from wiregen.wiring.model import Potential, Side
from wiregen.wiring.nets import Net
from wiregen.wiring.strips import class_of_net

NOTHING = AsBuilt("", (), (), (), (), frozenset())


def twins(built: AsBuilt, potentials: Sequence[Potential]) -> dict[str, BuiltPotential]:
    """Name of a potential -> the built one that it goes on from: most pins in common first, then an equal name."""
    home = {pin: index for index, old in enumerate(built.potentials) for pin in old.pins}
    named = {old.name: index for index, old in enumerate(built.potentials)}
    scores: Counter[tuple[int, int]] = Counter()
    for new, potential in enumerate(potentials):
        for pin in potential.pins:
            if pin in home:
                scores[home[pin], new] += 2
        if potential.name in named:
            scores[named[potential.name], new] += 1
    found: dict[int, int] = {}
    taken: set[int] = set()
    for old, new in sorted(scores, key=lambda pair: (-scores[pair], pair)):
        if new not in found and old not in taken:
            found[new] = old
            taken.add(old)
    return {potentials[new].name: built.potentials[old] for new, old in sorted(found.items())}


def numbers_kept(scheme: Scheme, potentials: Sequence[Potential]) -> Iterator[tuple[str, str]]:
    """(name of a potential, the number that it had)."""
    built = scheme.as_built or NOTHING
    yield from ((name, old.number) for name, old in twins(built, potentials).items())


def numbers_of(scheme: Scheme) -> frozenset[str]:
    """Every number that stands on a wire end already: none of them comes to mean another potential."""
    return frozenset(p.number for p in (scheme.as_built or NOTHING).potentials)


class Kept:
    """Where the conductors of an earlier pack are, asked while the new ones are made; it may know nothing."""

    def __init__(self, scheme: Scheme, nets: Sequence[Net], of_net: Mapping[Pin, Potential]) -> None:
        self.built = scheme.as_built or NOTHING
        self._declared = scheme.model.cabling.existing
        self._twins = twins(self.built, list(dict.fromkeys(of_net.values())))
        self._of_net = of_net
        self._strips = self.built.strips - scheme.model.devices.keys()
        self._cores = {(c.cable, c.core): c for c in self.built.conductors if c.kind == "core" and c.cable}
        self._landed = {pin for c in self._cores.values() for pin in (c.a, c.b) if pin}
        self._places = self._strip_places({name: d.at for name, d in scheme.model.devices.items()})
        self.mains = self._mains(nets)
        self.given: set[Pin] = set()
        ends = ((at, side) for c in self.built.conductors for at, side in ((c.a, c.a_side), (c.b, c.b_side)))
        self._clamped = {(pin, side) for pin, side in ends if side is not None}
        self._clamps: dict[Pin, list[tuple[Pin, Side]]] = defaultdict(list)
        for c in self.built.conductors:
            if c.kind in ("wire", "screen") and c.b is not None:
                self._enter_clamp(c.a, c.b, c.b_side)
                self._enter_clamp(c.b, c.a, c.a_side)

    def _enter_clamp(self, pin: Pin, strip: Pin, side: Side | None) -> None:
        if side is not None and strip.device in self._strips:
            self._clamps[pin].append((strip, side))

    # Cables and cores

    def cables(self) -> list[tuple[BuiltCable, tuple[str, ...]]]:
        """Cables with the marks of their cores, in core order; those that the scheme declares itself left out."""
        marks: dict[str, list[str]] = defaultdict(list)
        for cable, core in self._cores:
            if cable and core:
                marks[cable].append(core)
        own = [c for c in self.built.cables if c.name in marks and c.name not in self._declared]
        return [(c, _in_order(marks[c.name], c.pairs)) for c in sorted(own, key=lambda c: natural(c.name))]

    def wants(self) -> tuple[AsWired, ...]:
        """Every core, by the pin that it leads to: it stays in its cable if nothing firm is in its way."""
        pins = {p.name: p.pins for p in self.built.potentials}
        found = []
        for (cable, core), c in self._cores.items():
            if c.b is None or c.potential is None:
                continue
            far = c.b if c.b_side is None else next((p for p in pins.get(c.potential, ()) if self._is_device(p)), c.b)
            found.append(AsWired(far, c.potential, None, cable, core, None, (), False))
        return tuple(found)

    def _is_device(self, pin: Pin) -> bool:
        return pin.device not in self._strips and pin.name != "screen"

    # Strips

    def _strip_places(self, device_at: Mapping[str, str]) -> dict[str, str]:
        """Strip -> the place where its cables begin or end, or where the devices stand that are wired to it."""
        cables = {c.name: c for c in self.built.cables}
        found: dict[str, str] = {}
        for c in self._cores.values():
            cable = cables.get(c.cable or "")
            if cable is not None:
                found.setdefault(c.a.device, cable.a)
                if c.b is not None and c.b_side is not None:
                    found.setdefault(c.b.device, cable.b)
        for c in self.built.conductors:
            for strip, device, side in ((c.a, c.b, c.a_side), (c.b, c.a, c.b_side)):
                if strip is not None and side is not None and device is not None and device.device in device_at:
                    found.setdefault(strip.device, device_at[device.device])
        return {strip: place for strip, place in found.items() if strip in self._strips}

    def _mains(self, nets: Sequence[Net]) -> dict[tuple[str, str], str]:
        """(place, voltage class) -> its first strip, by the nets whose potentials land there."""
        found: dict[tuple[str, str], str] = {}
        for net in nets:
            old = self._twins.get(self._of_net[net.key].name)
            for strip in sorted({p.device for p in old.pins if p.device in self._places} if old else (), key=natural):
                if net.pins and not _is_earth(old):
                    found.setdefault((self._places[strip], class_of_net(net)), strip)
        return found

    def landing(self, cable: str, mark: str, place: str, reserved: Iterable[Pin], *, far: bool = False) -> Pin | None:
        """The strip terminal on which a core of this mark lands in ``place``, if nobody has it yet."""
        core = self._cores.get((cable, mark))
        if core is None:
            return None
        pin, side = (core.b, core.b_side) if far else (core.a, core.a_side)
        return self._give(pin, place, reserved) if pin is not None and side is not None else None

    def distribution(self, net: Pin, place: str, reserved: Iterable[Pin]) -> Pin | None:
        """A terminal of the net's potential in ``place`` on which no core lands, if one is left; of PE any."""
        old = self._twins.get(self._of_net[net].name)
        landed = () if _is_earth(old) else self._landed
        own = [p for p in old.pins if p.device in self._strips and p not in landed] if old else []
        given = (self._give(pin, place, reserved) for pin in sorted(own, key=lambda p: natural(str(p))))
        return next((pin for pin in given if pin is not None), None)

    def _give(self, pin: Pin, place: str, reserved: Iterable[Pin]) -> Pin | None:
        if pin in self.given or pin in reserved or self._places.get(pin.device) != place:
            return None
        self.given.add(pin)
        return pin

    def core_clamps(self, cable: str, mark: str) -> list[tuple[Pin, Side]]:
        """Strip terminal and side at either end of a core."""
        core = self._cores.get((cable, mark))
        ends = ((core.a, core.a_side), (core.b, core.b_side)) if core else ()
        return [(pin, side) for pin, side in ends if pin is not None and side is not None]

    def is_taken(self, pin: Pin, side: Side) -> bool:
        """Whether a conductor that may still be there sits on this clamp."""
        return (pin, side) in self._clamped

    def clamps(self, pin: Pin) -> list[tuple[Pin, Side]]:
        """Strip terminal and side of every wire at a pin."""
        return self._clamps.get(pin, [])

    def links(self) -> set[Pin]:
        """Strip terminals at which a removable link stands."""
        return {c.a for c in self.built.conductors if c.kind == "link"}


def _is_earth(old: BuiltPotential | None) -> bool:
    return old is None or old.number == "PE"


def _in_order(marks: list[str], pairs: int | None) -> tuple[str, ...]:
    """The marks of a cable's cores in core order: pairs by their colours (DIN 47100), else numbers or core colours."""
    if pairs is not None:
        named = [c.code("DIN 47100") for pair in range(1, pairs + 1) for c in colours.pair_colours(pair)]
    else:
        named = [colours.core_colour(n).code("DIN 47100") for n in range(1, COLOURED + 1)]
    rank = {name: index for index, name in enumerate(named)}
    return tuple(sorted(marks, key=lambda m: (m == EARTH_MARK, rank.get(m, -1), natural(m))))
