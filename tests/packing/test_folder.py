"""A folder is written whole or not at all, and nothing that is not ours is lost."""

from __future__ import annotations

import errno
import hashlib
import json
import os
import random
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from wiregen.packing import beside, exchange
from wiregen.packing.folder import FolderRefused, write_folder
from wiregen.packing.manifest import NAME, read_manifest
from wiregen.terms import InternalFault

OLD = {"design.json": b"old design\n", "sheet-01.svg": b"old 1\n", "sheet-02.svg": b"old 2\n"}
NEW = {"design.json": b"new design\n", "sheet-01.svg": b"new 1\n", "cables.csv": b"new list\n"}


def contents(place: Path) -> dict[str, bytes]:
    """Every file below ``place`` but the manifest, by its path in it."""
    files = (p for p in place.rglob("*") if p.is_file() and p.name != NAME)
    return {str(p.relative_to(place)): p.read_bytes() for p in files}


def hidden(parent: Path) -> list[str]:
    return [p.name for p in parent.iterdir() if p.name.startswith(".")]


def test_a_new_folder_holds_the_files_and_their_checksums(tmp_path: Path) -> None:
    write_folder(tmp_path / "a" / "b" / "out", OLD, "pack")
    assert contents(tmp_path / "a" / "b" / "out") == OLD
    manifest = json.loads((tmp_path / "a/b/out" / NAME).read_bytes())
    assert manifest["files"] == {n: hashlib.sha256(data).hexdigest() for n, data in OLD.items()}
    assert hidden(tmp_path / "a" / "b") == []


def test_a_second_pack_replaces_the_first_and_takes_away_what_is_no_longer_written(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", OLD, "pack")
    write_folder(tmp_path / "out", NEW, "pack")
    assert contents(tmp_path / "out") == NEW
    assert hidden(tmp_path) == []


def test_an_empty_folder_is_taken_with_its_permissions(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir(mode=0o750)
    write_folder(tmp_path / "out", OLD, "pack")
    assert contents(tmp_path / "out") == OLD
    assert (tmp_path / "out").stat().st_mode & 0o777 == 0o750


def test_a_new_folder_gets_the_permissions_that_the_user_gives_to_new_folders(tmp_path: Path) -> None:
    (tmp_path / "usual").mkdir()
    write_folder(tmp_path / "out", OLD, "pack")
    assert (tmp_path / "out").stat().st_mode == (tmp_path / "usual").stat().st_mode


@pytest.mark.parametrize("can_exchange", [True, False])
@pytest.mark.parametrize("can_link", [True, False])
def test_what_a_user_added_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, can_exchange: bool, can_link: bool
) -> None:
    if not can_exchange:
        monkeypatch.setattr(exchange, "_exchange", lambda a, b: False)
    if not can_link:
        monkeypatch.setattr(os, "link", raiser(errno.EPERM))
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / "notes.txt").write_bytes(b"call the site\n")
    (out / "photos" / "deep").mkdir(parents=True)
    (out / "photos" / "deep" / "cabinet.jpg").write_bytes(b"\xff\xd8")
    (out / "empty").mkdir()
    (out / "link").symlink_to("notes.txt")
    (out / "dangling").symlink_to("nowhere")
    write_folder(out, NEW, "pack")
    added = {"notes.txt": b"call the site\n", "link": b"call the site\n", "photos/deep/cabinet.jpg": b"\xff\xd8"}
    assert contents(out) == NEW | added
    assert (out / "link").readlink() == Path("notes.txt")
    assert (out / "dangling").is_symlink()
    assert (out / "empty").is_dir()
    assert hidden(tmp_path) == []


