"""What is being done, on one line of the terminal that is wiped afterwards. Silent anywhere else."""

from __future__ import annotations

import sys
from types import TracebackType


class Progress:
    """A context; ``step`` says what begins now."""

    def __init__(self) -> None:
        self._shown = 0
        self._on = sys.stderr.isatty()

    def step(self, what: str) -> None:
        self.wipe()
        if self._on:
            text = f"{what} ..."
            sys.stderr.write(text)
            sys.stderr.flush()
            self._shown = len(text)

    def wipe(self) -> None:
        """Let the line be empty, for talk that stays."""
        if self._shown:
            sys.stderr.write("\r" + " " * self._shown + "\r")
            sys.stderr.flush()
            self._shown = 0

    def __enter__(self) -> Progress:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, tb: TracebackType | None) -> None:
        self.wipe()
