"""A circuit that is not as it was drawn: conductors open, pins that touch."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from wiregen.circuit.build import Circuit
from wiregen.circuit.network import Island, stamp
from wiregen.circuit.state import AS_DRAWN, Change
from wiregen.terms import Pin


def changed(circuit: Circuit, change: Change) -> Circuit:
    """The circuit with a change made. A pin to which nothing is joined is left as it is.

    Raises ValueError for a conductor that the circuit does not have.
    """
    if change == AS_DRAWN or not (change.opened or change.joined):
        return circuit
    opened = [r for r in circuit.fixed if r.of in change.opened]
    missing = set(change.opened) - {r.of for r in opened}
    if missing:
        raise ValueError(f"no conductor {', '.join(sorted(missing))}")
    stamps: list[tuple[Pin, Pin, float]] = [(r.a, r.b, -1.0 / r.ohm) for r in opened]
    stamps += [(a, b, 1.0 / ohm) for a, b, ohm in change.joined]
    groups = list(circuit.islands)
    where = {pin: i for i, island in enumerate(groups) for pin in island.nodes}
    fresh: dict[int, Island] = {}
    gone: set[int] = set()
    for a, b, siemens in stamps:
        at = sorted({where[p] for p in (a, b) if p in where})
        if not at or (a not in where and not circuit.is_earth(a)) or (b not in where and not circuit.is_earth(b)):
            continue
        first = at[0]
        if len(at) == 2:
            merged = _merged(fresh.get(at[0]) or groups[at[0]], fresh.get(at[1]) or groups[at[1]])
            gone.add(at[1])
            fresh[first] = merged
            where.update(dict.fromkeys(merged.nodes, first))
        elif first not in fresh:
            fresh[first] = _copy(groups[first])
        island = fresh[first]
        stamp(island.base, island.index.get(a, -1), island.index.get(b, -1), siemens)
    islands = tuple(fresh.get(i, island) for i, island in enumerate(groups) if i not in gone)
    return replace(circuit, islands=islands)


def _copy(island: Island) -> Island:
    return Island(island.nodes, island.base.copy(), island.ends, list(island.numbers))


def _merged(a: Island, b: Island) -> Island:
    size = len(a.nodes)
    base = np.zeros((size + len(b.nodes), size + len(b.nodes)))
    base[:size, :size] = a.base
    base[size:, size:] = b.base
    ends = [*a.ends, *((i + size if i >= 0 else -1, j + size if j >= 0 else -1) for i, j in b.ends)]
    return Island([*a.nodes, *b.nodes], base, ends, [*a.numbers, *b.numbers])
