"""The verifier must refuse every answer that is wrong in one thing: it is the last check of an answer."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest
from allocation_plants import CONTACT, MILLIAMPS, VOLTS, compact_drive, input_card, random_problem
from brute_force import cost, placings

from wiregen.allocation import allocate
from wiregen.allocation.answer import assignments
from wiregen.allocation.model import Allocation, Channel, Conflict, End, Level, Problem
from wiregen.allocation.verifier import verify
from wiregen.terms import InternalFault, Pin


def _end(function: str, role: str, signals: frozenset[str], device: str = "-TA1") -> End:
    return End(f"{device} {function}", function, (device,), role, signals)


@pytest.fixture
def problem() -> Problem:
    ends = (
        replace(_end("start", "digital_in", CONTACT), polarity="source", bundle="+F1", kept=Pin("-TA1", "DI4")),
        replace(_end("stop", "digital_in", CONTACT), usual=(Pin("-TA1", "DI3"),), bundle="+F1"),
        replace(_end("trip", "digital_in", CONTACT), fixed=Pin("-TA1", "DI2")),
        _end("reference", "analog_in", MILLIAMPS),
        replace(_end("fault", "relay", frozenset()), forms=frozenset({"NC"})),
        replace(_end("count", "digital_in", CONTACT, "-KE1"), abilities=frozenset({"pulse"})),
        replace(_end("a", "digital_in", CONTACT, "-KE1"), devices=("-KE1", "-KE2")),
        replace(_end("b", "digital_in", CONTACT, "-KE1"), devices=("-KE1", "-KE2")),
    )
    channels = [
        *(replace(c, keep_free="damaged") if c.name == "DI6" else c for c in compact_drive("-TA1")),
        *input_card("-KE1"),
        *input_card("-KE2"),
    ]
    return Problem(ends, tuple(channels), ((("-KE2", "1"), "sink"),), (("-KE1 a", "-KE1 b"),))


@pytest.fixture
def answer(problem: Problem) -> Allocation:
    return allocate(problem)


def _moved(answer: Allocation, name: str, **change: object) -> Allocation:
    new = tuple(replace(a, **change) if a.function == name else a for a in answer.assignments)  # type: ignore[arg-type]
    return replace(answer, assignments=new)


def _level(answer: Allocation, name: str, **change: object) -> Allocation:
    new = tuple(replace(v, **change) if v.name == name else v for v in answer.levels)  # type: ignore[arg-type]
    return replace(answer, levels=new)


def _without_first(answer: Allocation) -> Allocation:
    return replace(answer, assignments=answer.assignments[1:])


Corruption = Callable[[Allocation], Allocation]

#: What is spoilt, and what the verifier must say of it.
CORRUPTIONS: dict[str, tuple[Corruption, str]] = {
    "an end left out": (_without_first, "answered once"),
    "an end twice": (
        lambda a: replace(a, assignments=(*a.assignments, a.assignments[0])),
        "answered once",
    ),
    "order": (lambda a: replace(a, assignments=a.assignments[::-1]), "declared order"),
    "no such terminal": (lambda a: _moved(a, "stop", channel="DI9"), "does not exist"),
    "another device": (lambda a: _moved(a, "stop", device="-KE1"), "wrong device"),
    "another role": (lambda a: _moved(a, "stop", channel="13"), "wrong role"),
    "kept free": (lambda a: _moved(a, "stop", channel="DI6"), "kept free"),
    "signal that it cannot carry": (lambda a: _moved(a, "reference", channel="AI1"), "wrong signal"),
    "ability": (lambda a: _moved(a, "count", channel="DI5"), "ability"),
    "contact form": (lambda a: _moved(a, "fault", channel="13"), "contact form"),
    "fixed": (lambda a: _moved(a, "trip", channel="DI5"), "fixed"),
    "one channel twice": (lambda a: _moved(a, "stop", channel="DI4", pins=("DI4",), usual=False), "two functions"),
    "polarity of a group": (lambda a: _moved(a, "stop", polarity="sink"), "two polarities"),
    "polarity of all": (
        lambda a: replace(
            a, assignments=tuple(replace(x, polarity="sink") if x.polarity else x for x in a.assignments)
        ),
        "does not fit inputs wired for sink",
    ),
    "polarity missing": (lambda a: _moved(a, "count", polarity=""), "no polarity"),
    "polarity where none is": (lambda a: _moved(a, "fault", polarity="source"), "polarity where none is"),
    "declared polarity": (
        lambda a: _moved(_moved(a, "a", polarity="source"), "b", polarity="source"),
        "two polarities",
    ),
    "not apart": (
        lambda a: _moved(a, "b", device="-KE1", channel="DI8", pins=("DI8",), polarity="source"),
        "not apart",
    ),
    "pins": (lambda a: _moved(a, "fault", pins=("21", "24")), "wrong pins"),
    "form": (lambda a: _moved(a, "fault", form="NO", pins=("21", "24")), "does not serve"),
    "form missing": (lambda a: _moved(a, "fault", form=""), "form missing"),
    "signal said": (lambda a: _moved(a, "reference", signal="0-10 V"), "wrong signal"),
    "signal missing": (lambda a: _moved(a, "reference", signal=""), "signal missing"),
    "name": (lambda a: _moved(a, "stop", function="halt"), "is called halt"),
    "usual": (lambda a: _moved(a, "stop", usual=False), "`usual`"),
    "moved": (lambda a: _moved(a, "start", moved=True), "`moved`"),
    "moves counted wrong": (lambda a: _level(a, "moves", value=1, bound=1), "moves costs 0, not 1"),
    "scarce counted wrong": (lambda a: _level(a, "scarce", value=0, bound=0), "scarce costs"),
    "together counted wrong": (lambda a: _level(a, "together", value=9, bound=9), "together costs"),
    "top counted wrong": (lambda a: _level(a, "from the top", value=0, bound=0), "from the top costs"),
    "bound above value": (lambda a: _level(a, "scarce", bound=99), "bound above"),
    "a proof that is none": (lambda a: _level(a, "scarce", bound=0), "proof that it lacks"),
    "a level missing": (lambda a: replace(a, levels=a.levels[1:]), "levels are not those"),
    "status infeasible": (lambda a: replace(a, status="infeasible"), "status"),
    "optimal unproven": (lambda a: _level(a, "scarce", bound=0, proven=False), "without proof"),
    "a conflict where all is placed": (
        lambda a: replace(a, conflicts=(Conflict((), (), "nothing"),)),
        "conflict",
    ),
}


def test_the_sound_answer_passes(problem: Problem, answer: Allocation) -> None:
    assert answer.status == "optimal"
    verify(problem, answer)


@pytest.mark.parametrize("name", CORRUPTIONS)
def test_a_spoilt_answer_is_refused_for_its_own_reason(problem: Problem, answer: Allocation, name: str) -> None:
    spoil, says = CORRUPTIONS[name]
    with pytest.raises(InternalFault, match=says):
        verify(problem, spoil(answer))


@pytest.mark.parametrize(
    ("spoil", "says"),
    [
        (lambda a: replace(a, unplaced=(replace(a.unplaced[0], why=""),)), "without a reason"),
        (lambda a: replace(a, conflicts=()), "without a conflict"),
        (lambda a: replace(a, status="optimal"), "status"),
        (lambda a: replace(a, levels=a.levels[1:]), "levels are not those"),
        (lambda a: replace(a, conflicts=(Conflict(("nobody",), (), "?"),)), "names what is not there"),
        (lambda a: _level(a, "unplaced", value=0, bound=0), "unplaced costs 1, not 0"),
    ],
)
def test_an_answer_with_unplaced_ends_is_checked_too(spoil: Corruption, says: str) -> None:
    ends = (_end("a", "analog_in", MILLIAMPS), _end("b", "analog_in", MILLIAMPS), _end("c", "analog_in", VOLTS))
    problem = Problem(ends, tuple(compact_drive("-TA1")))
    answer = allocate(problem)
    verify(problem, answer)
    with pytest.raises(InternalFault, match=says):
        verify(problem, spoil(answer))


@pytest.mark.parametrize("seed", range(40))
def test_it_lets_pass_exactly_what_exhaustive_search_allows(seed: int) -> None:
    """Of all placings that differ from the answer in one end, those that search finds pass and no others."""
    problem = random_problem(seed)
    answer = allocate(problem)
    if answer.status == "optimal":
        held = set(placings(problem))
        seats = [next(c for c in problem.channels if c.pin == Pin(a.device, a.channel)) for a in answer.assignments]
        for number in range(len(seats)):
            for channel in problem.channels:
                chosen = (*seats[:number], channel, *seats[number + 1 :])
                assert _passes(problem, answer, chosen) == (chosen in held)


def _passes(problem: Problem, answer: Allocation, chosen: tuple[Channel, ...]) -> bool:
    """Whether the verifier accepts a placing whose details and levels are told as right as can be."""
    try:
        told = assignments(problem, {end.id: channel for end, channel in zip(problem.ends, chosen, strict=True)})
    except ValueError:  # a group with two polarities has none to tell
        return False
    values = (*cost(problem, chosen)[1:], 0)
    levels = tuple(Level(v.name, value, value, True) for v, value in zip(answer.levels, values, strict=True))
    try:
        verify(problem, replace(answer, assignments=told, levels=levels))
    except InternalFault:
        return False
    return True
