"""Functions to be kept apart: which ends the names in `apart` mean."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Iterator, Sequence

from wiregen.control.functions import End, Function
from wiregen.scheme import Scheme
from wiregen.terms import Notice, Where


def ends_called(name: str, functions: Iterable[Function]) -> tuple[End, ...]:
    """The ends that ``name`` means: what it is called at its device, else that with `of DEVICE` added."""
    ends = [(f, end) for f in functions for end in f.ends]
    found = tuple(end for _, end in ends if end.function == name)
    if found:
        return found
    return tuple(
        end
        for function, end in ends
        if name in {f"{end.function} of {owner}" for owner in (function.controller, *end.devices)}
    )


def apart_sets(scheme: Scheme, functions: Sequence[Function]) -> tuple[tuple[str, ...], ...]:
    """Ids of ends, no two of which may stand on one device."""
    return tuple(members for _, members in numbered_sets(scheme, functions))


def numbered_sets(scheme: Scheme, functions: Sequence[Function]) -> Iterator[tuple[int, tuple[str, ...]]]:
    """The same, each with its number in the scheme's `apart`."""
    for number, names in enumerate(scheme.model.apart):
        members = tuple(dict.fromkeys(end.id for name in names for end in ends_called(name, functions)))
        if len(members) > 1:
            yield number, members


def check_apart(scheme: Scheme, functions: Sequence[Function]) -> Iterator[Notice]:
    """Names in `apart` that no function bears, and names in `apart_cables` that are no device either."""
    known = sorted({end.function for f in functions for end in f.ends})
    sets: list[tuple[str, int, tuple[str, ...], tuple[str, ...]]] = [
        ("apart", i, names, ()) for i, names in enumerate(scheme.model.apart)
    ]
    sets += [
        ("apart_cables", i, names, tuple(scheme.model.devices)) for i, names in enumerate(scheme.model.apart_cables)
    ]
    for section, index, names, devices in sets:
        where: Where = (section, str(index))
        for name in names:
            if name not in devices and not ends_called(name, functions):
                near = difflib.get_close_matches(name, known, 1)
                hint = f" (did you mean {near[0]!r}?)" if near else f"; declared are {', '.join(known) or 'none'}"
                text = f"`{section}` names {name!r}, and nothing declares a function of that name{hint}"
                yield Notice("apart-function-unknown", where, name, text)
