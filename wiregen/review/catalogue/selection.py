"""Codes about the selection of references: the truth table of the selecting contacts."""

from __future__ import annotations

from wiregen.review.catalogue.entry import ERROR, NOTE, PRACTICE, WARNING, Entry
from wiregen.review.catalogue.plant import drive

_TWO = """\
-SJ3: {profile: selector, positions: [LOW, HIGH], at: +C1}
-SJ4: {profile: selector, positions: [DAY, NIGHT], at: +C1}
"""
_THREE = "-SJ3: {profile: selector, positions: [LOW, HALF, FULL], at: +C1}\n"
_ELEVEN = [f"-SJ{n}.{c}3-{c}4" for n in (1, 2, 3) for c in (1, 2, 3, 4)][:11]
_PRESETS = """\
speed:
  creep: {preset: 5 Hz}
  slow: {preset: 20 Hz}
  fast: {preset: 45 Hz}
"""

ENTRIES = (
    Entry(
        code="codes-missing",
        severity=ERROR,
        title="Codes that select nothing",
        what=(
            "The selecting contacts can give a code for which `select: when` has no row. Two contacts give four "
            "codes; x in a row stands for either digit. With one selector each of its positions needs a row."
        ),
        why="In that position the drive follows whatever its makers chose: another reference, zero, or a fault.",
        remedy="Add a row for each missing code; use x where a contact makes no difference.",
        basis=PRACTICE,
        example=drive(_TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, 01: slow, 10: fast}}\n"),
        right=(("10: fast", "1x: fast"),),
    ),
    Entry(
        code="codes-contradict",
        severity=ERROR,
        title="One code for two references",
        what="Two rows of the selection cover one code and name different references.",
        why="The drive can follow only one of them, and the table does not say which.",
        remedy="Take the code out of one of the rows: replace its x by the digit that is meant.",
        basis=PRACTICE,
        example=drive(_TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, x1: slow, 1x: fast}}\n"),
        right=(("x1: slow", "01: slow"),),
    ),
    Entry(
        code="code-covered-twice",
        severity=NOTE,
        title="One code in two rows",
        what="Two rows of the selection cover one code and name the same reference.",
        why="The table says one thing twice; whoever changes one row later leaves a contradiction.",
        remedy="Leave one of the rows out.",
        basis=PRACTICE,
        example=drive(_TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, 01: slow, 1x: fast, 11: fast}}\n"),
        right=((", 11: fast", ""),),
    ),
    Entry(
        code="code-malformed",
        severity=ERROR,
        title="A key that is no code of the selection",
        what=(
            "A key under `select: when` has too many or too few digits, another character than 0, 1 and x, or names "
            "no position of the selector. There is one digit for each contact, in the order of `by`."
        ),
        why="Such a row brings nothing into force, and the code that was meant is missing.",
        remedy="Write one digit a contact, or with a single selector the names of its positions.",
        basis=PRACTICE,
        example=drive(
            _TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, 01: slow, 1x: fast, 111: fast}}\n"
        ),
        right=((", 111: fast", ""),),
    ),
    Entry(
        code="selecting-contact-idle",
        severity=WARNING,
        title="A selecting contact that changes nothing",
        what="Whether a selecting contact is open or closed, the same reference is in force.",
        why="It takes a terminal and a core, and the operator turns a switch that does nothing.",
        remedy="Give the codes of that contact references of their own, or take the contact out of `by`.",
        basis=PRACTICE,
        example=drive(
            _TWO,
            _PRESETS.replace("  slow: {preset: 20 Hz}\n", "")
            + "select: {by: [-SJ3, -SJ4], when: {0x: creep, 1x: fast}}\n",
        ),
        right=(
            ("  -SJ4: {profile: selector, positions: [DAY, NIGHT], at: +C1}\n", ""),
            ("{by: [-SJ3, -SJ4], when: {0x: creep, 1x: fast}}", "{by: [-SJ3], when: {LOW: creep, HIGH: fast}}"),
        ),
    ),
    Entry(
        code="selection-too-wide",
        severity=WARNING,
        title="Too many selecting contacts to check",
        what=(
            "More than ten contacts select references at one drive. Their codes, more than a thousand, are not checked."
        ),
        why="No table of that size is ever complete, and no drive has so many inputs to spare.",
        remedy="Select with fewer contacts, or send the reference over an analog input or the network.",
        basis=PRACTICE,
        example=drive(
            "".join(f"-SJ{n}: {{profile: push_button, contacts: [NO, NO, NO, NO], at: +C1}}\n" for n in (1, 2, 3)),
            f"{_PRESETS}select:\n  by: [{', '.join(_ELEVEN)}]\n  when: {{00000000000: creep}}\n",
        ),
        right=(
            (", ".join(_ELEVEN), "-SJ1.13-14, -SJ2.13-14, -SJ3.13-14"),
            ("00000000000: creep", "000: creep, 001: slow, 01x: fast, 1xx: slow"),
        ),
        along=("terminals-too-few",),
    ),
    Entry(
        code="selection-missing",
        severity=ERROR,
        title="Several references and nothing that selects",
        what="A drive has two or more references and no `select:`.",
        why="Only one reference is in force at a time, and nothing says which. A single one needs no selection.",
        remedy="Add `select:` with a selector or contacts, or leave one reference.",
        basis=PRACTICE,
        example=drive(_THREE, _PRESETS + "enable: -SJ3@FULL\n"),
        right=(("    enable: -SJ3@FULL\n", "    select: {by: [-SJ3], when: {LOW: slow, HALF: creep, FULL: fast}}\n"),),
    ),
    Entry(
        code="reference-orphaned",
        severity=WARNING,
        title="A reference that nothing selects",
        what="A reference is declared and no code brings it into force, or only a code that its contacts cannot give.",
        why=(
            "Its source, its terminal and its cable do nothing; most often a row of the selection names the wrong "
            "reference."
        ),
        remedy="Name it in a row of `select: when`, or leave it out.",
        basis=PRACTICE,
        example=drive(_TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, 01: fast, 1x: creep}}\n"),
        right=(("1x: creep", "1x: slow"),),
    ),
    Entry(
        code="reference-undeclared",
        severity=ERROR,
        title="A code for a reference that is not declared",
        what="A row of the selection names a reference that does not stand under `speed:`.",
        why="Nothing says what the drive shall do in that position.",
        remedy="Declare the reference under `speed:`, or name one that is there.",
        basis=PRACTICE,
        example=drive(
            _TWO, _PRESETS + "select: {by: [-SJ3, -SJ4], when: {00: creep, 01: slow, 10: fast, 11: faster}}\n"
        ),
        right=(("11: faster", "11: fast"),),
    ),
    Entry(
        code="code-zero-not-slowest",
        severity=WARNING,
        title="Broken selecting wires bring a faster reference",
        what=(
            "The code of all open contacts brings a reference into force whose highest speed is above that of "
            "another one. Compared are the frequencies of presets and the upper ends of `spans`; what a reference "
            "may command counts, not where it stands now."
        ),
        why="A broken common wire opens all selecting contacts: the machine should then become slower, never faster.",
        remedy="Give code 0 to the slowest reference, and turn the positions of the selector accordingly.",
        basis=PRACTICE,
        example=drive(_THREE, _PRESETS + "select: {by: [-SJ3], when: {LOW: creep, HALF: slow, FULL: fast}}\n"),
        right=(("LOW: creep, HALF: slow", "LOW: slow, HALF: creep"),),
    ),
    Entry(
        code="code-zero-undeclared",
        severity=WARNING,
        title="Nothing said for broken selecting wires",
        what=(
            "The selector closes a contact in every position, so that no position gives the code of all open "
            "contacts, and no row declares what is in force then."
        ),
        why=(
            "A broken common wire, or a switch between two positions, gives just that code; the drive does what its "
            "makers chose."
        ),
        remedy="Add a row with all digits 0 for the slowest reference, or leave one position without a contact.",
        basis=PRACTICE,
        example=drive(
            _THREE.replace("at: +C1", "contact_per_position: yes, at: +C1"),
            _PRESETS + "select: {by: [-SJ3], when: {LOW: creep, HALF: slow, FULL: fast}}\n",
        ),
        right=(("{LOW: creep,", "{000: creep, LOW: creep,"),),
    ),
)
