"""The length that no way of cutting can do without."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.cutting.scaled import Item, Job, job_of
from applique.cutting.values import Demand, Lie, Supply

__all__ = ["area_of", "bound_of", "lower_bound"]

_FINE: Final = Fraction(1, 1000)
"""The bound is rounded down to it."""
_MOST_BESIDE: Final = 24
"""Up to so many pieces side by side are told apart by the bound."""


def lower_bound(demands: Sequence[Demand], supply: Supply) -> Fraction:
    """Inches along the selvage that `demands` need at the least from cloth as wide as `supply`, between squared ends.

    No plan that buys all of it is shorter. It is the largest of: the area over the width; the longest piece; each
    demand alone, in rows of as many as fit side by side; and the area weighed so that pieces that cannot lie beside
    each other count for the whole width. Of a choice the least way counts, of lies the better one.

    Source:
        Dual feasible functions: Fekete and Schepers, Mathematical Programming 91 (2001), pp. 11-31; from memory.
    """
    job = job_of(
        demands,
        [Supply(key=supply.key, width=supply.width, length=None, count=1, squaring=supply.squaring)],
        step=Fraction(1),
        grid=_FINE,
    )
    return Fraction(bound_of(job, job.cloths[-1].width), job.unit)


def bound_of(job: Job, width: int) -> int:
    """The same in whole units of `job`, rounded down, for all its items on cloth of `width` alone."""
    best = max(_of_ways(job, [_alone(item, width) for item in job.items], max))
    for beside in range(1, _MOST_BESIDE + 1):
        weighed = [_beside(item, width, beside) for item in job.items]
        best = max(best, sum(_of_ways(job, weighed, sum)) // (beside * width))
    halves = {across for item in job.items for _, across, _ in item.shapes if 0 < 2 * across <= width}
    for least in (0, *sorted(halves)):
        weighed = [_from_least(item, width, least) for item in job.items]
        best = max(best, sum(_of_ways(job, weighed, sum)) // width)
    return best


def area_of(job: Job) -> int:
    """The least area that all its items cover, in square units: less than this no cloth can be."""
    widest = max(cloth.width for cloth in job.cloths)
    return sum(_of_ways(job, [_from_least(item, widest, 0) for item in job.items], sum))


def _of_ways(job: Job, values: Sequence[int], both: Callable[[Iterable[int]], int]) -> Iterator[int]:
    """The values of items that are always cut, and for each choice that of its least way."""
    yield 0
    ways: dict[tuple[int, int], list[int]] = {}
    for item, value in zip(job.items, values, strict=True):
        if item.way is None:
            yield value
        else:
            ways.setdefault(item.way, []).append(value)
    for choice, count in enumerate(job.ways):
        yield min(both(ways.get((choice, way), [0])) for way in range(count))


def _alone(item: Item, width: int) -> int:
    """The length that it takes with nothing beside it: every row holds as many as there is room for."""
    found = []
    for along, across, lie in item.shapes:
        if item.is_run and lie is Lie.ACROSS:
            if width > item.loss:
                found.append(-(-item.amount // (width - item.loss)) * along)
        elif across > width:
            continue
        elif item.is_run:
            found.append(max(item.least, item.amount // (width // across) + item.loss))
        elif len(item.shapes) == 1:
            found.append(-(-item.amount // (width // across)) * along)
        else:
            found.append(along)
    return min(found, default=0)


def _beside(item: Item, width: int, beside: int) -> int:
    """Its length times its weight across, times `beside` and `width`: what is wider than 1/(beside + 1) of the cloth
    counts for 1/beside of it, and so on."""

    def weight(across: int) -> int:
        parts = (beside + 1) * across
        return beside * across if parts % width == 0 else parts // width * width

    found = []
    for along, across, lie in item.shapes:
        if item.is_run and lie is Lie.ACROSS:
            found.append(along * _weight_of_run(item, width, beside))
        elif across <= width:
            length = item.amount + item.loss if item.is_run else along * item.amount
            found.append(length * weight(across))
    return min(found, default=0)


def _weight_of_run(item: Item, width: int, beside: int) -> int:
    """The least that strips across can weigh: each is worth most just below, or at, the next step of the weight."""
    found = []
    for step in range(beside + 1):
        most = (step + 1) * width - item.loss * (
            beside + 1
        )  # what a strip below the next step gives, times beside + 1
        if (step + 1) * width > item.least * (beside + 1) and most > 0:
            found.append(item.amount * step * width * (beside + 1) // most)
            found.append(item.amount * beside * (step + 1) * width // most)
    return min(found, default=0)


def _from_least(item: Item, width: int, least: int) -> int:
    """Its length times its weight across, times `width`: less than `least` is nothing, and what leaves less is all."""

    def weight(across: int) -> int:
        if across < least:
            return 0
        return width if across > width - least else across

    found = []
    for along, across, lie in item.shapes:
        if item.is_run and lie is Lie.ACROSS:
            if item.least < least:
                found.append(0)
            elif width > item.loss:
                strips = -(-item.amount // (width - item.loss))
                found.append(
                    along * max(item.amount * width // (width - item.loss), item.amount + strips * item.loss)
                )
        elif across <= width:
            length = item.amount + item.loss if item.is_run else along * item.amount
            found.append(length * weight(across))
    return min(found, default=0)
