"""Digital inputs: the thresholds of their types, and which way their contacts are wired."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import Literal, NamedTuple

from wiregen.formulas import tables

InputKind = Literal["1", "2", "3"]
Rated = Literal["24 V DC", "48 V DC", "120 V AC", "230 V AC"]
Polarity = Literal["source", "sink"]
State = Literal["on", "off", "undefined"]


@dataclass(frozen=True, slots=True)
class InputType:
    """The ranges of one type, in V and A. On: ``on_least_v`` and ``on_least_a`` are both reached.

    Off: at most ``off_most_v`` at any current, or at most ``off_guarded_v`` while the current stays at or below
    ``off_most_a``. ``certain`` is False where the figures could not be checked: they may warn, and never assert.
    """

    kind: str
    rated: str
    on_least_v: float
    on_most_v: float
    on_least_a: float
    on_most_a: float
    off_most_v: float
    off_guarded_v: float
    off_most_a: float
    certain: bool

    def state(self, volts: float, amps: float) -> State:
        """What the input is guaranteed to read at ``volts`` [V] with ``amps`` [A] flowing.

        >>> input_type("1").state(24.0, 0.006), input_type("1").state(12.4, 0.003)
        ('on', 'undefined')
        """
        if volts >= self.on_least_v and amps >= self.on_least_a:
            return "on"
        if volts <= self.off_most_v or (volts <= self.off_guarded_v and amps <= self.off_most_a):
            return "off"
        return "undefined"


class Wiring(NamedTuple):
    """What a polarity of inputs means. ``contacts_switch`` is what a contact brings to the input."""

    contacts_switch: str
    current: str
    standard_name: str
    sensor: str
    output: str


_WIRING: dict[str, Wiring] = {
    "source": Wiring("+24 V", "flows into the input", "current-sinking", "PNP", "sourcing"),
    "sink": Wiring("0 V", "flows out of the input", "current-sourcing", "NPN", "sinking"),
}


@cache
def _limits() -> dict[tuple[str, str], dict[str, tuple[float, bool]]]:
    limits: dict[tuple[str, str], dict[str, tuple[float, bool]]] = {}
    for row in tables.rows("input_types"):
        of_type = limits.setdefault((row["rated"], row["input_type"]), {})
        of_type[row["limit"]] = float(row["value"]), row["mark"] != "uncertain"
    return limits


def input_type(kind: InputKind, rated: Rated = "24 V DC") -> InputType:
    """The ranges of an input of type ``kind`` for the rated voltage ``rated``. Raises ValueError for others.

    ``120 V AC`` stands for 100 to 120 V, ``230 V AC`` for 200 to 240 V, as r.m.s. values.
    Source: IEC 61131-2; several figures from memory, as the table says row by row.

    >>> input_type("3").on_least_v, input_type("1").off_most_a
    (11.0, 0.0005)
    >>> input_type("1", "230 V AC").certain
    False
    """
    found = _limits()
    if (rated, kind) not in found:
        if rated in {r for r, _ in found}:
            raise ValueError(f"{kind!r} is no input type; use 1, 2 or 3")
        raise ValueError(
            f"{rated!r} is no rated voltage of inputs; use {', '.join(dict.fromkeys(r for r, _ in found))}"
        )
    values = {limit: value for limit, (value, _) in found[rated, kind].items()}
    return InputType(
        kind=kind,
        rated=rated,
        on_least_v=values["on_least"],
        on_most_v=values["on_most"],
        on_least_a=values["on_current_least"] / 1000,
        on_most_a=values["on_current_most"] / 1000,
        off_most_v=values["off_most"],
        off_guarded_v=values["off_most_guarded"],
        off_most_a=values["off_current_most"] / 1000,
        certain=all(certain for _, certain in found[rated, kind].values()),
    )


def wiring(polarity: Polarity) -> Wiring:
    """What ``inputs: source`` or ``inputs: sink`` means. The standard names the input, this project the wiring.

    Source: IEC 61131-2.

    >>> wiring("source").contacts_switch, wiring("source").standard_name, wiring("sink").sensor
    ('+24 V', 'current-sinking', 'NPN')
    """
    if polarity not in _WIRING:
        raise ValueError(f"{polarity!r} is no polarity; use source or sink")
    return _WIRING[polarity]
