"""Work done side by side in processes that share nothing with this one, and that end with it."""

from __future__ import annotations

import multiprocessing
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import Connection, wait
from typing import Protocol, TypeVar

__all__ = ["side_by_side"]


class _OfRow(Protocol):
    @property
    def row(self) -> int: ...


Job = TypeVar("Job", bound=_OfRow)
Result = TypeVar("Result")


def side_by_side(
    work: Callable[[Job], Result],
    jobs: Sequence[Job],
    *,
    workers: int | None,
    stopped: Callable[[Job], Result],
) -> Iterator[Result]:
    """What `work` makes of each of `jobs`, in their order, by `workers` processes or one for each core.

    `work` is a function of a module, and jobs and results are plain values, as they are sent there and back.
    `stopped` gives the result of a job whose process was stopped from outside. An error of the program in one job is
    raised when all the others are done. The processes end with this one, however it ends, and with the iterator.
    """
    fault: Exception | None = None
    context = multiprocessing.get_context("spawn")
    line, ours = context.Pipe(duplex=False)
    pool = ProcessPoolExecutor(
        min(workers or os.cpu_count() or 1, len(jobs)), context, initializer=_end_with, initargs=(line,)
    )
    try:
        with _ctrl_c_held():
            waiting = [pool.submit(work, job) for job in jobs]
        for job, result in zip(jobs, waiting, strict=True):
            try:
                yield result.result()
            except BrokenProcessPool:
                yield stopped(job)
            except Exception as error:
                error.add_note(f"in list row {job.row}")
                fault = fault or error
    except BaseException:
        ours.close()
        raise
    finally:
        pool.shutdown(wait=True, cancel_futures=True)
        ours.close()
        line.close()
    if fault is not None:
        raise fault


def _end_with(line: Connection) -> None:
    """In a child process: end it at once when the other end of `line` is closed, by hand or by the death of its owner.

    A kill at any moment leaves no folder half written (see `swapping`). Ctrl-C is the owner's business.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)

    def watch() -> None:
        wait([line])
        os._exit(1)

    threading.Thread(target=watch, name="end with the parent", daemon=True).start()


@contextmanager
def _ctrl_c_held() -> Iterator[None]:
    """Within it Ctrl-C waits, and processes that are started never see it, not even while they load."""
    if sys.platform == "win32":
        yield
        return
    former = signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT,))
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, former)
