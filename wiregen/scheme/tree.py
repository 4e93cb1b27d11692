"""A scheme as a tree of nodes, each of which knows where it stands; so a merge of trees keeps every place."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from wiregen.terms import Complaint, Spot, UnusableInput, Where
from wiregen.yaml_text import Positions, load

MAX_VALUES = 50_000  # aliases written out

Plain = str | list["Plain"] | dict[str, "Plain"] | None


@dataclass(frozen=True, slots=True)
class Scalar:
    """One text; None where nothing, or a plain null, stands."""

    text: str | None
    spot: Spot


@dataclass(frozen=True, slots=True)
class Items:
    items: tuple[Node, ...]
    spot: Spot


@dataclass(frozen=True, slots=True)
class Entry:
    """A key's value and the place of the key itself."""

    key: Spot
    value: Node


@dataclass(frozen=True, slots=True)
class Table:
    entries: dict[str, Entry]
    spot: Spot


Node = Scalar | Items | Table


def tree_of(text: str, name: str) -> Table:
    """The tree of the one table in ``text``; ``name`` is the file's name in messages.

    Raises UnusableInput where the text is no plain YAML, holds no table, or is too large.
    """
    data, positions = load(text, name)
    if len(positions.values) > MAX_VALUES:
        says = f"the file holds more than {MAX_VALUES} values, aliases written out"
        raise UnusableInput((Complaint(Spot(name, 1, 1), says),))
    root = _node(data, (), positions)
    assert isinstance(root, Table)  # `load` gives nothing else
    return root


def _node(data: Plain, where: Where, positions: Positions) -> Node:
    spot = _spot(positions, where)
    if isinstance(data, list):
        return Items(tuple(_node(item, (*where, str(i)), positions) for i, item in enumerate(data)), spot)
    if isinstance(data, dict):
        return Table({key: _entry(value, (*where, key), positions) for key, value in data.items()}, spot)
    return Scalar(data, spot)


def _entry(data: Plain, where: Where, positions: Positions) -> Entry:
    mark = positions.keys[where]
    return Entry(Spot(positions.file, mark.line, mark.column), _node(data, where, positions))


def _spot(positions: Positions, where: Where) -> Spot:
    mark = positions.values[where]
    return Spot(positions.file, mark.line, mark.column)


def is_empty(node: Node) -> bool:
    """Whether nothing, or a plain null, stands here."""
    return isinstance(node, Scalar) and node.text is None


def plain(node: Node) -> Plain:
    """The bare data of a node: text, None, lists and dicts."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Items):
        return [plain(n) for n in node.items]
    return {key: plain(entry.value) for key, entry in node.entries.items()}


def table_of(data: Mapping[str, Any], spot: Spot) -> Table:
    """Plain data as a table, all of it at one place."""
    return Table({key: Entry(spot, _node_at(value, spot)) for key, value in data.items()}, spot)


def _node_at(data: Any, spot: Spot) -> Node:
    if isinstance(data, Mapping):
        return table_of(data, spot)
    if isinstance(data, list | tuple):
        return Items(tuple(_node_at(item, spot) for item in data), spot)
    return Scalar(None if data is None else str(data), spot)


def filled(node: Table) -> dict[str, Plain]:
    """The bare data of a table without what is empty."""
    return {key: _filled(entry.value) for key, entry in node.entries.items() if not is_empty(entry.value)}


def _filled(node: Node) -> Plain:
    if isinstance(node, Table):
        return dict(filled(node))
    if isinstance(node, Items):
        return [_filled(n) for n in node.items if not is_empty(n)]
    return node.text
