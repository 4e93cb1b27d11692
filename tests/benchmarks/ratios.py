"""Speed as ratios: the processes of a pair run in turn on one machine, and their processor time is compared.

Seconds differ from machine to machine and from minute to minute; ratios of runs that alternate hardly do. Run this file
to see the figures: ``python tests/benchmarks/ratios.py``.
"""

from __future__ import annotations

import json
import os
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).parents[2]
BRINE = ROOT / "examples" / "brine_pump.yaml"

_WIREGEN = "import sys; from wiregen.cli import main; sys.exit(main())"
_LOADED = """
import contextlib, io, json, sys
before = set(sys.modules)
from wiregen.cli.boundary import run
with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
    status = run(sys.argv[1:])
names = [n for n, m in sys.modules.items() if n not in before and getattr(m, "__spec__", None) is not None]
print(json.dumps([status, names]))
"""
_IMPORTS = """
import importlib, json, sys
for name in json.loads(sys.argv[1]):
    importlib.import_module(name)
"""
_REST_OF_PACK = """
import contextlib, importlib, io, json, sys, time
for name in json.loads(sys.stdin.read()):
    importlib.import_module(name)
from wiregen.cli.boundary import run
from wiregen.drawing import pdf, sheet_set
in_cairo = 0.0
def timed(*arguments, _book=pdf.book):
    global in_cairo
    begun = time.process_time()
    try:
        return _book(*arguments)
    finally:
        in_cairo += time.process_time() - begun
pdf.book = timed
with contextlib.redirect_stdout(io.StringIO()), contextlib.redirect_stderr(io.StringIO()):
    begun = time.process_time()
    status = run(["pack", *sys.argv[1:]])
    whole = time.process_time() - begun
assert status == 0 and in_cairo > 0, (status, in_cairo)
print(whole - in_cairo)
"""
_PLAIN_CAIROSVG = """
import sys, time
import cairosvg
begun = time.process_time()
for sheet in sys.argv[1:]:
    cairosvg.svg2pdf(url=sheet)
print(time.process_time() - begun)
"""


class Ratio(NamedTuple):
    """What is compared with what, in seconds of processor time (medians), and how often one holds the other."""

    what: str
    seconds: float
    against: str
    against_seconds: float

    @property
    def value(self) -> float:
        return self.seconds / self.against_seconds

    def __str__(self) -> str:
        return f"{self.value:5.2f}  {self.what} {self.seconds:.3f} s, {self.against} {self.against_seconds:.3f} s"


def help_ratio(rounds: int = 5) -> Ratio:
    """``wiregen --help`` against importing click."""
    a, b = _in_turn([_python("-c", _WIREGEN, "--help"), _python("-c", "import click")], rounds)
    return Ratio("wiregen --help", a, "import click", b)


def check_ratio(rounds: int = 3, *, libraries_only: bool = False) -> Ratio:
    """``wiregen check`` on the brine pump against importing the modules that it loads, and doing nothing with them.

    ``libraries_only`` leaves wiregen's own modules out of what is imported.
    """
    names = [n for n in loaded_by("check", str(BRINE)) if not (libraries_only and n.split(".")[0] == "wiregen")]
    bare = _python("-c", _IMPORTS, json.dumps(names))
    a, b = _in_turn([_python("-c", _WIREGEN, "check", str(BRINE)), bare], rounds)
    return Ratio("wiregen check", a, "import its libraries" if libraries_only else "import its modules", b)


def pack_ratio(rounds: int = 3) -> Ratio:
    """What of ``wiregen pack`` is neither import nor cairosvg, against plain cairosvg on the same sheets."""
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "pack"
        names = json.dumps(loaded_by("pack", str(BRINE), "-o", str(out)))
        sheets = [str(sheet) for sheet in sorted(out.glob("sheet-*.svg"))]
        rest, plain = [], []
        for number in range(rounds):
            # Into a folder of its own: where a pack stands, what did not change would be taken over.
            fresh = out.with_name(f"pack-{number}")
            rest.append(_said(_python("-c", _REST_OF_PACK, str(BRINE), "-o", str(fresh)), names))
            plain.append(_said(_python("-c", _PLAIN_CAIROSVG, *sheets)))
    return Ratio("pack without imports and cairosvg", statistics.median(rest), "cairosvg", statistics.median(plain))


def loaded_by(*arguments: str) -> list[str]:
    """The modules that a command line of wiregen imports, in the order in which they are first met."""
    done = subprocess.run(_python("-c", _LOADED, *arguments), capture_output=True, text=True, check=True, cwd=ROOT)
    status, names = json.loads(done.stdout)
    assert status == 0, done.stderr
    return [str(n) for n in names]


def _python(*arguments: str) -> list[str]:
    return [sys.executable, *arguments]


def _in_turn(commands: Sequence[Sequence[str]], rounds: int) -> list[float]:
    """The median processor time of each command, run in turn. One round beforehand fills caches and is not counted."""
    times: list[list[float]] = [[] for _ in commands]
    for number in range(rounds + 1):
        for command, taken in zip(commands, times, strict=True):
            seconds = _processor_seconds(command)
            if number:
                taken.append(seconds)
    return [statistics.median(taken) for taken in times]


def _processor_seconds(command: Sequence[str]) -> float:
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode != 0:
        raise RuntimeError(f"a measured process ended with {process.returncode}")
    return usage.ru_utime + usage.ru_stime


def _said(command: Sequence[str], told: str = "") -> float:
    done = subprocess.run(command, input=told, capture_output=True, text=True, check=True, cwd=ROOT)
    return float(done.stdout)


if __name__ == "__main__":
    for ratio in (help_ratio(9), check_ratio(9), check_ratio(9, libraries_only=True), pack_ratio(9)):
        print(ratio)
