"""Changing one value in the text of a YAML file, and nothing else: comments and layout stay as they are."""

from __future__ import annotations

import re

import yaml

from wiregen.scheme.tree import Plain
from wiregen.terms import Where, WiregenError
from wiregen.yaml_text import load

_LINE_END = re.compile(r"\r\n|\n|\r")
#: A blank line at the end of a text, with the line end before it; and one at the start.
_BLANK_AT_END = re.compile(r"(\n|\r(?!\n))[ \t]*(?:\r\n|\n|\r)\Z")
_BLANK_AT_START = re.compile(r"\A[ \t]*(?:\r\n|\n|\r)")


class Unspliceable(WiregenError):
    """The text cannot be changed there without touching something else."""


def set_value(text: str, name: str, where: Where, value: Plain) -> str:
    """``text`` with ``value`` at ``where``; tables above that are missing are written, in one line.

    Raises Unspliceable where something other than a table stands above.
    """
    file = _File(text, name)
    if where in file.positions.values:
        return file.replaced(where, value)
    depth = max(n for n in range(len(where)) if where[:n] in file.positions.values)
    inner = value
    for part in reversed(where[depth + 1 :]):
        inner = {part: inner}
    return file.with_entry(where[:depth], where[depth], inner)


def append(text: str, name: str, where: Where, value: Plain) -> str:
    """``text`` with one more item in the list at ``where``. Raises Unspliceable where no list stands there."""
    return _File(text, name).with_item(where, value)


def remove(text: str, name: str, where: Where) -> str:
    """``text`` without the key or item at ``where``; a table or list that would be left empty goes with it.

    The last section of a file stays, and holds nothing: a file must have something in it.
    """
    file = _File(text, name)
    while len(where) > 1 and len(file.children(where[:-1])) == 1:
        where = where[:-1]
    if len(where) == 1 and len(file.children(())) == 1:
        return file.replaced(where, {})
    return file.without(where)


def flow(value: Plain) -> str:
    """``value`` in one line of YAML."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{flow(key)}: {flow(inner)}" for key, inner in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(flow(item) for item in value) + "]"
    return "null" if value is None else value if _reads_back(value) else _quoted(value)


def _reads_back(text: str) -> bool:
    """Whether a text may stand without quotes, in braces too."""
    try:
        root = yaml.compose(f"{{{text}: 1, k: {text}}}", Loader=yaml.SafeLoader)
    except yaml.YAMLError:
        return False
    if not isinstance(root, yaml.MappingNode) or len(root.value) != 2:
        return False
    nodes = (root.value[0][0], root.value[1][1])
    return all(isinstance(n, yaml.ScalarNode) and n.value == text and not n.tag.endswith(":null") for n in nodes)


def _quoted(text: str) -> str:
    if text.isprintable():
        return "'" + text.replace("'", "''") + "'"
    return str(yaml.dump(text, default_style='"', width=10**9, allow_unicode=True)).strip()


class _File:
    """One text with its marks."""

    def __init__(self, text: str, name: str) -> None:
        self.text = text
        self.data, self.positions = load(text, name)
        found = _LINE_END.search(text)
        self.line_end = found.group() if found else "\n"

    def node(self, where: Where) -> Plain:
        node: Plain = self.data
        for part in where:
            node = node[int(part)] if isinstance(node, list) else node[part]  # type: ignore[index]
        return node

    def children(self, where: Where) -> list[Where]:
        node = self.node(where)
        if isinstance(node, dict):
            return [(*where, key) for key in node]
        return [(*where, str(i)) for i in range(len(node))] if isinstance(node, list) else []

    def is_block(self, where: Where) -> bool:
        mark = self.positions.values[where]
        return isinstance(self.node(where), dict | list) and self.text[mark.start : mark.start + 1] not in ("{", "[")

    def end(self, where: Where) -> int:
        """Where the text of a value ends; a block ends with the last value in it."""
        children = self.children(where)
        if self.is_block(where) and children:
            return self.end(children[-1])
        mark = self.positions.values[where]
        return mark.start + len(self.text[mark.start : mark.end].rstrip())

    def replaced(self, where: Where, value: Plain) -> str:
        mark, end = self.positions.values[where], self.end(where)
        if not self.is_block(where) and mark.start < end:
            return self.text[: mark.start] + flow(value) + self.text[end:]
        key = self.positions.keys.get(where)
        if key is None:
            raise Unspliceable("an item of a list that is a block cannot be replaced")
        colon = self.text.index(":", key.end) + 1
        return self.text[:colon] + " " + flow(value) + self.text[max(end, colon) :]

    def with_entry(self, where: Where, key: str, value: Plain) -> str:
        node, entry = self.node(where), f"{flow(key)}: {flow(value)}"
        if node is None:
            return self.replaced(where, {key: value})
        if not isinstance(node, dict):
            raise Unspliceable(f"{' '.join(where)} is no table")
        return self._with_child(where, entry, entry)

    def with_item(self, where: Where, value: Plain) -> str:
        if not isinstance(self.node(where), list):
            raise Unspliceable(f"{' '.join(where)} is no list")
        return self._with_child(where, flow(value), f"- {flow(value)}")

    def _with_child(self, where: Where, inline: str, own_line: str) -> str:
        children, mark = self.children(where), self.positions.values[where]
        if not children:
            return self.text[: mark.start + 1] + inline + self.text[mark.start + 1 :]
        end = self.end(children[-1])
        if not self.is_block(where):
            return f"{self.text[:end]}, {inline}{self.text[end:]}"
        if self.is_block(children[-1]) or "\n" in self.text[self.positions.values[children[-1]].start : end]:
            end = max(end, self.end(children[-1]))
        indent = self._indent(children[0])
        at = self._end_of_line(end)
        return f"{self.text[:at]}{self.line_end}{indent}{own_line}{self.text[at:]}"

    def _indent(self, child: Where) -> str:
        mark = self.positions.keys.get(child) or self.positions.values[child]
        line = self.text.rfind("\n", 0, mark.start) + 1
        if child in self.positions.keys:
            return " " * (mark.start - line)
        return " " * (self.text.rindex("-", line, mark.start) - line)

    def _end_of_line(self, at: int) -> int:
        found = _LINE_END.search(self.text, at)
        return found.start() if found else len(self.text)

    def without(self, where: Where) -> str:
        mark = self.positions.keys.get(where) or self.positions.values[where]
        if self.is_block(where[:-1]):
            return self._without_lines(mark.start, self.end(where), where not in self.positions.keys)
        return self._without_in_line(mark.start, self.end(where))

    def _without_lines(self, start: int, end: int, item: bool) -> str:
        line = self.text.rfind("\n", 0, start) + 1
        before = self.text[line:start].strip()
        if before not in ("", "-") or (before == "-" and not item):
            raise Unspliceable("more stands in that line")
        found = _LINE_END.search(self.text, end)
        above, below = self.text[:line], self.text[found.end() :] if found else ""
        # Of two blank lines that would come together one goes; none is left at either end of the file.
        if not below.strip():
            return _BLANK_AT_END.sub(r"\1", above)
        if not above or _BLANK_AT_END.search(above):
            below = _BLANK_AT_START.sub("", below)
        return above + below

    def _without_in_line(self, start: int, end: int) -> str:
        after = re.compile(r"\s*,[ \t]*").match(self.text, end)
        if after:
            return self.text[:start] + self.text[after.end() :]
        before = re.search(r",\s*\Z", self.text[:start])
        return self.text[: before.start() if before else start] + self.text[end:]
