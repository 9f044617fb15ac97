"""Jobs side by side: in order, and whatever becomes of one process, the others and their owner go on."""

from __future__ import annotations

import gc
import os
import signal
import struct
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from multiprocessing.connection import Connection
from typing import NoReturn

import pytest

from applique.batch.processes import side_by_side


@dataclass(frozen=True)
class Job:
    row: int
    ends: str = ""


class Panic(BaseException):
    """What libraries in Rust raise is no Exception, and cannot be sent."""

    def __reduce__(self) -> NoReturn:
        raise TypeError("no")


def _work(job: Job) -> tuple[int, int]:
    """The row and the process, unless this job ends in another way."""
    if job.ends == "killed":
        os.kill(os.getpid(), signal.SIGKILL)
    if job.ends == "told to end":
        os.kill(os.getpid(), signal.SIGTERM)
    if job.ends == "in the middle of the answer":
        for line in [thing for thing in gc.get_objects() if isinstance(thing, Connection)]:
            if line.writable:
                os.write(line.fileno(), struct.pack("!i", 1_000) + b"half")
        os._exit(1)
    if job.ends == "error":
        raise LookupError(f"no {job.row}")
    if job.ends == "panic":
        raise Panic("all is lost")
    return job.row, os.getpid()


def _stopped(job: Job) -> tuple[int, int]:
    return job.row, 0


def _made(*jobs: Job, workers: int = 2) -> Iterator[tuple[int, int]]:
    return side_by_side(_work, jobs, workers=workers, stopped=_stopped)


@pytest.mark.long
@pytest.mark.skipif(sys.platform == "win32", reason="has no such signals")
@pytest.mark.parametrize("end", ["killed", "told to end", "in the middle of the answer"])
def test_a_process_that_is_ended_takes_nothing_but_its_own_row_with_it(end: str) -> None:
    """Every row that was still to come was given up with it; and half an answer was waited for for ever."""
    made = list(_made(Job(2), Job(3, end), Job(4), workers=1))
    assert [row for row, _ in made] == [2, 3, 4]
    assert [row for row, process in made if process == 0] == [3]


@pytest.mark.long
@pytest.mark.parametrize(
    ("end", "kind", "words"), [("error", LookupError, "no 3"), ("panic", RuntimeError, "all is lost")]
)
def test_an_error_of_the_program_is_raised_when_all_the_others_are_done(
    end: str, kind: type[Exception], words: str
) -> None:
    made = _made(Job(2), Job(3, end), Job(4), Job(5, "error"), Job(6))
    assert [next(made)[0] for _ in range(3)] == [2, 4, 6]
    with pytest.raises(kind, match=words) as raised:
        next(made)
    assert "in list row 3" in raised.value.__notes__
    assert "_work" in "".join(raised.value.__notes__) + str(raised.value)  # where in the other process it was


def test_the_processes_end_with_the_iterator() -> None:
    made = _made(Job(2), Job(3), Job(4))
    _, process = next(made)
    made.close()  # type: ignore[attr-defined]
    with pytest.raises(ProcessLookupError):
        os.kill(process, 0)
