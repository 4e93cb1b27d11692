"""Fingerprints: what a set of sheets is made from, as one number. Equal numbers mean equal sheets, to the byte."""

from __future__ import annotations

import ctypes
import dataclasses
import datetime
import functools
import hashlib
import importlib.metadata
from fractions import Fraction
from pathlib import Path
from typing import Any

from pydantic import BaseModel

from wiregen.terms import InternalFault

_PLAIN = (str, int, float, bool, type(None), datetime.date, Fraction)
#: Names under which systems have the cairo library.
_CAIRO = ("libcairo.so.2", "libcairo.2.dylib", "libcairo-2.dll")
_LIBRARIES = ("cairocffi", "cairosvg", "schemdraw", "svgwrite", "xlsxwriter", "ziafont", "numpy")


def fingerprint(value: object) -> str:
    """SHA-256 over everything that ``value`` holds, and over the program that makes sheets of it.

    ``value`` is made of dataclasses, pydantic models, tuples, dicts in their order, sets and plain values. Raises
    InternalFault where it holds anything else, so that nothing is ever passed over.
    """
    return mixed("made by", program(), _Digests().of(value))


def mixed(*parts: str) -> str:
    """One number of several texts."""
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


class _Digests:
    """The digest of each object that was met, so that what many share is looked at once."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[object, str]] = {}  # the object too, so that no other takes its id
        self._fields: dict[type[Any], tuple[str, ...] | None] = {}

    def of(self, value: object) -> str:
        if isinstance(value, _PLAIN):
            return f"{type(value).__name__}:{value!r}"
        known = self._known.get(id(value))
        if known is None:
            known = self._known[id(value)] = (value, self._worked_out(value))
        return known[1]

    def _worked_out(self, value: Any) -> str:
        name, of = type(value).__name__, self.of
        fields = self._fields_of(type(value))
        if fields is not None:
            return mixed(name, *[of(getattr(value, field)) for field in fields])
        if isinstance(value, tuple | list):
            return mixed(name, *map(of, value))
        if isinstance(value, dict):
            return mixed(name, *[of(part) for item in value.items() for part in item])
        if isinstance(value, set | frozenset):
            return mixed(name, *sorted(map(of, value)))
        raise InternalFault(f"no fingerprint of a {name}")

    def _fields_of(self, kind: type[Any]) -> tuple[str, ...] | None:
        """The names of what a dataclass or a pydantic model holds; None of anything else."""
        if kind not in self._fields:
            if dataclasses.is_dataclass(kind):
                self._fields[kind] = tuple(f.name for f in dataclasses.fields(kind) if f.compare)
            else:
                self._fields[kind] = tuple(kind.model_fields) if issubclass(kind, BaseModel) else None
        return self._fields[kind]


@functools.cache
def program() -> str:
    """A number that changes with every change of this program, of what draws for it, and of the cairo library."""
    versions = (importlib.metadata.version(name) for name in _LIBRARIES)
    return mixed(files_of(Path(__file__).parents[1]), *versions, _cairo())


def files_of(root: Path) -> str:
    """One number of all that stands in a folder, compiled files left out, and YAML, of which a design has its own."""
    found = sorted(p for p in root.rglob("*") if p.is_file() and p.suffix not in (".pyc", ".yaml"))
    return mixed(*(f"{p.relative_to(root).as_posix()} {hashlib.sha256(p.read_bytes()).hexdigest()}" for p in found))


def _cairo() -> str:
    """The version of the cairo library, asked of the library itself: the package that wraps it takes long to import."""
    for name in _CAIRO:
        try:
            version = ctypes.CDLL(name).cairo_version
        except (OSError, AttributeError):
            continue
        return str(version())
    return "none"
