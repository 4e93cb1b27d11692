"""From functions on their terminals to potentials, conductors, cables and strips: one result."""

from __future__ import annotations

from dataclasses import replace

from wiregen.allocation.model import Allocation
from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Pin
from wiregen.wiring.as_wired import as_wired
from wiregen.wiring.build import Builder
from wiregen.wiring.ids import with_ids
from wiregen.wiring.model import Potential, Wiring
from wiregen.wiring.nets import build_nets
from wiregen.wiring.numbers import name_potentials
from wiregen.wiring.power import with_power
from wiregen.wiring.ties import ties_of

__all__ = ["Wiring", "wire"]


def wire(scheme: Scheme, declared: Declared, allocation: Allocation) -> Wiring:
    """Wire what is declared with the terminals that allocation chose."""
    notices: list[Notice] = []
    wanted = as_wired(scheme, declared, allocation, notices.append)
    nets, joins = build_nets(declared, ties_of(declared, allocation, notices.append), notices.append)
    of_net = name_potentials(scheme, declared, nets, joins, wanted, notices.append)
    builder = Builder(scheme, declared, nets, of_net, wanted, notices.append)
    wired = Wiring(
        potentials=_with_strips(of_net, builder),
        conductors=builder.conductors,
        cables=tuple(laid.cable for laid in builder.cables),
        strips=builder.strips(),
        notices=tuple(notices),
    )
    whole = with_power(scheme, declared, wired)
    return with_ids(whole, scheme.as_built) if scheme.as_built else whole


def _with_strips(of_net: dict[Pin, Potential], builder: Builder) -> tuple[Potential, ...]:
    """Every potential with the strip terminals and screens that its nets were given, in number order."""
    more: dict[str, list[Pin]] = {}
    for key, pin in builder.strip_pins():
        more.setdefault(of_net[key].name, []).append(pin)
    seen = [replace(p, pins=(*p.pins, *more.get(p.name, ()))) for p in dict.fromkeys(of_net.values())]
    return tuple(p for p in seen if p.pins)
