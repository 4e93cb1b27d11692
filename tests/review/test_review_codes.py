"""The codes that the program can give are those that the catalogue explains."""

from __future__ import annotations

import ast
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest
from review_schemes import designed, drive

import wiregen
from wiregen.review import catalogue, review
from wiregen.scheme import model
from wiregen.scheme.support import NOT_YET
from wiregen.terms import InternalFault, Notice

#: Codes of rules on what no scheme can declare yet: no example could bring them about. Class and key that are refused.
WAITING: dict[str, tuple[type[model.Model], str]] = {}
ROOT = Path(wiregen.__file__).parent


@cache
def trees() -> tuple[tuple[Path, ast.Module], ...]:
    return tuple((path, ast.parse(path.read_text(encoding="utf-8"))) for path in sorted(ROOT.rglob("*.py")))


@cache
def passing() -> dict[str, int]:
    """Functions that take a parameter ``code`` and hand it on, with the place of that parameter among the arguments."""
    places = {"Notice": 0}
    for _, tree in trees():
        for node in ast.walk(tree):
            if isinstance(node, ast.FunctionDef):
                names = [a.arg for a in node.args.args if a.arg not in ("self", "cls")]
                if "code" in names and gives_notice(node):
                    places[node.name] = names.index("code")
    return places


def gives_notice(function: ast.FunctionDef) -> bool:
    """Whether a function makes a notice with its own parameter ``code``."""
    calls = [n for n in ast.walk(function) if isinstance(n, ast.Call) and called(n) == "Notice"]
    return any(n.args and isinstance(n.args[0], ast.Name) and n.args[0].id == "code" for n in calls)


def called(call: ast.Call) -> str:
    return call.func.attr if isinstance(call.func, ast.Attribute) else getattr(call.func, "id", "")


@cache
def given_codes() -> dict[str, str]:
    """Every code that stands in the source where a notice is made, and a place of each."""
    found: dict[str, str] = {}
    places = passing()
    for path, tree in trees():
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or called(node) not in places:
                continue
            argument = node.args[places[called(node)]]
            if isinstance(argument, ast.Constant) and isinstance(argument.value, str):
                found[argument.value] = f"{path.relative_to(ROOT)}:{node.lineno}"
            else:
                assert isinstance(argument, ast.Name), f"{path}:{node.lineno}: a code is built, not written"
                assert argument.id == "code", f"{path}:{node.lineno}"
    return found


@cache
def complained_codes() -> frozenset[str]:
    """The codes of complaints about names: the keyword ``code`` where one is made, and the default of a parameter."""
    found: set[str] = set()
    for path, tree in trees():
        if "scheme" not in path.parts:
            continue
        for node in ast.walk(tree):
            if isinstance(node, ast.keyword) and node.arg == "code" and isinstance(node.value, ast.Constant):
                found.add(node.value.value)
            if isinstance(node, ast.FunctionDef):
                named = node.args.args[len(node.args.args) - len(node.args.defaults) :]
                pairs = zip(named, node.args.defaults, strict=True)
                found |= {d.value for a, d in pairs if a.arg == "code" and isinstance(d, ast.Constant)}
    return frozenset(found)


def test_codes_of_complaints_are_those_of_refused_schemes() -> None:
    assert complained_codes() == {e.code for e in catalogue.entries() if e.refused}


def test_reporters_are_found() -> None:
    """The walk sees through the functions that hand a code on; without them it would miss most of control's codes."""
    assert {"Notice", "notice", "_refuse", "_overlaps"} <= set(passing())


def test_every_code_is_explained_and_every_entry_can_occur() -> None:
    given = {code: place for code, place in given_codes().items() if code not in WAITING}
    explained = {e.code for e in catalogue.entries()}
    assert {code: place for code, place in given.items() if code not in explained} == {}
    told_elsewhere = {e.code for e in catalogue.entries() if e.told_by != "check"}
    assert explained - set(given) - complained_codes() == told_elsewhere


def test_codes_without_entry_wait_for_something_that_is_refused() -> None:
    """As soon as a scheme can declare it, the code needs its explanation and example."""
    assert set(WAITING) <= set(given_codes())
    assert [code for code, key in WAITING.items() if key not in NOT_YET] == []


def test_a_code_without_entry_is_a_fault_of_the_program() -> None:
    design = designed(drive("-SJ2: {profile: push_button, contact: NC, at: +F1}", "enable: -SJ2"))
    notices = (*design.declared.notices, Notice("not-in-the-catalogue", (), "-TA1", "something"))
    declared = replace(design.declared, notices=notices)
    with pytest.raises(InternalFault, match="not-in-the-catalogue"):
        review(design.scheme, declared, design.allocation, design.wiring)
