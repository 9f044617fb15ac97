"""Work done side by side in processes that share nothing with this one, and that end with it.

There is one line to each process and no lock, queue or thread between them: a process can be ended in the middle of
a word, and nobody waits for the rest of it. The pool of the standard library does (its thread reads on from a pipe
that it holds open itself), and hung there when a command was told to end.
"""

from __future__ import annotations

import multiprocessing
import os
import pickle
import signal
import sys
import threading
import traceback
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.context import SpawnProcess
from typing import Any, Final, Protocol, TypeVar

__all__ = ["side_by_side"]

_LISTENING: Final = 0.5
"""Seconds after which it is looked for a signal that came in the moment before the wait began and did not end it."""


class _OfRow(Protocol):
    @property
    def row(self) -> int: ...


Job = TypeVar("Job", bound=_OfRow)
Result = TypeVar("Result")


@dataclass(frozen=True, slots=True, kw_only=True)
class _Done:
    result: Any


@dataclass(frozen=True, slots=True, kw_only=True)
class _Failed:
    error: BaseException


@dataclass(slots=True, kw_only=True)
class _Hand:
    """One process, this end of the line to it, and the number of the job that it is at."""

    process: SpawnProcess
    line: Connection
    at: int | None = None

    def end(self) -> None:
        """End it, whatever it is doing."""
        self.process.kill()
        self.process.join()
        self.line.close()


def side_by_side(
    work: Callable[[Job], Result],
    jobs: Sequence[Job],
    *,
    workers: int | None,
    stopped: Callable[[Job], Result],
) -> Iterator[Result]:
    """What `work` makes of each of `jobs`, in their order, by `workers` processes or one for each core.

    `work` is a function of a module, and jobs and results are plain values, as they are sent there and back.
    `stopped` gives the result of a job whose process was stopped from outside; another takes its place. An error of
    the program in one job is raised when all the others are done. The processes end with this one, however it ends,
    and with the iterator.
    """
    most = min(workers or os.cpu_count() or 1, len(jobs))
    watched, owned = multiprocessing.get_context("spawn").Pipe(duplex=False)
    hands: list[_Hand] = []
    waiting = deque(range(len(jobs)))
    done: dict[int, Result] = {}
    faults: dict[int, BaseException] = {}
    try:
        for number in range(len(jobs)):
            while number not in done and number not in faults:
                _hand_out(work, jobs, waiting, hands, most=most, watched=watched)
                for hand, answer in _answers(hands):
                    at, hand.at = hand.at, None
                    assert at is not None
                    match answer:
                        case _Done(result=result):
                            done[at] = result
                        case _Failed(error=error):
                            error.add_note(f"in list row {jobs[at].row}")
                            faults[at] = error
                        case None:
                            hands.remove(hand)
                            hand.end()
                            done[at] = stopped(jobs[at])
            if number in done:
                yield done.pop(number)
    finally:
        owned.close()  # first: from here on they end, whatever comes between
        for hand in hands:
            hand.end()
        watched.close()
    if faults:
        raise faults[min(faults)]


def _hand_out(
    work: Callable[[Job], Result],
    jobs: Sequence[Job],
    waiting: deque[int],
    hands: list[_Hand],
    *,
    most: int,
    watched: Connection,
) -> None:
    """Give every process that has none a job, and start processes as long as there are jobs and fewer than `most`."""
    while waiting and len(hands) < most:
        with _signals_held():
            hands.append(_started(work, watched))
    for hand in hands:
        if waiting and hand.at is None:
            hand.at = waiting.popleft()
            try:
                hand.line.send(jobs[hand.at])
            except OSError:  # it has ended; `_answers` finds out
                continue


def _started(work: Callable[[Job], Result], watched: Connection) -> _Hand:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe()
    process = context.Process(target=_work_on, args=(work, theirs, watched))
    process.start()
    theirs.close()  # held by the process alone from here on, so that the line breaks when it ends
    return _Hand(process=process, line=ours)


def _answers(hands: Sequence[_Hand]) -> Iterator[tuple[_Hand, _Done | _Failed | None]]:
    """What the processes at work have answered by now, after a short wait; None from one that has ended."""
    at_work = [hand for hand in hands if hand.at is not None]
    ready = wait([hand.line for hand in at_work], timeout=_LISTENING)
    for hand in at_work:
        if hand.line in ready:
            try:
                yield hand, hand.line.recv()
            except (EOFError, OSError):
                yield hand, None


def _work_on(work: Callable[[Job], Result], line: Connection, watched: Connection) -> None:
    """In a child process: answer each job on `line` until the owner is gone.

    It ends at once when the other end of `watched` is closed, by hand or by the death of its owner. A kill at any
    moment leaves no folder half written (see `swapping`). Ctrl-C is the owner's business.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    if sys.platform != "win32":
        signal.pthread_sigmask(signal.SIG_UNBLOCK, (signal.SIGTERM,))

    def watch() -> None:
        wait([watched])
        os._exit(1)

    threading.Thread(target=watch, name="end with the parent", daemon=True).start()
    while True:
        try:
            job = line.recv()
        except (EOFError, OSError):
            return
        try:
            answer: _Done | _Failed = _Done(result=work(job))
        except BaseException as error:  # a panic of a library in Rust is no Exception
            answer = _Failed(error=_sendable(error))
        try:
            line.send(answer)
        except OSError:
            return


def _sendable(error: BaseException) -> BaseException:
    """`error` with its traceback as a note; another with the same words where it cannot be sent."""
    told = "".join(traceback.format_exception(error))
    error.add_note(told)
    try:
        pickle.loads(pickle.dumps(error))
    except Exception:
        return RuntimeError(told)
    return error


@contextmanager
def _signals_held() -> Iterator[None]:
    """Within it Ctrl-C and a request to end wait, and a process that is started never sees Ctrl-C, not even while it
    loads: it printed a traceback."""
    if sys.platform == "win32":
        yield
        return
    from multiprocessing import resource_tracker

    resource_tracker.ensure_running()  # started within, it would let them through again
    former = signal.pthread_sigmask(signal.SIG_BLOCK, (signal.SIGINT, signal.SIGTERM))
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, former)
