"""Tables as CSV and XLSX, read back with other people's readers: the standard library's and openpyxl."""

from __future__ import annotations

import csv
import io
import os
import subprocess
import sys
import zipfile
from xml.etree import ElementTree

import openpyxl
import pytest
from hypothesis import given
from hypothesis import strategies as st
from openpyxl.worksheet.worksheet import Worksheet

from wiregen.documents import Column, Heading, Table, as_csv, as_xlsx
from wiregen.documents.csv import number
from wiregen.documents.table import is_designation, natural

COLUMNS = (
    Column("pin", "Pin", "designation"),
    Column("text", "Text"),
    Column("length_m", "Length", "number", "m"),
)
HEADING = Heading("Brine & transfer", "1042 & 1043", "A", "for review")

#: Texts that a spreadsheet would run or follow if it took them for a formula.
INJECTIONS = [
    "=1+1",
    "+1+1",
    "-1+1",
    "@SUM(A1:A2)",
    "=cmd|'/C calc'!A0",
    "\t=1+1",
    "\r=1+1",
    "  =1+1",
    '=HYPERLINK("x","y")',
    "-2+3+cmd|' /C calc'!A0",
]


def table(*rows: tuple[str | int | float | None, ...]) -> Table:
    return Table("list", "A list", COLUMNS, rows)


def read_csv(data: bytes) -> list[list[str]]:
    return list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))


