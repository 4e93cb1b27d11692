"""How one net is wired: chains in field boxes, cores to the cabinet, strip terminals, wires in the cabinet."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.control.functions import Declared
from wiregen.terms import Pin
from wiregen.wiring.chains import Chain, Clamp, chain_alone, chains_from_outside
from wiregen.wiring.nets import Net


@dataclass(frozen=True, slots=True)
class FieldGroup:
    """Pins of one net in one field place that one core serves, in a chain."""

    place: str
    category: str
    loop: str
    chain: Chain


@dataclass(frozen=True, slots=True)
class NetPlan:
    """The wires of one net before strip terminals have names.

    ``local`` are chains that need no strip at all. ``groups`` get one core each. The heads of the
    ``cabinet`` chains are wired to strip terminals, or where ``direct`` says so to one another.
    """

    net: Net
    local: tuple[Chain, ...]
    groups: tuple[FieldGroup, ...]
    cabinet: tuple[Chain, ...]
    extra_terminals: int
    direct: bool


def plan_net(net: Net, declared: Declared, cabinet: str, clamp: Clamp, forced: bool) -> NetPlan:
    """Decide how a net is wired. ``forced``: it needs a strip terminal in any case, for a link or protective earth."""
    places = {d.name: d.place for d in declared.devices}
    by_place: dict[str, list[Pin]] = {}
    for pin in net.pins:
        by_place.setdefault(places[pin.device], []).append(pin)
    far = [p for p in by_place if p != cabinet]
    if len(by_place) == 1 and far and not forced:
        alone = chain_alone(net.pins, clamp)
        if alone is not None:
            return NetPlan(net, (alone,), (), (), 0, direct=True)
    groups = tuple(g for place in far for g in _field_groups(net, place, by_place[place], clamp))
    chains = tuple(_cabinet_chains(by_place.get(cabinet, []), clamp))
    if not groups and len(chains) <= 2 and not forced:
        return NetPlan(net, (), (), chains, 0, direct=True)
    return NetPlan(net, (), groups, chains, _extra(len(chains), len(groups), forced), direct=False)


def _field_groups(net: Net, place: str, pins: list[Pin], clamp: Clamp) -> list[FieldGroup]:
    by_cable: dict[tuple[str, str], list[Pin]] = {}
    for pin in pins:
        use = net.uses[pin]
        by_cable.setdefault((use.category, use.loop), []).append(pin)
    return [
        FieldGroup(place, category, loop, chain)
        for (category, loop), members in by_cable.items()
        for chain in chains_from_outside(members, clamp)
    ]


def _cabinet_chains(pins: list[Pin], clamp: Clamp) -> list[Chain]:
    """In the cabinet a chain runs only within one device."""
    by_device: dict[str, list[Pin]] = {}
    for pin in pins:
        by_device.setdefault(pin.device, []).append(pin)
    return [chain for members in by_device.values() for chain in chains_from_outside(members, clamp)]


def _extra(attachments: int, cores: int, forced: bool) -> int:
    """Distribution terminals beside those on which cores land: each takes two wires, a core's terminal one more."""
    missing = max(0, attachments - cores)
    extra = (missing + 1) // 2
    return max(extra, 1) if forced and not cores else extra
