"""The same scheme gives the same wiring under any hash seed, and a large one soon enough."""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest
from laws import breaches, wired

from wiregen import profiles
from wiregen.scheme import read_text

EXAMPLES = Path(__file__).parents[2] / "examples"
SCRIPT = """
import sys
from laws import wired
from wiregen import profiles
from wiregen.scheme import read
known = profiles.load()
for path in sys.argv[1:]:
    design = wired(read(path, profiles=known))
    print(design.allocation, design.wiring, design.declared.notices)
"""


def printed(seed: str) -> bytes:
    """What a fresh process makes of all examples under a hash seed."""
    paths = [str(p) for p in sorted(EXAMPLES.glob("*.yaml"))]
    env = {**os.environ, "PYTHONHASHSEED": seed, "PYTHONPATH": str(Path(__file__).parent)}
    command = [sys.executable, "-c", SCRIPT, *paths]
    return subprocess.run(command, env=env, check=True, capture_output=True).stdout


def test_hash_seed_changes_nothing() -> None:
    first = printed("0")
    assert first == printed("1")
    assert first.count(b"Potential(") > 100


@pytest.mark.parametrize(("cards", "status"), [(1, "infeasible"), (32, "optimal")])
def test_five_hundred_devices(cards: int, status: str) -> None:
    """On one card most have no input; on enough cards all are wired. Either takes seconds at the most."""
    count = 500
    each = -(-count // cards)
    lines = ["scheme: Large", "places: {+C1: {}, +F1: {route: 5 m}}", "devices:"]
    lines += ["  -TB1: {profile: supply_24v, at: +C1}"]
    lines += [f"  -KE{n}: {{profile: io_digital_in_16, at: +C1}}" for n in range(cards)]
    lines += [f"  -SJ{n}: {{profile: push_button, contact: NO, at: +F1}}" for n in range(count)]
    lines += ["control:"]
    for card in range(cards):
        reads = ", ".join(f"button {n}: -SJ{n}" for n in range(card * each, min(count, card * each + each)))
        lines += [f"  -KE{card}: {{inputs: source, reads: {{{reads}}}}}"]
    scheme = read_text("\n".join(lines) + "\n", "large.yaml", profiles=profiles.load())
    start = time.perf_counter()
    design = wired(scheme)
    assert time.perf_counter() - start < 20, "measured: half a second"
    assert design.allocation.status == status
    assert breaches(design) == []
    assert len(design.allocation.assignments) == min(count, 16 * cards)
