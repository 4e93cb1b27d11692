"""What a profile must hold beyond its shape: names that resolve, unique pins, the roles that its kind needs."""

from __future__ import annotations

import re
from collections.abc import Iterator

from wiregen import quantities
from wiregen.profiles.model import Figure, Profile, Terminal
from wiregen.terms import Where
from wiregen.yaml_text import near_miss

Fault = tuple[Where, str]

SIGNALS = ("contact", "pulse", "0-10 V", "-10-10 V", "0-20 mA", "4-20 mA")
POLARITIES = ("source", "sink")
ABILITIES = ("pulse",)
#: Figures that a profile may state, and their base units.
FIGURE_UNITS: dict[str, tuple[str, ...]] = {
    "voltage": ("V",),
    "current": ("A",),
    "power": ("W", "VA"),
    "drop": ("V",),
    "leakage": ("A",),
    "least_current": ("A",),
    "pick_up": ("V",),
    "drop_out": ("V",),
    "lift_off": ("V",),
    "resistance": ("ohm",),
    "rating": ("A",),
    "contact_current": ("A",),
    "cold_most": ("ohm",),
    "hot_least": ("ohm",),
}
#: Kind -> how many pins of each role it has; control relies on them.
NEEDED: dict[str, dict[str, int]] = {
    "supply": {"supply_out": 1, "zero": 1},
    "safety_relay": {"coil": 2},
    "proximity_two_wire": {"plus": 1, "minus": 1},
    "proximity_three_wire": {"plus": 1, "minus": 1, "output": 1},
    "potentiometer": {"low_end": 1, "wiper": 1, "high_end": 1},
    "transmitter_two_wire": {"plus": 1, "minus": 1},
    "transmitter_three_wire": {"plus": 1, "minus": 1, "output": 1},
    "transmitter_four_wire": {"plus": 1, "minus": 1, "output": 1, "output_return": 1},
    "lamp": {"load": 2},
    "horn": {"load": 2},
    "valve": {"load": 2},
    "relay": {"coil": 2},
    "contactor": {"coil": 2},
    "fuse": {"link": 2},
    "resistor": {"link": 2},
    "thermistor": {"link": 2},
    "meter": {"plus": 1, "minus": 1},
    "transformer": {"primary": 2, "secondary": 2},
    "circuit_breaker": {"line": 1, "feeder": 1},
    "motor": {"motor": 1, "earth": 1},
}
_WITH_CONTACTS = ("contact", "selector", "emergency_stop")
#: Roles of terminals through which a current passes from one pin to the other.
_PAIRS = frozenset({"channel", "reset", "motor_thermistor"})
_PINS_BY_FORM = {"NO": 2, "NC": 2, "changeover": 3}
_PIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9+\-./]*|[+\-]")
_RATING = re.compile(r"(AC|DC)-1[1-5]")
_RATED = re.compile(r"\S+ A \S+ V")


def faults(profile: Profile) -> Iterator[Fault]:
    """Everything wrong with a well-formed profile, as (place, what is wrong and what would be right)."""
    yield from _kind(profile)
    yield from _names(profile)
    pins = [pin for t in profile.terminals for pin in t.pins]
    for index, terminal in enumerate(profile.terminals):
        where = ("terminals", str(index))
        yield from _terminal(terminal, where)
        yield from _references(terminal, where, pins)
    yield from _power(profile, set(pins))
    for index, group in enumerate(profile.joined_inside):
        yield from _joined(group, ("joined_inside", str(index)), pins)
    yield from _usual(profile)
    yield from _figures(profile)


def _kind(profile: Profile) -> Iterator[Fault]:
    if (profile.controller is None) == (profile.device is None):
        yield ("profile",), "give exactly one of 'controller' and 'device'"
        return
    kind = str(profile.controller or profile.device)
    for role, count in NEEDED.get(kind, {}).items():
        have = sum(len(t.pins) for t in profile.terminals if t.role == role)
        if have < count:
            yield ("profile",), f"a {kind} has {count} pin(s) of role {role!r}; {have} given"
    contacts = any(t.role == "contact" for t in profile.terminals)
    if kind in _WITH_CONTACTS and not (profile.marks or contacts):
        yield ("profile",), f"a {kind} needs 'marks' or terminals of role 'contact'"
    if not profile.terminals and not profile.marks:
        yield ("profile",), "a profile needs 'terminals' or 'marks'"


