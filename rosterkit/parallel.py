"""Work on many workbooks side by side, in the order in which they were given."""

import os
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from pathlib import Path
from typing import TypeVar

from rosterkit.errors import CannotRunError
from rosterkit.progress import watched

Result = TypeVar("Result")

FEWEST = 12
"""For fewer workbooks than this, starting further processes takes longer than they save."""
_AT_ONCE = 8
"""Workbooks that go to a process in one parcel."""
_AHEAD = 3
"""Parcels that are sent to a process before it has done the first of them, so that it never waits."""


def map_parallel(
    work: Callable[[Path], Result], paths: Sequence[Path], *, processes: int = 0
) -> list[Result]:
    """Do the same work on each workbook, and give the results in their order.

    The work is a function of a module, so that another process can find it, and returns what can be sent
    back. So many processes work side by side, this one among them; 0 is one a processor. CannotRunError
    if one of the others came to an end before its work did.
    """
    coming = _results(work, paths, processes or _processors())
    try:
        results = dict(watched(coming, len(paths), "workbooks"))
    except BrokenProcessPool:
        raise CannotRunError(
            "a process that read workbooks was ended, perhaps for want of memory",
            "Close other programs, or give fewer workbooks.",
        ) from None
    return [results[place] for place in range(len(paths))]


def _results(
    work: Callable[[Path], Result], paths: Sequence[Path], processes: int
) -> Iterator[tuple[int, Result]]:
    """Return each result with its place, as they come."""
    if len(paths) < FEWEST or processes == 1:
        yield from enumerate(map(work, paths))
        return
    # The first is done before there are other processes: what it had to load and to learn, they begin with.
    yield 0, work(paths[0])
    waiting = deque(
        range(start, min(start + _AT_ONCE, len(paths))) for start in range(1, len(paths), _AT_ONCE)
    )
    with ProcessPoolExecutor(processes - 1) as pool:
        sent: dict[Future[list[Result]], range] = {}
        while waiting or sent:
            while waiting and len(sent) < _AHEAD * (processes - 1):
                parcel = waiting.popleft()
                sent[pool.submit(_worked, work, [paths[place] for place in parcel])] = parcel
            # What others do has to be sent from process to process, so this one does its share.
            if waiting:
                own = waiting.popleft()
                yield from ((place, work(paths[place])) for place in own)
            else:
                wait(sent, return_when=FIRST_COMPLETED)
            for done in [one for one in sent if one.done()]:
                yield from zip(sent.pop(done), done.result(), strict=True)


def _worked(work: Callable[[Path], Result], paths: Sequence[Path]) -> list[Result]:
    return [work(path) for path in paths]


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
