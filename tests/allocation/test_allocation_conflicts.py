"""No allocation: the sentences, and the claims behind them held against exhaustive search."""

from __future__ import annotations

import time
from dataclasses import replace

import pytest
from allocation_plants import CONTACT, MILLIAMPS, NONE, VOLTS, channel, compact_drive, input_card, random_problem
from brute_force import placings, serves

from wiregen.allocation import allocate
from wiregen.allocation.model import Allocation, Conflict, End, Problem
from wiregen.terms import Pin

DRIVE = tuple(compact_drive("-TA1"))
CARDS = tuple(input_card("-KE1") + input_card("-KE2"))


def end(function: str, role: str = "digital_in", **more: object) -> End:
    signals = more.pop("signals", CONTACT if role == "digital_in" else NONE)
    devices = more.pop("devices", ("-TA1",))
    return End(function, function, devices, role, signals, **more)  # type: ignore[arg-type]


def card_end(function: str, fixed: Pin | None = None) -> End:
    return end(function, devices=("-KE1", "-KE2"), fixed=fixed)


def only_conflict(problem: Problem) -> Conflict:
    allocation = allocate(problem)
    assert allocation.status == "infeasible"
    (conflict,) = allocation.conflicts
    return conflict


def test_a_shortage_names_who_competes_for_what() -> None:
    ends = tuple(end(name, "analog_in", signals=MILLIAMPS) for name in ("reference auto", "feedback", "setpoint"))
    conflict = only_conflict(Problem((*ends, end("reference hand", "analog_in", signals=VOLTS)), DRIVE))
    assert conflict.says == (
        "3 functions need a current input (reference auto, feedback and setpoint); -TA1 has one: AI2"
    )
    assert conflict.members == ("reference auto", "feedback", "setpoint")
    assert conflict.channels == ("-TA1:AI2",)


def test_a_shortage_through_a_fixed_end_says_so() -> None:
    ends = (
        end("reference auto", "analog_in", signals=MILLIAMPS),
        end("reference hand", "analog_in", signals=VOLTS, fixed=Pin("-TA1", "AI2")),
    )
    assert only_conflict(Problem(ends, DRIVE)).says == (
        "reference auto needs a current input; -TA1 has one: AI2, and AI2 is fixed for reference hand"
    )


def test_needs_of_two_kinds_that_compete() -> None:
    forms = frozenset({"NC"}), frozenset({"NO"})
    ends = (
        end("fault", "output", forms=forms[0]),
        end("running", "output", forms=forms[1]),
        end("ready", "output", forms=forms[1]),
    )
    relays = tuple(replace(c, role="output") for c in DRIVE if c.role == "relay")
    assert only_conflict(Problem(ends, relays)).says == (
        "3 functions compete for the same terminals: fault needs a break contact, "
        "2 functions need a make contact (running and ready); -TA1 has 2: 13, 21"
    )


@pytest.mark.parametrize(
    ("problem", "says"),
    [
        (
            Problem((end("start", fixed=Pin("-TA1", "DI1")), end("stop", fixed=Pin("-TA1", "DI1"))), DRIVE),
            "-TA1:DI1 is fixed for start and for stop; it can serve one",
        ),
        (
            Problem((end("reference auto", "analog_in", signals=MILLIAMPS, fixed=Pin("-TA1", "AI1")),), DRIVE),
            "-TA1:AI1 cannot carry 4-20 mA, but reference auto is fixed there",
        ),
        (
            Problem((end("start", fixed=Pin("-TA1", "AI1")),), DRIVE),
            "-TA1:AI1 is an analog input, not a digital input and cannot take contact, but start is fixed there",
        ),
        (
            Problem((end("start", fixed=Pin("-TA1", "DI9")),), DRIVE),
            "start is fixed at -TA1:DI9, which is no terminal for it",
        ),
        (
            Problem((end("fault", "relay", forms=frozenset({"NC"}), fixed=Pin("-TA1", "13")),), DRIVE),
            "-TA1:13 has no break contact, but fault is fixed there",
        ),
        (
            Problem(
                (end("start", fixed=Pin("-TA1", "DI3")),),
                tuple(replace(c, keep_free="damaged") if c.name == "DI3" else c for c in DRIVE),
            ),
            "-TA1:DI3 is kept free (damaged), but start is fixed there",
        ),
    ],
)
def test_what_is_fixed_wrongly_is_said_by_itself(problem: Problem, says: str) -> None:
    assert only_conflict(problem).says == says


