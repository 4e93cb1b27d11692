"""Writing a folder whole or not at all.

The files are written to a new folder beside the old one; what a user put into the old one is linked into the new one;
then the two change places. A run that is killed leaves the old folder as it was, and a hidden folder beside it that the
next run clears away. Three rules protect what is not ours: a folder without our manifest is never touched unless it is
empty; a file of ours that was changed since is never replaced; a file that is not ours is never deleted.
"""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Mapping
from pathlib import Path

from wiregen.packing.beside import aside, clear, clear_leftovers, new_folder, recover, remove_if_empty, turn
from wiregen.packing.exchange import put_in_place
from wiregen.packing.manifest import NAME, BookRecord, Manifest, manifest_for, read_manifest
from wiregen.terms import InternalFault, WiregenError

_KINDS = {
    "pack": "a whole pack",
    "sheets": "the sheets alone",
    "lists": "the lists alone",
    "comparison": "a comparison",
}


class FolderRefused(WiregenError):
    """The folder cannot be written as asked. It holds what it held before."""


def write_folder(
    folder: Path,
    files: Mapping[str, bytes],
    kind: str,
    books: Mapping[str, BookRecord] | None = None,
    made_from: Mapping[str, str] | None = None,
) -> None:
    """Let ``folder`` hold ``files`` (name -> bytes), the manifest, and what a user put there.

    ``kind`` is ``pack``, ``sheets``, ``lists`` or ``comparison``; a pack may replace the others, they only their own.
    ``books`` and ``made_from`` say of sets of sheets and of other files what they were made from.
    Raises FolderRefused with a sentence that says why, and then nothing has changed.
    """
    for name in files:
        if name in ("", ".", "..", NAME) or any(c in name for c in "/\\\0"):
            raise InternalFault(f"{name!r} is no name for a file of a pack")
    try:
        place = Path(os.path.realpath(folder))
        if place == Path.cwd() or place in Path.cwd().parents:
            raise FolderRefused(f"{folder}: is the folder you stand in, or above it; name a folder inside it")
        with contextlib.ExitStack() as after:
            _make_parents(place.parent, after)
            after.enter_context(turn(place))
            recover(place)
            old = _old_manifest(folder, place, files, kind)
            clear_leftovers(place)
            _replace(place, old, files, manifest_for(kind, files, books or {}, made_from or {}))
    except OSError as error:
        raise FolderRefused(_said(folder, error)) from error


def _said(folder: Path, error: OSError) -> str:
    """One sentence for what the system reports."""
    reason = error.strerror or type(error).__name__
    advice = "name a folder where you may write, on a disk with room"
    return f"{folder}: cannot be written ({reason}); nothing was changed; {advice}"


def _old_manifest(folder: Path, place: Path, files: Mapping[str, bytes], kind: str) -> Manifest | None:
    """What of the existing folder is ours; None where there is no folder. Refuses what must not be replaced."""
    if not os.path.lexists(place):
        return None
    if not place.is_dir():
        raise FolderRefused(f"{folder}: is a file, not a folder; name a new or an empty folder")
    if not os.access(place, os.W_OK | os.X_OK):
        raise FolderRefused(f"{folder}: is read-only; name a folder where you may write")
    present = sorted(p.name for p in place.iterdir())
    if not present:
        return Manifest(kind, {})
    manifest = read_manifest(place)
    if manifest is None:
        raise FolderRefused(
            f"{folder}: holds files that wiregen did not write ({_some(present)}); name a new or an empty folder"
        )
    if kind not in ("pack", manifest.kind):
        raise FolderRefused(
            f"{folder}: holds {_KINDS.get(manifest.kind, 'something else')}, which {_KINDS[kind]} would take away; "
            "name another folder"
        )
    changed = [n for n in present if n in manifest.names and not manifest.untouched(place, n)]
    if changed:
        raise FolderRefused(
            f"{folder}: changed by somebody since it was written: {_some(changed)}; "
            "move or rename what you want to keep, or delete it, then run again"
        )
    taken = [n for n in present if n in files and n not in manifest.names]
    if taken:
        raise FolderRefused(f"{folder}: not written by wiregen, and in its way: {_some(taken)}; move or rename it")
    return manifest


def _some(names: list[str]) -> str:
    return ", ".join(names[:5]) + (f" and {len(names) - 5} more" if len(names) > 5 else "")


def _make_parents(parent: Path, after: contextlib.ExitStack) -> None:
    """Make the folders above; those that stay empty go again."""
    missing = [p for p in (parent, *parent.parents) if not p.exists()]
    for path in reversed(missing):
        path.mkdir()
        after.callback(remove_if_empty, path)


def _fill(staging: Path, files: Mapping[str, bytes], manifest: Manifest) -> None:
    """Write the files, the manifest last: a folder without one was never finished."""
    for name in sorted(files):
        (staging / name).write_bytes(files[name])
    (staging / NAME).write_bytes(manifest.as_bytes())


def _carry_over(place: Path, staging: Path, old: Manifest) -> None:
    """Give the new folder what is not ours in the old one."""
    for path in sorted(place.iterdir()):
        if path.name not in old.names:
            _link(path, staging / path.name)


def _link(path: Path, twin: Path) -> None:
    """A second name for the same file; folders are made anew, and a file is copied where it cannot be linked."""
    if path.is_dir() and not path.is_symlink():
        twin.mkdir()
        for inner in sorted(path.iterdir()):
            _link(inner, twin / inner.name)
        shutil.copystat(path, twin)
        return
    try:
        os.link(path, twin, follow_symlinks=False)
    except FileExistsError:
        raise
    except OSError:
        shutil.copy2(path, twin, follow_symlinks=False)


def _replace(place: Path, old: Manifest | None, files: Mapping[str, bytes], manifest: Manifest) -> None:
    """Fill a new folder and let it and the old one change places."""
    staging = new_folder(place)
    made = staging.stat()
    try:
        _fill(staging, files, manifest)
        if old is not None:
            _carry_over(place, staging, old)
            shutil.copymode(place, staging)
            gone = put_in_place(staging, place, aside(place))
        else:
            staging.rename(place)
    except BaseException:
        if os.path.lexists(staging) and os.path.samestat(staging.stat(), made):
            shutil.rmtree(staging, ignore_errors=True)
        raise
    # The new folder stands; what cannot be cleared now is cleared by the next run.
    if old is not None:
        with contextlib.suppress(OSError):
            clear(gone, place, old)
