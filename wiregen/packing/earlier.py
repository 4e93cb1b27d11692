"""The pack that stands where a new one goes: what was made from the same is taken over from it, to the byte."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from wiregen.packing.manifest import BookRecord, Manifest, digest, read_manifest
from wiregen.terms import Pin

if TYPE_CHECKING:
    from wiregen.circuit.readings import Reading


class Earlier:
    """A folder that may hold a pack. A file counts only while it holds what was written."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._manifest = read_manifest(folder) or Manifest("", {})

    def file(self, name: str, made_from: str | None = None) -> bytes | None:
        """What stands in a file; with ``made_from`` only if it was made from that. None where it does not hold."""
        if made_from is not None and self._manifest.made_from.get(name) != made_from:
            return None
        if name not in self._manifest.files:
            return None
        try:
            data = (self._folder / name).read_bytes()
        except OSError:
            return None
        return data if digest(data) == self._manifest.files[name] else None

    def book(self, name: str, made_from: str) -> BookRecord | None:
        """The record of a set of sheets, if it was made from the same and has its PDF."""
        record = self._manifest.books.get(name)
        return record if record is not None and record.made_from == made_from and record.pdf else None

    def readings(
        self, made_from: dict[str, str], devices: Mapping[str, Iterable[str]]
    ) -> dict[str, tuple[Reading, ...]]:
        """By the name of each part that is as it was, its readings as they stand in ``design.json``.

        ``made_from`` has the fingerprint of each part, ``devices`` the names of its devices.
        """
        same = [name for name, key in made_from.items() if self.book(name, key) is not None]
        data = self.file("design.json") if same else None
        if data is None:
            return {}
        from wiregen.circuit.readings import Reading

        part_of = {device: name for name in same for device in devices[name]}
        found: dict[str, list[Reading]] = {name: [] for name in same}
        for r in json.loads(data)["readings"]:
            if r["at"] in part_of:
                pin, to, unit = _pin(r["pin"]), _pin(r["to"]), (r["volts"], r["milliamps"])
                reading = Reading(r["state"], r["at"], pin, to, *unit, r["low"], r["high"], r["function"])
                found[part_of[r["at"]]].append(reading)
        return {name: tuple(readings) for name, readings in found.items()}


def _pin(text: str) -> Pin:
    device, _, name = text.partition(":")
    return Pin(device, name)
