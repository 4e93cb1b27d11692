"""A scheme file as text: size, encoding and everything else that can be wrong before YAML begins."""

from __future__ import annotations

import difflib
import os
from pathlib import Path

from wiregen.terms import Complaint, Spot, UnusableInput

MAX_BYTES = 2_000_000


def text_of(path: str | os.PathLike[str]) -> str:
    """The text of the file at ``path``.

    Raises UnusableInput where there is no readable UTF-8 file of at most ``MAX_BYTES`` bytes.
    """
    name = os.fspath(path)
    try:
        with open(name, "rb") as file:
            data = file.read(MAX_BYTES + 1)
    except FileNotFoundError:
        raise _unusable(name, f"there is no such file{_near(Path(name))}") from None
    except IsADirectoryError:
        raise _unusable(name, "this is a folder, not a scheme file") from None
    except PermissionError:
        raise _unusable(name, "this file may not be read: check its permissions") from None
    except (OSError, ValueError) as error:
        raise _unusable(name, f"this file cannot be read: {getattr(error, 'strerror', None) or error}") from None
    if len(data) > MAX_BYTES:
        raise _unusable(name, f"this file is larger than {MAX_BYTES // 1_000_000} MB: that is no scheme")
    return _decoded(name, data)


def _decoded(name: str, data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise _unusable(name, "this file is UTF-16: save it as UTF-8")
    if b"\0" in data:
        raise _unusable(name, "this is a binary file, not a scheme")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line_start = before.rfind(b"\n") + 1
        column = len(before[line_start:].decode("utf-8")) + 1
        spot = Spot(name, before.count(b"\n") + 1, column)
        raise UnusableInput(
            (Complaint(spot, f"byte {data[error.start]:#04x} is not UTF-8: save the file as UTF-8"),)
        ) from None


def _near(path: Path) -> str:
    try:
        names = sorted(p.name for p in path.parent.iterdir())
    except (OSError, ValueError):
        return ""
    near = difflib.get_close_matches(path.name, names, n=1, cutoff=0.6)
    return f"; did you mean `{path.with_name(near[0])}`?" if near else ""


def _unusable(name: str, message: str) -> UnusableInput:
    return UnusableInput((Complaint(Spot(name, 1, 1), message),))
