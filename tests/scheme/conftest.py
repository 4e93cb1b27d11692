"""Small profiles for reading schemes: enough terminals to name, no electrical figures."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pytest

from wiregen.profiles.model import Profile
from wiregen.scheme import Scheme, read_text

PROFILES: tuple[dict[str, object], ...] = (
    {"profile": "supply_24v", "title": "Supply", "controller": "supply"},
    {
        "profile": "drive_compact",
        "title": "Compact drive",
        "controller": "drive",
        "terminals": [
            {"label": "24V", "role": "supply_out"},
            {"label": "COM", "role": "zero"},
            *({"label": f"DI{n}", "role": "digital_in"} for n in range(1, 7)),
            {"label": "21", "role": "relay", "pins": ["21", "22", "24"]},
        ],
    },
    {"profile": "io_digital_in_16", "title": "Input card", "controller": "card"},
    {"profile": "io_digital_out_16", "title": "Output card", "controller": "card"},
    {"profile": "io_analog_out_4", "title": "Analog card", "controller": "card"},
    {"profile": "safety_relay", "title": "Safety relay", "controller": "safety_relay"},
    {"profile": "push_button", "title": "Push button", "device": "contact"},
    {"profile": "contact", "title": "Contact", "device": "contact"},
    {"profile": "selector", "title": "Selector", "device": "selector"},
    {"profile": "potentiometer", "title": "Potentiometer", "device": "potentiometer"},
    {"profile": "transmitter_two_wire", "title": "Transmitter", "device": "transmitter_two_wire"},
    {"profile": "pilot_lamp", "title": "Lamp", "device": "lamp", "figures": {"volts": {"value": "24 V", "basis": "typical, invented"}}},
    {"profile": "interposing_relay", "title": "Relay", "device": "relay"},
    {"profile": "contactor", "title": "Contactor", "device": "contactor"},
)


@pytest.fixture(scope="session")
def profiles() -> Mapping[str, Profile]:
    return {str(p["profile"]): Profile.model_validate(p) for p in PROFILES}


@pytest.fixture
def scheme_of(profiles: Mapping[str, Profile]) -> Callable[..., Scheme]:
    def read(text: str, variant: str | None = None) -> Scheme:
        return read_text(text, "s.yaml", variant=variant, profiles=profiles)

    return read
