"""Where every tool is installed, a test that skips has failed."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

CONFTEST = Path(__file__).parents[1] / "conftest.py"
AT_RUN = """
import pytest
def test_skips(): pytest.skip("the tool is missing")
@pytest.mark.xfail(strict=True)
def test_known(): assert False
def test_passes(): pass
"""
AT_IMPORT = "import pytest\npytest.importorskip('a_module_that_nobody_has')\ndef test_never(): pass\n"


@pytest.mark.parametrize(
    ("text", "strict", "status", "says"),
    [
        (AT_RUN, "1", 1, "1 failed, 1 passed, 1 xfailed"),
        (AT_RUN, "0", 0, "1 passed, 1 skipped, 1 xfailed"),
        (AT_IMPORT, "1", 2, "1 error"),
        (AT_IMPORT, "0", 5, "1 skipped"),
    ],
)
def test_a_skip_is_a_failure_where_it_is_asked_for(
    tmp_path: Path, text: str, strict: str, status: int, says: str
) -> None:
    (tmp_path / "conftest.py").write_text(CONFTEST.read_text(encoding="utf-8"), encoding="utf-8")
    (tmp_path / "test_probe.py").write_text(text, encoding="utf-8")
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-c", os.devnull, "--rootdir", str(tmp_path), "."],
        cwd=tmp_path,
        env=os.environ | {"WIREGEN_TESTS_STRICT": strict, "PYTEST_ADDOPTS": ""},  # a run of its own
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == status, done.stdout
    assert says in done.stdout.splitlines()[-1]
