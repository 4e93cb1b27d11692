"""Putting a new folder in the place of an old one, in one step where the system can."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from pathlib import Path

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2
_CANNOT = {errno.ENOSYS, errno.EINVAL, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EPERM}


def put_in_place(new: Path, place: Path, aside: Path) -> Path:
    """Let ``new`` become ``place`` and give the path where the old folder now stands.

    One step where the kernel exchanges two names (Linux); else two renames with the old folder ``aside`` between them,
    undone if the second fails. Raises OSError, and then ``place`` holds what it held.
    """
    if _exchange(new, place):
        return new
    place.rename(aside)
    try:
        new.rename(place)
    except OSError:
        aside.rename(place)
        raise
    return aside


def _exchange(a: Path, b: Path) -> bool:
    """Exchange two names in one step; False where this system or file system cannot."""
    if not sys.platform.startswith("linux"):
        return False
    renameat2 = getattr(ctypes.CDLL(None, use_errno=True), "renameat2", None)
    if renameat2 is None:
        return False
    if renameat2(_AT_FDCWD, os.fsencode(a), _AT_FDCWD, os.fsencode(b), _RENAME_EXCHANGE) == 0:
        return True
    code = ctypes.get_errno()
    if code in _CANNOT:
        return False
    raise OSError(code, os.strerror(code), str(b))
