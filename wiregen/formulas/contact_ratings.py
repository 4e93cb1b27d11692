"""What a contact may switch: utilisation categories, and the designations A150 to R300 in amperes at a voltage."""

from __future__ import annotations

from functools import cache
from typing import Literal, NamedTuple

from wiregen.formulas import tables
from wiregen.formulas.arguments import positive

CurrentKind = Literal["AC", "DC"]
LoadKind = Literal["resistive", "electromagnet", "economy electromagnet", "solid state behind a transformer"]
#: Below this voltage [V] an AC contact switches the amperes that it switches at this voltage.
_AC_FLAT_BELOW_V = 120.0
#: Above this voltage [V] the DC amperes of the codes for 600 V are listed, not reckoned from the VA.
_DC_LISTED_ABOVE_V = 300.0
#: Electromagnets up to so many VA are AC-14, above it AC-15.
_SMALL_ELECTROMAGNET_VA = 72.0
#: Time constant [s/W] of a DC-13 load and the most that it is taken for [s].
_DC13_S_PER_W, _DC13_MOST_S = 6e-3, 0.3


class Category(NamedTuple):
    """A utilisation category: its use, and the multiples of the rated operational current that it makes and breaks."""

    name: str
    use: str
    makes: float
    breaks: float


class Rating(NamedTuple):
    """A contact rating designation: current in A, apparent power in VA, the highest voltage in V."""

    code: str
    kind: CurrentKind
    most_v: float
    thermal_a: float
    make_va: float
    break_va: float
    high_dc_a: float | None


class Allowed(NamedTuple):
    """What a contact may carry, make and break at one voltage, in A."""

    thermal_a: float
    make_a: float
    break_a: float


@cache
def categories() -> dict[str, Category]:
    """All utilisation categories of control circuits by their name. Source: IEC 60947-5-1; DC rows from memory.

    >>> categories()["AC-15"].makes, categories()["DC-13"].use
    (10.0, 'DC electromagnets')
    """
    return {
        r["category"]: Category(r["category"], r["use"], float(r["makes"]), float(r["breaks"]))
        for r in tables.rows("utilisation_categories")
    }


def category(name: str) -> Category:
    """One utilisation category; AC-11 and DC-11 are the old names of AC-15 and DC-13.

    Raises ValueError for an unknown one. Source: IEC 60947-5-1.

    >>> category("AC-11").name
    'AC-15'
    """
    known = categories()
    found = known.get({"AC-11": "AC-15", "DC-11": "DC-13"}.get(name, name))
    if found is None:
        raise ValueError(f"{name!r} is no utilisation category; use {', '.join(known)}")
    return found


def category_of(load: LoadKind, kind: CurrentKind, power_va: float) -> Category:
    """The category that a load asks for; ``power_va`` [VA] is its sealed power.

    Raises ValueError for an unknown load, and unless the power is more than nothing. Source: IEC 60947-5-1.

    >>> category_of("electromagnet", "AC", 20).name, category_of("electromagnet", "DC", 5).name
    ('AC-14', 'DC-13')
    """
    positive("the power of a load", power_va)
    magnet = "AC-14" if power_va <= _SMALL_ELECTROMAGNET_VA else "AC-15"
    names: dict[tuple[str, str], str] = {
        ("resistive", "AC"): "AC-12",
        ("resistive", "DC"): "DC-12",
        ("electromagnet", "AC"): magnet,
        ("electromagnet", "DC"): "DC-13",
        ("economy electromagnet", "DC"): "DC-14",
        ("solid state behind a transformer", "AC"): "AC-13",
    }
    if (load, kind) not in names:
        raise ValueError(f"there is no category for a load {load!r} on {kind}")
    return category(names[load, kind])


def dc13_time_constant_s(power_w: float) -> float:
    """The time constant [s] of the load with which DC-13 is tested: 6 ms a watt, at most 0.3 s.

    ``power_w`` [W] of the load. Raises ValueError unless it is more than nothing. Source: IEC 60947-5-1, from memory.

    >>> dc13_time_constant_s(5), dc13_time_constant_s(80)
    (0.03, 0.3)
    """
    return min(_DC13_S_PER_W * positive("the power of a load", power_w), _DC13_MOST_S)


@cache
def ratings() -> dict[str, Rating]:
    """All contact rating designations by their code. Source: IEC 60947-5-1 annex A, NEMA ICS 5.

    >>> len(ratings()), ratings()["A300"].make_va
    (23, 7200.0)
    """
    return {
        r["code"]: Rating(
            r["code"],
            "AC" if r["kind"] == "AC" else "DC",
            float(r["most_v"]),
            float(r["thermal_a"]),
            float(r["make_va"]),
            float(r["break_va"]),
            float(r["above_300_v_a"]) if r["above_300_v_a"] else None,
        )
        for r in tables.rows("contact_ratings")
    }


def rating(code: str) -> Rating:
    """One contact rating designation. Raises ValueError for an unknown one. Source: IEC 60947-5-1 annex A, NEMA ICS 5.

    >>> rating("R300").thermal_a
    1.0
    """
    if code not in ratings():
        raise ValueError(f"{code!r} is no contact rating; use {', '.join(ratings())}")
    return ratings()[code]


def allowed(code: str, voltage_v: float) -> Allowed:
    """What a contact of rating ``code`` may carry, make and break at ``voltage_v`` [V].

    An AC code makes and breaks inductive loads (AC-15), a DC code electromagnets (DC-13). From 120 V its VA say the
    amperes; an AC code has below 120 V those of 120 V. A DC contact never makes or breaks more than its thermal
    current. Raises ValueError for an unknown code, and a voltage that is above the code's or not more than nothing.
    Source: IEC 60947-5-1 annex A, NEMA ICS 5.

    >>> allowed("A300", 240), allowed("R300", 24)
    (Allowed(thermal_a=10.0, make_a=30.0, break_a=3.0), Allowed(thermal_a=1.0, make_a=1.0, break_a=1.0))
    """
    found = rating(code)
    if positive("a voltage", voltage_v) > found.most_v:
        raise ValueError(f"a contact of rating {code} may switch {found.most_v:g} V at most, not {voltage_v:g} V")
    if found.kind == "AC":
        at_v = max(voltage_v, _AC_FLAT_BELOW_V)
        return Allowed(found.thermal_a, found.make_va / at_v, found.break_va / at_v)
    listed = found.high_dc_a if voltage_v > _DC_LISTED_ABOVE_V else None
    amps = listed if listed is not None else min(found.thermal_a, found.make_va / voltage_v)
    return Allowed(found.thermal_a, amps, amps)