def test_a_file_of_ours_that_somebody_changed_stops_the_run(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / "sheet-02.svg").write_bytes(b"with my marks\n")
    with pytest.raises(FolderRefused, match=r"changed by somebody.*sheet-02\.svg"):
        write_folder(out, NEW, "pack")
    assert contents(out) == OLD | {"sheet-02.svg": b"with my marks\n"}
    (out / "sheet-02.svg").rename(out / "sheet-02-marked.svg")
    write_folder(out, NEW, "pack")
    assert contents(out) == NEW | {"sheet-02-marked.svg": b"with my marks\n"}


def test_a_file_of_ours_that_became_a_link_or_a_folder_counts_as_changed(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / "sheet-01.svg").rename(tmp_path / "elsewhere.svg")
    (out / "sheet-01.svg").symlink_to(tmp_path / "elsewhere.svg")
    (out / "sheet-02.svg").unlink()
    (out / "sheet-02.svg").mkdir()
    with pytest.raises(FolderRefused, match=r"sheet-01\.svg, sheet-02\.svg"):
        write_folder(out, NEW, "pack")


def test_a_changed_manifest_stops_the_run(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / NAME).write_bytes((out / NAME).read_bytes() + b" ")
    with pytest.raises(FolderRefused, match=NAME):
        write_folder(out, NEW, "pack")


def test_a_file_of_ours_that_somebody_deleted_is_written_again(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", OLD, "pack")
    (tmp_path / "out" / "design.json").unlink()
    write_folder(tmp_path / "out", OLD, "pack")
    assert contents(tmp_path / "out") == OLD


def test_a_users_file_in_the_way_of_a_new_one_stops_the_run(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / "cables.csv").write_bytes(b"mine\n")
    with pytest.raises(FolderRefused, match=r"not written by wiregen.*cables\.csv"):
        write_folder(out, NEW, "pack")
    assert contents(out) == OLD | {"cables.csv": b"mine\n"}


@pytest.mark.parametrize("manifest", [None, b"", b"[]", b'{"written_by": "somebody"}', b"[" * 100_000, b"\xff"])
def test_a_folder_that_is_not_ours_is_never_touched(tmp_path: Path, manifest: bytes | None) -> None:
    out = tmp_path / "out"
    out.mkdir()
    (out / "thesis.txt").write_bytes(b"years of work\n")
    if manifest is not None:
        (out / NAME).write_bytes(manifest)
    with pytest.raises(FolderRefused, match=r"wiregen did not write.*thesis\.txt"):
        write_folder(out, NEW, "pack")
    assert contents(out) == {"thesis.txt": b"years of work\n"}


def test_a_pack_replaces_sheets_but_sheets_do_not_replace_a_pack(tmp_path: Path) -> None:
    write_folder(tmp_path / "out", OLD, "sheets")
    write_folder(tmp_path / "out", NEW, "pack")
    with pytest.raises(FolderRefused, match="holds a whole pack, which the sheets alone would take away"):
        write_folder(tmp_path / "out", OLD, "sheets")
    assert contents(tmp_path / "out") == NEW


def test_a_file_is_no_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_bytes(b"x")
    with pytest.raises(FolderRefused, match="is a file, not a folder"):
        write_folder(tmp_path / "out", NEW, "pack")
    with pytest.raises(FolderRefused, match="cannot be written"):
        write_folder(tmp_path / "out" / "below", NEW, "pack")
    assert (tmp_path / "out").read_bytes() == b"x"


def test_a_link_to_a_folder_stays_a_link(tmp_path: Path) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "out").symlink_to("real")
    write_folder(tmp_path / "out", OLD, "pack")
    write_folder(tmp_path / "out", NEW, "pack")
    assert (tmp_path / "out").is_symlink()
    assert contents(tmp_path / "real") == NEW


def test_a_link_that_leads_to_itself_is_refused(tmp_path: Path) -> None:
    (tmp_path / "out").symlink_to("out")
    with pytest.raises(FolderRefused, match=r"cannot be written|is a file"):
        write_folder(tmp_path / "out", NEW, "pack")


