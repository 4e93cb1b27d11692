"""What the marks of a contact's two pins say: the function digit and the sequence digit."""

from __future__ import annotations

import re
from functools import cache
from typing import Literal, NamedTuple

from wiregen.formulas import tables

Form = Literal["NO", "NC"]
_MARK = re.compile(r"([1-9]?)([1-8])")


class ContactMark(NamedTuple):
    """What two marks say. ``sequence`` is the place of the contact in its device; None where the marks have one digit.

    A ``special`` contact acts early, late or delayed, or is that of an overload relay.
    """

    form: Form
    sequence: int | None
    special: bool


@cache
def _digits() -> dict[tuple[str, str], tuple[Form, bool]]:
    return {
        (r["first"], r["second"]): ("NO" if r["form"] == "NO" else "NC", r["action"] == "special")
        for r in tables.rows("contact_digits")
    }


def contact_mark(pin_a: str, pin_b: str) -> ContactMark | None:
    """What the marks of the two pins of one contact say, in either order; None where they follow no rule.

    Function digits: 1-2 break, 3-4 make, 1-2-4 changeover with common 1; 5-6, 7-8, 5-6-8 the special ones.
    Source: EN 50005.

    >>> contact_mark("13", "14")
    ContactMark(form='NO', sequence=1, special=False)
    >>> contact_mark("95", "96")
    ContactMark(form='NC', sequence=9, special=True)
    """
    a, b = _MARK.fullmatch(pin_a), _MARK.fullmatch(pin_b)
    if not a or not b or a.group(1) != b.group(1):
        return None
    found = _digits().get((a.group(2), b.group(2))) or _digits().get((b.group(2), a.group(2)))
    if found is None:
        return None
    return ContactMark(found[0], int(a.group(1)) if a.group(1) else None, found[1])


def contact_form(pin_a: str, pin_b: str) -> Form | None:
    """Whether the contact between two marked pins makes or breaks; None where the marks follow no rule.

    Source: EN 50005.

    >>> contact_form("21", "22"), contact_form("21", "24"), contact_form("A1", "A2")
    ('NC', 'NO', None)
    """
    mark = contact_mark(pin_a, pin_b)
    return mark.form if mark else None


def pins_of(form: Literal["NO", "NC", "changeover"], sequence: int) -> tuple[str, ...]:
    """The marks of the contact that stands in place ``sequence`` (1 to 9). Source: EN 50005.

    >>> pins_of("changeover", 2)
    ('21', '22', '24')
    """
    if not 1 <= sequence <= 9:
        raise ValueError(f"place {sequence} is outside 1 to 9")
    digits = {"NO": "34", "NC": "12", "changeover": "124"}[form]
    return tuple(f"{sequence}{digit}" for digit in digits)
