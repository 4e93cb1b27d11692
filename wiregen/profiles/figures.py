"""Figures that a scheme may give one device instead of its profile's: what they are called, and the profile with them.

``drop`` is a figure of the whole device; ``resistance of DI1``, ``resistance of group 1``, ``burden of AO1 at 4-20 mA``
and ``DC-13 of 21`` are figures of its terminals.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal

from wiregen import quantities
from wiregen.profiles.checks import FIGURE_UNITS
from wiregen.profiles.model import Figure, Profile, Terminal

#: What a figure from a scheme rests on.
BASIS = "declared in the scheme"
#: What a device of a kind may state though its profile need not.
_OF_KINDS: dict[str, tuple[str, ...]] = {
    **dict.fromkeys(("relay", "contactor"), ("current", "power", "pick_up", "drop_out")),
    **dict.fromkeys(("lamp", "horn", "valve", "safety_relay"), ("current", "power")),
    **dict.fromkeys(("proximity_two_wire", "proximity_three_wire"), ("drop", "leakage")),
}
#: The same for a terminal of a role.
_OF_ROLES: dict[str, str] = {
    **dict.fromkeys(("digital_in", "motor_thermistor", "safe_torque_off"), "resistance"),
    **dict.fromkeys(("supply_out", "reference_out", "digital_out"), "limit"),
    "supply_in": "draws",
}
START_WITH_STOP_CLOSED = "start with stop closed"

Part = Literal["device", "resistance", "burden", "limit", "draws", "volts", "rating", "start"]


@dataclass(frozen=True, slots=True)
class Named:
    """What the name of a figure means: the terminals by label (none: the device), the part of them, and its units.

    ``detail`` is the signal that the figure holds for, the utilisation category of a rating, or the device's figure.
    """

    part: Part
    units: tuple[str, ...]
    terminals: tuple[str, ...] = ()
    detail: str = ""


def figures_of(profile: Profile) -> dict[str, Named]:
    """Every figure that a device of this profile may state, by its name."""
    own = dict.fromkeys((*profile.figures, *_OF_KINDS.get(profile.device or profile.controller or "", ())))
    found = {name: Named("device", FIGURE_UNITS[name], (), name) for name in own}
    of_terminals = [(t, figure, named) for t in profile.terminals for figure, named in _of_terminal(t)]
    groups: dict[str, list[str]] = {}
    for terminal, figure, _ in of_terminals:
        if terminal.group and figure == "resistance of {}":
            groups.setdefault(terminal.group, []).append(terminal.label)
    found |= {f"resistance of {g}": Named("resistance", ("ohm",), tuple(labels)) for g, labels in groups.items()}
    found |= {figure.format(terminal.label): named for terminal, figure, named in of_terminals}
    if profile.start_with_stop_closed:
        found[START_WITH_STOP_CLOSED] = Named("start", ("s",))
    return found


def _of_terminal(terminal: Terminal) -> Iterator[tuple[str, Named]]:
    at, usual = (terminal.label,), _OF_ROLES.get(terminal.role)
    if isinstance(terminal.resistance, dict):
        for signal in terminal.resistance:
            yield f"resistance of {{}} at {signal}", Named("resistance", ("ohm",), at, signal)
    elif terminal.resistance or usual == "resistance":
        yield "resistance of {}", Named("resistance", ("ohm",), at)
    for signal in terminal.burden:
        yield f"burden of {{}} at {signal}", Named("burden", ("ohm",), at, signal)
    if terminal.limit or usual == "limit":
        yield "limit of {}", Named("limit", ("A",), at)
    if terminal.draws or usual == "draws":
        yield "draws of {}", Named("draws", ("A",), at)
    for category in terminal.rating:
        if category != "basis":
            yield f"{category} of {{}}", Named("rating", (), at, category)


def wrong_value(named: Named, text: str) -> str:
    """What is wrong with ``text`` as the value of a figure; empty where nothing is."""
    if named.part == "rating":
        return "" if _is_rating(text) else f"{text!r} is no rating; write it as in '1 A 230 V'"
    try:
        value, unit = quantities.parse_any(text)
    except ValueError as error:
        return str(error)
    if unit not in named.units:
        return f"{text!r} is not in {' or '.join(named.units)}"
    return "" if value > 0 else f"{text!r} is too small: it must be more than zero"


def _is_rating(text: str) -> bool:
    current, _, volts = text.partition(" A ")
    try:
        return quantities.parse(f"{current} A", "A") > 0 and quantities.parse(volts, "V") > 0
    except ValueError:
        return False


def with_figures(profile: Profile, figures: Mapping[str, str]) -> Profile:
    """The profile with these figures instead of its own; a name that `figures_of` does not have is the device's."""
    if not figures:
        return profile
    known = figures_of(profile)
    named = [(known.get(name) or Named("device", (), (), name), text) for name, text in figures.items()]
    terminals = tuple(_changed(t, [(n, x) for n, x in named if t.label in n.terminals]) for t in profile.terminals)
    of_device = {n.detail: Figure(value=text, basis=BASIS) for n, text in named if n.part == "device"}
    start = next((Figure(value=text, basis=BASIS) for n, text in named if n.part == "start"), None)
    changes = {
        "terminals": terminals,
        "figures": {**profile.figures, **of_device},
        "start_with_stop_closed": start or profile.start_with_stop_closed,
    }
    return profile.model_copy(update=changes)


def _changed(terminal: Terminal, named: list[tuple[Named, str]]) -> Terminal:
    # What is said of one terminal goes over what is said of its group.
    for said, text in sorted(named, key=lambda pair: -len(pair[0].terminals)):
        figure = Figure(value=text, basis=BASIS) if said.part != "rating" else None
        match said.part:
            case "rating":
                value: object = {**terminal.rating, said.detail: text, "basis": BASIS}
            case "burden":
                value = {**terminal.burden, said.detail: figure}
            case "resistance" if said.detail and isinstance(terminal.resistance, dict):
                value = {**terminal.resistance, said.detail: figure}
            case _:
                value = figure
        terminal = terminal.model_copy(update={said.part: value})
    return terminal
