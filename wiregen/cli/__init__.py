"""The command line. Nothing heavy is imported before a command needs it."""

from __future__ import annotations

import sys


def main() -> int:
    """Run the command line of this process and return its exit status."""
    try:
        from wiregen.cli.boundary import run

        return run(sys.argv[1:])
    except KeyboardInterrupt:  # before the boundary stood
        return 130
