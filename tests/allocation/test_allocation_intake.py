"""From a scheme to a problem and back: what of the declared control reaches the solver."""

from __future__ import annotations

from wiregen.allocation import allocate
from wiregen.allocation.intake import problem_of
from wiregen.allocation.model import Allocation, Problem
from wiregen.control import interpret
from wiregen.profiles import load
from wiregen.scheme import read_text

BANK = """
scheme: Ten contacts on a bank
places: {+C1: {name: Cabinet}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -KE9: {profile: io_digital_in_16, at: +C1}
  -KE1: {profile: io_digital_in_16, at: +C1}
%CONTACTS%
banks: {-KE: [-KE9, -KE1]}
control:
  -KE: {inputs: source, reads: {%READS%}}
%REST%
"""


def bank(contacts: int, rest: str = "") -> tuple[Problem, Allocation]:
    devices = "\n".join(f"  -BG{n}: {{profile: contact, contact: NO, at: +C1}}" for n in range(contacts))
    reads = ", ".join(f"door {n}: -BG{n}" for n in range(contacts))
    text = BANK.replace("%CONTACTS%", devices).replace("%READS%", reads).replace("%REST%", rest)
    scheme = read_text(text, "bank.yaml", profiles=load())
    problem = problem_of(scheme, interpret(scheme))
    return problem, allocate(problem)


def test_the_first_card_of_a_bank_fills_first_and_from_the_top() -> None:
    """First is what the bank names first, whatever its number."""
    _, allocation = bank(10)
    assert [(a.device, a.channel) for a in allocation.assignments] == [("-KE9", f"DI{n}") for n in range(1, 11)]


def test_what_does_not_fit_the_first_card_goes_on_to_the_second() -> None:
    _, allocation = bank(18)
    assert allocation.status == "optimal"
    assert [a.device for a in allocation.assignments] == ["-KE9"] * 16 + ["-KE1"] * 2


def test_a_terminal_kept_free_reaches_the_solver_with_its_reason() -> None:
    problem, allocation = bank(3, "fixed: {-KE9: {DI2: {keep_free: damaged}}}")
    assert {c.name: c.keep_free for c in problem.channels if c.keep_free} == {"DI2": "damaged"}
    assert [a.channel for a in allocation.assignments] == ["DI1", "DI3", "DI4"]


def test_sets_to_keep_apart_name_ends() -> None:
    problem, allocation = bank(2, "apart: [[door 0, door 1]]")
    ids = {end.id for end in problem.ends}
    assert len(problem.apart) == 1
    assert set(problem.apart[0]) <= ids
    assert len({a.device for a in allocation.assignments}) == 2
