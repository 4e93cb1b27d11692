"""The check for overlaps on a real sheet into which one fault is put: whatever is moved onto something is found."""

from __future__ import annotations

import copy
import random as standard
from pathlib import Path
from xml.etree import ElementTree

import pytest

from wiregen.drawing import overlaps

SHEET = (Path(__file__).parents[2] / "examples" / "brine_pump_sheet.svg").read_bytes()
SVG = "{http://www.w3.org/2000/svg}"
Element = ElementTree.Element


def sheet() -> tuple[Element, list[Element], list[Element], list[Element]]:
    """The sheet with its free texts, its wires and its symbols."""
    root = ElementTree.fromstring(SHEET)
    texts = [e for e in root if e.tag == SVG + "text" and e.get("class") == "text" and len(e.text or "") > 2]
    wires = [e for e in root if e.get("class") == "wire"]
    return root, texts, wires, [e for e in root if e.get("class") == "symbol"]


def found(root: Element) -> tuple[str, ...]:
    return overlaps.check(ElementTree.tostring(root))


def corners(wire: Element) -> list[tuple[float, float]]:
    numbers = [float(n) for n in (wire.get("points") or "").replace(",", " ").split()]
    return list(zip(numbers[::2], numbers[1::2], strict=True))


def put(text: Element, x: float, y: float) -> None:
    text.set("x", str(x))
    text.set("y", str(y))


def test_the_sheet_is_clean_before() -> None:
    assert overlaps.check(SHEET) == ()


@pytest.mark.parametrize("seed", range(25))
def test_a_text_on_another_is_found(seed: int) -> None:
    root, texts, _, _ = sheet()
    one, other = standard.Random(seed).sample(texts, 2)
    one.set("text-anchor", other.get("text-anchor", "start"))
    put(one, float(other.get("x", "0")) + 0.4, float(other.get("y", "0")) + 0.3)
    assert any("lies on the text" in says for says in found(root))


@pytest.mark.parametrize("seed", range(25))
def test_a_text_on_a_wire_is_found(seed: int) -> None:
    root, texts, wires, _ = sheet()
    random = standard.Random(seed)
    (x0, y0), (x1, y1) = random.choice([corners(w)[:2] for w in wires])
    text = random.choice(texts)
    text.set("text-anchor", "middle")
    put(text, (x0 + x1) / 2, (y0 + y1) / 2 + 1.0)
    assert any("lies on a line of the wire" in says for says in found(root))


@pytest.mark.parametrize("number", range(len(sheet()[3])))
def test_a_wire_through_a_symbol_is_found(number: int) -> None:
    root, _, wires, symbols = sheet()
    x0, y0, x1, y1 = (float(n) for n in (symbols[number].get("data-box") or "").split())
    wire = copy.deepcopy(wires[0])
    middle = (y0 + y1) / 2 + 0.37  # beside the height of its pins
    wire.set("points", f"{x0 - 3},{middle} {x1 + 3},{middle}")
    root.append(wire)
    assert any(f"runs through the {symbols[number].get('data-kind')}" in says for says in found(root))


@pytest.mark.parametrize("at", [(2.0, 150.0), (418.0, 150.0), (200.0, 4.0), (200.0, 296.0)])
def test_what_leaves_the_frame_is_found(at: tuple[float, float]) -> None:
    root, texts, wires, _ = sheet()
    put(texts[0], *at)
    wires[0].set("points", f"{at[0]},{at[1]} {at[0]},{at[1] + 1}")
    says = " ".join(found(root))
    assert f"the text {texts[0].text!r}" in says
    assert "the wire" in says
    assert says.count("outside the frame") >= 2
