"""The premises of every conflict cannot hold together, and without any one of them they can. Source: every placing."""

from __future__ import annotations

from dataclasses import replace

import pytest
from allocation_plants import CONTACT, MILLIAMPS, NONE, VOLTS, compact_drive, input_card, plant, random_problem
from brute_force import holds, serves

from wiregen.allocation import allocate
from wiregen.allocation.model import Channel, End, Problem
from wiregen.allocation.narrowing import minimal
from wiregen.control.functions import Premise
from wiregen.terms import Pin

DRIVE = tuple(compact_drive("-TA1"))
CARDS = tuple(input_card("-KE1") + input_card("-KE2"))


def can_hold(problem: Problem, premises: tuple[Premise, ...]) -> bool:
    """Whether a placing satisfies these premises, by trying every one. Shares no code with the room that it checks."""
    said = {(p.kind, p.subject) for p in premises}
    unlimited = {d for e in problem.ends for d in e.devices if ("profile", d) not in said}
    channels = [c if ("keep free", str(c.pin)) in said else replace(c, keep_free=None) for c in problem.channels]
    ends = [e for e in problem.ends if ("need", e.id) in said]
    held = Problem(
        tuple(ends),
        tuple(channels),
        tuple(item for item in problem.polarity if ("polarity", " ".join(item[0])) in said),
        tuple(_named(problem, p) for p in premises if p.kind == "apart"),
    )

    def choices(end: End) -> list[Channel]:
        wanted = end if ("fixed", end.id) in said else replace(end, fixed=None)
        anything = [d for d in end.devices if d in unlimited and (wanted.fixed is None or wanted.fixed.device == d)]
        invented = [replace(DRIVE[0], device=d, name=f"any {end.id}", role="anything") for d in anything]
        return [*invented, *(c for c in channels if serves(wanted, c))]

    def extend(chosen: tuple[Channel, ...]) -> bool:
        if len(chosen) == len(ends):
            return True
        return any(
            extend((*chosen, c)) for c in choices(ends[len(chosen)]) if c not in chosen and holds(held, (*chosen, c))
        )

    return extend(())


def _named(problem: Problem, premise: Premise) -> tuple[str, ...]:
    """The first declared set that holds the members of the premise."""
    return next(m for m in problem.apart if set(premise.subject.split(" | ")) <= set(m))


def check(problem: Problem) -> int:
    conflicts = allocate(problem).conflicts
    for conflict in conflicts:
        assert conflict.premises
        assert not can_hold(problem, conflict.premises), conflict.says
        for left_out in conflict.premises:
            rest = tuple(p for p in conflict.premises if p != left_out)
            assert can_hold(problem, rest), (conflict.says, left_out)
    return len(conflicts)


@pytest.mark.parametrize("block", range(8))
def test_no_conflict_can_hold_and_none_has_a_premise_too_many(block: int) -> None:
    found = sum(check(random_problem(seed)) for seed in range(block * 40, block * 40 + 40))
    assert found > 10  # about every second of these problems has a conflict


def end(function: str, role: str = "digital_in", **more: object) -> End:
    signals = more.pop("signals", CONTACT if role == "digital_in" else NONE)
    devices = more.pop("devices", ("-TA1",))
    return End(function, function, devices, role, signals, **more)  # type: ignore[arg-type]


def test_a_shortage_names_the_needs_and_the_device_that_is_short() -> None:
    ends = tuple(end(name, "analog_in", signals=MILLIAMPS) for name in ("reference auto", "feedback", "setpoint"))
    (conflict,) = allocate(Problem((*ends, end("reference hand", "analog_in", signals=VOLTS)), DRIVE)).conflicts
    assert [p.says for p in conflict.premises] == [
        "reference auto at -TA1 needs an analog input for 4-20 mA",
        "feedback at -TA1 needs an analog input for 4-20 mA",
        "-TA1 has one that serves: AI2",
    ]
    assert len(conflict.members) == 3  # all that compete are still named


def test_of_five_hundred_that_compete_seventeen_are_one_too_many_for_sixteen() -> None:
    ends = tuple(end(f"signal {n}", devices=("-KE1",)) for n in range(500))
    (conflict,) = allocate(Problem(ends, CARDS[:16])).conflicts
    assert len(conflict.members) == 500
    assert [p.kind for p in conflict.premises] == ["need"] * 17 + ["profile"]


def test_what_is_fixed_and_what_is_kept_free_are_premises() -> None:
    drive = tuple(replace(c, keep_free="damaged") if c.name == "DI3" else c for c in DRIVE)
    ends = (*(end(f"f{n}") for n in range(5)), end("level", fixed=Pin("-TA1", "DI3")))
    (conflict,) = allocate(Problem(ends, drive)).conflicts
    assert [p.kind for p in conflict.premises] == ["need", "profile", "keep free", "fixed"]
    assert [p.says for p in conflict.premises][2:] == [
        "-TA1:DI3 is kept free (damaged)",
        "level is fixed at -TA1:DI3",
    ]


def test_polarities_and_sets_apart_are_premises() -> None:
    ends = (end("level", polarity="source"), *(end(n, devices=("-KE1", "-KE2")) for n in "abc"))
    problem = Problem(ends, DRIVE + CARDS, ((("-TA1", "DI"), "sink"),), (("a", "b", "c"),))
    kinds = [[p.kind for p in c.premises] for c in allocate(problem).conflicts]
    assert kinds == [["need", "profile", "polarity"], ["need", "need", "need", "apart"]]


def test_conflicts_of_a_plant_of_two_hundred_signals_have_no_premise_too_many() -> None:
    """Minimal by the solver's own word, at a size where no one can try every placing."""
    from wiregen.allocation.levels import feasible
    from wiregen.allocation.premises import within

    base = plant(200)
    inputs = [e for e in base.ends if e.role == "digital_in" and len(e.devices) > 1]
    plain = [e.id for e in inputs if not e.abilities]
    able = sum(1 for c in base.channels if c.abilities and c.device.startswith("-KE"))
    pulses = set(plain[: able - (len(inputs) - len(plain)) + 1])
    ends = tuple(replace(e, abilities=frozenset({"pulse"})) if e.id in pulses else e for e in base.ends)
    problem = replace(base, ends=ends, apart=(tuple(plain[-8:]),))
    conflicts = allocate(problem).conflicts
    assert len(conflicts) == 2
    (pair,) = problem.apart
    for conflict in conflicts:
        keys = [(p.kind, *(pair if p.kind == "apart" else (p.subject,))) for p in conflict.premises]
        assert not feasible(within(problem, keys))
        assert all(feasible(within(problem, keys[:i] + keys[i + 1 :])) for i in range(len(keys)))


def test_narrowing_finds_a_smallest_set_and_prefers_what_comes_first() -> None:
    contradictions = [{2, 5}, {3, 5, 7}]

    def fits(some: list[int]) -> bool:
        return not any(c <= set(some) for c in contradictions)

    assert minimal(range(9), fits) == [2, 5]
    assert minimal([8, 7, 6, 5, 4, 3, 2], fits) == [7, 5, 3]
    assert minimal([], fits) == []
