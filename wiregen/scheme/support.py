"""What the scheme format lays out and this version does not do yet: refused where it stands, never passed over.

A feature that is done loses its line in the table.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from wiregen.scheme import model
from wiregen.scheme.fields import ReadTable
from wiregen.scheme.references import Declared
from wiregen.scheme.tree import Table
from wiregen.scheme.wrong import Wrong, find

Test = Callable[[Any], bool]


def _always(value: Any) -> bool:
    return True


# (class, key) -> what the message calls it, and for which values it is not done.
NOT_YET: dict[tuple[type[model.Model], str], tuple[str, Test]] = {
    (model.CableClass, "pe"): ("a core for PE (`pe`)", _always),
}


def not_supported_yet(root: Table, tables: Iterable[ReadTable], declared: Declared) -> Iterator[Wrong]:
    """Everything in the scheme that this version would have to pass over."""
    for table in tables:
        for key, value in table.table.items():
            row = NOT_YET.get((table.model, key))
            if row is not None and row[1](value):
                yield Wrong(find(root, (*table.where, key)).key, f"{row[0]} is not supported yet")
