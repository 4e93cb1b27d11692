"""The two sides of every control voltage: the ungrounded pins, before and behind fuses, and the others."""

from __future__ import annotations

from wiregen.control.functions import Declared, Supply
from wiregen.terms import Pin


def hot_pins(declared: Declared) -> dict[Pin, Supply]:
    """Every ungrounded pin of a supply and of its fuses, and the supply that it is of."""
    found = {s.plus: s for s in declared.supplies}
    for fusing in declared.fusings:
        found.setdefault(fusing.source, fusing.supply)
        found.setdefault(fusing.outlet, fusing.supply)
    return found


def cold_pins(declared: Declared) -> dict[Pin, Supply]:
    """The 0 V pin of every supply, or the earthed side of a transformer."""
    return {s.zero: s for s in declared.supplies}


def category_of(supply: Supply) -> str:
    """The class of cable of what a supply feeds."""
    return "control_ac" if supply.alternating else "control"
