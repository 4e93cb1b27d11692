"""Orders with the fewest crossings, against every order there is, and against the geometry of the wires themselves."""

from __future__ import annotations

import itertools
from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from wiregen.drawing import crossings

Ends = list[list[int]]


def groups(most: int) -> st.SearchStrategy[Ends]:
    """Groups of wires; their ends are the places 0, 1, 2 ... in any order, each once."""

    def dealt(order: list[int], cuts: list[int]) -> Ends:
        bounds = [0, *sorted(cuts), len(order)]
        return [order[a:b] for a, b in itertools.pairwise(bounds)]

    return st.integers(0, 12).flatmap(
        lambda n: st.builds(
            dealt, st.permutations(range(n)), st.lists(st.integers(0, n), min_size=0, max_size=most - 1)
        )
    )


def crossed(rows: Sequence[Sequence[int]]) -> int:
    """Crossings counted one pair of wires after the other; wires of one row do not count."""
    pairs = itertools.combinations(range(len(rows)), 2)
    return sum(a > b for i, j in pairs for a in rows[i] for b in rows[j])


@given(groups(6))
def test_an_order_of_few_groups_is_the_best_of_all_orders(ends: Ends) -> None:
    found = crossings.best_order(ends)
    every = [crossed([ends[i] for i in order]) for order in itertools.permutations(range(len(ends)))]
    assert sorted(found.places) == list(range(len(ends)))
    assert found.crossings == found.least == min(every) == crossed([ends[i] for i in found.places])


@given(groups(16))
def test_an_order_of_many_groups_says_how_far_it_is_from_the_best(ends: Ends) -> None:
    found = crossings.best_order(ends)
    assert found.crossings == crossed([ends[i] for i in found.places])
    least = sum(
        min(crossed([a, b]), crossed([b, a])) for a, b in itertools.combinations(ends, 2)
    )  # no order can have less
    assert least <= found.least <= found.crossings
    assert found.crossings <= crossed(ends)


@given(groups(4), groups(4))
def test_merging_two_rows_is_the_best_of_all_ways(first: Ends, second: Ends) -> None:
    found = crossings.merged(first, second)
    rows = (first, second)
    assert [i for row, i in found if row == 0] == list(range(len(first)))
    assert [i for row, i in found if row == 1] == list(range(len(second)))
    every = []
    for places in itertools.combinations(range(len(first) + len(second)), len(first)):
        a, b = iter(first), iter(second)
        every.append(crossed([next(a) if i in places else next(b) for i in range(len(first) + len(second))]))
    assert crossed([rows[row][i] for row, i in found]) == min(every)


@given(
    st.lists(st.tuples(st.integers(0, 40), st.integers(0, 40)), max_size=6, unique_by=(lambda s: s[0], lambda s: s[1]))
)
def test_wires_cross_where_their_order_changes_and_nowhere_else(spans: list[tuple[int, int]]) -> None:
    """Each wire runs from its end to its track, along it, and out to its row: counted as lines that meet."""
    rows = [row for row, _ in spans]
    spans = [(row * 2, end * 2 + 1) for row, end in spans]  # a row and an end never share a height
    order = crossings.track_order(spans)
    assert sorted(order) == list(range(len(rows)))
    met = [_met(spans[a], spans[b]) for a, b in itertools.combinations(order, 2)]
    turned = [(spans[a][0] < spans[b][0]) != (spans[a][1] < spans[b][1]) for a, b in itertools.combinations(order, 2)]
    assert met == [int(t) for t in turned]


def _met(nearer: tuple[int, int], further: tuple[int, int]) -> int:
    """The outer end of the nearer wire passes the further track, the inner end of the further wire the nearer track."""
    return (min(further) < nearer[0] < max(further)) + (min(nearer) < further[1] < max(nearer))


@given(st.lists(st.lists(st.integers(0, 30), min_size=2, max_size=4, unique=True), max_size=5))
def test_rails_stand_in_the_best_of_all_orders(rows: list[list[int]]) -> None:
    def met(order: Sequence[int]) -> int:
        """A row runs from the devices outwards past every rail that stands inside of its own."""
        return sum(
            min(rows[inner]) < y < max(rows[inner])
            for at, rail in enumerate(order)
            for inner in order[at + 1 :]
            for y in rows[rail]
        )

    found = crossings.rail_order(rows)
    assert met(found) == min(met(order) for order in itertools.permutations(range(len(rows))))


@given(st.lists(st.tuples(st.integers(0, 99), st.integers(0, 20)), max_size=8))
def test_rails_of_different_groups_keep_apart(starts: list[tuple[int, int]]) -> None:
    spans = [(float(a), float(a + d)) for a, d in starts]
    found = list(crossings.overlapping(spans, 2.0))
    assert sorted(i for group in found for i in group) == list(range(len(spans)))
    for one, other in itertools.combinations(found, 2):
        for a, b in itertools.product(one, other):
            assert spans[a][1] + 2.0 < spans[b][0] or spans[b][1] + 2.0 < spans[a][0]


@given(st.permutations(range(7)))
def test_as_many_wires_run_straight_as_can(ends: list[int]) -> None:
    found = crossings.straight(ends)
    assert [ends[i] for i in found] == sorted(ends[i] for i in found)
    longest = max(
        len(some)
        for n in range(len(ends) + 1)
        for some in itertools.combinations(ends, n)
        if list(some) == sorted(some)
    )
    assert len(found) == longest
