"""Files that a scheme includes: each is laid under the file that names it, as if that file were a merge patch on it."""

from __future__ import annotations

import os
from pathlib import Path

from wiregen.scheme import file
from wiregen.scheme.merge import patched_table
from wiregen.scheme.names import shown
from wiregen.scheme.tree import Items, Node, Scalar, Table, tree_of
from wiregen.scheme.wrong import Wrong, complaints_of
from wiregen.terms import Spot, UnusableInput

MAX_FILES = 40


def whole_tree(text: str, name: str, texts: dict[str, str] | None = None) -> Table:
    """The tree of ``text`` with everything it includes laid under it, in the order in which it is named.

    Paths are relative to the file that names them. Values keep the file and place where they are written.
    What ``texts`` has under a file's name is taken instead of the file; the others are entered in it.
    Raises UnusableInput for a file that cannot be read, that includes itself, or that holds variants.
    """
    return _Reader({} if texts is None else texts).tree(text, name, ())


class _Reader:
    def __init__(self, texts: dict[str, str]) -> None:
        self._count = 0
        self._texts = texts

    def tree(self, text: str, name: str, above: tuple[str, ...]) -> Table:
        root = tree_of(text, name)
        own = Table({k: e for k, e in root.entries.items() if k != "include"}, root.spot)
        entry = root.entries.get("include")
        if entry is None:
            return own
        merged: Table | None = None
        for path, spot in _paths(entry.value, entry.key):
            below = self._included(path, spot, name, above)
            merged = patched_table(merged, below)
        # Laying the file over what it includes deletes what it sets to null, and keeps its own variants as they are.
        variants = {k: e for k, e in own.entries.items() if k == "variants"}
        rest = Table({k: e for k, e in own.entries.items() if k != "variants"}, own.spot)
        laid = patched_table(merged, rest)
        return Table({**laid.entries, **variants}, own.spot)

    def _included(self, path: str, spot: Spot, name: str, above: tuple[str, ...]) -> Table:
        target = os.path.normpath(Path(name).parent / path)
        chain = (*above, os.path.normpath(name))
        self._count += 1
        if os.path.isabs(path):
            raise _unusable(
                spot, f"`{shown(path)}` is an absolute path: include files by a path from this file's folder"
            )
        if target in chain:
            raise _unusable(spot, f"`{shown(path)}` includes itself")
        if self._count > MAX_FILES:
            raise _unusable(spot, f"a scheme includes at most {MAX_FILES} files")
        if target not in self._texts:
            self._texts[target] = file.text_of(target)
        tree = self.tree(self._texts[target], target, chain)
        for key in ("variants",):
            if key in tree.entries:
                raise _unusable(
                    tree.entries[key].key, "variants stand in the file that is read, not in one that it includes"
                )
        return tree


def _paths(node: Node, key: Spot) -> list[tuple[str, Spot]]:
    items = node.items if isinstance(node, Items) else (node,)
    found = [(item.text, item.spot) for item in items if isinstance(item, Scalar) and item.text]
    if len(found) < len(items) or not found:
        raise _unusable(key, "`include` takes a file name, or a list of them")
    return found


def _unusable(spot: Spot, message: str) -> UnusableInput:
    return UnusableInput(complaints_of([Wrong(spot, message)]))
