"""Promises that every public formula keeps: a worked example that runs, units in names, a source."""

from __future__ import annotations

import doctest
import importlib
import inspect
import pkgutil
import re
from types import FunctionType, ModuleType

import pytest

from wiregen import formulas

_UNITS = (
    *("_mm2", "_mm", "_m", "_c", "_ma", "_v", "_a", "_percent", "volts", "amps"),
    *("_ohm", "_w", "_va", "_hz", "_uf", "_h", "_s", "_per_min", "_nm", "_bits", "_user", "uf_per_km"),
)
#: Numbers without a unit; their [unit] is 1.
_BARE = ("cos_phi", "efficiency", "position", "_share", "_factor")
_SOURCE = re.compile(r"Source: (IEC|EN|DIN|NFPA|NEMA|ISA|ASTM|BS|NAMUR|common practice, no source)")
#: What serves the formulas and is none.
_NO_FORMULAS = ("tables", "arguments")
MODULES = [importlib.import_module(f"wiregen.formulas.{m.name}") for m in pkgutil.iter_modules(formulas.__path__)]


def _public(module: ModuleType) -> dict[str, FunctionType]:
    found = {n: inspect.unwrap(f) for n, f in vars(module).items() if callable(f) and not n.startswith("_")}
    return {n: f for n, f in found.items() if isinstance(f, FunctionType) and f.__module__ == module.__name__}


FUNCTIONS = [
    pytest.param(f, id=f"{m.__name__.rpartition('.')[2]}.{n}")
    for m in MODULES
    if not m.__name__.endswith(_NO_FORMULAS)
    for n, f in sorted(_public(m).items())
]


@pytest.mark.parametrize("module", MODULES, ids=lambda m: m.__name__)
def test_worked_examples_come_out(module: ModuleType) -> None:
    result = doctest.testmod(module, raise_on_error=False)
    assert result.failed == 0
    assert result.attempted > 0 or module.__name__.endswith(_NO_FORMULAS)


def test_there_are_formulas() -> None:
    assert len(FUNCTIONS) >= 20


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_formula_names_its_source_and_shows_an_example(function: FunctionType) -> None:
    doc = re.sub(r"\s+", " ", inspect.getdoc(function) or "")
    assert _SOURCE.search(doc), doc
    assert ">>> " in doc


@pytest.mark.parametrize("function", FUNCTIONS)
def test_a_number_bears_its_unit(function: FunctionType) -> None:
    doc = inspect.getdoc(function) or ""
    for name, kind in inspect.get_annotations(function).items():
        if kind == "float" and name != "return":
            assert name.endswith(_UNITS + _BARE), f"{function.__name__}: {name} has no unit in its name"
            assert re.search(rf"``{name}``[^`\[]*(``\w+``[^`\[]*)?\[", doc), (
                f"{function.__name__}: {name} has no [unit]"
            )
    parameters = list(inspect.signature(function).parameters)
    for word in re.findall(r"``(\w+)`` \[", doc):
        assert word in parameters, f"{function.__name__}: the text speaks of {word}"


def test_formulas_import_nothing_of_the_project() -> None:
    for module in MODULES:
        source = inspect.getsource(module)
        imported = re.findall(r"^\s*(?:from|import) (wiregen[\w.]*)", source, re.MULTILINE)
        assert {i for i in imported if not i.startswith("wiregen.formulas")} == set()