@pytest.mark.parametrize(
    ("problem", "says"),
    [
        (
            Problem((end("level", polarity="source"),), DRIVE, ((("-TA1", "DI"), "sink"),)),
            "level needs a digital input whose contacts switch +24 V; -TA1 has none; "
            "-TA1:DI1 to DI6 are wired for contacts that switch 0 V",
        ),
        (
            Problem((end("show speed", "safe_torque_off"),), DRIVE),
            "show speed needs a safe torque off input; -TA1 has none",
        ),
        (
            Problem(
                (end("horn", "output", load_a=0.6),),
                (channel("-TA1", "DO1", "output", 0, limit_a=0.05, forms=frozenset({"transistor"})),),
            ),
            "horn needs an output for 0.6 A; -TA1 has none; -TA1:DO1 carries at most 0.05 A, not 0.6 A",
        ),
        (
            Problem((end("flow"),), tuple(replace(c, keep_free="spare") for c in DRIVE if c.name in ("DI1", "DI2"))),
            "flow needs a digital input; -TA1 has none; -TA1:DI1, DI2 are kept free (spare)",
        ),
    ],
)
def test_a_need_that_nothing_serves_says_what_nearly_does(problem: Problem, says: str) -> None:
    assert only_conflict(problem).says == says


def test_two_polarities_in_one_group() -> None:
    ends = (end("level", polarity="source"), end("stop", polarity="sink"), end("reset"))
    conflict = only_conflict(Problem(ends, DRIVE))
    assert conflict.says == (
        "level needs contacts that switch +24 V and stop needs contacts that switch 0 V, "
        "but the inputs of one group share one polarity, and the group is -TA1 DI1 to DI6"
    )
    assert conflict.members == ("level", "stop")


def test_apart_over_too_few_devices() -> None:
    problem = Problem(tuple(card_end(n) for n in "abcd"), CARDS, (), (("a", "b", "c"),))
    assert (
        only_conflict(problem).says
        == "a, b and c must stand on different devices, but only -KE1 and -KE2 can take them"
    )


def test_apart_against_fixed() -> None:
    ends = (card_end("a", fixed=Pin("-KE1", "DI3")), card_end("b", fixed=Pin("-KE1", "DI4")), card_end("c"))
    assert only_conflict(Problem(ends, CARDS, (), (("a", "b"),))).says == (
        "a and b must stand on different devices, but only -KE1 can take them; "
        "a is fixed at -KE1:DI3 and b is fixed at -KE1:DI4, and it would fit if that were not so"
    )


def test_several_conflicts_are_all_found() -> None:
    ends = (
        *(end(n, "analog_in", signals=MILLIAMPS) for n in ("m", "n")),
        end("p", polarity="source"),
        end("q", polarity="sink"),
        end("x", fixed=Pin("-TA1", "AO1")),
        *(card_end(n) for n in ("a", "b", "c")),
    )
    allocation = allocate(Problem(ends, DRIVE + CARDS, (), (("a", "b", "c"),)))
    assert [set(c.members) for c in allocation.conflicts] == [{"x"}, {"m", "n"}, {"p", "q"}, {"a", "b", "c"}]
    assert len(allocation.unplaced) == 4


