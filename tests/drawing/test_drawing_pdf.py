"""The bound sheets: read with pypdf, and held against cairosvg's own way of drawing them."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pypdf
import pytest

from wiregen.drawing import fonts, pdf
from wiregen.drawing.canvas import Canvas
from wiregen.drawing.symbols import get
from wiregen.drawing.template import A3, A4, Paper, TitleBlock, frame
from wiregen.terms import InternalFault


def page(paper: Paper, n: int) -> bytes:
    canvas = paper.canvas(f"Sheet {n}")
    block = TitleBlock("Brine pump", f"Diagram {n}", "BR-1", "A", "iec", "for review", n, 2, cautions=("Prove dead.",))
    frame(canvas, block, paper)
    fill(canvas, n)
    return canvas.to_svg()


def fill(canvas: Canvas, n: int) -> None:
    thermostat = get("contact", "iec", form="break", actuator="process", quantity="θ")
    canvas.device(thermostat, 100, 60, "-BT1", {"a": "11", "b": "12"})
    canvas.wire([(105, 60), (140, 60)])
    canvas.pin(140, 60, f"-TA{n}:DI3")
    canvas.text(142, 60, f"DI3 external trip {n}", centred=True)
    canvas.text(200, 60, "Ω θ ² ° − é", anchor="end", strong=True)
    canvas.text(200, 70, "in the middle", anchor="middle")


PAGES = [("sheet-01", "1 Terminal diagram", page(A3, 1)), ("sheet-02", "2 it's -TA1 (θ)", page(A4, 2))]


def test_the_book_has_outline_labels_and_text() -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf.book(PAGES, "Brine pump: it's θ", "2026-01-31")))
    assert reader.metadata is not None
    assert reader.metadata.title == "Brine pump: it's θ"
    assert "20260131" in reader.metadata["/CreationDate"]
    assert reader.page_labels == ["1 Terminal diagram", "2 it's -TA1 (θ)"]
    marks: list[Any] = list(reader.outline)
    assert [m.title for m in marks] == ["1 Terminal diagram", "2 it's -TA1 (θ)"]
    assert [reader.get_destination_page_number(m) for m in marks] == [0, 1]
    for number, sheet in enumerate(reader.pages, 1):
        text = sheet.extract_text()
        for words in (
            f"DI3 external trip {number}",
            "Ω θ ² ° − é",
            "in the middle",
            "11",
            "Brine pump",
            f"{number} of 2",
        ):
            assert words in text


def test_pages_are_as_large_as_their_sheets() -> None:
    boxes = [p.mediabox for p in pypdf.PdfReader(io.BytesIO(pdf.book(PAGES, "x"))).pages]
    sizes = [(float(b.width) / 72 * 25.4, float(b.height) / 72 * 25.4) for b in boxes]
    assert sizes == [pytest.approx((420, 297), abs=0.01), pytest.approx((297, 210), abs=0.01)]


def test_only_the_packaged_font_is_used() -> None:
    reader = pypdf.PdfReader(io.BytesIO(pdf.book(PAGES, "x")))
    fonts = {f.get_object()["/BaseFont"] for p in reader.pages for f in p["/Resources"]["/Font"].values()}
    assert {str(f).partition("+")[2] for f in fonts} == {"DejaVuSans"}


DIGEST = """
import hashlib, sys
sys.path[:0] = [sys.argv[1]]
import test_drawing_pdf as t
print(hashlib.sha256(t.pdf.book(t.PAGES, "x")).hexdigest())
"""


def test_the_same_bytes_in_any_process(tmp_path: Any) -> None:
    digests = set()
    for seed, zone in (("0", "UTC"), ("99", "Asia/Tokyo")):
        env = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone}
        command = [sys.executable, "-c", DIGEST, os.path.dirname(os.path.abspath(__file__))]
        answer = subprocess.run(command, cwd=tmp_path, env=env, capture_output=True, text=True, check=True).stdout
        digests.add(answer.strip())
    assert len(digests) == 1
    first, second = pdf.book(PAGES, "x"), pdf.book(PAGES, "x")
    assert hashlib.sha256(first).hexdigest() == hashlib.sha256(second).hexdigest()


def origins(data: bytes) -> list[tuple[str, float, float]]:
    """Where each piece of text begins, in points."""
    found: list[tuple[str, float, float]] = []

    def visit(text: str, _: Any, matrix: Any, *more: Any) -> None:
        if text.strip():
            found.append((text.strip(), matrix[4], matrix[5]))

    for p in pypdf.PdfReader(io.BytesIO(data)).pages:
        p.extract_text(visitor_text=visit)
    return found


def test_whole_texts_stand_where_cairosvg_puts_their_letters(monkeypatch: pytest.MonkeyPatch) -> None:
    """A second method: cairosvg's letter-by-letter text. Each text begins where one of its letters stands."""
    fast = origins(pdf.book(PAGES, "x"))
    monkeypatch.setattr(pdf, "_is_plain_text", lambda node: False)
    slow = origins(pdf.book(PAGES, "x"))
    assert len(fast) > 60
    for text, x, y in fast:
        assert any(abs(x - u) < 0.05 and abs(y - v) < 0.05 for _, u, v in slow), text


