"""Fingerprints: equal for what is equal, whatever the order of a set, and different for anything else."""

from __future__ import annotations

import shutil
import subprocess
import sys
from dataclasses import dataclass, field
from pathlib import Path

import pytest

import wiregen
from wiregen.packing.fingerprint import files_of, fingerprint
from wiregen.terms import InternalFault, Pin


@dataclass(frozen=True)
class Held:
    names: frozenset[str]
    pins: tuple[Pin, ...] = ()
    table: dict[str, int] = field(default_factory=dict)
    beside: int = field(default=0, compare=False)


def test_equal_things_have_one_fingerprint() -> None:
    a = Held(frozenset(["x", "y", "z"]), (Pin("-TA1", "DI1"),), {"a": 1})
    b = Held(frozenset(["z", "y", "x"]), (Pin("-TA1", "DI1"),), {"a": 1}, beside=7)
    assert fingerprint(a) == fingerprint(b)


@pytest.mark.parametrize(
    "other",
    [
        Held(frozenset(["x"])),
        Held(frozenset(["x", "y"]), (Pin("-TA1", "DI2"),)),
        Held(frozenset(["x", "y"]), (), {"a": 1}),
        ("x", "y"),
        frozenset(["x", "y"]),
        None,
    ],
)
def test_different_things_have_different_ones(other: object) -> None:
    assert fingerprint(other) != fingerprint(Held(frozenset(["x", "y"])))


def test_order_counts_where_it_can_be_seen() -> None:
    assert fingerprint(("a", "b")) != fingerprint(("b", "a"))
    assert fingerprint({"a": 1, "b": 2}) != fingerprint({"b": 2, "a": 1})
    assert fingerprint(1) != fingerprint("1")
    assert fingerprint(1) != fingerprint(1.0)
    assert fingerprint(("ab", "c")) != fingerprint(("a", "bc"))


def test_what_is_not_understood_is_never_passed_over() -> None:
    with pytest.raises(InternalFault, match="no fingerprint of a object"):
        fingerprint((1, object()))


def test_no_hash_seed_has_a_say() -> None:
    source = "from wiregen.packing.fingerprint import fingerprint as f; print(f(frozenset('abcdefgh')))"
    runs = [
        subprocess.run(
            [sys.executable, "-c", source], env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
            capture_output=True, text=True, check=True,
        ).stdout.strip()
        for seed in ("1", "2")
    ]  # fmt: skip
    assert runs == [fingerprint(frozenset("abcdefgh"))] * 2


def test_the_program_counts_itself(tmp_path: Path) -> None:
    """Whatever changes in a copy of its files changes the number, compiled files excepted."""
    package = Path(wiregen.__file__).parent
    copy = tmp_path / "wiregen"
    shutil.copytree(package, copy)
    same = files_of(package)
    assert files_of(copy) == same
    (copy / "drawing" / "pdf.pyc").write_bytes(b"compiled")
    assert files_of(copy) == same
    font = copy / "drawing" / "data" / "dejavu_sans.json"
    font.write_bytes(font.read_bytes() + b" ")
    changed = files_of(copy)
    font.rename(font.with_name("another.json"))
    assert len({same, changed, files_of(copy)}) == 3


def test_a_design_of_another_program_has_another_fingerprint(monkeypatch: pytest.MonkeyPatch) -> None:
    before = fingerprint("the same")
    monkeypatch.setattr("wiregen.packing.fingerprint.program", lambda: "another")
    assert fingerprint("the same") != before
