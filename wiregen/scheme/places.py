"""Which places are cabinets."""

from __future__ import annotations

from collections.abc import Mapping

from wiregen.scheme.model import Place


def cabinets_of(places: Mapping[str, Place]) -> tuple[str, ...]:
    """Places without a route; and those at which another's begins, if their own leads to one without.

    The first place where there is none.
    """
    starts = {start for place in places.values() if isinstance(place.route, dict) for start in place.route}
    first = {name for name, place in places.items() if place.route is None}
    led = {name for name, place in places.items() if isinstance(place.route, dict) and first & place.route.keys()}
    return tuple(name for name in places if name in first or name in starts & led) or (next(iter(places)),)
