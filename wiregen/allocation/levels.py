"""Level after level: each preference at its least, with all earlier ones held."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.allocation import bounds, bundles, costs, program
from wiregen.allocation.classes import Counted, Counts, bundle_of, count, group_of
from wiregen.allocation.deadline import NEVER, Deadline, OutOfTime
from wiregen.allocation.dealing import Dealt, deal, seat
from wiregen.allocation.model import Level, Problem
from wiregen.allocation.program import Costs, Program
from wiregen.allocation.solver import Solution, Solver
from wiregen.terms import InternalFault


@dataclass(frozen=True, slots=True)
class Placing:
    """The answer for one part by index: each end's channel or None, and the levels in order."""

    channels: tuple[int | None, ...]
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True)
class Settings:
    """``node_limit`` bounds the search for ``together``, and not for large banks; None: until proven; 0: no search.

    After ``deadline`` an answer stands as far as it was found; that it exists at all is settled however long it takes.
    """

    presolve: bool
    node_limit: int | None
    deadline: Deadline = NEVER


#: The levels before ``together``, and those after it.
FIRST = ("moves", "unusual", "scarce")
LAST = ("from the top", "tie-break")

#: Pairs of classes up to which ``together`` is searched under a node limit. At 1,300 pairs (a bank of 90 ends with
#: polarities) it was proven in 0.9 s at the first node; at 3,000 the first node took 2 s, at 9,600 nearly 6 s. If not
#: all can be placed, less is at stake, and 1,300 pairs took 8 s.
SEARCHED = 2000
SEARCHED_IN_PART = 400
#: Choices of a group for a bundle up to which later levels hold only how many groups are used; beyond, which groups.
#: Measured with the number held: two cards of 16 inputs take up to 0.3 s, three up to 2 s, six do not come to an end.
CHOICES = 24


def place(part: Problem, settings: Settings) -> Placing:
    """The best placing of a part: of all its ends, or of as many as can be placed."""
    placing = _placing(part, settings, drop=False) or _placing(part, settings, drop=True)
    if placing is None:
        raise InternalFault("not even an empty allocation was found")
    return placing


def feasible(part: Problem, presolve: bool = True) -> bool:
    """Whether all ends of a part can be placed, whatever the preferences."""
    counted = count(part)
    if not _all_reach(counted):
        return False
    return not counted.ends or Solver(program.build(counted, drop=False), presolve).minimise({}) is not None


def may_clash(part: Problem) -> bool:
    """Whether polarities or sets to keep apart could stand in the way where there are channels enough."""
    counted = count(part)
    return bool(counted.limits or program.build(counted, drop=False).y)


def shortage(part: Problem) -> frozenset[str]:
    """Ids of ends that cannot all be placed even where ends may be divided; none where that would help."""
    counted = count(part)
    if not counted.ends or not _all_reach(counted):
        return frozenset()
    program_of_part = program.build(counted, drop=False)
    short = program.needs_in(program_of_part, Solver(program_of_part, presolve=False).infeasible_rows())
    return frozenset(part.ends[index].id for k in short for index in counted.ends[k].ends)


def _all_reach(counted: Counted) -> bool:
    return len({pair.end for pair in counted.pairs}) == len(counted.ends)


def _placing(part: Problem, settings: Settings, drop: bool) -> Placing | None:
    counted = count(part)
    if not drop and not _all_reach(counted):
        return None
    ladder = _Ladder(settings, program.build(counted, drop))
    for name in [*["unplaced"] * drop, *FIRST]:
        # The last of them is solved even where nothing is scarce: one solution is needed to go on from.
        if not ladder.climb(name, always=name == "scarce"):
            return None
    last, counts = _together(ladder, counted, drop)
    program.add_places(last)
    ladder.stand_on(last)
    if not all(ladder.climb(name, always=name == "tie-break") for name in LAST):
        raise InternalFault("the levels solved so far cannot be held")
    dealt, stays = _dealt(ladder, counts)
    seats = seat(last.counted, dealt, stays)
    return Placing(tuple(seats.get(end) for end in range(len(part.ends))), _as_seated(ladder, part, seats, dealt))


