"""The JSON Schema of a scheme file (draft 2020-12), for editors that complete and check while one types.

Editors read YAML with numbers and truth values, where this project keeps every scalar as text: so wherever any text may
stand, the schema takes any scalar.
"""

from typing import Annotated, Any

from pydantic import Field

from wiregen.scheme.model import SchemeModel
from wiregen.scheme.names import DEVICE_PATTERN, PLACE_PATTERN
from wiregen.scheme.values import Line, OneOrMany

DRAFT = "https://json-schema.org/draft/2020-12/schema"
_SCALARS = ["string", "number", "boolean"]


class SchemeFile(SchemeModel):
    """A scheme file: what is declared, and its variants."""

    include: Annotated[tuple[Line, ...], OneOrMany()] = ()
    variants: dict[str, dict[str, Any]] = Field(default={})


def schema() -> dict[str, Any]:
    """The JSON Schema of a scheme file as plain data."""
    whole = SchemeFile.model_json_schema(by_alias=True)
    tidy = _tidied(whole)
    assert isinstance(tidy, dict)
    properties = tidy["properties"]
    properties["devices"]["propertyNames"] = {"pattern": DEVICE_PATTERN}
    properties["places"]["propertyNames"] = {"pattern": PLACE_PATTERN}
    properties["variants"]["description"] = (
        "Each variant by name, as a JSON merge patch (IETF RFC 7396) on this file: null deletes."
    )
    return {"$schema": DRAFT, **tidy, "title": "Scheme"}


def _tidied(part: Any) -> Any:
    """Without titles and defaults of the model's own, without null, and with any scalar where any text may stand."""
    if isinstance(part, list):
        return [_tidied(p) for p in part]
    if not isinstance(part, dict):
        return part
    if "oneOf" in part:  # a short form may fit two long ones, which is no error
        return _tidied(
            {"anyOf": part["oneOf"], **{k: v for k, v in part.items() if k not in ("oneOf", "discriminator")}}
        )
    if {"type": "null"} in part.get("anyOf", ()):
        rest = [p for p in part["anyOf"] if p != {"type": "null"}]
        return _tidied(rest[0] if len(rest) == 1 else {"anyOf": rest})
    tidy = {key: _tidied_under(key, value) for key, value in part.items() if key not in ("title", "default")}
    if part.get("type") == "string" and not part.keys() & {"enum", "const"}:
        tidy["type"] = _SCALARS
    return tidy


def _tidied_under(key: str, value: Any) -> Any:
    """Under these keys stand names, which may be any word: only what they name is tidied."""
    if key in ("properties", "$defs", "patternProperties"):
        return {name: _tidied(part) for name, part in value.items()}
    return _tidied(value)
