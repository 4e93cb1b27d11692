"""The library of terminal profiles: the built-in ones, those of installed sets, those of the user's folder."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from functools import cache
from importlib.metadata import EntryPoint, entry_points
from pathlib import Path

from wiregen.profiles.model import Profile
from wiregen.profiles.reading import read
from wiregen.terms import Complaint, InternalFault, Spot, UnusableInput
from wiregen.yaml_text import decode

#: An installed set registers a function of no arguments here; it returns the folder of its YAML files.
GROUP = "wiregen.profiles"
SUFFIX = ".yaml"


@cache
def builtin_root() -> Path:
    """The folder of the profiles that come with the program, in a wheel, a checkout or an editable install."""
    package = Path(__file__).resolve().parent.parent
    for folder in (package / "terminal_profiles", package.parent / "terminal_profiles"):
        if folder.is_dir():
            return folder
    raise InternalFault("the folder terminal_profiles is missing from this installation")


class Library(Mapping[str, Profile]):
    """Profiles by name, in the order of their names. A profile is read when it is first asked for."""

    def __init__(self, sources: Mapping[str, tuple[Path, str]]) -> None:
        self._sources = dict(sorted(sources.items()))
        self._read: dict[str, Profile] = {}

    def __getitem__(self, name: str) -> Profile:
        if name not in self._read:
            path, shown = self._sources[name]
            self._read[name] = read(decode(_bytes(path, shown), shown), shown, name)
        return self._read[name]

    def __iter__(self) -> Iterator[str]:
        return iter(self._sources)

    def __len__(self) -> int:
        return len(self._sources)

    def __contains__(self, name: object) -> bool:
        return name in self._sources


def load(extra: Path | None = None) -> Library:
    """Every profile that can be found; ``extra`` is the user's own folder.

    A name that stands in two places is an error: nothing is overridden silently. The user's folder is read at once and
    whole, so that every mistake in it is told. Raises UnusableInput; reading a profile later may raise it too.
    """
    sources: dict[str, tuple[Path, str]] = {}
    complaints: list[Complaint] = []
    folders = [(builtin_root(), "terminal_profiles"), *_installed_sets()]
    for folder, shown in (*folders, *(((extra, str(extra)),) if extra else ())):
        for name, path in _files(folder, shown):
            place = f"{shown}/{path.name}"
            if name in sources:
                other = sources[name][1]
                message = f"profile {name!r} stands in {other} already; give this one another name"
                complaints.append(Complaint(Spot(place, 1, 1), message))
            else:
                sources[name] = (path, place)
    library = Library(sources)
    if extra:
        for name, (path, _) in sources.items():
            if path.parent == extra:
                complaints.extend(_complaints_about(library, name))
    if complaints:
        raise UnusableInput(tuple(complaints))
    return library


def _complaints_about(library: Library, name: str) -> tuple[Complaint, ...]:
    try:
        library[name]
    except UnusableInput as error:
        return error.complaints
    return ()


def _installed_sets() -> Iterator[tuple[Path, str]]:
    for point in sorted(entry_points(group=GROUP), key=lambda p: (p.name, p.value)):
        folder = _folder_of(point)
        if folder.resolve() != builtin_root():
            yield folder, point.name


def _folder_of(point: EntryPoint) -> Path:
    if point.value == "wiregen.profiles:builtin_root":
        return builtin_root()
    try:
        root = point.load()()
    except (ImportError, AttributeError, TypeError, OSError) as error:
        raise _unusable(point.name, f"the installed profile set cannot be loaded: {error}") from None
    if not isinstance(root, str | os.PathLike):
        raise _unusable(point.name, "the installed profile set does not give a folder")
    return Path(root)


def _files(folder: Path, shown: str) -> list[tuple[str, Path]]:
    try:
        found = sorted(folder.iterdir())
    except OSError as error:
        raise _unusable(shown, f"this folder of profiles cannot be read: {error.strerror or error}") from None
    return [(p.name.removesuffix(SUFFIX), p) for p in found if p.name.endswith(SUFFIX) and not p.name.startswith(".")]


def _bytes(path: Path, shown: str) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise _unusable(shown, f"this file cannot be read: {error.strerror or error}") from None


def _unusable(shown: str, message: str) -> UnusableInput:
    return UnusableInput((Complaint(Spot(shown, 1, 1), message),))
