"""The sheet's recorder and the font's measures. The font is held against cairo, another reader of the same file."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from wiregen.drawing import fonts, readback
from wiregen.drawing.box import Box
from wiregen.drawing.canvas import LAYERS, LEAST, TEXT, Canvas
from wiregen.drawing.symbols import get
from wiregen.terms import InternalFault

SVG = "{http://www.w3.org/2000/svg}"

MEASURE = """
import json, sys
import cairocffi as cairo
from wiregen.drawing.font_face import packaged_face
context = cairo.Context(cairo.ImageSurface(cairo.FORMAT_A8, 10, 10))
options = cairo.FontOptions()
options.set_hint_metrics(cairo.HINT_METRICS_OFF)
options.set_hint_style(cairo.HINT_STYLE_NONE)
context.set_font_options(options)
context.set_font_face(packaged_face())
context.set_font_size(1000)
print(json.dumps([context.text_extents(t)[:] for t in json.load(sys.stdin)]))
"""
WORDS = ["-TA1:DI1", "4.7 kΩ", "1.0 mm²", "θ > 140 °C", "Rücklauf", "|", "gjpqy", "Насос", "x − 3", "", "AVAW To"]


def test_widths_and_heights_are_those_of_cairo() -> None:
    """Source: cairo's own measure of the packaged font."""
    texts = WORDS + [
        chr(c) for c in (*range(33, 127), *range(161, 256), *range(913, 970)) if chr(c) not in fonts.missing(chr(c))
    ]
    run = subprocess.run(
        [sys.executable, "-c", MEASURE], input=json.dumps(texts), capture_output=True, text=True, check=True
    )
    for text, (_, rise, _, height, advance, _) in zip(texts, json.loads(run.stdout), strict=True):
        assert fonts.text_width(text, 1000) == pytest.approx(advance, abs=0.6), text
        above, below = fonts.ink(text, 1000)
        if text and len(text) > 1:
            assert above == pytest.approx(-rise, abs=3), text
            assert below == pytest.approx(height + rise, abs=3), text


def test_capitals_of_the_usual_text_are_two_and_a_half_millimetres() -> None:
    """Source: ISO 3098 counts lettering by the height of capitals, 2.5 mm the smallest of its sizes (from memory)."""
    assert fonts.cap_height(TEXT) == pytest.approx(2.5, abs=0.01)
    assert fonts.size_for_capitals(2.5) == pytest.approx(TEXT, abs=0.01)


@given(st.text(st.characters(max_codepoint=0x3FF, categories=["L", "N", "P", "Zs"]), max_size=60), st.floats(5, 80))
def test_wrapping_loses_nothing_and_keeps_the_width(text: str, width: float) -> None:
    lines = fonts.wrap(text, 3.0, width)
    assert "".join("".join(lines).split()) == "".join(text.split())
    assert all(fonts.text_width(line, 3.0) <= width or len(line) == 1 for line in lines)


def test_shrinking_stops_at_the_least_size() -> None:
    width = fonts.text_width("Terminal diagram", 4.0)
    assert fonts.shrink("Terminal diagram", 4.0, width + 1, 2.6) == 4.0
    size = fonts.shrink("Terminal diagram", 4.0, width * 0.75, 2.6)
    assert size is not None
    assert 2.95 < size <= 3.0
    assert fonts.text_width("Terminal diagram", size) <= width * 0.75
    assert fonts.shrink("Terminal diagram", 4.0, width * 0.5, 2.6) is None


def test_characters_without_a_glyph_are_named() -> None:
    assert fonts.missing("Ωθ²°−漢字漢") == "漢字"


def drawn() -> Canvas:
    canvas = Canvas(420, 297, "Brine pump <1> & 'more'")
    at = canvas.device(
        get("contact", "iec", form="break", actuator="push"), 40.1 + 0.2, 60, "-SJ2", {"a": "11", "b": "12"}
    )
    canvas.wire([at["b"], (80, 60), (80, 1 / 3 + 70)])
    canvas.pin(80, 70 + 1 / 3, "-TA1:DI2")
    canvas.text(82, 71, "DI2")
    canvas.wire([at["a"], (20, 60)])
    canvas.tag(20, 60, "24V.TA1", "left", "24V.TA1  2/B3")
    canvas.link([(10, 10), (10, 20)])
    canvas.spare([(10, 30), (20, 30)])
    canvas.place(Box(5, 5, 100, 100))
    canvas.text(50, 90, 'A <b> & "c"', strong=True)
    return canvas


def test_what_is_drawn_reads_back() -> None:
    assert set(readback.read([drawn().to_svg()])) == {frozenset({"-SJ2:12", "-TA1:DI2"}), frozenset({"-SJ2:11"})}


