"""One current through several receivers: every piece of the loop by hand, and the sheet that shows it whole.

Order and feed: IEC 60381-1 (receivers in series), from memory; common practice, no source.
"""

from __future__ import annotations

import re

import pytest

import wiregen
from wiregen import drawing, profiles, scheme
from wiregen.drawing import overlaps
from wiregen.pipeline import Design
from wiregen.terms import Pin

PLANT = """\
scheme: Loop
places: {+C1: {name: Cabinet}, +F1: {name: Field, route: 20 m}, +F2: {name: Far, route: 30 m}}
devices:
  -TB1: {profile: supply_24v, at: +C1}
  -TA1: {profile: drive_compact, at: +C1}
  -KE4: {profile: io_analog_in_8, at: %(card)s}
  -KE5: {profile: io_analog_in_8, at: +C1}
  -BP1: {profile: transmitter_%(wires)s_wire, figures: {lift_off: 5 V}, at: %(place)s, loop: [%(loop)s]}
control:
  -TA1:
    inputs: source
    zero_volt: {joined_to: -TB1}
    restart: allowed
    speed: {auto: {from: -BP1, signal: 4-20 mA, spans: 20 to 50 Hz, on_low: stop}}
  -KE4: {supply: -TB1, reads: {first: -BP1}}
  -KE5: {%(second)s}
"""


def loop(*, wires: str = "two", place: str = "+F1", card: str = "+C1", second: bool = False, order: str = "") -> Design:
    names = order or ("-KE4, -KE5, -TA1" if second else "-KE4, -TA1")
    reads = "reads: {second: -BP1}" if second else ""
    text = PLANT % {"wires": wires, "place": place, "card": card, "second": reads, "loop": names}
    return wiregen.design(scheme.read_text(text, "loop.yaml", profiles=profiles.load()))


def ends(text: str) -> tuple[Pin, Pin]:
    a, b = text.split(" ")
    return Pin(*a.split(":", 1)), Pin(*b.split(":", 1))


@pytest.mark.parametrize(
    ("design", "pieces"),
    [
        (
            loop(),
            ["-TA1:24V -BP1:+", "-BP1:- -KE4:AI1+", "-KE4:AI1- -TA1:AI2", "-TA1:ACOM -TB1:0V"],
        ),
        (
            loop(second=True),
            ["-TA1:24V -BP1:+", "-BP1:- -KE4:AI1+", "-KE4:AI1- -KE5:AI1+", "-KE5:AI1- -TA1:AI2", "-TA1:ACOM -TB1:0V"],
        ),
        (
            loop(second=True, order="-KE5, -KE4, -TA1"),
            ["-BP1:- -KE5:AI1+", "-KE5:AI1- -KE4:AI1+", "-KE4:AI1- -TA1:AI2"],
        ),
        (
            loop(wires="four"),
            ["-TB1:24V -BP1:+", "-TB1:0V -BP1:-", "-BP1:out+ -KE4:AI1+", "-KE4:AI1- -TA1:AI2", "-TA1:ACOM -BP1:out-"],
        ),
        (
            loop(wires="three"),
            ["-TA1:24V -BP1:+", "-BP1:out -KE4:AI1+", "-KE4:AI1- -TA1:AI2", "-TA1:ACOM -BP1:-"],
        ),
    ],
    ids=["two receivers", "three receivers", "the other order", "four wires", "three wires"],
)
def test_the_loop_piece_by_piece(design: Design, pieces: list[str]) -> None:
    for a, b in map(ends, pieces):
        potential = design.wiring.potential_of(a)
        assert potential is not None
        assert b in potential.pins
    starts = [design.wiring.potential_of(ends(p)[0]) for p in pieces]
    signals = [p.name for p in starts if p is not None and p.kind == "signal"]
    assert len(signals) == len(set(signals)), "no receiver is bridged"
    assert [f.code for f in design.findings if f.severity == "error"] == []


def test_an_earlier_receiver_that_passes_nothing_on_leaves_the_next_open() -> None:
    design = loop(order="-TA1, -KE4")
    assert "loop-order-wrong" in [f.code for f in design.findings]
    assert design.wiring.potential_of(Pin("-KE4", "AI1+")) is None


@pytest.mark.parametrize(("place", "second"), [("+F1", False), ("+F1", True), ("+C1", False)])
def test_the_drive_shows_the_loop_whole_and_the_card_says_where(place: str, second: bool) -> None:
    """Every receiver stands in the row of the drive's input with both its pins, in electrical order."""
    sheets = drawing.draw(loop(place=place, second=second)).sheets
    at = pins_of(next(s for s in sheets if s.title.endswith("-TA1")).svg.decode())
    cards = ["-KE4", "-KE5"] if second else ["-KE4"]
    row = ["-BP1:-", *(f"{card}:AI1{end}" for card in cards for end in "+-"), "-TA1:AI2"]
    assert [at[p][0] for p in row] == sorted(at[p][0] for p in row)
    assert len({at[p][1] for p in row}) == 1
    card_sheet = next(s for s in sheets if s.title.endswith("-KE4")).svg.decode()
    drive = next(s.number for s in sheets if s.title.endswith("-TA1"))
    assert re.search(rf">see {drive}/[A-F]\d<", card_sheet)


def pins_of(svg: str) -> dict[str, tuple[float, float]]:
    """Where each pin lies on a sheet; one that is drawn twice, the last."""
    circles = (dict(re.findall(r'([a-z-]+)="([^"]*)"', c)) for c in re.findall(r"<circle [^>]*>", svg))
    return {c["data-pin"]: (float(c["cx"]), float(c["cy"])) for c in circles if "data-pin" in c}


@pytest.mark.parametrize(
    "design",
    [
        loop(),
        loop(second=True),
        loop(wires="four", place="+C1"),
        loop(second=True, place="+C1"),
        loop(card="+F2"),
        loop(card="+F2", second=True),
        loop(order="-TA1, -KE4"),
        loop(second=True, order="-KE4, -TA1, -KE5"),
    ],
    ids=[
        "plain",
        "two cards",
        "four wires",
        "two in the cabinet",
        "far card",
        "far card and another",
        "wrong order",
        "drive in between",
    ],
)
def test_every_loop_is_drawn_as_it_is_wired(design: Design) -> None:
    """`draw` itself refuses sheets that do not read back to the circuit."""
    for sheet in drawing.draw(design).sheets:
        assert overlaps.check(sheet.svg) == ()
