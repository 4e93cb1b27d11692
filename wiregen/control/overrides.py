"""Overrides: commands that go over others. What each does, and what it may and may never go over."""

from __future__ import annotations

from wiregen.scheme.model import Override

#: What an override may go over, by the name that its scheme gives.
MAY_IGNORE = (
    "stop",
    "always stops",
    "enable",
    "external trip",
    "lost signal",
    "limit forward",
    "limit reverse",
    "reset",
    "select",
    "motor thermistor",
)
#: What no override may go over: it switches off in an emergency, or holds a drive without torque while people reach in.
NEVER_IGNORED = (
    "safe torque off",
    "emergency stop",
    "safety relay",
    "isolator",
    "main switch",
    "guard",
    "guards",
)


def plainly(name: str) -> str:
    """A name as functions have it: the underscores of a key are blanks."""
    return name.replace("_", " ")


def override_setting(override: Override) -> str:
    """What has to be set in the drive for an override, in plain words."""
    parts = [f"runs {override.runs or 'forward'}"]
    if override.speed:
        parts.append(f"at reference {override.speed}")
    if override.ignores:
        parts.append(f"goes over {', '.join(plainly(name) for name in override.ignores)}")
    return ", ".join(parts)
