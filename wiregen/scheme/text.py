"""YAML text as a tree of nodes: every scalar stays text, a plain null is None, and each node knows where it stands.

Syntax errors and broken limits stop at the first; all other faults of the text are gathered.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

import yaml

from wiregen.terms import Complaint, Spot, UnusableInput

MAX_NODES = 50_000
MAX_DEPTH = 40
MAX_LENGTH = 2_000  # characters of one scalar

Plain = str | list["Plain"] | dict[str, "Plain"] | None

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_NULLS = frozenset({"", "~", "null"})
# What YAML 1.2 (clause 5.1) calls printable; XML, into which these texts go, allows no more.
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")

_SYNTAX = {
    "mapping values are not allowed in this context": "a key cannot stand here: check the indentation, "
    "and put quotes around a text that holds a colon and a blank",
    "found character that cannot start any token": "a value cannot begin with this character: "
    "put quotes around it, and indent with blanks, never with tabs",
    "found unexpected end of stream": "the text ends inside a quoted value: close the quote",
    "did not find expected ',' or '}'": "a comma or the closing brace `}` is missing",
    "did not find expected ',' or ']'": "a comma or the closing bracket `]` is missing",
    "could not find expected ':'": "a colon is missing after the key",
    "found unexpected ':'": "a colon cannot stand here: put quotes around the text",
    "did not find expected key": "a key is expected here: check the indentation",
    "did not find expected '-' indicator": "an item of the list is expected here: check the indentation",
    "did not find expected <document start>": "a key is expected here: check the indentation",
    "did not find expected node content": "a value is missing here",
    "exceeded maximum nesting depth": f"nested deeper than {MAX_DEPTH} levels",
}


@dataclass(frozen=True, slots=True)
class Scalar:
    text: str | None
    spot: Spot
    size = 1
    height = 0


@dataclass(frozen=True, slots=True)
class Items:
    items: tuple[Node, ...]
    spot: Spot
    size: int
    height: int


@dataclass(frozen=True, slots=True)
class Entry:
    """A key's value and the place of the key itself."""

    key: Spot
    value: Node


@dataclass(frozen=True, slots=True)
class Table:
    entries: dict[str, Entry]
    spot: Spot
    size: int
    height: int


Node = Scalar | Items | Table


def items_of(items: tuple[Node, ...], spot: Spot) -> Items:
    """A list node with its size and height."""
    return Items(items, spot, 1 + sum(n.size for n in items), 1 + max((n.height for n in items), default=0))


def table_of(entries: dict[str, Entry], spot: Spot) -> Table:
    """A table node with its size and height."""
    values = [e.value for e in entries.values()]
    return Table(entries, spot, 1 + sum(n.size for n in values), 1 + max((n.height for n in values), default=0))


def plain(node: Node) -> Plain:
    """The bare data of a node: text, None, lists and dicts."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Items):
        return [plain(n) for n in node.items]
    return {key: plain(entry.value) for key, entry in node.entries.items()}


def filled(node: Node) -> Plain:
    """The bare data of a node without what is empty."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Items):
        return [filled(n) for n in node.items if not is_empty(n)]
    return {key: filled(entry.value) for key, entry in node.entries.items() if not is_empty(entry.value)}


def is_empty(node: Node) -> bool:
    """Whether nothing, or a plain null, stands here."""
    return isinstance(node, Scalar) and node.text is None


def parse(text: str, name: str) -> tuple[Node | None, tuple[Complaint, ...]]:
    """The one document in ``text`` (None where there is none), and the faults that did not stop the reading.

    Raises UnusableInput where the text is no YAML or breaks a limit.
    """
    text = text.removeprefix("\ufeff")
    if wrong := _UNPRINTABLE.search(text):
        raise _stop(
            _spot_of(text, wrong.start(), name), f"control character {_code(wrong.group())} in the text: remove it"
        )
    reader = _Reader(name, iter(yaml.parse(text, Loader=_LOADER)))
    try:
        return reader.document(), tuple(reader.faults)
    except yaml.MarkedYAMLError as error:
        mark = error.problem_mark or error.context_mark
        spot = Spot(name, mark.line + 1, mark.column + 1) if mark else Spot(name, 1, 1)
        problem = error.problem or "unreadable"
        raise _stop(spot, _SYNTAX.get(problem, f"not valid YAML: {problem}")) from None
    except yaml.YAMLError as error:
        raise _stop(Spot(name, 1, 1), f"not valid YAML: {error}") from None