def with_lf(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def read_xlsx(data: bytes) -> Worksheet:
    return openpyxl.load_workbook(io.BytesIO(data)).worksheets[0]


def test_csv_is_exact() -> None:
    data = as_csv(table(("-TA1:DI1", 'say "stop", then wait', 35.0), (None, "two\nlines", None)))
    assert data == b'pin,text,length_m\n-TA1:DI1,"say ""stop"", then wait",35\n,"two\nlines",\n'


@pytest.mark.parametrize("text", INJECTIONS)
def test_no_text_in_csv_begins_like_a_formula(text: str) -> None:
    rows = read_csv(as_csv(table((text, text, 1))))
    assert rows[1][:2] == ["'" + with_lf(text)] * 2


@pytest.mark.parametrize(
    "text",
    ["-TA1", "+C1", "=A1+C1-TA1", "-TA1:DI1", "-BL1:+", "-BL1:-", "-WG2:screen", "-X1:PE", "AI1+", "PB1", "24V", "01",
     "-X1:2; -X1:3", "-KE5:0V", "-WG1.1", "w01"],
)  # fmt: skip
def test_designations_stay_as_they_are(text: str) -> None:
    assert is_designation(text)
    assert read_csv(as_csv(table((text, "", 1))))[1][0] == text


def test_the_same_text_is_escaped_where_it_is_no_designation_column() -> None:
    assert read_csv(as_csv(table(("", "-TA1", None))))[1][1] == "'-TA1"


@given(st.text())
def test_a_designation_cannot_call_anything(text: str) -> None:
    """A call, a link and a data exchange need one of these; common practice, no source."""
    if is_designation(text):
        assert not set(text) & set("()!|'\"@,\t\r\n")


@given(st.lists(st.tuples(st.text(), st.text(), st.none() | st.integers() | st.floats(-1e9, 1e9)), max_size=5))
def test_every_text_comes_back_from_csv(rows: list[tuple[str, str, float | None]]) -> None:
    back = read_csv(as_csv(table(*rows)))
    assert len(back) == len(rows) + 1
    for (first, second, _), found in zip(rows, back[1:], strict=True):
        for text, cell in ((first, found[0]), (second, found[1])):
            assert cell in (with_lf(text), "'" + with_lf(text))


@pytest.mark.parametrize(
    ("value", "text"),
    [(35.0, "35"), (0.75, "0.75"), (1e-7, "0.0000001"), (-0.0, "0"), (7, "7"), (1e16, "1" + "0" * 16)],
)
def test_numbers_have_no_exponent_and_no_needless_digits(value: float, text: str) -> None:
    assert number(value) == text


@pytest.mark.parametrize("text", INJECTIONS)
def test_no_formula_survives_in_xlsx(text: str) -> None:
    sheet = read_xlsx(as_xlsx(table((text, text, 1)), HEADING))
    for column in (1, 2):
        cell = sheet.cell(5, column)
        assert cell.data_type == "s"
        assert cell.hyperlink is None
        assert str(cell.value).replace("_x000D_", "\r") == text


def test_xlsx_keeps_texts_texts_and_numbers_numbers() -> None:
    sheet = read_xlsx(as_xlsx(table(("01", "007", 0.75), ("-TA1", "x", None)), HEADING))
    assert [c.value for c in sheet[4]] == ["Pin", "Text", "Length [m]"]
    assert [(c.value, c.data_type) for c in sheet[5]] == [("01", "s"), ("007", "s"), (0.75, "n")]
    assert [c.value for c in sheet[6]] == ["-TA1", "x", None]


def test_xlsx_is_set_up_for_paper_and_screen() -> None:
    sheet = read_xlsx(as_xlsx(table(("-TA1", "x", 1)), HEADING))
    assert sheet["A1"].value == "A list: Brine & transfer"
    assert sheet["A2"].value == "Drawing 1042 & 1043, revision A, for review"
    assert sheet.freeze_panes == "A5"
    assert sheet.auto_filter.ref == "A4:C5"
    assert (sheet.page_setup.orientation, sheet.page_setup.paperSize) == ("landscape", 9)  # ISO 216 A4 is 9 in OOXML
    assert sheet.print_title_rows == "$4:$4"
    assert sheet.page_setup.fitToWidth in (None, 1)  # 1 is the default of the format
    assert sheet.page_setup.fitToHeight == 0


def test_a_footer_keeps_an_ampersand_and_a_leading_digit() -> None:
    """In a footer ``&`` begins a command and ``&L1042`` would be a font size; ECMA-376-1, from memory."""
    data = as_xlsx(table(("-TA1", "x", 1)), HEADING)
    with zipfile.ZipFile(io.BytesIO(data)) as parts:
        tree = ElementTree.fromstring(parts.read("xl/worksheets/sheet1.xml"))
    footer = tree.find(".//{*}oddFooter")
    assert footer is not None
    assert footer.text == "&L 1042 && 1043 A&C for review&R A list, page &P of &N"


def test_long_and_strange_texts_do_not_break_a_workbook() -> None:
    heading = Heading("&" * 300, "&" * 300, "9" * 300, "x" * 300)
    sheet = read_xlsx(as_xlsx(table(("x" * 40_000, "\ud800\x01", None)), heading))
    assert sheet.cell(5, 1).value == "x" * 32_766 + "…"
    assert "ud800" in str(sheet.cell(5, 2).value)


def test_an_empty_list_is_a_list() -> None:
    assert as_csv(table()) == b"pin,text,length_m\n"
    assert read_xlsx(as_xlsx(table(), HEADING)).max_row == 4


_HASHES = """
import hashlib, sys
sys.path.insert(0, sys.argv[1])
from test_table_writers import HEADING, table
from wiregen.documents import as_csv, as_xlsx
t = table(("-TA1", "x", 1.5), ("-TA2", "y", None))
print(hashlib.sha256(as_csv(t) + as_xlsx(t, HEADING)).hexdigest())
"""


def test_the_same_table_gives_the_same_bytes_in_any_time_zone_and_with_any_hash_seed() -> None:
    folder = os.path.dirname(__file__)
    found = set()
    for seed, zone in (("0", "UTC"), ("1", "Pacific/Auckland")):
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": zone}
        run = [sys.executable, "-c", _HASHES, folder]
        found.add(subprocess.run(run, env=environment, check=True, capture_output=True).stdout)
    assert len(found) == 1


def test_numbers_within_names_are_sorted_as_numbers() -> None:
    names = ["-X1:10", "-X1:9", "-X1:PE", "-X10:1", "-X2:1", "w2", "w10", "", "9" * 6000]
    assert sorted(names, key=natural) == ["", "9" * 6000, "-X1:9", "-X1:10", "-X1:PE", "-X2:1", "-X10:1", "w2", "w10"]
