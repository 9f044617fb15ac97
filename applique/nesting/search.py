"""Better strips by searching, each strip in a child process (`solver`) that can be ended at any time.

The library's own separation must not be used (it panics on small shapes and keeps the gap from the strip's edges
too), so outlines are grown by half the spacing and a little, and simplified by no more than that little. It gives the
same layout again on an idle machine only, so what it finds is checked, kept in a store and never searched for twice.
"""

from __future__ import annotations

import contextlib
import json
import queue
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from shapely.geometry import Polygon

from applique.geometry.place import Place
from applique.geometry.polygons import solid
from applique.nesting.checking import is_sound
from applique.nesting.values import NestPiece, Placement, StripNest, nest_length

__all__ = ["Found", "Search", "can_search", "search_strips"]

_PAD: Final = 0.01
"""Inches that an outline is grown beyond half the spacing, and may be simplified by."""
_HALF_TURN: Final = Place(x=0.0, y=0.0, turn_deg=180.0)
_SEED: Final = 7
_QUADRANT_SEGMENTS: Final = 6
_SOLVER: Final = Path(__file__).with_name("solver.py")
_LISTENING: Final = 0.1
"""Seconds between two looks at whether to stop."""
_OVERRUN: Final = (3.0, 60.0)
"""A search may take this many times its seconds, and this many more, before it is given up: a machine was too busy."""

