"""The laws find what is wrong: each breach that is put into the brine pump is named."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from laws import Wired, breaches, wired

from wiregen import profiles
from wiregen.scheme import read
from wiregen.terms import Pin
from wiregen.wiring.model import Conductor, Wiring

PUMP = wired(read(Path(__file__).parents[2] / "examples" / "brine_pump.yaml", profiles=profiles.load()))


def conductor(a: str, b: str) -> Conductor:
    """The conductor between two pins."""
    return next(c for c in PUMP.wiring.conductors if {str(c.a), str(c.b)} == {a, b})


def changed(*new: Conductor) -> Wiring:
    """The pump's wiring with conductors of the same ids put in place of its own."""
    by_id = {c.id: c for c in new}
    return replace(PUMP.wiring, conductors=tuple(by_id.get(c.id, c) for c in PUMP.wiring.conductors))


def without(a: str, b: str) -> Wiring:
    gone = conductor(a, b)
    return replace(PUMP.wiring, conductors=tuple(c for c in PUMP.wiring.conductors if c != gone))


def with_one_more(like: Conductor, **new: object) -> Wiring:
    more = replace(like, id="w99", **new)  # type: ignore[arg-type]
    return replace(PUMP.wiring, conductors=(*PUMP.wiring.conductors, more))


def merged(first: str, second: str) -> Wiring:
    """Two potentials drawn as one."""
    one, two = (next(p for p in PUMP.wiring.potentials if p.name == name) for name in (first, second))
    rest = tuple(p for p in PUMP.wiring.potentials if p not in (one, two))
    return replace(PUMP.wiring, potentials=(*rest, replace(one, pins=one.pins + two.pins)))


def recabled(**new: object) -> Wiring:
    first, *rest = PUMP.wiring.cables
    return replace(PUMP.wiring, cables=(replace(first, **new), *rest))  # type: ignore[arg-type]


FEED = ("-TA1:24V", "-X1:1")
STOP = ("-TA1:DI2", "-X1:3")

BREACHES: dict[str, tuple[Callable[[], Wiring], str]] = {
    "a wire is missing": (lambda: without(*STOP), "stop of -TA1 is in 2 pieces"),
    "a second way": (
        lambda: with_one_more(conductor("-SJ1:13", "-SJ2:11"), a=Pin("-SJ1", "13"), b=Pin("-BT1", "11")),
        "has a second way",
    ),
    "a second tie of 0 V": (
        lambda: with_one_more(conductor("-TA1:ACOM", "-RA1:1"), b=Pin("-TB1", "0V")),
        "0 V of -TB1 has a second way",
    ),
    "two potentials joined": (
        lambda: with_one_more(conductor("-TA1:DI1", "-X1:2"), b=Pin("-TA1", "DI2"), b_side=None),
        "joins start of -TA1 and stop of -TA1",
    ),
    "positives joined": (lambda: merged("24 V of -TA1", "24 V of -TB1"), "joins ['-TA1:24V', '-TB1:24V']"),
    "a short circuit": (lambda: merged("24 V of -TB1", "0 V of -TB1"), "joins ['-TB1:24V', "),
    "0 V joined to earth": (lambda: merged("0 V of -TB1", "PE"), "-TB1:PE"),
    "a pin on two potentials": (
        lambda: replace(
            PUMP.wiring,
            potentials=(*PUMP.wiring.potentials, replace(PUMP.wiring.potentials[0], name="again", number="99")),
        ),
        "is on 2 potentials",
    ),
    "a pin that is not there": (lambda: changed(replace(conductor(*STOP), a=Pin("-TA1", "DI7"))), "DI7 does not exist"),
    "an overloaded clamp": (
        lambda: with_one_more(conductor("-TA1:22", "-PF1:X1"), b=Pin("-SJ3", "14")),
        "the clamp of -TA1:22 holds",
    ),
    "two on one side of a strip": (
        lambda: changed(replace(conductor(*STOP), b=Pin("-X1", "2"))),
        "-X1:2 inside holds",
    ),
    "the wrong side": (lambda: changed(replace(conductor(*STOP), b_side="outside")), "outside holds"),
    "no side": (lambda: changed(replace(conductor(*STOP), b_side=None)), "None holds"),
    "the wrong number": (lambda: changed(replace(conductor(*STOP), number="02")), "is called stop of -TA1 02"),
    "an id twice": (
        lambda: replace(PUMP.wiring, conductors=(*PUMP.wiring.conductors, conductor(*STOP))),
        "stands 2 times",
    ),
    "a cable's count": (lambda: recabled(used=3), "-WG1 says 3 used"),
    "a core that is not there": (lambda: recabled(marks=("1", "2", "3", "4")), "-WG1 has the cores"),
    "a cable to another place": (lambda: recabled(b="+F9"), "in -WG1 from +C1 to +F9"),
    "two cables of one name": (lambda: recabled(name="-WG2"), "designation -WG2 stands 2 times"),
    "a wire to the field": (lambda: changed(replace(conductor(*STOP), a=Pin("-SJ2", "12"))), "is a wire from"),
    "a screen that lands nowhere": (lambda: without("-WG2:screen", "-X1:PE"), "-WG2 has 0 screens landed"),
    "no earth link": (lambda: without("-X1:11", "-X1:PE"), "earth links at []"),
    "a green-and-yellow signal": (lambda: changed(replace(conductor(*STOP), colour="GNYE")), "is GNYE on stop"),
    "a strip that lists wrongly": (
        lambda: replace(
            PUMP.wiring,
            strips=(replace(PUMP.wiring.strips[0], terminals=PUMP.wiring.strips[0].terminals[1:]),),
        ),
        "lists",
    ),
}


