"""End sleeves of stranded conductors: the collar's colour and the barrel's length by area."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from wiregen.formulas import tables


class Ferrule(NamedTuple):
    """One insulated end sleeve; ``collar`` is a letter code, ``barrel_mm`` the usual length or None."""

    area_mm2: float
    collar: str
    barrel_mm: int | None


@cache
def sizes() -> tuple[Ferrule, ...]:
    """All sleeves of the table, ascending by area [mm2]. Source: DIN 46228-4; usual lengths [mm] from memory.

    >>> sizes()[0]
    Ferrule(area_mm2=0.5, collar='WH', barrel_mm=8)
    """
    found = (
        Ferrule(float(r["area_mm2"]), r["collar"], int(r["barrel_mm"]) if r["barrel_mm"] else None)
        for r in tables.rows("ferrules")
    )
    return tuple(sorted(found))


def ferrule(area_mm2: float) -> Ferrule | None:
    """The sleeve for a conductor of ``area_mm2`` [mm2]: the smallest that takes it.

    None below 0.5 mm2, where the standard has no size and makers' colours differ, and above the table.
    Raises ValueError unless the area is more than nothing. Source: DIN 46228-4.

    >>> ferrule(1.0).collar, ferrule(0.823).area_mm2, ferrule(0.25)
    ('RD', 1.0, None)
    """
    if not area_mm2 > 0:
        raise ValueError("an area must be more than nothing")
    if area_mm2 < sizes()[0].area_mm2:
        return None
    return next((f for f in sizes() if f.area_mm2 >= area_mm2), None)
