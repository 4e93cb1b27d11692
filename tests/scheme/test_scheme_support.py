"""What is laid out and not done yet is refused where it stands: one line of the scheme for each line of the table."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from wiregen.scheme import model
from wiregen.scheme.support import NOT_YET

BASE = """\
scheme: x
places: {+C1: {}, +F1: {route: 3 m%PLACE%}}
devices:
  -TB1: {profile: supply_24v, at: +C1%SUPPLY%}
  -TA1: {profile: drive_compact, at: +C1}
  -SJ1: {profile: push_button, at: +C1%DEVICE%}
  -SJ3: {profile: selector, at: +C1, positions: [A, B]%SELECTOR%}
  -KF1: {profile: interposing_relay, at: +C1}
  -SR1: {profile: safety_relay, at: +C1}
control:
  -TA1: {inputs: source%CONTROL%}
  -KF1: {supply: -TB1%COIL%}
  -SR1: {supply: -TB1%SAFETY%}
%END%
"""

# What to write, and where.
SNIPPETS: dict[tuple[type[model.Model], str], tuple[str, str]] = {
    (model.Device, "opens"): ("DEVICE", "opens: positively"),
    (model.Device, "voltage"): ("DEVICE", "voltage: 120 V AC"),
    (model.Device, "coil"): ("DEVICE", "coil: 120 V AC"),
    (model.Device, "rating"): ("DEVICE", "rating: 2 A"),
    (model.Device, "power"): ("DEVICE", "power: 100 VA"),
    (model.Device, "colour"): ("DEVICE", "colour: red"),
    (model.Device, "fuse"): ("DEVICE", "fuse: -SJ1"),
    (model.Device, "loop"): ("DEVICE", "loop: [-TA1]"),
    (model.Runs, "named"): ("CONTROL", "run: {local: {method: two-wire, forward: -SJ1}}"),
    (model.Run, "method"): ("CONTROL", "run: {method: hold-to-run, forward: -SJ1}"),
    (model.Run, "both"): ("CONTROL", "run: {method: two-wire, forward: -SJ1, both: stop}"),
    (model.Run, "from"): ("CONTROL", "run: {method: two-wire, from: network}"),
    (model.RunAt, "run_at"): ("CONTROL", "speed: {a: {from: -TA1, on_low: {run_at: 20 Hz}}}"),
    (model.UseReference, "use"): ("CONTROL", "speed: {a: {from: -TA1, on_low: {use: b}}}"),
    (model.Reference, "from"): ("CONTROL", "speed: {a: {from: network}}"),
    (model.Reference, "process"): ("CONTROL", "speed: {a: {process: {when_feedback_rises: slow_down}}}"),
    (model.Reference, "fuse"): ("CONTROL", "speed: {a: {from: -TA1, fuse: -SJ1}}"),
    (model.When, "run"): ("CONTROL", "select: {by: -SJ1, when: {0: {run: local}}}"),
    (model.When, "speed"): ("CONTROL", "select: {by: -SJ1, when: {0: stop}}"),
    (model.Duty, "fuse"): ("CONTROL", "relays: {fault: {switches: -SR1, fuse: -SJ1}}"),
    (model.SafetyReset, "monitored"): ("SAFETY", "reset: {by: -SJ1, monitored: yes}"),
    (model.Control, "like"): ("CONTROL", "like: -TA1"),
    (model.Control, "with"): ("CONTROL", "with: {-SJ1: -SJ3}"),
    (model.Control, "starts_after_changeover"): ("CONTROL", "starts_after_changeover: yes"),
    (model.Control, "always_stops"): ("CONTROL", "always_stops: -SJ1"),
    (model.Control, "jog"): ("CONTROL", "jog: {forward: -SJ1}"),
    (model.Control, "limits"): ("CONTROL", "limits: {forward: -SJ1}"),
    (model.Control, "speed_limits"): ("CONTROL", "speed_limits: 15 to 50 Hz"),
    (model.Control, "guards"): ("SAFETY", "guards: [-SJ1]"),
    (model.Control, "channels"): ("SAFETY", "channels: two"),
    (model.Control, "safe_torque_off"): ("CONTROL", "safe_torque_off: linked"),
    (model.Control, "motor_thermistor"): ("CONTROL", "motor_thermistor: -SJ1"),
    (model.Control, "override"): ("CONTROL", "override: {fire: {by: -SJ1, why: smoke}}"),
    (model.Control, "power"): ("CONTROL", "power: {supply: -TB1}"),
    (model.Control, "motor"): ("CONTROL", "motor: {power: 4 kW, cos_phi: 0.85, speed: 1450 1/min}"),
    (model.Control, "ramps"): ("CONTROL", "ramps: {up: 5 s}"),
    (model.CableClass, "pe"): ("END", "cabling: {classes: {control: {pe: yes}}}"),
    (model.SchemeModel, "accepted"): ("END", "accepted: [{code: unused-device, why: spare part}]"),
    (model.SchemeModel, "include"): ("END", "include: other.yaml"),
}


def _scheme(slot: str = "", snippet: str = "") -> str:
    text = BASE
    for name in ("PLACE", "SUPPLY", "DEVICE", "SELECTOR", "CONTROL", "COIL", "SAFETY", "END"):
        filling = (snippet if name == "END" else f", {snippet}") if name == slot else ""
        text = text.replace(f"%{name}%", filling)
    return text


def test_the_base_is_right(complaints: Callable[..., list[str]]) -> None:
    assert complaints(_scheme()) == []


def test_every_line_of_the_table_has_its_snippet() -> None:
    assert set(SNIPPETS) >= set(NOT_YET)


@pytest.mark.parametrize(("model_class", "key"), sorted(NOT_YET, key=lambda k: (k[0].__name__, k[1])), ids=str)
def test_it_is_refused_at_its_place(
    complaints: Callable[..., list[str]], model_class: type[model.Model], key: str
) -> None:
    slot, snippet = SNIPPETS[model_class, key]
    text = _scheme(slot, snippet)
    called = NOT_YET[model_class, key][0]
    found = [c for c in complaints(text) if c.endswith(f" {called} is not supported yet")]
    assert len(found) == 1
    line, column = map(int, found[0].partition(" ")[0].split(":"))
    at = text.splitlines()[line - 1][column - 1 :]
    # Where the model adds a level to what is written, the refusal stands at the key that is written.
    written = {(model.Runs, "named"): "run", (model.When, "speed"): "0"}.get((model_class, key), key)
    assert at.startswith(f"{written}:")


@pytest.mark.parametrize(
    ("slot", "snippet"),
    [
        ("PLACE", "spread: no"),
        ("CONTROL", "starts_after_changeover: no"),
        ("CONTROL", "run: {method: two-wire, forward: -SJ1}"),
        ("CONTROL", "select: {by: -SJ1, when: {0: slow, 1: fast}}"),
        ("CONTROL", "speed: {all: {preset: 5 Hz}, any: {preset: 9 Hz}}"),
        ("END", "numbers: {by: potential}"),
    ],
)
def test_what_says_the_default_or_is_only_called_alike_is_read(
    complaints: Callable[..., list[str]], slot: str, snippet: str
) -> None:
    assert complaints(_scheme(slot, snippet)) == []
