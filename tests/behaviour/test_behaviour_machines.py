"""The state machines, explored whole: every state that any order of inputs leads to.

Three-wire control keeps a motor at rest until a new start (low-voltage protection), two-wire control runs it again with
its contact (low-voltage release). A stop overrides a start (IEC 60204-1 9.2.3; from memory). Else common practice, no
source.
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

from wiregen.behaviour import drive, safety_relay
from wiregen.behaviour.drive import KEY, DriveMemory, DriveSeen
from wiregen.behaviour.drive_spec import DriveSpec, ReferenceSpec, RunSpec
from wiregen.behaviour.safety_relay import SafetyMemory, SafetySpec

PRESET = ReferenceSpec("one", "preset", "", "", 0.0, 50.0, 30.0, "", "")
PLAIN = DriveSpec(
    name="-TA1",
    runs=(),
    references=(PRESET,),
    rows=(),
    overrides=(),
    by_edge=False,
    start_by_edge=True,
    with_stop_closed=False,
    starts_after_changeover=False,
    limits_hz=None,
    jog_speed="",
    jogs=(),
    torque=("safe torque off 1",),
    answers=(),
)
THREE = RunSpec("", "three-wire", False, False, start="start", start_reverse="start reverse", stops=("stop",))
TWO = RunSpec("", "two-wire", False, False, forward="run forward", reverse="run reverse")

Flags = tuple[bool, ...]
#: What a watcher makes of one step: his flags before, the inputs before and now, whether the drive was fed and is.
Watch = Callable[[Flags, frozenset[str], frozenset[str], bool, bool], Flags]


def explored(
    spec: DriveSpec, inputs: tuple[str, ...], watch: Watch, flags: Flags
) -> Iterator[tuple[DriveMemory, Flags, list[DriveMemory]]]:
    """Every state that a drive comes to, with a watcher's flags there, and the states after it."""
    seen = [
        DriveSeen(fed, frozenset(acting))
        for fed in (True, False)
        for n in range(len(inputs) + 1)
        for acting in itertools.combinations(inputs, n)
    ]
    start = (DriveMemory(), frozenset[str](), flags)
    known, queue = {start}, [start]
    while queue:
        memory, acting, own = queue.pop()
        after = []
        for now in seen:
            new = drive.step(spec, memory, now)
            after.append(new)
            state = (new, now.acting, watch(own, acting, now.acting, memory.fed, now.fed))
            if state not in known:
                known.add(state)
                queue.append(state)
        yield memory, own, after


def commanded(flags: Flags, before: frozenset[str], now: frozenset[str], was_fed: bool, fed: bool) -> Flags:
    """Whether a start was given anew, with the stop let go, since anything last stopped the drive."""
    if not fed or now & {"stop", "external trip", "enable", "safe torque off 1"}:
        return (False,)
    given = was_fed and bool((now - before) & {"start", "start reverse"})
    return (flags[0] or given,)


@pytest.mark.parametrize("with_stop_closed", [False, True])
def test_three_wire_never_runs_without_a_new_start(with_stop_closed: bool) -> None:
    spec = replace(PLAIN, runs=(THREE,), with_stop_closed=with_stop_closed)
    inputs = ("start", "start reverse", "stop", "external trip", "enable", "reset", "safe torque off 1")
    states = list(explored(spec, inputs, commanded, (False,)))
    assert len(states) > 100
    for memory, (given,), _ in states:
        assert not memory.moving or given, memory
        if memory.acting & {"stop", "external trip", "enable", "safe torque off 1"} or not memory.fed:
            assert memory.moving == 0
        assert memory.moving == memory.sealed
    alive = can_run([memory for memory, _, _ in states], spec, inputs)
    assert all(memory in alive for memory, _, _ in states)  # no dead state


def test_a_start_that_is_taken_by_its_level_does() -> None:
    """The same watcher sees what the two above must not do: a start that is held runs when the stop is let go."""
    spec = replace(PLAIN, runs=(THREE,), start_by_edge=False)
    assert any(m.moving and not given for m, (given,), _ in explored(spec, ("start", "stop"), commanded, (False,)))


def can_run(states: list[DriveMemory], spec: DriveSpec, inputs: tuple[str, ...]) -> set[DriveMemory]:
    """The states from which some order of inputs leads to a motor that runs."""
    ways = {memory: set[DriveMemory]() for memory in states}
    for memory, before in ways.items():
        for n in range(len(inputs) + 1):
            for acting in itertools.combinations(inputs, n):
                before.add(drive.step(spec, memory, DriveSeen(True, frozenset(acting))))
    found = {memory for memory in ways if memory.moving}
    while grown := {m for m, after in ways.items() if m not in found and after & found}:
        found |= grown
    return found


