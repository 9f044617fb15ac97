"""A child process that searches one strip for the shortest nest: the one place that knows the nesting library.

Run as a file of its own, so that it loads nothing but the library. Reads one line of JSON (`height`, `seconds`,
`workers`, `seed`, `report`, and `items` of outline, count and turns), and writes lines of JSON: with `report` each
better layout under `better`, and the last under `end`, as (item, turn, x, y) for each piece; None where the library
fails. It ends at once when its standard input is closed, as it is when the process that asked is gone.

Learned about the library: it stops by the clock alone and cannot be cancelled, it panics when the interpreter is
taken down around it, and its panics are no `Exception`.
"""

from __future__ import annotations

import contextlib
import json
import os
import signal
import sys
import threading
from datetime import timedelta
from typing import Any, Final

import spyrrow

_SHARE_EXPLORING: Final = 0.8
_SECONDS_BETWEEN_REPORTS: Final = 0.1


def main() -> None:
    """Answer the one question on standard input, and leave without taking the interpreter down."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    asked = json.loads(sys.stdin.buffer.readline())
    threading.Thread(target=_leave_with_the_asker, daemon=True).start()
    with contextlib.suppress(OSError):
        _tell("end", _found(asked))
    os._exit(0)


def _leave_with_the_asker() -> None:
    sys.stdin.buffer.read()
    os._exit(1)


def _tell(kind: str, solution: Any) -> None:
    laid = [
        (int(item.id), item.rotation, *item.translation)
        for item in (solution.placed_items if solution is not None else ())
    ]
    sys.stdout.write(json.dumps({kind: laid if solution is not None else None}) + "\n")
    sys.stdout.flush()


def _found(asked: dict[str, Any]) -> Any:
    """The library's best layout, or None; with `report` the better ones are told on the way."""
    items = [
        spyrrow.Item(str(index), [(x, y) for x, y in item["outline"]], item["count"], item["turns"])
        for index, item in enumerate(asked["items"])
    ]
    config = spyrrow.StripPackingConfig(
        total_computation_time=1, num_workers=asked["workers"], seed=asked["seed"], early_termination=False
    )
    config.exploration_time = timedelta(seconds=asked["seconds"] * _SHARE_EXPLORING)
    config.compression_time = timedelta(seconds=asked["seconds"] * (1 - _SHARE_EXPLORING))
    progress = spyrrow.ProgressQueue() if asked["report"] else None
    found: list[Any] = []

    def solve() -> None:
        # The panics of the library derive from BaseException; whatever it was, there is no layout.
        with contextlib.suppress(BaseException):
            instance = spyrrow.StripPackingInstance("letters", asked["height"], items)
            found.append(instance.solve(config) if progress is None else instance.solve(config, progress))

    work = threading.Thread(target=solve)
    work.start()
    best: Any = None
    while work.is_alive():
        work.join(_SECONDS_BETWEEN_REPORTS if progress is not None else None)
        better = _best(progress, best) if progress is not None else None
        if better is not best:
            best = better
            _tell("better", best)
    return found[0] if found else best


def _best(progress: Any, best: Any) -> Any:
    """The shortest sound layout reported so far."""
    sound = (spyrrow.ReportType.ExplFeas, spyrrow.ReportType.CmprFeas, spyrrow.ReportType.Final)
    for kind, solution in progress.drain():
        if kind in sound and (best is None or solution.width < best.width):
            best = solution
    return best


if __name__ == "__main__":
    main()
