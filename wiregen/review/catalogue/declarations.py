"""Codes about what is declared: devices and places that nothing uses, and letters of designations."""

from __future__ import annotations

from wiregen.review.catalogue.entry import NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, THREE_WIRE, drive

ENTRIES = (
    Entry(
        code="device-unused",
        severity=WARNING,
        title="A device that nothing uses",
        what="A device is declared, and stands in no function, feeds nothing and is joined to nothing.",
        why="Either it is left over and would be bought for nothing, or the function that needs it has been forgotten.",
        remedy="Use it in a controller's section, or leave it out.",
        basis=PRACTICE,
        example=drive(START + STOP + "-SJ5: {profile: push_button, contact: NO, at: +C1, text: RESET}\n", THREE_WIRE),
        right=(("stop: -SJ2}\n", "stop: -SJ2}\n    reset: -SJ5\n"),),
    ),
    Entry(
        code="place-unused",
        severity=WARNING,
        title="A place where nothing stands",
        what="A place is declared and no device stands there.",
        why="Either it is left over, or a device stands at the wrong place and its cable is missing.",
        remedy="Put a device there, or leave the place out.",
        basis=PRACTICE,
        example=drive(START + STOP, THREE_WIRE).replace(
            "  +C1: {name: Control cabinet}\n",
            "  +C1: {name: Control cabinet}\n  +F1: {name: Pump skid, route: 35 m}\n",
        ),
        right=(("contact: NC, at: +C1", "contact: NC, at: +F1"),),
    ),
    Entry(
        code="designation-unusual",
        severity=NOTE,
        title="Letters that say something else than the device is",
        what=(
            "The letters of a designation are not those that IEC 81346-2 has for this kind of device, in neither of "
            "two editions. A single letter needs only to be that of the class."
        ),
        why=(
            "Whoever reads -KF1 on a sheet expects a relay; the letters are the first thing that tells what to look "
            "for."
        ),
        remedy="Rename the device, or keep the letters that your company has settled on.",
        basis="IEC 81346-2, editions of 2009 and 2019",
        example=drive("-KF1: {profile: push_button, contact: NC, at: +C1}\n", "enable: -KF1\n"),
        right=(("  -KF1: {profile", "  -SJ1: {profile"), ("enable: -KF1", "enable: -SJ1")),
    ),
)
