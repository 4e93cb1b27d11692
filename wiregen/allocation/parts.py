"""Parts of a problem that share nothing, and each part's canonical form.

Parts are solved one by one, so a part's answer never depends on what else the scheme holds. Equal parts, such as drives
with equal duties, have one canonical form and therefore one answer, solved once.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import replace

import networkx as nx

from wiregen.allocation.model import Channel, End, Problem
from wiregen.terms import Pin


def natural(name: str) -> tuple[tuple[str, int], ...]:
    """A key that sorts ``-TA2`` before ``-TA10``."""
    pieces = re.split(r"(\d+)", name)
    return tuple((text, int(number or 0)) for text, number in zip(pieces[::2], [*pieces[1::2], "0"], strict=True))


def split(problem: Problem) -> tuple[Problem, ...]:
    """The parts that share no device, in the order of their first ends; channels from the top of each device."""
    home = _homes(problem.ends)
    ends: dict[str, list[End]] = {}
    for end in problem.ends:
        ends.setdefault(home[end.devices[0]] if end.devices else f"alone {end.id}", []).append(end)
    channels: dict[str, list[Channel]] = {}
    for channel in sorted(problem.channels, key=lambda c: (natural(c.device), c.device, c.position, c.name)):
        channels.setdefault(home.get(channel.device, ""), []).append(channel)
    return tuple(_part(problem, tuple(members), tuple(channels.get(key, ()))) for key, members in ends.items())


def _homes(ends: tuple[End, ...]) -> dict[str, str]:
    """Device -> the device that stands for its part."""
    graph: nx.Graph[str] = nx.Graph()
    for devices in {end.devices: None for end in ends}:
        nx.add_path(graph, devices)
    return {device: min(part) for part in nx.connected_components(graph) for device in part}


def _part(problem: Problem, ends: tuple[End, ...], channels: tuple[Channel, ...]) -> Problem:
    devices = {channel.device for channel in channels}
    # Ends of different parts never meet on one device, so only a set's members in here have to be kept apart.
    order = {end.id: number for number, end in enumerate(ends)}
    sets = {tuple(sorted({m for m in members if m in order}, key=order.__getitem__)) for members in problem.apart}
    return Problem(
        ends=ends,
        channels=channels,
        polarity=tuple(sorted(item for item in problem.polarity if item[0][0] in devices)),
        apart=tuple(sorted((s for s in sets if len(s) > 1), key=lambda s: [order[m] for m in s])),
        grounds=problem.grounds,
    )


def canonical(part: Problem) -> Problem:
    """``part`` with devices numbered, ends named by function, and all that does not bear on the answer left out.

    Ends and channels keep their places, so an answer by index holds for the part too.
    """
    devices = _numbered(channel.device for channel in part.channels)
    bundles = {"": ""} | _numbered(end.bundle for end in part.ends if end.bundle)
    labels = _labels(part.ends)

    def pin(old: Pin) -> Pin:
        return Pin(devices.get(old.device, "elsewhere"), old.name)

    return Problem(
        ends=tuple(
            replace(
                end,
                id=labels[end.id],
                devices=tuple(sorted(devices.get(d, "elsewhere") for d in end.devices)),
                usual=tuple(sorted(pin(p) for p in end.usual)),
                fixed=pin(end.fixed) if end.fixed else None,
                kept=pin(end.kept) if end.kept else None,
                bundle=bundles[end.bundle],
                premises=(),
                where=(),
            )
            for end in part.ends
        ),
        channels=tuple(replace(channel, device=devices[channel.device]) for channel in part.channels),
        polarity=tuple(((devices[device], group), polarity) for (device, group), polarity in part.polarity),
        apart=tuple(tuple(labels[member] for member in members) for members in part.apart),
    )


def _numbered(names: Iterable[str]) -> dict[str, str]:
    return {name: str(number) for number, name in enumerate(dict.fromkeys(names))}


def _labels(ends: tuple[End, ...]) -> dict[str, str]:
    """Id -> function, numbered where a function's name occurs more than once in the part."""
    by_function: dict[str, list[str]] = {}
    for end in ends:
        by_function.setdefault(end.function, []).append(end.id)
    return {
        name: function if len(names) == 1 else f"{function}\n{number}"
        for function, names in by_function.items()
        for number, name in enumerate(sorted(names, key=lambda n: (natural(n), n)))
    }
