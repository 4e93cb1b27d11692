"""Files of a scheme written anew, all of them or none, each beside a copy of what it was."""

from __future__ import annotations

import contextlib
import itertools
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path

from wiregen.terms import Complaint, Spot, UnusableInput


def replace_files(names: Sequence[str], before: Mapping[str, str], after: Mapping[str, str]) -> dict[str, Path]:
    """The copy of each file of ``names``, which then holds its text of ``after``.

    Raises UnusableInput where one cannot be written, or does not hold its text of ``before`` any more, and then nothing
    has changed.
    """
    backups: dict[str, Path] = {}
    ready: list[tuple[str, Path, Path]] = []
    with contextlib.ExitStack() as undo:
        for name in names:
            with _refused(name):
                path = Path(name).resolve()
                if path.read_bytes() != before[name].encode("utf-8"):
                    raise OSError("it was changed meanwhile")
                if not os.access(path, os.W_OK):
                    raise OSError("it is read-only")
                backups[name] = _copied(path, undo)
                ready.append((name, path, _written(path, after[name], undo)))
        for name, path, temporary in ready:
            with _refused(name):
                os.replace(temporary, path)
                undo.callback(os.replace, backups[name], path)
        undo.pop_all()
    return backups


@contextlib.contextmanager
def _refused(name: str) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        says = f"this file cannot be changed ({error.strerror or error}); nothing was changed"
        raise UnusableInput((Complaint(Spot(name, 1, 1), says),)) from None


def _copied(path: Path, undo: contextlib.ExitStack) -> Path:
    """A copy under a name that is not taken."""
    names = (path.with_name(f"{path.name}.bak{n if n > 1 else ''}") for n in itertools.count(1))
    backup = next(name for name in names if not name.exists())
    undo.callback(partial(backup.unlink, missing_ok=True))
    shutil.copy2(path, backup)
    return backup


def _written(path: Path, text: str, undo: contextlib.ExitStack) -> Path:
    """A new file beside ``path``, with its permissions."""
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name}.")
    temporary = Path(name)
    undo.callback(partial(temporary.unlink, missing_ok=True))
    with os.fdopen(handle, "wb") as file:
        file.write(text.encode("utf-8"))
    shutil.copymode(path, temporary)
    return temporary
