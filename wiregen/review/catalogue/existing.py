"""Codes about what is there already: wired terminals, kept apart, existing strips, cables, cores and numbers."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import START, STOP, SUPPLY, THREE_WIRE, drive

_FAR = """
-SJ1: {profile: push_button, contact: NO, at: +F1, text: START}
-SJ2: {profile: push_button, contact: NC, at: +F1, text: STOP}
-SJ9: {profile: push_button, contact: NC, at: +C1, text: STOP}
"""
_COMMANDS = THREE_WIRE + "enable: -SJ9\n"


def _pump(rest: str, *, cores: int = 7, control: str = _COMMANDS, devices: str = _FAR) -> str:
    """A drive whose buttons stand at a pump, joined to it by an existing cable."""
    cabling = f"\ncabling: {{existing: {{-W7: {{from: +C1, to: +F1, cores: {cores}}}}}}}\n"
    text = drive(devices, control, rest + cabling)
    return text.replace(
        "  +C1: {name: Control cabinet}\n", "  +C1: {name: Control cabinet}\n  +F1: {name: Pump, route: 9 m}\n"
    )


ENTRIES = (
    Entry(
        code="function-moved",
        severity=NOTE,
        title="A wired function moves to another terminal",
        what=(
            "`wired`, or an earlier pack that is kept, has a function on one terminal; the allocation puts it on "
            "another, because not all can stay."
        ),
        why="The conductor has to be moved at the controller, and every list and drawing of it changes.",
        remedy="Move the conductor as the terminations say; or put the function into `fixed`, which holds it there.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            fixed:
              -TA1: {DI2: start}
            wired:
              -TA1: {DI2: stop}
            """,
        ),
        right=(("{DI2: stop}", "{DI1: stop}"),),
    ),
    Entry(
        code="wired-not-kept",
        severity=WARNING,
        title="Something wired that the scheme no longer has",
        what=(
            "`wired` names a function that nothing declares at that device, or a terminal that carries none; or a "
            "device of an earlier pack that is kept goes by another name now."
        ),
        why="The conductor that is there serves nothing in this scheme; left on its terminal it may act unseen.",
        remedy="Take the entry out when the conductor has been removed, or declare what it does.",
        basis=PRACTICE,
        example=drive(
            START + STOP,
            THREE_WIRE,
            """
            wired:
              -TA1: {DI5: reset}
            """,
        ),
        right=(("{DI5: reset}", "{DI5: start}"),),
    ),
    Entry(
        code="apart-function-unknown",
        severity=ERROR,
        title="A function to keep apart that nothing declares",
        what="`apart` names a function that no device has.",
        why="Nothing is kept apart then: the two may well come to stand on one card and be lost together.",
        remedy=(
            "Write the function as it is called at the card, such as `running of -TA1`, or with its device added, "
            "such as `start of -TA1`."
        ),
        basis=PRACTICE,
        example=drive(
            SUPPLY + "-KE1: {profile: io_digital_in_16, at: +C1}\n",
            "relays:\n  running: {switches: -KE1}\n  ready: {switches: -KE}\n",
            """
            banks:
              -KE: [-KE1, -KE2]
            apart:
              - [running of -TA1, redy of -TA1]
            """,
            beside="-KE1: {inputs: source}\n-KE2: {inputs: source}\n",
        ).replace("control:", "  -KE2: {profile: io_digital_in_16, at: +C1}\ncontrol:", 1),
        right=(("redy of", "ready of"),),
    ),
    Entry(
        code="fixed-strip-unknown",
        severity=ERROR,
        title="A strip terminal that cannot be meant",
        what=(
            "`strip` at a terminal names no strip and terminal, or a strip terminal on which its conductor cannot land "
            "because it has others already."
        ),
        why="What is fixed is what hangs on the wall: a terminal that is not found there is not wired as declared.",
        remedy='Write the strip and its terminal, as in `strip: "-X3:1"`, once for each conductor that lands.',
        basis=PRACTICE,
        example=_pump("fixed:\n  -TA1: {DI1: {function: start, strip: -X3}}"),
        right=(("strip: -X3", 'strip: "-X3:1"'),),
    ),
    Entry(
        code="strip-terminal-fixed-twice",
        severity=ERROR,
        title="One strip terminal fixed for two potentials",
        what="Two entries fix conductors of two potentials on one strip terminal.",
        why="A strip terminal joins what lands on it: the two potentials would be one.",
        remedy="Read the strip again, and give each conductor the terminal on which it lands.",
        basis=PRACTICE,
        example=_pump(
            'fixed:\n  -TA1: {DI1: {function: start, strip: "-X3:1"}, DI2: {function: stop, strip: "-X3:1"}}'
        ),
        right=(('{function: stop, strip: "-X3:1"}', '{function: stop, strip: "-X3:2"}'),),
    ),
    Entry(
        code="fixed-cable-unknown",
        severity=ERROR,
        title="A fixed cable or core that is not there",
        what="A terminal names a cable that `cabling: existing` does not declare, or a core that the cable has not.",
        why="A core can be kept only in a cable that is there; the lists would send someone to look for it.",
        remedy="Declare the cable under `cabling: existing` with its ends and cores, or name the right core.",
        basis=PRACTICE,
        example=_pump("fixed:\n  -TA1: {DI1: {function: start, cable: -W7, core: 9}}"),
        right=(("core: 9", "core: 2"),),
    ),
    Entry(
        code="fixed-cable-elsewhere",
        severity=ERROR,
        title="A fixed cable that does not run to the function's place",
        what=(
            "A conductor is fixed in a cable, and what it leads to stands where that cable does not run, or needs a "
            "cable of another class."
        ),
        why="The core would end where nothing of this function stands, or carry it beside what disturbs it.",
        remedy="Name the cable that runs there, or correct the place of the device or the ends of the cable.",
        basis=PRACTICE,
        example=_pump(
            "fixed:\n  -TA1: {DI2: {function: stop, cable: -W7, core: 2}}",
            devices=_FAR.replace("NC, at: +F1", "NC, at: +C1"),
        ),
        right=(("{function: stop, cable: -W7, core: 2}", "stop"),),
    ),
    Entry(
        code="core-fixed-twice",
        severity=ERROR,
        title="One core fixed for two conductors",
        what="Two entries fix conductors of two potentials on one core of one cable.",
        why="A core is one piece of copper: it carries one conductor.",
        remedy="Read the core numbers at both ends of the cable again, and correct one of the two.",
        basis=PRACTICE,
        example=_pump(
            "fixed:\n  -TA1: {DI1: {function: start, cable: -W7, core: 2}, DI2: {function: stop, cable: -W7, core: 2}}"
        ),
        right=(("{function: stop, cable: -W7, core: 2}", "{function: stop, cable: -W7, core: 3}"),),
    ),
    Entry(
        code="existing-cable-full",
        severity=NOTE,
        title="An existing cable has no core left",
        what="More cores are wanted between two places than the existing cable has; a new cable takes the rest.",
        why="A second cable needs a gland, a route and terminals, which somebody has to find room for.",
        remedy="See whether contacts can share a feed core or be left out; else lay the new cable.",
        basis=PRACTICE,
        example=_pump("", cores=2),
        right=(("cores: 2", "cores: 4"),),
        along=("spare-below-policy",),
    ),
    Entry(
        code="spare-below-policy",
        severity=WARNING,
        title="Fewer spare cores than the policy asks for",
        what="An existing cable has fewer spare cores than `cabling: spare` asks for, at least one.",
        why="A core that breaks in a cable without a spare stops the machine until a new cable is laid.",
        remedy="Lay a larger cable, or accept the finding with the reason.",
        basis=PRACTICE,
        example=_pump("", cores=3),
        right=(("cores: 3", "cores: 4"),),
    ),
    Entry(
        code="number-kept-twice",
        severity=ERROR,
        title="One number kept for two potentials",
        what="`numbers: keep` or `number` at a terminal gives two potentials one number, or one potential two numbers.",
        why="The number on a wire end says which potential it belongs to; two of one number are taken for joined.",
        remedy="Read the markers again and correct one of the numbers; a potential has one.",
        basis=PRACTICE,
        example=_pump("numbers:\n  keep: {-TA1:DI1: 11, -TA1:DI2: 11}")
        .replace("-TA1:DI1: 11", '"-SJ1:14": 11')
        .replace("-TA1:DI2: 11", '"-SJ2:12": 11'),
        right=(('"-SJ2:12": 11', '"-SJ2:12": 12'),),
    ),
    Entry(
        code="kept-number-unknown",
        severity=WARNING,
        title="A kept number for something that is not wired",
        what="`numbers: keep` names neither a potential nor a pin that is wired.",
        why="The number is on a wire at the machine; here it is given to nothing, and may be given to something else.",
        remedy="Name a potential as the lists have it, or a pin, as in `-TA1:DI1: 101`.",
        basis=PRACTICE,
        example=_pump('numbers:\n  keep: {"-SJ1:15": 11}'),
        right=(("-SJ1:15", "-SJ1:14"),),
    ),
    Entry(
        code="route-not-declared",
        severity=NOTE,
        title="A cable whose length is unknown",
        what="A cable runs between two places, and no `route` says how long the way is.",
        why="Its length stays empty in the cable schedule, and its voltage drop cannot be computed.",
        remedy="Give the route from the cabinet where the cable begins, as in `route: {+C1: 35 m, +C2: 12 m}`.",
        basis=PRACTICE,
        example=drive(
            "-SJ1: {profile: push_button, contact: NO, at: +C2}\n",
            "reset: -SJ1\n",
        ).replace(
            "  +C1: {name: Control cabinet}\n", "  +C1: {name: Control cabinet}\n  +C2: {name: Second cabinet}\n"
        ),
        right=(("+C2: {name: Second cabinet}", "+C2: {name: Second cabinet, route: {+C1: 8 m}}"),),
    ),
)