@pytest.mark.parametrize(
    ("date", "shown"),
    [
        ("2026-01-31", "20260131"),
        ("2026-01-31T10:00:00Z", "20260131"),
        ("", "20000101"),
        ("spring", "20000101"),
        ("2026-1-1'", "20000101"),
    ],
)
def test_the_date_never_comes_from_the_clock(date: str, shown: str) -> None:
    metadata = pypdf.PdfReader(io.BytesIO(pdf.book(PAGES[:1], "x", date))).metadata
    assert metadata is not None
    assert shown in metadata["/CreationDate"]
    assert shown in metadata["/ModDate"]


@pytest.mark.parametrize("names", [["a b"], ["it's"], [""], ["a", "a"], [], ["ä"]])
def test_page_names_are_plain_and_distinct(names: list[str]) -> None:
    with pytest.raises(InternalFault, match="distinct plain names"):
        pdf.book([(n, "label", PAGES[0][2]) for n in names], "x")


WITHOUT_CAIRO = """
import sys
class Missing:
    def find_spec(self, name, path=None, target=None):
        if name == "cairocffi":
            raise OSError('no library called "cairo-2" was found')
sys.meta_path.insert(0, Missing())
from wiregen.drawing import pdf
from wiregen.terms import WiregenError
try:
    pdf.book([("a", "b", b"<svg/>")], "x")
except WiregenError as e:
    print(type(e).__name__, e)
"""


def test_a_missing_library_is_named_with_its_remedy() -> None:
    answer = subprocess.run([sys.executable, "-c", WITHOUT_CAIRO], capture_output=True, text=True, check=True)
    assert answer.stdout.startswith("CairoMissing the PDF cannot be written")
    assert "apt install libcairo2" in answer.stdout


def test_cairo_is_loaded_only_when_a_book_is_made() -> None:
    code = "import sys, wiregen.drawing.pdf; print(any(m.startswith('cairo') for m in sys.modules))"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout == "False\n"


def test_references_between_sheets_are_links_both_ways() -> None:
    first, second = A3.canvas(), A3.canvas()
    first.text(100, 100, "to -X1:9 2/B6, and 7/A1", see=("2/B6", "7/A1"))
    second.text(100, 100, "see 1/C4", anchor="end", see=("1/C4",))
    pages = [(f"sheet-{n}", str(n), canvas.to_svg()) for n, canvas in enumerate((first, second), 1)]
    reader = pypdf.PdfReader(io.BytesIO(pdf.book(pages, "x")))
    links = [[a.get_object() for a in sheet.get("/Annots", [])] for sheet in reader.pages]
    assert [len(found) for found in links] == [1, 1], "a sheet that the book does not have is no link"
    numbers = {str(p.indirect_reference): n for n, p in enumerate(reader.pages)}
    targets = [reader.named_destinations[str(found[0]["/Dest"])].page for found in links]
    assert [numbers[str(t.indirect_reference) if hasattr(t, "indirect_reference") else str(t)] for t in targets] == [
        1,
        0,
    ]
    x0, y0, x1, y1 = (float(v) / 72 * 25.4 for v in links[0][0]["/Rect"])
    assert 100 < min(x0, x1) < max(x0, x1) < 140
    assert min(y0, y1) < 297 - 100 < max(y0, y1)


OTHER_FONTS = """<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>
<dir>{fonts}</dir><cachedir>{cache}</cachedir>
<match target="font"><edit name="embolden" mode="assign"><bool>true</bool></edit></match>
</fontconfig>"""
AFTER_OTHERS = """
import sys, cairosvg
from wiregen.drawing import pdf
svg = open(sys.argv[1], "rb").read()
cairosvg.svg2pdf(svg)
sys.stdout.buffer.write(pdf.book([("sheet-1", "1 x", svg)], "x"))
"""


def test_a_book_is_the_same_whatever_was_drawn_before_in_the_process(tmp_path: Path) -> None:
    """Whoever drew the same sheet with cairo before has made it read, and keep, the fonts of the machine: here bold."""
    conf, sheet = tmp_path / "fonts.conf", tmp_path / "sheet.svg"
    conf.write_text(OTHER_FONTS.format(fonts=fonts.packaged_file().parent, cache=tmp_path), encoding="utf-8")
    sheet.write_bytes(PAGES[0][2])
    environment = os.environ | {"FONTCONFIG_FILE": str(conf)}
    command = [sys.executable, "-c", AFTER_OTHERS, str(sheet)]
    after = subprocess.run(command, env=environment, capture_output=True, check=True).stdout
    assert after == pdf.book([("sheet-1", "1 x", PAGES[0][2])], "x")
