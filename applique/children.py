"""Child processes that open a file nobody vouches for: started, fed, listened to, and held within limits."""

from __future__ import annotations

import math
import os
import signal
import subprocess
import sys
import time
from dataclasses import dataclass
from typing import Final

__all__ = ["Answer", "ChildBusyError", "answer_of", "keep_within"]

_LONGEST_WAIT: Final = 120
"""Seconds by the clock until the machine is taken to be too busy; on Windows, where processor time has no limit, also
until what is read is taken to hang."""
_ENDED_FROM_OUTSIDE: Final = tuple(
    -number for name in ("SIGKILL", "SIGTERM", "SIGHUP", "SIGINT") if (number := getattr(signal, name, 0))
)
"""What a child says that another ended: the system, short of memory, or somebody. It says nothing of the file."""


_OUT_OF_TIME: Final = -signal.SIGXCPU if hasattr(signal, "SIGXCPU") else None


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a child said, nothing where it died of what it read; and whether that took all its time."""

    said: bytes
    is_out_of_time: bool


class ChildBusyError(Exception):
    """The child was not let finish, so nobody knows."""


def answer_of(probe: str, data: bytes) -> Answer:
    """What the module `probe`, run as a process of its own, answers to `data`.

    Raises:
        ChildBusyError: it was ended from outside, or this machine could not run it.
    """
    try:
        done = subprocess.run(
            # -P: no module of the folder that the maker works in may stand for one of ours.
            [sys.executable, "-P", "-m", probe],
            input=data,
            capture_output=True,
            timeout=_LONGEST_WAIT,
            env={
                **os.environ,
                "OPENBLAS_NUM_THREADS": "1",
            },  # each thread of it would take memory of the limit
        )
    except (subprocess.TimeoutExpired, OSError):
        raise ChildBusyError from None
    if done.returncode in _ENDED_FROM_OUTSIDE:
        raise ChildBusyError
    return Answer(said=done.stdout, is_out_of_time=done.returncode == _OUT_OF_TIME)


def keep_within(*, seconds: int, memory: int) -> None:
    """Let this process take no more than `memory` bytes, `seconds` of processor time from now on, and write no file;
    Windows has no such limits."""
    if sys.platform == "win32":
        return
    import resource

    until = math.ceil(time.process_time()) + seconds
    for limit, most, at_last in (
        (resource.RLIMIT_AS, memory, memory),
        (resource.RLIMIT_CPU, until, until + 1),  # SIGXCPU, which tells; SIGKILL a second later
        (resource.RLIMIT_CORE, 0, 0),
        (resource.RLIMIT_FSIZE, 0, 0),
    ):
        resource.setrlimit(limit, (most, at_last))
