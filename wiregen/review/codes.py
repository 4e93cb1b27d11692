"""The codes that selecting contacts can give: one digit a contact, 1 where it is closed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import product

from wiregen.control.functions import Contact, Leg, SelectionInfo
from wiregen.review.context import Context


def possible_codes(context: Context, contacts: tuple[Contact | None, ...]) -> Iterator[str]:
    """The codes that contacts can give, in binary order: one selector is in one position at a time."""
    of_device: dict[str, list[int]] = defaultdict(list)
    for index, contact in enumerate(contacts):
        if contact is not None:
            of_device[contact.device].append(index)
    patterns = {
        device: {tuple(_digit(contacts[i], state) for i in indices) for state in _states(context, device)}
        for device, indices in of_device.items()
    }
    for digits in product("01", repeat=len(contacts)):
        if all(tuple(digits[i] for i in of_device[device]) in those for device, those in patterns.items()):
            yield "".join(digits)


def _states(context: Context, device: str) -> tuple[str, ...]:
    """The positions of a selector, 0 and 1 where it names none; of any other device untouched and operated."""
    item = context.devices[device]
    return item.declared.positions or (("0", "1") if item.kind == "selector" else ("untouched", "operated"))


def _digit(contact: Contact | None, state: str) -> str:
    assert contact is not None  # only contacts of known devices are asked
    if contact.position is not None:
        return "1" if contact.position == state else "0"
    return "1" if (contact.form == "NO") == (state == "operated") else "0"


def contacts_of(context: Context, info: SelectionInfo) -> tuple[Contact | None, ...]:
    """The contact of each digit; None for a sensor, another controller's output or a combination."""
    partners = {f.name: f.partner for f in context.declared.functions if f.controller == info.controller}
    found = [partners.get(f"select {number}") for number in range(1, len(info.contacts) + 1)]
    return tuple(partner.contact if isinstance(partner, Leg) else None for partner in found)


def position_names(context: Context, contacts: tuple[Contact | None, ...]) -> dict[str, str]:
    """Code -> the position of the one selector in which its contacts give that code."""
    device = next((c.device for c in contacts if c is not None), None)
    if device is None:
        return {}
    return {"".join(_digit(c, state) if c else "x" for c in contacts): state for state in _states(context, device)}