@pytest.mark.parametrize("name", [".", ""])
def test_the_folder_one_stands_in_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    monkeypatch.chdir(tmp_path)
    with pytest.raises(FolderRefused, match="stand in"):
        write_folder(Path(name), NEW, "pack")
    with pytest.raises(FolderRefused, match="stand in"):
        write_folder(Path("/"), NEW, "pack")


def test_a_read_only_folder_is_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write_folder(tmp_path / "out", OLD, "pack")
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root may write anywhere, so modes show nothing
    with pytest.raises(FolderRefused, match="read-only"):
        write_folder(tmp_path / "out", NEW, "pack")


@pytest.mark.parametrize("step", ["lock", "folder", "parents"])
def test_a_parent_where_one_may_not_write_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    if step == "lock":
        monkeypatch.setattr(os, "open", raiser(errno.EACCES))
    else:
        mkdir, wanted = Path.mkdir, ".wiregen-" if step == "folder" else "deep"

        def refused(self: Path, *args: int) -> None:
            if wanted in self.name:
                raise OSError(errno.EACCES, os.strerror(errno.EACCES))
            mkdir(self, *args)

        monkeypatch.setattr(Path, "mkdir", refused)
    with pytest.raises(FolderRefused, match=r"cannot be written \(Permission denied\); nothing was changed"):
        write_folder(tmp_path / "new" / "deep" / "out", NEW, "pack")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("name", ["../up.svg", "a/b", "", "..", "a\\b", NAME, "nul\0"])
def test_names_that_lead_elsewhere_are_a_fault_of_the_program(tmp_path: Path, name: str) -> None:
    with pytest.raises(InternalFault):
        write_folder(tmp_path / "out", {name: b""}, "pack")
    assert list(tmp_path.iterdir()) == []


def raiser(code: int) -> Callable[..., None]:
    def fail(*args: object, **kwargs: object) -> None:
        raise OSError(code, os.strerror(code))

    return fail


@pytest.mark.parametrize("fails_at", [0, 1, 2, 3])
@pytest.mark.parametrize("before", [True, False])
def test_a_full_disk_leaves_everything_as_it_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails_at: int, before: bool
) -> None:
    out = tmp_path / "new" / "out"
    if before:
        write_folder(out, OLD, "pack")
    write, count = Path.write_bytes, iter(range(100))

    def full(self: Path, data: bytes) -> int:
        if next(count) == fails_at:
            write(self, data[:2])
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return write(self, data)

    monkeypatch.setattr(Path, "write_bytes", full)
    with pytest.raises(FolderRefused, match="No space left on device"):
        write_folder(out, NEW, "pack")
    if before:
        assert contents(out) == OLD
        assert hidden(out.parent) == []
    else:
        assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("fails", ["exchange", "second rename"])
def test_a_failure_at_the_last_step_leaves_the_old_pack(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, fails: str
) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    if fails == "exchange":
        monkeypatch.setattr(exchange, "_exchange", raiser(errno.EBUSY))
    else:
        monkeypatch.setattr(exchange, "_exchange", lambda a, b: False)
        rename = Path.rename

        def second_fails(self: Path, target: Path) -> Path:
            if ".wiregen-" in self.name:
                raise OSError(errno.EIO, os.strerror(errno.EIO))
            return rename(self, target)

        monkeypatch.setattr(Path, "rename", second_fails)
    with pytest.raises(FolderRefused, match="nothing was changed"):
        write_folder(out, NEW, "pack")
    assert contents(out) == OLD
    assert hidden(tmp_path) == []


def test_a_pack_set_aside_by_a_killed_run_is_put_back(tmp_path: Path) -> None:
    """Only where the system cannot exchange two names is there a moment with no folder in its place."""
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    (out / "notes.txt").write_bytes(b"mine\n")
    out.rename(beside.aside(out))
    with pytest.raises(FolderRefused):
        write_folder(out, {"notes.txt": b"ours\n"}, "pack")
    assert contents(out) == OLD | {"notes.txt": b"mine\n"}
    write_folder(out, NEW, "pack")
    assert contents(out) == NEW | {"notes.txt": b"mine\n"}


