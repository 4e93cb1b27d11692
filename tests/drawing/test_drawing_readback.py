"""The rules of the drawing, each with a sheet that keeps it and one that breaks it, written by hand as SVG."""

from __future__ import annotations

import itertools
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from wiregen.drawing import readback
from wiregen.terms import Pin
from wiregen.wiring.model import Potential

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="80mm" viewBox="0 0 100 80">'


def wire(points: str, more: str = "") -> str:
    return f'<polyline class="wire" points="{points}" fill="none" stroke="#000" stroke-width="0.35" {more}/>'


def pin(x: float, y: float, name: str, mark: str | None = None, more: str = "") -> str:
    text = name.partition(":")[2] if mark is None else mark
    circle = f'<circle class="pin" cx="{x}" cy="{y}" r="0.8" data-pin="{name}" fill="#fff" stroke="#000" {more}/>'
    return circle + f'<text x="{x}" y="{y + 3}" font-size="3">{text}</text>'


def junction(x: float, y: float) -> str:
    return f'<circle class="junction" cx="{x}" cy="{y}" r="0.7" fill="#000"/>'


def tag(x: float, y: float, name: str) -> str:
    return f'<circle class="tag" cx="{x}" cy="{y}" r="0.4" fill="#000" data-potential="{name}"/>'


def sheet(*elements: str, head: str = HEAD) -> bytes:
    return (head + "".join(elements) + "</svg>").encode()


A, B, C, D = pin(10, 10, "-A:1"), pin(50, 10, "-B:2"), pin(30, 40, "-C:3"), pin(30, 5, "-D:4")


def sets(*groups: str) -> set[frozenset[str]]:
    return {frozenset(g.split()) for g in groups}


READABLE = {
    "one wire": ([wire("10,10 50,10"), A, B], ["-A:1 -B:2"]),
    "two ends meet": ([wire("10,10 30,10"), wire("30,10 50,10"), A, B], ["-A:1 -B:2"]),
    "two ends meet at a corner": ([wire("10,10 50,10"), wire("50,10 50,30 30,30 30,40"), A, C], ["-A:1 -C:3"]),
    "a wire passes a pin": ([wire("10,10 50,10"), A, B, pin(30, 10, "-M:x")], ["-A:1 -B:2 -M:x"]),
    "a wire turns at a pin": ([wire("10,10 30,10 30,40"), A, C, pin(30, 10, "-M:x")], ["-A:1 -C:3 -M:x"]),
    "a crossing joins nothing": ([wire("10,10 50,10"), wire("30,5 30,40"), A, B, C, D], ["-A:1 -B:2", "-C:3 -D:4"]),
    "a junction joins": ([wire("10,10 50,10"), wire("30,10 30,40"), junction(30, 10), A, B, C], ["-A:1 -B:2 -C:3"]),
    "a junction of three ends": (
        [wire("10,10 30,10"), wire("30,10 50,10"), wire("30,10 30,40"), junction(30, 10), A, B, C],
        ["-A:1 -B:2 -C:3"],
    ),
    "a crossing with a junction": (
        [wire("10,10 50,10"), wire("30,5 30,40"), junction(30, 10), A, B, C, D],
        ["-A:1 -B:2 -C:3 -D:4"],
    ),
    "three wires at a pin": (
        [wire("10,10 30,10"), wire("30,10 50,10"), wire("30,10 30,40"), A, B, C, pin(30, 10, "-M:x")],
        ["-A:1 -B:2 -C:3 -M:x"],
    ),
    "tags of one name": (
        [wire("10,10 20,10"), tag(20, 10, "24V"), A, wire("30,30 30,40"), tag(30, 30, "24V"), C],
        ["-A:1 -C:3"],
    ),
    "a tag in the middle of a wire": (
        [wire("10,10 50,10"), tag(30, 10, "0V"), A, B, wire("30,30 30,40"), tag(30, 30, "0V"), C],
        ["-A:1 -B:2 -C:3"],
    ),
    "a tag on a pin": ([A, tag(10, 10, "0V"), C, tag(30, 40, "0V")], ["-A:1 -C:3"]),
    "two pins of one name": (
        [wire("10,10 30,10"), pin(30, 10, "-X1:5"), pin(36, 10, "-X1:5"), wire("36,10 50,10"), A, B],
        ["-A:1 -B:2 -X1:5"],
    ),
    "an unconnected pin": ([wire("10,10 50,10"), A, B, C], ["-A:1 -B:2", "-C:3"]),
    "an earth link joins nothing": (
        [A, C, '<polyline class="link" points="10,12 10,40 28,40" fill="none" stroke="#000"/>'],
        ["-A:1", "-C:3"],
    ),
    "a mark among words": ([wire("10,10 50,10"), pin(10, 10, "-A:-", "− 0 V"), B], ["-A:- -B:2"]),
    "half a millimetre of one potential": (
        [wire("10,10 50,10"), wire("20,10 20,10.5 40,10.5 40,10"), junction(20, 10), junction(40, 10), A, B],
        ["-A:1 -B:2"],
    ),
}


