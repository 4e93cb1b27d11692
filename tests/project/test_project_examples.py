"""Every example: right by the published schema, and packed to the same bytes anywhere and under any hash seed."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import jsonschema
import pytest
import yaml

from wiregen.scheme import schema

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.yaml"))
PACK_ALL = """
import contextlib, io, json, sys
from wiregen.cli.boundary import run
with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
    found = {name: run(["pack", name + ".yaml", "-o", name]) for name in sys.argv[1:]}
print(json.dumps(found))
"""
SURROUNDINGS = [
    ("here", {"PYTHONHASHSEED": "1", "TZ": "UTC", "LC_ALL": "C.UTF-8"}),
    ("deep/er/down here", {"PYTHONHASHSEED": "4242", "TZ": "Asia/Kathmandu", "LC_ALL": "C"}),
]


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> list[Path]:
    """The packs of all examples, once in each of two surroundings."""
    folders = []
    for name, surroundings in SURROUNDINGS:
        folder = tmp_path_factory.mktemp("packs") / name
        folder.mkdir(parents=True)
        for path in EXAMPLES:
            (folder / path.name).write_bytes(path.read_bytes())
        command = [sys.executable, "-c", PACK_ALL, *(path.stem for path in EXAMPLES)]
        done = subprocess.run(command, cwd=folder, env=os.environ | surroundings, capture_output=True, text=True)
        assert done.returncode == 0, done.stderr
        assert json.loads(done.stdout) == {path.stem: int(path.stem == "wrong_on_purpose") for path in EXAMPLES}
        folders.append(folder)
    return folders


def test_there_are_examples_enough() -> None:
    assert len(EXAMPLES) >= 6


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_is_right_by_the_schema(path: Path) -> None:
    written = json.loads(json.dumps(schema()))
    jsonschema.Draft202012Validator.check_schema(written)
    scheme = yaml.load(path.read_text(encoding="utf-8"), yaml.BaseLoader)
    assert [e.message for e in jsonschema.Draft202012Validator(written).iter_errors(scheme)] == []


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda p: p.stem)
def test_an_example_gives_the_same_bytes_anywhere(path: Path, packed: list[Path]) -> None:
    here, there = (
        {file.name: hashlib.sha256(file.read_bytes()).hexdigest() for file in (folder / path.stem).iterdir()}
        for folder in packed
    )
    assert here == there
    assert {"sheet-01.svg", "drawings.pdf", "design.json", "cable_schedule.xlsx"} <= set(here)
