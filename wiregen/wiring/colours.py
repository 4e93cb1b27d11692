"""Colours and areas of conductors: of cabinet wires by their circuit, of cores by their mark."""

from __future__ import annotations

from wiregen.formulas import colours
from wiregen.wiring.model import ConductorKind, PotentialKind

#: Cabinet control wire, mm2. common practice, no source.
PANEL_AREA_MM2 = 0.75


def panel_area_mm2(kind: ConductorKind, potential: PotentialKind) -> float | None:
    """mm2 of a wire in a box; None for bridges, links and screens, and for PE, which follows the mains feed."""
    return PANEL_AREA_MM2 if kind == "wire" and potential != "earth" else None


def panel_colour(
    kind: ConductorKind, potential: PotentialKind, practice: colours.Practice, earthed: bool, alternating: bool = False
) -> str:
    """Letter code of a wire in a box by its circuit, after IEC 60204-1 or NFPA 79; a link has none."""
    if kind != "wire":
        return ""
    if potential == "earth":
        return colours.circuit_colour("protective", practice).code()
    if alternating:
        return colours.circuit_colour("ac_return" if potential == "zero" and earthed else "ac_control", practice).code()
    if practice == "nfpa" and potential == "zero" and earthed:
        return colours.circuit_colour("dc_return", practice).code()
    return colours.circuit_colour("dc_control", practice).code()


def core_colour(mark: str) -> str:
    """A numbered core is black (common practice, no source); any other is its own mark."""
    return "BK" if mark.isdigit() else mark
