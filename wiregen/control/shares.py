"""Contacts that serve several inputs because the device says so."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from wiregen.control.functions import Device
from wiregen.terms import Notice


def unknown_shares(devices: tuple[Device, ...]) -> Iterator[Notice]:
    """Contacts under `shared` that the device does not have."""
    for device in devices:
        names = [contact.name for contact in device.contacts]
        for index, name in enumerate(device.declared.shared):
            if name not in names:
                near = difflib.get_close_matches(name, names, 1)
                hint = f" (did you mean {near[0]}?)" if near else f"; it has {', '.join(names) or 'none'}"
                text = f"{device.name} has no contact {name} to share{hint}"
                yield Notice("contact-unknown", (*device.where, "shared", str(index)), device.name, text)
