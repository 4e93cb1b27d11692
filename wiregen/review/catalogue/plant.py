"""The plant that most examples share: one drive in one cabinet. Examples add what they are about."""

from __future__ import annotations

from textwrap import dedent, indent

SAID = "inputs: source\nzero_volt: floating\nrestart: needs_start\n"
START = "-SJ1: {profile: push_button, contact: NO, at: +C1, text: START}\n"
STOP = "-SJ2: {profile: push_button, contact: NC, at: +C1, text: STOP}\n"
THREE_WIRE = "run: {method: three-wire, start: -SJ1, stop: -SJ2}\n"
SUPPLY = "-TB1: {profile: supply_24v, at: +C1}\n"


def drive(
    devices: str = "",
    control: str = "",
    rest: str = "",
    *,
    said: str = SAID,
    profile: str = "drive_compact",
    beside: str = "",
) -> str:
    """A scheme with the drive ``-TA1`` and the given devices.

    ``said`` and ``control`` make its section, ``beside`` holds sections of other controllers, ``rest`` follows them.
    """
    declared = f"-TA1: {{profile: {profile}, at: +C1}}\n{_block(devices)}"
    section = f"-TA1:\n{indent(said + _block(control), '  ')}"
    return (
        "scheme: Example\n"
        "places:\n  +C1: {name: Control cabinet}\n"
        f"devices:\n{indent(declared, '  ')}"
        f"control:\n{indent(section + _block(beside), '  ')}"
        f"{_block(rest)}"
    )


def _block(text: str) -> str:
    """A text without the indent of the code around it, ending in one line end."""
    plain = dedent(text).strip("\n")
    return f"{plain}\n" if plain else ""
