"""Disjoint sets: what is joined to what."""

from __future__ import annotations

from collections.abc import Hashable
from typing import Generic, TypeVar

T = TypeVar("T", bound=Hashable)


class Joins(Generic[T]):
    """Disjoint sets that only grow together. Kept as a plain dict so that the order of first mention survives."""

    def __init__(self) -> None:
        self._parent: dict[T, T] = {}

    def root(self, item: T) -> T:
        self._parent.setdefault(item, item)
        while self._parent[item] != item:
            self._parent[item] = self._parent[self._parent[item]]
            item = self._parent[item]
        return item

    def join(self, a: T, b: T) -> None:
        first, second = self.root(a), self.root(b)
        if first != second:
            self._parent[second] = first

    def joined(self, a: T, b: T) -> bool:
        return self.root(a) == self.root(b)

    def sets(self) -> list[list[T]]:
        found: dict[T, list[T]] = {}
        for item in self._parent:
            found.setdefault(self.root(item), []).append(item)
        return list(found.values())
