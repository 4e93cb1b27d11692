"""Overlaps: each kind on a sheet that has it, and its nearest neighbour that does not."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from wiregen.drawing import overlaps
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import Canvas
from wiregen.drawing.symbols import get
from wiregen.drawing.template import A3, TitleBlock, frame

BLOCK = TitleBlock("Brine pump", "Diagram", "BR-1", "A", "iec", "for review", 1, 1)


def check(*draw: Callable[[Canvas], object]) -> tuple[str, ...]:
    canvas = Canvas(100, 100)
    for one in draw:
        one(canvas)
    return overlaps.check(canvas.to_svg())


def wire(*points: tuple[float, float]) -> Callable[[Canvas], object]:
    return lambda c: c.wire(points)


def text(x: float, y: float, says: str, **how: object) -> Callable[[Canvas], object]:
    return lambda c: c.text(x, y, says, **how)  # type: ignore[arg-type]


def push(x: float, y: float) -> Callable[[Canvas], object]:
    symbol = get("contact", "iec", form="make", actuator="push")
    return lambda c: c.device(symbol, x, y, "-S1", {"a": "13", "b": "14"})


def pin(x: float, y: float, name: str = "-A:1") -> Callable[[Canvas], object]:
    return lambda c: c.pin(x, y, name)


OVERLAPPING: dict[str, tuple[list[Callable[[Canvas], object]], str]] = {
    "text on text": (
        [text(20, 20, "start"), text(26, 20, "stop")],
        "the text 'start' at 24.0,18.8 lies on the text 'stop'",
    ),
    "the same text twice": ([text(20, 20, "stop"), text(20, 20, "stop")], "lies on the text 'stop'"),
    "text on a wire": ([wire((10, 20), (60, 20)), text(30, 21, "02")], "'02' at 32.2,19.8 lies on a line of the wire"),
    "descender on a wire": ([wire((10, 20), (60, 20)), text(30, 19.7, "jog")], "lies on a line of the wire"),
    "text on a link": ([lambda c: c.link([(10, 20), (60, 20)]), text(30, 21, "x")], "lies on a line of the link"),
    "text on a spare core": (
        [lambda c: c.spare([(10, 20), (60, 20)]), text(30, 21, "5")],
        "lies on a line of the spare",
    ),
    "text on a contact's blade": ([push(50, 50), text(47, 50, "x")], "lies on a line of the symbol"),
    "text on a lamp": (
        [lambda c: c.symbol(get("lamp", "nfpa"), 50, 50), text(50, 48, "x")],
        "lies on the symbol",
    ),
    "text across an outline": (
        [lambda c: c.rect(Box(20, 20, 60, 60)), text(50, 40, "Compact drive")],
        "lies on a line of the outline",
    ),
    "text across the edge of a place": (
        [lambda c: c.place(Box(20, 20, 60, 60)), text(50, 40, "35 m, screened")],
        "lies on a line of the place",
    ),
    "text on the ring of a cable": (
        [lambda c: c.symbol(get("cable", "iec", height=20.0), 50, 50), text(46, 60, "3")],
        "lies on a line of the cable",
    ),
    "text on the head of a tag": (
        [lambda c: c.tag(20, 20, "0V", "right", ""), text(22, 20, "x")],
        "lies on a line of the arrow",
    ),
    "text on a pin": ([pin(20, 20), text(20, 20, "x")], "lies on the pin -A:1"),
    "text on a junction": ([lambda c: c.junction(20, 20), text(20, 20, "x")], "lies on the junction"),
    "wire through a symbol": ([push(50, 50), wire((48, 20), (48, 80))], "runs through the contact at 50.0,46.9"),
    "wire through an actuator": ([push(50, 50), wire((20, 45), (80, 45))], "runs through the contact"),
    "wire through the head of a tag": (
        [lambda c: c.tag(20, 20, "0V", "right", ""), wire((10, 20), (60, 20))],
        "runs through the head of a tag",
    ),
    "wire across an outline": (
        [lambda c: c.rect(Box(20, 20, 60, 60)), wire((10, 40), (30, 40))],
        "crosses a line of the outline at 20,40",
    ),
    "wire along an outline": (
        [lambda c: c.rect(Box(20, 20, 60, 60)), wire((20, 30), (20, 50))],
        "runs along a line of the outline",
    ),
    "wire along the edge of a place": (
        [lambda c: c.place(Box(20, 20, 60, 60)), wire((30, 20.1), (50, 20.1))],
        "runs along a line of the place",
    ),
    "wire grazing a pin": ([pin(30, 20.8), wire((10, 20), (60, 20))], "touches the circle of the pin -A:1"),
    "pins too close": ([pin(30, 20), pin(31, 20, "-B:2")], "the circles of the pins -A:1 and -B:2 overlap"),
    "symbols on one another": ([push(50, 50), push(58, 50)], "the contact at 50.0,46.9 and the contact"),
    "symbol across an outline": (
        [push(50, 50), lambda c: c.rect(Box(52, 30, 80, 60))],
        "lies across a line of the outline",
    ),
    "text off the paper": ([text(95, 50, "Terminal")], "'Terminal' at 102.6,48.7 lies outside the frame"),
    "wire off the paper": ([wire((50, 50), (110, 50))], "the wire 50,50 to 110,50 lies outside the frame"),
    "pin off the paper": ([pin(-5, 50)], "the pin -A:1 lies outside the frame"),
}


@pytest.mark.parametrize("name", OVERLAPPING)
def test_overlaps_are_found(name: str) -> None:
    draw, says = OVERLAPPING[name]
    found = check(*draw)
    assert any(says in f for f in found), found


CLEAR: dict[str, list[Callable[[Canvas], object]]] = {
    "text after text": [text(20, 20, "start", anchor="end"), text(21, 20, "stop")],
    "text under text": [text(20, 20, "start"), text(20, 23.4, "stop")],
    "number above its wire": [wire((10, 20), (60, 20)), text(30, 19.2, "02")],
    "number below its wire": [wire((10, 20), (60, 20)), text(30, 23.3, "02")],
    "text inside an outline": [lambda c: c.rect(Box(20, 20, 60, 60)), text(22, 40, "Compact drive")],
    "number inside the ring of a cable": [
        lambda c: c.symbol(get("cable", "iec", height=20.0), 50, 50),
        text(50, 61, "3", anchor="middle"),
    ],
    "a wired contact": [push(50, 50), wire((20, 50), (45, 50)), wire((55, 50), (80, 50))],
    "a wire past an actuator": [push(50, 50), wire((20, 43.4), (80, 43.4))],
    "a wire ends at a tag": [lambda c: c.tag(60, 20, "0V", "right", "0V  2/B3"), wire((10, 20), (60, 20))],
    "a wire to a pin on an outline": [
        lambda c: c.rect(Box(20, 20, 60, 60)),
        pin(20, 40),
        wire((10, 40), (20, 40)),
    ],
    "a joint inside an outline": [
        lambda c: c.rect(Box(20, 20, 60, 60)),
        pin(20, 30),
        pin(20, 50, "-A:2"),
        wire((20, 30), (25, 30), (25, 50), (20, 50)),
    ],
    "a core crosses the edge of a place": [lambda c: c.place(Box(20, 20, 60, 60)), wire((10, 40), (30, 40))],
    "a core passes the ring of a cable": [
        lambda c: c.symbol(get("cable", "iec", height=20.0), 50, 50),
        wire((30, 50), (70, 50)),
    ],
    "wires cross": [wire((10, 20), (60, 20)), wire((30, 10), (30, 40))],
    "symbols side by side": [push(40, 50), push(58, 50)],
}


@pytest.mark.parametrize("name", CLEAR)
def test_neighbours_are_left_alone(name: str) -> None:
    assert check(*CLEAR[name]) == ()


def test_the_frame_bounds_the_drawing() -> None:
    canvas = A3.canvas()
    frame(canvas, BLOCK)
    canvas.text(12, 80, "x")
    canvas.wire([(24, 291), (36, 291)])
    found = overlaps.check(canvas.to_svg())
    assert any("'x' at" in f and "outside the frame" in f for f in found)
    assert any("the wire 24,291 to 36,291 lies outside the frame" in f for f in found)
    assert len(found) == 2


def test_small_texts_and_strange_elements_are_named() -> None:
    head = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm" viewBox="0 0 9 9">'
    body = '<text x="1" y="5" font-size="2.4">a</text><ellipse/><g transform="scale(2)"/><path d="M 1 1 L 2 2"/>'
    found = overlaps.check(f"{head}{body}</svg>".encode())
    assert found == (
        "the text 'a' is only 2.4 mm; 2.74 mm is the least",
        "a <ellipse> of class '' cannot be judged",
        "a <g> of class '' cannot be judged",
        "a <path> of class '' cannot be judged",
    )