def _names(profile: Profile) -> Iterator[Fault]:
    labels: set[str] = set()
    taken: dict[str, str] = {}
    for index, terminal in enumerate(profile.terminals):
        where = ("terminals", str(index))
        if terminal.label in labels:
            yield (*where, "label"), f"label {terminal.label!r} stands twice"
        labels.add(terminal.label)
        if len(set(terminal.pins)) < len(terminal.pins):
            yield (*where, "pins"), f"terminal {terminal.label!r} names a pin twice"
        for pin in dict.fromkeys(terminal.pins):
            if not _PIN.fullmatch(pin):
                yield (*where, "pins"), f"pin {pin!r} is not letters, digits and + - . /"
            if pin in taken and taken[pin] != terminal.label:
                yield (*where, "pins"), f"pin {pin!r} belongs to terminal {taken[pin]!r} already"
            taken.setdefault(pin, terminal.label)
    for index, marks in enumerate(profile.marks):
        for form, pins in (("NO", marks.NO), ("NC", marks.NC), ("changeover", marks.changeover)):
            place = ("marks", str(index), form)
            if pins and len(set(pins)) != _PINS_BY_FORM[form]:
                yield place, f"a {form} contact has {_PINS_BY_FORM[form]} pins; {len(set(pins))} given"
            if clash := [pin for pin in pins if taken.get(pin, f"contact {index + 1}") != f"contact {index + 1}"]:
                yield place, f"pin {clash[0]!r} belongs to {taken[clash[0]]!r} already"
        if not (marks.NO or marks.NC or marks.changeover):
            yield ("marks", str(index)), "a contact needs the marks of NO, NC or changeover"
        taken.update(dict.fromkeys((*marks.NO, *marks.NC, *marks.changeover), f"contact {index + 1}"))


def _power(profile: Profile, taken: set[str]) -> Iterator[Fault]:
    """The power terminals of a drive: one pin each, of the three roles that there are, with PE where there is any."""
    if profile.power and profile.controller != "drive":
        yield ("power",), "only a drive has power terminals beside its own: give those of this device in 'terminals'"
    for index, terminal in enumerate(profile.power):
        where = ("power", str(index))
        if terminal.role not in ("mains", "motor", "earth"):
            yield (*where, "role"), f"a power terminal is of role mains, motor or earth, not {terminal.role!r}"
        if len(terminal.pins) != 1:
            yield (*where, "pins"), f"power terminal {terminal.label!r} has one pin"
        if terminal.label in taken:
            yield (*where, "label"), f"label {terminal.label!r} stands twice"
        taken.add(terminal.label)
        yield from _terminal(terminal, where)
    if profile.power and not any(t.role == "earth" for t in profile.power):
        yield ("power",), "power terminals need one of role earth: PE"


def _terminal(terminal: Terminal, where: Where) -> Iterator[Fault]:
    label = terminal.label
    if terminal.pins[0] != label:
        yield (*where, "pins"), f"the first pin of terminal {label!r} must be {label!r}"
    for name, values, known in (
        ("accepts", terminal.accepts, SIGNALS),
        ("gives", terminal.gives, SIGNALS),
        ("polarities", terminal.polarities, POLARITIES),
        ("abilities", terminal.abilities, ABILITIES),
    ):
        for value in values:
            if value not in known:
                hint = near_miss(value, known) or "; use " + ", ".join(known)
                yield (*where, name), f"{name}: {value!r} is not known{hint}"
    yield from _needs_of_role(terminal, where)
    yield from _units(terminal, where)
    yield from _rating(terminal, where)


