"""Sneak paths: contacts that feed an input or a coil which they should not, in any state of the contacts involved.

What the declaration says of a function, its tree of contacts, is held against what the wired circuit does: whether a
way through closed contacts leads from a feed to the function's pin. Currents through loads and inputs, and the outputs
of controllers, are left out.
"""

from __future__ import annotations

import itertools
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import networkx as nx

from wiregen.control.functions import Contact, ContactTree, Function, legs_in
from wiregen.review.context import Context, called
from wiregen.review.states import Switches, shown
from wiregen.review.trees import tree_of
from wiregen.review.words import listed
from wiregen.terms import Notice, Pin, Where
from wiregen.wiring.netlist import graph, metal
from wiregen.wiring.placement import Placement

#: So many states of one circuit are tried, those with the fewest devices operated first.
MOST_STATES = 4096

Net = int


@dataclass(frozen=True, slots=True)
class _Watched:
    """A function with the net that it must drive, and the net that feeds it."""

    function: Function
    tree: ContactTree
    feed: Net
    target: Net


def sneak_paths(context: Context) -> Iterator[Notice]:
    """The first state, the one with the fewest devices operated, in which a function is fed against its declaration."""
    nets = _Nets(context)
    for one in nets.always_fed():
        text = f"{called(one.function)} is joined to its feed: contacts that it shares are wired around its own"
        yield Notice("sneak-path", one.function.where, called(one.function), text)
    for watched, contacts in nets.circuits():
        switches = Switches(context, [*contacts, *(leg.contact for w in watched for leg in legs_in(w.tree))])
        tried = 0
        found: set[Where] = set()
        for state in switches.states(MOST_STATES):
            tried += 1
            if not switches.steady(state):
                continue
            for one in watched:
                if one.function.where in found or switches.passes(one.tree, state):
                    continue
                way = nets.way(one, [c for c in contacts if switches.closed(c, state)])
                if way:
                    found.add(one.function.where)
                    yield _notice(one.function, way, shown(context, state))
        if tried < switches.count and watched:
            yield _bounded(watched, tried, switches.count)


def _notice(function: Function, way: list[Contact], state: str) -> Notice:
    through = listed([f"{c.device}.{c.name}" for c in way], "and")
    text = f"{called(function)} is fed through {through} {state}, and its own contacts do not say so"
    return Notice("sneak-path", function.where, called(function), text)


def _bounded(watched: list[_Watched], tried: int, count: int) -> Notice:
    first = watched[0].function
    text = (
        f"the contacts around {called(first)} have {count} states, of which the {tried} with the fewest devices "
        "operated were searched for sneak paths"
    )
    return Notice("sneak-paths-bounded", first.where, called(first), text, value=float(tried), limit=float(count))


def _plain(watched: list[_Watched], contacts: list[Contact]) -> bool:
    """Whether the contacts are those of one tree, each with pins of its own: the tree is its circuit then."""
    own = [leg.contact for leg in legs_in(watched[0].tree)]
    pins = {(c.device, pin) for c in own for pin in (c.a, c.b)}
    return len(watched) == 1 and set(own) == set(contacts) and len(pins) == 2 * len(own)


class _Nets:
    """The wired circuit with metal drawn together: nets, and contacts between them."""

    def __init__(self, context: Context) -> None:
        self._context = context
        circuit = graph(context.declared, context.wiring)
        whole = metal(circuit)
        whole.add_nodes_from(circuit.nodes)
        self._net: dict[Pin, Net] = {pin: n for n, part in enumerate(nx.connected_components(whole)) for pin in part}
        self._placement = Placement(context.declared, context.allocation)
        self._plus = frozenset(self._net[s.plus] for s in context.declared.supplies if s.plus in self._net)
        self._zero = frozenset(self._net[s.zero] for s in context.declared.supplies if s.zero in self._net)
        wired = {pin for potential in context.wiring.potentials for pin in potential.pins}
        self._ends: Mapping[Contact, tuple[Net, Net]] = {
            c: (self._net[Pin(c.device, c.a)], self._net[Pin(c.device, c.b)])
            for device in context.declared.devices
            for c in device.contacts
            if {Pin(c.device, c.a), Pin(c.device, c.b)} <= wired
        }

    def circuits(self) -> Iterator[tuple[list[_Watched], list[Contact]]]:
        """Contacts that hang together otherwise than over a pole of a supply, with the functions at their nets."""
        poles = self._plus | self._zero
        joined: nx.Graph[Net] = nx.Graph()
        for a, b in self._ends.values():
            joined.add_nodes_from(n for n in (a, b) if n not in poles)
            if not {a, b} & poles:
                joined.add_edge(a, b)
        parts = sorted(nx.connected_components(joined), key=min)
        part_of = {net: number for number, part in enumerate(parts) for net in part}
        contacts_of: dict[int, list[Contact]] = defaultdict(list)
        for contact, ends in self._ends.items():
            for number in dict.fromkeys(part_of[net] for net in ends if net in part_of):
                contacts_of[number].append(contact)
        watched_in: dict[int, list[_Watched]] = defaultdict(list)
        for one in self._watched():
            if one.target in part_of:
                watched_in[part_of[one.target]].append(one)
        for number in range(len(parts)):
            here, contacts = watched_in[number], contacts_of[number]
            if here and not _plain(here, contacts):
                yield here, contacts

    def always_fed(self) -> Iterator[_Watched]:
        """Functions whose pin the wiring itself joins to a feed."""
        return (w for w in self._watched() if w.target in (self._plus if w.feed in self._plus else self._zero))

    def _watched(self) -> Iterator[_Watched]:
        for function in self._context.declared.functions:
            tree = tree_of(function)
            if tree is None or function.supply is None:
                continue
            if function.coil is not None:
                feed, target = function.supply.plus, function.coil.a
            else:
                at = self._placement.pin(function.ends[0])
                wanted = self._placement.feed(function.ends[0], function.supply)
                if at is None or wanted is None:
                    continue
                feed, target = wanted, at
            if feed in self._net and target in self._net:
                yield _Watched(function, tree, self._net[feed], self._net[target])

    def way(self, one: _Watched, closed: list[Contact]) -> list[Contact]:
        """The contacts on the shortest way from a feed to what ``one`` drives; nothing where there is none."""
        like = self._plus if one.feed in self._plus else self._zero
        poles = (self._plus | self._zero) - like
        found: nx.Graph[Net] = nx.Graph()
        for contact in closed:
            a, b = self._ends[contact]
            if a != b and not {a, b} & poles:
                found.add_edge(a, b, contact=contact)
        for feed in sorted(like):
            if feed in found and one.target in found and nx.has_path(found, feed, one.target):
                path = nx.shortest_path(found, feed, one.target)
                return [found.edges[edge]["contact"] for edge in itertools.pairwise(path)]
        return []
