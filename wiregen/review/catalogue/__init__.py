"""The catalogue of findings: of each code its severity, what it means, why, what to do, on whose word, an example."""

from __future__ import annotations

from functools import cache

from wiregen.review.catalogue.entry import Entry

__all__ = ["Entry", "entries", "entry"]


@cache
def entries() -> tuple[Entry, ...]:
    """Every entry, in the order of the codes."""
    from wiregen.review.catalogue import (
        cabling,
        contacts,
        declarations,
        directions,
        electrical,
        existing,
        faults,
        motors,
        overrides,
        polarity,
        process,
        reading,
        references,
        relays,
        runs,
        safety,
        selection,
        sequences,
        signals,
        stops,
        supplies,
        terminals,
        voltages,
    )

    rooms = (
        cabling,
        contacts,
        declarations,
        directions,
        electrical,
        existing,
        faults,
        motors,
        overrides,
        polarity,
        process,
        reading,
        references,
        relays,
        runs,
        safety,
        selection,
        sequences,
        signals,
        stops,
        supplies,
        terminals,
        voltages,
    )
    return tuple(sorted((e for room in rooms for e in room.ENTRIES), key=lambda e: e.code))


def entry(code: str) -> Entry | None:
    """The entry of one code, None where there is none."""
    return _by_code().get(code)


@cache
def _by_code() -> dict[str, Entry]:
    return {e.code: e for e in entries()}
