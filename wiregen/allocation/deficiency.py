"""Why no allocation exists: which functions compete for which terminals, computed from the problem."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence

import networkx as nx

from wiregen.allocation import clashes, words
from wiregen.allocation.classes import Counted, count
from wiregen.allocation.model import Channel, Conflict, End, Problem, Unplaced
from wiregen.allocation.premises import core
from wiregen.allocation.problem import obstacles
from wiregen.terms import Pin

# Nodes of the flow are whole numbers: networkx iterates over sets of them, and those of texts have no fixed order.
_NEEDS, _CHANNELS = 0, 1


def _end(k: int) -> int:
    return 2 * k + 2


def _channel(j: int) -> int:
    return 2 * j + 3


def explain(part: Problem) -> tuple[Conflict, ...]:
    """Conflicts of a part, no function in two of them; without their members all the rest can be placed."""
    conflicts: list[Conflict] = []
    for find in (_fixed_twice, _fixed_unfit, _homeless, _shortages, clashes.find):
        conflicts += find(_without(part, conflicts))
    return tuple(conflicts)


def unplaced(end: End, conflicts: Sequence[Conflict]) -> Unplaced:
    """The entry of an end without a place: its own conflict, or the one that took its place."""
    own = [conflict for conflict in conflicts if end.id in conflict.members]
    why = own[0].says if own else f"{end.function} stands back for others: {conflicts[0].says}"
    return Unplaced(end.id, end.function, end.devices[0] if end.devices else "", why)


def _without(part: Problem, conflicts: list[Conflict]) -> Problem:
    members = {member for conflict in conflicts for member in conflict.members}
    return clashes.restricted(part, [end for end in part.ends if end.id not in members])


def _conflict(
    part: Problem, ends: Sequence[End], channels: Iterable[Channel], says: str, fewest: Sequence[End]
) -> Conflict:
    """``fewest``: of the ends so many that without any one of them the others could be placed."""
    pins = tuple(str(channel.pin) for channel in channels)
    return Conflict(tuple(end.id for end in ends), pins, says, core(part, fewest))


def _fixed_twice(part: Problem) -> list[Conflict]:
    at: dict[Pin, list[End]] = defaultdict(list)
    for end in part.ends:
        if end.fixed:
            at[end.fixed].append(end)
    return [
        Conflict(
            tuple(end.id for end in ends),
            (str(pin),),
            f"{pin} is fixed for {words.listed((e.function for e in ends), 'and for')}; it can serve one",
            core(part, _fewest_on(part, pin, ends)),
        )
        for pin, ends in at.items()
        if len(ends) > 1
    ]


def _fewest_on(part: Problem, pin: Pin, ends: list[End]) -> list[End]:
    """One of the ends fixed on a pin that cannot stand there at all, else two."""
    channel = next((channel for channel in part.channels if channel.pin == pin), None)
    declared = dict(part.polarity)
    unfit = [end for end in ends if channel is None or next(obstacles(end, channel, declared), None)]
    return unfit[:1] or ends[:2]


def _fixed_unfit(part: Problem) -> list[Conflict]:
    declared = dict(part.polarity)
    at = {channel.pin: channel for channel in part.channels}
    found = []
    for end in part.ends:
        channel = at.get(end.fixed) if end.fixed else None
        if end.fixed and channel is None:
            says = f"{end.function} is fixed at {end.fixed}, which is no terminal for it"
            found.append(_conflict(part, [end], [], says, [end]))
        elif channel is not None:
            reasons = [words.obstacle(o, end, channel) for o in obstacles(end, channel, declared)]
            says = f"{channel.pin} {' and '.join(reasons)}, but {end.function} is fixed there"
            found += [_conflict(part, [end], [channel], says, [end])] if reasons else []
    return found


def _homeless(part: Problem) -> list[Conflict]:
    """Ends for which no channel serves, those of one need in one sentence."""
    counted = count(part)
    reached = {pair.end for pair in counted.pairs}
    alike: dict[Hashable, list[End]] = defaultdict(list)
    for k, end_class in enumerate(counted.ends):
        if k not in reached:
            for end in (part.ends[index] for index in end_class.ends):
                alike[end.devices, words.exact_need(end)].append(end)
    return [_conflict(part, ends, [], _no_channel(part, ends), ends[:1]) for ends in alike.values()]


def _no_channel(part: Problem, ends: list[End]) -> str:
    devices = words.listed(ends[0].devices, "or") or "no device"
    nearly = _nearly(part, ends)
    noun = words.exact_need(ends[0]) if nearly or _ambiguous(part, ends[0], []) else words.need(ends[0])
    return f"{_asking(ends, noun)}; {devices} has none{_aside(nearly)}"


def _shortages(part: Problem) -> list[Conflict]:
    """The deficient sets: ends that together reach fewer channels than they are (Hall's condition, by classes).

    They are what a least cut next to the source leaves on the source's side, the over-determined part of the
    Dulmage-Mendelsohn decomposition: the ends that some largest matching leaves out, whichever matching is found.
    """
    counted = count(part)
    graph = _flow_graph(counted)
    residual = nx.algorithms.flow.preflow_push(graph, _NEEDS, _CHANNELS)
    open_edges = nx.DiGraph(
        (u, v) for u, v, d in residual.edges(data=True) if d["flow"] < d["capacity"] and v != _NEEDS
    )
    short = nx.descendants(open_edges, _NEEDS) if _NEEDS in open_edges else set()
    return [
        _shortage(part, counted, component, residual)
        for component in sorted(nx.connected_components(graph.subgraph(short).to_undirected()), key=min)
    ]


def _flow_graph(counted: Counted) -> nx.DiGraph[int]:
    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from([_NEEDS, _CHANNELS])
    for k, end_class in enumerate(counted.ends):
        graph.add_edge(_NEEDS, _end(k), capacity=len(end_class.ends))
    for j, channel_class in enumerate(counted.channels):
        graph.add_edge(_channel(j), _CHANNELS, capacity=len(channel_class.channels))
    graph.add_edges_from((_end(pair.end), _channel(pair.channel)) for pair in counted.pairs)
    return graph


def _shortage(part: Problem, counted: Counted, component: set[int], flow: nx.DiGraph[int]) -> Conflict:
    ends = sorted(index for k in _ends_in(component) for index in counted.ends[k].ends)
    channels = sorted(index for j in _channels_in(component) for index in counted.channels[j].channels)
    members, places = [part.ends[i] for i in ends], [part.channels[i] for i in channels]
    fewest = clashes.fewest(part, [part.ends[i] for i in _one_too_many(counted, component, flow)])
    return _conflict(part, members, places, _short_of(part, members, places), fewest)


def _one_too_many(counted: Counted, component: set[int], flow: nx.DiGraph[int]) -> list[int]:
    """One end that is left out, with those that hold the channels which it, or one that would make way, could take.

    They are one more than their channels, and any one of them could be the one that is left out (alternating paths).
    """
    ends = _ends_in(component)
    reach: dict[int, list[int]] = {k: [] for k in ends}
    for pair in counted.pairs:
        if pair.end in reach:
            reach[pair.end].append(pair.channel)
    left_out = next(k for k in ends if _placed(flow, k) < len(counted.ends[k].ends))
    reached = [left_out]
    for k in reached:
        for j in reach[k]:
            reached += [e for e in ends if e not in reached and _flows(flow, e, j)]
    return sorted(i for k in reached for i in counted.ends[k].ends[: _placed(flow, k) + (k == left_out)])


def _flows(flow: nx.DiGraph[int], k: int, j: int) -> bool:
    return flow.has_edge(_end(k), _channel(j)) and flow.edges[_end(k), _channel(j)]["flow"] > 0


def _placed(flow: nx.DiGraph[int], k: int) -> int:
    return int(flow.edges[_NEEDS, _end(k)]["flow"])


def _ends_in(component: set[int]) -> list[int]:
    return [node // 2 - 1 for node in sorted(component) if node > _CHANNELS and node % 2 == 0]


def _channels_in(component: set[int]) -> list[int]:
    return [node // 2 - 1 for node in sorted(component) if node > _CHANNELS and node % 2 == 1]


def _short_of(part: Problem, ends: list[End], channels: list[Channel]) -> str:
    free = [end for end in ends if not end.fixed]
    nearly = [found for found in _nearly(part, free) if found[0] not in channels]
    by_need: dict[str, list[End]] = defaultdict(list)
    for end in free:
        by_need[words.exact_need(end) if nearly or _ambiguous(part, end, channels) else words.need(end)].append(end)
    asking = ", ".join(_asking(group, noun) for noun, group in by_need.items())
    if len(by_need) > 1:
        asking = f"{len(free)} functions compete for the same terminals: {asking}"
    fixed = {end.fixed: end for end in ends if end.fixed}
    taken = [f"{c.name} is fixed for {fixed[c.pin].function}" for c in channels if c.pin in fixed]
    beside = f", {'and' if len(channels) == 1 else 'of which'} {words.listed(taken)}" if taken else ""
    return f"{asking}; {words.having(channels)}{beside}{_aside(nearly)}"


def _ambiguous(part: Problem, end: End, channels: list[Channel]) -> bool:
    """Whether a channel that does not serve goes by the same short noun: a current input for another range."""
    units = {signal.rsplit(" ", 1)[-1] for signal in end.signals}
    return end.role.startswith("analog") and any(
        channel.role == end.role
        and channel.device in end.devices
        and channel not in channels
        and units & {signal.rsplit(" ", 1)[-1] for signal in channel.signals}
        for channel in part.channels
    )


def _asking(ends: list[End], noun: str) -> str:
    if len(ends) == 1:
        return f"{ends[0].function} needs {words.article(noun)}"
    return f"{len(ends)} functions need {words.article(noun)} ({words.functions(ends)})"


def _nearly(part: Problem, ends: list[End]) -> list[tuple[Channel, str]]:
    """Channels that one thing alone keeps from serving: kept free, wired for the other polarity, or too weak."""
    declared = dict(part.polarity)
    found: dict[Channel, str] = {}
    for end in {(e.devices, words.exact_need(e)): e for e in ends}.values():
        for channel in part.channels:
            reasons = list(obstacles(end, channel, declared))
            if len(reasons) == 1 and reasons[0].kind in ("keep_free", "polarity", "load"):
                found.setdefault(channel, words.obstacle(reasons[0], end, channel))
    return list(found.items())


def _aside(nearly: list[tuple[Channel, str]]) -> str:
    """Why channels that seem to serve do not count."""
    by_reason: dict[tuple[str, str], list[Channel]] = defaultdict(list)
    for channel, reason in nearly:
        by_reason[channel.device, reason].append(channel)
    says = [
        f"{device}:{words.terminals(channels)} {reason if len(channels) == 1 else words.several(reason)}"
        for (device, reason), channels in by_reason.items()
    ]
    return f"; {words.listed(says)}" if says else ""
