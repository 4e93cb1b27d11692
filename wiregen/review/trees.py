"""Trees of contacts in a state: whether current passes, and how messages write them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from wiregen.control.functions import Contact, ContactTree, Function, Leg, Parallel, Series
from wiregen.review.context import Context


def passes(tree: ContactTree, closed: Callable[[Contact], bool]) -> bool:
    """Whether a tree lets current pass, each contact being as ``closed`` says."""
    if isinstance(tree, Leg):
        return closed(tree.contact)
    parts = (passes(part, closed) for part in tree.parts)
    return all(parts) if isinstance(tree, Series) else any(parts)


def tree_of(function: Function) -> ContactTree | None:
    """The contacts of a function, None where something else drives it."""
    return function.partner if isinstance(function.partner, Leg | Series | Parallel) else None


def coil_circuits(context: Context) -> Iterator[tuple[str, ContactTree]]:
    """Every relay that contacts energise, with the tree that does."""
    for function in context.declared.functions:
        tree = tree_of(function)
        if function.coil is not None and tree is not None:
            yield function.coil.device, tree


def written(tree: ContactTree) -> str:
    """A tree as a message shows it: ``-BG1.13-14``, ``(A and B)`` in series, ``(A or B)`` in parallel."""
    if isinstance(tree, Leg):
        return f"{tree.contact.device}.{tree.contact.name}"
    words = " or " if isinstance(tree, Parallel) else " and "
    return f"({words.join(written(part) for part in tree.parts)})"
