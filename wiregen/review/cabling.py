"""Cables: screens and lengths of analog signals."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.control.functions import Function
from wiregen.review.context import Context, called
from wiregen.terms import Notice, Where
from wiregen.wiring.serving import RETURN

#: Above this length a voltage signal is better sent as a current, m. common practice, no source.
LONGEST_VOLTAGE_M = 30.0
_VOLTAGES = ("0-10 V", "-10-10 V")


def screens(context: Context) -> Iterator[Notice]:
    """Cables of analog signals without a screen; with one that is earthed at both ends."""
    for cable in context.wiring.cables:
        if cable.category != "analog":
            continue
        where = _where(context, cable.name)
        if not cable.screened:
            text = f"{cable.a} to {cable.b}: {cable.name} carries analog signals and has no screen"
            yield Notice("analog-unscreened", where, cable.name, text)
        elif cable.screen == "both ends":
            text = f"{cable.a} to {cable.b}: {cable.name} is analog, and its screen lies on PE at both ends"
            yield Notice("analog-screened-both-ends", where, cable.name, text)


def _where(context: Context, cable: str) -> Where:
    cabling = context.scheme.model.cabling
    if cable in cabling.existing:
        return ("cabling", "existing", cable)
    return ("cabling", "classes", "analog") if "analog" in cabling.classes else ("cabling",)


def voltage_long(context: Context) -> Iterator[Notice]:
    """A voltage signal in a long cable."""
    for function in context.declared.functions:
        if function.signal not in _VOLTAGES:
            continue
        names = _cables_of(context, function)
        lengths = [c.length_m for c in context.wiring.cables if c.name in names and c.length_m is not None]
        if lengths and max(lengths) > LONGEST_VOLTAGE_M:
            text = f"{called(function)} is {function.signal} over {max(lengths):g} m"
            yield Notice(
                "voltage-signal-long",
                function.where,
                called(function),
                text,
                value=max(lengths),
                limit=LONGEST_VOLTAGE_M,
                unit="m",
            )


def _cables_of(context: Context, function: Function) -> set[str]:
    """The cables whose cores carry a function."""
    title = called(function)
    own = (c for c in context.wiring.conductors if c.function.removesuffix(RETURN) == title)
    return {c.cable for c in own if c.cable is not None}
