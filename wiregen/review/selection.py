"""Selection of speed references: from the selecting contacts through their codes to the references in force."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

import networkx as nx

from wiregen.control.functions import SelectionInfo
from wiregen.review.codes import contacts_of, position_names, possible_codes
from wiregen.review.context import Context
from wiregen.review.words import listed
from wiregen.terms import Notice, Where

#: More selecting contacts than this are not checked code by code: 1024 codes is where a table stops being one.
MOST_CONTACTS = 10

Node = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Row:
    """One well-formed row of the table: its digits, what it brings into force, its key as written."""

    digits: str
    reference: str
    key: str
    run: str = ""

    @property
    def gives(self) -> str:
        """What the row brings into force, in words; equal words are equal outcomes."""
        return " with ".join(p for p in (f"run {self.run}" if self.run else "", self.reference) if p) or "nothing"


@dataclass(frozen=True, slots=True)
class Selection:
    """The truth table of one drive: the codes that its contacts can give, and the rows that cover each code."""

    info: SelectionInfo
    codes: tuple[str, ...]
    said: dict[str, str]  # code -> the name of its position, where positions are the keys
    rows: tuple[Row, ...]
    covering: dict[str, list[Row]]  # any code -> the rows that cover it

    @property
    def zero(self) -> str:
        """The code with every input open, which a broken common wire gives; turned where an input acts on opening."""
        return self.info.turn("0" * len(self.info.contacts))

    def references_of(self, code: str) -> tuple[str, ...]:
        """What the rows bring into force at ``code``: one reference where the table is sound."""
        return tuple(dict.fromkeys(row.reference for row in self.covering.get(code, ())))

    def outcomes_of(self, code: str) -> frozenset[str]:
        """What the rows bring into force at ``code``, runs included."""
        return frozenset(row.gives for row in self.covering.get(code, ()))

    def name(self, code: str) -> str:
        return self.said.get(code, code)


def selection_of(context: Context, info: SelectionInfo) -> Selection:
    """The table of one drive, with the codes that its contacts can really give; none where they are too many."""
    contacts = contacts_of(context, info)
    few = len(contacts) <= MOST_CONTACTS
    written = enumerate(zip(info.rows, info.keys, strict=True))
    rows = tuple(
        Row(digits, reference, key, info.run_of(i))
        for i, ((digits, reference), key) in written
        if _well_formed(info, digits)
    )
    covering: dict[str, list[Row]] = defaultdict(list)
    for row in rows if few else ():
        for code in product(*("01" if digit == "x" else digit for digit in row.digits)):
            covering["".join(code)].append(row)
    said = position_names(context, contacts) if info.by_position else {}
    codes = sorted(info.turn(code) for code in possible_codes(context, contacts)) if few else ()
    return Selection(info, tuple(codes), {info.turn(c): name for c, name in said.items()}, rows, dict(covering))


def graph_of(selection: Selection) -> nx.DiGraph[Node]:
    """Contacts, the codes that they give, and the references that the codes bring into force."""
    graph: nx.DiGraph[Node] = nx.DiGraph()
    for code in selection.codes:
        graph.add_edges_from((("contact", contact), ("code", code)) for contact in selection.info.contacts)
        graph.add_edges_from((("code", code), ("reference", name)) for name in selection.references_of(code))
    return graph


def reached(selection: Selection) -> set[str]:
    """The references that some position of the contacts brings into force."""
    graph = graph_of(selection)
    starts = [node for node in graph if node[0] == "contact"]
    found = set().union(*(nx.descendants(graph, start) for start in starts))
    return {name for kind, name in found if kind == "reference"}


def selections(context: Context) -> Iterator[Selection]:
    """Every selection of the design with its codes."""
    return (selection_of(context, info) for info in context.declared.selections)


# Rules


def codes_missing(context: Context) -> Iterator[Notice]:
    """Codes that the contacts can give and that bring nothing into force."""
    for selection in selections(context):
        graph = graph_of(selection)
        missing = [code for code in selection.codes if graph.out_degree(("code", code)) == 0]
        if missing:
            controller = selection.info.controller
            what = "positions" if selection.info.by_position else "codes"
            text = (
                f"the selection of {controller} says nothing for {listed(map(selection.name, missing))}: "
                f"{len(missing)} of {len(selection.codes)} {what} {'is' if len(missing) == 1 else 'are'} missing"
            )
            yield Notice("codes-missing", (*selection.info.where, "when"), controller, text)


def codes_contradict(context: Context) -> Iterator[Notice]:
    """Two rows that give one code different references."""
    yield from _overlaps(context, "codes-contradict", alike=False)


def code_covered_twice(context: Context) -> Iterator[Notice]:
    """Two rows that give one code the same reference."""
    yield from _overlaps(context, "code-covered-twice", alike=True)


def code_malformed(context: Context) -> Iterator[Notice]:
    """A key that is no code: the wrong number of digits, another character, or no position of the selector."""
    for info in context.declared.selections:
        for (digits, _), key in zip(info.rows, info.keys, strict=True):
            if not _well_formed(info, digits):
                count = len(info.contacts)
                digit = f"{count} digits" if count > 1 else "one digit"
                right = f"{digit} (0, 1, or x for either), one for each of {listed(info.contacts)}"
                if info.by_position:
                    right = f"a position of {info.contacts[0].partition('@')[0]}, or {right}"
                text = f"{key!r} is no code of the selection of {info.controller}: write {right}"
                yield Notice("code-malformed", (*info.where, "when", key), f"{info.controller} {key}", text)


def contact_idle(context: Context) -> Iterator[Notice]:
    """A selecting contact that makes no difference in any code."""
    for selection in selections(context):
        codes = frozenset(selection.codes)
        for index, name in enumerate(selection.info.contacts):
            closed = [code for code in selection.codes if code[index] == "1"]
            pairs = [(f"{code[:index]}0{code[index + 1 :]}", code) for code in closed]
            outcomes = [tuple(selection.outcomes_of(code) for code in pair) for pair in pairs if pair[0] in codes]
            told = [outcome for outcome in outcomes if any(outcome)]
            if told and all(low == high for low, high in told):
                drive = selection.info.controller
                text = f"{name} selects nothing at {drive}: open or closed, the same is in force"
                yield Notice(
                    "selecting-contact-idle",
                    _where_of(selection.info, index),
                    f"{selection.info.controller} {name}",
                    text,
                )


def too_wide(context: Context) -> Iterator[Notice]:
    """More selecting contacts than are checked code by code."""
    for info in context.declared.selections:
        if len(info.contacts) > MOST_CONTACTS:
            count = len(info.contacts)
            text = (
                f"{count} contacts select at {info.controller}, which makes {2**count} codes; "
                f"with more than {MOST_CONTACTS} contacts the codes are not checked"
            )
            yield Notice(
                "selection-too-wide", (*info.where, "by"), info.controller, text, value=count, limit=MOST_CONTACTS
            )


def _well_formed(info: SelectionInfo, digits: str) -> bool:
    return len(digits) == len(info.contacts) and set(digits) <= set("01x")


def _where_of(info: SelectionInfo, index: int) -> Where:
    """The item of `by` that gives a digit; one selector may give several."""
    return (*info.where, "by", str(index)) if not info.by_position else (*info.where, "by", "0")


def _overlaps(context: Context, code: str, *, alike: bool) -> Iterator[Notice]:
    for selection in selections(context):
        meeting: dict[tuple[Row, Row], list[str]] = defaultdict(list)
        for code_met in selection.codes:
            for pair in combinations(selection.covering.get(code_met, ()), 2):
                meeting[pair].append(code_met)
        for (first, second), both in meeting.items():
            if (first.gives == second.gives) is alike:
                gives = f"{first.gives} twice" if alike else f"{first.gives} and {second.gives}"
                drive = selection.info.controller
                text = f"{first.key} and {second.key} both cover {listed(both)} at {drive}, which gives {gives}"
                yield Notice(code, (*selection.info.where, "when", second.key), f"{drive} {second.key}", text)
