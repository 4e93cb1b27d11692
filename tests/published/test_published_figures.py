"""Figures of the code against what standards and handbooks print. Each row names its source and how it was read.

``reported``: read where others quote the document; ``extract``: read in a quotation of its text; ``read``: in the
document itself; ``computed``: from such figures by another way than the code's; ``from memory``: not seen.
"""

from __future__ import annotations

from functools import partial

import pytest
from published_rows import PUBLISHED, Row

from wiregen.formulas import (
    colours,
    conductors,
    contact_marks,
    cores,
    designations,
    ferrules,
    input_types,
    signal_bands,
)
from wiregen.profiles import load


def _class_rows() -> list[Row]:
    printed = {
        2: {0.5: 36.0, 0.75: 24.5, 1: 18.1, 1.5: 12.1, 2.5: 7.41, 4: 4.61, 6: 3.08, 10: 1.83},
        5: {0.5: 39.0, 0.75: 26.0, 1: 19.5, 1.5: 13.3, 2.5: 7.98, 4: 4.95, 6: 3.30, 10: 1.91},
    }
    return [
        Row(
            "IEC 60228",
            "reported",
            f"class {cls}, {area:g} mm2, ohm/km",
            partial(lambda a, c: conductors.resistance_ohm_per_km(a, c), area, cls),
            ohms,
        )
        for cls, table in printed.items()
        for area, ohms in table.items()
    ]


def _temperature_rows() -> list[Row]:
    printed = {5: 1.064, 10: 1.042, 15: 1.020, 25: 0.980, 30: 0.962, 35: 0.943, 40: 0.926, 50: 0.893, 60: 0.862}
    printed |= {70: 0.833, 80: 0.806, 90: 0.781, 100: 0.758}
    return [
        Row(
            "IEC 60228 annex",
            "reported",
            f"factor to 20 C from {celsius} C",
            partial(lambda t: round(1 / conductors.temperature_factor(t), 3), celsius),
            factor,
        )
        for celsius, factor in printed.items()
    ]


def _awg_rows() -> list[Row]:
    # The resistance is that of published wire tables, not the code's own law; they agree to 0.2 %.
    printed = {10: 3.28, 12: 5.21, 14: 8.28, 16: 13.17, 18: 20.94, 20: 33.29, 22: 52.94, 24: 84.20}
    return [
        Row(
            "ASTM B258",
            "reported",
            f"AWG {gauge}, ohm/km",
            partial(lambda n: conductors.awg_resistance_ohm_per_km(n), gauge),
            ohms,
            0.002,
        )
        for gauge, ohms in printed.items()
    ] + [
        Row("ASTM B258", "computed", "AWG 16, mm", lambda: round(conductors.awg_diameter_mm(16), 3), 1.291),
        Row("ASTM B258", "computed", "AWG 14, mm2", lambda: round(conductors.awg_area_mm2(14), 3), 2.081),
        # The definition of the gauge: AWG 36 is 0.005 inch, 0000 is 92 times as thick, 39 steps away.
        Row("ASTM B258", "reported", "AWG 36, mm", lambda: conductors.awg_diameter_mm(36), 0.127, 1e-9),
    ]


def _colour_rows() -> list[Row]:
    din_47100 = "WH BN GN YE GY PK BU RD BK VT GYPK RDBU WHGN BNGN WHYE YEBN WHGY GYBN WHPK PKBN WHBU BNBU WHRD BNRD"
    iec_60757 = "BK BN RD OG YE GN BU VT GY WH PK GD TQ SR GNYE"
    iec: list[tuple[colours.CircuitKind, str]] = [
        ("power", "BK"),
        ("ac_control", "RD"),
        ("dc_control", "BU"),
        ("excepted", "OG"),
        ("neutral", "BU"),
        ("protective", "GNYE"),
    ]
    nfpa: list[tuple[colours.CircuitKind, str]] = [
        ("power", "black"),
        ("ac_control", "red"),
        ("dc_control", "blue"),
        ("dc_return", "white with blue stripe"),
        ("excepted_return", "white with orange stripe"),
    ]
    return [
        *(
            Row(
                "DIN 47100",
                "reported",
                f"core {n}",
                partial(lambda k: colours.core_colour(k).code("DIN 47100"), n),
                code,
            )
            for n, code in enumerate(din_47100.split(), start=1)
        ),
        *(
            Row(
                "DIN 47100",
                "reported",
                f"core {n}",
                partial(lambda k: colours.core_colour(k).code("DIN 47100"), n),
                code,
            )
            for n, code in ((31, "GNBU"), (44, "RDBK"), (45, "WHBNBK"), (54, "GYBNBK"))
        ),
        Row("IEC 60757", "reported", "letter codes", lambda: " ".join(colours.letter_codes()), iec_60757),
        Row("IEC 60757", "extract", "red and blue", lambda: colours.combined("BU", "RD"), "RDBU"),
        Row("IEC 60757", "extract", "white and green", lambda: colours.core_colour(13).code(), "GNWH"),
        Row("IEC 60757", "extract", "yellow and brown", lambda: colours.core_colour(16).code(), "BNYE"),
        Row(
            "IEC 60757",
            "reported",
            "five cores",
            lambda: colours.listed(["BK", "BK", "BN", "BU", "GNYE"]),
            "BK+BK+BN+BU+GNYE",
        ),
        *(
            Row(
                "IEC 60204-1 13.2",
                "reported",
                kind,
                partial(lambda k: colours.circuit_colour(k, "iec").code(), kind),
                code,
            )
            for kind, code in iec
        ),
        *(
            Row(
                "NFPA 79 chapter 13",
                "reported",
                kind,
                partial(lambda k: colours.circuit_colour(k, "nfpa").words, kind),
                words,
            )
            for kind, words in nfpa
        ),
        Row("DIN 47100", "from memory", "pair 4", lambda: [c.code() for c in colours.pair_colours(4)], ["BU", "RD"]),
    ]


