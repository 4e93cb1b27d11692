"""Tags: the end of a wire whose potential goes on elsewhere, with the potential's name and where the wire leads."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from typing import Literal

from wiregen.drawing import fonts
from wiregen.drawing.canvas import LEAST
from wiregen.drawing.circuit import Circuit
from wiregen.drawing.paragraphs import LEADING, paragraph
from wiregen.drawing.plate import Plate
from wiregen.drawing.rows import See
from wiregen.drawing.symbols import Anchor
from wiregen.drawing.wording import at_tag
from wiregen.terms import Pin

HEAD = 4.2  # from the end of the wire to the text
DESCENT = 0.5  # of a comma or a small letter below its baseline
NAMED = 2  # pins that a wire is said to lead to; more are dots
LINES = 2  # of where it leads
_SOMEWHERE = "12/B8"  # as wide as any cross-reference

Heading = Literal["left", "right"]


def draw_tag(
    plate: Plate,
    x: float,
    y: float,
    pin: Pin,
    heading: Heading,
    width: float,
    says: Callable[[], str],
    lines: int = 4,
    under: int | None = None,
) -> None:
    """The tag of a pin's potential at the end of a wire; nothing for a pin that is in none.

    ``lines`` is the most that the potential's name may take; ``says`` gives what stands in ``under`` lines below it.
    """
    potential = plate.circuit.potential(pin)
    if potential is None:
        return
    plate.wires.tag(x, y, pin, heading)
    left = heading == "left"
    anchor: Anchor = "end" if left else "start"
    at = x - HEAD if left else x + HEAD
    name = at_tag(potential.name, width, lines)
    baseline = y + fonts.cap_height(name.size) / 2
    for line in name.lines:
        plate.canvas.text(at, baseline, line, name.size, anchor)
        baseline += name.step
    baseline += LEAST * LEADING - name.step
    allowed = under or (LINES if lines > 1 else 1)
    plate.setting.references.note(plate.canvas, at, baseline, says, width, anchor, allowed)


def tag_depth(circuit: Circuit, pin: Pin, width: float) -> float:
    """How far the texts of a tag reach below its wire, mm."""
    potential = circuit.potential(pin)
    assert potential is not None  # the callers ask first
    name = at_tag(potential.name, width)
    text = _destination(circuit, lambda _: _SOMEWHERE, pin, frozenset())
    lines = len(paragraph((text,), width, LINES, (LEAST,), limit=LINES).lines)
    return name.height - fonts.cap_height(name.size) / 2 + lines * LEAST * LEADING + DESCENT


def leads_to(plate: Plate, pin: Pin, shown: Iterable[Pin] = (), see: See | None = None) -> Callable[[], str]:
    """Where more of a pin is drawn, else where its wires lead, those to the pins ``shown`` left out.

    Said when all sheets are drawn.
    """
    without = frozenset(shown)
    circuit, references = plate.circuit, plate.setting.references

    def says() -> str:
        elsewhere = references.see(*see) if see is not None else ""
        return elsewhere or _destination(circuit, references.of_pin, pin, without)

    return says


def led_to(pins: Sequence[Pin], place: Callable[[Pin], str]) -> str:
    """The pins that a wire leads to, with their places; dots for what is more than is named."""
    named = [f"{p} {place(p)}".strip() for p in pins[:NAMED]]
    return f"to {', '.join(named)}" + (", ..." if len(pins) > NAMED else "")


def _destination(circuit: Circuit, place: Callable[[Pin], str], pin: Pin, shown: frozenset[Pin]) -> str:
    wired = list(dict.fromkeys(p for p in circuit.neighbours(pin) if p not in shown))
    parts = []
    if wired:
        parts.append(led_to(wired, place))
    bridged = circuit.bridged_to(pin)
    if bridged:
        parts.append(f"bridge {', '.join(bridged)}")
    if not parts and (inside := circuit.inside_partners(pin)):
        parts.append(f"joined to {', '.join(p.name for p in inside)} inside")
    return "; ".join(parts)
