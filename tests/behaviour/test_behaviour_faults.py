"""Single faults of the brine pump against those that were classed by hand, and variants that turn a class round.

The rows are those of a worked example: the pump runs by its hand reference unless another state is named, contacts
switch +24 V, and the 0 V is earthed. Source: worked out by hand.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from pathlib import Path

import pytest

import wiregen
from wiregen import profiles
from wiregen.behaviour.campaign import Campaign, Outcome
from wiregen.behaviour.severities import independent_stops, severity
from wiregen.scheme import read_text
from wiregen.terms import Pin, Severity

EXAMPLE = Path(__file__).parents[2] / "examples" / "brine_pump.yaml"
HAND = "running forward, reference hand"
AUTO = "running forward, reference auto"


@cache
def campaign(*changes: tuple[str, str], start_by: str = "") -> tuple[wiregen.pipeline.Design, Campaign]:
    text = EXAMPLE.read_text(encoding="utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    known = dict(profiles.load(None))
    if start_by:
        found = known["drive_compact"].model_copy(update={"start_by": start_by, "start_with_stop_closed": None})
        known["drive_compact"] = found
    design = wiregen.design(read_text(text, "pump.yaml", profiles=known))
    return design, Campaign.of(design)


def function_core(design: wiregen.pipeline.Design, function: str) -> str:
    """The id of the core that carries a potential."""
    return next(c.id for c in design.wiring.conductors if c.kind == "core" and c.potential == function)


def outcomes(found: tuple[wiregen.pipeline.Design, Campaign], kind: str, *at: str, state: str = HAND) -> list[Outcome]:
    """The outcomes of the one fault of a kind at a place, as built, in the states that a text begins."""
    own = found[1]
    faults = [f for f in own.faults if f.kind == kind and f.at == at and not f.assumed]
    assert len(faults) == 1, (kind, at, [f.at for f in own.faults if f.kind == kind])
    listed = [o for o in own.run(faults) if o.state.startswith(state)]
    assert listed
    return listed


def core(name: str) -> str:
    return function_core(campaign()[0], name)


FEED, START, STOP, TRIP = (
    "24 V of -TA1",
    "start of -TA1",
    "stop of -TA1",
    "external trip of -TA1",
)
ROWS: dict[str, tuple[Callable[[], list[Outcome]], str, str]] = {
    "core 1 open": (lambda: outcomes(campaign(), "open", core(FEED)), "stops", "at once"),
    "core 2 open": (lambda: outcomes(campaign(), "open", core(START)), "blocked", "at next start"),
    "core 3 open": (lambda: outcomes(campaign(), "open", core(STOP)), "stops", "at once"),
    "core 4 open": (lambda: outcomes(campaign(), "open", core(TRIP)), "stops", "at once"),
    "cores 1-2 touch": (lambda: outcomes(campaign(), "short", core(FEED), core(START)), "blocked", "at next start"),
    "cores 1-3 touch": (lambda: outcomes(campaign(), "short", core(FEED), core(STOP)), "unstoppable", "at next stop"),
    "cores 1-4 touch": (lambda: outcomes(campaign(), "short", core(FEED), core(TRIP)), "unprotected", "at test only"),
    "cores 2-3 touch, plain edge": (
        lambda: outcomes(campaign(start_by="edge"), "short", core(START), core(STOP)),
        "self-start",
        "at next stop",
    ),
    "cores 2-3 touch, stop closed first": (
        lambda: outcomes(campaign(), "short", core(START), core(STOP)),
        "blocked",
        "at next start",
    ),
    "earth on core 1": (lambda: earth(FEED), "stops", "at once"),
    "earth on core 2": (lambda: earth(START), "blocked", "at next start"),
    "earth on core 3": (lambda: earth(STOP), "stops", "at once"),
    "-RA1:2 open": (lambda: at_pin("-RA1:2"), "slows", "at once"),
    "-RA1:3 open": (lambda: at_pin("-RA1:3"), "slows", "at once"),
    "-BL1 lead open, AUTO": (lambda: at_pin("-BL1:-", AUTO), "stops", "at once"),
    "-BL1 + to -, AUTO": (
        lambda: outcomes(campaign(), "short", "-BL1:+", "-BL1:-", state=AUTO),
        "damages",
        "at once",
    ),
    "-BL1 + to -, AUTO, only low watched": (
        lambda: outcomes(campaign((", on_high: trip", "")), "short", "-BL1:+", "-BL1:-", state=AUTO),
        "speeds-up",
        "at once",
    ),
    "-SJ3 wire open, AUTO, knob up": (lambda: at_pin("-SJ3:14", f"{AUTO}, other signals high"), "speeds-up", "at once"),
    "lamp open": (lambda: at_pin("-PF1:X1"), "misleads", "at test only"),
}  # fmt: skip


def earth(potential: str, *changes: tuple[str, str]) -> list[Outcome]:
    own = campaign(*changes)
    ids = tuple(c.id for c in own[0].wiring.conductors if c.potential == potential and c.b is not None)
    return outcomes(own, "earth", *ids)


def at_pin(pin: str, state: str = HAND) -> list[Outcome]:
    """The one conductor that ends at a pin, open."""
    design = campaign()[0]
    own = Pin(*pin.split(":"))
    ids = [c.id for c in design.wiring.conductors if own in (c.a, c.b) and c.b is not None]
    assert len(ids) == 1
    return outcomes(campaign(), "open", *ids, state=state)


@pytest.mark.parametrize("row", ROWS)
def test_a_fault_is_classed_as_by_hand(row: str) -> None:
    given, wanted, noticed = ROWS[row]
    for outcome in given():
        assert (outcome.fault_class, outcome.noticed) == (wanted, noticed), outcome


def test_a_touching_transmitter_shows_as_much_current_as_by_hand() -> None:
    # 95 mA and 23.75 V on the input, worked out by hand.
    own = campaign()[1]
    fault = next(f for f in own.faults if f.at == ("-BL1:+", "-BL1:-"))
    base = next(b for b in own.bases if b.name.startswith(AUTO))
    plant = own.plant.changed(fault.change)
    standing = plant.after(base.standing, base.standing.hands)
    signals = {s.signal: n for n, s in enumerate(plant.observer.signals) if s.pin.device == "-TA1"}
    assert standing.reading is not None
    assert standing.reading.values[signals["4-20 mA"]] == pytest.approx(0.095, abs=0.001)


def test_a_start_by_level_that_is_held_on_runs_again_when_the_stop_is_let_go() -> None:
    (found,) = {o.fault_class for o in outcomes(campaign(start_by="level"), "short", core(FEED), core(START))}
    assert found == "self-start"


def test_whether_an_operator_can_still_stop() -> None:
    assert {o.stop for o in outcomes(campaign(), "short", core(FEED), core(STOP))} == {"none"}
    assert {o.stop for o in outcomes(campaign(), "short", core(FEED), core(TRIP))} == {"works"}
    assert {o.stop for o in outcomes(campaign(), "open", core(START))} == {"works"}


def test_earth_faults_start_nothing_while_contacts_switch_the_unearthed_side() -> None:
    # IEC 60204-1 9.4.3: earth faults in a control circuit shall not start, nor keep a stop from acting; from memory.
    _, own = campaign()
    found = list(own.run([f for f in own.faults if f.kind == "earth"]))
    assert len(found) > 100
    assert {o.fault_class for o in found}.isdisjoint({"self-start", "unstoppable", "reverses"})
    sinking = campaign(("inputs: source\n    zero_volt", "inputs: sink\n    zero_volt"))
    started = [o for o in sinking[1].run([f for f in sinking[1].faults if f.kind == "earth"]) if not o.fault.assumed]
    independent = independent_stops(sinking[0].declared)
    worst = {(o.fault_class, severity(o, independent)) for o in started}
    assert ("self-start", Severity.ERROR) in worst
    assert ("unstoppable", Severity.ERROR) in worst


def test_a_stop_that_acts_by_energising_is_lost_with_its_wire() -> None:
    # IEC 60204-1 9.2.3: a stop acts by de-energising; from memory. A make contact, taken as closed, breaks that.
    wrong = campaign(
        ("-SJ2: {profile: push_button, contact: NC", "-SJ2: {profile: push_button, contact: NO"),
        ("stop: -SJ2}", "stop: {by: -SJ2, healthy: open}}"),
    )
    found = outcomes(wrong, "open", function_core(wrong[0], STOP))
    assert {o.fault_class for o in found} == {"unstoppable"}
    assert {severity(o, frozenset()) for o in found} == {Severity.ERROR}


def test_severities_as_promised() -> None:
    design, _ = campaign()
    independent = independent_stops(design.declared)
    assert independent == frozenset()
    short = outcomes(campaign(), "short", core(FEED), core(STOP))
    assert {severity(o, independent) for o in short} == {Severity.WARNING}
    assert {severity(o, frozenset({"-TA1"})) for o in short} == {Severity.NOTE}
    assert {severity(o, independent) for o in outcomes(campaign(), "short", core(FEED), core(TRIP))} == {
        Severity.WARNING
    }
    assert {severity(o, independent) for o in outcomes(campaign(), "open", core(START))} == {Severity.NOTE}


def test_no_fault_leaves_a_plant_without_rest() -> None:
    _, own = campaign()
    for fault in own.faults[::5]:
        plant = own.plant.changed(fault.change)
        for base in own.bases:
            assert not plant.after(base.standing, fault.on(base.standing.hands)).restless, fault.name


HONEST = ("grain_auger", "irrigation_pump", "lifting_table", "pressure_pump", "retrofit_dosing_pump", "shuttle")


@pytest.mark.parametrize("name", HONEST)
def test_no_avoidable_fault_starts_a_motor_or_keeps_a_stop_from_stopping(name: str) -> None:
    # IEC 60204-1 9.2.3 and 9.4.3, from memory: broken wires and earth faults start nothing, and every stop still stops.
    design = wiregen.design(wiregen.read(EXAMPLE.with_name(f"{name}.yaml")))
    own = Campaign.of(design)
    faults = [f for f in own.faults if f.kind in ("open", "no-close", "earth", "supply") and not f.assumed]
    found = list(own.run(faults))
    assert len(found) > 40
    assert [o for o in found if o.fault_class in ("self-start", "unstoppable")] == []


BOTH_WAYS = """
scheme: Two relays that lock each other out
places: {+C1: {name: Cabinet}}
devices:
  -TB1: {profile: supply_24v, at: +C1, zero_volt: earthed}
  -TA1: {profile: drive_compact, at: +C1}
  -KF1: {profile: interposing_relay, at: +C1, poles: 3}
  -KF2: {profile: interposing_relay, at: +C1, poles: 3}
  -SJ1: {profile: push_button, contact: NO, at: +C1, text: FORWARD}
  -SJ2: {profile: push_button, contact: NO, at: +C1, text: REVERSE}
  -SJ3: {profile: push_button, contacts: [NC, NC], at: +C1, text: STOP}
