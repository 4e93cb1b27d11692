"""Level after level: each preference at its least, with all earlier ones held."""

from __future__ import annotations

from dataclasses import dataclass

from wiregen.allocation import bounds, bundles, costs, program
from wiregen.allocation.classes import Counted, Counts, bundle_of, count, group_of
from wiregen.allocation.dealing import deal, seat
from wiregen.allocation.model import Level, Problem
from wiregen.allocation.program import Program
from wiregen.allocation.solver import Solver
from wiregen.terms import InternalFault


@dataclass(frozen=True, slots=True)
class Placing:
    """The answer for one part by index: each end's channel or None, and the levels in order."""

    channels: tuple[int | None, ...]
    levels: tuple[Level, ...]


@dataclass(frozen=True, slots=True)
class Settings:
    """``node_limit`` bounds the search for ``together``, and not for large banks; None: until proven; 0: no search."""

    presolve: bool
    node_limit: int | None


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
    for name in [*["unplaced"] * drop, "moves", "unusual", "scarce"]:
        # The last of them is solved even where nothing is scarce: one solution is needed to go on from.
        if not ladder.climb(name, always=name == "scarce"):
            return None
    last = _together(ladder, counted, drop)
    program.add_places(last)
    ladder.stand_on(last)
    if not (ladder.climb("from the top") and ladder.climb("tie-break", always=True)):
        raise InternalFault("the levels solved so far cannot be held")
    seats = _seats(ladder)
    return Placing(seats, tuple(_as_seated(level, part, seats) for level in ladder.levels))


def _together(ladder: _Ladder, coarse: Counted, drop: bool) -> Program:
    """Settles which groups each bundle uses, and returns the program to go on with."""
    choice = bundles.with_a_choice(coarse, every=drop)
    # A bundle without a choice uses one group.
    sure = len({bundle_of(end) for end in coarse.problem.ends if end.bundle} - choice)
    if not choice:
        ladder.levels.append(Level("together", sure, sure, True))
        return program.build(coarse, drop)
    fine = count(coarse.problem, choice)
    cables = _with_cables(fine, drop)
    if len(cables.z) > CHOICES and len(coarse.pairs) <= SEARCHED:
        ladder.make_unique()
    counts, bound = ladder.gather(cables, bundles.construct(coarse, ladder.counts, fine))
    value = len(bundles.used(fine, counts))
    ladder.levels.append(Level("together", value + sure, bound + sure, value == bound))
    if value > bound or len(cables.z) > CHOICES:
        return program.build(bundles.narrowed(fine, counts), drop)
    ladder.held["together"] = value
    return _with_cables(fine, drop)


def _as_seated(level: Level, part: Problem, seats: tuple[int | None, ...]) -> Level:
    """``together`` as it came out: where groups were held and not their number, a bundle may have left one of them."""
    if level.name != "together":
        return level
    at = zip(part.ends, seats, strict=True)
    used = {(bundle_of(end), group_of(part.channels[c])) for end, c in at if end.bundle and c is not None}
    return Level(level.name, len(used), level.bound, len(used) == level.bound)


def _with_cables(counted: Counted, drop: bool) -> Program:
    cables = program.build(counted, drop)
    program.add_cables(cables)
    return cables


def _seats(ladder: _Ladder) -> tuple[int | None, ...]:
    counted = ladder.program.counted
    stays = {end: bool(ladder.values[column]) for end, column in ladder.program.s.items()}
    seats = seat(counted, deal(counted, ladder.counts, stays), stays)
    return tuple(seats.get(end) for end in range(len(counted.problem.ends)))


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
        self._solver = self._holding(new)

    def _holding(self, new: Program) -> Solver:
        for name, value in self.held.items():
            new.hold(costs.OF_LEVEL[name](new), value)
        return Solver(new, self._settings.presolve)

    def climb(self, name: str, always: bool = False) -> bool:
        """Solve one level and hold it. False where no answer exists."""
        cost = costs.OF_LEVEL[name](self.program)
        value = 0
        if cost or always:
            solution = self._solver.minimise(cost)
            if solution is None:
                return False
            self.values, value = solution.values, solution.value
            self._solver.hold(cost, value)
            self.held[name] = value
        self.levels.append(Level(name, value, value, True))
        return True

    def make_unique(self) -> None:
        """Of all answers at the levels so far that of the tie-break, so that what is built on it is always the same."""
        solution = self._solver.minimise(costs.tie_break(self.program))
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
        solution = self._holding(cables).minimise(costs.together(cables), limit, program.vector(cables, start))
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
