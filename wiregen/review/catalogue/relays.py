"""Codes about contacts in series and parallel, shared contacts, relays and what energises them."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import SAID, START, STOP, SUPPLY, THREE_WIRE, drive

_FIELD = "places:\n  +C1: {name: Control cabinet}\n"
_RELAY = "-KF1: {profile: interposing_relay, at: +C1}\n"
_NUMBERS = range(1, 13)


def _with_field(scheme: str) -> str:
    """The same plant with a place in the field."""
    return scheme.replace(_FIELD, _FIELD + "  +F1: {name: Field, route: 20 m}\n")


ENTRIES = (
    Entry(
        code="sneak-path",
        severity=ERROR,
        title="A contact feeds an input or a coil that it should not",
        what=(
            "In the state that is named, current finds its way to an input or a coil through contacts that are not "
            "closed for it by its own declaration: backwards through a shared contact, or over the common pin of a "
            "changeover."
        ),
        why=(
            "The circuit does something that nobody declared, in one combination of contacts that a test of each "
            "function alone does not meet."
        ),
        remedy="Give each function a contact of its own: a second contact of the device, or one of a relay.",
        basis=PRACTICE,
        example=drive(
            "-SJ1: {profile: push_button, contact: NC, at: +C1, shared: [11-12]}\n"
            "-SJ2: {profile: push_button, contact: NC, at: +C1}\n",
            "enable: -SJ1\nexternal_trip: {any: [-SJ1, -SJ2]}\n",
        ),
        right=(("contact: NC, at: +C1, shared: [11-12]}", "contacts: [NC, NC], at: +C1}"),),
    ),
    Entry(
        code="sneak-paths-bounded",
        severity=NOTE,
        title="Too many states to search all of them for sneak paths",
        what=(
            "Contacts of several functions hang together and have more states than are tried. Those in which the "
            "fewest devices are operated were tried."
        ),
        why="A sneak path that needs many devices operated at once may not have been found.",
        remedy="Part the circuits: contacts that no two functions share cannot feed one another.",
        basis=PRACTICE,
        example=drive(
            "-SJ20: {profile: push_button, contact: NC, at: +C1, shared: [11-12]}\n"
            + "".join(f"-SJ{n}: {{profile: push_button, contact: NC, at: +C1}}\n" for n in _NUMBERS),
            f"enable: {{all: [-SJ20, {', '.join(f'-SJ{n}' for n in _NUMBERS[:6])}]}}\n"
            f"external_trip: {{all: [-SJ20, {', '.join(f'-SJ{n}' for n in _NUMBERS[6:])}]}}\n",
        ),
        right=(("contact: NC, at: +C1, shared: [11-12]}", "contacts: [NC, NC], at: +C1}"),),
    ),
    Entry(
        code="contact-order",
        severity=NOTE,
        title="Another order of contacts in series takes fewer cores",
        what=(
            "Contacts in series stand in several places. They are wired in the declared order, and another order would "
            "take fewer cores between the places."
        ),
        why="Each change from one place to another costs a core and two strip clamps.",
        remedy="Declare contacts of one place next to one another, if the order does not matter otherwise.",
        basis=PRACTICE,
        example=_with_field(
            drive(
                "-SJ1: {profile: push_button, contact: NC, at: +F1}\n"
                "-SJ2: {profile: push_button, contact: NC, at: +C1}\n"
                "-SJ3: {profile: push_button, contact: NC, at: +F1}\n",
                "enable: {all: [-SJ1, -SJ2, -SJ3]}\n",
            )
        ),
        right=(("[-SJ1, -SJ2, -SJ3]", "[-SJ2, -SJ1, -SJ3]"),),
    ),
    Entry(
        code="combination-unfit",
        severity=ERROR,
        title="Something that cannot stand between contacts",
        what=(
            "A combination of contacts in series or in parallel holds a sensor or an output of a controller, or says "
            "for one of its contacts alone when it acts."
        ),
        why=(
            "A sensor needs both poles and drops voltage, an output has a feed of its own: neither is a dry contact "
            "that others can be wired to. And what an input takes is whether the whole combination is closed."
        ),
        remedy=(
            "Let an output energise a relay, as in `energise: -TA2`, and name its contact here; say when an input acts "
            "beside `all` or `any`."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY
            + _RELAY
            + "-SJ1: {profile: push_button, contact: NC, at: +C1}\n-TA2: {profile: drive_compact, at: +C1}\n",
            "enable: {all: [-SJ1, -TA2]}\n",
            beside=f"-TA2: {{{SAID.strip().replace(chr(10), ', ')}}}\n-KF1: {{energise: -TA2, supply: -TB1}}\n",
        ),
        right=(("all: [-SJ1, -TA2]", "all: [-SJ1, -KF1]"),),
        along=("device-unused", "relay-without-effect"),
    ),
    Entry(
        code="through-unfit",
        severity=ERROR,
        title="An interposing relay that is none",
        what="`through:` names a device that is neither a relay nor a contactor.",
        why="What stands between needs a coil that one side drives and a contact that the other side is driven by.",
        remedy="Name a relay or a contactor with a free make contact.",
        basis=PRACTICE,
        example=drive(
            SUPPLY + _RELAY + "-SJ1: {profile: push_button, contact: NC, at: +C1}\n",
            "enable: {by: -SJ1, through: -TB1}\n",
        ),
        right=(("through: -TB1", "through: -KF1"),),
        along=("device-unused",),
    ),
    Entry(
        code="coil-driver-unfit",
        severity=ERROR,
        title="A coil that a sensor should energise",
        what="`energise:` or `through:` names a proximity switch as what drives the coil of a relay.",
        why=(
            "A coil takes more current than many sensors may switch, and its suppression matters: such a pairing is "
            "not wired without a check of both."
        ),
        remedy="Read the sensor with an input, and let an output or a contact energise the relay.",
        basis=PRACTICE,
        example=drive(
            SUPPLY
            + _RELAY
            + "-BG1: {profile: proximity_three_wire, output: PNP, at: +C1}\n"
            + "-BG2: {profile: limit_switch, contact: NO, at: +C1}\n",
            "enable: -KF1\nreverse: -BG2\n",
            beside="-KF1: {energise: -BG1, supply: -TB1}\n",
        ),
        right=(("energise: -BG1", "energise: -BG2"), ("reverse: -BG2", "reverse: -BG1")),
        along=("coil-not-energised", "device-unused"),
    ),
    Entry(
        code="coil-not-energised",
        severity=WARNING,
        title="A relay's contact is used, and nothing energises the relay",
        what="A contact of a relay or contactor stands in a circuit, and nothing drives its coil.",
        why="The contact never moves: a make contact keeps its circuit open for ever, a break contact closed.",
        remedy="Say in the relay's section what energises it, or let a duty of a controller switch it.",
        basis=PRACTICE,
        example=drive(
            SUPPLY + _RELAY + START + STOP,
            THREE_WIRE + "reverse: -KF1\nrelays:\n  running: {switches: -PF1}\n",
        ).replace("devices:\n", "devices:\n  -PF1: {profile: pilot_lamp, at: +C1}\n"),
        right=(("switches: -PF1", "switches: -KF1"), ("  -PF1: {profile: pilot_lamp, at: +C1}\n", "")),
    ),
    Entry(
        code="relay-without-effect",
        severity=WARNING,
        title="A relay is energised, and no contact of it acts",
        what="Something energises a relay, and no contact of it stands in any circuit but that of its own coil.",
        why="The relay clicks and does nothing.",
        remedy="Use a contact of it, or leave the relay out.",
        basis=PRACTICE,
        example=drive(
            SUPPLY + _RELAY + START + STOP + "-BG1: {profile: limit_switch, contact: NO, at: +C1}\n",
            THREE_WIRE + "reverse: -BG1\n",
            beside="-KF1: {energise: -SJ3, supply: -TB1}\n",
        ).replace("devices:\n", "devices:\n  -SJ3: {profile: push_button, contact: NO, at: +C1}\n"),
        right=(("reverse: -BG1", "reverse: -KF1"), ("energise: -SJ3", "energise: {any: [-BG1, -SJ3]}")),
    ),
)
