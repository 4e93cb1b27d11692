"""The project as a whole: what lies at its top, how large its modules are, what they say and what they may touch."""

from __future__ import annotations

import ast
import re
import subprocess
import sys
import tomllib
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
TOP = {"README.md", "DEVELOPERS.md", "pyproject.toml", "wiregen", "terminal_profiles", "examples", "tests"}
LONGEST = 500
# What nobody outside can follow: places of one machine, and pages of the web, which move.
FORBIDDEN = re.compile(r"(?<![\w.])/(?:home|root|Users)/\w|[A-Z]:\\\\?Users|https?://(?!json-schema\.org|www\.w3\.org)")


@cache
def files() -> tuple[Path, ...]:
    """Every file of the project, as git knows them; without git, those in the agreed folders."""
    if (ROOT / ".git").exists():
        listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
        found = [ROOT / name for name in listed.split("\0") if name]
    else:
        found = [path for name in sorted(TOP) for path in [ROOT / name, *(ROOT / name).rglob("*")] if path.is_file()]
    return tuple(path for path in found if path.exists() and "__pycache__" not in path.parts)


def modules() -> list[Path]:
    return [path for path in files() if path.suffix == ".py"]


def named(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def test_the_top_holds_what_was_agreed_and_dot_files() -> None:
    found = {path.relative_to(ROOT).parts[0] for path in files()}
    assert {name for name in found if not name.startswith(".")} == TOP


def test_data_folders_hold_data_only() -> None:
    kinds = {
        folder: {p.suffix for p in files() if named(p).startswith(folder)} for folder in ("terminal_p", "examples")
    }
    assert kinds == {"terminal_p": {".yaml"}, "examples": {".yaml", ".svg"}}


def test_no_module_is_long() -> None:
    lines = {named(path): len(path.read_text(encoding="utf-8").splitlines()) for path in modules()}
    assert {name: count for name, count in lines.items() if count > LONGEST} == {}


def test_nothing_outside_the_project_is_cited() -> None:
    here = Path(__file__)
    found = []
    for path in files():
        if path == here or path.suffix in (".png", ".pdf"):
            continue
        for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), start=1):
            if FORBIDDEN.search(line) and "re.search(" not in line:
                found.append(f"{named(path)}:{number}: {line.strip()}")
    assert found == []


@pytest.mark.parametrize(
    "line", ["see /home/ann/plan", "in C:\\\\Users\\\\ann", "at /root/x", "on https://plan.example/x"]
)
def test_citations_are_told_apart(line: str) -> None:
    assert FORBIDDEN.search(line)


def test_every_module_of_the_program_says_what_it_is() -> None:
    silent = [named(p) for p in modules() if named(p).startswith("wiregen/") and not ast.get_docstring(_tree(p))]
    assert silent == []


def test_every_public_function_says_what_it_does() -> None:
    silent = []
    for path in modules():
        if named(path).startswith("wiregen/"):
            for node in _tree(path).body:
                if isinstance(node, ast.FunctionDef) and not node.name.startswith("_") and not ast.get_docstring(node):
                    silent.append(f"{named(path)}:{node.lineno}: {node.name}")
    assert silent == []


@cache
def _tree(path: Path) -> ast.Module:
    return ast.parse(path.read_text(encoding="utf-8"))


def test_rooms_import_downwards_only() -> None:
    linter = Path(sys.executable).with_name("lint-imports")
    done = subprocess.run([linter, "--no-cache"], cwd=ROOT, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def test_every_room_stands_in_the_import_rule() -> None:
    rule = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"][0]
    inside = {p.relative_to(ROOT / "wiregen").parts[0].removesuffix(".py") for p in (ROOT / "wiregen").rglob("*.py")}
    assert {layer.removeprefix("wiregen.") for layer in rule["layers"]} == inside - {"__init__", "__main__"}


# One module may open files within a room that otherwise does not: what reads its own packaged data.
_TOUCHES_FILES = re.compile(r"\b(open|read_text|read_bytes|write_text|write_bytes|mkdir|unlink|rename|rmtree)\(")
_MAY = (
    "wiregen/scheme/",
    "wiregen/profiles/",
    "wiregen/packing/",
    "wiregen/formulas/tables.py",
    "wiregen/drawing/fonts.py",
)


def test_only_some_rooms_touch_files_and_only_one_prints() -> None:
    for path in modules():
        name = named(path)
        if name.startswith("wiregen/") and not name.startswith("wiregen/cli/"):
            calls = [node.func for node in ast.walk(_tree(path)) if isinstance(node, ast.Call)]
            assert not [f for f in calls if isinstance(f, ast.Name) and f.id == "print"], f"{name} prints"
            if not name.startswith(_MAY):
                assert not _TOUCHES_FILES.search(path.read_text(encoding="utf-8")), f"{name} touches files"
