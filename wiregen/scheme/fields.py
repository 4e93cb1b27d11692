"""A walk over a scheme's plain data beside the types of the model.

It finds which class each table is read as, and every name of a device, place or contact, without the data having to be
valid: so the checks that need this report their errors together with all others.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from types import NoneType, UnionType
from typing import Annotated, Any, Union, get_args, get_origin, get_type_hints

from pydantic import Discriminator, Tag

from wiregen.scheme.model import Model, Run, Runs, SchemeModel
from wiregen.scheme.names import Kind, Names
from wiregen.scheme.tree import Plain
from wiregen.terms import Where


@dataclass(frozen=True, slots=True)
class ReadTable:
    """A table (or its short form, widened) and the class it is read as."""

    where: Where
    model: type[Model]
    table: dict[str, Any]


@dataclass(frozen=True, slots=True)
class ReadName:
    """A text that names a thing of ``kind``; ``is_key`` where it stands as a key."""

    where: Where
    kind: Kind
    text: str
    is_key: bool


def walk(data: Plain) -> Iterator[ReadTable | ReadName]:
    """Every table and every name in the data of a whole scheme, in file order.

    Each ``where`` may hold levels that the model adds (``named``, ``groups``, the field of a short form).
    """
    return _walk(SchemeModel, data, ())


def _walk(hint: Any, value: Any, where: Where) -> Iterator[ReadTable | ReadName]:
    hint, marks = _bare(hint)
    if isinstance(value, str):
        yield from (ReadName(where, m.kind, value, False) for m in marks if isinstance(m, Names))
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        branch = _branch(hint, marks, value)
        if branch is not None:
            yield from _walk(branch, value, where)
    elif origin is tuple:
        for index, item in enumerate(value if isinstance(value, list) else [value]):
            yield from _walk(get_args(hint)[0], item, (*where, str(index)))
    elif origin is dict:
        yield from _mapping(hint, value, where)
    elif isinstance(hint, type) and issubclass(hint, Model):
        yield from _table(hint, value, where)


def holders(model: type[Model], key: str) -> list[str]:
    """The keys of ``model`` whose own table has ``key``: where a key that was written one level too high belongs."""
    found = []
    for outer, name in model.key_fields().items():
        hint, marks = _bare(_hints(model)[name])
        while get_origin(hint) in (Union, UnionType) and (inner := _branch(hint, marks, {})) is not None:
            hint, marks = _bare(inner)
        inner_model = Run if hint is Runs else hint
        if isinstance(inner_model, type) and issubclass(inner_model, Model) and key in inner_model.key_fields():
            found.append(outer)
    return found


def _table(model: type[Model], value: Any, where: Where) -> Iterator[ReadTable | ReadName]:
    try:
        value = model.widen(value)
    except ValueError:
        return
    if not isinstance(value, dict):
        return
    yield ReadTable(where, model, value)
    fields, hints = model.key_fields(), _hints(model)
    for key, inner in value.items():
        if key in fields:
            yield from _walk(hints[fields[key]], inner, (*where, key))


def _mapping(hint: Any, value: Any, where: Where) -> Iterator[ReadTable | ReadName]:
    if not isinstance(value, dict):
        return
    key_hint, value_hint = get_args(hint)
    _, marks = _bare(key_hint)
    for key, inner in value.items():
        yield from (ReadName((*where, key), m.kind, key, True) for m in marks if isinstance(m, Names))
        yield from _walk(value_hint, inner, (*where, key))


def _bare(hint: Any) -> tuple[Any, tuple[Any, ...]]:
    """A type without its annotations, and these."""
    if get_origin(hint) is Annotated:
        return hint.__origin__, hint.__metadata__
    return hint, ()


def _branch(hint: Any, marks: tuple[Any, ...], value: Any) -> Any:
    """The member of a union that pydantic would read ``value`` as, None where there is none."""
    members = [m for m in get_args(hint) if m is not NoneType]
    if len(members) == 1:
        return members[0]
    for mark in marks:
        if isinstance(mark, Discriminator) and callable(mark.discriminator):
            tag = mark.discriminator(value)
            return next((m for m in members if Tag(str(tag)) in _bare(m)[1]), None)
    return None


@cache
def _hints(model: type[Model]) -> dict[str, Any]:
    return get_type_hints(model, include_extras=True)
