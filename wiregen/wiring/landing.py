"""How one net is wired: its landings on strips, the cores that lead from there, the chains of wires at their ends."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from wiregen.terms import Pin
from wiregen.wiring.chains import Chain, Clamp, chain_alone, chains_from_outside
from wiregen.wiring.nets import Net
from wiregen.wiring.sites import Sites


@dataclass(frozen=True, slots=True)
class Hub:
    """Terminals of one net on the strip of one place, bridged. ``chains`` are wired to them inside the place.

    In a field place ``up`` says that a core from another strip ends here.
    """

    place: str
    chains: tuple[Chain, ...] = ()
    up: bool = False


@dataclass(frozen=True, slots=True)
class Run:
    """One core of a net, from the terminals of hub ``near`` to those of hub ``far`` or to a chain of pins.

    ``place`` is its far place, ``device`` the one that has the cable for itself, ``part`` parts cables that are to be
    kept apart.
    """

    near: int
    far: int | None
    place: str
    device: str
    category: str
    loop: str
    part: str
    chain: Chain


@dataclass(frozen=True, slots=True)
class NetPlan:
    """The wires of one net before strip terminals have names.

    ``local`` are chains that need no strip at all. Where ``direct`` holds two chains, their heads are wired together.
    """

    net: Net
    local: tuple[Chain, ...] = ()
    direct: tuple[Chain, ...] = ()
    hubs: tuple[Hub, ...] = ()
    runs: tuple[Run, ...] = ()


@dataclass(frozen=True, slots=True)
class Ground:
    """What planning asks of a scheme: its places, where each device stands, what a pin serves, what is kept apart."""

    sites: Sites
    place_of: dict[str, str]
    clamp: Clamp
    serves: Callable[[Net, Pin], str | None]  # the cabinet of the controller that a pin serves
    part_of: Callable[[Net, Pin], str]


def plan_net(net: Net, ground: Ground, forced: tuple[str, ...] = ()) -> NetPlan:
    """Decide how a net is wired. ``forced`` are cabinets in which it needs a terminal anyway: for links and screens."""
    by_place: dict[str, list[Pin]] = {}
    for pin in net.pins:
        by_place.setdefault(ground.place_of[pin.device], []).append(pin)
    if len(by_place) == 1 and not forced:
        place = next(iter(by_place))
        if not ground.sites.is_cabinet(place) and (alone := _alone(net, place, ground)) is not None:
            return NetPlan(net, local=(alone,))
    if not by_place and not forced:
        return NetPlan(net)
    tree = _Tree(net, ground)
    cabinets = [p for p in by_place if ground.sites.is_cabinet(p)]
    fields = [p for p in by_place if not ground.sites.is_cabinet(p)]
    if not fields and len(cabinets) == 1 and not forced:
        chains = _cabinet_chains(by_place[cabinets[0]], ground.clamp)
        if len(chains) <= 2:
            return NetPlan(net, direct=chains)
    home = next(iter((*cabinets, *forced)), None)
    groups = [g for place in fields for g in _field_groups(net, place, by_place[place], ground, home)]
    if home is None and not _one_strip(groups, ground):
        home = groups[0].cabinet
    tree.plant(home, by_place, (*cabinets, *forced))
    for group in groups:
        tree.hang(group)
    return NetPlan(net, hubs=tuple(Hub(h.place, h.chains, h.up) for h in tree.hubs), runs=tuple(tree.runs))


@dataclass(slots=True)
class _OpenHub:
    place: str
    chains: tuple[Chain, ...] = ()
    up: bool = False


@dataclass(frozen=True, slots=True)
class _Group:
    """Pins of one net in one field place that one core from a cabinet serves."""

    place: str
    cabinet: str
    category: str
    loop: str
    part: str
    pins: tuple[Pin, ...]


@dataclass(slots=True)
class _Tree:
    """The hubs and runs of one net while they are found."""

    net: Net
    ground: Ground
    hubs: list[_OpenHub] = field(default_factory=list)
    runs: list[Run] = field(default_factory=list)
    _of_cabinet: dict[str, int] = field(default_factory=dict)
    _home: str | None = None

    def plant(self, home: str | None, by_place: dict[str, list[Pin]], cabinets: tuple[str, ...]) -> None:
        """A hub in each cabinet that holds pins of the net, joined to the first by a core each."""
        self._home = home
        for cabinet in dict.fromkeys((*((home,) if home else ()), *cabinets)):
            self._cabinet(cabinet, tuple(by_place.get(cabinet, ())))

    def hang(self, group: _Group) -> None:
        """A group of field pins: on a strip of its place, or by a core to each chain."""
        near = (
            None if self._home is None else self._cabinet(group.cabinet, (), (group.category, group.loop, group.part))
        )
        if self.ground.sites.has_strip(group.place):
            near = self._field_hub(group, near)
        assert near is not None  # without a home all pins are at one field strip
        for device, chain in _chains(group, self.ground):
            self.runs.append(Run(near, None, group.place, device, group.category, group.loop, group.part, chain))

    def _cabinet(self, cabinet: str, pins: tuple[Pin, ...], use: tuple[str, str, str] | None = None) -> int:
        if cabinet in self._of_cabinet:
            return self._of_cabinet[cabinet]
        self.hubs.append(_OpenHub(cabinet, _cabinet_chains(pins, self.ground.clamp)))
        index = self._of_cabinet[cabinet] = len(self.hubs) - 1
        if cabinet != self._home:
            assert self._home is not None
            near, far = self._of_cabinet[self._home], index
            if not self.ground.sites.near_first(self._home, cabinet):
                near, far = far, near
            self.runs.append(Run(near, far, self.hubs[far].place, "", *(use or self._use(pins)), ()))
        return index

    def _use(self, pins: tuple[Pin, ...]) -> tuple[str, str, str]:
        """Class, loop and part of the core between two cabinets: those of the first pin that it brings the net to."""
        first = next(iter(pins or self.net.pins), None)
        if first is None:
            return "control", "", ""
        use = self.net.uses[first]
        return use.category, use.loop, self.ground.part_of(self.net, first)

    def _field_hub(self, group: _Group, near: int | None) -> int:
        self.hubs.append(_OpenHub(group.place, up=near is not None))
        index = len(self.hubs) - 1
        if near is not None:
            self.runs.append(Run(near, index, group.place, "", group.category, group.loop, group.part, ()))
        return index


def _alone(net: Net, place: str, ground: Ground) -> Chain | None:
    """One chain through all pins of a field place, if it has no strip and its devices stand together."""
    devices = {pin.device for pin in net.pins}
    if len(devices) > 1 and (ground.sites.has_strip(place) or ground.sites.spread(place)):
        return None
    return chain_alone(net.pins, ground.clamp)


def _one_strip(groups: list[_Group], ground: Ground) -> bool:
    """Whether one strip in the field joins the whole net, so that it needs no cabinet."""
    return len(groups) == 1 and ground.sites.has_strip(groups[0].place)


def _field_groups(net: Net, place: str, pins: list[Pin], ground: Ground, home: str | None) -> list[_Group]:
    found: dict[tuple[str, str, str, str], list[Pin]] = {}
    for pin in pins:
        use = net.uses[pin]
        cabinet = ground.serves(net, pin) or home or ground.sites.main
        found.setdefault((cabinet, use.category, use.loop, ground.part_of(net, pin)), []).append(pin)
    return [_Group(place, *key, tuple(members)) for key, members in found.items()]


def _chains(group: _Group, ground: Ground) -> list[tuple[str, Chain]]:
    """The chains of a group; from a strip in the field, and where cables are spread, each device has its own."""
    if not (ground.sites.has_strip(group.place) or ground.sites.spread(group.place)):
        return [("", chain) for chain in chains_from_outside(group.pins, ground.clamp)]
    by_device: dict[str, list[Pin]] = {}
    for pin in group.pins:
        by_device.setdefault(pin.device, []).append(pin)
    return [(name, c) for name, pins in by_device.items() for c in chains_from_outside(pins, ground.clamp)]


def _cabinet_chains(pins: list[Pin] | tuple[Pin, ...], clamp: Clamp) -> tuple[Chain, ...]:
    """In the cabinet a chain runs only within one device."""
    by_device: dict[str, list[Pin]] = {}
    for pin in pins:
        by_device.setdefault(pin.device, []).append(pin)
    return tuple(chain for members in by_device.values() for chain in chains_from_outside(members, clamp))
