"""Every symbol in both practices: what is drawn closed conducts, what is drawn open does not, and nothing overlaps."""

from __future__ import annotations

import io
import itertools
import math
from typing import Any

import pytest

from wiregen.drawing import overlaps, readback
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import Canvas
from wiregen.drawing.symbols import KINDS, Practice, Symbol, contacts_iec, contacts_nfpa, figure, get, loads

PRACTICES: tuple[Practice, ...] = ("iec", "nfpa")
ACTUATORS = ("push", "turn", "key", "mushroom", "limit", "process", "none")
QUANTITIES = ("p", "L", "θ", "F", "Δp", "n")

CONTACTS: list[dict[str, Any]] = [
    *({"form": f, "actuator": a} for f in ("make", "break") for a in ACTUATORS if a != "process"),
    *({"form": f, "actuator": "process", "quantity": q} for f in ("make", "break") for q in QUANTITIES),
    *(
        {"form": "changeover", "actuator": a, "level": level, "quantity": "p" if a == "process" else ""}
        for a in ACTUATORS
        for level in ("break", "make")
    ),
    {"form": "break", "actuator": "mushroom", "latched": True, "direct_opening": True},
    {"form": "make", "actuator": "turn", "latched": True},
]
OPTIONS: list[tuple[str, dict[str, Any]]] = [
    *(("contact", o) for o in CONTACTS),
    *((kind, {}) for kind in KINDS if kind not in ("contact", "box")),
    ("coil", {"suppression": True, "letter": "K1"}),
    ("lamp", {"letter": "R"}),
    ("meter", {"letter": "Hz"}),
    ("valve", {"earth": True}),
    ("earth", {"protective": False}),
    ("box", {"pins": ("1", "2", "3"), "letter": "x"}),
    ("transmitter_two_wire", {"letter": "L", "lines": ("0 to 3 m", "4-20 mA"), "pitch": 12.5}),
    ("transmitter_four_wire", {"letter": "θ", "lines": ("-10 to 50 °C",)}),
    ("proximity_three_wire", {"output": "PNP", "pitch": 6.25}),
    ("proximity_two_wire", {"form": "break"}),
]
NAMES = {
    "a": "13",
    "b": "14",
    "common": "11",
    "break": "12",
    "make": "14",
    "plus": "+",
    "minus": "-",
    "high": "3",
    "low": "1",
    "wiper": "2",
    "left": "12",
    "right": "12",
    "pe": "PE",
    "h1": "H1",
    "h2": "H2",
    "x1": "X1",
    "x2": "X2",
}


def every() -> list[Any]:
    cases = itertools.product(PRACTICES, OPTIONS, (False, True))
    return [
        pytest.param(get(kind, p, mirrored=m, **o), id=f"{p}-{kind}-{'-'.join(map(str, o.values()))}{'-mirrored' * m}")
        for p, (kind, o), m in cases
    ]


def way_out(symbol: Symbol, key: str) -> tuple[float, float]:
    """The direction in which a wire leaves a pin: away from the side of the box that the pin lies on."""
    x, y = symbol.pins[key]
    sides = {
        (1.0, 0.0): symbol.box.x1 - x,
        (-1.0, 0.0): x - symbol.box.x0,
        (0.0, 1.0): symbol.box.y1 - y,
        (0.0, -1.0): y - symbol.box.y0,
    }
    return min(sides, key=lambda way: abs(sides[way]))


