"""YAML text as plain data in which every scalar is still text, with the place of every value and key.

Text that a person typed stays what it was: ``NO`` is not false, ``0012`` keeps its zeros, ``12:30`` is no number.
Only a plain empty value, ``~`` or ``null`` is None.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, NamedTuple

import yaml

from wiregen.terms import Complaint, Spot, UnusableInput, Where

MAX_CHARACTERS = 4_000_000
MAX_NODES = 200_000
MAX_DEPTH = 60

_Loader: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
_PLAIN = ("str", "int", "float", "bool", "null", "timestamp", "map", "seq", "value", "merge")
_TAGS = frozenset(f"tag:yaml.org,2002:{kind}" for kind in _PLAIN)
_NULL = "tag:yaml.org,2002:null"
# What YAML 1.1 does not call printable, and half surrogate pairs.
_UNPRINTABLE = re.compile("[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")
# What the parser says -> what the writer of the file probably has to do.
_HINTS = {
    "mapping values are not allowed in this context": "; put quotes around a text that holds a colon and a blank, "
    "or check the indentation",
    "found character that cannot start any token": "; put quotes around the value, and indent with blanks, never tabs",
    "found unexpected end of stream": "; close the quote",
    "found unexpected ':'": "; put quotes around the text",
    "did not find expected ',' or '}'": "; a comma or a closing brace is missing",
    "did not find expected ',' or ']'": "; a comma or a closing bracket is missing",
    "could not find expected ':'": "; a colon is missing after the key",
    "did not find expected key": "; check the indentation",
    "did not find expected '-' indicator": "; check the indentation",
    "did not find expected <document start>": "; check the indentation",
    "but found another document": "; write one file for each",
}


class Mark(NamedTuple):
    """Where a value or key stands. ``line`` and ``column`` count from 1, ``start`` and ``end`` index the text given."""

    line: int
    column: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Positions:
    """The marks of one text. A list index in a path stands as its decimal text."""

    file: str
    values: dict[Where, Mark] = field(default_factory=dict)
    keys: dict[Where, Mark] = field(default_factory=dict)

    def locate(self, where: Iterable[object], key: bool = False) -> Spot:
        """The spot of the value at ``where``, or of its key; parts that the text does not have are passed over.

        Passing over serves error locations, which may name union members between the keys of the text.
        """
        path: Where = ()
        for part in where:
            if (*path, str(part)) in self.values:
                path = (*path, str(part))
        mark = self.keys.get(path) if key else None
        mark = mark or self.values.get(path) or Mark(1, 1, 0, 0)
        return Spot(self.file, mark.line, mark.column)


def decode(raw: bytes, name: str) -> str:
    """``raw`` as text. Raises UnusableInput at the first byte that is not UTF-8."""
    if len(raw) > 4 * MAX_CHARACTERS:
        raise _too_long(name)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        before = raw[: error.start].decode("utf-8")
        raise _one(name, before, len(before), "is not text in UTF-8; save the file as UTF-8") from None


def load(text: str, name: str) -> tuple[dict[str, Any], Positions]:
    """The mapping that ``text`` holds and the places of its values and keys; ``name`` is the file's name in messages.

    Raises UnusableInput for anything but one mapping in plain YAML: wrong syntax, an empty text, control characters,
    duplicate keys, merge keys, tags, recursive or exploding aliases, too deep or too long a text.
    """
    if len(text) > MAX_CHARACTERS:
        raise _too_long(name)
    shift = 1 if text.startswith("\ufeff") else 0
    if bad := _UNPRINTABLE.search(text, shift):
        raise _one(name, text, bad.start(), f"control character U+{ord(bad.group()):04X} is not allowed")
    root = _compose(text[shift:], name)
    if not isinstance(root, yaml.MappingNode):
        what = "nothing stands in this file" if root is None else "the file must hold keys and values, `key: value`"
        raise UnusableInput((Complaint(Spot(name, 1, 1), what),))
    walk = _Walk(name, shift)
    data = walk.value(root, (), ())
    if walk.complaints:
        raise UnusableInput(tuple(walk.complaints))
    return data, walk.positions


def near_miss(word: str, known: Iterable[str]) -> str:
    """``"; did you mean 'stop'?"`` where one of ``known`` is close to ``word``, else nothing."""
    close = difflib.get_close_matches(word, sorted(set(known)), n=1, cutoff=0.6)
    return f"; did you mean {close[0]!r}?" if close else ""


def _compose(text: str, name: str) -> Any:
    try:
        return yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        mark: Any = error.problem_mark or error.context_mark
        spot = Spot(name, mark.line + 1, mark.column + 1) if mark else Spot(name, 1, 1)
        parts = [p for p in (error.context, error.problem) if p]
        hint = _HINTS.get(error.problem or "", "")
        raise UnusableInput((Complaint(spot, f"this is not valid YAML: {', '.join(parts)}{hint}"),)) from None
    except yaml.YAMLError as error:
        raise UnusableInput((Complaint(Spot(name, 1, 1), f"this is not valid YAML: {error}"),)) from None
    except RecursionError:  # libyaml stops at 1000 levels by itself; the composer in Python runs out of stack first
        raise _deep(Spot(name, 1, 1)) from None


class _Walk:
    """One pass over the composed nodes: data, marks and complaints."""

    def __init__(self, name: str, shift: int) -> None:
        self.positions = Positions(name)
        self.complaints: list[Complaint] = []
        self._shift = shift
        self._count = 0

    def value(self, node: Any, where: Where, above: tuple[int, ...]) -> Any:
        self._count += 1
        if self._count > MAX_NODES:
            raise UnusableInput((Complaint(self._spot(node), f"the text expands to more than {MAX_NODES} values"),))
        if len(where) > MAX_DEPTH:
            raise _deep(self._spot(node))
        self.positions.values[where] = self._mark(node)
        if node.tag not in _TAGS:
            self._complain(node, f"tag {node.tag!r} is not allowed; write the value plainly")
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node)
        if id(node) in above:
            raise UnusableInput((Complaint(self._spot(node), "an alias stands inside what it refers to"),))
        above = (*above, id(node))
        if isinstance(node, yaml.SequenceNode):
            return [self.value(item, (*where, str(i)), above) for i, item in enumerate(node.value)]
        return self._mapping(node, where, above)

    def _scalar(self, node: Any) -> str | None:
        if not node.style and node.tag == _NULL:
            return None
        text = str(node.value)
        if node.style == '"' and (bad := _UNPRINTABLE.search(text)):
            self._complain(node, f"control character U+{ord(bad.group()):04X} is not allowed")
        return text

    def _mapping(self, node: Any, where: Where, above: tuple[int, ...]) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for key, value in node.value:
            if not isinstance(key, yaml.ScalarNode):
                self._complain(key, "a key must be plain text")
                continue
            name = self._scalar(key)
            if name is None:
                self._complain(key, "a key is missing before the colon")
            elif name == "<<":
                self._complain(key, "merge keys (`<<`) are not supported; write the keys out")
            elif name in out:
                first = self.positions.keys[(*where, name)]
                self._complain(key, f"duplicate key {name!r}; it stands in line {first.line} already")
            else:
                self.positions.keys[(*where, name)] = self._mark(key)
                out[name] = self.value(value, (*where, name), above)
        return out

    def _mark(self, node: Any) -> Mark:
        start, end = node.start_mark, node.end_mark
        return Mark(start.line + 1, start.column + 1, start.index + self._shift, end.index + self._shift)

    def _spot(self, node: Any) -> Spot:
        return Spot(self.positions.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def _complain(self, node: Any, message: str) -> None:
        self.complaints.append(Complaint(self._spot(node), message))


def _deep(spot: Spot) -> UnusableInput:
    return UnusableInput((Complaint(spot, f"nested deeper than {MAX_DEPTH} levels"),))


def _too_long(name: str) -> UnusableInput:
    return UnusableInput((Complaint(Spot(name, 1, 1), f"longer than {MAX_CHARACTERS} characters"),))


def _one(name: str, text: str, index: int, message: str) -> UnusableInput:
    line = text.count("\n", 0, index) + 1
    column = index - text.rfind("\n", 0, index)
    return UnusableInput((Complaint(Spot(name, line, column), message),))
