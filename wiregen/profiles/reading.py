"""From the text of a profile file to a checked `Profile`, or to complaints with line and remedy."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from pydantic import BaseModel, ValidationError

from wiregen.profiles.checks import faults
from wiregen.profiles.model import ContactMarks, Figure, Profile, Terminal
from wiregen.terms import Complaint, UnusableInput
from wiregen.yaml_text import Positions, load, near_miss


def read(text: str, file: str, name: str) -> Profile:
    """The profile that ``text`` holds; it must be called ``name``. ``file`` stands in messages.

    Raises UnusableInput with every complaint about the file.
    """
    data, positions = load(text, file)
    try:
        profile = Profile.model_validate(data)
    except ValidationError as error:
        found = [_complaint(dict(e), positions) for e in error.errors(include_url=False, include_input=True)]
        raise UnusableInput(_in_file_order(found)) from None
    found = [Complaint(positions.locate(where), message) for where, message in faults(profile)]
    if profile.profile != name:
        message = f"profile {profile.profile!r} stands in a file called {name!r}; file and profile bear one name"
        found.append(Complaint(positions.locate(("profile",)), message))
    if found:
        raise UnusableInput(_in_file_order(found))
    return profile


def _in_file_order(found: Sequence[Complaint]) -> tuple[Complaint, ...]:
    return tuple(sorted(dict.fromkeys(found), key=lambda c: (c.spot.line, c.spot.column, c.message)))


def _complaint(error: dict[str, Any], positions: Positions) -> Complaint:
    where: tuple[Any, ...] = error["loc"]
    kind, given = str(error["type"]), error.get("input")
    last = str(where[-1]) if where else ""
    if kind == "extra_forbidden":
        return Complaint(positions.locate(where, key=True), _unknown_key(where, last, given))
    if kind == "missing":
        return Complaint(positions.locate(where[:-1]), f"{last!r} is missing{_of(where[:-1])}")
    if kind == "literal_error":
        known = re.findall(r"'([^']*)'", str(error["ctx"]["expected"]))
        known = [k for k in known if k]
        listed = ", ".join(known)
        message = f"{last}: {_shown(given)} is not known{near_miss(str(given), known) or '; use one of ' + listed}"
        return Complaint(positions.locate(where), message)
    said = str(error["msg"]).removeprefix("Value error, ")
    return Complaint(positions.locate(where), f"{_named(where)}: {_plain(kind, said, given)}")


def _unknown_key(where: Sequence[Any], key: str, given: object) -> str:
    if given is None:
        return f"unknown key {key!r}; text that holds a comma must stand in quotes"
    known = [f.alias or n for n, f in _model_at(where).model_fields.items()]
    return f"unknown key {key!r}{near_miss(key, known) or '; known here are ' + ', '.join(known)}"


def _model_at(where: Sequence[Any]) -> type[BaseModel]:
    if len(where) == 1:
        return Profile
    if len(where) == 3 and where[0] == "terminals":
        return Terminal
    if len(where) == 3 and where[0] == "marks":
        return ContactMarks
    return Figure


def _plain(kind: str, said: str, given: object) -> str:
    wanted = {
        "model_type": "a mapping, `key: value`",
        "dict_type": "a mapping, `key: value`",
        "tuple_type": "a list",
        "string_type": "text",
    }.get(kind)
    if kind == "string_pattern_mismatch":
        return f"{_shown(given)} is not small letters, digits and underscores, a letter first"
    if wanted is None:
        return said
    return f"{wanted} is needed here, not {_shown(given)}"


def _shown(given: object) -> str:
    if given is None:
        return "nothing"
    if isinstance(given, dict):
        return "a mapping"
    if isinstance(given, list | tuple):
        return "a list"
    text = str(given)
    return repr(text if len(text) <= 40 else text[:37] + "...")


def _named(where: Sequence[Any]) -> str:
    return " ".join(str(part) for part in where if not isinstance(part, int)) or "profile"


def _of(where: Sequence[Any]) -> str:
    names = [str(part) for part in where if not isinstance(part, int) and part not in ("figure", "by signal")]
    return f" in {names[-1]!r}" if names else ""