@pytest.mark.parametrize("name", READABLE)
def test_reads_what_is_drawn(name: str) -> None:
    elements, groups = READABLE[name]
    assert set(readback.read([sheet(*elements)])) == sets(*groups)
    assert set(readback.read([sheet(*reversed(elements))])) == sets(*groups), "the order of elements means nothing"


AB = wire("10,10 50,10")
BROKEN = {
    "end on nothing": ([wire("10,10 40,10"), A], "ends at (40.0, 10.0) on nothing"),
    "end misses its pin": ([wire("10,10 49.9,10"), A, B], "on nothing"),
    "end on a wire's middle": ([AB, wire("30,10 30,40"), A, B, C], "on another wire without a junction"),
    "end on a wire's corner": (
        [wire("10,10 30,10 30,40"), wire("30,10 50,10"), A, B, C],
        "on another wire without a junction",
    ),
    "two ends on a wire's middle": (
        [AB, wire("30,10 30,40"), wire("30,10 30,5"), A, B, C, D],
        "without a junction",
    ),
    "three ends without a junction": (
        [wire("10,10 30,10"), wire("30,10 50,10"), wire("30,10 30,40"), A, B, C],
        "3 wires end at (30.0, 10.0) without a junction",
    ),
    "corner on a wire": ([AB, wire("20,40 20,10 30,10 30,40"), A, B, C, pin(20, 40, "-E:5")], "touches another wire"),
    "corner on a corner": (
        [wire("10,10 30,10 30,40"), wire("30,5 30,10 50,10"), A, B, C, D],
        "touches another wire without a junction",
    ),
    "junction of two arms": ([wire("10,10 30,10"), wire("30,10 50,10"), junction(30, 10), A, B], "it needs three"),
    "junction in the open": ([AB, A, B, junction(70, 70)], "has 0 arms"),
    "slanted wire": ([wire("10,10 50,12"), A, pin(50, 12, "-B:2")], "neither horizontal nor vertical"),
    "wire without length": ([wire("10,10 10,10"), A], "neither horizontal nor vertical, or no run"),
    "wire of one point": ([wire("10,10"), A], "two points or more"),
    "runs on one another": ([AB, wire("20,10 40,10"), A, B], "lie on one another"),
    "run that turns back": ([wire("10,10 50,10 30,10"), A, B], "lie on one another"),
    "parallel wires too near": (
        [AB, wire("20,10.5 20,40 30,40"), wire("20,10.5 45,10.5 45,40"), pin(45, 40, "-E:5"), A, B, C],
        "less than 0.6 mm apart",
    ),
    "end near a foreign wire": ([AB, wire("30,10.4 30,40"), pin(30, 10.4, "-E:5"), A, B, C], "less than 0.6 mm"),
    "wire past a foreign pin": ([AB, A, B, pin(30, 10.5, "-E:5")], "passes the pin -E:5 at less than 0.6 mm"),
    "pins on one another": ([AB, A, B, pin(50, 10, "-E:2")], "lie on one another"),
    "pin without a mark": ([AB, A, pin(50, 10, "-B:2", mark="")], "has no mark '2' within 12 mm"),
    "mark of another name": ([AB, A, pin(50, 10, "-B:2", mark="22")], "has no mark '2'"),
    "mark too far away": (
        [AB, A, pin(50, 10, "-B:2", mark="") + '<text x="50" y="23" font-size="3">2</text>'],
        "has no mark '2'",
    ),
    "tag in the open": ([AB, A, B, tag(70, 70, "0V")], "lies on no wire and no pin"),
    "tag without a name": ([AB, A, B, tag(30, 10, "")], "has no name"),
    "pin without a device": ([AB, A, pin(50, 10, ":2")], "has no name"),
    "wire without a pin": ([AB, A, B, wire("10,30 20,30"), tag(10, 30, "X"), tag(20, 30, "X")], "reaches no pin"),
    "transform on a wire": ([wire("10,10 50,10", 'transform="translate(0 5)"'), A, B], "transform on <polyline>"),
    "transform above": (["<g transform='scale(2)'>", AB, A, B, "</g>"], "transform on <g>"),
    "nested svg": (["<svg>", AB, A, B, "</svg>"], "inside <svg>"),
    "in definitions": (["<defs>", AB, "</defs>", A, B], "inside <defs>"),
    "in a symbol": (["<symbol>", AB, "</symbol>", A, B], "inside <symbol>"),
    "repeated by use": (["<g id='g'>", AB, A, B, "</g>", "<use href='#g' y='20'/>"], "<use> repeats 'g'"),
    "repeated by xlink": (
        ["<g id='g'>", AB, A, B, "</g>", "<use xmlns:x='http://www.w3.org/1999/xlink' x:href='#g'/>"],
        "<use> repeats 'g'",
    ),
    "not displayed": (["<g display='none'>", AB, "</g>", A, B], "display none on <g>"),
    "hidden": (["<g visibility='hidden'>", AB, "</g>", A, B], "cannot be seen"),
    "transparent": (["<g opacity='0.2'>", AB, "</g>", A, B], "cannot be seen"),
    "white": ([AB.replace('"#000"', '"#fff"'), A, B], "cannot be seen"),
    "no stroke": ([AB.replace('"#000"', '"none"'), A, B], "cannot be seen"),
    "no width": ([AB.replace('"0.35"', '"0"'), A, B], "cannot be seen"),
    "no radius": ([AB, A.replace('r="0.8"', 'r="0"'), B], "cannot be seen"),
    "styled": ([wire("10,10 50,10", 'style="stroke:none"'), A, B], "style on <polyline>"),
    "clipped": (["<g clip-path='url(#c)'>", AB, "</g>", A, B], "clip-path on <g>"),
    "style sheet": (["<style>polyline{stroke:none}</style>", AB, A, B], "<style> element"),
    "animated": (["<animate attributeName='x'/>", AB, A, B], "<animate> element"),
    "covered wire": ([AB, A, B, '<rect x="20" y="5" width="10" height="10" fill="#fff"/>'], "under a filled rectangle"),
    "covered pin": ([AB, A, B, '<rect x="5" y="5" width="9" height="10" fill="#fff"/>'], "pin -A:1 at"),
    "exponent": ([wire("1e1,10 50,10"), A, B], "plain decimals"),
    "unit": ([AB, A.replace('cx="10"', 'cx="10mm"'), B], "plain decimals"),
    "odd coordinates": ([wire("10,10 50"), A, B], "plain decimals"),
    "wrong element": (['<path class="wire" d="M10 10H50"/>', A, B], "should be one <polyline>"),
    "two classes": ([AB.replace('"wire"', '"wire link"'), A, B], "should be one <polyline> of one class"),
    "filled wire": ([AB.replace('fill="none"', ""), A, B], "is filled"),
}


