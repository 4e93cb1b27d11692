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

from pydantic import BaseModel

from wiregen.terms import InternalFault

_PLAIN = (str, int, float, bool, type(None), datetime.date, Fraction)
#: Names under which systems have the cairo library.
_CAIRO = ("libcairo.so.2", "libcairo.2.dylib", "libcairo-2.dll")
_LIBRARIES = ("cairocffi", "cairosvg", "schemdraw", "svgwrite", "ziafont")


def fingerprint(value: object) -> str:
    """SHA-256 over everything that ``value`` holds, and over the program that makes sheets of it.

    ``value`` is made of dataclasses, pydantic models, tuples, dicts in their order, sets and plain values. Raises
    InternalFault where it holds anything else, so that nothing is ever passed over.
    """
    return _mixed("made by", program(), _Digests().of(value))


def _mixed(*parts: str) -> str:
    return hashlib.sha256("\0".join(parts).encode()).hexdigest()


class _Digests:
    """The digest of each object that was met, so that what many share is looked at once."""

    def __init__(self) -> None:
        self._known: dict[int, tuple[object, str]] = {}  # the object too, so that no other takes its id

    def of(self, value: object) -> str:
        if isinstance(value, _PLAIN):
            return f"{type(value).__name__}:{value!r}"
        known = self._known.get(id(value))
        if known is None:
            known = self._known[id(value)] = (value, self._worked_out(value))
        return known[1]

    def _worked_out(self, value: object) -> str:
        name = type(value).__name__
        if dataclasses.is_dataclass(value):
            fields = (f.name for f in dataclasses.fields(value) if f.compare)
            return _mixed(name, *(self.of(getattr(value, field)) for field in fields))
        if isinstance(value, BaseModel):
            return _mixed(name, *(self.of(getattr(value, field)) for field in type(value).model_fields))
        if isinstance(value, tuple | list):
            return _mixed(name, *map(self.of, value))
        if isinstance(value, dict):
            return _mixed(name, *(self.of(part) for item in value.items() for part in item))
        if isinstance(value, set | frozenset):
            return _mixed(name, *sorted(map(self.of, value)))
        raise InternalFault(f"no fingerprint of a {name}")


@functools.cache
def program() -> str:
    """A number that changes with every change of this program, of what draws for it, and of the cairo library."""
    root = Path(__file__).parents[1]
    digest = hashlib.sha256()
    for path in sorted(p for p in root.rglob("*") if p.is_file() and p.suffix not in (".pyc", ".yaml")):
        digest.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes())
    versions = (importlib.metadata.version(name) for name in _LIBRARIES)
    return _mixed(digest.hexdigest(), *versions, _cairo())


def _cairo() -> str:
    """The version of the cairo library, asked of the library itself: the package that wraps it takes long to import."""
    for name in _CAIRO:
        try:
            version = ctypes.CDLL(name).cairo_version
        except (OSError, AttributeError):
            continue
        return str(version())
    return "none"
