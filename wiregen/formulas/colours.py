"""Colours of cores and conductors: letter codes, core colours in order, circuit colours."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from typing import Literal

from wiregen.formulas import tables

Practice = Literal["iec", "nfpa"]
Rule = Literal["IEC 60757", "DIN 47100"]
CircuitKind = Literal[
    "power",
    "ac_control",
    "dc_control",
    "excepted",
    "neutral",
    "ac_return",
    "dc_return",
    "excepted_return",
    "protective",
]


@dataclass(frozen=True, slots=True)
class Colour:
    """The colour of one core: its base, and the tracer and ring that mark it, each a letter code or empty."""

    base: str
    tracer: str = ""
    ring: str = ""

    def code(self, rule: Rule = "IEC 60757") -> str:
        """The letter code: base first after DIN 47100, in the order of its table after IEC 60757.

        Green with yellow on a core that is not protective has no code in IEC 60757; it keeps its own order.

        >>> Colour("YE", "BN").code(), Colour("YE", "BN").code("DIN 47100")
        ('BNYE', 'YEBN')
        """
        parts = [p for p in (self.base, self.tracer, self.ring) if p]
        uncoded = {"GN", "YE"} <= set(parts)
        return "".join(parts) if rule == "DIN 47100" or uncoded else combined(*parts)

    @property
    def words(self) -> str:
        """The colour in words.

        >>> Colour("WH", "BU").words
        'white with blue stripe'
        """
        names = letter_codes()
        stripe = f" with {names[self.tracer]} stripe" if self.tracer else ""
        return names[self.base] + stripe + (f" and {names[self.ring]} ring" if self.ring else "")


@cache
def letter_codes() -> dict[str, str]:
    """Letter code -> colour in words, in the order of the table. Source: IEC 60757.

    >>> list(letter_codes())[:3]
    ['BK', 'BN', 'RD']
    """
    ordered = sorted(tables.rows("colour_codes"), key=lambda r: int(r["order"]))
    return {r["code"]: r["colour"] for r in ordered}


def combined(*codes: str) -> str:
    """The code of one item of several colours: its codes run together in the order of the table.

    Raises ValueError for an unknown code, and for green with yellow, which only the protective
    conductor bears, as GNYE. Source: IEC 60757.

    >>> combined("BU", "RD")
    'RDBU'
    """
    known = list(letter_codes())
    for code in codes:
        if code not in known:
            raise ValueError(f"{code!r} is no colour code; known are {', '.join(known)}")
    if {"GN", "YE"} <= set(codes) or ("GNYE" in codes and len(codes) > 1):
        raise ValueError("green with yellow is reserved for the protective conductor, whose code is GNYE")
    return "".join(sorted(codes, key=known.index))


def listed(codes: Iterable[str]) -> str:
    """The code of several items: their codes joined by ``+``. Source: IEC 60757.

    >>> listed(["BK", "BK", "BN", "BU", "GNYE"])
    'BK+BK+BN+BU+GNYE'
    """
    return "+".join(codes)


@cache
def _core_colours() -> dict[int, Colour]:
    return {int(r["core"]): Colour(r["base"], r["tracer"], r["ring"]) for r in tables.rows("core_colours")}


def core_colour(core: int) -> Colour:
    """The colour of core number ``core`` (from 1). Raises ValueError beyond the table. Source: DIN 47100 (withdrawn).

    >>> core_colour(1).code(), core_colour(13).code("DIN 47100")
    ('WH', 'WHGN')
    """
    colours = _core_colours()
    if core not in colours:
        raise ValueError(f"there is no colour for core {core}; the table ends at {max(colours)}")
    return colours[core]


def pair_colours(pair: int) -> tuple[Colour, Colour]:
    """The colours of pair number ``pair`` (from 1): cores 2k-1 and 2k. Source: DIN 47100, from memory.

    >>> [c.code() for c in pair_colours(1)]
    ['WH', 'BN']
    """
    return core_colour(2 * pair - 1), core_colour(2 * pair)


@cache
def _circuit_colours() -> dict[tuple[str, str], Colour]:
    return {(r["practice"], r["kind"]): Colour(r["base"], r["tracer"]) for r in tables.rows("circuit_colours")}


def circuit_colour(kind: CircuitKind, practice: Practice = "iec") -> Colour:
    """The colour of a single conductor inside a cabinet by the circuit that it belongs to.

    ``excepted`` circuits stay live with the main switch off; a ``..._return`` is the earthed side of its circuit.
    Raises ValueError for an unknown kind or practice.
    Source: IEC 60204-1 13.2.4 (a recommendation), NFPA 79 chapter 13.

    >>> circuit_colour("dc_control").code(), circuit_colour("dc_return", "nfpa").words
    ('BU', 'white with blue stripe')
    """
    colour = _circuit_colours().get((practice, kind))
    if colour is None:
        raise ValueError(f"there is no colour for circuit {kind!r} in practice {practice!r}")
    return colour