@pytest.mark.parametrize("name", BROKEN)
def test_refuses_what_could_be_read_otherwise(name: str) -> None:
    elements, says = BROKEN[name]
    with pytest.raises(readback.DrawingFault) as refusal:
        readback.read([sheet(*elements)])
    assert any(says in c for c in refusal.value.complaints), refusal.value.complaints
    assert all(c.startswith("sheet 1: ") or "of sheet 1" in c for c in refusal.value.complaints)


@pytest.mark.parametrize(
    ("head", "says"),
    [
        (HEAD.replace('viewBox="0 0 100 80"', ""), "the root should be"),
        (HEAD.replace("0 0 100 80", "5 0 100 80"), "the root should be"),
        (HEAD.replace("100mm", "200mm"), "the root's width is '200mm'"),
        (HEAD.replace('height="80mm"', 'height="80"'), "the root's height is '80'"),
        ("<!DOCTYPE svg>" + HEAD, "document type"),
    ],
)
def test_refuses_a_root_that_is_not_in_millimetres(head: str, says: str) -> None:
    assert any(says in c for c in readback.examine([sheet(AB, A, B, head=head)]).complaints)


def test_refuses_what_is_not_xml() -> None:
    assert "not well-formed" in readback.examine([b"<svg"]).complaints[0]


