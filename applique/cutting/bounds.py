"""The length that no way of cutting can do without."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import numpy as np
import numpy.typing as npt

from applique.cutting.scaled import Item, Job, job_of
from applique.cutting.values import Demand, Lie, Supply

__all__ = ["area_of", "bound_of", "lower_bound", "proves"]

_FINE: Final = Fraction(1, 1_270_000)
"""So fine that every length of a plan on a grid of 1/16 in or 1 mm is a multiple of it."""
_MOST_BESIDE: Final = 12
"""Up to so many pieces side by side are told apart by weights that only count."""
_MOST_SIZES: Final = 24
"""So many sizes of pieces have weights of their own."""
_MOST_LOOKS: Final = 200
"""So many ways to choose and to lie are looked at before a length counts as enough."""
_PROBES: Final = (1.6, 0.8, 0.4, 0.2, 0.1, 0.05, 0.025, 0.0)
"""The longest of these parts that is proven is refined, for a longer length can be proven where a shorter is not."""
_HALVINGS: Final = 9
_SURELY: Final = 1 + 1e-9
_Weights = npt.NDArray[np.float64]


def lower_bound(demands: Sequence[Demand], supply: Supply) -> Fraction:
    """Inches along the selvage that `demands` need at the least from cloth as wide as `supply`, between squared ends.

    No plan that buys all of it is shorter. It is the largest of: the area over the width; the longest piece; each
    demand alone, in rows of as many as fit side by side; and any length at which the pieces, weighed along and across,
    weigh more than the cloth. Of a choice the least way counts, of lies the better one.

    Source:
        Dual feasible functions, in two directions at once: Fekete and Schepers, Mathematical Programming 91 (2001),
        pp. 11-31, and Carlier, Clautiaux and Moukrim, Computers & Operations Research 34 (2007), pp. 2223-2250; from
        memory.
    """
    job = job_of(
        demands,
        [Supply(key=supply.key, width=supply.width, length=None, count=1, squaring=supply.squaring)],
        step=Fraction(1),
        grid=_FINE,
    )
    return Fraction(bound_of(job, job.cloths[-1].width, None), job.unit)


def bound_of(job: Job, width: int, enough: int | None) -> int:
    """The same in whole units of `job`, for all its items on cloth of `width` alone. `enough` is a length that some
    plan takes, if one is known."""
    least = max(
        *_of_ways(job, [_alone(item, width) for item in job.items], max),
        -(-sum(_of_ways(job, [_area(item, width) for item in job.items], sum)) // width),
    )
    if enough is not None and enough <= least:
        return enough
    weighing = _Weighing(job, width)
    lengths = [least + int(least * part) for part in _PROBES]
    most = lengths[0]
    if enough is not None:
        lengths = [enough - 1, *(length for length in lengths if length < enough - 1)]
        most = enough
    for length in lengths:
        if weighing.proves(length):
            least = length + 1
            break
        most = length
    for _ in range(_HALVINGS):
        if most - least <= 1:
            break
        half = (least + most) // 2
        if weighing.proves(half):
            least = half + 1
        else:
            most = half
    for length in reversed(weighing.natural(least, most)):
        if weighing.proves(length - 1):
            return length
    return least


def proves(job: Job, width: int, length: int) -> bool:
    """Whether it is certain that cloth of `width` by `length`, in whole units, does not hold all items of `job`."""
    return _Weighing(job, width).proves(length)


def area_of(job: Job) -> int:
    """The least area that all its items cover, in square units: less than this no cloth can be."""
    widest = max(cloth.width for cloth in job.cloths)
    return sum(_of_ways(job, [_area(item, widest) for item in job.items], sum))


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


def _area(item: Item, width: int) -> int:
    """The area that it covers; strips across are joined."""
    found = []
    for along, across, lie in item.shapes:
        if item.is_run and lie is Lie.ACROSS:
            if width > item.loss:
                found.append(along * (item.amount - (-item.amount // (width - item.loss)) * item.loss))
        elif across <= width:
            found.append(across * (item.amount + item.loss) if item.is_run else along * across * item.amount)
    return min(found, default=0)


@dataclass(frozen=True, slots=True)
class _Weight:
    """A weight for sizes in one direction: sizes whose sum is at most `all` weigh together at most `full`.

    `of` weighs one size and never falls as it grows. `ends` has, for sizes up to each of them (the size itself left
    out unless it is said to count), what they weigh: between two of them, where the weight over the size is least.
    """

    full: int
    of: Callable[[int], int]
    ends: tuple[tuple[Fraction, int], ...]

    def of_strips(self, item: Item, most: int) -> float:
        """The least that the strips of a run can weigh together, none longer than `most`."""
        if most < item.least or most <= item.loss:
            return float("inf")
        count = -(-item.amount // (most - item.loss))
        rates = [
            weight / float(size - item.loss)
            for size, weight in self.ends
            if size > item.loss and item.least < size
        ]
        rates += [self.of(size) / (size - item.loss) for size in {item.least, most} if size > item.loss]
        several = max(item.amount * min(rates) * (1 - 1e-12), max(count, 2) * self.of(item.least))
        return min(self.of(item.amount + item.loss), several) if count == 1 else several


def _weights(all_of_it: int, sizes: Sequence[int]) -> Iterator[_Weight]:
    """Weights for sizes that lie side by side in `all_of_it`: the size itself; steps of equal parts; small ones for
    nothing and large ones for all; and how many of each size there is room for."""
    whole = all_of_it
    yield _Weight(whole, lambda size: size, ((Fraction(whole), whole),))
    for parts in range(1, _MOST_BESIDE + 1):
        yield _equal_parts(whole, parts)
    for size in sizes:
        if 2 * size <= whole:
            yield _large_for_all(whole, size)
        if size <= whole:
            yield _room_for(whole, size)


def _equal_parts(whole: int, parts: int) -> _Weight:
    """What is longer than 1/(`parts` + 1) counts as 1/`parts`, and so on."""

    def of(size: int) -> int:
        steps, rest = divmod((parts + 1) * size, whole)
        return steps * whole if rest else parts * size

    ends = tuple((Fraction((step + 1) * whole, parts + 1), step * whole) for step in range(parts + 1))
    points = tuple(
        (Fraction(step * whole, parts + 1), parts * step * whole // (parts + 1))
        for step in range(1, parts + 2)
    )
    return _Weight(parts * whole, of, ends + points)


def _large_for_all(whole: int, least: int) -> _Weight:
    """What is shorter than `least` counts for nothing, and what leaves less than it for all."""

    def of(size: int) -> int:
        if size < least:
            return 0
        return whole if size > whole - least else size

    return _Weight(
        whole, of, ((Fraction(least), 0), (Fraction(whole - least), whole - least), (Fraction(whole), whole))
    )


def _room_for(whole: int, one: int) -> _Weight:
    """How many of `one` a size holds; what is longer than half counts as what it leaves no room for."""
    most = whole // one

    def of(size: int) -> int:
        if 2 * size > whole:
            return 2 * (most - (whole - size) // one)
        return most if 2 * size == whole else 2 * (size // one)

    half = Fraction(whole, 2)
    ends = [(Fraction(step * one), 2 * (step - 1)) for step in range(1, most // 2 + 2) if step * one < half]
    ends += [(half, 2 * (-(-whole // (2 * one)) - 1)), (half, most)]
    ends += [
        (Fraction(whole - step * one), 2 * (most - step))
        for step in range(most + 1)
        if whole - step * one > half
    ]
    return _Weight(2 * most, of, tuple(ends))


class _Weighing:
    """All items of a job weighed in both directions at once, for one length after the other."""

    def __init__(self, job: Job, width: int) -> None:
        self.job = job
        self.width = width
        shapes = [shape for item in job.items for shape in item.shapes]
        self.sizes = [
            sorted(sizes - {0})[:_MOST_SIZES]
            for sizes in ({along for along, _, _ in shapes}, {across for _, across, _ in shapes})
        ]
        self.leasts = [
            sorted(
                {
                    item.least
                    for item in job.items
                    if item.is_run and any(shape[2] is lie for shape in item.shapes)
                }
            )
            for lie in (Lie.ALONG, Lie.ACROSS)
        ]
        across = sorted({*self.sizes[1], *(least for least in self.leasts[1] if least)})
        self.across = list(_weights(width, across))
        self.sides = [[self._across(item, shape) for shape in item.shapes] for item in job.items]
        self.full = np.array([weight.full for weight in self.across], dtype=float)

    def natural(self, least: int, most: int) -> list[int]:
        """Lengths after `least`, up to `most`, that some rows of one or two sizes come to."""
        rows = {size * count for size in self.sizes[0] for count in range(1, 13)}
        both = rows | {one + size for one in rows for size in self.sizes[0]}
        return sorted(length for length in both if least < length <= most)[:8]

    def _across(self, item: Item, shape: tuple[int, int, Lie]) -> _Weights | None:
        """What each weight across gives a piece, or all strips of a run; None where it has no room."""
        _, across, lie = shape
        if item.is_run and lie is Lie.ACROSS:
            if self.width < item.least or self.width <= item.loss:
                return None
            return np.array([weight.of_strips(item, self.width) for weight in self.across])
        return (
            None
            if across > self.width
            else np.array([weight.of(across) for weight in self.across], dtype=float)
        )

    def proves(self, length: int) -> bool:
        """Whether nothing so long, or shorter, holds everything, whatever is chosen and however it lies."""
        weights = list(
            _weights(length, sorted({*self.sizes[0], *(least for least in self.leasts[0] if least)}))
        )
        options: list[list[_Weights]] = []
        ways: dict[tuple[int, int], list[list[_Weights]]] = {}
        for item, sides in zip(self.job.items, self.sides, strict=True):
            found = [
                weighed
                for shape, side in zip(item.shapes, sides, strict=True)
                if side is not None
                and (weighed := self._weighed(item, shape, side, weights, length)) is not None
            ]
            if item.way is None:
                if not found:
                    return True
                options.append(self._as_options(item, found))
            else:
                ways.setdefault(item.way, []).append(self._as_options(item, found))
        for choice, count in enumerate(self.job.ways):
            able = [
                [sum_of]
                for way in range(count)
                if all(ways.get((choice, way), []))
                for sum_of in _sums(ways.get((choice, way), []))
            ]
            if not able:
                return True
            options.append([one for (one,) in able])
        full = np.outer([weight.full for weight in weights], self.full) * _SURELY
        return self._none_fits(options, full)

    def _as_options(self, item: Item, found: list[_Weights]) -> list[_Weights]:
        """Ways for all pieces of an item to lie; several pieces that may lie either way have one that is below both."""
        if len(found) > 1 and not item.is_run and item.amount > 1:
            return [np.minimum(*found)]
        return found

    def _weighed(
        self, item: Item, shape: tuple[int, int, Lie], side: _Weights, weights: Sequence[_Weight], length: int
    ) -> _Weights | None:
        along, _, lie = shape
        if item.is_run and lie is Lie.ALONG:
            if length < item.least or length <= item.loss:
                return None
            return np.outer([weight.of_strips(item, length) for weight in weights], side)
        if along > length:
            return None
        count = 1 if item.is_run else item.amount
        return np.outer([weight.of(along) * count for weight in weights], side)

    def _none_fits(self, options: list[list[_Weights]], full: _Weights) -> bool:
        """Whether every way to take one of each of `options` weighs more than `full` by some weight."""
        options = sorted(options, key=len)
        below = [one[0] if len(one) == 1 else np.minimum.reduce(one) for one in options]
        rest = [np.zeros_like(full)]
        for one in reversed(below):
            rest.append(rest[-1] + one)
        rest.reverse()
        left = _MOST_LOOKS

        def proven(number: int, taken: _Weights) -> bool:
            nonlocal left
            left -= 1
            if bool(np.any(taken + rest[number] > full)):
                return True
            if number == len(options) or left < 0:
                return False
            return all(proven(number + 1, taken + one) for one in options[number])

        return proven(0, np.zeros_like(full))


def _sums(options: Sequence[list[_Weights]]) -> list[_Weights]:
    """Every sum of one of each of `options`, or, where there are many, one below them all."""
    sums: list[_Weights] = []
    for one in options:
        sums = [before + after for before in sums for after in one] if sums else list(one)
        if len(sums) > 16:
            sums = [np.minimum.reduce(sums)]
    return sums
