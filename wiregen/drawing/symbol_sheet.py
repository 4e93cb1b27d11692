"""One sheet with every symbol in both practices, and the profiles that are drawn with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from wiregen.drawing.canvas import LEAST, NOTE, Canvas
from wiregen.drawing.paragraphs import paragraph
from wiregen.drawing.symbols import Practice, get
from wiregen.drawing.template import A3, TitleBlock, frame
from wiregen.profiles.model import Profile

COLUMNS, ROWS = 6, 8
_PROCESS = (("p", "pressure"), ("L", "level"), ("θ", "temperature"), ("F", "flow"))
_HANDS = ("push", "turn", "key", "limit")
_MARKS = {"a": "13", "b": "14", "common": "11", "break": "12", "make": "14"}
_PRACTICES: tuple[tuple[Practice, float], ...] = (("iec", 0.25), ("nfpa", 0.75))


@dataclass(frozen=True, slots=True)
class Entry:
    """A symbol with its caption; ``users`` are the kinds of profiles, or actuators of theirs, drawn with it."""

    caption: str
    kind: str
    options: dict[str, Any] = field(default_factory=dict)
    users: tuple[str, ...] = ()
    marks: dict[str, str] = field(default_factory=dict)


def entries() -> tuple[Entry, ...]:
    """Every symbol that a sheet may show, contacts first."""
    return (*_contacts(), *_devices())


def symbol_sheet(profiles: Iterable[Profile]) -> bytes:
    """The sheet as SVG: IEC on the left of each cell, NFPA on the right, both at rest."""
    known = list(profiles)
    canvas = A3.canvas("Symbols")
    cautions = (
        "All contacts at rest: unoperated, de-energised, pressure, level, flow and temperature low.",
        "Left in each cell: after IEC 60617. Right: NFPA and ANSI habits.",
    )
    block = TitleBlock("Symbols of the sheets", "Both practices", "", "", "both", "", 1, 1, cautions=cautions)
    area = frame(canvas, block)
    width, height = area.width / COLUMNS, area.height / ROWS
    for i, entry in enumerate(entries()):
        x, y = area.x0 + i % COLUMNS * width, area.y0 + i // COLUMNS * height
        _cell(canvas, entry, [p.profile for p in known if _uses(p, entry)], (x, y), width, height)
    return canvas.to_svg()


def _cell(canvas: Canvas, entry: Entry, users: list[str], at: tuple[float, float], width: float, height: float) -> None:
    x, y = at
    caption = paragraph((entry.caption,), width - 4.0, 1, (NOTE, LEAST), limit=1)
    used = paragraph((", ".join(users),), width - 4.0, 1, (LEAST,), limit=1)
    for text, foot in ((caption, 6.2), (used, 2.4)):
        for line in text.lines:
            canvas.text(x + width / 2, y + height - foot, line, text.size, "middle")
    middle = y + (height - 9.0) / 2
    for practice, share in _PRACTICES:
        symbol = get(entry.kind, practice, **entry.options)
        cx, cy = symbol.box.centre
        names = {key: entry.marks.get(key, _MARKS.get(key, key)) for key in symbol.pins if entry.marks or key in _MARKS}
        canvas.device(symbol, x + width * share - cx, middle - cy, "-A1", names)


def _uses(profile: Profile, entry: Entry) -> bool:
    return {profile.profile, profile.device or "", f"actuator {profile.actuator}"} & set(entry.users) != set()


def _contacts() -> Iterable[Entry]:
    forms: tuple[tuple[str, str, dict[str, str]], ...] = (
        ("make", "", {}),
        ("break", ", normally closed", {"a": "11", "b": "12"}),
    )
    yield Entry("relay contact", "contact", {"form": "make"}, ("relay", "contactor"))
    yield Entry("relay contact, normally closed", "contact", {"form": "break"}, (), {"a": "11", "b": "12"})
    for hand in _HANDS:
        for form, says, marks in forms:
            users = (f"actuator {hand}",) if form == "make" else ()
            yield Entry(f"{_named(hand)}{says}", "contact", {"form": form, "actuator": hand}, users, marks)
    stop = {"form": "break", "actuator": "mushroom", "latched": True, "direct_opening": True}
    yield Entry("emergency stop, latches", "contact", stop, ("actuator mushroom",), {"a": "11", "b": "12"})
    for letter, word in _PROCESS:
        for form, says, marks in forms:
            users = ("actuator process",) if (form, letter) == ("make", "p") else ()
            options = {"form": form, "actuator": "process", "quantity": letter}
            yield Entry(f"{word} switch{says}", "contact", options, users, marks)


def _named(hand: str) -> str:
    return {"push": "push button", "turn": "selector", "key": "key-operated", "limit": "limit switch"}[hand]


def _devices() -> Iterable[Entry]:
    coil = {"a": "A1", "b": "A2"}
    lamp = {"a": "X1", "b": "X2"}
    two, box = {"a": "1", "b": "2"}, {"pins": ("STO1+", "STO1-")}
    yield Entry("coil", "coil", {}, ("contactor", "safety_relay"), coil)
    yield Entry("coil, suppressed by a diode", "coil", {"suppression": True}, ("relay",), coil)
    yield Entry("lamp", "lamp", {}, ("lamp",), lamp)
    yield Entry("horn", "horn", {}, ("horn",), lamp)
    yield Entry("valve", "valve", {"earth": True}, ("valve",), two | {"pe": "PE"})
    yield Entry("meter", "meter", {}, ("meter",), {"a": "+", "b": "-"})
    yield Entry("resistor", "resistor", {}, ("resistor",), two)
    yield Entry("thermistors", "thermistor", {}, ("thermistor",), {"a": "TP1", "b": "TP2"})
    yield Entry("fuse", "fuse", {}, ("fuse",), two)
    yield Entry("potentiometer", "potentiometer", {}, ("potentiometer",), {"low": "1", "wiper": "2", "high": "3"})
    yield Entry("transformer", "transformer", {}, ("transformer",), {"h1": "H1", "h2": "H2", "x1": "X1", "x2": "X2"})
    yield Entry("protective earth", "earth", {"protective": True})
    for wires, letter in (("two", "L"), ("three", "p"), ("four", "F")):
        name = f"transmitter_{wires}_wire"
        marks = {"plus": "+", "minus": "-", "out": "out", "out+": "out+", "out-": "out-"}
        yield Entry(
            f"{wires}-wire transmitter",
            name,
            {"letter": letter, "pitch": 4.0 if wires == "four" else 5.0},
            (name,),
            marks,
        )
    yield Entry("two-wire sensor", "proximity_two_wire", {}, ("proximity_two_wire",), {"plus": "+", "minus": "-"})
    marks = {"plus": "1", "out": "4", "minus": "3"}
    yield Entry("three-wire sensor", "proximity_three_wire", {"pitch": 5.0}, ("proximity_three_wire",), marks)
    yield Entry("controller elsewhere, its pins", "box", box, ("drive_extended",), {name: name for name in box["pins"]})
    yield Entry("strip terminal", "terminal")
    yield Entry("cable", "cable", {"height": 4.0})
    yield Entry("screened cable, screen landed", "screen", {"height": 4.0})
    yield Entry("twisted pair", "twisted", {"height": 4.0})
    yield Entry("circuit breaker", "breaker", {"poles": 1}, ("breaker", "motor_circuit_breaker"))
    yield Entry("motor", "motor", {"phases": 3, "pitch": 4.0}, ("motor",))