def _together(ladder: _Ladder, coarse: Counted, drop: bool) -> tuple[Program, Counts]:
    """Settles which groups each bundle uses; returns the program to go on with, and an answer to it."""
    choice = bundles.with_a_choice(coarse, every=drop)
    # A bundle without a choice uses one group.
    sure = len({bundle_of(end) for end in coarse.problem.ends if end.bundle} - choice)
    if not choice:
        ladder.levels.append(Level("together", sure, sure, True))
        return program.build(coarse, drop), ladder.counts
    fine = count(coarse.problem, choice)
    cables = _with_cables(fine, drop)
    if len(cables.z) > CHOICES and len(coarse.pairs) <= SEARCHED:
        ladder.make_unique()
    counts, bound = ladder.gather(cables, bundles.construct(coarse, ladder.counts, fine))
    value = len(bundles.used(fine, counts))
    ladder.levels.append(Level("together", value + sure, bound + sure, value == bound))
    if value > bound or len(cables.z) > CHOICES:
        narrow = bundles.narrowed(fine, counts)
        return program.build(narrow, drop), counts
    ladder.held["together"] = value
    return _with_cables(fine, drop), counts


def _as_seated(ladder: _Ladder, part: Problem, seats: dict[int, int], dealt: Dealt) -> tuple[Level, ...]:
    """The levels as they came out: what was held and not proven least may have become less on a later level.

    Of ``together`` the groups may be held and not their number, and a bundle may have left one of them.
    """
    counted = ladder.program.counted
    pairs = {(pair.end, pair.channel): pair for pair in counted.pairs}
    class_of = {end: k for k, end_class in enumerate(counted.ends) for end in end_class.ends}
    used = [pairs[class_of[end], j] for end, j in dealt.items()]
    values = {
        "unplaced": len(part.ends) - len(seats),
        "moves": sum(pair.move for pair in used) + sum(bool(e.kept) for i, e in enumerate(part.ends) if i not in seats),
        "unusual": sum(pair.unusual for pair in used),
        "scarce": sum(part.channels[c].scarce for c in seats.values()),
        "together": len(
            {(bundle_of(part.ends[e]), group_of(part.channels[c])) for e, c in seats.items() if part.ends[e].bundle}
        ),
        "from the top": sum(part.channels[c].position for c in seats.values()),
    }
    levels = []
    for level in ladder.levels:
        value = values.get(level.name, level.value)
        levels.append(Level(level.name, value, min(level.bound, value), level.bound >= value))
    return tuple(levels)


def _with_cables(counted: Counted, drop: bool) -> Program:
    cables = program.build(counted, drop)
    program.add_cables(cables)
    return cables


def _dealt(ladder: _Ladder, counts: Counts) -> tuple[Dealt, dict[int, bool]]:
    """Each end's channel class, and who stays; from ``counts`` where the time was over before the last levels."""
    counted = ladder.program.counted
    if ladder.values:
        stays = {end: bool(ladder.values[column]) for end, column in ladder.program.s.items()}
        return deal(counted, ladder.counts, stays), stays
    homes = ((k, c) for k, c in enumerate(counted.ends) if c.home is not None)
    stays = {end: True for k, c in homes for end in c.ends[: counts.get((k, c.home or 0), 0)]}
    return deal(counted, counts, stays), stays


