"""Work that takes seconds, done in processes of its own: it never holds up the drawing, and can be stopped at once.

Messages of a task are `(kind, value)`. Ends are `done`, `refused` (a tuple of problems) and `failed` (a traceback).
"""

from __future__ import annotations

import asyncio
import contextlib
import os
import signal
import traceback
from collections.abc import AsyncGenerator, Callable
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any, Final, Protocol

from applique.errors import Refusal

__all__ = ["Bench", "Message", "Task"]

Message = tuple[str, Any]
_ENDS: Final = ("done", "refused", "failed")
_AT_ONCE: Final = 2
_LOWER: Final = 15
"""Steps of niceness below the page, so that the drawing comes first."""


class Task(Protocol):
    """What a process is asked to do: a picklable value."""

    def run(self, tell: Callable[[Message], None]) -> Any:
        """Do it, telling messages on the way; what it returns goes with `done`."""


def _work(pipe: Connection, warm: Callable[[], None]) -> None:
    """The life of a process: one task after another until its pipe is closed."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    with contextlib.suppress(AttributeError, OSError):
        os.nice(_LOWER)
    warm()
    with contextlib.suppress(EOFError, BrokenPipeError, ConnectionResetError):
        while True:
            task: Task = pipe.recv()
            try:
                pipe.send(("done", task.run(pipe.send)))
            except Refusal as refusal:
                pipe.send(("refused", refusal.problems))
            except (EOFError, OSError):
                return
            except Exception:
                pipe.send(("failed", traceback.format_exc()))


class _Worker:
    """One process and the near end of its pipe."""

    def __init__(self, warm: Callable[[], None]) -> None:
        context = get_context("spawn")
        self.pipe, far = context.Pipe()
        self._process = context.Process(target=_work, args=(far, warm), daemon=True)
        self._process.start()
        far.close()

    def end(self) -> None:
        """End the process, whatever it is doing; a thread that waits for its pipe is told so by the end of the file."""
        self._process.kill()
        self._process.join()


class Bench:
    """A few processes for slow tasks. One that has finished waits, warm, for the next task."""

    def __init__(self, warm: Callable[[], None]) -> None:
        self._warm = warm
        self._idle: list[_Worker] = []
        self._places = asyncio.Semaphore(_AT_ONCE)
        self._closed = False

    def get_ready(self) -> None:
        """Start a process before it is needed."""
        if not self._idle and not self._closed:
            self._idle.append(_Worker(self._warm))

    async def run(self, task: Task) -> AsyncGenerator[Message, None]:
        """The messages of `task`, up to its end. Leaving early ends the process at once."""
        async with self._places:
            worker = self._idle.pop() if self._idle else await asyncio.to_thread(_Worker, self._warm)
            ended = False
            try:
                await asyncio.to_thread(worker.pipe.send, task)
                while not ended:
                    try:
                        message = await asyncio.to_thread(worker.pipe.recv)
                    except (EOFError, OSError):
                        yield ("failed", "the process that did the work ended")
                        return
                    ended = message[0] in _ENDS
                    if ended:
                        self._put_back(worker)
                    yield message
            finally:
                if not ended:
                    worker.end()

    def _put_back(self, worker: _Worker) -> None:
        if self._closed or len(self._idle) >= _AT_ONCE:
            worker.end()
        else:
            self._idle.append(worker)

    def close(self) -> None:
        """End every process that waits."""
        self._closed = True
        while self._idle:
            self._idle.pop().end()
