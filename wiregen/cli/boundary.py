"""The edge of the program: every error becomes a message and an exit status here, and nowhere a traceback."""

from __future__ import annotations

import contextlib
import io
import os
import sys
from collections.abc import Sequence

import click

from wiregen.cli import status
from wiregen.cli.group import wiregen
from wiregen.cli.printing import in_line
from wiregen.terms import InternalFault, UnusableInput, WiregenError

#: Set to 1 to see where in the program a fault happened.
TRACEBACK = "WIREGEN_TRACEBACK"


def run(arguments: Sequence[str]) -> int:
    """Run one command line; results go to stdout, talk to stderr. Returns the exit status."""
    _stand_in_for_closed()
    _forgive_characters()
    try:
        result = wiregen.main(list(arguments), prog_name="wiregen", standalone_mode=False)
        sys.stdout.flush()
    except (KeyboardInterrupt, click.Abort):
        _tell("interrupted")
        return status.INTERRUPTED
    except (BrokenPipeError, SystemExit):  # click answers a closed pipe with SystemExit, and nothing else here does
        _close_stdout()
        return status.PIPE_CLOSED
    except Exception as error:
        if os.environ.get(TRACEBACK):
            raise
        _flush_or_close()
        _explain(error)
        return status.UNUSABLE
    return result if isinstance(result, int) else status.OK


def _explain(error: Exception) -> None:
    if isinstance(error, click.ClickException):
        with contextlib.suppress(OSError, ValueError):
            error.show(sys.stderr)
        return
    for line in _said(error):
        _tell(line)


def _said(error: Exception) -> list[str]:
    """What a person is told of an error, one line each."""
    if isinstance(error, UnusableInput):
        return [f"{c.spot}: error{' ' + c.code if c.code else ''}: {c.message}" for c in error.complaints]
    if isinstance(error, InternalFault):
        return _fault(str(error))
    if isinstance(error, WiregenError):
        return [f"error: {error}"]
    if isinstance(error, OSError):
        reason = error.strerror or str(error) or type(error).__name__
        return [f"error: {error.filename}: {reason}" if error.filename else f"error: {reason}"]
    if isinstance(error, RecursionError):
        return ["error: the input is nested too deeply"]
    if isinstance(error, MemoryError):
        return ["error: not enough memory for this input"]
    return _fault(f"{type(error).__name__}: {error}")


def _fault(what: str) -> list[str]:
    return [
        f"error: internal fault: {' '.join(what.split())}",
        "This is a mistake in wiregen, not in your scheme: please report it, with the scheme.",
        f"With {TRACEBACK}=1 the program shows where it happened.",
    ]


def _tell(line: str) -> None:
    with contextlib.suppress(OSError, ValueError):
        click.echo(in_line(line), err=True)


def _stand_in_for_closed() -> None:
    """A program that was started with stdout or stderr closed says it to nobody, and does its work all the same."""
    sys.stdout = sys.stdout or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115
    sys.stderr = sys.stderr or open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115


def _forgive_characters() -> None:
    """A terminal that lacks a character shows its number instead of ending the program."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


def _flush_or_close() -> None:
    try:
        sys.stdout.flush()
    except (OSError, ValueError):
        _close_stdout()


def _close_stdout() -> None:
    """Point stdout at nothing, so that the interpreter does not complain when it flushes at exit."""
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