@pytest.mark.parametrize("symbol", every())
def test_a_wired_symbol_is_clean_and_reads_back(symbol: Symbol) -> None:
    """Pins can be reached from outside, marks stand near their pins, texts at slots lie on nothing."""
    canvas = Canvas(200, 200)
    names = {key: NAMES.get(key, key) for key in symbol.pins}
    at = canvas.device(symbol, 100, 100, "-A1", names)
    for slot in symbol.slots:
        canvas.note(symbol, 100, 100, slot, "-A1" if slot == "name" else "FAULT")
    far = {key: f"{i}" for i, key in enumerate(names)}
    for key, (x, y) in at.items():
        dx, dy = way_out(symbol, key)
        canvas.wire([(x, y), (x + 20 * dx, y + 20 * dy)])
        canvas.pin(x + 20 * dx, y + 20 * dy, f"-B1:{far[key]}")
        canvas.text(x + 22.5 * dx, y + 23 * dy, far[key], anchor="middle", centred=True)
    svg = canvas.to_svg()
    assert overlaps.check(svg) == ()
    wanted = {frozenset({f"-A1:{n}", *(f"-B1:{far[k]}" for k in names if names[k] == n)}) for n in names.values()}
    assert set(readback.read([svg])) == wanted


@pytest.mark.parametrize("symbol", every())
def test_mirroring_twice_changes_nothing(symbol: Symbol) -> None:
    assert symbol.mirrored().mirrored() == symbol
    assert {k: (-x, y) for k, (x, y) in symbol.pins.items()} == dict(symbol.mirrored().pins)


def pieces(symbol: Symbol) -> list[list[tuple[float, float]]]:
    """Every conducting stroke as points close together; thin strokes are links and boxes, which conduct nothing."""
    strokes = [figure.outline_points(s) + [s.points[0]] * s.closed for s in symbol.strokes if s.width > 0.3]
    rings = [
        [(d.x + d.r * math.cos(a / 8 * math.pi), d.y + d.r * math.sin(a / 8 * math.pi)) for a in range(17)]
        for d in symbol.discs
        if d.width > 0.3
    ]
    dense = []
    for run in strokes + rings:
        points = run[:1]
        for a, b in itertools.pairwise(run):
            n = max(1, math.ceil(math.dist(a, b) / 0.1))
            points += [(a[0] + (b[0] - a[0]) * i / n, a[1] + (b[1] - a[1]) * i / n) for i in range(1, n + 1)]
        dense.append(points)
    return dense


def conducts(symbol: Symbol, a: str, b: str) -> bool:
    """Whether ink leads from pin to pin: strokes nearer than 0.3 mm touch on paper."""
    runs = pieces(symbol)
    reached = {i for i, run in enumerate(runs) if any(math.dist(p, symbol.pins[a]) < 0.3 for p in run)}
    waiting = list(reached)
    while waiting:
        here = runs[waiting.pop()]
        for i, run in enumerate(runs):
            if i not in reached and any(math.dist(p, q) < 0.3 for p in here for q in run):
                reached.add(i)
                waiting.append(i)
    return any(math.dist(p, symbol.pins[b]) < 0.3 for i in reached for p in runs[i])


@pytest.mark.parametrize("practice", PRACTICES)
@pytest.mark.parametrize("actuator", ACTUATORS)
def test_contacts_at_rest_conduct_or_not(practice: Practice, actuator: str) -> None:
    """IEC 60617: a break contact is drawn closed, a make contact open, at rest. A relay contact in NFPA practice is
    two bars that never touch, and is closed when a slash crosses them (both from memory).
    """
    if practice == "nfpa" and actuator == "none":
        bars = {
            form: [s for s in get("contact", "nfpa", form=form).strokes if s.width == 0.5] for form in ("make", "break")
        }
        assert (len(bars["make"]), len(bars["break"])) == (2, 3)
        (x0, y0), (x1, y1) = bars["break"][2].points
        assert x0 < -1.0 < 1.0 < x1
        assert y1 < 0 < y0, "the slash leans to the right"
        return
    assert not conducts(get("contact", practice, form="make", actuator=actuator, quantity="p"), "a", "b")
    assert conducts(get("contact", practice, form="break", actuator=actuator, quantity="p"), "a", "b")
    for level in ("break", "make"):
        both = get("contact", practice, form="changeover", actuator=actuator, quantity="p", level=level)
        assert conducts(both, "common", "break")
        assert not conducts(both, "common", "make")


