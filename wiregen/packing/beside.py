"""The folders beside a pack: the new one while it is filled, the old one when it has been replaced.

Both are hidden and carry the pack's name. A run holds a lock on its own that ends with the process, so that the next
run can tell what a killed run left and clears it away.
"""

from __future__ import annotations

import contextlib
import errno
import filecmp
import os
from collections.abc import Iterator
from pathlib import Path

from wiregen.packing.manifest import Manifest, read_manifest

try:
    import fcntl
except ImportError:  # not on every system; leftovers of killed runs then stay
    fcntl = None  # type: ignore[assignment]


def new_folder(place: Path, held: contextlib.ExitStack) -> Path:
    """A new folder beside ``place``, locked until ``held`` closes."""
    for number in range(1000):
        path = place.parent / f"{_prefix(place)}{os.getpid()}-{number}"
        try:
            path.mkdir()
        except FileExistsError:
            continue
        handle = _lock(path)
        if handle is not None:
            held.callback(os.close, handle)
        return path
    raise FileExistsError(errno.EEXIST, f"too many unfinished folders named {_prefix(place)}... beside it")


def aside(place: Path) -> Path:
    """Where the old folder stands for a moment, on systems that cannot exchange two names."""
    return place.parent / f"{_aside_prefix(place)}{os.getpid()}"


def _prefix(place: Path) -> str:
    return f".{place.name}.wiregen-"


def _aside_prefix(place: Path) -> str:
    return f".{place.name}.replaced-"


def _lock(path: Path) -> int | None:
    """An open, locked handle of a folder; None where another process holds it or the system has no such locks."""
    if fcntl is None:
        return None
    handle = os.open(path, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        return None
    return handle


def recover(place: Path) -> None:
    """Put back a folder that a run set aside and was killed before it put the new one in its place."""
    if os.path.lexists(place) or not place.parent.is_dir():
        return
    for replaced in _beside(place, _aside_prefix(place)):
        if read_manifest(replaced) is not None:
            replaced.rename(place)
            return


def clear_leftovers(place: Path) -> None:
    """Clear away what killed runs left beside ``place``; what a living run holds is locked and stays."""
    if fcntl is None:
        return
    for prefix in (_prefix(place), _aside_prefix(place)):
        for left in _beside(place, prefix):
            handle = _lock(left)
            if handle is None:
                continue
            with contextlib.suppress(OSError):
                clear(left, place, read_manifest(left))
            os.close(handle)


def _beside(place: Path, prefix: str) -> Iterator[Path]:
    for path in sorted(place.parent.iterdir()):
        if path.name.startswith(prefix) and path.is_dir() and not path.is_symlink():
            yield path


def clear(gone: Path, place: Path, manifest: Manifest | None) -> None:
    """Delete ``gone`` as far as it is ours or stands in ``place`` too; the rest goes to ``place`` or stays."""
    for path in sorted(gone.iterdir()):
        unfinished = manifest is None and path.is_file() and not path.is_symlink()
        ours = manifest is not None and path.name in manifest.names and manifest.untouched(gone, path.name)
        if unfinished or ours:
            path.unlink()
        else:
            _let_go(path, place / path.name)
    remove_if_empty(gone)


def _let_go(path: Path, twin: Path) -> None:
    if not os.path.lexists(twin):
        path.rename(twin)
    elif path.is_dir() and not path.is_symlink():
        for inner in sorted(path.iterdir()):
            _let_go(inner, twin / inner.name)
        remove_if_empty(path)
    elif _same(path, twin):
        path.unlink()


def _same(path: Path, twin: Path) -> bool:
    if os.path.samestat(path.lstat(), twin.lstat()):
        return True
    if path.is_symlink() or twin.is_symlink():
        return path.is_symlink() and twin.is_symlink() and path.readlink() == twin.readlink()
    return path.is_file() and twin.is_file() and filecmp.cmp(path, twin, shallow=False)


def remove_if_empty(path: Path) -> None:
    with contextlib.suppress(OSError):
        path.rmdir()
