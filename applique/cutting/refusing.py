"""Refuses what no plan could cut: a piece too large for every cloth, strips that their joins eat, no cloth at all."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import product
from typing import Final, TypeAlias

from applique.cutting.values import Block, Choice, Demand, Lie, Rectangle, Run, Supply
from applique.errors import NOWHERE, Problem, Refusal, Where
from applique.language import Message, message
from applique.units import Units, telling_apart

__all__ = ["Naming", "refuse_what_fits_nowhere"]

_MOST_PIECES: Final = 100_000
"""Of one fabric: a quilt of more pieces is a slip of the keys."""


Rooms: TypeAlias = Sequence[tuple[Fraction | None, Fraction]]
"""Length (None is endless) and width of what may be cut from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Naming:
    """What demands are called in a refusal, and their places, by their keys; and the units that it gives lengths in."""

    names: Mapping[str, tuple[Message, Where]]
    units: Units

    def name(self, one: Rectangle | Run | Block) -> str | Message:
        """What one is called; its key where it has no name."""
        return self.names[one.key][0] if one.key in self.names else one.key

    def where(self, one: Rectangle | Run | Block) -> Where:
        """The place that asks for one."""
        return self.names[one.key][1] if one.key in self.names else NOWHERE


def refuse_what_fits_nowhere(demands: Sequence[Demand], supplies: Sequence[Supply], naming: Naming) -> None:
    """Raise a `ValueError` for values that make no sense, and a `Refusal` with every demand that no supply can hold.

    A choice is refused where none of its ways fits, with what is wrong in its liked way.
    """
    _check(demands, supplies)
    problems: list[Problem] = []
    for demand in demands:
        ways = demand.ways if isinstance(demand, Choice) else ((demand,),)
        wrong = [[problem for one in way for problem in _problems(one, supplies, naming)] for way in ways]
        if all(wrong):
            problems += wrong[0]
    if problems:
        raise Refusal(problems)


def _check(demands: Sequence[Demand], supplies: Sequence[Supply]) -> None:
    singles = list(_singles(demands))
    keys = [one.key for one in singles] + [demand.key for demand in demands if isinstance(demand, Choice)]
    if len(set(keys)) < len(keys) or len({supply.key for supply in supplies}) < len(supplies):
        raise ValueError("two demands or two supplies have the same key")
    if not supplies or sum(supply.length is None for supply in supplies) > 1:
        raise ValueError("there must be something to cut from, and one supply at most is bought")
    if any(supply.width <= 0 or supply.squaring < 0 or supply.count < 1 for supply in supplies):
        raise ValueError("a supply needs a width and a count of 1 or more")
    if any(one.length <= 0 or one.width <= 0 for one in singles):
        raise ValueError("a demand needs a length and a width")
    if any(not isinstance(one, Block) and not one.lies for one in singles):
        raise ValueError("a demand needs a lie")
    if sum(one.count for one in singles if isinstance(one, Rectangle)) > _MOST_PIECES:
        raise ValueError(f"more than {_MOST_PIECES} pieces of one fabric")
    if any(isinstance(one, Rectangle) and one.count < 1 for one in singles):
        raise ValueError("a rectangle needs a count of 1 or more")
    if any(isinstance(one, Run) and (one.loss < 0 or one.least < 0) for one in singles):
        raise ValueError("a run loses nothing less than nothing")
    if any(isinstance(demand, Choice) and not all(demand.ways) for demand in demands):
        raise ValueError("a way of a choice cuts something")


def _singles(demands: Sequence[Demand]) -> Iterator[Rectangle | Run | Block]:
    for demand in demands:
        if isinstance(demand, Choice):
            for way in demand.ways:
                yield from way
        else:
            yield demand


def _problems(one: Rectangle | Run | Block, supplies: Sequence[Supply], naming: Naming) -> Iterator[Problem]:
    rooms = [room for supply in supplies for room in _room(supply)]
    if isinstance(one, Run):
        yield from _problems_of_run(one, rooms, naming)
    elif not any(_has_room(one, lie, *room) for lie, room in product(_lies(one), rooms)):
        yield _too_large(one, rooms, naming)


def _room(supply: Supply) -> Iterator[tuple[Fraction | None, Fraction]]:
    """Its length between the squared ends (None is endless) and its width; nothing where squaring takes all."""
    if supply.length is None:
        yield None, supply.width
    elif supply.length > 2 * supply.squaring:
        yield supply.length - 2 * supply.squaring, supply.width


def _lies(one: Rectangle | Block) -> tuple[Lie, ...]:
    return (Lie.ALONG,) if isinstance(one, Block) else one.lies


def _has_room(one: Rectangle | Block, lie: Lie, length: Fraction | None, width: Fraction) -> bool:
    along, across = (one.length, one.width) if lie is Lie.ALONG else (one.width, one.length)
    return (length is None or along <= length) and across <= width


def _problems_of_run(run: Run, rooms: Rooms, naming: Naming) -> Iterator[Problem]:
    strips = [
        width if lie is Lie.ACROSS else length
        for lie, (length, width) in product(run.lies, rooms)
        if (length is None or lie is Lie.ALONG or run.width <= length)
        and (lie is Lie.ACROSS or run.width <= width)
    ]
    if any(
        strip is None or (strip >= run.least and (strip > run.loss or strip >= run.length))
        for strip in strips
    ):
        return
    longest = max((strip for strip in strips if strip is not None), default=None)
    if longest is None:
        yield _too_large(run, rooms, naming)
    elif longest < run.least:
        said = telling_apart([(longest, run.least)], naming.units)
        yield Problem(
            kind="strips-too-short",
            what=message(
                "{piece} needs strips of at least {least}, and the fabric gives {longest}",
                piece=naming.name(run),
                least=said(run.least),
                longest=said(longest),
            ),
            where=naming.where(run),
            fix=message("wider fabric, or let its strips run the other way"),
        )
    else:
        said = telling_apart([(longest, run.loss)], naming.units)
        yield Problem(
            kind="joins-eat-strips",
            what=message(
                "{piece} is joined from strips of {longest}, and each join uses up {loss}: it never gets longer",
                piece=naming.name(run),
                longest=said(longest),
                loss=said(run.loss),
            ),
            where=naming.where(run),
            fix=message("wider fabric, straight joins, or let its strips run the other way"),
        )


def _too_large(one: Rectangle | Run | Block, rooms: Rooms, naming: Naming) -> Problem:
    widest = max((width for _, width in rooms), default=Fraction(0))
    longest = max((length for length, _ in rooms if length is not None), default=Fraction(0))
    if any(length is None for length, _ in rooms):
        said = telling_apart([(one.length, widest), (one.width, widest)], naming.units)
        return Problem(
            kind="piece-too-large-for-fabric",
            what=message(
                "{piece} is {length} by {width} and does not fit fabric {room} wide",
                piece=naming.name(one),
                length=said(one.length),
                width=said(one.width),
                room=said(widest),
            ),
            where=naming.where(one),
            fix=message("wider fabric, a smaller piece, or let it be turned or pieced"),
        )
    said = telling_apart(product((one.length, one.width), (longest, widest)), naming.units)
    return Problem(
        kind="piece-too-large-for-pieces-held",
        what=message(
            "{piece} is {length} by {width} and fits no piece of fabric; the largest are {longest} long or {room} wide",
            piece=naming.name(one),
            length=said(one.length),
            width=said(one.width),
            longest=said(longest),
            room=said(widest),
        ),
        where=naming.where(one),
        fix=message("wider fabric, a smaller piece, or let it be turned or pieced"),
    )
