"""Letter codes of reference designations. The edition matters: a push button is SF in one and SJ in the next."""

from __future__ import annotations

import re
from functools import cache
from typing import NamedTuple

from wiregen.formulas import tables

EDITIONS = ("2009", "2019")
_LETTERS = re.compile(r"-([A-Z]{1,3})\d")


class LetterCode(NamedTuple):
    """The letters for one item in one edition; ``certain`` is False where a mismatch must not be asserted."""

    item: str
    edition: str
    code: str
    class_name: str
    certain: bool


@cache
def letter_codes() -> tuple[LetterCode, ...]:
    """The whole table. Source: IEC 81346-2.

    >>> next(c.code for c in letter_codes() if c.item == "push button" and c.edition == "2019")
    'SJ'
    """
    return tuple(
        LetterCode(r["item"], r["edition"], r["code"], r["class_name"], r["mark"] != "uncertain")
        for r in tables.rows("letter_codes")
    )


def codes_of(item: str) -> tuple[LetterCode, ...]:
    """The codes of one item, by edition; empty for an item that the table does not have. Source: IEC 81346-2.

    >>> [c.code for c in codes_of("selector")]
    ['SF', 'SJ']
    """
    return tuple(c for c in letter_codes() if c.item == item)


def letters(designation: str) -> str | None:
    """The letters of a product designation, or None where it has no such shape. Source: IEC 81346-2.

    >>> letters("-SJ1"), letters("PB1")
    ('SJ', None)
    """
    match = _LETTERS.match(designation)
    return match.group(1) if match else None


def unlike(designation: str, item: str) -> tuple[LetterCode, ...]:
    """The codes that ``designation`` should have had for ``item``, one an edition; empty where nothing is to be said.

    Nothing is said of a designation of another shape, an item that the table does not have or is unsure of, or letters
    that fit either edition. A single letter needs only to be that of the class. Source: IEC 81346-2.

    >>> [c.code for c in unlike("-KF1", "push button")]
    ['SF', 'SJ']
    >>> unlike("-SF1", "push button")
    ()
    """
    found, codes = letters(designation), codes_of(item)
    if found is None or not codes or not all(c.certain for c in codes):
        return ()
    fits = any(found.startswith(c.code) or c.code.startswith(found) for c in codes)
    return () if fits else codes