def test_the_pump_keeps_every_law() -> None:
    assert breaches(PUMP) == []


@pytest.mark.parametrize("name", BREACHES)
def test_breach_is_found(name: str) -> None:
    wrong, says = BREACHES[name]
    found = breaches(replace(PUMP, wiring=wrong()))
    assert any(says in b for b in found), found


@pytest.mark.parametrize(
    ("a", "b", "says"),
    [
        ("-TB1:24V", "-X1:8", "running of -TA1: no way from -TB1:24V"),
        ("-TA1:24V", "-X1:1", "start of -TA1: no way from -TA1:24V"),
        ("-TA1:14", "-KE5:DI1", "-TA1:14 of running is allocated and not wired"),
        ("-TA1:10V", "-RA1:3", "reference hand of -TA1: -RA1:3 is not joined to -TA1:10V"),
        ("-X1:7", "-BL1:-", "reference auto of -TA1: no way from"),
        ("-KE5:0V", "-KE5:COM1", "running of -TA1: no way from"),
        ("-X1:10", "-PF1:X2", "fault of -TA1: no way from"),
    ],
)
def test_open_circuit_is_found(a: str, b: str, says: str) -> None:
    found = breaches(replace(PUMP, wiring=without(a, b)))
    assert any(says in breach for breach in found), found


def test_a_way_around_a_contact_is_found() -> None:
    """The stop button bridged: the current no longer passes through it."""
    bridge = with_one_more(conductor("-SJ1:13", "-SJ2:11"), a=Pin("-SJ2", "11"), b=Pin("-SJ2", "12"))
    found = breaches(replace(PUMP, wiring=bridge))
    assert any(b.startswith("stop of -TA1: a way around -SJ2:11 - -SJ2:12") for b in found), found


def test_a_sneak_path_is_found() -> None:
    """A wire from the trip's contact to the start input: the start no longer needs its own button."""
    wire = with_one_more(conductor("-SJ1:13", "-SJ2:11"), a=Pin("-BT1", "12"), b=Pin("-SJ1", "14"))
    found = breaches(replace(PUMP, wiring=wire))
    assert "start of -TA1 is reached around -SJ1:13 - -SJ1:14" in found, found


def test_completeness_is_not_asked_of_what_cannot_be_complete() -> None:
    unplaced = replace(PUMP.allocation, status="infeasible")
    assert Wired(PUMP.scheme, PUMP.declared, unplaced, PUMP.wiring).is_complete is False
