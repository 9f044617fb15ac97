"""Several strips nested at once, with as much effort as was asked for, none of it spent twice."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import Final

from applique.nesting.grid import lay_strip
from applique.nesting.search import library_version, search_strip
from applique.nesting.store import Effort, NestStore, nest_key, read_nest, written_nest
from applique.nesting.values import NestPiece, Placement, StripNest

__all__ = ["Nester", "StripJob", "nest_strips", "search_seconds"]

_SECONDS: Final = {Effort.NORMAL: 3.2, Effort.LONG: 45.0}
"""Seconds of search for all strips of a design of 60 letters together, before the library's own overrun."""
_LETTERS: Final = 60
_MOST_TIMES: Final = 3
"""A design of more letters is given more time, up to this many times as much."""
_LEAST_SECONDS: Final = 0.4
_AT_ONCE: Final = 2


@dataclass(frozen=True, slots=True, kw_only=True)
class StripJob:
    """Pieces for one strip, some of them `fixed` by hand; those strips are left to our own placement."""

    pieces: tuple[NestPiece, ...]
    width: float
    spacing: float
    fixed: tuple[Placement, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Nester:
    """How to nest: with what effort, where nests are kept, and when to stop and take what there is."""

    effort: Effort = Effort.QUICK
    store: NestStore | None = None
    stop: Callable[[], bool] | None = None


def nest_strips(jobs: Sequence[StripJob], nester: Nester) -> tuple[StripNest, ...]:
    """A nest for each job: our own placement, or a better one that is kept or found in time.

    The budget of a design is shared among the strips that are new, by the pieces they hold.

    Raises:
        Refusal: a piece wider than its strip in all its turns.
    """
    own = [lay_strip(job.pieces, width=job.width, spacing=job.spacing, fixed=job.fixed) for job in jobs]
    version = library_version()
    if nester.effort is Effort.QUICK or version is None:
        return tuple(own)
    keys = [nest_key(j.pieces, width=j.width, spacing=j.spacing, version=version) for j in jobs]
    best: list[StripNest] = []
    fresh: list[int] = []
    for index, (job, key, laid) in enumerate(zip(jobs, keys, own, strict=True)):
        kept = _kept(job, key, nester)
        best.append(min((laid, kept[0]), key=lambda nest: nest.length) if kept else laid)
        if not job.fixed and (kept is None or kept[1] < nester.effort):
            fresh.append(index)
    for index, found in zip(fresh, _searched([jobs[i] for i in fresh], nester), strict=True):
        if found is not None and found.length < best[index].length:
            best[index] = found
        if nester.store is not None:
            nester.store.put(keys[index], written_nest(best[index], jobs[index].pieces, nester.effort))
    return tuple(best)


def _kept(job: StripJob, key: str, nester: Nester) -> tuple[StripNest, Effort] | None:
    if nester.store is None or job.fixed:
        return None
    return read_nest(nester.store.get(key), job.pieces, width=job.width, spacing=job.spacing)


def search_seconds(letters: int, effort: Effort) -> float:
    """About how long a design with that many letters is searched for shorter nests when none are kept yet."""
    return _SECONDS.get(effort, 0.0) * min(max(1.0, letters / _LETTERS), _MOST_TIMES)


def _searched(jobs: Sequence[StripJob], nester: Nester) -> list[StripNest | None]:
    if not jobs:
        return []
    counts = [sum(piece.count for piece in job.pieces) for job in jobs]
    at_once = min(_AT_ONCE, len(jobs))
    letters = max(counts)
    budget = search_seconds(letters, nester.effort) * at_once
    shares = [max(_LEAST_SECONDS, budget * count / sum(counts)) for count in counts]

    def search(index: int) -> StripNest | None:
        job = jobs[index]
        return search_strip(
            job.pieces,
            width=job.width,
            spacing=job.spacing,
            seconds=shares[index],
            workers=_AT_ONCE // at_once,
            stop=nester.stop,
        )

    with ThreadPoolExecutor(max_workers=at_once) as pool:
        return list(pool.map(search, range(len(jobs))))