def _mark_rows() -> list[Row]:
    printed = {
        ("11", "12"): "NC",
        ("13", "14"): "NO",
        ("11", "14"): "NO",
        ("23", "24"): "NO",
        ("21", "22"): "NC",
        ("95", "96"): "NC",
        ("97", "98"): "NO",
        ("95", "98"): "NO",
    }
    return [
        Row(
            "EN 50005",
            "from memory" if "9" in pins[0] else "reported",
            f"contact {pins[0]}-{pins[1]}",
            partial(lambda p: contact_marks.contact_form(*p), pins),
            form,
        )
        for pins, form in printed.items()
    ] + [
        Row(
            "EN 50005",
            "reported",
            "changeover pole",
            lambda: contact_marks.pins_of("changeover", 1),
            ("11", "12", "14"),
        ),
    ]


def _ferrule_rows() -> list[Row]:
    printed = {0.5: "WH", 0.75: "GY", 1: "RD", 1.5: "BK", 2.5: "BU", 4: "GY", 6: "YE", 10: "RD", 16: "BU", 25: "YE"}

    def collar(area: float) -> str | None:
        found = ferrules.ferrule(area)
        return found.collar if found and found.area_mm2 == area else None

    return [
        Row("DIN 46228-4", "reported", f"collar at {area:g} mm2", partial(lambda a: collar(a), area), code)
        for area, code in printed.items()
    ] + [Row("DIN 46228-4", "reported", "none below 0.5 mm2", lambda: ferrules.ferrule(0.34), None)]


def _input_rows() -> list[Row]:
    one, two, three = input_types.input_type("1"), input_types.input_type("2"), input_types.input_type("3")
    low_supply = 24.0 * 0.85  # IEC 61131-2: -15 %
    across = low_supply - 8.0  # IEC 60947-5-2: a two-wire switch drops at most 8 V
    left = 24.0 - 8.0
    leak = 0.0015  # IEC 60947-5-2: and leaks at most 1.5 mA
    return [
        Row("IEC 61131-2", "reported", "type 1 on from", lambda: (one.on_least_v, one.on_least_a), (15.0, 0.002)),
        Row("IEC 61131-2", "reported", "type 3 on from", lambda: three.on_least_v, 11.0),
        Row("IEC 61131-2", "reported", "off up to", lambda: {one.off_most_v, three.off_most_v}, {5.0}),
        Row("IEC 61131-2", "reported", "type 1 off current", lambda: one.off_most_a, 0.0005),
        Row("IEC 61131-2", "reported", "type 2 off current", lambda: two.off_most_a, 0.002),
        Row("IEC 61131-2", "from memory", "type 3 off current", lambda: three.off_most_a, 0.0015),
        Row("IEC 61131-2", "from memory", "type 2 on current", lambda: two.on_least_a, 0.006),
        Row(
            "IEC 61131-2",
            "reported",
            "source: +24 V",
            lambda: input_types.wiring("source")[0::4],
            ("+24 V", "sourcing"),
        ),
        Row("IEC 61131-2", "reported", "the kind of input", lambda: input_types.wiring("source")[2], "current-sinking"),
        Row("IEC 61131-2", "reported", "sensor for source", lambda: input_types.wiring("source").sensor, "PNP"),
        Row("IEC 61131-2", "reported", "sensor for sink", lambda: input_types.wiring("sink").sensor, "NPN"),
        Row("IEC 60947-5-2", "computed", "two-wire, 24 V, type 1", lambda: one.state(left, 0.004), "on"),
        Row("IEC 60947-5-2", "computed", "two-wire, 20.4 V, type 1", lambda: one.state(across, 0.003), "undefined"),
        Row("IEC 60947-5-2", "computed", "two-wire, 20.4 V, type 3", lambda: three.state(across, 0.003), "on"),
        Row("IEC 60947-5-2", "computed", "leakage, type 1", lambda: one.state(6.0, leak), "undefined"),
        Row("IEC 60947-5-2", "computed", "leakage, type 2", lambda: two.state(6.0, leak), "off"),
        Row("IEC 60947-5-2", "computed", "leakage, type 3", lambda: three.state(6.0, leak), "off"),
    ]


