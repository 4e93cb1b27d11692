"""The kinds of values that a scheme holds: texts, quantities, yes and no, lists where one item may stand alone."""

from __future__ import annotations

import datetime
import re
from typing import Annotated, Any

from pydantic import AfterValidator, BeforeValidator, GetCoreSchemaHandler, GetJsonSchemaHandler, WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from wiregen import quantities

MAX_LINE = 120

_NUMBER = r"[-+]?(?:[0-9]+(?:\.[0-9]+)?|\.[0-9]+)"
_ANY_SPAN = re.compile(rf"({_NUMBER})\s*(?:to|-|\.\.\.?)\s*({_NUMBER})\s*\S.*")
_AWG = re.compile(r"AWG\s*\d{1,2}|\d{1,2}\s*AWG")
_VOLTAGE = re.compile(rf"({_NUMBER}\s*k?V)(?:\s*(?:AC|DC))?")
# Control characters, marks of reading direction, the byte order mark, and what is no character.
_STEERING = re.compile(
    "[\x00-\x1f\x7f-\x9f\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\ufeff\ufff9-\uffff\ud800-\udfff]"
)
_NAME = re.compile(r"\w[\w .,+()-]*")


class Misplaced(ValueError):
    """A value that does not go with its neighbours; ``key`` says which of the table's keys to look at."""

    def __init__(self, key: str, message: str) -> None:
        super().__init__(message)
        self.key = key


def shape(value: object) -> str:
    """Which form of a value that may be a text, a list or a table stands here."""
    return "a table" if isinstance(value, dict) else "a list" if isinstance(value, list | tuple) else "a text"


class OneOrMany:
    """Marks a list in which one item may stand alone."""

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.listed, handler(source))

    def __get_pydantic_json_schema__(self, core: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        many = handler(core)
        return {"anyOf": [many.get("items", {}), many]}

    @staticmethod
    def listed(value: object) -> object:
        return value if isinstance(value, list | tuple) else [value]


def _yes(value: object) -> object:
    if isinstance(value, bool):
        return value
    if value in ("yes", "no"):
        return value == "yes"
    raise ValueError("write yes or no")


def _visible(text: str) -> str:
    """A text without characters that steer a terminal or turn the direction of reading, so that all see the same."""
    hidden = next((c for c in text if c not in "\n\r\t\x85" and _STEERING.match(c)), None)
    if hidden is not None:
        raise ValueError(f"this text holds the invisible character U+{ord(hidden):04X}: leave it out")
    return text


def _line(text: str) -> str:
    text = _visible(text.strip())
    if any(c in text for c in "\n\r\t\x85\u2028\u2029"):
        raise ValueError("this text must stand on one line, without tabs")
    if len(text) > MAX_LINE:
        raise ValueError(f"this text has {len(text)} characters: at most {MAX_LINE} are allowed")
    return text


def _said(text: str) -> str:
    text = _visible(" ".join(text.split()))
    if not text:
        raise ValueError("this text is empty: say it in words")
    return text


def _name(text: str) -> str:
    if not _NAME.fullmatch(text) or len(text) > 40:
        raise ValueError(
            "this is not a name: begin with a letter or digit, then letters, digits, blanks and _ . , + ( ) -, "
            "at most 40 characters"
        )
    return text


def _position(text: str) -> str:
    if "." in _name(text):
        raise ValueError("a position's name holds no dot, since a dot counts its contacts, as in `-SJ3@AUTO.2`")
    return text


def _date(text: str) -> str:
    try:
        datetime.date.fromisoformat(text if re.fullmatch("[0-9]{4}-[0-9]{2}-[0-9]{2}", text) else "")
    except ValueError:
        raise ValueError("write a date as year-month-day, as in 2026-03-31") from None
    return text


def _differing(low: float, high: float) -> None:
    if low == high:
        raise ValueError("both ends of the range are equal")


def _any_span(text: str) -> str:
    match = _ANY_SPAN.fullmatch(text.strip())
    if not match:
        raise ValueError(f"{text!r} is not a range; write it as in '0 to 3 m'")
    _differing(float(match.group(1)), float(match.group(2)))
    return _line(text)


def _span(unit: str) -> AfterValidator:
    def check(text: str) -> str:
        _differing(*quantities.parse_range(text, unit))
        return text

    return AfterValidator(check)


def _quantity(unit: str, *, zero: bool = False) -> AfterValidator:
    def check(text: str) -> str:
        value = quantities.parse(text, unit)
        if value < 0 or (value == 0 and not zero):
            raise ValueError(f"{text!r} is too small: it must be {'zero or more' if zero else 'more than zero'}")
        return text

    return AfterValidator(check)


def _area(text: str) -> str:
    if not _AWG.fullmatch(text.strip()) and quantities.parse(text, "mm2") <= 0:
        raise ValueError(f"{text!r} is too small: it must be more than zero")
    return text


def _power(text: str) -> str:
    value, unit = quantities.parse_any(text)
    if unit not in ("W", "VA") or value <= 0:
        raise ValueError(f"{text!r} is not a power; write it as in '4 kW' or '100 VA'")
    return text


def _voltage(text: str) -> str:
    match = _VOLTAGE.fullmatch(text.strip())
    if not match or quantities.parse(match.group(1), "V") <= 0:
        raise ValueError(f"{text!r} is not a voltage; write it as in '24 V DC' or '120 V AC'")
    return text


def _whole(least: int, most: int) -> AfterValidator:
    def check(text: str) -> str:
        if not re.fullmatch("[0-9]{1,6}", text) or not least <= int(text) <= most:
            raise ValueError(f"write a whole number from {least} to {most}")
        return text

    return AfterValidator(check)


def _cos_phi(text: str) -> str:
    if not re.fullmatch(r"[01](?:\.\d+)?", text) or not 0 < float(text) <= 1:
        raise ValueError("write a number above 0 and at most 1, as in 0.85")
    return text


Yes = Annotated[bool, BeforeValidator(_yes), WithJsonSchema({"enum": ["yes", "no"]})]
Line = Annotated[str, AfterValidator(_line)]  # one line of free text
Title = Annotated[str, AfterValidator(_line), AfterValidator(_said)]
Said = Annotated[str, AfterValidator(_said)]  # words that must not be missing, wrapped as it pleases
Name = Annotated[str, AfterValidator(_name)]  # of a reference, a run, a duty: it goes into a function's name
Position = Annotated[str, AfterValidator(_position)]
Date = Annotated[str, AfterValidator(_date)]
Length = Annotated[str, _quantity("m")]
Tail = Annotated[str, _quantity("m", zero=True)]
Resistance = Annotated[str, _quantity("ohm")]
Frequency = Annotated[str, _quantity("Hz", zero=True)]
Current = Annotated[str, _quantity("A")]
Duration = Annotated[str, _quantity("s", zero=True)]
Percent = Annotated[str, _quantity("%", zero=True)]
RotationalSpeed = Annotated[str, _quantity("1/min")]
FrequencySpan = Annotated[str, _span("Hz")]
AnySpan = Annotated[str, AfterValidator(_any_span)]
Area = Annotated[str, AfterValidator(_area)]
PowerFigure = Annotated[str, AfterValidator(_power)]
Voltage = Annotated[str, AfterValidator(_voltage)]
Cores = Annotated[str, _whole(1, 200)]
CosPhi = Annotated[str, AfterValidator(_cos_phi)]
Poles = Annotated[str, _whole(1, 4)]
Count = Annotated[str, _whole(1, 999_999)]
