"""The integer program of one part: columns, rows, and the cost of each level.

Columns: ``n`` ends of a class on channels of a class; ``y`` a group's contacts switch +24 V; ``u`` ends of a class left
unplaced; ``z`` a bundle uses a group; ``x`` a channel is used; ``s`` an end stays where it is kept.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from wiregen.allocation.bounds import least_groups
from wiregen.allocation.classes import BundleKey, Counted, Counts, GroupKey

Costs = dict[int, int]  # column -> cost of one


@dataclass(frozen=True, slots=True)
class Row:
    """``lower <= sum of coefficient x column <= upper``."""

    lower: float
    upper: float
    terms: dict[int, int]


@dataclass
class Program:
    """Columns are integers from 0 to ``upper``."""

    counted: Counted
    upper: list[int] = field(default_factory=list)
    rows: list[Row] = field(default_factory=list)
    n: list[int] = field(default_factory=list)  # column of each pair
    y: dict[GroupKey, int] = field(default_factory=dict)
    u: list[int] = field(default_factory=list)  # column of each end class; empty where all must be placed
    z: dict[tuple[BundleKey, GroupKey], int] = field(default_factory=dict)
    x: dict[int, int] = field(default_factory=dict)  # column of each channel
    s: dict[int, int] = field(default_factory=dict)  # column of each kept end

    def column(self, upper: int) -> int:
        self.upper.append(upper)
        return len(self.upper) - 1

    def row(self, lower: float, upper: float, terms: dict[int, int]) -> None:
        if terms:
            self.rows.append(Row(lower, upper, terms))

    def hold(self, costs: Costs, value: int) -> None:
        """Let a level, once solved, become no worse."""
        self.row(-math.inf, value, costs)


def build(counted: Counted, drop: bool) -> Program:
    """Everything that an answer must respect. With ``drop`` ends may be left unplaced, otherwise all must be placed."""
    program = Program(counted)
    for pair in counted.pairs:
        ends, channels = counted.ends[pair.end], counted.channels[pair.channel]
        program.n.append(program.column(min(len(ends.ends), len(channels.channels))))
    _needs(program, drop)
    _rooms(program)
    _polarities(program)
    _apart(program)
    return program


def _needs(program: Program, drop: bool) -> None:
    of_end: dict[int, dict[int, int]] = defaultdict(dict)
    for column, pair in zip(program.n, program.counted.pairs, strict=True):
        of_end[pair.end][column] = 1
    for k, end_class in enumerate(program.counted.ends):
        size = len(end_class.ends)
        if drop:
            program.u.append(program.column(size))
            of_end[k][program.u[k]] = 1
        program.row(size, size, of_end[k])


def needs_in(program: Program, rows: Iterable[int]) -> frozenset[int]:
    """The end classes whose needs are among these rows: where all are reached, needs are the first rows, one each."""
    return frozenset(row for row in rows if row < len(program.counted.ends))


def _rooms(program: Program) -> None:
    of_channel: dict[int, dict[int, int]] = defaultdict(dict)
    for column, pair in zip(program.n, program.counted.pairs, strict=True):
        of_channel[pair.channel][column] = 1
    for j, terms in of_channel.items():
        program.row(-math.inf, len(program.counted.channels[j].channels), terms)


def _polarities(program: Program) -> None:
    """A switch for each group that both polarities could want.

    With one row for each class of channels: one for the whole group is looser and took up to ten times as long.
    """
    counted = program.counted
    wanting: dict[GroupKey, dict[tuple[str, int], list[int]]] = defaultdict(lambda: defaultdict(list))
    for number, pair in enumerate(counted.pairs):
        group = counted.channels[pair.channel].group
        if group[1] == "digital_in" and len(pair.wirings) == 1:
            wanting[group][min(pair.wirings), pair.channel].append(number)
    for group, wants in wanting.items():
        if {polarity for polarity, _ in wants} == {"source", "sink"}:
            program.y[group] = y = program.column(1)
            for (polarity, _), pairs in wants.items():
                _only_if(program, pairs, {y: -1 if polarity == "source" else 1}, int(polarity == "sink"))


def _only_if(program: Program, pairs: list[int], switch: dict[int, int], offset: int) -> None:
    """These pairs may be used only while a switch is on: at most ``most`` times the switch, or its complement."""
    counted = program.counted
    ends = {counted.pairs[p].end for p in pairs}
    channels = {counted.pairs[p].channel for p in pairs}
    most = min(sum(len(counted.ends[k].ends) for k in ends), sum(len(counted.channels[j].channels) for j in channels))
    terms = {program.n[p]: 1 for p in pairs} | {column: sign * most for column, sign in switch.items()}
    program.row(-math.inf, offset * most, terms)


def _apart(program: Program) -> None:
    counted = program.counted
    of_end: dict[int, list[int]] = defaultdict(list)
    for number, pair in enumerate(counted.pairs):
        of_end[pair.end].append(number)
    for classes, most in counted.limits:
        on_device: dict[str, dict[int, int]] = defaultdict(dict)
        for k in classes:
            for number in of_end[k]:
                on_device[counted.channels[counted.pairs[number].channel].device][program.n[number]] = 1
        for terms in on_device.values():
            if sum(program.upper[column] for column in terms) > most:
                program.row(-math.inf, most, terms)


def add_cables(program: Program) -> None:
    """``z``: which groups each bundle uses, with what its size says at least."""
    counted = program.counted
    used: dict[tuple[BundleKey, GroupKey], dict[int, list[int]]] = defaultdict(lambda: defaultdict(list))
    for number, pair in enumerate(counted.pairs):
        bundle = counted.ends[pair.end].bundle
        if bundle is not None:
            used[bundle, counted.channels[pair.channel].group][pair.channel].append(number)
    for key, by_class in used.items():
        program.z[key] = z = program.column(1)
        _only_if(program, [number for pairs in by_class.values() for number in pairs], {z: -1}, 0)
        # Rows for each class of channels say nothing new of whole answers, but tighten the bound.
        for pairs in by_class.values() if len(by_class) > 1 else ():
            _only_if(program, pairs, {z: -1}, 0)
    if not program.u:
        for bundle, least in least_groups(counted).items():
            program.row(least, math.inf, {z: 1 for key, z in program.z.items() if key[0] == bundle})


def add_places(program: Program) -> None:
    """``x`` and ``s``: which channel of a class is used, and who of a class stays. One channel alone needs no ``x``."""
    counted = program.counted
    on_channel: dict[int, dict[int, int]] = defaultdict(dict)
    stays: dict[int, int] = {}  # end class -> column of those at home
    for column, pair in zip(program.n, counted.pairs, strict=True):
        on_channel[pair.channel][column] = -1
        if counted.ends[pair.end].home == pair.channel:
            stays[pair.end] = column
    for j, terms in on_channel.items():
        channels = counted.channels[j].channels
        if len(channels) > 1:
            program.x.update((channel, program.column(1)) for channel in channels)
            program.row(0, 0, terms | {program.x[channel]: 1 for channel in channels})
    at = {channel.pin: index for index, channel in enumerate(counted.problem.channels)}
    for k, column in stays.items():
        ends = counted.ends[k].ends
        program.s.update((end, program.column(1)) for end in ends)
        program.row(0, 0, {column: -1} | {program.s[end]: 1 for end in ends})
        for end in ends:
            kept = counted.problem.ends[end].kept
            if kept is not None and at[kept] in program.x:
                program.row(0, math.inf, {program.x[at[kept]]: 1, program.s[end]: -1})


def vector(program: Program, counts: Counts) -> list[int]:
    """A value for every column of a program with cables, that says the same as ``counts``: a start for the solver."""
    counted = program.counted
    values = [0] * len(program.upper)
    left = {k: len(end_class.ends) for k, end_class in enumerate(counted.ends)}
    for column, pair in zip(program.n, counted.pairs, strict=True):
        number = counts.get((pair.end, pair.channel), 0)
        group, bundle = counted.channels[pair.channel].group, counted.ends[pair.end].bundle
        values[column] = number
        left[pair.end] -= number
        if number and group in program.y and pair.wirings == {"source"}:
            values[program.y[group]] = 1
        if number and bundle is not None:
            values[program.z[bundle, group]] = 1
    for k, column in enumerate(program.u):
        values[column] = left[k]
    return values
