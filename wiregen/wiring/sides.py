"""The class of cable of what a supply feeds."""

from __future__ import annotations

from wiregen.control.functions import Supply


def category_of(supply: Supply) -> str:
    """The class of cable of what a supply feeds."""
    return "control_ac" if supply.alternating else "control"
