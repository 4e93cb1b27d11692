"""``pack.json``: which files of a folder are ours, and what they held when they were written."""

from __future__ import annotations

import hashlib
import json
import stat
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

NAME = "pack.json"


@dataclass(frozen=True, slots=True)
class BookRecord:
    """One set of sheets: the fingerprint of what it was made from, its PDF, and (file, title, number) of each sheet."""

    made_from: str
    pdf: str
    sheets: tuple[tuple[str, str, str], ...]

    def as_json(self) -> dict[str, object]:
        return {"made_from": self.made_from, "pdf": self.pdf, "sheets": [list(sheet) for sheet in self.sheets]}

    @staticmethod
    def from_json(data: object) -> BookRecord | None:
        """None where ``data`` is nothing that `as_json` gives."""
        if not isinstance(data, dict):
            return None
        made_from, pdf, sheets = (data.get(key) for key in ("made_from", "pdf", "sheets"))
        if not isinstance(made_from, str) or not isinstance(pdf, str) or not isinstance(sheets, list):
            return None
        if not all(isinstance(s, list) and len(s) == 3 and all(isinstance(w, str) for w in s) for s in sheets):
            return None
        return BookRecord(made_from, pdf, tuple((file, title, number) for file, title, number in sheets))


@dataclass(frozen=True, slots=True)
class Manifest:
    """``kind`` says what was written, ``pack``, ``sheets``, ``lists`` or ``comparison``; ``files`` maps a name to its
    SHA-256.

    ``books`` maps the name of each set of sheets to what it was made from, and its sheets; ``made_from`` other files
    that are worth taking over to the fingerprint of what they were made from.
    """

    kind: str
    files: Mapping[str, str]
    books: Mapping[str, BookRecord] = field(default_factory=dict)
    made_from: Mapping[str, str] = field(default_factory=dict)

    @property
    def names(self) -> frozenset[str]:
        """All names that are ours, the manifest's own among them."""
        return frozenset(self.files) | {NAME}

    def as_bytes(self) -> bytes:
        """The one way in which this manifest is written."""
        data: dict[str, object] = {
            "written_by": "wiregen",
            "kind": self.kind,
            "files": dict(sorted(self.files.items())),
        }
        if self.books:
            data["books"] = {name: record.as_json() for name, record in self.books.items()}
        if self.made_from:
            data["made_from"] = dict(sorted(self.made_from.items()))
        return (json.dumps(data, indent=1, ensure_ascii=True) + "\n").encode("ascii")

    def untouched(self, folder: Path, name: str) -> bool:
        """Whether the file ``name`` in ``folder`` still holds exactly what was written."""
        path = folder / name
        if not stat.S_ISREG(path.lstat().st_mode):
            return False
        held = path.read_bytes()
        return held == self.as_bytes() if name == NAME else digest(held) == self.files.get(name)


def manifest_for(
    kind: str, files: Mapping[str, bytes], books: Mapping[str, BookRecord], made_from: Mapping[str, str]
) -> Manifest:
    """The manifest of ``files`` (name -> bytes)."""
    return Manifest(kind, {name: digest(data) for name, data in files.items()}, books, made_from)


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
    return Manifest(kind, files, _books(data.get("books")), _texts(data.get("made_from")))


def _texts(data: object) -> dict[str, str]:
    return {k: v for k, v in data.items() if isinstance(v, str)} if isinstance(data, dict) else {}


def _books(data: object) -> dict[str, BookRecord]:
    """What the manifest says of books. What is not understood makes the manifest one that was changed."""
    if not isinstance(data, dict):
        return {}
    found = {name: BookRecord.from_json(record) for name, record in data.items()}
    return {name: record for name, record in found.items() if record is not None}
