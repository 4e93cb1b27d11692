"""Finding profiles: built in, in installed sets, in the user's folder."""

from __future__ import annotations

import time
from importlib.metadata import EntryPoint
from pathlib import Path

import pytest

from wiregen.profiles import Library, Profile, builtin_root, library, load, reading
from wiregen.terms import InternalFault, UnusableInput

LAMP = """\
profile: {name}
title: Lamp of our own
device: lamp
terminals:
  - {{label: X1, role: load}}
  - {{label: X2, role: load}}
"""


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "own_lamp.yaml").write_text(LAMP.format(name="own_lamp"), encoding="utf-8")
    return tmp_path


def _said(error: pytest.ExceptionInfo[UnusableInput]) -> str:
    return str(error.value)


def _install(monkeypatch: pytest.MonkeyPatch, **functions: object) -> None:
    points = tuple(EntryPoint(name, f"installed_set:{name}", library.GROUP) for name in functions)
    points = (*points, EntryPoint("generic", "wiregen.profiles:builtin_root", library.GROUP))
    monkeypatch.setattr(library, "entry_points", lambda group: points if group == library.GROUP else ())

    def load_point(point: EntryPoint) -> object:
        found = functions[point.name]
        if isinstance(found, Exception):
            raise found
        return found

    monkeypatch.setattr(EntryPoint, "load", load_point)


def test_names_are_sorted_and_complete() -> None:
    found = load()
    assert list(found) == sorted(path.stem for path in builtin_root().glob("*.yaml"))
    assert len(found) == 32
    assert all(found[name].profile == name for name in found)


def test_a_profile_is_read_when_it_is_asked_for_and_once(monkeypatch: pytest.MonkeyPatch) -> None:
    found = load()
    seen: list[str] = []

    def noted(text: str, file: str, name: str) -> Profile:
        seen.append(name)
        return reading.read(text, file, name)

    monkeypatch.setattr(library, "read", noted)
    assert "drive_compact" in found
    assert seen == []
    assert found["drive_compact"] is found["drive_compact"]
    assert seen == ["drive_compact"]


def test_an_unknown_name_is_a_key_error() -> None:
    assert "drive_gigantic" not in load()
    with pytest.raises(KeyError):
        load()["drive_gigantic"]


def test_the_users_folder_adds_to_the_built_in_ones(folder: Path) -> None:
    found = load(folder)
    assert found["own_lamp"].title == "Lamp of our own"
    assert len(found) == len(load()) + 1


def test_other_files_in_the_folder_are_left_alone(folder: Path) -> None:
    (folder / "notes.txt").write_text("not a profile", encoding="utf-8")
    (folder / ".own_lamp.yaml").write_text("half saved by an editor", encoding="utf-8")
    assert len(load(folder)) == len(load()) + 1


def test_nothing_is_overridden_silently(folder: Path) -> None:
    (folder / "fuse.yaml").write_text(LAMP.format(name="fuse"), encoding="utf-8")
    with pytest.raises(UnusableInput) as error:
        load(folder)
    assert f"{folder}/fuse.yaml:1:1: profile 'fuse' stands in terminal_profiles/fuse.yaml already" in _said(error)


def test_every_mistake_of_the_users_folder_is_told_at_once(folder: Path) -> None:
    (folder / "one.yaml").write_text("profile: one\n", encoding="utf-8")
    (folder / "two.yaml").write_text("profile: [two\n", encoding="utf-8")
    with pytest.raises(UnusableInput) as error:
        load(folder)
    assert f"{folder}/one.yaml:1:1: 'title' is missing" in _said(error)
    assert f"{folder}/two.yaml:2:1: " in _said(error)


@pytest.mark.parametrize("name", ["missing", "own_lamp.yaml"])
def test_what_is_no_folder_is_told(folder: Path, name: str) -> None:
    with pytest.raises(UnusableInput, match="this folder of profiles cannot be read"):
        load(folder / name)


def test_a_folder_in_place_of_a_file_is_told(folder: Path) -> None:
    (folder / "deep.yaml").mkdir()
    with pytest.raises(UnusableInput, match=r"deep\.yaml:1:1: this file cannot be read"):
        load(folder)


def test_a_file_that_is_no_text_is_told(folder: Path) -> None:
    (folder / "own_lamp.yaml").write_bytes(b"profile: own_lamp\ntitle: \xff\xfe\n")
    with pytest.raises(UnusableInput, match=r"own_lamp\.yaml:2:8: is not text in UTF-8"):
        load(folder)


def test_an_installed_set_is_found(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _install(monkeypatch, orchard=lambda: folder)
    assert load()["own_lamp"].device == "lamp"
    assert len(load()) == 33


@pytest.mark.parametrize(
    ("given", "message"),
    [
        (ImportError("no module installed_set"), "cannot be loaded: no module installed_set"),
        (AttributeError("no such function"), "cannot be loaded: no such function"),
        (42, "cannot be loaded"),
        (lambda: 42, "does not give a folder"),
        (lambda: "/nowhere/at/all", "cannot be read"),
    ],
)
def test_a_broken_installed_set_is_named(given: object, message: str, monkeypatch: pytest.MonkeyPatch) -> None:
    _install(monkeypatch, orchard=given)
    with pytest.raises(UnusableInput, match=f"orchard:1:1: .*{message}"):
        load()


def test_two_installed_sets_may_not_share_a_name(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    _install(monkeypatch, orchard=lambda: folder, quarry=lambda: folder)
    with pytest.raises(UnusableInput, match=r"quarry/own_lamp\.yaml:1:1: .* stands in orchard/own_lamp\.yaml already"):
        load()


@pytest.mark.parametrize("inside", [True, False])
def test_the_built_in_folder_is_found_in_a_wheel_and_in_a_checkout(
    inside: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package = tmp_path / "wiregen"
    wanted = (package if inside else tmp_path) / "terminal_profiles"
    wanted.mkdir(parents=True)
    monkeypatch.setattr(library, "__file__", str(package / "profiles" / "library.py"))
    assert builtin_root.__wrapped__() == wanted


def test_an_installation_without_profiles_is_a_fault_of_ours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(library, "__file__", str(tmp_path / "wiregen" / "profiles" / "library.py"))
    with pytest.raises(InternalFault, match="terminal_profiles is missing"):
        builtin_root.__wrapped__()


def test_reading_one_profile_is_cheaper_than_reading_all() -> None:
    def seconds(names: list[str]) -> float:
        found: Library = load()
        start = time.perf_counter()
        for name in names:
            found[name]
        return time.perf_counter() - start

    one = min(seconds(["push_button"]) for _ in range(5))
    every = min(seconds(list(load())) for _ in range(5))
    assert one < every / 5
