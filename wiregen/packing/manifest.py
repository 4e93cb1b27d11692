"""``pack.json``: which files of a folder are ours, and what they held when they were written."""

from __future__ import annotations

import hashlib
import json
import stat
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

NAME = "pack.json"


@dataclass(frozen=True, slots=True)
class Manifest:
    """``kind`` says what was written (``pack``, ``sheets``, ``lists``); ``files`` maps a name to its SHA-256."""

    kind: str
    files: Mapping[str, str]

    @property
    def names(self) -> frozenset[str]:
        """All names that are ours, the manifest's own among them."""
        return frozenset(self.files) | {NAME}

    def as_bytes(self) -> bytes:
        """The one way in which this manifest is written."""
        data = {"written_by": "wiregen", "kind": self.kind, "files": dict(sorted(self.files.items()))}
        return (json.dumps(data, indent=1, ensure_ascii=True) + "\n").encode("ascii")

    def untouched(self, folder: Path, name: str) -> bool:
        """Whether the file ``name`` in ``folder`` still holds exactly what was written."""
        path = folder / name
        if not stat.S_ISREG(path.lstat().st_mode):
            return False
        held = path.read_bytes()
        return held == self.as_bytes() if name == NAME else digest(held) == self.files.get(name)


def manifest_for(kind: str, files: Mapping[str, bytes]) -> Manifest:
    """The manifest of ``files`` (name -> bytes)."""
    return Manifest(kind, {name: digest(data) for name, data in files.items()})


def digest(data: bytes) -> str:
    """SHA-256 in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def read_manifest(folder: Path) -> Manifest | None:
    """The manifest of a folder; None where there is none or where it is not ours."""
    path = folder / NAME
    if not path.is_file() or path.is_symlink():
        return None
    try:
        data = json.loads(path.read_bytes())
    except (ValueError, RecursionError):
        return None
    if not isinstance(data, dict) or data.get("written_by") != "wiregen":
        return None
    kind, files = data.get("kind"), data.get("files")
    if not isinstance(kind, str) or not isinstance(files, dict):
        return None
    if not all(isinstance(v, str) for v in files.values()):
        return None
    return Manifest(kind, files)