def test_tags_and_pins_join_across_sheets() -> None:
    one = sheet(wire("10,10 20,10"), A, tag(20, 10, "24V"), wire("30,40 40,40"), C, tag(40, 40, "0V"))
    two = sheet(
        wire("50,10 60,10"), B, tag(60, 10, "24V"), pin(30, 40, "-C:3"), wire("30,40 30,60"), pin(30, 60, "-E:5")
    )
    assert set(readback.read([one, two])) == sets("-A:1 -B:2", "-C:3 -E:5")
    assert set(readback.read([one])) == sets("-A:1", "-C:3")


def test_says_on_which_sheet_the_fault_is() -> None:
    complaints = readback.examine([sheet(AB, A, B), sheet(wire("10,10 40,10"), A)]).complaints
    assert [c.partition(":")[0] for c in complaints] == ["sheet 2"]


# a second method: nets drawn by a generator that knows nothing of the reader


@st.composite
def nets(draw: st.DrawFn) -> list[list[str]]:
    sizes = draw(st.lists(st.integers(1, 5), min_size=1, max_size=6))
    names = [f"-D{i}:{i}" for i in range(sum(sizes))]
    draw(st.randoms(use_true_random=False)).shuffle(names)
    return [[names.pop() for _ in range(size)] for size in sizes]


def draw_nets(groups: list[list[str]], rng: random.Random) -> list[list[str]]:
    """The elements of two sheets: pins in a row in random order; each net a bus of its own below, with drops that
    cross other buses, or loose ends with tags, on either sheet.
    """
    order = [name for group in groups for name in group]
    rng.shuffle(order)
    column = {name: 10 + 6 * i for i, name in enumerate(order)}
    sheets: list[list[str]] = [[], []]
    for k, group in enumerate(groups):
        if rng.random() < 0.3:
            for name in group:
                where, end = rng.choice(sheets), rng.randint(13, 17)
                x = column[name]
                where += [pin(x, 10, name), wire(f"{x},10 {x},{end}"), tag(x, end, f"N{k}")]
            continue
        where, y = rng.choice(sheets), 20 + 4 * k
        xs = sorted(column[name] for name in group)
        where += [pin(column[name], 10, name) for name in group]
        if len(xs) == 1:
            continue
        ends = (f"{xs[0]},10 {xs[0]},{y} {xs[-1]},{y} {xs[-1]},10", xs[1:-1])
        if rng.random() < 0.5 or len(xs) == 2:
            where.append(wire(ends[0]))
        else:
            cut = xs[1:-1][0]
            where += [wire(f"{xs[0]},10 {xs[0]},{y} {cut},{y}"), wire(f"{cut},{y} {xs[-1]},{y} {xs[-1]},10")]
        for x in ends[1]:
            where += [wire(f"{x},{y} {x},10"), junction(x, y)]
    for s in sheets:
        rng.shuffle(s)
    return sheets


