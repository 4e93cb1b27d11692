"""Starting, checking and packing stay cheap beside what they stand on: ratios in one run, never seconds."""

from __future__ import annotations

from collections.abc import Callable

import pytest
import ratios

ATTEMPTS = 4
Record = Callable[[str, object], None]


@pytest.mark.parametrize(
    ("measure", "most"),
    [(ratios.help_ratio, 2.0), (ratios.check_ratio, 1.5), (ratios.pack_ratio, 1.0)],
    ids=["help", "check", "pack"],
)
def test_ratio(measure: Callable[[], ratios.Ratio], most: float, record_property: Record) -> None:
    """A busy machine spoils a measurement now and then, but does not make a slow program fast: the best of several."""
    found = []
    for _ in range(ATTEMPTS):
        found.append(measure())
        if found[-1].value <= most:
            break
    record_property("ratios", [str(ratio) for ratio in found])
    assert min(ratio.value for ratio in found) <= most, "\n".join(map(str, found))


def test_check_loads_nothing_that_only_draws_or_writes() -> None:
    loaded = set(ratios.loaded_by("check", str(ratios.BRINE)))
    assert {"wiregen.pipeline", "wiregen.review", "highspy"} <= loaded
    useless = {"cairosvg", "cairocffi", "svgwrite", "schemdraw", "ziafont", "xlsxwriter", "wiregen.drawing"}
    assert not useless & loaded
