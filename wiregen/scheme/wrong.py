"""What is wrong with a scheme: a place, a sentence, and the nearest thing that would be right."""

from __future__ import annotations

import difflib
from collections.abc import Collection, Iterable
from dataclasses import dataclass, replace

from wiregen.scheme.names import shown
from wiregen.scheme.tree import Items, Node, Scalar, Table
from wiregen.terms import Complaint, Spot, Where

# Looking for near misses costs time with the square of the file: a file with more errors than this has other troubles.
MAX_SUGGESTIONS = 100


@dataclass(frozen=True, slots=True)
class Wrong:
    """``word`` was read where one of ``choices`` would be right; ``otherwise`` is said where none comes near."""

    spot: Spot
    message: str
    word: str = ""
    choices: Collection[str] = ()
    otherwise: str = ""
    variant: str | None = None
    code: str = ""

    @property
    def identity(self) -> tuple[Spot, str]:
        return self.spot, self.message


def complaints_of(wrongs: Iterable[Wrong]) -> tuple[Complaint, ...]:
    """Complaints in file order, each once."""
    once: dict[tuple[Spot, str, str | None], Wrong] = {}
    for wrong in wrongs:
        once.setdefault((*wrong.identity, wrong.variant), wrong)
    ordered = sorted(once.values(), key=lambda w: (w.spot.file, w.spot.line, w.spot.column, w.message, w.variant or ""))
    return tuple(Complaint(w.spot, _sentence(w, i < MAX_SUGGESTIONS), w.code) for i, w in enumerate(ordered))


def only_in_variant(wrongs: Iterable[Wrong], base: Iterable[Wrong], variant: str) -> list[Wrong]:
    """What is wrong with the scheme only once this variant is applied."""
    known = {w.identity for w in base}
    return [replace(w, variant=variant) for w in wrongs if w.identity not in known]


def _sentence(wrong: Wrong, suggest: bool) -> str:
    near = nearest(wrong.word, wrong.choices) if suggest and wrong.word else None
    end = f"; did you mean `{shown(near)}`?" if near else wrong.otherwise
    return wrong.message + end + (f" (in variant `{wrong.variant}`)" if wrong.variant else "")


def nearest(word: str, choices: Collection[str]) -> str | None:
    """The choice that ``word`` was probably meant to be; capitals do not count."""
    by_lower = {c.lower(): c for c in sorted(choices, reverse=True)}
    near = difflib.get_close_matches(word.lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[near[0]] if near else None


def listed(words: Iterable[str], last: str = "or") -> str:
    """``a, b or c``; the empty text where there are none."""
    *front, end = list(words) or [""]
    return f"{', '.join(front)} {last} {end}" if front else end


@dataclass(frozen=True, slots=True)
class Found:
    """What stands at a path in the text: the path that exists, its node and the place of its key."""

    where: Where
    node: Node
    key: Spot

    @property
    def spot(self) -> Spot:
        """A text's own place; a table's or a list's key."""
        return self.node.spot if isinstance(self.node, Scalar) else self.key


def find(root: Table, where: Iterable[object]) -> Found:
    """Follow ``where`` as far as it goes, passing over levels that stand in the model only."""
    found = Found((), root, root.spot)
    for part in map(str, where):
        node = found.node
        if isinstance(node, Table) and part in node.entries:
            entry = node.entries[part]
            found = Found((*found.where, part), entry.value, entry.key)
        elif isinstance(node, Items) and len(part) < 6 and part.isdecimal() and int(part) < len(node.items):
            item = node.items[int(part)]
            found = Found((*found.where, part), item, item.spot)
    return found
