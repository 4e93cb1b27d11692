"""Changing a scheme in its files: only the text that must change, in the file where it stands, comments kept."""

from __future__ import annotations

import copy
import difflib
import os
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from wiregen.scheme import file
from wiregen.scheme.include import whole_tree
from wiregen.scheme.merge import base_of, variants_of
from wiregen.scheme.splicing import Unspliceable, append, remove, set_value
from wiregen.scheme.tree import Plain, Table, plain
from wiregen.terms import UnusableInput, Where
from wiregen.yaml_text import load

__all__ = ["Change", "Edited", "Line", "Unspliceable", "changed_lines", "changes_of", "diff", "edited", "texts_of"]


@dataclass(frozen=True, slots=True)
class Change:
    """One value of the merged scheme, set to ``value``, which is text, a list or a table; None takes it away.

    With ``item`` the value is appended to the list that stands there.
    """

    where: Where
    value: Plain
    item: bool = False


@dataclass(frozen=True, slots=True)
class Edited:
    """The texts of a scheme's files, by name, before and after."""

    before: Mapping[str, str]
    after: Mapping[str, str]

    @property
    def files(self) -> tuple[str, ...]:
        """Those that differ, in order of their names."""
        return tuple(name for name in sorted(self.after) if self.after[name] != self.before.get(name))


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a file that changes. ``line`` counts in the text before; a new line is inserted there."""

    file: str
    line: int
    before: str | None
    after: str | None


def edited(texts: Mapping[str, str], main: str, changes: Sequence[Change], variant: str | None = None) -> Edited:
    """The files of the scheme ``main`` with every change made, in its variant where one is named.

    Without a variant a value is changed in the file where it stands. Raises Unspliceable where that cannot be done, or
    where it would change anything else.
    """
    after = dict(texts)
    for change in changes:
        tree = _merged(after, main, variant)
        expected = _expected(tree, change)
        name, where = _place(after, main, change, variant)
        after[name] = _spliced(after[name], name, where, change, _at(tree, change.where))
        try:
            found = _merged(after, main, variant)
        except UnusableInput as error:
            raise Unspliceable(f"the text would not be readable any more: {error}") from None
        if _bare(found) != _bare(expected):
            raise Unspliceable(f"{' '.join(change.where)} cannot be changed alone")
    return Edited(texts, after)


def diff(change: Edited) -> str:
    """The changed lines of every file, with three lines around, as `diff -u` has them."""
    parts = []
    for name in change.files:
        before, after = (text.get(name, "").splitlines() for text in (change.before, change.after))
        parts += [*difflib.unified_diff(before, after, name, name, lineterm="")]
    return "\n".join(parts)


def changed_lines(change: Edited) -> tuple[Line, ...]:
    """Every line that differs, in order."""
    found = []
    for name in change.files:
        before, after = (text.get(name, "").splitlines() for text in (change.before, change.after))
        for tag, a, b, c, d in difflib.SequenceMatcher(None, before, after, autojunk=False).get_opcodes():
            if tag != "equal":
                pairs = max(b - a, d - c)
                old = [*before[a:b], *[None] * (pairs - (b - a))]
                new = [*after[c:d], *[None] * (pairs - (d - c))]
                found += [Line(name, a + i + 1, x, y) for i, (x, y) in enumerate(zip(old, new, strict=True))]
    return tuple(found)


def _spliced(text: str, name: str, where: Where, change: Change, old: Plain) -> str:
    stands = _stands(text, name, where)
    if change.item:
        if stands:
            return append(text, name, where, change.value)
        return set_value(text, name, where, [*(old if isinstance(old, list) else []), change.value])
    if change.value is not None:
        return set_value(text, name, where, change.value)
    if where[:1] == ("variants",) or not stands:
        return set_value(text, name, where, None)
    return remove(text, name, where)


def _place(texts: Mapping[str, str], main: str, change: Change, variant: str | None) -> tuple[str, Where]:
    """The file to change, and the path in it: the deepest that has what stands there, the main file before others."""
    if variant is not None:
        return main, ("variants", variant, *change.where)
    names = [main, *(name for name in reversed(list(texts)) if name != main)]
    depths = {name: _depth(texts[name], name, change.where) for name in names}
    return max(names, key=lambda name: depths[name]), change.where


def _depth(text: str, name: str, where: Where) -> int:
    known = load(text, name)[1].values
    return max(n for n in range(len(where) + 1) if where[:n] in known)


def _stands(text: str, name: str, where: Where) -> bool:
    return where in load(text, name)[1].values


def _merged(texts: Mapping[str, str], main: str, variant: str | None) -> dict[str, Plain]:
    """The scheme with its includes, in its variant; sections that are like others are not written out."""
    root = whole_tree(texts[main], main, dict(texts))
    base = base_of(root)
    tree: Table = variants_of(base, root)[0].get(variant, base) if variant else base
    data = plain(tree)
    assert isinstance(data, dict)  # a table gives nothing else
    return data


def _expected(tree: dict[str, Plain], change: Change) -> dict[str, Plain]:
    """The data as it should be afterwards."""
    root = copy.deepcopy(tree)
    node: Plain = root
    for part in change.where[:-1]:
        if isinstance(node, list):
            node = node[int(part)]
        elif isinstance(node, dict):
            if not isinstance(node.get(part), dict | list):
                node[part] = {}
            node = node[part]
    last = change.where[-1]
    if isinstance(node, list):
        old = node[int(last)]
        new = [*(old if isinstance(old, list) else []), change.value] if change.item else change.value
        node[int(last) : int(last) + 1] = [] if new is None else [new]
    elif isinstance(node, dict):
        old = node.pop(last, None)
        if change.item:
            node[last] = [*(old if isinstance(old, list) else []), change.value]
        elif change.value is not None:
            node[last] = change.value
    return root


def _at(tree: Plain, where: Where) -> Plain:
    for part in where:
        tree = tree.get(part) if isinstance(tree, dict) else tree[int(part)] if isinstance(tree, list) else None
    return tree


def _bare(data: Plain) -> Plain:
    """Without what is empty: it says nothing."""
    if isinstance(data, dict):
        inner = {key: _bare(value) for key, value in data.items()}
        return {key: value for key, value in inner.items() if value not in (None, {}, [])}
    return [_bare(item) for item in data] if isinstance(data, list) else data


def changes_of(
    texts: Mapping[str, str], main: str, patch: Mapping[str, Any], variant: str | None = None
) -> list[Change]:
    """A merge patch, in plain data, as the changes that it makes."""
    return list(_patching(_merged(texts, main, variant), patch, ()))


def _patching(old: Plain, patch: Mapping[str, Any], where: Where) -> Iterator[Change]:
    for key, value in patch.items():
        here = old.get(key) if isinstance(old, dict) else None
        if isinstance(value, Mapping) and isinstance(here, dict):
            yield from _patching(here, value, (*where, key))
        elif value is not None:
            yield Change((*where, key), _without_nulls(value))
        elif isinstance(old, dict) and key in old:
            yield Change((*where, key), None)


def _without_nulls(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {key: _without_nulls(inner) for key, inner in value.items() if inner is not None}
    return value


def texts_of(path: str | os.PathLike[str]) -> dict[str, str]:
    """The texts of a scheme and of all that it includes, by name. Raises UnusableInput."""
    name = os.fspath(path)
    texts = {name: file.text_of(name)}
    whole_tree(texts[name], name, texts)
    return texts
