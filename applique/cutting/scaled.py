"""What is to be cut, and from what, in whole numbers of one common denominator, so that a search is exact and quick."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from applique.cutting.values import Block, Choice, Demand, Lie, Rectangle, Run, Supply

__all__ = ["Cloth", "Item", "Job", "Shape", "job_of"]

Shape = tuple[int, int, Lie]
"""What a piece takes of cloth: along the selvage, across, and which way its length then runs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """A rectangle, block or run in whole units.

    `shapes` has one for each lie, the liked one first; for a run the side that is free is 0. `amount` is a count of
    pieces; of a run, what its strips must add up to when each gives its length less `loss`. `way` is the choice and
    the way of it that it belongs to, or None where it is cut whatever is chosen.
    """

    key: str
    is_run: bool
    shapes: tuple[Shape, ...]
    amount: int
    loss: int
    least: int
    way: tuple[int, int] | None

    def area(self) -> int:
        """What one piece, or a run that is never joined, covers."""
        along, across, _ = self.shapes[0]
        return (along + across) * (self.amount + self.loss) if self.is_run else along * across

    def covers(self, amount: int) -> int:
        """The least that so much of its `amount` covers, however a run is joined."""
        along, across, _ = self.shapes[0]
        return amount * (along + across) if self.is_run else amount * along * across

    def fits(self, length: int | None, width: int) -> bool:
        """Whether one piece of it, or a strip that gives something, can be cut from such a cloth; None is endless."""
        for along, across, lie in self.shapes:
            if self.is_run:
                free = width if lie is Lie.ACROSS else length
                fixed = (along, length) if lie is Lie.ACROSS else (across, width)
                enough = free is None or (
                    free >= self.least and (free > self.loss or free >= self.amount + self.loss)
                )
                if enough and (fixed[1] is None or fixed[0] <= fixed[1]):
                    return True
            elif (length is None or along <= length) and across <= width:
                return True
        return False


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """One piece of cloth between its squared ends: `length` is None where it is bought."""

    supply: int
    length: int | None
    width: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Job:
    """All of a plan's problem: `unit` is an inch in whole units, `grid` what a strip's own length is a multiple of.

    `ways` is how many ways each choice has. Of what is bought, `beyond` comes on top of what is used (both ends squared
    up, and what must be to spare) and a shop sells by `step`.
    """

    unit: int
    grid: int
    items: tuple[Item, ...]
    ways: tuple[int, ...]
    cloths: tuple[Cloth, ...]
    beyond: int
    step: int

    def bought(self, used: int) -> int:
        """What a shop cuts, in steps, for so much used; nothing for nothing."""
        return -(-(used + self.beyond) // self.step) if used else 0

    def most_used(self, steps: int) -> int:
        """The most that so many steps of a shop give."""
        return steps * self.step - self.beyond

    def active(self, ways: Sequence[int]) -> list[int]:
        """The amounts to cut of each item when each choice takes its way: 0 for those of other ways."""
        return [
            item.amount if item.way is None or ways[item.way[0]] == item.way[1] else 0 for item in self.items
        ]


def job_of(
    demands: Sequence[Demand],
    supplies: Sequence[Supply],
    *,
    step: Fraction,
    grid: Fraction,
    spare: Fraction = Fraction(0),
) -> Job:
    """`demands` and `supplies` in whole units; the supply that is bought comes last, `spare` inches of it left over."""
    singles = [(demand, way) for demand, way in _singles(demands)]
    numbers = [grid, step, spare]
    for demand, _ in singles:
        numbers += [demand.length, demand.width]
        numbers += [demand.loss, demand.least] if isinstance(demand, Run) else []
    for supply in supplies:
        numbers += [supply.width, supply.squaring]
        numbers += [] if supply.length is None else [supply.length]
    unit = math.lcm(*(number.denominator for number in numbers))
    cloths: list[Cloth] = []
    ordered = sorted(range(len(supplies)), key=lambda index: supplies[index].length is None)
    beyond = 0
    for index in ordered:
        supply = supplies[index]
        if supply.length is None:
            cloths.append(Cloth(supply=index, length=None, width=int(supply.width * unit)))
            beyond = int((2 * supply.squaring + spare) * unit)
        elif supply.length > 2 * supply.squaring:
            between = int((supply.length - 2 * supply.squaring) * unit)
            cloths += [Cloth(supply=index, length=between, width=int(supply.width * unit))] * supply.count
    return Job(
        unit=unit,
        grid=int(grid * unit),
        items=tuple(_item(demand, way, unit) for demand, way in singles),
        ways=tuple(len(demand.ways) for demand in demands if isinstance(demand, Choice)),
        cloths=tuple(cloths),
        beyond=beyond,
        step=int(step * unit),
    )


def _singles(demands: Sequence[Demand]) -> Iterator[tuple[Rectangle | Run | Block, tuple[int, int] | None]]:
    choice = -1
    for demand in demands:
        if isinstance(demand, Choice):
            choice += 1
            for number, way in enumerate(demand.ways):
                yield from ((single, (choice, number)) for single in way)
        else:
            yield demand, None


def _item(demand: Rectangle | Run | Block, way: tuple[int, int] | None, unit: int) -> Item:
    length, width = int(demand.length * unit), int(demand.width * unit)
    match demand:
        case Run():
            shapes = tuple((0, width, lie) if lie is Lie.ALONG else (width, 0, lie) for lie in demand.lies)
            loss = min(int(demand.loss * unit), length - 1)  # else no strip would be needed
            return Item(
                key=demand.key,
                is_run=True,
                shapes=shapes,
                amount=length - loss,
                loss=loss,
                least=int(demand.least * unit),
                way=way,
            )
        case Rectangle(lies=lies, count=count):
            pass
        case Block():
            lies, count = (Lie.ALONG,), 1
    return Item(
        key=demand.key,
        is_run=False,
        shapes=tuple((length, width, lie) if lie is Lie.ALONG else (width, length, lie) for lie in lies),
        amount=count,
        loss=0,
        least=0,
        way=way,
    )
