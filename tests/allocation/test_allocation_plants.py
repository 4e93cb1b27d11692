"""Whole plants: proof, distance from the least possible, the same answer everywhere, and what an import costs."""

from __future__ import annotations

import os
import subprocess
import sys
from collections import Counter
from pathlib import Path

import pytest
from allocation_plants import CONTACT, input_card, plant

from wiregen.allocation import allocate
from wiregen.allocation.model import Allocation, End, Problem
from wiregen.terms import Pin

HERE = Path(__file__).parent

ANSWER = """
import hashlib
from allocation_plants import plant, random_problem
from wiregen.allocation import allocate
answers = [allocate(plant(60, seed=3, hard=True)), *(allocate(random_problem(seed)) for seed in range(12))]
print(hashlib.sha256(repr(answers).encode()).hexdigest())
"""


def value(allocation: Allocation, name: str) -> int:
    return next(level.value for level in allocation.levels if level.name == name)


def test_two_hundred_signals_are_proven() -> None:
    problem = plant(200)
    allocation = allocate(problem)
    assert allocation.status == "optimal"
    assert len(allocation.assignments) == 200
    assert all(level.proven for level in allocation.levels if level.name != "together")
    together = next(level for level in allocation.levels if level.name == "together")
    assert together.value <= together.bound * 1.14


def test_a_hard_plant_is_proven_too() -> None:
    """Little spare, a third kept, pairs apart, both polarities."""
    allocation = allocate(plant(120, seed=5, hard=True))
    assert allocation.status == "optimal"
    assert all(level.proven for level in allocation.levels if level.name != "together")


def test_a_large_bank_is_kept_together_near_the_bound() -> None:
    """Too large to be proven: 400 inputs. The bound is ceil(ends of a bundle / 8), summed: a group has eight inputs."""
    problem = plant(1000)
    allocation = allocate(problem)
    together = next(level for level in allocation.levels if level.name == "together")
    size = Counter(e.bundle for e in problem.ends if e.role == "digital_in" and len(e.devices) > 1)
    by_hand = sum(-(-number // 8) for number in size.values())
    used = {
        (end.bundle, a.device, int(a.channel[2:]) > 8)
        for end, a in zip(problem.ends, allocation.assignments, strict=True)
        if end.role == "digital_in" and len(end.devices) > 1
    }
    assert len(size) > 40
    assert by_hand <= len(used) <= by_hand * 1.14
    assert together.bound <= together.value <= together.bound * 1.14


def test_what_is_wired_stays_and_that_is_proven() -> None:
    """A plant as wired: everything kept, so every bundle's groups are given, however many there are."""
    cards = [c for n in range(1, 9) for c in input_card(f"-KE{n}")]
    devices = tuple(f"-KE{n}" for n in range(1, 9))
    ends = tuple(
        End(f"s{n}", f"s{n}", devices, "digital_in", CONTACT, kept=cards[(n * 7) % 128].pin, bundle=f"+F{n // 6}")
        for n in range(110)
    )
    allocation = allocate(Problem(ends, tuple(cards)))
    assert all(not a.moved for a in allocation.assignments)
    assert {(a.end, Pin(a.device, a.channel)) for a in allocation.assignments} == {(e.id, e.kept) for e in ends}
    assert all(level.proven for level in allocation.levels)


def test_more_nodes_are_never_worse_and_no_limit_proves() -> None:
    problem = plant(60, seed=2)
    few, many = allocate(problem, node_limit=0), allocate(problem, node_limit=None)
    assert value(many, "together") <= value(few, "together")
    assert all(level.proven for level in many.levels)
    for name in ("moves", "unusual", "scarce"):
        assert value(many, name) == value(few, name)


def test_the_answer_does_not_depend_on_the_hash_seed() -> None:
    digests = {_run(ANSWER, seed) for seed in ("0", "1", "4711")}
    assert len(digests) == 1


def test_importing_the_room_imports_no_solver() -> None:
    code = "import sys, wiregen.allocation; print(sorted({'highspy', 'networkx', 'numpy'} & set(sys.modules)))"
    assert _run(code, "0").strip() == "[]"


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    """Some releases of the solver print from C, whatever they are told."""
    allocate(plant(20))
    assert capfd.readouterr() == ("", "")


def _run(code: str, hash_seed: str) -> str:
    path = os.pathsep.join([str(HERE), str(HERE.parents[1])])
    environment = os.environ | {"PYTHONHASHSEED": hash_seed, "PYTHONPATH": path}
    done = subprocess.run([sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True)
    return done.stdout
