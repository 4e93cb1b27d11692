"""Selection of speed references: from the selecting contacts through their codes to the references in force."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations, product

import networkx as nx

from wiregen.control.functions import Contact, Leg, SelectionInfo
from wiregen.review.context import Context
from wiregen.review.words import listed
from wiregen.terms import Notice, Where

#: More selecting contacts than this are not checked code by code: 1024 codes is where a table stops being one.
MOST_CONTACTS = 10

Node = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Selection:
    """The truth table of one drive: the codes that its contacts can give, and the rows that cover each."""

    info: SelectionInfo
    codes: tuple[str, ...]
    said: dict[str, str]  # code -> the name of its position, where positions are the keys
    rows: tuple[tuple[str, str, str], ...]  # digits, reference, key as written; only well-formed ones

    @property
    def zero(self) -> str:
        """The code with every contact open, which a broken common wire gives."""
        return "0" * len(self.info.contacts)

    def references_of(self, code: str) -> tuple[str, ...]:
        """What the rows bring into force at ``code``: one reference where the table is sound."""
        return tuple(dict.fromkeys(reference for digits, reference, _ in self.rows if covers(digits, code)))

    def name(self, code: str) -> str:
        return self.said.get(code, code)


def selection_of(context: Context, info: SelectionInfo) -> Selection:
    """The table of one drive, with the codes that its contacts can really give."""
    contacts = _contacts(context, info)
    codes = tuple(possible_codes(context, contacts)) if len(contacts) <= MOST_CONTACTS else ()
    written = zip(info.rows, info.keys, strict=True)
    rows = tuple((digits, reference, key) for (digits, reference), key in written if _well_formed(info, digits))
    return Selection(info, codes, _position_names(context, contacts) if info.by_position else {}, rows)


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
    return (selection_of(context, info) for info in context.declared.selections)


def covers(digits: str, code: str) -> bool:
    """Whether a row's digits, in which x stands for either, cover a code."""
    return all(d in ("x", c) for d, c in zip(digits, code, strict=True))


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
        for index, name in enumerate(selection.info.contacts):
            pairs = [(a, b) for a, b in combinations(selection.codes, 2) if _differ_only_at(index, a, b)]
            if pairs and all(selection.references_of(a) == selection.references_of(b) for a, b in pairs):
                drive = selection.info.controller
                text = f"{name} selects nothing at {drive}: open or closed, the same reference is in force"
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


# What codes can occur


def possible_codes(context: Context, contacts: tuple[Contact | None, ...]) -> Iterator[str]:
    """The codes that contacts can give, in binary order: one selector is in one position at a time."""
    of_device: dict[str, list[int]] = defaultdict(list)
    for index, contact in enumerate(contacts):
        if contact is not None:
            of_device[contact.device].append(index)
    patterns = {
        device: {tuple(_closed(contacts[i], state) for i in indices) for state in _states(context, device)}
        for device, indices in of_device.items()
    }
    for digits in product("01", repeat=len(contacts)):
        if all(tuple(digits[i] for i in of_device[device]) in those for device, those in patterns.items()):
            yield "".join(digits)


def _states(context: Context, device: str) -> tuple[str, ...]:
    """The positions of a selector; of any other device untouched and operated."""
    return context.devices[device].declared.positions or ("untouched", "operated")


def _closed(contact: Contact | None, state: str) -> str:
    assert contact is not None  # only contacts of known devices are asked
    if contact.position is not None:
        return "1" if contact.position == state else "0"
    return "1" if (contact.form == "NO") == (state == "operated") else "0"


def _contacts(context: Context, info: SelectionInfo) -> tuple[Contact | None, ...]:
    """The contact of each digit; None for a sensor, another controller's output or a combination."""
    partners = {f.name: f.partner for f in context.declared.functions if f.controller == info.controller}
    found = [partners.get(f"select {number}") for number in range(1, len(info.contacts) + 1)]
    return tuple(partner.contact if isinstance(partner, Leg) else None for partner in found)


def _position_names(context: Context, contacts: tuple[Contact | None, ...]) -> dict[str, str]:
    device = next((c.device for c in contacts if c is not None), None)
    if device is None:
        return {}
    return {"".join(_closed(c, state) if c else "x" for c in contacts): state for state in _states(context, device)}


def _well_formed(info: SelectionInfo, digits: str) -> bool:
    return len(digits) == len(info.contacts) and set(digits) <= set("01x")


def _differ_only_at(index: int, a: str, b: str) -> bool:
    return a[index] != b[index] and a[:index] == b[:index] and a[index + 1 :] == b[index + 1 :]


def _where_of(info: SelectionInfo, index: int) -> Where:
    """The item of `by` that gives a digit; one selector may give several."""
    return (*info.where, "by", str(index)) if not info.by_position else (*info.where, "by", "0")


def _overlaps(context: Context, code: str, *, alike: bool) -> Iterator[Notice]:
    for selection in selections(context):
        for (a, first, key), (b, second, other) in combinations(selection.rows, 2):
            both = [c for c in selection.codes if covers(a, c) and covers(b, c)]
            if both and (first == second) is alike:
                gives = f"{first} and {second}" if first != second else f"{first} twice"
                text = (
                    f"{key} and {other} both cover {listed(both)} at {selection.info.controller}, which gives {gives}"
                )
                yield Notice(code, (*selection.info.where, "when", other), f"{selection.info.controller} {other}", text)
