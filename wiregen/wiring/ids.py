"""Ids of conductors: one that was there before keeps its own, a new one gets one that nothing had."""

from __future__ import annotations

from collections.abc import Callable, Hashable
from dataclasses import replace

from wiregen.scheme.as_built import AsBuilt, BuiltConductor
from wiregen.wiring.model import Conductor, Strip, Wiring

_Key = Callable[[Conductor | BuiltConductor], Hashable]


def with_ids(wired: Wiring, built: AsBuilt) -> Wiring:
    """The same wiring under the ids of ``built`` where its conductors go on."""
    ids = _ids(wired, built)
    strips = tuple(_renamed(strip, ids) for strip in wired.strips)
    return replace(wired, conductors=tuple(replace(c, id=ids[c.id]) for c in wired.conductors), strips=strips)


def _renamed(strip: Strip, ids: dict[str, str]) -> Strip:
    terminals = (
        replace(t, inside=tuple(ids[i] for i in t.inside), outside=tuple(ids[i] for i in t.outside))
        for t in strip.terminals
    )
    return replace(strip, terminals=tuple(terminals))


def _ids(wired: Wiring, built: AsBuilt) -> dict[str, str]:
    old = {c.id: c for c in built.conductors}
    left = {c.id: c for c in wired.conductors}
    found: dict[str, str] = {}
    for key in _KEYS:
        free = {k: c.id for c in reversed(old.values()) if (k := key(c)) is not None}
        for new in list(left.values()):
            own = key(new)
            if own is not None and own in free:
                found[new.id] = free.pop(own)
                del left[new.id], old[found[new.id]]
    highest: dict[str, int] = {}
    for name in (c.id for c in built.conductors):
        highest[name[:1]] = max(highest.get(name[:1], 0), int(name[1:]) if name[1:].isdecimal() else 0)
    for name in left:
        highest[name[:1]] = highest.get(name[:1], 0) + 1
        found[name] = f"{name[:1]}{highest[name[:1]]:02d}"
    return found


def _as_core(c: Conductor | BuiltConductor) -> Hashable:
    return (c.cable, c.core) if c.cable and c.core else None


def _as_joined(c: Conductor | BuiltConductor) -> Hashable:
    return c.kind, frozenset((c.a, c.b))


def _numbered_to(c: Conductor | BuiltConductor) -> Hashable:
    """A wire of the same number on the same clamp, whose other end has gone elsewhere."""
    return (c.kind, c.number, c.b, c.b_side) if c.kind == "wire" and c.number else None


def _numbered_from(c: Conductor | BuiltConductor) -> Hashable:
    return (c.kind, c.number, c.a, c.a_side) if c.kind == "wire" and c.number else None


def _from(c: Conductor | BuiltConductor) -> Hashable:
    return (c.kind, c.a, c.a_side) if c.kind == "wire" else None


#: What makes a conductor the same, the surest first.
_KEYS: tuple[_Key, ...] = (_as_core, _as_joined, _numbered_to, _numbered_from, _from)
