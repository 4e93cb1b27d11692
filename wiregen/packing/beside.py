"""The folders beside a pack: the new one while it is filled, the old one when it has been replaced.

Both are hidden and carry the pack's name, and so does the lock that lets one run at a time write there. What a killed
run leaves, the next one clears away.
"""

from __future__ import annotations

import contextlib
import errno
import filecmp
import itertools
import os
import time
from collections.abc import Iterator
from pathlib import Path

from wiregen.packing.manifest import Manifest, read_manifest

try:
    import fcntl
except ImportError:  # not on every system; two runs at once must then not write one folder
    fcntl = None  # type: ignore[assignment]

LONGEST_WAIT_S = 60.0


@contextlib.contextmanager
def turn(place: Path) -> Iterator[None]:
    """One run at a time writes ``place``; the others wait. A lock ends with its process, whatever ends that.

    Raises TimeoutError when another run takes longer than anybody would wait.
    """
    path = place.parent / f"{_prefix(place)}lock"
    handle = _held(path) if fcntl else None
    try:
        yield
    finally:
        if handle is not None:
            path.unlink(missing_ok=True)
            os.close(handle)


def _held(path: Path) -> int | None:
    """A handle of the lock file, locked; None where the file system has no locks."""
    end = time.monotonic() + LONGEST_WAIT_S
    while time.monotonic() < end:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
            if os.path.samestat(os.fstat(handle), path.stat()):
                return handle
        except (BlockingIOError, FileNotFoundError):  # another run holds it, or has just taken it away
            time.sleep(0.02)
        except OSError:
            os.close(handle)
            path.unlink(missing_ok=True)
            return None
        os.close(handle)
    raise TimeoutError(errno.ETIMEDOUT, "another run is writing there and does not end")


def new_folder(place: Path) -> Path:
    """A new, empty folder beside ``place``."""
    for number in itertools.count():
        path = place.parent / f"{_prefix(place)}{os.getpid()}-{number}"
        with contextlib.suppress(FileExistsError):
            path.mkdir()
            break
    return path


def aside(place: Path) -> Path:
    """Where the old folder stands for a moment, on systems that cannot exchange two names."""
    return place.parent / f"{_aside_prefix(place)}{os.getpid()}"


def _prefix(place: Path) -> str:
    return f".{place.name}.wiregen-"


def _aside_prefix(place: Path) -> str:
    return f".{place.name}.replaced-"


def recover(place: Path) -> None:
    """Put back a folder that a run set aside and was killed before it put the new one in its place."""
    if os.path.lexists(place) or not place.parent.is_dir():
        return
    for replaced in _beside(place, _aside_prefix(place)):
        if read_manifest(replaced) is not None:
            replaced.rename(place)
            return


def clear_leftovers(place: Path) -> None:
    """Clear away what killed runs left beside ``place``. Only for a run whose turn it is."""
    for prefix in (_prefix(place), _aside_prefix(place)):
        for left in _beside(place, prefix):
            with contextlib.suppress(OSError):
                clear(left, place, read_manifest(left))


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
    """Remove the folder where nothing stands in it; leave it alone otherwise."""
    with contextlib.suppress(OSError):
        path.rmdir()
