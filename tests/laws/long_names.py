"""The same scheme with long texts and long names: what a sheet must still find room for, or cut with three dots."""

from __future__ import annotations

import random as standard
import re
from typing import Any

import yaml

Table = dict[str, Any]

_WORDS = (
    *("pump", "station", "overflow", "basin", "secondary", "agitator", "Northwestern", "recirculation", "feed", "2"),
    *("of", "and", "the", "Zwischenbehaelter", "A", "Elektrogehaeuse", "standby-by", "47.5", "bar", "WWWW", "(left)"),
)
LONGEST = 110  # characters of a text; the format takes 120


def lengthened(scheme: Table, seed: int) -> Table:
    """Texts, places and conditions of up to 110 characters, and names that are as long as names may be."""
    random = standard.Random(seed)
    names = {}
    for name, device in scheme["devices"].items():
        if random.random() < 0.7:
            device["text"] = phrase(random)
        if device["profile"] == "contact" and random.random() < 0.7:
            device["operated_when"] = phrase(random)
        if device["profile"].startswith("transmitter") and random.random() < 0.5:
            device["measures"] = "-0.25 to 12.5 bar"
        if random.random() < 0.4:
            names[name] = _longer(name, random)
    text = yaml.safe_dump(scheme, sort_keys=False)
    for name in sorted(names, key=len, reverse=True):
        text = re.sub(re.escape(name) + "(?![0-9])", names[name], text)
    found: Table = yaml.safe_load(text)
    for place in found["places"].values():
        place["name"] = phrase(random)
    return found | {"scheme": phrase(random), "drawing": "X" * 40}


def phrase(random: standard.Random) -> str:
    return " ".join(random.choice(_WORDS) for _ in range(random.randint(1, 14)))[:LONGEST].strip()


def _longer(name: str, random: standard.Random) -> str:
    found = re.match("-([A-Z]+)([0-9]+)", name)
    assert found is not None
    letters, number = found.groups()
    return random.choice(
        (
            f"-{letters}{number:0>5}",
            f"-{letters}{'W' * (4 - len(letters))}{number}",
            f"-{letters}{number}.KF12345",
            f"-{letters}9{number}.1234.WWWW5678",
        )
    )
