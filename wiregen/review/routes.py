"""Cables whose length nobody can know."""

from __future__ import annotations

from collections.abc import Iterator

from wiregen.review.context import Context
from wiregen.terms import Notice


def not_declared(context: Context) -> Iterator[Notice]:
    """Cables between two places without a route between them."""
    for cable in context.wiring.cables:
        if cable.length_m is None and cable.a != cable.b:
            text = f"no route is declared between {cable.a} and {cable.b}, so the length of {cable.name} is unknown"
            yield Notice("route-not-declared", ("places", cable.b), cable.name, text)
