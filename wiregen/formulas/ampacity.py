"""What a copper conductor in PVC may carry, by how it is laid, and the smallest sizes of a machine's wiring.

Methods: B1 single conductors in conduit or trunking, B2 cables there, C cables on a wall, E cables on a tray in free
air.
"""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from wiregen.formulas import tables
from wiregen.formulas.arguments import count, positive

Method = Literal["B1", "B2", "C", "E"]
Where = Literal["inside", "outside"]
Use = Literal["power", "control", "data", "single core", "two cores", "two cores screened", "more cores"]


class Ampacity(NamedTuple):
    """A current in A; ``certain`` is False where a figure in it could not be checked: it may warn, and never assert."""

    current_a: float
    certain: bool


class Factor(NamedTuple):
    """A factor on a current; ``certain`` as of an `Ampacity`."""

    factor: float
    certain: bool


class LeastArea(NamedTuple):
    """An area in mm2; ``certain`` as of an `Ampacity`."""

    area_mm2: float
    certain: bool


@cache
def _table(name: str, first: str, second: str) -> dict[tuple[str, float], tuple[float, bool]]:
    return {
        (method, float(r[second])): (float(r[first]), r["mark"] != "uncertain")
        for r in tables.rows(name)
        for method in r["method"].split()
    }


def base_a(area_mm2: float, method: Method = "B2") -> Ampacity:
    """What a conductor may carry for ever at 40 degC, alone, three of them loaded.

    ``area_mm2`` [mm2]; one that is not in the table counts as the next smaller. Raises ValueError for an unknown method
    and an area below the table. Source: IEC 60204-1 table 6; several figures from memory, as the table says.

    >>> base_a(1.5, "B2").current_a, base_a(2.081, "E").current_a
    (13.1, 16.1)
    """
    positive("an area", area_mm2)
    rows = _table("ampacity", "current", "area_mm2")
    fitting = [area for at, area in rows if at == method and area <= area_mm2]
    if not fitting:
        _known(method)
        raise ValueError(f"no ampacity is known of {area_mm2:g} mm2 laid as {method}")
    return Ampacity(*rows[method, max(fitting)])


def ambient_factor(ambient_c: float) -> float:
    """By how much less (or more) a conductor in PVC carries at another ambient than 40 degC.

    ``ambient_c`` [degC]; one between two rows counts as the warmer. Below 30 degC nothing is gained. Raises ValueError
    above 60 degC. Source: IEC 60204-1 table D.1, from memory.

    >>> ambient_factor(40), ambient_factor(47), ambient_factor(10)
    (1.0, 0.82, 1.15)
    """
    rows = _table("ampacity_factors", "factor", "step")
    if not -273.15 <= ambient_c < float("inf"):
        raise ValueError(f"an ambient temperature must be a number of degC, not {ambient_c:g}")
    warmer = [at for kind, at in rows if kind == "ambient" and at >= ambient_c]
    if not warmer:
        raise ValueError(f"no ampacity is known at {ambient_c:g} degC; the table ends at 60 degC")
    return rows["ambient", min(warmer)][0]


def grouping_factor(circuits: int, method: Method = "B2") -> Factor:
    """By how much less each of several loaded circuits or cables side by side carries.

    A number between two rows counts as the greater. Raises ValueError for an unknown method, and beyond the table.
    Source: IEC 60204-1 table D.2, from memory, not checked.

    >>> grouping_factor(1).factor, grouping_factor(4).factor, grouping_factor(3)
    (1.0, 0.65, Factor(factor=0.65, certain=False))
    """
    rows = _table("ampacity_factors", "factor", "step")
    _known(method)
    if count("circuits", circuits) == 1:
        return Factor(1.0, True)
    more = [at for kind, at in rows if kind == method and at >= circuits]
    if not more:
        raise ValueError(f"no factor is known for {circuits} circuits laid as {method}; the table ends at 9")
    return Factor(*rows[method, min(more)])


def ampacity_a(area_mm2: float, method: Method = "B2", ambient_c: float = 40.0, circuits: int = 1) -> Ampacity:
    """What a conductor may carry for ever: `base_a` times `ambient_factor` and `grouping_factor`.

    ``area_mm2`` [mm2], ``ambient_c`` [degC]. A grouping makes it uncertain. Raises ValueError as they do.
    Source: IEC 60204-1 table 6 and annex D; several figures from memory, as the tables say.

    >>> round(ampacity_a(1.5, "B2", 45).current_a, 2), round(ampacity_a(1.5, "C", circuits=2).current_a, 2)
    (11.92, 12.92)
    """
    base, grouped = base_a(area_mm2, method), grouping_factor(circuits, method)
    amps = base.current_a * ambient_factor(ambient_c) * grouped.factor
    return Ampacity(amps, base.certain and grouped.certain)


def smallest_area_mm2(
    current_a: float, method: Method = "B2", ambient_c: float = 40.0, circuits: int = 1
) -> float | None:
    """The smallest area [mm2] of the table that carries ``current_a`` [A]; None where it has none.

    ``ambient_c`` [degC] and the rest as in `ampacity_a`, whose inverse it is. Raises ValueError as it does, and unless
    the current is more than nothing. Source: IEC 60204-1 table 6 and annex D, from memory in part.

    >>> smallest_area_mm2(16), smallest_area_mm2(16, "E"), smallest_area_mm2(500)
    (2.5, 1.5, None)
    """
    positive("a current", current_a)
    _known(method)
    areas = sorted(area for at, area in _table("ampacity", "current", "area_mm2") if at == method)
    return next((a for a in areas if ampacity_a(a, method, ambient_c, circuits).current_a >= current_a), None)


def least_area(where: Where, use: Use) -> LeastArea:
    """The smallest area of a copper conductor for its strength, whatever it carries.

    Inside enclosures by use (``power``, ``control``, ``data``), outside by the kind of control cable (``single core``,
    ``two cores``, ``two cores screened``, ``more cores``). Raises ValueError for others. Source: IEC 60204-1 table 5,
    from memory, not checked.

    >>> least_area("inside", "control").area_mm2, least_area("outside", "single core")
    (0.2, LeastArea(area_mm2=1.0, certain=False))
    """
    found = {
        (r["place"], r["use"]): LeastArea(float(r["least_mm2"]), r["mark"] != "uncertain")
        for r in tables.rows("least_areas")
    }
    if (where, use) not in found:
        raise ValueError(f"no least area is known {where} for {use!r}")
    return found[where, use]


def _known(method: str) -> None:
    if method not in ("B1", "B2", "C", "E"):
        raise ValueError(f"{method!r} is no method of laying; use B1, B2, C or E")