@dataclass
class _Reader:
    """Builds nodes from the parser's events, so that limits hold while reading, not afterwards."""

    name: str
    events: Iterator[Any]
    faults: list[Complaint] = field(default_factory=list)
    anchors: dict[str, Node] = field(default_factory=dict)
    unfinished: set[str] = field(default_factory=set)
    count: int = 0

    def document(self) -> Node | None:
        next(self.events)
        if isinstance(next(self.events), yaml.StreamEndEvent):
            return None
        root = self._node(next(self.events), 0)
        next(self.events)
        if not isinstance(after := next(self.events), yaml.StreamEndEvent):
            raise _stop(self._spot(after), "a second document begins here: write one scheme a file")
        return root

    def _node(self, event: Any, depth: int) -> Node:
        spot = self._spot(event)
        if isinstance(event, yaml.AliasEvent):
            node = self._aliased(event.anchor, spot)
        else:
            self._refuse_tag(event, spot)
            self.unfinished.add(event.anchor)
            if isinstance(event, yaml.ScalarEvent):
                node = self._scalar(event, spot)
            elif depth >= MAX_DEPTH:
                raise _stop(spot, f"nested deeper than {MAX_DEPTH} levels")
            elif isinstance(event, yaml.SequenceStartEvent):
                node = self._items(spot, depth)
            else:
                node = self._table(spot, depth)
            self.unfinished.discard(event.anchor)
            if event.anchor is not None:
                self.anchors[event.anchor] = node
        # A list or table was counted item by item; an alias costs all that it stands for.
        self.count += node.size if isinstance(event, yaml.AliasEvent) else 1
        if self.count > MAX_NODES:
            raise _stop(spot, f"the file holds more than {MAX_NODES} values, aliases written out")
        if depth + node.height > MAX_DEPTH:
            raise _stop(spot, f"nested deeper than {MAX_DEPTH} levels, aliases written out")
        return node

    def _aliased(self, anchor: Any, spot: Spot) -> Node:
        if anchor in self.unfinished:
            raise _stop(spot, f"alias `*{anchor}` stands inside what it stands for")
        if anchor not in self.anchors:
            raise _stop(spot, f"alias `*{anchor}` has no anchor `&{anchor}` above it")
        return self.anchors[anchor]

    def _scalar(self, event: Any, spot: Spot) -> Scalar:
        text = event.value
        if event.implicit[0] and text in _NULLS:
            return Scalar(None, spot)
        if wrong := _UNPRINTABLE.search(text):
            self._fault(spot, f"control character {_code(wrong.group())} in a text: remove it")
        elif len(text) > MAX_LENGTH:
            self._fault(spot, f"a text of {len(text)} characters: at most {MAX_LENGTH} are allowed")
        return Scalar(text, spot)

    def _items(self, spot: Spot, depth: int) -> Items:
        items = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            items.append(self._node(event, depth + 1))
        return items_of(tuple(items), spot)

    def _table(self, spot: Spot, depth: int) -> Table:
        entries: dict[str, Entry] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            place = self._spot(event)
            key = self._key(event, place)
            value = self._node(next(self.events), depth + 1)
            if is_empty(value):
                value = Scalar(None, place)  # an empty value has no place of its own
            if key in entries:
                self._fault(place, f"key `{key}` stands twice; it stands first in line {entries[key].key.line}")
            elif key is not None:
                entries[key] = Entry(place, value)
        return table_of(entries, spot)

    def _key(self, event: Any, spot: Spot) -> str | None:
        if not isinstance(event, yaml.ScalarEvent):
            raise _stop(spot, "a key must be a plain text, not a list, a table or an alias")
        if event.implicit[0] and event.value == "<<":
            self._fault(spot, "merge keys (`<<`) are not read: write the keys out")
            return None
        key = self._node(event, 0)
        if not isinstance(key, Scalar) or not key.text:
            self._fault(spot, "a key is missing before the colon")
            return None
        return key.text

    def _refuse_tag(self, event: Any, spot: Spot) -> None:
        if event.tag is not None:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._fault(spot, f"tag `{tag}` is not read: every value is text; leave the tag out")

    def _fault(self, spot: Spot, message: str) -> None:
        self.faults.append(Complaint(spot, message))

    def _spot(self, event: Any) -> Spot:
        return Spot(self.name, event.start_mark.line + 1, event.start_mark.column + 1)


def _stop(spot: Spot, message: str) -> UnusableInput:
    return UnusableInput((Complaint(spot, message),))


def _code(character: str) -> str:
    return f"U+{ord(character):04X}"


def _spot_of(text: str, index: int, name: str) -> Spot:
    before = text[:index]
    return Spot(name, before.count("\n") + 1, index - (before.rfind("\n") + 1) + 1)
