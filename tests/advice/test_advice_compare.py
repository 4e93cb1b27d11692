"""Alternatives side by side: their measures counted again from the design, and which of them no other beats."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

import wiregen
from wiregen import profiles
from wiregen.advice.alternatives import Choice, Option, choices, combined, count_of
from wiregen.advice.comparison import Alternative, Source, compared, tried, unbeaten
from wiregen.advice.exploring import explored
from wiregen.advice.measures import DIRECTIONS, Measures, measured
from wiregen.advice.reference_errors import reference_errors
from wiregen.behaviour.campaign import Campaign, summary
from wiregen.documents import cable_schedule, function_table, terminations
from wiregen.documents.comparison import comparison_json, comparison_table, side_by_side
from wiregen.formulas.potentiometers import worst_error

EXAMPLES = Path(__file__).parents[2] / "examples"
BRINE = EXAMPLES / "brine_pump.yaml"
LIBRARY = profiles.load()
STEMS = sorted(p.stem for p in EXAMPLES.glob("*.yaml"))


@pytest.mark.parametrize("stem", STEMS)
def test_measures_are_those_of_the_lists(stem: str) -> None:
    """The lists are made by other code; what they hold is counted here."""
    design = wiregen.design(wiregen.read(EXAMPLES / f"{stem}.yaml"))
    found = measured(design)
    cables = cable_schedule(design).records()
    lengths = [(r["cores"], r["length_m"]) for r in cables]
    assert found.cables == len(cables)
    if all(m is not None for _, m in lengths):
        assert found.core_m == pytest.approx(sum(n * m for n, m in lengths))  # type: ignore[operator, misc]
    else:
        assert found.core_m is None
    laid = [r for r in terminations(design).records() if r["kind"] in ("wire", "core") and r["to"]]
    assert found.conductors == len(laid)
    assert sum(n for _, n in found.used) == len(design.allocation.assignments)
    rows = function_table(design).records()
    assert found.settings == sum(r["terminal_function"] == "to be set" or bool(r["setting"]) for r in rows)
    assert (found.errors > 0) == design.has_errors
    direct = {str(s.plus): s.device for s in design.declared.supplies if not s.alternating and not s.fuse}
    read = [(direct[str(r.pin)], r.milliamps) for r in design.readings if str(r.pin) in direct and r.milliamps]
    for name, milliamps in read:
        assert milliamps <= dict(found.load_ma)[name] + 0.1
    assert found.unplaced == len(design.allocation.unplaced)


def test_the_brine_pump_by_hand() -> None:
    """Counted on the sheet and in the lists of the example."""
    found = measured(wiregen.design(wiregen.read(BRINE)))
    assert dict(found.used) == {"digital input": 4 + 1, "output": 2, "analog input": 2, "analog output": 0}
    assert dict(found.spare) == {"digital input": 2 + 15, "output": 0, "analog input": 0, "analog output": 1}
    assert (found.cables, found.core_m) == (2, 5 * 35 + 2 * 35)
    assert found.restart == (("-TA1", "needs a new start"),)
    assert dict(found.broken_wire) == {
        "does not start": ("start of -TA1",),
        "stops": ("stop of -TA1", "external trip of -TA1"),
        "falls to its low end": ("reference hand of -TA1",),
        "trips": ("reference auto of -TA1",),
    }
    assert found.stops_unseen == 0
    # The card draws 50 mA and the lamp 20 mA; stop and trip each 24 V over 4 kohm, and the transmitter up to 20 mA.
    assert found.load_ma == (("-TB1", 70.0), ("-TA1", 2 * 6.0 + 20.0))


def test_a_potentiometer_is_loaded_by_its_input() -> None:
    """4.7 kohm into 30 kohm, by the formula of a loaded divider; what is more is the output of the 10 V supply."""
    found = dict(reference_errors(wiregen.design(wiregen.read(BRINE))))
    by_formula = worst_error(4700.0, 30_000.0).error
    assert found["reference hand of -TA1"] == pytest.approx(by_formula, abs=5e-4)
    assert found["reference auto of -TA1"] == 0.0  # a current is the same all along its loop


def test_a_stop_that_a_broken_wire_disables_counts() -> None:
    found = measured(wiregen.design(wiregen.read(EXAMPLES / "wrong_on_purpose.yaml")))
    assert found.stops_unseen == 1  # its external trip acts on closing
    assert not found.fits


def test_what_it_takes_to_make_one_of_the_first() -> None:
    first, second = compared([Source("as declared", BRINE), Source("sinking", BRINE, "sinking")])
    assert first.measures is not None
    assert second.measures is not None
    assert first.measures.moved == 0
    # The feed of the field and that of the selector change places, and a bridge: the two wires at the strip.
    assert 0 < (second.measures.moved or 0) <= 4
    assert first.counts
    assert second.counts


def test_what_comes_of_open_conductors_is_counted_once_a_conductor() -> None:
    """The figures of the whole campaign, whose outcomes are one a conductor and state."""
    path = EXAMPLES / "irrigation_pump.yaml"
    (found,) = compared([Source("as declared", path)], faults=True)
    assert found.measures is not None
    assert found.measures.open_faults is not None
    campaign = Campaign.of(wiregen.design(wiregen.read(path)))
    opens = [fault for fault in campaign.faults if fault.kind == "open"]
    assert sum(number for _, number in found.measures.open_faults) == len({fault.name for fault in opens})
    assert {name for name, _ in found.measures.open_faults} <= set(summary(list(campaign.run(opens))))
    assert found.measures.figure("dangerous_opens") == 0
    assert compared([Source("as declared", path)])[0].measures.figure("dangerous_opens") is None  # type: ignore[union-attr]
    rows = [row[0] for row in side_by_side((found,)).rows]
    assert any(row.startswith("Conductors and cables that open: ") for row in rows)


# Which no other beats


def measures(**figures: float | None) -> Measures:
    plain = dict.fromkeys(("unplaced", "devices", "settings", "conductors", "cables", "errors", "warnings", "notes"), 0)
    return Measures(
        **(plain | {k: v for k, v in figures.items() if k in plain}),  # type: ignore[arg-type]
        used=(),
        spare=(("digital input", int(figures.get("spare", 0) or 0)),),
        core_m=figures.get("core_m"),
        load_ma=(("-TB1", float(figures.get("load_ma", 0) or 0)),),
        reference_errors=(),
        restart=(),
        broken_wire=(),
        stops_unseen=0,
        moved=None,
    )


def naive(alternatives: list[Alternative], keys: list[str]) -> tuple[int, ...]:
    """Every pair compared, column by column. Source: the definition of dominance, from memory."""
    ways = dict(DIRECTIONS)
    kept = []
    for i, one in enumerate(alternatives):
        if one.measures is None or one.measures.unplaced or one.measures.errors:
            continue
        beaten = False
        for j, other in enumerate(alternatives):
            if j == i or other.measures is None or other.measures.unplaced or other.measures.errors:
                continue
            as_good, better = True, False
            for key in keys:
                a, b = one.measures.figure(key), other.measures.figure(key)
                if a is None or b is None:
                    as_good = as_good and a is None and b is None
                    continue
                gain = (a - b) if ways[key] == "less" else (b - a)
                as_good, better = as_good and gain >= 0, better or gain > 0
            beaten = beaten or (as_good and better)
        if not beaten:
            kept.append(i)
    return tuple(kept)


@pytest.mark.parametrize("seed", range(40))
def test_unbeaten_as_every_pair_compared(seed: int) -> None:
    rng = random.Random(seed)
    found = [
        Alternative(str(i), None, "no")
        if rng.random() < 0.1
        else Alternative(
            str(i),
            measures(
                settings=rng.randrange(4),
                cables=rng.randrange(3),
                spare=rng.randrange(4),
                errors=int(rng.random() < 0.1),
                unplaced=int(rng.random() < 0.1),
                core_m=rng.choice([None, 10.0, 20.0]) if seed % 2 else 5.0,
            ),
        )
        for i in range(30)
    ]
    every = [key for key, _ in DIRECTIONS]
    assert unbeaten(found) == naive(found, every)
    for keys in (["settings"], ["spare", "cables"], ["core_m", "settings"]):
        assert unbeaten(found, keys) == naive(found, keys)


def test_equal_ones_stay_and_order_means_nothing() -> None:
    good, bad = measures(settings=1), measures(settings=2)
    found = [Alternative(n, m) for n, m in (("a", bad), ("b", good), ("c", good), ("d", bad))]
    assert unbeaten(found) == (1, 2)
    assert unbeaten(found[::-1]) == (1, 2)


# Alternatives of its own making


def test_combinations_begin_with_what_is_declared_and_hold_every_one() -> None:
    some = [
        Choice("x", (Option("a", {"k": {"x": "1"}}), Option("b", {"k": {"x": "2"}}))),
        Choice("y", (Option("c", {"k": {"y": None}}),)),
    ]
    found = list(combined(some))
    assert [o.name for o in found] == ["as declared", "a", "b", "c", "a, c", "b, c"]
    assert len(found) == count_of(some)
    assert found[-1].patch == {"k": {"x": "2", "y": None}}


def test_what_the_brine_pump_can_do_otherwise() -> None:
    names = [o.name for c in choices(wiregen.read(BRINE), LIBRARY) for o in c.others]
    assert names == [
        "-TA1 wired for sink",
        "-TA1 two-wire",
        "auto of -TA1 as 0-10 V",
        "-KE5 wired for sink",
        "-TA1 as drive_extended",
        "-BL1 as transmitter_four_wire",
        "-BL1 as transmitter_three_wire",
    ]
    only = [o.name for c in choices(wiregen.read(BRINE), LIBRARY, ["-BL1"]) for o in c.others]
    assert only == ["-BL1 as transmitter_four_wire", "-BL1 as transmitter_three_wire"]


def test_a_two_wire_transmitter_gives_no_voltage_and_one_of_three_wires_does() -> None:
    patches = {o.name: o.patch for c in choices(wiregen.read(BRINE), LIBRARY) for o in c.others}
    voltage = patches["auto of -TA1 as 0-10 V"]
    assert not tried(Source("V", BRINE, None, voltage)).counts
    both = {**voltage, "devices": {**patches["-BL1 as transmitter_three_wire"]["devices"]}}
    assert tried(Source("V", BRINE, None, both)).measures is not None


def test_two_wires_in_place_of_three_free_a_core_and_a_device() -> None:
    (option,) = (o for c in choices(wiregen.read(BRINE), LIBRARY) for o in c.others if o.name == "-TA1 two-wire")
    design = Source("two", BRINE, None, option.patch).design()
    assert {f.name for f in design.functions} & {"start", "stop", "run forward"} == {"run forward"}
    assert not design.has_errors
    assert "-SJ2" not in {d.name for d in design.declared.devices}


def test_three_wires_in_place_of_two() -> None:
    path = EXAMPLES / "irrigation_pump.yaml"
    (option,) = (o for c in choices(wiregen.read(path), LIBRARY) for o in c.others if "three-wire" in o.name)
    design = Source("three", path, None, option.patch).design()
    assert {"start", "stop"} <= {f.name for f in design.functions}
    assert not design.has_errors


def test_a_card_selects_in_place_of_a_selector_and_the_reverse(tmp_path: Path) -> None:
    card = "  -KE6: {profile: io_digital_out_16, at: +C1}\n"
    text = BRINE.read_text(encoding="utf-8").replace("  -KE5: {profile", f"{card}  -KE5: {{profile")
    path = tmp_path / "with_card.yaml"
    path.write_text(text, encoding="utf-8")
    (option,) = (o for c in choices(wiregen.read(path), LIBRARY) for o in c.others if "selected by" in o.name)
    assert option.name == "-TA1 selected by -KE6"
    design = Source("card", path, None, option.patch).design()
    assert "-SJ3" not in {d.name for d in design.declared.devices}
    assert [a.device for a in design.allocation.assignments if a.function == "select 1 of -TA1"] == ["-KE6"]
    assert not design.has_errors
    section = text.replace("{by: [-SJ3], when: {HAND: hand, AUTO: auto}}", '{by: [-KE6], when: {"0": hand, "1": auto}}')
    path.write_text("\n".join(x for x in section.splitlines() if "-SJ3: {" not in x) + "\n", encoding="utf-8")
    (back,) = (o for c in choices(wiregen.read(path), LIBRARY) for o in c.others if "selected by" in o.name)
    design = Source("selector", path, None, back.patch).design()
    assert not design.has_errors
    assert "selector" in {d.kind for d in design.declared.devices}


@pytest.mark.parametrize("stem", ["mash_mixer", "pressure_pump", "reversing_conveyor", "retrofit_dosing_pump"])
def test_every_single_change_can_be_read_or_says_why_not(stem: str) -> None:
    path = EXAMPLES / f"{stem}.yaml"
    found = choices(wiregen.read(path), LIBRARY)
    for option in (o for c in found for o in c.others):
        one = tried(Source(option.name, path, None, option.patch))
        assert one.measures is not None or one.because
        assert "internal fault" not in one.because


def test_processes_change_nothing() -> None:
    found = list(combined(choices(wiregen.read(BRINE), LIBRARY)))[:16]
    sources = [Source(o.name, BRINE, None, o.patch) for o in found]
    told: list[int] = []
    assert explored(sources, tell=told.append, processes=2) == explored(sources, processes=1)
    assert told == list(range(1, 17))


# Tables


def test_tables_hold_every_alternative() -> None:
    found = (
        *compared([Source("as declared", BRINE), Source("sinking", BRINE, "sinking")]),
        Alternative("x", None, "no"),
    )
    table = comparison_table(found)
    assert [r["alternative"] for r in table.records()] == ["as declared", "sinking", "x"]
    assert table.records()[2]["fits"] == "cannot be: no"
    beside = side_by_side(found)
    assert [c.title for c in beside.columns] == ["Measure", "as declared", "sinking", "x"]
    assert ("Terminals: analog input", "2 used, 0 spare", "2 used, 0 spare", "") in beside.rows
    assert [e["possible"] for e in comparison_json(found)] == [True, True, False]
