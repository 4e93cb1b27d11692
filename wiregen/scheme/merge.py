"""Variants: JSON merge patches (IETF RFC 7396) on the scheme, every value keeping the place where it is written."""

from __future__ import annotations

from wiregen.scheme.names import shown, wrong_variant_name
from wiregen.scheme.tree import Entry, Items, Node, Scalar, Table, is_empty
from wiregen.scheme.wrong import Wrong, listed
from wiregen.terms import Spot, Where

MAX_VARIANTS = 50  # each is checked as a scheme of its own
_NOT_IN_VARIANTS = frozenset({"variants", "include"})


def base_of(root: Table) -> Table:
    """The scheme without its variants."""
    return Table({k: e for k, e in root.entries.items() if k != "variants"}, root.spot)


def variants_of(base: Table, root: Table) -> tuple[dict[str, Table], list[Wrong]]:
    """The scheme as each variant has it, by name, and what is wrong with the shape of `variants`."""
    entry = root.entries.get("variants")
    if entry is None or is_empty(entry.value):
        return {}, [Wrong(entry.key, "`variants` is empty: leave it out")] if entry else []
    if not isinstance(entry.value, Table):
        return {}, [Wrong(entry.key, "`variants` takes a table: the name of each variant, and what it changes")]
    if len(entry.value.entries) > MAX_VARIANTS:
        return {}, [Wrong(entry.key, f"a file holds at most {MAX_VARIANTS} variants")]
    trees, wrongs = {}, []
    for name, variant in entry.value.entries.items():
        patch = variant.value
        if not isinstance(patch, Table):
            wrongs.append(Wrong(variant.key, f"variant `{shown(name)}` takes a table: the keys that it changes"))
            continue
        if says := wrong_variant_name(name):
            wrongs.append(Wrong(variant.key, says))
        for key in sorted(_NOT_IN_VARIANTS & patch.entries.keys()):
            wrongs.append(Wrong(patch.entries[key].key, f"`{key}` cannot stand inside a variant"))
        own = {k: e for k, e in patch.entries.items() if k not in _NOT_IN_VARIANTS}
        trees[name] = patched_table(base, Table(own, patch.spot))
    return trees, wrongs


def unknown_variant(root: Table, variant: str) -> list[Wrong]:
    """What is wrong with asking for ``variant``."""
    entry = root.entries.get("variants")
    names = list(entry.value.entries) if entry and isinstance(entry.value, Table) else []
    if variant in names:
        return []
    there = f"the variants are {listed(map(shown, names), 'and')}" if names else "the file has no variants"
    return [Wrong(entry.key if entry else root.spot, f"unknown variant `{shown(variant)}`: {there}", variant, names)]


def patched(target: Node | None, patch: Node, where: Where = ()) -> Node:
    """``target`` changed by ``patch``: null deletes, a table is merged key by key, anything else replaces.

    Source: IETF RFC 7396, clause 2. One exception: a table of selection codes is replaced whole.
    """
    if not isinstance(patch, Table):
        return patch
    return patched_table(target if isinstance(target, Table) else None, patch, where)


def patched_table(target: Table | None, patch: Table, where: Where = ()) -> Table:
    """`patched` where the patch is a table."""
    old = None if _is_codes(where) else target
    entries = dict(old.entries) if old else {}
    for key, entry in patch.entries.items():
        if is_empty(entry.value):
            entries.pop(key, None)
            continue
        before = entries.get(key)
        value = patched(before.value if before else None, entry.value, (*where, key))
        # A table that was only changed is still found where it was declared.
        both = before is not None and isinstance(before.value, Table) and isinstance(value, Table)
        changed = both and not _is_codes((*where, key))
        entries[key] = Entry(before.key if before is not None and changed else entry.key, value)
    return Table(entries, old.spot if old else patch.spot)


def _is_codes(where: Where) -> bool:
    return len(where) == 4 and where[0] == "control" and where[2:] == ("select", "when")


def positions_of(root: Table) -> dict[Where, Spot]:
    """The place of everything: a text at the text itself, a table or a list at its key."""
    found: dict[Where, Spot] = {(): root.spot}

    def enter(node: Node, where: Where) -> None:
        if isinstance(node, Table):
            for key, entry in node.entries.items():
                spot = entry.value.spot if isinstance(entry.value, Scalar) else entry.key
                found[(*where, key)] = spot
                enter(entry.value, (*where, key))
        elif isinstance(node, Items):
            for index, item in enumerate(node.items):
                found[(*where, str(index))] = item.spot
                enter(item, (*where, str(index)))

    enter(root, ())
    return found
