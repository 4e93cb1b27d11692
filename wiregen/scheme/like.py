"""Control sections like another's: `like: -TA1` copies one, `with: {-KF1: -KF2}` exchanges devices in the copy."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping

from wiregen.scheme.merge import patched_table
from wiregen.scheme.names import shown
from wiregen.scheme.tree import Entry, Items, Node, Scalar, Table, is_empty
from wiregen.scheme.wrong import Wrong, listed

_OWN = frozenset({"like", "with"})


def expanded(root: Table) -> tuple[Table, list[Wrong]]:
    """The scheme with every copied section written out; what a section says itself is laid over its copy.

    Values of a copy keep the place where they are written. A copy of a copy is made of the original.
    """
    entry = root.entries.get("control")
    if entry is None or not isinstance(entry.value, Table):
        return root, []
    copier = _Copier(entry.value)
    sections = {name: Entry(e.key, copier.section(name)) for name, e in entry.value.entries.items()}
    control = Entry(entry.key, Table(sections, entry.value.spot))
    return Table({**root.entries, "control": control}, root.spot), copier.wrongs


class _Copier:
    """Sections by name, each written out once."""

    def __init__(self, control: Table) -> None:
        self._control = control
        self._done: dict[str, Node] = {}
        self._open: list[str] = []
        self.wrongs: list[Wrong] = []

    def section(self, name: str) -> Node:
        """The section ``name`` with what it is like written out."""
        if name not in self._done:
            self._open.append(name)
            self._done[name] = self._written_out(self._control.entries[name].value)
            self._open.pop()
        return self._done[name]

    def _written_out(self, node: Node) -> Node:
        if not isinstance(node, Table) or not _OWN & node.entries.keys():
            return node
        own = Table({k: e for k, e in node.entries.items() if k not in _OWN}, node.spot)
        exchanged = self._exchanged(node.entries.get("with"))
        model = self._model(node)
        if model is None:
            return own
        copy = _with(self.section(model), exchanged)
        return patched_table(copy, own, ("control", model)) if isinstance(copy, Table) else own

    def _model(self, node: Table) -> str | None:
        """The name of the section to copy, None after saying what is wrong with it."""
        entry = node.entries.get("like")
        if entry is None:
            self.wrongs.append(Wrong(node.entries["with"].key, "`with` exchanges devices in a copy: add `like: NAME`"))
            return None
        name = entry.value.text if isinstance(entry.value, Scalar) else None
        if not name:
            self.wrongs.append(Wrong(entry.key, "`like` takes the name of a controller whose section is copied"))
        elif name in self._open:
            chain = listed([*map(shown, self._open), shown(name)], "and")
            self.wrongs.append(Wrong(entry.value.spot, f"these sections are each like another of them: {chain}"))
        elif name not in self._control.entries:
            known = [k for k in self._control.entries if k not in self._open]
            says = f"`control` has no section `{shown(name)}` to copy"
            self.wrongs.append(Wrong(entry.value.spot, says, name, known))
        else:
            return name
        return None

    def _exchanged(self, entry: Entry | None) -> dict[str, str]:
        if entry is None or is_empty(entry.value):
            return {}
        if not isinstance(entry.value, Table):
            self.wrongs.append(Wrong(entry.key, "`with` takes a table of devices, as in `{-KF1: -KF2}`"))
            return {}
        pairs = {key: e.value.text for key, e in entry.value.entries.items() if isinstance(e.value, Scalar)}
        return {key: text for key, text in pairs.items() if text}


def _with(node: Node, exchanged: Mapping[str, str]) -> Node:
    """``node`` with device names exchanged wherever a whole name stands: alone, or before ``@`` or ``.``."""
    if not exchanged:
        return node
    names = "|".join(re.escape(name) for name in sorted(exchanged, key=len, reverse=True))
    pattern = re.compile(rf"(?<![\w.+-])(?:{names})(?![\w-])")
    return _replaced(node, lambda text: pattern.sub(lambda found: exchanged[found.group()], text))


def _replaced(node: Node, change: Callable[[str], str]) -> Node:
    if isinstance(node, Scalar):
        return Scalar(change(node.text), node.spot) if node.text is not None else node
    if isinstance(node, Items):
        return Items(tuple(_replaced(item, change) for item in node.items), node.spot)
    return Table({key: Entry(e.key, _replaced(e.value, change)) for key, e in node.entries.items()}, node.spot)