WIDE = HEAD.replace("100", "300")


@settings(max_examples=60, deadline=None)
@given(nets(), st.randoms(use_true_random=False))
def test_random_nets_read_back_equal(groups: list[list[str]], rng: random.Random) -> None:
    sheets = draw_nets(groups, rng)
    assert set(readback.read([sheet(*s, head=WIDE) for s in sheets])) == {frozenset(g) for g in groups}


@settings(max_examples=60, deadline=None)
@given(
    nets().filter(lambda g: max(map(len, g)) > 1), st.randoms(use_true_random=False), st.sampled_from([0.05, 0.3, 3])
)
def test_a_moved_element_never_passes_unnoticed(groups: list[list[str]], rng: random.Random, by: float) -> None:
    sheets = draw_nets(groups, rng)
    places = [(s, i) for s in sheets for i, e in enumerate(s) if "polyline" in e]
    elements, i = rng.choice(places)
    inside = elements[i].split('points="')[1].split('"')[0]
    first, *rest = inside.split()
    x, y = first.split(",")
    second = rest[0].split(",")
    moved = f"{float(x) + by},{y}" if second[1] == y else f"{x},{float(y) + by}"
    elements[i] = elements[i].replace(inside, " ".join([moved, *rest]))
    with pytest.raises(readback.DrawingFault):
        readback.read([sheet(*s, head=WIDE) for s in sheets])


# comparison with the circuit


def potential(name: str, *pins: str) -> Potential:
    return Potential(name, "01", "signal", None, tuple(Pin(*p.split(":")) for p in pins))


CIRCUIT = [potential("start", "-A:1", "-B:2"), potential("feed", "-C:3", "-D:4", "-E:5"), potential("alone", "-F:6")]
SHOWN = sets("-A:1 -B:2", "-C:3 -D:4 -E:5", "-F:6", "-G:7")


def test_agreement_is_silent() -> None:
    assert readback.compare(SHOWN, CIRCUIT) == ()
    assert readback.compare(SHOWN - sets("-F:6", "-G:7"), CIRCUIT) == (), "single pins need not be drawn"


@pytest.mark.parametrize(
    ("out", "into", "says"),
    [
        (["-A:1 -B:2"], ["-A:1"], "start: -B:2 is not drawn"),
        (["-A:1 -B:2"], [], "start: -A:1, -B:2 are not drawn"),
        (["-C:3 -D:4 -E:5"], ["-C:3 -D:4", "-E:5"], "feed: drawn in 2 pieces"),
        (["-A:1 -B:2", "-C:3 -D:4 -E:5"], ["-A:1 -B:2 -C:3 -D:4 -E:5"], "feed and start are drawn joined"),
        (["-A:1 -B:2", "-G:7"], ["-A:1 -B:2 -G:7"], "-G:7 should be joined to nothing"),
        (["-F:6", "-G:7"], ["-F:6 -G:7"], "-G:7 should be joined to nothing"),
        (["-A:1 -B:2", "-F:6"], ["-A:1 -B:2 -F:6"], "alone and start are drawn joined"),
    ],
)
def test_every_difference_is_named(out: list[str], into: list[str], says: str) -> None:
    faults = readback.compare((SHOWN - sets(*out)) | sets(*into), CIRCUIT)
    assert len(faults) == 1
    assert says in faults[0]


def test_every_single_exchange_is_seen() -> None:
    """Brute force: any two pins of two groups exchanged must be reported."""
    groups = [set(g) for g in sorted(SHOWN, key=sorted)]
    for i, j in itertools.combinations(range(len(groups)), 2):
        for p, q in itertools.product(sorted(groups[i]), sorted(groups[j])):
            changed = [frozenset(g - {p, q} | ({q} if p in g else set()) | ({p} if q in g else set())) for g in groups]
            same = {frozenset(g) for g in groups} == set(changed)
            assert same or readback.compare(changed, CIRCUIT), (p, q)
