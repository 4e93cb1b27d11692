"""Places, strips and existing cables against one another: what is written alone may be right, and together wrong."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from wiregen.scheme.names import shown, wrong_device_name
from wiregen.scheme.references import Declared, table_in
from wiregen.scheme.tree import Table
from wiregen.scheme.wrong import Wrong, find


def wrong_strips(root: Table, declared: Declared) -> Iterator[Wrong]:
    """Strips that are named like something else, and keys of a place that contradict one another."""
    seen: dict[str, str] = {}
    for name, place in (declared.places or {}).items():
        if not isinstance(place, dict):
            continue
        if place.get("spread") == "yes":
            where = find(root, ("places", name, "spread")).key
            if "strip" in place:
                says = "device cables of a place with a strip begin there: give `strip` or `spread`"
                yield Wrong(where, says)
            if name in declared.cabinets:
                yield Wrong(where, f"`{shown(name)}` is a cabinet, where devices have no cables: leave out `spread`")
        strip = place.get("strip")
        if isinstance(strip, str):
            yield from _wrong_strip(root, declared, name, strip, seen)


def _wrong_strip(root: Table, declared: Declared, place: str, strip: str, seen: dict[str, str]) -> Iterator[Wrong]:
    spot = find(root, ("places", place, "strip")).spot
    if wrong_device_name(strip, declared.practice):
        yield Wrong(spot, f"`{shown(strip)}` is not a strip's name: write it as in `-X11`")
    elif strip in (declared.devices or {}):
        yield Wrong(spot, f"`{shown(strip)}` is a device: give the strip a name of its own")
    elif strip in seen:
        yield Wrong(spot, f"`{shown(strip)}` is the strip of `{shown(seen[strip])}` already")
    seen.setdefault(strip, place)


def wrong_routes(root: Table, declared: Declared) -> Iterator[Wrong]:
    """A route without a start, where there are several cabinets that it could begin at."""
    if len(declared.cabinets) < 2:
        return
    for name, place in (declared.places or {}).items():
        route = place.get("route") if isinstance(place, dict) else None
        if isinstance(route, str):
            example = f"{{{declared.cabinets[0]}: {shown(route)}}}"
            says = f"with several cabinets a route says where it begins, as in `{example}`"
            yield Wrong(find(root, ("places", name, "route")).spot, says)


def wrong_cables(root: Table, data: Mapping[str, Any], declared: Declared) -> Iterator[Wrong]:
    """Existing cables that begin at no strip, end where they begin, or bear the name of something else."""
    existing = table_in(table_in(data, "cabling") or {}, "existing") or {}
    strips = {p for p, place in (declared.places or {}).items() if isinstance(place, dict) and "strip" in place}
    for name, cable in existing.items():
        key = find(root, ("cabling", "existing", name)).key
        if wrong_device_name(name, declared.practice):
            yield Wrong(key, f"`{shown(name)}` is not a cable's name: write it as in `-W7`")
        elif name in (declared.devices or {}):
            yield Wrong(key, f"`{shown(name)}` is a device: give the cable a name of its own")
        ends = [cable.get("from"), cable.get("to")] if isinstance(cable, dict) else []
        if len(ends) < 2 or not all(isinstance(e, str) and e in (declared.places or {}) for e in ends):
            continue
        if ends[0] == ends[1]:
            yield Wrong(key, f"cable `{shown(name)}` begins and ends at `{shown(str(ends[0]))}`")
        elif not {*declared.cabinets, *strips} & set(ends):
            says = f"cable `{shown(name)}` begins at no strip: one of its ends is a cabinet or a place with `strip`"
            yield Wrong(key, says)
        if isinstance(cable, dict) and cable.get("pe") == "yes" and cable.get("cores") == "1":
            yield Wrong(key, f"cable `{shown(name)}` has no core beside its protective conductor")
