"""What contacts may switch against what is printed. Each row names its source; marks as in `test_published_figures`."""

from __future__ import annotations

from functools import partial

import pytest
from published_rows import PUBLISHED, Row

from wiregen.formulas import contact_ratings


def _ac_rating_rows() -> list[Row]:
    """NEMA ICS 5: code, thermal current, VA making and breaking, and the amperes printed by voltage."""
    four = (120, 240, 480, 600)
    printed: dict[str, tuple[float, float, float, tuple[tuple[float, float], ...]]] = {
        "A150": (10, 7200, 720, ((60, 6),)),
        "A300": (10, 7200, 720, ((60, 6), (30, 3))),
        "A600": (10, 7200, 720, ((60, 6), (30, 3), (15, 1.5), (12, 1.2))),
        "B150": (5, 3600, 360, ((30, 3),)),
        "B300": (5, 3600, 360, ((30, 3), (15, 1.5))),
        "B600": (5, 3600, 360, ((30, 3), (15, 1.5), (7.5, 0.75), (6, 0.6))),
        "C150": (2.5, 1800, 180, ((15, 1.5),)),
        "C300": (2.5, 1800, 180, ((15, 1.5), (7.5, 0.75))),
        "C600": (2.5, 1800, 180, ((15, 1.5), (7.5, 0.75), (3.75, 0.375), (3, 0.3))),
        "D150": (1, 432, 72, ((3.6, 0.6),)),
        "D300": (1, 432, 72, ((3.6, 0.6), (1.8, 0.3))),
        "E150": (0.5, 216, 36, ((1.8, 0.3),)),
    }
    rows = []
    for code, (thermal, makes, breaks, amperes) in printed.items():
        for volts, pair in zip(four, amperes, strict=False):
            got = partial(lambda c, v: contact_ratings.allowed(c, v), code, volts)
            expected = contact_ratings.Allowed(thermal, *pair)
            rows.append(Row("NEMA ICS 5", "reported", f"{code} at {volts} V", got, expected))
        found = contact_ratings.rating(code)
        rows.append(
            Row(
                "IEC 60947-5-1 annex A",
                "reported",
                f"{code}, VA",
                partial(lambda r: (r.make_va, r.break_va), found),
                (makes, breaks),
            )
        )
    return rows


def _dc_rating_rows() -> list[Row]:
    """NEMA ICS 5: thermal current, and the amperes printed at 125 V, 250 V and 301 to 600 V; rounded ones to 3 %."""
    at_125_v = {"N": 2.2, "P": 1.1, "Q": 0.55, "R": 0.22}
    at_250_v = {"N": 1.1, "P": 0.55, "Q": 0.27, "R": 0.11}
    above_300_v = {"N": 0.4, "P": 0.2}  # printed sources differ for Q600
    at_24_v = {"N": 10.0, "P": 5.0, "Q": 2.5}

    def breaks(code: str, volts: float) -> float:
        return contact_ratings.allowed(code, volts).break_a

    return [
        *(
            Row("NEMA ICS 5", "reported", f"{x}{top} at 125 V", partial(breaks, f"{x}{top}", 125), amps, 0.03)
            for x, amps in at_125_v.items()
            for top in (150, 300)
        ),
        *(
            Row("NEMA ICS 5", "reported", f"{x}300 at 250 V", partial(breaks, f"{x}300", 250), amps, 0.03)
            for x, amps in at_250_v.items()
        ),
        *(
            Row("NEMA ICS 5", "reported", f"{x}600 at {volts} V", partial(breaks, f"{x}600", volts), amps)
            for x, amps in above_300_v.items()
            for volts in (301, 600)
        ),
        *(
            Row("NEMA ICS 5", "reported", f"{x}300 at 24 V", partial(breaks, f"{x}300", 24), amps)
            for x, amps in at_24_v.items()
        ),
        Row("IEC 60947-5-1 annex A", "computed", "R300 at 24 V", partial(breaks, "R300", 24), 1.0),
    ]


def _category_rows() -> list[Row]:
    makes = {"AC-12": 1.0, "AC-13": 2.0, "AC-14": 6.0, "AC-15": 10.0}
    return [
        *(
            Row(
                "IEC 60947-5-1",
                "reported",
                f"{name} makes and breaks",
                partial(lambda n: (contact_ratings.category(n).makes, contact_ratings.category(n).breaks), name),
                (times, 1.0),
            )
            for name, times in makes.items()
        ),
        Row("IEC 60947-5-1", "reported", "old name AC-11", lambda: contact_ratings.category("AC-11").name, "AC-15"),
        Row("IEC 60947-5-1", "reported", "old name DC-11", lambda: contact_ratings.category("DC-11").name, "DC-13"),
        Row(
            "IEC 60947-5-1",
            "reported",
            "electromagnets of 72 VA are the last small ones",
            lambda: [contact_ratings.category_of("electromagnet", "AC", va).name for va in (72, 73)],
            ["AC-14", "AC-15"],
        ),
        Row(
            "IEC 60947-5-1",
            "from memory",
            "6 ms a watt, at most 300 ms",
            lambda: [contact_ratings.dc13_time_constant_s(w) for w in (10, 50, 100)],
            [0.06, 0.3, 0.3],
        ),
    ]


ROWS = [*_ac_rating_rows(), *_dc_rating_rows(), *_category_rows()]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.source}: {r.what}")
def test_the_code_allows_what_is_printed(row: Row) -> None:
    assert row.agrees(), (row.got(), row)


def test_there_are_enough_published_ratings() -> None:
    assert len([r for r in ROWS if r.mark in PUBLISHED]) >= 50
