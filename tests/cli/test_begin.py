"""wiregen begin: answers piped in and typed, and what it leaves alone."""

from __future__ import annotations

import itertools
import os
import pty
import select
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from wiregen.cli import boundary, status

BEGIN = [sys.executable, "-c", "import sys; from wiregen.cli import main; sys.exit(main())", "begin"]


def piped(folder: Path, text: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run([*BEGIN, "new.yaml"], cwd=folder, input=text, capture_output=True, text=True, check=False)


def test_answers_may_be_piped_in(tmp_path: Path) -> None:
    run = piped(tmp_path, "Wash water pump\n" + "\n" * 40)
    assert (run.returncode, "Traceback" in run.stderr) == (0, False)
    assert boundary.run(["check", str(tmp_path / "new.yaml")]) == status.OK
    assert "\nnew.yaml is written" in f"\n{run.stdout}"


def test_answers_that_end_early_write_nothing(tmp_path: Path) -> None:
    run = piped(tmp_path, "Wash water pump\n")
    assert run.returncode == 2
    assert "the answers end before the question 'Drawing number'" in run.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_exists_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "new.yaml").write_text("mine", encoding="utf-8")
    run = piped(tmp_path, "")
    assert run.returncode == 2
    assert "exists already" in run.stderr
    assert (tmp_path / "new.yaml").read_text(encoding="utf-8") == "mine"


def test_a_pipe_that_never_answers_is_not_asked_for_ever(tmp_path: Path) -> None:
    run = piped(tmp_path, "\n" * 100_000)
    assert run.returncode == 2
    assert "no answer would do to the question" in run.stderr
    assert len(run.stderr) < 50_000
    assert list(tmp_path.iterdir()) == []


def test_a_folder_that_is_not_there_is_told_before_the_first_question(tmp_path: Path) -> None:
    command = [*BEGIN, "missing/new.yaml"]
    run = subprocess.run(command, cwd=tmp_path, input="", capture_output=True, text=True, check=False)
    assert run.returncode == 2
    assert "is no folder that can be written to" in run.stderr


def test_in_a_real_terminal(tmp_path: Path) -> None:
    """A pseudo-terminal, each answer typed after its prompt; one answer is wrong first."""
    typed = itertools.chain(["Wash water pump", "WW-1", "", "huge", "2"], itertools.repeat(""))
    leader, follower = pty.openpty()
    run = subprocess.Popen([*BEGIN, "new.yaml"], cwd=tmp_path, stdin=follower, stdout=follower, stderr=follower)
    os.close(follower)
    screen = _talk(leader, run, typed)
    assert run.wait(timeout=60) == 0, screen
    assert "answer compact or extended" in screen
    assert "drive_extended" in (tmp_path / "new.yaml").read_text(encoding="utf-8")


def _talk(leader: int, run: subprocess.Popen[bytes], typed: Iterator[str]) -> str:
    """Answer whenever the screen ends with a prompt; give back all that was shown."""
    screen, answered_up_to = "", 0
    deadline = time.monotonic() + 120
    while time.monotonic() < deadline:
        ready, _, _ = select.select([leader], [], [], 0.2)
        try:
            screen += os.read(leader, 4096).decode() if ready else ""
        except OSError:  # the other end is closed: the program has ended
            break
        if screen.endswith(": ") and len(screen) > answered_up_to:
            answered_up_to = len(screen)
            os.write(leader, f"{next(typed)}\n".encode())
        if not ready and run.poll() is not None:
            break
    os.close(leader)
    return screen
