"""What cover and overview say of a design, as plain data."""

from __future__ import annotations

from wiregen.control.functions import CONTROLLERS, Device
from wiregen.drawing.cover import Facts
from wiregen.drawing.overview import Standing
from wiregen.drawing.plate import Setting
from wiregen.pipeline import Design
from wiregen.terms import Pin

TOLD = (*CONTROLLERS, "supply", "transformer")  # kinds that an overview says in words


def facts(design: Design) -> Facts:
    """What stands at the head of the cover."""
    model = design.scheme.model
    variant = design.scheme.variant or ""
    return Facts(model.scheme, model.drawing, model.revision, model.date or "", design.status, variant)


def revisions(design: Design) -> list[tuple[str, str, str]]:
    """Revision, date and change of each issue of the set."""
    model = design.scheme.model
    return [(model.revision, model.date or "", "")]


def standing(design: Design, setting: Setting) -> list[Standing]:
    """What stands in each place, in the order of the scheme."""
    wired = {pin for p in design.wiring.potentials for pin in p.pins}
    found = []
    for name, words in setting.places.items():
        here = [d for d in design.declared.devices if d.place == name]
        told = tuple((d.name, d.text or d.profile.title, _wired_pin(d, wired)) for d in here if d.kind in TOLD)
        others = tuple((d.name, d.text or d.profile.title) for d in here if d.kind not in TOLD)
        strips = tuple(s.name for s in design.wiring.strips if s.place == name)
        found.append(Standing(name, words, told, others, strips))
    return found


def _wired_pin(device: Device, wired: set[Pin]) -> Pin | None:
    return next((pin for pin in (Pin(device.name, p) for p in device.pins) if pin in wired), None)
