"""One command line, run in this process."""

from __future__ import annotations

import pytest

from wiregen.cli import boundary


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    """The exit status, what stands on stdout and on stderr."""
    status = boundary.run([str(word) for word in words])
    out, err = capsys.readouterr()
    return status, out, err
