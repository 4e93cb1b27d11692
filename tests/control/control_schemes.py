"""Small schemes from their parts, and what control makes of them."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from textwrap import dedent, indent

from wiregen import profiles
from wiregen.control import interpret
from wiregen.control.functions import Declared, End, Function
from wiregen.profiles.model import Profile
from wiregen.scheme import read_text

_PLACES = "places: {+C1: {name: Cabinet}, +F1: {name: Field, route: 20 m}, +F2: {route: 5 m}}\n"
#: The supply and the drive that most tests use.
PLANT = "-TB1: {profile: supply_24v, at: +C1}\n-TA1: {profile: drive_compact, at: +C1}\n"
SAID = "inputs: source\nzero_volt: floating\nrestart: allowed\n"


@cache
def _builtin() -> Mapping[str, Profile]:
    return profiles.load()


def declared(devices: str, control: str, rest: str = "", *, more: Mapping[str, Profile] | None = None) -> Declared:
    """What control makes of a scheme of these devices and control sections."""
    text = (
        f"scheme: Test\n{_PLACES}devices:\n{indent(dedent(devices).strip(), '  ')}\n"
        f"control:\n{indent(dedent(control).strip(), '  ')}\n{dedent(rest).strip()}\n"
    )
    return interpret(read_text(text, "s.yaml", profiles={**_builtin(), **(more or {})}))


def at_drive(devices: str, section: str, *, said: str = SAID, rest: str = "", plant: str = PLANT) -> Declared:
    """The plant with ``section`` in the control of -TA1."""
    whole = f"{said}{dedent(section).strip()}"
    return declared(f"{plant}{dedent(devices).strip()}", f"-TA1:\n{indent(whole, '  ')}", rest)


def function(found: Declared, name: str, controller: str = "-TA1") -> Function:
    return next(f for f in found.functions if (f.controller, f.name) == (controller, name))


def end(found: Declared, name: str, controller: str = "-TA1", number: int = 0) -> End:
    return function(found, name, controller).ends[number]


def notices(found: Declared) -> dict[str, str]:
    """Code -> message. A test that expects two of one code asks `Declared.notices` itself."""
    return {n.code: n.message for n in found.notices}
