"""What is said of a cable on sheets: its make-up and length, and where its screen goes."""

from __future__ import annotations

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST
from wiregen.wiring.makes import EARTH_MARK
from wiregen.wiring.model import Cable


def make_up(cable: Cable) -> str:
    """``5 x 1.0 mm²``, ``12 G 1.5 mm²`` with a protective core, ``2 x 2 x 0.75 mm²`` in pairs."""
    size = cable.gauge or _area(cable)
    times = "G" if EARTH_MARK in cable.marks else "x"
    return f"{cable.pairs} x 2 x {size}" if cable.pairs else f"{cable.cores} {times} {size}"


def _area(cable: Cable) -> str:
    if cable.area_mm2 is None:
        return "not sized"
    short = round(cable.area_mm2, 1) == cable.area_mm2
    return f"{cable.area_mm2:.1f} mm²" if short else f"{cable.area_mm2:g} mm²"


def cable_lines(cable: Cable, width: float) -> tuple[str, ...]:
    """The lines under a cable's cores: make-up, screen and length, as few as ``width`` mm allow."""
    parts = [make_up(cable), *(["screened"] if cable.screened else [])]
    parts += [f"{cable.length_m:g} m"] if cable.length_m is not None else []
    lines = [parts[0]]
    for part in parts[1:]:
        joined = f"{lines[-1]}, {part}"
        if fonts.text_width(joined, LEAST) <= width:
            lines[-1] = joined
        else:
            lines.append(part)
    return tuple(lines)


def screen_text(cable: Cable) -> str:
    """What becomes of a screen at the far end."""
    return "screen on PE here too" if cable.screen == "both ends" else "screen insulated here"
