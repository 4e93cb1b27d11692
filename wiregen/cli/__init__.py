"""The command line. Nothing heavy is imported before a command needs it."""

from __future__ import annotations

import gc
import os
import sys

#: Objects between two searches for unreachable ones. A run mostly imports: it makes many objects and drops few, and
#: with Python's own figure a tenth of it is spent in search of them.
_BETWEEN_SEARCHES = 100_000


def main() -> int:
    """Run the command line of this process and return its exit status."""
    gc.set_threshold(_BETWEEN_SEARCHES)
    # The matrices of one cabinet are too small for several threads: they wait for one another longer than they work.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    try:
        from wiregen.cli.boundary import run

        return run(sys.argv[1:])
    except KeyboardInterrupt:  # before the boundary stood
        return 130
