"""Codes of complaints about names: the scheme is refused, because nothing can be worked out with them."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, PRACTICE, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

_SOUND = drive(START + STOP, THREE_WIRE)
_FIXED = _SOUND + "fixed:\n  -TA1: {DI1: stop}\n"

ENTRIES = (
    Entry(
        code="profile-unknown",
        severity=ERROR,
        title="A profile that is not in the library",
        what="A device names a terminal profile that is neither built in nor in a folder of profiles that was given.",
        why="Without its profile a device has no terminals, so nothing that touches it can be worked out.",
        remedy="Name a profile that `wiregen profiles` lists, or give the folder of your own with `--profiles`.",
        basis=PRACTICE,
        example=_SOUND.replace("profile: drive_compact", "profile: drive_compakt"),
        right=(("profile: drive_compakt", "profile: drive_compact"),),
        refused=True,
    ),
    Entry(
        code="place-undeclared",
        severity=ERROR,
        title="A place that is not declared",
        what="A device stands at a place that the section `places` does not hold.",
        why="Cables run between places: of a place that nobody declared there is neither route nor cable.",
        remedy="Declare the place, with its route if it is not the cabinet, or write its name as it is declared.",
        basis=PRACTICE,
        example=_SOUND.replace("contact: NC, at: +C1", "contact: NC, at: +C7"),
        right=(("at: +C7", "at: +C1"),),
        refused=True,
    ),
    Entry(
        code="device-undeclared",
        severity=ERROR,
        title="A device that is not declared",
        what="A function, a supply or a section of control names a device that the section `devices` does not hold.",
        why="A name with one wrong letter would otherwise be a device without place, pins and cable.",
        remedy="Declare the device, or write its name as it is declared.",
        basis=PRACTICE,
        example=_SOUND.replace("stop: -SJ2}", "stop: -SJ9}"),
        right=(("stop: -SJ9}", "stop: -SJ2}"),),
        refused=True,
    ),
    Entry(
        code="terminal-unknown",
        severity=ERROR,
        title="A terminal that the device does not have",
        what="`fixed` or `wired` speaks of a terminal that the profile of the device does not hold.",
        why="What is said to be wired there is wired somewhere else, or the profile is not that of the device on site.",
        remedy="Write the label as `wiregen profiles NAME` shows it, or take the profile that fits the device.",
        basis=PRACTICE,
        example=_FIXED.replace("{DI1: stop}", "{DX1: stop}"),
        right=(("{DX1: stop}", "{DI1: stop}"),),
        refused=True,
    ),
)
