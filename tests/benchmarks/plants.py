"""Plants of many drives packed whole, and packed again with one drive edited: time and memory a drive, as ratios.

``python tests/benchmarks/plants.py [DRIVES ...]`` runs each in a process of its own and prints processor time, peak
memory, and what an edit costs. A wire more would move the numbers of all that follow, and with them their sheets.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

sys.path.insert(0, str(Path(__file__).parents[1] / "plants"))
from plant_schemes import plant

_PACK = [sys.executable, "-m", "wiregen", "pack"]
#: What is changed at a drive; none of it changes how many wires there are, which would renumber those that follow.
EDITS = {
    "text of a drive": ("text: Fan 46", "text: Blower 46"),
    "figure of a drive": ("spans: 10 to 50 Hz", "spans: 12 to 50 Hz"),
    "contact of a drive": ("contact: NC, text: Winding 46", "contact: NO, text: Winding 46"),
    "route of a drive": ("name: Fan 46, route: {+C5: 32 m}", "name: Fan 46, route: {+C5: 33 m}"),
}


class Cost(NamedTuple):
    """Processor time [s] of a process, and its peak memory [MB]."""

    seconds: float
    megabytes: float


def packed(scheme: Path, out: Path) -> Cost:
    """What one pack costs. Raises CalledProcessError where wiregen cannot."""
    process = subprocess.Popen(
        [*_PACK, str(scheme), "-o", str(out)], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
    )
    _, status, usage = os.wait4(process.pid, 0)
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in (0, 1):
        raise subprocess.CalledProcessError(process.returncode, _PACK)
    return Cost(usage.ru_utime + usage.ru_stime, usage.ru_maxrss / 1024)


def measured(drives: int, folder: Path) -> tuple[Cost, dict[str, Cost]]:
    """A plant packed into an empty folder, and packed again over that after each edit."""
    scheme, out = folder / f"plant_{drives}.yaml", folder / f"pack_{drives}"
    text = plant(drives)
    scheme.write_text(text, encoding="utf-8")
    whole = packed(scheme, out)
    edits = {}
    for name, (was, now) in EDITS.items():
        if was in text:
            scheme.write_text(text.replace(was, now, 1), encoding="utf-8")
            edits[name] = packed(scheme, out)
            scheme.write_text(text, encoding="utf-8")
            packed(scheme, out)
    return whole, edits


if __name__ == "__main__":
    first: tuple[int, Cost] | None = None
    with tempfile.TemporaryDirectory() as place:
        for size in [int(word) for word in sys.argv[1:]] or [50, 100, 200]:
            cost, again = measured(size, Path(place))
            first = first or (size, cost)
            time_ratio = cost.seconds / size / (first[1].seconds / first[0])
            memory_ratio = cost.megabytes / size / (first[1].megabytes / first[0])
            print(f"{size:4d} drives: {cost.seconds:6.1f} s, {cost.megabytes:5.0f} MB", end="; ")
            print(f"a drive against {first[0]}: time {time_ratio:.2f}, memory {memory_ratio:.2f}", flush=True)
            for name, edit in again.items():
                print(f"       {name}: {edit.seconds:5.1f} s, {edit.seconds / cost.seconds:.2f} of it", flush=True)
