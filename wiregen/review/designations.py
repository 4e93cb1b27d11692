"""Reference designations: letters that do not say what the device is."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.formulas import designations
from wiregen.review.context import Context
from wiregen.review.words import listed
from wiregen.terms import Notice


def unusual(context: Context) -> Iterator[Notice]:
    """Letters that fit neither edition of the table; one note for each pair of letters and kind of device."""
    for device in context.declared.devices:
        codes = designations.unlike(device.name, device.profile.designated_as)
        if codes:
            right = listed(dict.fromkeys(f"{c.code} ({c.edition})" for c in codes), "or")
            text = f"{device.name} is a {codes[0].item}, for which IEC 81346-2 has the letters {right}"
            yield Notice("designation-unusual", device.where, device.name, text)
