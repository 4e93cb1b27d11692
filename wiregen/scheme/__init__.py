"""Reading a scheme file: text with positions, model, variants; every error with its place."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from pydantic import ValidationError

from wiregen.profiles.model import Profile
from wiregen.scheme import cabling, errors, figures, file, kinds, merge, references, support
from wiregen.scheme.as_built import AsBuilt, read_as_built
from wiregen.scheme.fields import ReadName, ReadTable, walk
from wiregen.scheme.include import whole_tree
from wiregen.scheme.like import expanded
from wiregen.scheme.model import SchemeModel
from wiregen.scheme.names import ContactText, split_contact
from wiregen.scheme.tree import Table, filled, table_of
from wiregen.scheme.wrong import Wrong, complaints_of, only_in_variant
from wiregen.terms import Spot, UnusableInput, Where

__all__ = [
    "AsBuilt",
    "ContactText",
    "Scheme",
    "SchemeModel",
    "keeping",
    "read",
    "read_as_built",
    "read_text",
    "schema",
    "split_contact",
    "variant_names",
]

# Levels of the model that have no place in a file: the name of a single run, and the table that holds groups or runs.
_MODEL_ONLY = frozenset({"", "named", "groups"})


@dataclass(frozen=True)
class Scheme:
    """A scheme that was read: its model, its profiles by name, and where everything stands in the file."""

    path: str
    model: SchemeModel
    profiles: dict[str, Profile]
    positions: dict[Where, Spot]
    variant: str | None = None
    as_built: AsBuilt | None = None  # an earlier design, of which as much stays as can

    def locate(self, where: Where) -> Spot:
        """The place of ``where`` in the file, or of the nearest thing above it that stands there."""
        known = [step for step in self._steps(where) if step in self.positions]
        return self.positions[known[-1]] if known else Spot(self.path, 1, 1)

    def telling(self, places: Iterable[Where]) -> Scheme:
        """The same scheme, knowing the lines of these places only, and not what its file is called."""
        steps = dict.fromkeys(step for where in places for step in self._steps(where) if step in self.positions)
        return replace(self, path="", positions={step: replace(self.positions[step], file="") for step in steps})

    def _steps(self, where: Where) -> Iterator[Where]:
        """The way down to ``where``, as far as it goes in the file."""
        known: Where = ()
        yield known
        for part in where:
            if (*known, part) in self.positions:
                known = (*known, part)
                yield known
            elif part not in _MODEL_ONLY:
                return


def read(
    path: str | os.PathLike[str],
    *,
    variant: str | None = None,
    profiles: Mapping[str, Profile],
    patch: Mapping[str, Any] | None = None,
) -> Scheme:
    """The scheme in the file at ``path``, changed by ``variant`` if one is named, and then by ``patch``.

    ``patch`` is a merge patch as a variant is one, in plain data: text, None, lists and dicts.

    Raises UnusableInput with every complaint; only a syntax error or a broken limit stops at the first.
    """
    return read_text(file.text_of(path), os.fspath(path), variant=variant, profiles=profiles, patch=patch)


def read_text(
    text: str,
    name: str,
    *,
    variant: str | None = None,
    profiles: Mapping[str, Profile],
    patch: Mapping[str, Any] | None = None,
) -> Scheme:
    """The scheme in ``text``; ``name`` is how complaints call the file. Raises UnusableInput as `read` does."""
    root = whole_tree(text, name)
    unexpanded = merge.base_of(root)
    patched, wrongs = merge.variants_of(unexpanded, root)
    base, base_wrongs = expanded(unexpanded)
    model, found = _examined(base, profiles)
    base_wrongs += found
    wrongs += base_wrongs
    trees: dict[str, Table] = {}
    models: dict[str | None, SchemeModel | None] = {None: model}
    for title, changed in patched.items():
        trees[title], own = expanded(changed)
        models[title], found = _examined(trees[title], profiles)
        wrongs += only_in_variant([*own, *found], base_wrongs, title)
    if variant is not None:
        wrongs += merge.unknown_variant(root, variant)
    chosen = models.get(variant)
    if wrongs or chosen is None:
        raise UnusableInput(complaints_of(wrongs))
    tree = trees[variant] if variant else base
    if patch is not None:
        unpatched = patched[variant] if variant else unexpanded
        tree, wrongs = expanded(merge.patched_table(unpatched, table_of(patch, root.spot)))
        chosen, found = _examined(tree, profiles)
        if wrongs or found or chosen is None:
            raise UnusableInput(complaints_of([*wrongs, *found]))
    used = {device.profile: profiles[device.profile] for device in chosen.devices.values()}
    return Scheme(name, chosen, used, merge.positions_of(tree), variant)


def variant_names(path: str | os.PathLike[str]) -> tuple[str, ...]:
    """The names of the variants in a file. Raises UnusableInput where it holds no YAML."""
    entry = whole_tree(file.text_of(path), os.fspath(path)).entries.get("variants")
    return tuple(entry.value.entries) if entry is not None and isinstance(entry.value, Table) else ()


def keeping(scheme: Scheme, built: AsBuilt) -> Scheme:
    """The scheme with an earlier design of which as much stays as can."""
    return replace(scheme, as_built=built)


def schema() -> dict[str, Any]:
    """The JSON Schema (draft 2020-12) of a scheme file, as plain data."""
    from wiregen.scheme import json_schema  # builds models of its own, which reading a scheme need not wait for

    return json_schema.schema()


def _examined(root: Table, profiles: Mapping[str, Profile]) -> tuple[SchemeModel | None, list[Wrong]]:
    """The model of a merged scheme, and everything that is wrong with it."""
    data = filled(root)
    seen = list(walk(data))
    tables = [s for s in seen if isinstance(s, ReadTable)]
    declared = references.Declared.in_scheme(root, data, profiles)
    unknown = errors.unknown_keys(root, tables)
    wrongs = [
        *errors.empty_values(root),
        *unknown,
        *references.wrong_names(root, declared),
        *references.unknown_names(root, [s for s in seen if isinstance(s, ReadName)], declared),
        *references.missing_basics(root, declared),
        *references.unknown_terminals(root, data, declared),
        *figures.wrong_figures(root, declared),
        *references.wrong_banks(root, declared),
        *cabling.wrong_strips(root, declared),
        *cabling.wrong_routes(root, declared),
        *cabling.wrong_cables(root, data, declared),
        *kinds.misplaced_keys(root, tables, declared),
        *kinds.unfit_contacts(root, tables, declared),
        *support.not_supported_yet(root, tables, declared),
    ]
    try:
        return SchemeModel.model_validate(data), wrongs
    except ValidationError as error:
        return None, wrongs + errors.model_errors(error, root, unknown)