_Heard = queue.Queue[tuple[int, str | None]]
"""Lines of the children with the number of the search; None when no more will come."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Search:
    """A strip to search: its pieces, for how many seconds, in how many threads of the library."""

    pieces: tuple[NestPiece, ...]
    width: float
    spacing: float
    seconds: float
    workers: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Found:
    """The best sound nest of a search, None if there is none, and whether the search came to its end.

    A search of pieces that do not suit the library is at its end at once.
    """

    nest: StripNest | None
    ended: bool


def can_search() -> bool:
    """Whether the nesting library is installed."""
    return find_spec("spyrrow") is not None


def search_strips(
    searches: Sequence[Search], *, at_once: int, stop: Callable[[], bool] | None = None
) -> tuple[Found, ...]:
    """What each search finds, `at_once` of them side by side.

    A search may overrun by a second or so. `stop` is asked again and again; once it says yes, every search is ended
    and the best nests so far are taken. No child outlives this call, nor this process.
    """
    asked = [_asked(search, report=stop is not None) for search in searches]
    waiting = [index for index, question in enumerate(asked) if question is not None]
    heard: _Heard = queue.Queue()
    last: dict[int, str] = {}
    running: dict[int, _Child] = {}
    try:
        while (waiting or running) and not (stop is not None and stop()):
            while waiting and len(running) < at_once:
                index = waiting.pop(0)
                running[index] = _Child(index, str(asked[index]), searches[index].seconds, heard)
            over = [index for index, child in running.items() if child.is_late()]
            for index, line in _listened(heard):
                if line is None:
                    over.append(index)
                else:
                    last[index] = line
            for index in over:
                if index in running:
                    running.pop(index).end()
    finally:
        for child in running.values():
            child.end()
    return tuple(
        Found(nest=None, ended=True) if question is None else _found(last.get(index), search)
        for index, (question, search) in enumerate(zip(asked, searches, strict=True))
    )


def _listened(heard: _Heard) -> Iterator[tuple[int, str | None]]:
    """What the children said, after a short wait if they said nothing."""
    with contextlib.suppress(queue.Empty):
        yield heard.get(timeout=_LISTENING)
        while True:
            yield heard.get_nowait()


class _Child:
    """One process that searches, and the thread that talks with it."""

    def __init__(self, index: int, question: str, seconds: float, heard: _Heard) -> None:
        self._index, self._question, self._heard = index, question, heard
        self._latest = time.monotonic() + seconds * _OVERRUN[0] + _OVERRUN[1]
        self._process: subprocess.Popen[str] | None = None
        try:
            self._process = subprocess.Popen(
                # -P: no module of the folder that the maker works in may stand for one that is needed.
                [sys.executable, "-P", str(_SOLVER)],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
                encoding="ascii",
            )
        except OSError:  # no more processes to be had
            heard.put((index, None))
            return
        self._thread = threading.Thread(target=self._talk, args=(self._process,), daemon=True)
        self._thread.start()

    def _talk(self, process: subprocess.Popen[str]) -> None:
        """Ask, and pass on each line that comes; None when no more will."""
        try:
            if process.stdin is not None and process.stdout is not None:
                process.stdin.write(self._question + "\n")
                process.stdin.flush()
                for line in process.stdout:
                    self._heard.put((self._index, line))
        except (OSError, ValueError):  # it is gone
            pass
        finally:
            self._heard.put((self._index, None))

    def is_late(self) -> bool:
        """Whether it has searched for far longer than it was asked to."""
        return time.monotonic() > self._latest

    def end(self) -> None:
        """End the process, whatever it is doing."""
        if self._process is None:
            return
        self._process.kill()
        self._process.wait()
        self._thread.join()
        for pipe in (self._process.stdin, self._process.stdout):
            if pipe is not None:
                with contextlib.suppress(OSError):
                    pipe.close()


def _asked(search: Search, *, report: bool) -> str | None:
    """The question to the child; None for pieces that do not suit the library."""
    height = search.width + search.spacing
    grown = [_grown(piece, search.spacing) for piece in search.pieces]
    pairs = list(zip(grown, search.pieces, strict=True))
    if not all(_has_room(outline, piece, height) for outline, piece in pairs):
        return None
    items = [
        {"outline": list(outline.exterior.coords[:-1]), "count": piece.count, "turns": piece.turns_deg}
        for outline, piece in pairs
    ]
    return json.dumps(
        {
            "height": height,
            "seconds": search.seconds,
            "workers": search.workers,
            "seed": _SEED,
            "report": report,
            "items": items,
        }
    )


def _found(line: str | None, search: Search) -> Found:
    """What the last line of a child says; nothing if it was cut off."""
    try:
        ((kind, laid),) = json.loads(line or "{}").items()
        placements = tuple(
            Placement(
                key=search.pieces[index].key,
                place=Place(x=x, y=y - search.spacing / 2, turn_deg=float(turn) % 360),
            )
            for index, turn, x, y in laid or ()
        )
    except ValueError:
        return Found(nest=None, ended=False)
    nest = _pushed_left(placements, search)
    return Found(nest=nest if is_sound(nest, search.pieces) else None, ended=kind == "end")


def _grown(piece: NestPiece, spacing: float) -> Polygon:
    """One outline around the piece: of several parts their hull, as the library takes one polygon only."""
    grown = solid(piece.shape).buffer(spacing / 2 + _PAD, quad_segs=_QUADRANT_SEGMENTS, join_style="round")
    whole = grown if isinstance(grown, Polygon) else grown.convex_hull
    outer = Polygon(whole.exterior)
    simple = outer.simplify(_PAD * 0.9)
    return simple if isinstance(simple, Polygon) and simple.is_valid else outer


def _has_room(grown: Polygon, piece: NestPiece, height: float) -> bool:
    """Whether the grown outline fits in one of its turns with a little slack; one that just fits panics."""
    x0, y0, x1, y1 = grown.bounds
    sides = [x1 - x0 if round(turn) % 180 == 90 else y1 - y0 for turn in piece.turns_deg]
    return min(sides) + _PAD < height and all(round(turn) % 90 == 0 for turn in piece.turns_deg)


def _pushed_left(placements: Sequence[Placement], search: Search) -> StripNest:
    """The nest moved to the start of its strip, and its true length."""
    shapes = {piece.key: piece.shape for piece in search.pieces}
    start = -nest_length([_turned_round(spot) for spot in placements], shapes)
    moved = tuple(
        Placement(key=spot.key, place=spot.place.within(Place(x=-start, y=0.0))) for spot in placements
    )
    return StripNest(
        width=search.width, length=nest_length(moved, shapes), spacing=search.spacing, placements=moved
    )


def _turned_round(spot: Placement) -> Placement:
    """The placement turned half around the origin, so that its reach is minus its start."""
    return Placement(key=spot.key, place=spot.place.within(_HALF_TURN))
