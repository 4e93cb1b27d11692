"""What each level of preference costs, by the columns of a program."""

from __future__ import annotations

import hashlib
from collections.abc import Callable

from wiregen.allocation.classes import Counted, Pair
from wiregen.allocation.program import Costs, Program


def unplaced(program: Program) -> Costs:
    """One for every end left out."""
    return dict.fromkeys(program.u, 1)


def moves(program: Program) -> Costs:
    """One for every end away from where it is wired, and for every wired one that is left out."""
    gone = {u: 1 for u, ends in zip(program.u, program.counted.ends, strict=False) if ends.kept}
    return _by_pair(program, [pair.move for pair in program.counted.pairs]) | gone


def unusual(program: Program) -> Costs:
    """One for every end off its usual place."""
    return _by_pair(program, [pair.unusual for pair in program.counted.pairs])


def scarce(program: Program) -> Costs:
    """The scarcity of every channel used, as the profile has it."""
    return _by_pair(program, [program.counted.channels[pair.channel].scarce for pair in program.counted.pairs])


def together(program: Program) -> Costs:
    """One for every group that a bundle uses; needs ``add_cables``."""
    return dict.fromkeys(program.z.values(), 1)


def from_the_top(program: Program) -> Costs:
    """Positions of the channels used; needs ``add_places``."""
    counted = program.counted
    costs = {column: counted.problem.channels[channel].position for channel, column in program.x.items()}
    for column, pair in zip(program.n, counted.pairs, strict=True):
        channels = counted.channels[pair.channel].channels
        if len(channels) == 1:
            costs[column] = counted.problem.channels[channels[0]].position
    return {column: cost for column, cost in costs.items() if cost}


def tie_break(program: Program) -> Costs:
    """Weights that leave one least answer with high probability (isolation lemma), for every correct solver."""
    counted = program.counted
    costs = {column: _weight(counted, pair) for column, pair in zip(program.n, counted.pairs, strict=True)}
    for end, column in program.s.items():
        kept = counted.problem.ends[end].kept
        costs[column] = _hash(counted.problem.ends[end].id, str(kept))
    return costs


def _weight(counted: Counted, pair: Pair) -> int:
    first_end = min(counted.problem.ends[end].id for end in counted.ends[pair.end].ends)
    channel_class = counted.channels[pair.channel]
    return _hash(first_end, channel_class.device, counted.problem.channels[channel_class.channels[0]].name)


def _hash(*words: str) -> int:
    digest = hashlib.sha256("|".join(words).encode()).digest()
    return 1 + int.from_bytes(digest, "big") % 2**20


def _by_pair(program: Program, costs: list[int]) -> Costs:
    return {column: cost for column, cost in zip(program.n, costs, strict=True) if cost}


#: Level -> what it costs.
OF_LEVEL: dict[str, Callable[[Program], Costs]] = {
    "unplaced": unplaced,
    "moves": moves,
    "unusual": unusual,
    "scarce": scarce,
    "together": together,
    "from the top": from_the_top,
    "tie-break": tie_break,
}
