"""The lists of a design as sheets: strips, cables, functions, findings, in that order."""

from __future__ import annotations

from collections.abc import Sequence

from wiregen.documents import (
    TEST_CAUTION,
    finding_table,
    function_table,
    strip_table,
    terminations,
    test_sections,
    test_sheet,
)
from wiregen.drawing.box import Box
from wiregen.drawing.cable_sheets import cable_blocks
from wiregen.drawing.finding_sheets import finding_blocks
from wiregen.drawing.function_sheets import device_titles, function_blocks
from wiregen.drawing.plate import Setting
from wiregen.drawing.references import Kind
from wiregen.drawing.strip_sheets import strip_blocks
from wiregen.drawing.tables import Block, TableSheet, table_sheets
from wiregen.drawing.test_sheets import test_blocks
from wiregen.pipeline import Design


def list_sheets(design: Design, setting: Setting, area: Box) -> list[TableSheet]:
    """Every sheet of a list; a list that has nothing to say has no sheet."""
    references, wiring = setting.references, design.wiring
    strips = strip_blocks(strip_table(design), setting.places, references)
    cables = cable_blocks(wiring.cables, terminations(design), references)
    titles = device_titles((d.name, d.profile.title, d.text) for d in design.declared.devices)
    functions = function_blocks(function_table(design), titles, design.declared.selections, references)
    tests = test_sheet(design)
    kinds: tuple[tuple[str, Sequence[Block], Kind | None], ...] = (
        ("Strip table of", strips, "strip"),
        ("Cable table of", cables, "cable"),
        ("Function table of", functions, "functions"),
        ("Test sheet", test_blocks(tests, test_sections(tests), TEST_CAUTION), None),
        ("Findings", finding_blocks(finding_table(design)), None),
    )
    return [sheet for title, blocks, kind in kinds for sheet in table_sheets(title, blocks, area, kind=kind)]
