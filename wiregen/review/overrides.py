"""Overrides: always told with their why, never over what stops in an emergency."""

from __future__ import annotations

import difflib
from collections.abc import Iterator

from wiregen.control.overrides import MAY_IGNORE, NEVER_IGNORED, override_setting, plainly
from wiregen.review.context import Context, legs_of
from wiregen.review.words import listed
from wiregen.scheme.model import Override
from wiregen.terms import Notice, Where

#: Kinds of devices that act in an emergency.
_SAFETY = ("emergency_stop", "safety_relay")


def declared(context: Context) -> Iterator[Notice]:
    """Every override, with what it does and why it may."""
    for where, drive, name, override in _overrides(context):
        text = f"override {name} of {drive} {override_setting(override)}, because: {override.why}"
        yield Notice("override-declared", where, f"{drive} {name}", text)


def over_safety(context: Context) -> Iterator[Notice]:
    """An override over an isolator, safe torque off or an emergency stop, or over an input that one of these drives."""
    for where, drive, name, override in _overrides(context):
        for ignored in map(plainly, override.ignores):
            by = _safety_devices(context, drive, ignored)
            if ignored in NEVER_IGNORED or by:
                what = f"{ignored} (by {listed(by)})" if by else ignored
                text = f"override {name} of {drive} would go over {what}"
                yield Notice("override-over-safety", (*where, "ignores"), f"{drive} {name}", text)


def ignores_unknown(context: Context) -> Iterator[Notice]:
    """A name under `ignores` that is nothing an override could go over."""
    for where, drive, name, override in _overrides(context):
        own = {f.name for f in context.declared.functions if f.controller == drive and f.purpose == "input"}
        known = [*MAY_IGNORE, *sorted(own - set(MAY_IGNORE))]
        for ignored in map(plainly, override.ignores):
            if ignored not in known and ignored not in NEVER_IGNORED:
                near = difflib.get_close_matches(ignored, known, 1)
                hint = f" (did you mean {near[0]}?)" if near else f"; it may go over {listed(MAY_IGNORE, 'or')}"
                text = f"override {name} of {drive} ignores {ignored!r}, which is nothing that {drive} has{hint}"
                yield Notice("override-ignores-unknown", (*where, "ignores"), f"{drive} {name}", text)


def by_break(context: Context) -> Iterator[Notice]:
    """An override that acts when its input opens: a broken wire brings it about."""
    for function in context.declared.functions:
        if function.name.startswith("override ") and function.acts_on in ("open", "opening"):
            text = f"{function.name} of {function.controller} acts when its input opens: a broken wire brings it about"
            yield Notice("override-by-break", function.where, f"{function.controller} {function.name}", text)


def _overrides(context: Context) -> Iterator[tuple[Where, str, str, Override]]:
    for drive, control in context.scheme.model.control.items():
        for name, override in control.override.items():
            yield ("control", drive, "override", name), drive, name, override


def _safety_devices(context: Context, drive: str, ignored: str) -> list[str]:
    """The emergency stops and safety relays whose contacts stand in the input that would be ignored."""
    functions = [f for f in context.declared.functions if f.controller == drive and ignored in (f.name, f.meaning)]
    devices = dict.fromkeys(leg.contact.device for f in functions for leg in legs_of(f))
    return [name for name in devices if context.devices[name].kind in _SAFETY]