control:
  -TA1:
    inputs: {wired: source, supply: -TB1}
    zero_volt: {joined_to: -TB1}
    restart: needs_start
    run: {method: two-wire, forward: -KF1, reverse: -KF2, both: stop}
    speed: {one: {preset: 30 Hz}}
  -KF1: {energise: {all: [-SJ3, -KF2.31-32, {any: [-SJ1, -KF1]}]}, supply: -TB1}
  -KF2: {energise: {all: [-SJ3, -KF1.31-32, {any: [-SJ2, -KF2]}]}, supply: -TB1}
"""


def test_a_motor_that_a_fault_has_stopped_and_its_button_starts_the_other_way_is_not_reversed() -> None:
    """Without the fault the lock-out would have refused that button; with it the motor still goes as it is told."""
    design = wiregen.design(read_text(BOTH_WAYS, "both.yaml", profiles=profiles.load(None)))
    own = Campaign.of(design)
    found = list(own.run([f for f in own.faults if f.kind in ("open", "no-close")]))
    assert {o.fault_class for o in found} == {"blocked", "stops", "hidden"}
    # An interlock that does not open is another thing: then a button turns a motor round that runs.
    stuck = [f for f in own.faults if f.kind == "weld" and "31-32" in f.name]
    assert len(stuck) == 2
    assert "reverses" in {o.fault_class for o in own.run(stuck)}