@pytest.mark.parametrize("practice", PRACTICES)
@pytest.mark.parametrize("actuator", ACTUATORS)
def test_make_and_break_differ_in_grey_at_a4(practice: Practice, actuator: str) -> None:
    """An A3 sheet printed at A4 is 0.707 as large; at 150 dots an inch a fifth of the ink must differ."""
    cairosvg = pytest.importorskip("cairosvg")
    image = pytest.importorskip("PIL.Image")
    shots = []
    for form in ("make", "break"):
        canvas = Canvas(20, 20)
        canvas.symbol(get("contact", practice, form=form, actuator=actuator, quantity="p"), 10, 10)
        png = cairosvg.svg2png(bytestring=canvas.to_svg(), output_width=round(20 * 0.707 / 25.4 * 150))
        shots.append(image.open(io.BytesIO(png)).convert("L").tobytes())
    make, broken = shots
    ink = sum(255 - v for v in broken)
    assert sum(abs(a - b) for a, b in zip(make, broken, strict=True)) > 0.2 * ink


@pytest.mark.parametrize(
    "element",
    [
        contacts_iec.Contact("break", "mushroom", latched=True, direct_opening=True),
        contacts_iec.Contact("changeover", "push", level="make"),
        contacts_nfpa.Contact("make", "turn"),
        loads.Coil("nfpa", suppression=True),
        loads.Horn("iec"),
    ],
    ids=lambda e: type(e).__name__,
)
def test_boxes_agree_with_schemdraw(element: figure.Figure) -> None:
    """A second method: schemdraw's own bounding box of the same element."""
    theirs = element.get_bbox(includetext=False)
    ours = figure.convert(element, "x", "iec").box
    assert (ours.x0, ours.y0, ours.x1, ours.y1) == pytest.approx(
        (theirs.xmin, -theirs.ymax, theirs.xmax, -theirs.ymin), abs=0.05
    )


def test_arcs_become_true_curves() -> None:
    """Every point of the mushroom's dome satisfies the equation of its ellipse."""
    symbol = get("contact", "iec", form="break", actuator="mushroom")
    dome = next(s for s in symbol.strokes if s.curved)
    assert len(dome.points) == 7
    for x, y in figure.outline_points(dome):
        assert (x / 2.1) ** 2 + ((y + 5.2) / 1.6) ** 2 == pytest.approx(1, abs=0.005)


@pytest.mark.parametrize("practice", PRACTICES)
def test_a_contact_fits_its_row(practice: Practice) -> None:
    """Rows stand 12.5 mm apart; a contact with its actuator and marks leaves the row above its own marks and wire."""
    for options in CONTACTS:
        box = get("contact", practice, **options).box
        if options["form"] != "changeover":
            assert box.y0 > -12.5 + 4.3, options
            assert box.y1 < 7.7, options


def test_the_diode_of_a_coil_blocks_the_supply() -> None:
    """The bar of the diode's symbol is its cathode (IEC 60617, from memory); it must face pin a, the positive one."""
    symbol = get("coil", "iec", suppression=True)
    triangle = next(s for s in symbol.strokes if s.closed and len(s.points) == 3)
    tip = min(triangle.points)
    bar = next(s for s in symbol.strokes if len(s.points) == 2 and {p[0] for p in s.points} == {tip[0]})
    assert tip[0] < 0
    assert symbol.pins["a"][0] < bar.points[0][0] < symbol.pins["b"][0]


def test_unknown_kinds_and_options_are_refused() -> None:
    with pytest.raises(ValueError, match="no symbol is called 'lever'; known are contact, coil"):
        get("lever", "iec")
    with pytest.raises(TypeError):
        get("coil", "iec", form="make")


def test_the_same_symbol_is_made_once() -> None:
    assert get("lamp", "iec") is get("lamp", "iec")
    assert get("lamp", "iec").box == Box(-5.0, -2.8, 5.0, 2.8)
