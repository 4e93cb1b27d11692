"""The numbers of potentials: kept ones, a plain series, or by the lines of the ladder."""

from __future__ import annotations

import difflib
import itertools
from collections.abc import Iterator

from wiregen.control.functions import Declared
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Where
from wiregen.wiring.as_wired import AsWired, Report
from wiregen.wiring.kept import numbers_kept
from wiregen.wiring.model import Potential
from wiregen.wiring.nets import Net
from wiregen.wiring.returns import title_of
from wiregen.wiring.serving import RETURN

Named = tuple[Potential, list[Net]]


def kept_numbers(
    scheme: Scheme, potentials: list[Potential], wanted: tuple[AsWired, ...], report: Report
) -> dict[str, str]:
    """Name of a potential -> its kept number: `fixed` comes before `keep`, `keep` before `wired`, a pack last."""
    of_pin = {str(pin): p.name for p in potentials for pin in p.pins}
    of_name = {p.name: p.name for p in potentials}
    found: dict[str, str] = {}
    owner: dict[str, str] = {}
    for key, title, number, where, firm in (*_said(scheme, wanted), *_built(scheme, potentials)):
        name = of_pin.get(key) or of_name.get(key)
        if name is None:
            if where[0] == "numbers":
                near = difflib.get_close_matches(key, [*of_name, *of_pin], 1)
                hint = f" (did you mean {near[0]}?)" if near else ""
                text = f"{key} keeps number {number}, but no potential has that name and no wired pin{hint}"
                report(Notice("kept-number-unknown", where, key, text))
        elif found.get(name, number) != number or owner.get(number, name) != name:
            if firm:
                both = f"{name} is to keep {found[name]} and {number}" if name in found else ""
                text = both or f"number {number} is kept for {owner[number]} and, at {title}, for {name}"
                report(Notice("number-kept-twice", where, title, f"{text}; a number stands for one potential"))
        else:
            found[name], owner[number] = number, name
    return found


def _said(scheme: Scheme, wanted: tuple[AsWired, ...]) -> Iterator[tuple[str, str, str, Where, bool]]:
    """Pin or name, what to call it, the number, where it is said, and whether it must hold."""
    numbered = [(str(w.pin), w.title, w.number, w.where, w.firm) for w in wanted if w.number]
    yield from ((key, title, number, where, firm) for key, title, number, where, firm in numbered if firm)
    yield from ((key, key, number, ("numbers", "keep", key), True) for key, number in scheme.model.numbers.keep.items())
    yield from ((key, title, number, where, firm) for key, title, number, where, firm in numbered if not firm)


def _built(scheme: Scheme, potentials: list[Potential]) -> Iterator[tuple[str, str, str, Where, bool]]:
    """What an earlier pack has, which stands back for all that the scheme says."""
    yield from ((name, name, number, (), False) for name, number in numbers_kept(scheme, potentials))


def series_of(scheme: Scheme, declared: Declared, named: list[Named], taken: frozenset[str]) -> dict[str, str]:
    """Name of a potential -> a number that no kept one has."""
    first = int(scheme.model.numbers.first or 1)
    plain = [entry for entry in named if entry[0].kind != "earth"]
    if scheme.model.numbers.by == "line":
        return _by_line(declared, plain, first, taken)
    width = max(2, len(str(first + len(plain) - 1)))
    numbers = (text for n in itertools.count(first) if (text := f"{n:0{width}d}") not in taken)
    return {potential.name: number for (potential, _), number in zip(plain, numbers, strict=False)}


def _by_line(declared: Declared, named: list[Named], first: int, taken: frozenset[str]) -> dict[str, str]:
    """Ladder practice: the line on which a potential first appears, and a letter from the second one of a line on.

    The lines of the ladder are the functions in declared order, counted from ``first``; what is in no function comes
    on lines of its own after them. common practice, no source.
    """
    lines = {title_of(function): first + index for index, function in enumerate(declared.functions)}
    after = itertools.count(first + len(lines))
    found: dict[str, str] = {}
    used = set(taken)
    placed = [(_line_of(nets, lines), index, potential) for index, (potential, nets) in enumerate(named)]
    for line, _, potential in sorted(placed, key=lambda p: (p[0] is None, p[0] or 0, p[1])):
        number = _free_on(line if line is not None else next(after), used)
        used.add(number)
        found[potential.name] = number
    return found


def _line_of(nets: list[Net], lines: dict[str, int]) -> int | None:
    titles = (use.function.removesuffix(RETURN) for net in nets for use in net.uses.values())
    return min((lines[title] for title in titles if title in lines), default=None)


def _free_on(line: int, used: set[str]) -> str:
    letters = (
        "",
        *(chr(c) for c in range(ord("A"), ord("Z") + 1)),
        *(f"Z{n}" for n in itertools.islice(itertools.count(1), 999)),
    )
    return next(text for letter in letters if (text := f"{line}{letter}") not in used)
