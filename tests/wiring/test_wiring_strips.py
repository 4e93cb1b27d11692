"""Strips, clamps and chains: one conductor a clamp, commons on bridged terminals, every core landed.

Source of the expectations, unless a test names another: common practice, no source; worked by hand.
"""

from __future__ import annotations

import pytest
from wiring_cases import case, pin

from wiregen.terms import Pin
from wiregen.wiring.chains import chain_alone, chains_from_outside, links

A, B, C, D = (Pin("-S", str(n)) for n in range(4))


def clamp(*single: Pin) -> dict[Pin, int]:
    return {p: 1 if p in single else 2 for p in (A, B, C, D)}


@pytest.mark.parametrize(
    ("single", "chains"),
    [
        ((), [(A, B, C, D)]),
        ((B,), [(A, C, D, B)]),  # a pin that takes one conductor ends the chain
        ((A, B), [(C, D, A), (B,)]),
        ((A, B, C, D), [(A,), (B,), (C,), (D,)]),
    ],
)
def test_chains_that_a_conductor_from_outside_feeds(single: tuple[Pin, ...], chains: list[tuple[Pin, ...]]) -> None:
    assert chains_from_outside((A, B, C, D), clamp(*single).__getitem__) == chains


@pytest.mark.parametrize(
    ("single", "chain"),
    [((), (A, B, C, D)), ((B,), (B, A, C, D)), ((B, C), (B, A, D, C)), ((A, B, C), None)],
)
def test_chain_that_nothing_feeds(single: tuple[Pin, ...], chain: tuple[Pin, ...] | None) -> None:
    assert chain_alone((A, B, C, D), clamp(*single).__getitem__) == chain


def test_links_of_a_chain() -> None:
    assert links((A, B, C)) == [(A, B), (B, C)]


def test_buttons_in_a_box_are_chained_and_lamps_are_not() -> None:
    """A button's clamp takes two conductors, a lamp's one."""
    c = case("field_chain")
    assert {frozenset(("-SJ1:13", "-SJ2:13")), frozenset(("-SJ2:13", "-SJ3:13"))} <= c.wires()
    assert [len([x for x in c.at(p) if x.kind == "core"]) for p in ("-SJ1:13", "-SJ2:13", "-SJ3:13")] == [1, 0, 0]
    assert c.core_to("-PF1:X2").core != c.core_to("-PF2:X2").core


def test_two_terminals_in_the_cabinet_are_wired_straight() -> None:
    c = case("transistor_joined_already")
    assert frozenset(("-TA1:DI4", "-KE1:DO1")) in c.wires()


def test_commons_in_the_cabinet_are_distributed_on_bridged_terminals() -> None:
    """Three devices on one potential: none is chained to another, each has its clamp."""
    c = case("field_chain")
    number = c.potential("-TB1:0V").number
    wires = [x for x in c.of_kind("wire") if x.number == number]
    across = [x for x in wires if x.b and x.a.device != x.b.device and "-X1" not in (x.a.device, x.b.device)]
    assert across == []
    assert all(t.bridged_to for t in c.terminals() if t.potential == c.potential("-TB1:0V").name)


def test_pins_of_one_device_are_chained() -> None:
    c = case("field_chain")
    assert frozenset(("-KE1:0V", "-KE1:COM1")) in c.wires()


def test_terminals_stand_in_the_order_of_cables_and_cores() -> None:
    c = case("transmitters")
    by_id = {x.id: x for x in c.wiring.conductors}
    landed = [by_id[t.outside[0]] for t in c.terminals() if t.outside and by_id[t.outside[0]].kind == "core"]
    order = [(cable.name, mark) for cable in c.wiring.cables for mark in cable.marks]
    assert [(x.cable, x.core) for x in landed] == order


def test_every_spare_core_has_a_terminal_of_its_own() -> None:
    c = case("transmitters")
    spares = [x for x in c.of_kind("core") if x.b is None]
    assert len(spares) == c.wiring.cables[0].spare > 0
    for spare in spares:
        (terminal,) = (t for t in c.terminals() if t.pin == spare.a)
        assert (terminal.potential, terminal.inside, terminal.outside) == (None, (), (spare.id,))
        assert (spare.number, spare.potential, spare.function) == (None, None, "spare")


def test_site_lands_outside() -> None:
    for name in ("brine_pump", "transmitters", "valves"):
        c = case(name)
        assert {x.a_side for x in c.of_kind("core")} == {"outside"}
        assert {x.b_side for x in c.of_kind("screen")} <= {"outside"}


def test_earth_terminals_are_bridged_and_hold_one_conductor_a_side() -> None:
    c = case("valves")
    earths = [t for t in c.terminals() if t.name.startswith("PE")]
    assert [t.name for t in earths] == ["PE", "PE2", "PE3"]
    assert [len(t.outside) for t in earths] == [1, 1, 1]
    assert [t.bridged_to for t in earths] == [("PE2",), ("PE", "PE3"), ("PE2",)]


def test_what_is_joined_in_a_field_box_stays_there() -> None:
    """Clamps that take one conductor end the chain: the drive's 24 V and its relay."""
    c = case("local_box")
    assert c.on("-TA1:24V") == {"-TA1:24V", "-SJ1:13", "-SJ2:11", "-TA1:13"}
    assert all(x.kind == "wire" for p in c.on("-TA1:24V") for x in c.at(p))
    assert [x.kind for x in c.at("-TA1:COM")] == ["core"]


def test_names_of_the_user_are_not_taken() -> None:
    c = case("many_spares")
    assert [s.name for s in c.wiring.strips] == ["-X2"]
    assert [cable.name for cable in c.wiring.cables] == ["-WG2"]


def test_conductors_have_ids_and_numbers() -> None:
    """An id is one conductor's, a number one potential's."""
    c = case("transmitters")
    ids = [x.id for x in c.wiring.conductors]
    assert len(set(ids)) == len(ids)
    numbers = {x.number: x.potential for x in c.wiring.conductors if x.number}
    assert len(numbers) == len(set(numbers.values())) == len(c.wiring.potentials)


def test_potential_of_a_pin() -> None:
    c = case("transmitters")
    found = c.wiring.potential_of(pin("-BP1:-"))
    assert found is not None
    assert found.name == "reference one of -TA1"
    assert c.wiring.potential_of(pin("-TB1:L")) is None
