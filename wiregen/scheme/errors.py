"""Errors of the model in plain sentences, each at its place in the text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from pydantic import ValidationError

from wiregen.scheme import model
from wiregen.scheme.fields import ReadTable, holders
from wiregen.scheme.names import shown
from wiregen.scheme.tree import Items, Node, Table, is_empty
from wiregen.scheme.values import shape
from wiregen.scheme.wrong import Wrong, find, listed, nearest
from wiregen.terms import Where

_KEY = "[key]"  # how pydantic marks an error in a key
_FILE_KEYS = ("include", "variants")  # stand in a file, not in the merged scheme


def empty_values(root: Table) -> list[Wrong]:
    """Keys and items without a value."""
    found = []

    def enter(node: Node) -> None:
        if isinstance(node, Table):
            for key, entry in node.entries.items():
                if is_empty(entry.value):
                    found.append(Wrong(entry.key, _empty(key)))
                enter(entry.value)
        elif isinstance(node, Items):
            for item in node.items:
                if is_empty(item):
                    found.append(Wrong(item.spot, "this item of the list is empty: leave it out"))
                enter(item)

    enter(root)
    return found


def _empty(key: str) -> str:
    head, colon, rest = key.partition(":")
    if colon and rest:
        return f"a blank is missing after the colon: write `{shown(head)}: {shown(rest.strip())}`"
    return f"`{shown(key)}` is empty: give it a value, or leave it out"


def unknown_keys(root: Table, tables: Iterable[ReadTable]) -> list[Wrong]:
    """Keys that the class of their table does not have."""
    found = []
    for table in tables:
        known = table.model.key_fields()
        choices = (*known, *_FILE_KEYS) if table.model is model.SchemeModel else tuple(known)
        for key in table.table:
            # An alias is the only way to write its field: `from`, never `from_`.
            if key not in choices:
                found.append(_unknown_key(root, table, key, choices))
    return found


def _unknown_key(root: Table, table: ReadTable, key: str, choices: tuple[str, ...]) -> Wrong:
    spot = find(root, (*table.where, key)).key
    if 0 < len(inner := holders(table.model, key)) <= 3:
        return Wrong(spot, f"`{key}` cannot stand here: it goes into {listed(f'`{k}`' for k in inner)}")
    right = f": right here {'is' if len(choices) == 1 else 'are'} {listed((f'`{c}`' for c in choices), 'and')}"
    return Wrong(spot, f"unknown key `{shown(key)}`", key, choices, right)


def model_errors(error: ValidationError, root: Table, unknown: Iterable[Wrong]) -> list[Wrong]:
    """What pydantic found, but for unknown keys, which `unknown_keys` reports."""
    meant = {(w.spot.line, nearest(w.word, w.choices)) for w in unknown if w.word}
    found = []
    for item in error.errors(include_url=False):
        wrong = _wrong(item, root)
        if item["type"] == "missing":
            table = find(root, item["loc"][:-1])
            keys = table.node.entries.values() if isinstance(table.node, Table) else ()
            # A misspelt key is one error, not two; an empty one was reported as empty.
            if find(root, item["loc"]).where != table.where or any(
                (entry.key.line, item["loc"][-1]) in meant for entry in keys
            ):
                continue
        if wrong is not None:
            found.append(wrong)
    return found


def _wrong(item: Any, root: Table) -> Wrong | None:
    loc, kind, context = item["loc"], item["type"], item.get("ctx", {})
    is_key = bool(loc) and loc[-1] == _KEY
    at = find(root, loc)
    spot = at.key if is_key else at.spot
    name = _name(at.where)
    if kind == "extra_forbidden":
        return None
    if kind == "missing":
        return Wrong(at.key, f"{name} needs `{loc[-1]}`" if at.where else f"the scheme needs `{loc[-1]}:`")
    if kind == "literal_error":
        return _no_such_word(item, spot, name, is_key)
    if kind == "value_error":
        if key := getattr(context["error"], "key", None):
            spot = find(root, (*loc, key)).key
        return Wrong(spot, f"{name}: {context['error']}" if at.where else str(context["error"]))
    if kind in ("too_short", "too_long"):
        least = context.get("min_length")
        return Wrong(at.key, f"{name} holds too few: at least {least} must stand here")
    if kind == "string_type" and isinstance(loc[-1], int) and at.where[-1:] != (str(loc[-1]),):
        return Wrong(at.node.spot, f"{name} takes a text or a list of texts, not {shape(item['input'])}")
    if kind in _WANTED:
        return Wrong(at.node.spot, f"{name} takes {_wanted(item)}, not {shape(item['input'])}")
    return Wrong(spot, f"{name}: {item['msg'].lower()}")


_WANTED = {
    "string_type": "a text",
    "model_type": "a table",
    "dict_type": "a table",
    "tuple_type": "a list",
}


def _wanted(item: Any) -> str:
    wanted = _WANTED[item["type"]]
    cls = getattr(model, item.get("ctx", {}).get("class_name", ""), None)
    if cls is None:
        return wanted
    cls = model.Run if cls is model.Runs else cls
    return f"{wanted} of {listed((f'`{k}`' for k in cls.key_fields()), 'and')}"


def _no_such_word(item: Any, spot: Any, name: str, is_key: bool) -> Wrong:
    words = re.findall(r"'([^']*)'", item["ctx"]["expected"])
    value = item["input"]
    if not isinstance(value, str):
        return Wrong(spot, f"{name} is {listed(words)}, not {shape(value)}")
    if is_key:
        return Wrong(spot, f"`{shown(value)}` is none of {listed(words)}", value, words)
    return Wrong(spot, f"{name} is {listed(words)}, not `{shown(value)}`", value, words)


def _name(where: Where) -> str:
    """What an error is about: the nearest key, whether it stands in a list or not."""
    key = next((p for p in reversed(where) if not p.isdecimal()), "")
    return f"`{shown(key)}`" if key else "this"