def test_the_file_keeps_the_form_of_the_sheets() -> None:
    svg = drawn().to_svg()
    root = ElementTree.fromstring(svg)
    assert (root.get("viewBox"), root.get("width"), root.get("height")) == ("0 0 420 297", "420mm", "297mm")
    assert b"transform" not in svg
    for element in root.iter():
        for key in ("x", "y", "cx", "cy", "r", "points", "d", "width", "height", "font-size", "stroke-width"):
            for word in re.split(r"[ ,]", element.get(key, "")) if element is not root else ():
                assert re.fullmatch(r"|[MC]|-?\d+(\.\d{1,3})?", word), (key, element.get(key))
        if element.tag == SVG + "text":
            assert element.get("font-family") == "DejaVu Sans"
    widths = {e.get("stroke-width") for e in root.iter() if e.tag != SVG + "text"} - {None}
    assert widths <= {"0.25", "0.35", "0.5"}


def test_texts_are_escaped_and_kept() -> None:
    root = ElementTree.fromstring(drawn().to_svg())
    texts = {e.text for e in root.iter(SVG + "text")}
    assert {'A <b> & "c"', "24V.TA1 2/B3", "11", "12"} <= texts
    assert root.findtext(SVG + "title") == "Brine pump <1> & 'more'"


def test_circles_are_painted_over_lines_and_texts_over_all() -> None:
    root = ElementTree.fromstring(drawn().to_svg())
    order = [LAYERS.index(e.get("class", "")) for e in root if e.get("class")]
    assert order == sorted(order)
    assert len(order) == len(drawn().items) + 1


def test_the_same_calls_give_the_same_bytes_anywhere() -> None:
    code = (
        "import sys; sys.path[:0] = [%r]; import test_drawing_canvas as t; sys.stdout.buffer.write(t.drawn().to_svg())"
    )
    outputs = {
        subprocess.run(
            [sys.executable, "-c", code % os.path.dirname(__file__)],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("0", "4711")
    }
    assert outputs == {drawn().to_svg()}


@pytest.mark.parametrize("text", ["a\x00b", "a\x1bb", "a\ud800", "a\nb", "a\tb", "a\u2028b", "\ufffe"])
def test_characters_that_cannot_be_drawn_are_refused(text: str) -> None:
    canvas = Canvas(100, 100)
    with pytest.raises(InternalFault, match=r"the text .* holds"):
        canvas.text(10, 10, text)
    with pytest.raises(InternalFault):
        canvas.pin(10, 10, f"-A:{text}")


@pytest.mark.parametrize("points", [[(0, 0), (1, 1)], [(0, 0), (0, 0)], [(0, 0)], [(0, 0), (10, 0), (10, 0.0004)]])
def test_a_wire_runs_along_rows_and_columns(points: list[tuple[float, float]]) -> None:
    with pytest.raises(InternalFault, match="a wire"):
        Canvas(100, 100).wire(points)


@pytest.mark.parametrize("value", [float("nan"), float("inf"), 1e9])
def test_a_coordinate_is_a_number_on_the_sheet(value: float) -> None:
    with pytest.raises(InternalFault, match="no coordinate"):
        Canvas(100, 100).junction(value, 0)


@pytest.mark.parametrize("name", ["-A", ":1", "-A:", "", " -A:1"])
def test_a_pin_has_a_device_and_a_name(name: str) -> None:
    with pytest.raises(InternalFault, match="not a pin"):
        Canvas(100, 100).pin(1, 1, name)


def test_nothing_is_written_too_small_to_read() -> None:
    with pytest.raises(InternalFault, match="cannot be read"):
        Canvas(100, 100).text(1, 1, "x", LEAST - 0.01)


def test_an_unknown_pin_of_a_symbol_is_refused() -> None:
    with pytest.raises(InternalFault, match="has no pin c; it has a, b"):
        Canvas(100, 100).device(get("coil", "iec"), 50, 50, "-KF1", {"c": "A1"})


def test_boxes_tell_where_room_is_taken() -> None:
    canvas = drawn()
    assert len(canvas.boxes("wire")) == 2
    text = next(i for i in canvas.items if i.text == "DI2")
    assert text.box.x0 == 82
    assert text.box.y1 == pytest.approx(71.05, abs=0.06), "a digit dips hardly below its baseline"
    assert text.box.height == pytest.approx(2.5, abs=0.15)
    assert len(canvas.boxes()) == len(canvas.items)


def test_a_terminals_number_is_written_once() -> None:
    canvas = Canvas(100, 100)
    canvas.device(get("terminal", "iec"), 50, 50, "-X1", {"left": "7", "right": "7"})
    assert [i.text for i in canvas.items if i.category == "text"] == ["7"]
    assert len(canvas.boxes("pin")) == 2