class _Ladder:
    """The levels solved so far, and the program on which the next one is solved."""

    def __init__(self, settings: Settings, first: Program) -> None:
        self._settings = settings
        self.held: dict[str, int] = {}
        self.levels: list[Level] = []
        self.values: tuple[int, ...] = ()
        self.stand_on(first)

    def stand_on(self, new: Program) -> None:
        """Go on with another program of the same part, all levels so far held."""
        self.program = new
        self.values = ()
        self._solver = self._holding(new)

    def _holding(self, new: Program) -> Solver:
        for name, value in self.held.items():
            new.hold(costs.OF_LEVEL[name](new), value)
        return Solver(new, self._settings.presolve, self._settings.deadline)

    def climb(self, name: str, always: bool = False) -> bool:
        """Solve one level and hold it. False where no answer exists."""
        cost = costs.OF_LEVEL[name](self.program)
        value = bound = 0
        if cost or always:
            solution = self._least(name, cost)
            if solution is None:
                return False
            self.values, value, bound = solution.values, solution.value, solution.bound
            self._solver.hold(cost, value)
            self.held[name] = value
        self.levels.append(Level(name, value, bound, value == bound))
        return True

    def _least(self, name: str, cost: Costs) -> Solution | None:
        """The answer at the least cost; when the time is over the one that stands, else any."""
        try:
            return self._solver.minimise(cost)
        except OutOfTime:
            if name in LAST or self.values:
                value = sum(factor * self.values[column] for column, factor in cost.items()) if self.values else 1
                return Solution(self.values, value, 0, value == 0)
        unlimited = Solver(self.program, self._settings.presolve)
        found = unlimited.minimise(cost if name == "unplaced" else {})
        if found is None or name == "unplaced":
            return found
        value = sum(factor * found.values[column] for column, factor in cost.items())
        return Solution(found.values, value, 0, value == 0)

    def make_unique(self) -> None:
        """Of all answers at the levels so far that of the tie-break, so that what is built on it is always the same."""
        solution = self._least("tie-break", costs.tie_break(self.program))
        if solution is None:
            raise InternalFault("the levels solved so far cannot be held")
        self.values = solution.values

    def gather(self, cables: Program, starts: tuple[Counts, ...]) -> tuple[Counts, int]:
        """Bundles in as few groups as are found from ``starts`` on, and a number below which they cannot get.

        A bank too large to search is searched among the groups that ``starts`` use, if more than a tenth may be gained.
        """
        fine, drop = cables.counted, bool(cables.u)
        start = min((s for s in starts if sum(s.values()) == self._placed), key=lambda s: len(bundles.used(fine, s)))
        bound = 0 if drop else bounds.least_together(fine, self.held.get("moves", 0))
        limit = self._settings.node_limit
        near = bundles.narrowed(fine, *starts)
        value = len(bundles.used(fine, start))
        if value == bound or limit == 0:
            return start, bound
        few = SEARCHED_IN_PART if drop else SEARCHED
        if limit is None or len(fine.pairs) <= few:
            found, least = self._search(cables, start)
            return found, max(bound, least)
        if len(near.pairs) <= few and value > bound * 1.1:
            return self._search(_with_cables(near, drop), start)[0], bound
        return start, bound

    def _search(self, cables: Program, start: Counts) -> tuple[Counts, int]:
        limit = self._settings.node_limit
        try:
            solution = self._holding(cables).minimise(costs.together(cables), limit, program.vector(cables, start))
        except OutOfTime:
            return start, 0
        if solution is None:
            raise InternalFault("the levels solved so far cannot be held")
        # Where nothing is gained the start stays: it does not depend on the way that the solver took.
        gained = solution.value < len(bundles.used(cables.counted, start))
        return _counts(cables, solution.values) if gained else start, solution.bound

    @property
    def _placed(self) -> int:
        return sum(self.counts.values())

    @property
    def counts(self) -> Counts:
        """How many ends of each class stand on channels of each class."""
        return _counts(self.program, self.values)


def _counts(of: Program, values: tuple[int, ...]) -> Counts:
    pairs = zip(of.counted.pairs, of.n, strict=True)
    return {(pair.end, pair.channel): values[column] for pair, column in pairs if values[column]}
