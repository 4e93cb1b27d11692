"""Figures that a scheme gives a device instead of its profile's: their names, units and neighbours."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.profiles.figures import figures_of, wrong_value
from wiregen.profiles.model import Profile
from wiregen.scheme.names import shown
from wiregen.scheme.references import Declared, table_in
from wiregen.scheme.tree import Table
from wiregen.scheme.wrong import Wrong, find, listed

_COILS = ("relay", "contactor")
_LISTED = 8  # so many names are listed where none comes near


def wrong_figures(root: Table, declared: Declared) -> Iterator[Wrong]:
    """Figures that mean nothing for the device, that are not in their unit, or that a key of its own says."""
    for device, entry in (declared.devices or {}).items():
        profile = declared.profile_of(device)
        figures = table_in(entry, "figures") if isinstance(entry, dict) else None
        known = figures_of(profile) if profile is not None and figures else {}
        for name, text in (figures or {}).items():
            if profile is None:
                break
            found = find(root, ("devices", device, "figures", name))
            if name not in known:
                otherwise = _otherwise([figure for figure in known if not _own_key(profile, figure)])
                says = f"`{shown(device)}` ({profile.profile}) has no figure `{shown(name)}`"
                yield Wrong(found.key, says, name, known, otherwise)
            elif key := _own_key(profile, name):
                yield Wrong(found.key, f"`{name}` is said by a key of its own: write `{key}:` at `{shown(device)}`")
            elif isinstance(text, str) and (says := wrong_value(known[name], text)):
                yield Wrong(found.spot, says)


def _otherwise(known: list[str]) -> str:
    if not known:
        return ": it has none"
    more = f" and {len(known) - _LISTED} more" if len(known) > _LISTED else ""
    return f": it has {', '.join(known[:_LISTED])}{more}" if more else f": it has {listed(known, 'and')}"


def _own_key(profile: Profile, figure: str) -> str:
    """The key of a device that says this figure; empty where none does."""
    kind = profile.device or profile.controller or ""
    if figure == "voltage":
        return "coil" if kind in _COILS else "" if kind == "safety_relay" else "voltage"
    keys = {("potentiometer", "resistance"), ("resistor", "resistance"), ("fuse", "rating"), ("transformer", "power")}
    return figure if (kind, figure) in keys else ""