def test_what_can_be_placed_is_placed_by_the_same_levels() -> None:
    ends = (
        *(end(f"f{n}") for n in range(6)),
        end("stop", usual=(Pin("-TA1", "DI1"),), kept=Pin("-TA1", "DI4")),
    )
    allocation = allocate(Problem(ends, DRIVE))
    assert [level.name for level in allocation.levels][:2] == ["unplaced", "moves"]
    assert [level.value for level in allocation.levels][:2] == [1, 0]
    assert len(allocation.assignments) == 6
    (left,) = allocation.unplaced
    assert left.device == "-TA1"
    assert left.why == allocation.conflicts[0].says


def test_five_hundred_ends_on_one_card_come_back_at_once() -> None:
    """The bound is loose for a busy machine; unbusy it takes about 20 ms."""
    ends = tuple(end(f"signal {n}", devices=("-KE1",), bundle=f"+F{n // 7}") for n in range(500))
    started = time.perf_counter()
    allocation = allocate(Problem(ends, CARDS[:16]))
    assert time.perf_counter() - started < 5
    assert (len(allocation.assignments), len(allocation.unplaced)) == (16, 484)
    (conflict,) = allocation.conflicts
    assert len(conflict.members) == 500
    assert conflict.says == (
        "500 functions need a digital input (signal 0, signal 1, signal 2, signal 3, signal 4 and 495 more); "
        "-KE1 has 16: DI1 to DI16"
    )


def test_five_hundred_ends_of_every_kind_on_one_card_come_back_too() -> None:
    ends = tuple(
        end(
            f"signal {n}",
            devices=("-KE1",),
            polarity="source" if n % 2 else "sink",
            kept=CARDS[n % 16].pin,
            bundle=f"+F{n // 5}",
        )
        for n in range(500)
    )
    allocation = allocate(Problem(ends, CARDS[:16]))
    assert len(allocation.assignments) == 16
    assert len(allocation.conflicts) == 1


@pytest.mark.parametrize("seed", range(120))
def test_conflicts_are_conflicts(seed: int) -> None:
    """Members alone do not fit, without all members the rest does, and no end is in two. Source: every placing."""
    problem = random_problem(seed)
    allocation = allocate(problem)
    if allocation.status == "optimal":
        assert allocation.conflicts == ()
        return
    members = [member for conflict in allocation.conflicts for member in conflict.members]
    assert len(members) == len(set(members))
    for conflict in allocation.conflicts:
        assert not _fits(_only(problem, set(conflict.members)))
        _check_kind(problem, conflict)
    assert _fits(_only(problem, {e.id for e in problem.ends} - set(members)))
    _check_reasons(allocation)


def _check_kind(problem: Problem, conflict: Conflict) -> None:
    """A shortage reaches fewer channels than it has ends; any other conflict fits once any one end is left out."""
    part = _only(problem, set(conflict.members))
    reached = {str(c.pin) for e in part.ends for c in problem.channels if serves(e, c) and _wired(problem, e, c)}
    if len(reached) < len(part.ends):
        assert reached <= set(conflict.channels) or len(part.ends) == 1 or all(e.fixed for e in part.ends)
        return
    for member in conflict.members:
        assert _fits(_only(problem, set(conflict.members) - {member}))


def _wired(problem: Problem, wanting: End, at: object) -> bool:
    return any(True for _ in placings(Problem((replace(wanting, id="x"),), (at,), problem.polarity)))  # type: ignore[arg-type]


def _check_reasons(allocation: Allocation) -> None:
    says = [conflict.says for conflict in allocation.conflicts]
    assert all(any(text in unplaced.why for text in says) for unplaced in allocation.unplaced)


def _only(problem: Problem, ids: set[str]) -> Problem:
    sets = tuple(tuple(m for m in members if m in ids) for members in problem.apart)
    return replace(problem, ends=tuple(e for e in problem.ends if e.id in ids), apart=sets)


def _fits(problem: Problem) -> bool:
    return any(True for _ in placings(problem))
