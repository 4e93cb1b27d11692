"""What the contributor's guide names is there."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from wiregen.profiles import load

ROOT = Path(__file__).parents[2]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = sorted(set(re.findall(r"`((?:\.ci/|[\w.]+/)*[\w.]+\.(?:py|yaml|svg|md|csv)|\.ci/\w+|(?:\w+/)+)`", GUIDE)))
#: A path may be told from the project, from the program or from a room.
BASES = (ROOT, ROOT / "wiregen", *sorted(p for p in (ROOT / "wiregen").iterdir() if p.is_dir()))


@pytest.mark.parametrize("name", [name for name in NAMED if name != "design.json"])
def test_a_named_file_exists(name: str) -> None:
    assert any((base / name).exists() for base in BASES)


def test_names_are_found_in_the_guide() -> None:
    assert {".ci/run", "levels.py", "wiregen/documents/", "tests/benchmarks/ratios.py"} <= set(NAMED)


def test_the_rooms_are_those_of_the_import_rule_from_the_top() -> None:
    table = GUIDE.partition("| room |")[2].partition("\n\n")[0]
    told = [name for cell in re.findall(r"^\| (`.*?) \|", table, re.MULTILINE) for name in re.findall(r"`(\w+)`", cell)]
    rule = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["tool"]["importlinter"]["contracts"][0]
    assert told == [layer.removeprefix("wiregen.") for layer in rule["layers"]]


def test_the_profile_shown_is_right(tmp_path: Path) -> None:
    (text,) = re.findall(r"^```yaml\n(.*?)^```$", GUIDE, re.MULTILINE | re.DOTALL)
    (tmp_path / "io_digital_in_2.yaml").write_text(text, encoding="utf-8")
    profile = load(tmp_path)["io_digital_in_2"]
    assert [t.label for t in profile.terminals] == ["24V", "0V", "DI1", "DI2", "COM"]
