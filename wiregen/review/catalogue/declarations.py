"""Codes about what is declared: devices and places that nothing uses, and letters of designations."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
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
    Entry(
        code="acceptance-unused",
        severity=WARNING,
        title="An accepted finding that does not arise",
        what="`accepted` names a code, and perhaps where, and no finding is of that code there.",
        why="The reason was given for something that has been put right or was misspelt; it would hide the next one.",
        remedy="Leave the entry out, or write code and `at` as the finding has them.",
        basis=PRACTICE,
        example=drive(START + STOP, THREE_WIRE)
        + "accepted: [{code: restart-not-declared, at: -TA1, why: a fan that nobody can reach}]\n",
        right=(("accepted: [{code: restart-not-declared, at: -TA1, why: a fan that nobody can reach}]\n", ""),),
    ),
    Entry(
        code="acceptance-of-error",
        severity=ERROR,
        title="An error that is accepted",
        what="`accepted` names a finding that is an error.",
        why="With an error the scheme cannot be built or acts against its own declaration: no reason changes that.",
        remedy="Put the error right, and leave the entry out.",
        basis=PRACTICE,
        example=drive(START + STOP, THREE_WIRE).replace("contact: NC", "contact: NO")
        + "accepted: [{code: runs-only-while-held, at: -TA1, why: the operator is used to it}]\n",
        right=(
            ("-SJ2: {profile: push_button, contact: NO", "-SJ2: {profile: push_button, contact: NC"),
            ("accepted: [{code: runs-only-while-held, at: -TA1, why: the operator is used to it}]\n", ""),
        ),
        along=("runs-only-while-held",),
    ),
)