def _needs_of_role(terminal: Terminal, where: Where) -> Iterator[Fault]:
    role, form = terminal.role, terminal.form
    for needing, field in (
        (("digital_in", "analog_in"), "accepts"),
        (("digital_in",), "group"),
        (("digital_in", "digital_out"), "polarities"),
        (("common",), "group"),
        (("digital_out",), "feed"),
        (("relay", "contact"), "form"),
        (("analog_out",), "gives"),
    ):
        if role in needing and not getattr(terminal, field):
            yield where, f"terminal {terminal.label!r} of role {role!r} needs {field!r}"
    if role == "digital_out" and form != "transistor":
        yield (*where, "form"), f"terminal {terminal.label!r} of role 'digital_out' needs 'form: transistor'"
    if role in ("relay", "contact") and form == "transistor":
        yield (*where, "form"), f"terminal {terminal.label!r} of role {role!r} is NO, NC or changeover"
    if role in ("relay", "contact") and form in _PINS_BY_FORM and len(terminal.pins) != _PINS_BY_FORM[form]:
        wanted = _PINS_BY_FORM[form]
        yield (*where, "pins"), f"a {form} contact has {wanted} pins; {len(terminal.pins)} given"
    if role in _PAIRS and len(terminal.pins) != 2:
        yield (*where, "pins"), f"terminal {terminal.label!r} of role {role!r} has 2 pins; {len(terminal.pins)} given"
    if terminal.isolated and role in ("analog_in", "analog_out") and len(terminal.pins) != 2:
        yield where, f"isolated terminal {terminal.label!r} needs its own pair of pins"


def _units(terminal: Terminal, where: Where) -> Iterator[Fault]:
    if terminal.volts is not None:
        try:
            quantities.parse(terminal.volts, "V")
        except ValueError as error:
            yield (*where, "volts"), str(error)
    for name, figure in (("limit", terminal.limit), ("draws", terminal.draws)):
        if figure:
            yield from _unit(figure, ("A",), (*where, name))
    resistance = terminal.resistance
    if isinstance(resistance, Figure):
        yield from _unit(resistance, ("ohm",), (*where, "resistance"))
    by_signal = resistance if isinstance(resistance, dict) else {}
    for name, figures, signals in (
        ("resistance", by_signal, terminal.accepts),
        ("burden", terminal.burden, terminal.gives),
    ):
        for signal, figure in figures.items():
            if signal not in signals:
                hint = near_miss(signal, signals)
                yield (*where, name, signal), f"{signal!r} is none of this terminal's signals{hint}"
            yield from _unit(figure, ("ohm",), (*where, name, signal))


def _unit(figure: Figure, units: tuple[str, ...], where: Where) -> Iterator[Fault]:
    if figure.unit not in units:
        yield where, f"{figure.value!r} is not in {' or '.join(units)}"
    elif figure.si <= 0:
        yield where, f"{figure.value!r} must be more than nothing"


def _rating(terminal: Terminal, where: Where) -> Iterator[Fault]:
    if not terminal.rating:
        return
    if not terminal.rating.get("basis"):
        yield (*where, "rating"), "a rating needs its 'basis': a standard, or 'typical, invented'"
    for category, value in terminal.rating.items():
        if category == "basis":
            continue
        if not _RATING.fullmatch(category):
            yield (*where, "rating", category), f"{category!r} is no utilisation category, such as AC-15 or DC-13"
        elif not _RATED.fullmatch(value):
            yield (*where, "rating", category), f"{value!r} is no rating; write it as in '1 A 230 V'"


def _references(terminal: Terminal, where: Where, pins: list[str]) -> Iterator[Fault]:
    for name, pin in (("common", terminal.common), ("feed", terminal.feed)):
        if pin and pin not in pins:
            yield (*where, name), f"{name} names pin {pin!r}, which this profile does not have{near_miss(pin, pins)}"


def _joined(group: tuple[str, ...], where: Where, pins: list[str]) -> Iterator[Fault]:
    if len(set(group)) < 2:
        yield where, "joined_inside joins two pins or more"
    for index, pin in enumerate(group):
        if pin not in pins:
            message = f"joined_inside names pin {pin!r}, which this profile does not have{near_miss(pin, pins)}"
            yield (*where, str(index)), message


def _usual(profile: Profile) -> Iterator[Fault]:
    channels = [t.label for t in profile.terminals if profile.holds_function(t)]
    for function, label in profile.usual.items():
        if label not in channels:
            hint = near_miss(label, channels)
            yield ("usual", function), f"usual names {label!r}, which is no channel of this profile{hint}"


def _figures(profile: Profile) -> Iterator[Fault]:
    for name, figure in profile.figures.items():
        if name not in FIGURE_UNITS:
            hint = near_miss(name, FIGURE_UNITS) or "; known are " + ", ".join(FIGURE_UNITS)
            yield ("figures", name), f"figure {name!r} is not known{hint}"
        else:
            yield from _unit(figure, FIGURE_UNITS[name], ("figures", name))
    if profile.start_with_stop_closed:
        yield from _unit(profile.start_with_stop_closed, ("s",), ("start_by", "with_stop_closed"))
