"""Streams, exit statuses and messages at the edge of the program, in processes of their own where it matters."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import click
import pytest

from wiregen.cli import boundary, status
from wiregen.cli.group import COMMANDS
from wiregen.cli.group import wiregen as group
from wiregen.terms import Complaint, InternalFault, Spot, UnusableInput, WiregenError

MAIN = [sys.executable, "-c", "import sys; from wiregen.cli import main; sys.exit(main())"]


def wiregen(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*MAIN, *arguments], capture_output=True, text=True, env=os.environ | environment, timeout=60, check=False
    )


def failing(error: BaseException) -> click.Command:
    @click.command()
    def command() -> None:
        click.echo("part of a result")
        raise error

    return command


@pytest.fixture
def raising(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]):  # type: ignore[no-untyped-def]
    """Run a command that raises, and give its status and what it told on stderr."""

    def run(error: BaseException) -> tuple[int, str]:
        monkeypatch.delenv(boundary.TRACEBACK, raising=False)
        monkeypatch.setattr(type(group), "get_command", lambda self, context, name: failing(error))
        found = boundary.run(["check"])
        return found, capsys.readouterr().err

    return run


def test_every_complaint_is_told_with_its_place(raising) -> None:  # type: ignore[no-untyped-def]
    spots = (Complaint(Spot("pump.yaml", 3, 5), "no such key"), Complaint(Spot("pump.yaml", 9, 1), "no device"))
    found, told = raising(UnusableInput(spots))
    assert found == status.UNUSABLE
    assert told == "pump.yaml:3:5: error: no such key\npump.yaml:9:1: error: no device\n"


@pytest.mark.parametrize(
    ("error", "says"),
    [
        (WiregenError("the folder is full"), "error: the folder is full\n"),
        (OSError(errno.EACCES, "Permission denied", "pump.yaml"), "error: pump.yaml: Permission denied\n"),
        (OSError(errno.EIO, "Input/output error"), "error: Input/output error\n"),
        (RecursionError("maximum"), "error: the input is nested too deeply\n"),
        (MemoryError(), "error: not enough memory for this input\n"),
    ],
)
def test_errors_are_one_line_and_status_2(raising, error: Exception, says: str) -> None:  # type: ignore[no-untyped-def]
    assert raising(error) == (status.UNUSABLE, says)


@pytest.mark.parametrize("error", [ZeroDivisionError("division\nby zero"), InternalFault("the answer is wrong")])
def test_a_fault_of_the_program_says_so_and_asks_for_a_report(raising, error: Exception) -> None:  # type: ignore[no-untyped-def]
    found, told = raising(error)
    assert found == status.UNUSABLE
    assert told.startswith("error: internal fault: ")
    assert "report" in told
    assert "Traceback" not in told


def test_a_developer_can_see_where(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv(boundary.TRACEBACK, "1")
    monkeypatch.setattr(type(group), "get_command", lambda self, context, name: failing(ZeroDivisionError()))
    with pytest.raises(ZeroDivisionError):
        boundary.run(["check"])


def test_the_keyboard_interrupts(raising) -> None:  # type: ignore[no-untyped-def]
    found, told = raising(KeyboardInterrupt())
    assert found == status.INTERRUPTED
    assert told.strip() == "interrupted"


def test_a_message_cannot_steer_the_terminal(raising) -> None:  # type: ignore[no-untyped-def]
    _, told = raising(WiregenError("\x1b[2Jgone\x9b"))
    assert told == "error: \\x1b[2Jgone\\x9b\n"


@pytest.mark.parametrize(
    ("arguments", "says"),
    [
        (["chek"], "did you mean 'check'"),
        (["profils"], "did you mean 'profiles'"),
        (["zzz"], "there is no command 'zzz'"),
        (["check"], "Missing argument 'SCHEME'"),
        (["check", "a.yaml", "--formt", "json"], "--format"),
        (["check", "a.yaml", "--format", "xml"], "'xml'"),
        (["draw", "a.yaml"], "Missing option '-o'"),
        (["profiles", "drive_compakt"], "did you mean 'drive_compact'"),
        (["check", "a.yaml", "--profiles", "/nowhere/at/all"], "does not exist"),
        (["schedule", "a.yaml", "-o", "x", "--list", "cables"], "leave out"),
    ],
)
def test_a_wrong_command_line_is_status_2_and_told_on_stderr(arguments: list[str], says: str) -> None:
    done = wiregen(*arguments)
    assert done.returncode == status.UNUSABLE
    assert done.stdout == ""
    assert says in done.stderr
    assert "Traceback" not in done.stderr


def test_results_go_to_stdout_and_nothing_to_stderr() -> None:
    done = wiregen("profiles")
    assert (done.returncode, done.stderr) == (status.OK, "")
    assert "drive_compact" in done.stdout


def test_a_closed_pipe_ends_quietly() -> None:
    reader, writer = os.pipe()
    os.close(reader)
    done = subprocess.run([*MAIN, "schema"], stdout=writer, stderr=subprocess.PIPE, timeout=60, check=False)
    os.close(writer)
    assert (done.returncode, done.stderr) == (status.PIPE_CLOSED, b"")


@pytest.mark.parametrize("closed", [">&-", "2>&-", ">&- 2>&-"])
def test_a_program_started_with_a_closed_stream_does_its_work(closed: str, tmp_path: Path) -> None:
    scheme = Path(__file__).parents[2] / "examples" / "irrigation_pump.yaml"
    words = [*MAIN, "draw", str(scheme), "-o", str(tmp_path / "sheets")]
    done = subprocess.run(
        ["sh", "-c", f'"$@" {closed}', "sh", *words], capture_output=True, text=True, timeout=60, check=False
    )
    assert done.returncode == status.OK
    assert "Traceback" not in done.stderr
    assert (tmp_path / "sheets" / "sheet-01.svg").exists()


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_behind_stdout_is_told() -> None:
    with open("/dev/full", "w") as full:
        done = subprocess.run([*MAIN, "schema"], stdout=full, stderr=subprocess.PIPE, timeout=60, check=False)
    assert done.returncode == status.UNUSABLE
    assert done.stderr == b"error: No space left on device\n"


def test_a_terminal_without_a_character_gets_its_number() -> None:
    script = (
        "import sys, click\nfrom wiregen.cli.boundary import _forgive_characters as f\nf()\nclick.echo('4 \\u03a9')"
    )
    environment = os.environ | {"PYTHONIOENCODING": "latin-1"}
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, env=environment, check=True)
    assert done.stdout == b"4 \\u03a9\n"


def test_an_interrupt_from_the_keyboard_ends_a_process() -> None:
    script = "import os, sys, signal, threading\nfrom wiregen.cli import boundary, check\n"
    script += "check.designed = lambda *a: os.kill(os.getpid(), signal.SIGINT) or __import__('time').sleep(30)\n"
    script += "sys.exit(boundary.run(['check', 'x.yaml']))"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, timeout=25, check=False)
    assert done.returncode == status.INTERRUPTED == 128 + signal.SIGINT
    assert done.stderr.strip() == "interrupted"


def test_exit_statuses_are_what_the_help_says() -> None:
    assert (status.OK, status.ERRORS, status.UNUSABLE) == (0, 1, 2)
    help_text = " ".join(wiregen("--help").stdout.split())
    assert "0 no error finding, 1 error findings, 2 the input or the command line cannot be used" in help_text


@pytest.mark.parametrize("name", ["check", "allocate", "readings", "schedule"])
@pytest.mark.parametrize(
    "content", [b"", b"\x00\xff\xfe binary", b"- just\n- a list\n", b"scheme: {", b"a: &a [*a]\n", b"\xef\xbb\xbf"]
)
def test_an_unusable_scheme_is_status_2_with_its_place(tmp_path: Path, name: str, content: bytes) -> None:
    scheme = tmp_path / "bad.yaml"
    scheme.write_bytes(content)
    done = wiregen(name, str(scheme))
    assert done.returncode == status.UNUSABLE
    assert done.stdout == ""
    assert done.stderr.startswith(f"{scheme}:")
    assert ": error: " in done.stderr
    assert "Traceback" not in done.stderr
    assert "internal fault" not in done.stderr


@pytest.mark.parametrize("path", ["missing.yaml", ".", "a/b/c.yaml"])
def test_no_scheme_there_is_status_2(tmp_path: Path, path: str) -> None:
    for command in ("check", "pack"):
        arguments = [str(tmp_path / path), *(["-o", str(tmp_path / "out")] if command == "pack" else [])]
        done = wiregen(command, *arguments)
        assert done.returncode == status.UNUSABLE
        assert str(tmp_path / path) in done.stderr
        assert "internal fault" not in done.stderr
    assert not (tmp_path / "out").exists()


def test_every_command_is_tried_here_or_beside() -> None:
    beside = "".join(p.read_text(encoding="utf-8") for p in Path(__file__).parent.glob("test_*.py"))
    assert [name for name in COMMANDS if f'"{name}"' not in beside] == []


def test_a_line_end_in_a_name_is_shown_on_one_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder, missing = tmp_path / "a\nb", tmp_path / "no\nsuch.yaml"
    example = Path(__file__).parents[2] / "examples" / "irrigation_pump.yaml"
    assert boundary.run(["draw", str(example), "-o", str(folder)]) == status.OK
    assert capsys.readouterr().out.rstrip("\n").endswith("a\\x0ab")
    assert boundary.run(["check", str(missing)]) == status.UNUSABLE
    (line,) = capsys.readouterr().err.splitlines()
    assert "no\\x0asuch.yaml" in line
