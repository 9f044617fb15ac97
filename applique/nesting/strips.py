"""Several strips nested at once, with as much effort as was asked for, none of it spent twice."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Final

from applique.nesting.grid import lay_strip
from applique.nesting.search import Found, Search, can_search, search_strips
from applique.nesting.store import Effort, NestStore, nest_key, read_nest, written_nest
from applique.nesting.values import NestPiece, Placement, StripNest

__all__ = ["Nested", "Nester", "StripJob", "nest_strips", "search_seconds"]

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
    """How to nest: with what effort, where nests are kept, and when to stop and take what there is.

    `given` are the nests that came with the design, by their keys; they come before those that are kept.
    """

    effort: Effort = Effort.QUICK
    store: NestStore | None = None
    given: Mapping[str, str] = field(default_factory=dict)
    stop: Callable[[], bool] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Nested:
    """A nest for each job, and those that were searched for as text by their keys, to go with the design."""

    nests: tuple[StripNest, ...]
    searched: Mapping[str, str]


@dataclass(slots=True, kw_only=True)
class _Best:
    """The best nest for one key so far, and how hard it was searched for."""

    job: StripJob
    nest: StripNest
    effort: Effort = Effort.QUICK

    def offer(self, nest: StripNest) -> None:
        """Take `nest` if it is shorter."""
        if nest.length < self.nest.length:
            self.nest = nest

    def text(self) -> str:
        """It as a store keeps it."""
        return written_nest(self.nest, self.job.pieces, self.effort)


def nest_strips(jobs: Sequence[StripJob], nester: Nester) -> Nested:
    """A nest for each job: our own placement, or a better one that was given, is kept, or is found in time.

    Jobs of the same shapes are one job: they are searched once and laid out alike. The budget of a design is shared
    among the strips that are new, by the pieces they hold. A search that failed for want of room on the machine is
    remembered by nobody; one that was stopped counts as one of normal effort.

    Raises:
        Refusal: a piece wider than its strip in all its turns.
    """
    own = [lay_strip(job.pieces, width=job.width, spacing=job.spacing, fixed=job.fixed) for job in jobs]
    if nester.effort is Effort.QUICK:
        return Nested(nests=tuple(own), searched={})
    keys = ["" if job.fixed else nest_key(job.pieces, width=job.width, spacing=job.spacing) for job in jobs]
    best: dict[str, _Best] = {}
    for job, key, laid in zip(jobs, keys, own, strict=True):
        if key and key not in best:
            best[key] = _known(job, key, laid, nester)
    fresh = {key: one for key, one in best.items() if one.effort < nester.effort}
    for (key, one), found in zip(
        fresh.items(), _searched([one.job for one in fresh.values()], nester), strict=True
    ):
        if found.nest is not None:
            one.offer(found.nest)
        if found.ended or found.nest is not None:
            one.effort = nester.effort if found.ended else max(one.effort, Effort.NORMAL)
            if nester.store is not None:
                nester.store.put(key, one.text())
    return Nested(
        nests=tuple(
            _renamed(best[key], job) if key else laid for job, key, laid in zip(jobs, keys, own, strict=True)
        ),
        searched={key: one.text() for key, one in best.items() if one.effort is not Effort.QUICK},
    )


def _known(job: StripJob, key: str, laid: StripNest, nester: Nester) -> _Best:
    """The best that is known without a search: `laid`, or a nest that took the effort asked for, or any shorter one."""
    best = _Best(job=job, nest=laid)
    texts = (nester.given.get(key), nester.store.get(key) if nester.store is not None else None)
    for text in texts:
        read = read_nest(text, job.pieces, width=job.width, spacing=job.spacing, longest=laid.length)
        if read is None:
            continue
        nest, effort = read
        best.offer(nest)
        best.effort = max(best.effort, effort)
        if effort >= nester.effort:
            break
    return best


def _renamed(best: _Best, job: StripJob) -> StripNest:
    """The nest with the names that the same pieces have in `job`."""
    names = {piece.key: twin.key for piece, twin in zip(best.job.pieces, job.pieces, strict=True)}
    placements = tuple(replace(spot, key=names[spot.key]) for spot in best.nest.placements)
    return replace(best.nest, placements=placements)


def search_seconds(letters: int, effort: Effort) -> float:
    """About how long a design with that many letters is searched for shorter nests when none are kept yet."""
    return _SECONDS.get(effort, 0.0) * min(max(1.0, letters / _LETTERS), _MOST_TIMES)


def _searched(jobs: Sequence[StripJob], nester: Nester) -> tuple[Found, ...]:
    if not jobs or not can_search():
        return (Found(nest=None, ended=False),) * len(jobs)
    counts = [sum(piece.count for piece in job.pieces) for job in jobs]
    at_once = min(_AT_ONCE, len(jobs))
    budget = search_seconds(max(counts), nester.effort) * at_once
    searches = [
        Search(
            pieces=job.pieces,
            width=job.width,
            spacing=job.spacing,
            seconds=max(_LEAST_SECONDS, budget * count / sum(counts)),
            workers=_AT_ONCE // at_once,
        )
        for job, count in zip(jobs, counts, strict=True)
    ]
    return search_strips(searches, at_once=at_once, stop=nester.stop)
