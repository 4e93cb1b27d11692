"""`like` and `with`: a control section copied, with devices exchanged."""

from __future__ import annotations

import pytest

from wiregen import profiles, scheme
from wiregen.terms import UnusableInput

HEAD = """scheme: Twins
places: {+C1: {name: Cabinet}}
devices:
  -TA1: {profile: drive_compact, at: +C1}
  -TA2: {profile: drive_compact, at: +C1}
  -TA3: {profile: drive_compact, at: +C1}
  -SJ1: {profile: push_button, contact: NO, at: +C1}
  -SJ2: {profile: push_button, contact: NC, at: +C1}
  -SJ3: {profile: push_button, contact: NO, at: +C1}
  -SJ4: {profile: push_button, contact: NC, at: +C1}
  -SJ11: {profile: push_button, contact: NO, at: +C1}
control:
  -TA1:
    inputs: source
    restart: needs_start
    run: {method: three-wire, start: -SJ1, stop: -SJ2}
"""


def read(rest: str) -> scheme.Scheme:
    return scheme.read_text(HEAD + rest, "twins.yaml", profiles=profiles.load())


def complaints(rest: str) -> list[str]:
    with pytest.raises(UnusableInput) as refused:
        read(rest)
    return [f"{c.spot.line}:{c.spot.column}: {c.message}" for c in refused.value.complaints]


def test_copy_exchanges_devices_and_keeps_the_rest() -> None:
    model = read("  -TA2: {like: -TA1, with: {-SJ1: -SJ3, -SJ2: -SJ4}}\n").model
    one, two = model.control["-TA1"], model.control["-TA2"]
    assert one.run is not None
    assert two.run is not None
    first, second = one.run.named[""], two.run.named[""]
    assert (first.start and first.start.by, first.stop and first.stop.by) == ("-SJ1", "-SJ2")
    assert (second.start and second.start.by, second.stop and second.stop.by) == ("-SJ3", "-SJ4")
    assert two.inputs == one.inputs
    assert two.restart == "needs_start"


def test_own_keys_lie_over_the_copy_and_null_deletes() -> None:
    model = read("  -TA2: {like: -TA1, with: {-SJ1: -SJ3, -SJ2: -SJ4}, inputs: sink, restart: null}\n").model
    two = model.control["-TA2"]
    assert two.inputs is not None
    assert two.inputs.wired == "sink"
    assert two.restart is None


def test_only_whole_names_are_exchanged() -> None:
    """-SJ1 is not part of -SJ11; a contact's name stays with its device."""
    rest = "  -TA2: {like: -TA3, with: {-SJ1: -SJ3}}\n  -TA3: {reset: -SJ11, external_trip: -SJ1.13-14}\n"
    two = read(rest).model.control["-TA2"]
    assert getattr(two.reset, "by", None) == "-SJ11"
    assert two.external_trip is not None
    assert two.external_trip.by == "-SJ3.13-14"


def test_copy_of_a_copy() -> None:
    rest = "  -TA2: {like: -TA1, with: {-SJ1: -SJ3}}\n  -TA3: {like: -TA2, with: {-SJ2: -SJ4}}\n"
    run = read(rest).model.control["-TA3"].run
    assert run is not None
    start, stop = run.named[""].start, run.named[""].stop
    assert (start and start.by, stop and stop.by) == ("-SJ3", "-SJ4")


@pytest.mark.parametrize(
    ("rest", "told"),
    [
        ("  -TA2: {like: -TA9}\n", "17:16: `control` has no section `-TA9` to copy; did you mean `-TA1`?"),
        (
            "  -TA2: {like: -TA3}\n  -TA3: {like: -TA2}\n",
            "18:16: these sections are each like another of them: -TA2, -TA3 and -TA2",
        ),
        ("  -TA2: {with: {-SJ1: -SJ3}}\n", "17:10: `with` exchanges devices in a copy: add `like: NAME`"),
        ("  -TA2: {like: -TA1, with: -SJ1}\n", "17:22: `with` takes a table of devices, as in `{-KF1: -KF2}`"),
    ],
)
def test_wrong_copies(rest: str, told: str) -> None:
    assert told in complaints(rest)
