"""Many alternatives, tried in several processes."""

from __future__ import annotations

import multiprocessing
import os
import signal
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from functools import partial

from wiregen.advice.comparison import Alternative, Source, tried
from wiregen.scheme.as_built import AsBuilt
from wiregen.terms import WiregenError


class Unfinished(WiregenError):
    """Alternatives could not be tried to the end."""


#: Up to so many alternatives more processes cost more than they save: each imports for as long as ten of them take.
_FEW = 12
_AT_ONCE = 4  # alternatives that a process takes at a time


def explored(
    sources: Sequence[Source],
    built: AsBuilt | None = None,
    tell: Callable[[int], None] = lambda _: None,
    processes: int | None = None,
) -> tuple[Alternative, ...]:
    """Every source tried, in the order given, whatever number of processes works. ``tell`` hears how many are done.

    ``processes`` None: one for each processor.
    """
    workers = min(processes or os.cpu_count() or 1, len(sources) // _AT_ONCE)
    if len(sources) <= _FEW or workers < 2:
        found = []
        for source in sources:
            found.append(tried(source, built))
            tell(len(found))
        return tuple(found)
    return _in_processes(sources, built, tell, workers)


def _in_processes(
    sources: Sequence[Source], built: AsBuilt | None, tell: Callable[[int], None], workers: int
) -> tuple[Alternative, ...]:
    # Processes that begin afresh: a copy of this one could hold a lock of a library for ever.
    pool = ProcessPoolExecutor(workers, multiprocessing.get_context("spawn"), _leave_keyboard_to_parent)
    try:
        found = []
        for alternative in pool.map(partial(tried, built=built), sources, chunksize=_AT_ONCE):
            found.append(alternative)
            tell(len(found))
        return tuple(found)
    except BrokenProcessPool:
        raise Unfinished("a process that tried alternatives was ended from outside; let fewer be tried") from None
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _leave_keyboard_to_parent() -> None:
    """An interrupt from the keyboard reaches every process; the parent answers it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