def test_a_stop_that_opens_and_a_start_that_closes_in_one_instant() -> None:
    """With the stop closed before, a start counts; where both change at once the profile decides."""
    at_stop = DriveMemory(fed=True, acting=frozenset({"stop"}))
    both = DriveSeen(True, frozenset({"start"}))
    assert drive.step(replace(PLAIN, runs=(THREE,)), at_stop, both).moving == 1
    assert drive.step(replace(PLAIN, runs=(THREE,), with_stop_closed=True), at_stop, both).moving == 0


def test_two_wire_by_level_runs_exactly_while_it_is_commanded() -> None:
    spec = replace(PLAIN, runs=(TWO,))
    inputs = ("run forward", "external trip", "enable", "reset")
    for memory, _, _ in explored(spec, inputs, lambda *_: (), ()):
        free = memory.fed and "run forward" in memory.acting and not memory.tripped and "enable" not in memory.acting
        assert (memory.moving == 1) == free, memory


def test_two_wire_by_edge_waits_for_its_command_anew() -> None:
    spec = replace(PLAIN, runs=(TWO,), by_edge=True)

    def anew(flags: Flags, before: frozenset[str], now: frozenset[str], was_fed: bool, fed: bool) -> Flags:
        if not fed or now & {"external trip", "enable"} or "run forward" not in now:
            return (False,)
        return (flags[0] or (was_fed and "run forward" not in before),)

    inputs = ("run forward", "external trip", "enable", "reset")
    states = list(explored(spec, inputs, anew, (False,)))
    for memory, (given,), _ in states:
        assert not memory.moving or given, memory
    assert all(memory in can_run([m for m, _, _ in states], spec, inputs) for memory, _, _ in states)


@pytest.mark.parametrize("both_stop", [False, True])
def test_both_directions_at_once(both_stop: bool) -> None:
    spec = replace(PLAIN, runs=(replace(TWO, both_stop=both_stop),))
    inputs = ("run forward", "run reverse")
    for memory, _, after in explored(spec, inputs, lambda *_: (), ()):
        if set(inputs) <= memory.acting and both_stop:
            assert memory.moving == 0
        if not memory.acting & set(inputs):
            assert memory.moving == 0
        assert any(a.moving == 1 for a in after)
        assert any(a.moving == -1 for a in after)


def test_a_trip_stays_until_it_is_reset_and_its_cause_is_gone() -> None:
    spec = replace(PLAIN, runs=(TWO,))
    for memory, _, _ in explored(spec, ("external trip", "reset", "run forward"), lambda *_: (), ()):
        if "external trip" in memory.acting and memory.fed:
            assert memory.tripped == "external trip"
        if memory.tripped:
            held = drive.step(spec, memory, DriveSeen(True, memory.acting - {"external trip", "reset"}))
            assert held.tripped
            assert drive.step(spec, held, DriveSeen(True, held.acting | {"reset"})).tripped == ""
            assert drive.step(spec, held, DriveSeen(True, held.acting | {KEY})).tripped == ""


def test_a_safety_relay_is_on_only_with_both_channels_closed_and_after_its_reset() -> None:
    spec = SafetySpec("-KF10", ("channel 1", "channel 2"), True, True)
    names = ("channel 1", "channel 2", "reset")
    inputs = [frozenset(c) for n in range(4) for c in itertools.combinations(names, n)]
    start = (SafetyMemory(), False, frozenset[str]())
    known, queue = {start}, [start]
    while queue:
        memory, pressed, owed = queue.pop()
        for fed, closed in itertools.product((True, False), inputs):
            new = safety_relay.step(spec, memory, fed, closed)
            both = {"channel 1", "channel 2"} <= closed
            assert not new.on or (fed and both)
            if new.on and not memory.on:
                assert pressed  # it was pressed before,
                assert "reset" not in closed  # and is let go now,
                assert not owed  # and no channel has opened alone since.
            opened = {"channel 1", "channel 2"} - closed
            due = frozenset({"channel 1", "channel 2"} - opened) if memory.on and opened else owed - opened
            state = (new, "reset" in closed, due if fed else frozenset())
            if state not in known:
                known.add(state)
                queue.append(state)
    assert any(memory.on for memory, _, _ in known)
    assert len(known) > 5
