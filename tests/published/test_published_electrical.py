"""Electrical formulas against what standards and handbooks print. Each row names its source and how it was read.

The marks are those of `test_published_figures`. A figure that is printed with few digits is held to those digits.
"""

from __future__ import annotations

import pytest
from cable_figures import CABLES
from circuit_figures import CIRCUITS
from published_rows import PUBLISHED, Row

ROWS = [*CABLES, *CIRCUITS]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.source}: {r.what}")
def test_the_code_reckons_what_is_printed(row: Row) -> None:
    assert row.agrees(), (row.got(), row)


def test_there_are_enough_published_figures() -> None:
    published = [r for r in ROWS if r.mark in PUBLISHED]
    assert len(published) >= 55
    assert len({r.source for r in published}) >= 6
