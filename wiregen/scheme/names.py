"""How devices, places and contacts are written, and where in the model a name of one of them stands."""

from __future__ import annotations

import re
from collections.abc import Collection
from dataclasses import dataclass
from typing import Annotated, Literal

Kind = Literal["profile", "place", "device", "source", "partner", "contact", "function"]

# After IEC 81346-1: a prefix sign, capital letters, a number; a dot goes one level down.
_PART = "[A-Z]{1,4}[0-9]{1,5}"
_DEVICE = rf"-{_PART}(?:\.(?:{_PART}|[0-9]{{1,5}}))*"
_PLAIN_DEVICE = "-?[0-9]{0,3}[A-Z]{1,5}[0-9]{0,5}"  # as ladder diagrams have it: PB1, 1CR
_BANK = "-[A-Z]{1,4}[0-9]{0,5}"
_PLACE = r"\+[A-Z0-9]{1,8}(?:\.[A-Z0-9]{1,8})*"
_CONTACT_MARKS = re.compile("[A-Z0-9]{1,6}-[A-Z0-9]{1,6}")
_LONGEST = 24

DEVICE_PATTERN = f"^(?:{_DEVICE}|{_PLAIN_DEVICE})$"  # under either practice
PLACE_PATTERN = f"^{_PLACE}$"


@dataclass(frozen=True, slots=True)
class Names:
    """Marks a text of the model that names a thing of this kind."""

    kind: Kind


ProfileName = Annotated[str, Names("profile")]
PlaceName = Annotated[str, Names("place")]
DeviceName = Annotated[str, Names("device")]
SourceName = Annotated[str, Names("source")]  # a device, or the word network
PartnerName = Annotated[str, Names("partner")]  # a device, or a bank of cards
ContactName = Annotated[str, Names("contact")]  # a device or a bank, or one contact of a device
FunctionName = Annotated[str, Names("function")]  # may end in `of DEVICE`


def wrong_device_name(name: str, practice: str) -> str | None:
    """What is wrong with a device's designation, or None."""
    if len(name) > _LONGEST:
        return f"a device's name has at most {_LONGEST} characters"
    if re.fullmatch(_DEVICE, name) or (practice == "nfpa" and re.fullmatch(_PLAIN_DEVICE, name)):
        return None
    if practice == "nfpa":
        return f"`{shown(name)}` is not a device's name: write capital letters and a number, as in `PB1` or `-SJ1`"
    return f"`{shown(name)}` is not a device's name: write a dash, capital letters and a number, as in `-SJ1`"


def wrong_bank_name(name: str) -> str | None:
    """What is wrong with the name of a bank of cards, or None."""
    if re.fullmatch(_BANK, name):
        return None
    return f"`{shown(name)}` is not a bank's name: write a dash and capital letters, as in `-KE`"


def wrong_place_name(name: str) -> str | None:
    """What is wrong with a place's designation, or None."""
    if len(name) <= _LONGEST and re.fullmatch(_PLACE, name):
        return None
    return f"`{shown(name)}` is not a place's name: write a plus sign, capital letters and a number, as in `+F1`"


def wrong_variant_name(name: str) -> str | None:
    """What is wrong with the name of a variant, or None. It may become part of a file's name."""
    if re.fullmatch("[A-Za-z0-9][A-Za-z0-9_-]{0,39}", name):
        return None
    return f"`{shown(name)}` is not a variant's name: write letters, digits, - and _, at most 40"


@dataclass(frozen=True, slots=True)
class ContactText:
    """``-KF1.11-14``, ``-SJ3@AUTO`` or ``-SJ3@AUTO.2``, taken apart; a bare device has neither contact nor position."""

    device: str
    contact: str | None = None
    position: str | None = None
    nth: int = 1


def split_contact(text: str, devices: Collection[str]) -> ContactText:
    """Take ``text`` apart; ``devices`` are the declared names, since a device's name may hold dots itself.

    Raises ValueError with a sentence that says what would be right. The device need not be declared.

    >>> split_contact("-SJ3@AUTO.2", {"-SJ3"})
    ContactText(device='-SJ3', contact=None, position='AUTO', nth=2)
    >>> split_contact("-KF1.2.11-14", {"-KF1.2"})
    ContactText(device='-KF1.2', contact='11-14', position=None, nth=1)
    """
    if text in devices:
        return ContactText(text)
    if "@" in text:
        device, _, position = text.partition("@")
        position, _, nth = position.partition(".")
        if not position or (nth and not re.fullmatch("[1-9]", nth)) or text.endswith("."):
            raise ValueError(
                f"`{shown(text)}` is not a contact: write the position after `@`, as in `-SJ3@AUTO` or `-SJ3@AUTO.2`"
            )
        return ContactText(device, position=position, nth=int(nth or 1))
    device, dot, contact = text.rpartition(".")
    if dot and device in devices and not _CONTACT_MARKS.fullmatch(contact):
        raise ValueError(
            f"`{shown(contact)}` is not a contact of `{shown(device)}`: write both pins, as in `-KF1.11-14`"
        )
    if dot and _CONTACT_MARKS.fullmatch(contact):
        return ContactText(device, contact=contact)
    return ContactText(text)


def shown(text: str) -> str:
    """``text`` for a message: no line breaks, no control characters, not endless."""
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return clean if len(clean) <= 60 else clean[:57] + "..."