def test_what_somebody_adds_while_we_write_is_not_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")

    def late(new: Path, place: Path, aside: Path) -> Path:
        (place / "late.txt").write_bytes(b"just in time\n")
        (place / "sheet-02.svg").write_bytes(b"changed just now\n")
        return exchange.put_in_place(new, place, aside)

    monkeypatch.setattr("wiregen.packing.folder.put_in_place", late)
    write_folder(out, NEW, "pack")
    assert contents(out) == NEW | {"late.txt": b"just in time\n", "sheet-02.svg": b"changed just now\n"}


def test_a_run_waits_for_another_and_gives_up_in_the_end(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(beside, "LONGEST_WAIT_S", 0.1)
    with beside.turn(tmp_path / "out"), pytest.raises(FolderRefused, match="another run is writing there"):
        write_folder(tmp_path / "out", NEW, "pack")
    write_folder(tmp_path / "out", NEW, "pack")
    assert hidden(tmp_path) == []


_WRITER = """
import sys
from pathlib import Path
from wiregen.packing.folder import write_folder
out, word = Path(sys.argv[1]), sys.argv[2]
files = {f"sheet-{i:02}.svg": f"{word} {i}\\n".encode() * 2000 for i in range(25)}
print("ready", flush=True)
while True:
    write_folder(out, files, "pack")
    if len(sys.argv) > 3:
        break
"""


def writer_of(out: Path, word: str, *once: str) -> subprocess.Popen[bytes]:
    """A process that writes packs, in an endless loop unless ``once``."""
    return subprocess.Popen([sys.executable, "-c", _WRITER, str(out), word, *once], stdout=subprocess.PIPE)


def ended(writer: subprocess.Popen[bytes]) -> int:
    writer.communicate(timeout=60)
    return writer.returncode


def words_in(out: Path) -> set[str]:
    return {line.split()[0] for p in out.glob("sheet-*") for line in p.read_text().splitlines()}


def test_a_run_killed_at_any_moment_leaves_one_whole_pack_and_every_added_file(tmp_path: Path) -> None:
    out = tmp_path / "out"
    assert ended(writer_of(out, "first", "once")) == 0
    (out / "notes.txt").write_bytes(b"mine\n")
    (out / "photos").mkdir()
    (out / "photos" / "cabinet.jpg").write_bytes(b"\xff\xd8")
    chance = random.Random(7)
    seen = set()
    for turn in range(15):
        writer = writer_of(out, f"run{turn}")
        assert writer.stdout is not None
        assert writer.stdout.readline() == b"ready\n"
        time.sleep(chance.uniform(0, 0.03))
        writer.send_signal(signal.SIGKILL)
        ended(writer)
        manifest = read_manifest(out)
        assert manifest is not None
        assert len(manifest.files) == 25
        assert all(manifest.untouched(out, name) for name in manifest.names)
        assert len(words_in(out)) == 1, "sheets of two runs in one pack"
        assert (out / "notes.txt").read_bytes() == b"mine\n"
        assert (out / "photos" / "cabinet.jpg").read_bytes() == b"\xff\xd8"
        seen |= words_in(out)
    assert len(seen) > 1, "no run ever came as far as replacing the pack"
    assert ended(writer_of(out, "last", "once")) == 0
    assert words_in(out) == {"last"}
    assert hidden(tmp_path) == []


def test_many_runs_at_once_leave_one_whole_pack(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_folder(out, OLD, "pack")
    writers = [writer_of(out, f"run{i}", "once") for i in range(4)]
    assert [ended(writer) for writer in writers] == [0, 0, 0, 0]
    assert hidden(tmp_path) == []
    manifest = read_manifest(out)
    assert manifest is not None
    assert all(manifest.untouched(out, name) for name in manifest.names)
    assert len(words_in(out)) == 1