def _signal_rows() -> list[Row]:
    printed = {
        3.5: "failure low",
        3.6: "failure low",
        3.8: "under range",
        4.0: "measuring",
        20.0: "measuring",
        20.5: "over range",
        21.0: "failure high",
        22.0: "failure high",
    }
    return [
        Row("NAMUR NE 43", "reported", f"{ma} mA", partial(lambda i: signal_bands.band(i), ma), name)
        for ma, name in printed.items()
    ] + [
        Row("NAMUR NE 43", "computed", f"{ma} mA", partial(lambda i: signal_bands.band(i), ma), name)
        for ma, name in ((3.7, "undefined low"), (20.7, "undefined high"))
    ]


def _code_rows() -> list[Row]:
    printed = {
        ("push button", "2019"): "SJ",
        ("relay", "2009"): "KF",
        ("relay", "2019"): "KF",
        ("contactor", "2019"): "QA",
        ("fuse", "2019"): "FC",
        ("limit switch", "2019"): "BG",
        ("valve", "2019"): "MB",
    }

    def code(item: str, edition: str) -> str:
        return next(c.code for c in designations.codes_of(item) if c.edition == edition)

    return [
        Row("IEC 81346-2", "reported", f"{key[0]}, {key[1]}", partial(lambda k: code(*k), key), letters)
        for key, letters in printed.items()
    ]


def _cable_rows() -> list[Row]:
    return [
        Row("BS 5308", "reported", "pairs", cores.pair_counts, (1, 2, 5, 10, 15, 20, 30, 50)),
        Row(
            "common practice, no source",
            "from memory",
            "control cable",
            lambda: {2, 3, 4, 5, 7, 12, 18, 25} <= set(cores.core_counts()),
            True,
        ),
        Row("computed", "computed", "20 % of 4 cores", lambda: cores.next_size(cores.needed(4, 20), (5, 7)).chosen, 5),
        # 100 m of 0.75 mm2, class 5: 2 x 100 m x 26.0 ohm/km
        Row("IEC 60228", "computed", "a loop", lambda: conductors.loop_resistance_ohm(100, 0.75), 5.2, 1e-9),
        # 24 V, 12 V lift-off, 250 ohm burden, 20 mA leave 350 ohm: 6731 m of the same cable
        Row("IEC 60228", "computed", "6731 m", lambda: round(conductors.loop_resistance_ohm(6731, 0.75)), 350),
    ]


def _profile_rows() -> list[Row]:
    library = load()

    def figure(profile: str, name: str) -> float:
        return library[profile].figures[name].si

    return [
        Row("IEC 60947-5-2", "reported", "two-wire leakage", lambda: figure("proximity_two_wire", "leakage"), 0.0015),
        Row("IEC 60947-5-2", "from memory", "two-wire drop", lambda: figure("proximity_two_wire", "drop"), 8.0),
        Row("IEC 60947-5-2", "from memory", "least", lambda: figure("proximity_two_wire", "least_current"), 0.005),
        Row("IEC 60947-5-2", "from memory", "three-wire drop", lambda: figure("proximity_three_wire", "drop"), 3.5),
        Row("DIN 44082", "reported", "three thermistors cold", lambda: figure("thermistor", "cold_most"), 750.0),
        Row("DIN VDE V 0898-1-401", "reported", "hot", lambda: figure("thermistor", "hot_least"), 4000.0),
        Row(
            "IEC 61131-2",
            "from memory",
            "rated output current",
            lambda: {t.limit.si for t in library["io_digital_out_16"].terminals if t.limit},
            {0.5},
        ),
    ]


ROWS = [
    *_class_rows(),
    *_temperature_rows(),
    *_awg_rows(),
    *_colour_rows(),
    *_mark_rows(),
    *_ferrule_rows(),
    *_input_rows(),
    *_signal_rows(),
    *_code_rows(),
    *_cable_rows(),
    *_profile_rows(),
]


@pytest.mark.parametrize("row", ROWS, ids=lambda r: f"{r.source}: {r.what}")
def test_the_code_says_what_is_printed(row: Row) -> None:
    assert row.agrees(), row


def test_there_are_enough_published_figures() -> None:
    published = [r for r in ROWS if r.mark in PUBLISHED]
    assert len(published) >= 25
    assert len({r.source for r in published}) >= 8
