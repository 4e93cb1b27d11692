"""Every figure in data says where it is from, in words that name a standard or admit that there is none."""

from __future__ import annotations

import ast
import csv
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from wiregen.formulas import tables
from wiregen.profiles import builtin_root
from wiregen.yaml_text import load

ALLOWED = (
    *("IEC", "EN", "ISO", "DIN", "NFPA", "NEMA", "ISA", "ASTM", "IEEE", "BS", "NAMUR", "IETF", "UL"),
    *("common practice, no source", "from memory", "typical, invented", "computed"),
)
_SOURCE = re.compile("(?:" + "|".join(re.escape(a) for a in ALLOWED) + r")(?![A-Za-z])")
_PROFILES = sorted(builtin_root().glob("*.yaml"))


def _sources(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in ("basis", "source"):
                yield inner
            else:
                yield from _sources(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _sources(inner)


@pytest.mark.parametrize("source", ["ISABEL", "Handbook", "IECX", ""])
def test_other_sources_are_told_apart(source: str) -> None:
    assert not _SOURCE.match(source)


@pytest.mark.parametrize("name", tables.names())
def test_each_row_of_a_table_names_unit_source_and_mark(name: str) -> None:
    rows = tables.rows(name)
    assert rows
    for row in rows:
        assert None not in row
        assert None not in row.values(), f"{name}: a cell is missing in {row}"
        assert row["unit"], row
        assert _SOURCE.match(row["source"]), row
        assert row["mark"] in tables.MARKS, row
        if row["mark"] in ("from memory", "uncertain"):
            assert re.search("from memory|common practice", row["source"]), row


@pytest.mark.parametrize("path", _PROFILES, ids=lambda p: p.stem)
def test_each_figure_of_a_profile_names_its_basis(path: Path) -> None:
    data, _ = load(path.read_text(encoding="utf-8"), path.name)
    for source in _sources(data):
        assert _SOURCE.match(source), source


def test_profiles_state_figures_at_all() -> None:
    texts = [path.read_text(encoding="utf-8") for path in _PROFILES]
    sources = [s for text in texts for s in _sources(load(text, "profile")[0])]
    assert len(sources) > 100


_ROOT = Path(__file__).resolve().parents[2]
_FOLDERS = ("wiregen", "terminal_profiles", "examples")


def _files(*suffixes: str) -> list[Path]:
    return sorted(p for folder in _FOLDERS for p in (_ROOT / folder).rglob("*") if p.suffix in suffixes)


def _sources_in(path: Path) -> list[str]:
    text = path.read_text(encoding="utf-8")
    if path.suffix == ".csv":
        rows = csv.DictReader(text.splitlines())
        return [row[key] for row in rows for key in ("source", "basis") if key in row]
    if path.suffix == ".py":
        calls = [node for node in ast.walk(ast.parse(text)) if isinstance(node, ast.keyword) and node.arg == "basis"]
        return [str(k.value.value) for k in calls if isinstance(k.value, ast.Constant)]
    return list(_sources(load(text, path.name)[0]))


@pytest.mark.parametrize("path", _files(".csv", ".yaml", ".py"), ids=lambda p: p.relative_to(_ROOT).as_posix())
def test_no_file_names_another_kind_of_source(path: Path) -> None:
    for source in _sources_in(path):
        assert _SOURCE.match(source), source


def test_no_web_address_stands_in_data() -> None:
    files = _files(".csv", ".yaml", ".json")
    assert len(files) > 40
    for path in files:
        assert not re.search(r"https?:|www\.", path.read_text(encoding="utf-8")), path.name
