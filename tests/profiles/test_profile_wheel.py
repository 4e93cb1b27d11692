"""The built wheel carries the profiles and the tables, and finds them away from any checkout."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from wiregen.formulas import tables
from wiregen.profiles import load

ROOT = Path(__file__).resolve().parents[2]
PROGRAM = """
import pathlib, sys
from wiregen.profiles import builtin_root, load
from wiregen.formulas import tables
print(builtin_root().relative_to(pathlib.Path(sys.argv[1]).resolve()).as_posix())
found = load()
print(len([found[name] for name in found]), sum(len(tables.rows(name)) for name in tables.names()))
"""


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    command = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(folder)]
    built = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
    assert built.returncode == 0, built.stderr
    (wheel,) = folder.glob("*.whl")
    zipfile.ZipFile(wheel).extractall(folder / "site")
    return folder / "site"


def test_the_wheel_finds_its_profiles_and_tables(unpacked: Path, tmp_path: Path) -> None:
    program = f"import sys; sys.path.insert(0, {str(unpacked)!r})\n" + PROGRAM
    command = [sys.executable, "-c", program, str(unpacked)]
    ran = subprocess.run(command, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert ran.returncode == 0, ran.stderr
    rows = sum(len(tables.rows(name)) for name in tables.names())
    assert ran.stdout.splitlines() == ["wiregen/terminal_profiles", f"{len(load())} {rows}"]
