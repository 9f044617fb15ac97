"""What is to be cut from one fabric, and how it is cut, as values.

Exact inches after washing. Frame of a cloth: x along the selvage from its first cut end, y across from one selvage; a
cut always goes from edge to edge of what it cuts (a guillotine cut: common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from typing import Final

__all__ = [
    "NO_SPARE",
    "Block",
    "Choice",
    "CutCloth",
    "CuttingPlan",
    "Demand",
    "Lie",
    "Piece",
    "Preference",
    "Rectangle",
    "Region",
    "Run",
    "Split",
    "Supply",
]

NO_SPARE: Final = Fraction(1, 8)
"""Inches of the width that fabric may be narrower than it is said to be: common practice, no source."""


class Lie(StrEnum):
    """Which way something runs on cloth: along the selvage, or across from selvage to selvage."""

    ALONG = "along"
    ACROSS = "across"


class Preference(StrEnum):
    """What a maker wants of a plan: plain crosswise strips unless more pays, the least cloth, or the fewest kinds of
    cuts whatever they cost."""

    SIMPLE_UNLESS_IT_PAYS = "simple unless it pays"
    LEAST_FABRIC = "least fabric"
    FEWEST_KINDS_OF_CUTS = "fewest kinds of cuts"


@dataclass(frozen=True, slots=True, kw_only=True)
class Rectangle:
    """`count` pieces of `length` by `width`, each whole. `lies` are the ways its length may run, the liked one first.

    A square that need not keep a direction still names one, so that nothing is turned without being asked.
    """

    key: str
    length: Fraction
    width: Fraction
    count: int
    lies: tuple[Lie, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Strips of `width`, joined end to end until they reach `length`: n strips reach their sum less (n - 1) · `loss`.

    No strip is shorter than `least`. All strips of one run lie the same way, one of `lies`, the liked one first.
    """

    key: str
    width: Fraction
    length: Fraction
    loss: Fraction
    least: Fraction
    lies: tuple[Lie, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A rectangle of cloth in which shapes were nested: `length` along the selvage, `width` across; never turned."""

    key: str
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Choice:
    """Exactly one of `ways` is cut, whichever suits the cloth better; the first is the liked one."""

    key: str
    ways: tuple[tuple[Rectangle | Run | Block, ...], ...]


Demand = Rectangle | Run | Block | Choice
"""Something to cut. Keys are unique among all demands of a plan, those within the ways of a choice included."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Supply:
    """Cloth to cut from: `count` pieces of `width` between the selvages and of `length`; None is bought by the length.

    `squaring` is cut off at each of the two cut ends before anything else is cut; both lengths are what is left after
    washing. A plan cuts from what has a length, in the order given, before it buys; at most one supply has none.
    """

    key: str
    width: Fraction
    length: Fraction | None
    count: int
    squaring: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the demand `key`: its length runs as `lie` says."""

    key: str
    lie: Lie


@dataclass(frozen=True, slots=True, kw_only=True)
class Region:
    """A rectangle of a cloth: its corner nearest to the origin, `length` along the selvage, `width` across.

    It is a piece, or cut again, or (None) left over.
    """

    x: Fraction
    y: Fraction
    length: Fraction
    width: Fraction
    fill: Piece | Split | None

    def pieces(self) -> Iterator[tuple[Region, Piece]]:
        """Each piece in it with the region that it is, in the order of cutting."""
        match self.fill:
            case Piece():
                yield self, self.fill
            case Split():
                for part in self.fill.parts:
                    yield from part.pieces()

    def moved(self, along: Fraction, across: Fraction = Fraction(0)) -> Region:
        """The same region so many inches further along the selvage and away from it."""
        if not along and not across:
            return self
        fill = self.fill
        if isinstance(fill, Split):
            fill = replace(fill, parts=tuple(part.moved(along, across) for part in fill.parts))
        return replace(self, x=self.x + along, y=self.y + across, fill=fill)

    def leftovers(self) -> Iterator[Region]:
        """Each region in it that is left over."""
        match self.fill:
            case None:
                yield self
            case Split():
                for part in self.fill.parts:
                    yield from part.leftovers()


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """Cuts that run as `cut` says, from edge to edge of a region: `parts` lie side by side and fill it, in order of
    x where the cuts run across and of y where they run along."""

    cut: Lie
    parts: tuple[Region, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutCloth:
    """One piece of cloth as it is cut: `number` of `supply`, from 1.

    `root` is all of it between the squared ends: as long as is used of what is bought, or all of what was there. Its x
    starts at the squared end.
    """

    supply: str
    number: int
    root: Region


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """How one fabric is cut. `cloths` are those that something is cut from; `used` is the length between squared ends
    that is cut from what is bought, 0 if supplies hold everything.

    `ways` says which way each choice took, by its key, from 0. `plain` is the length that plain crosswise strips would
    use, so that what the plan saves can be said. `missing` are keys of demands, once for each piece (each run counts
    once), that no supply holds where nothing may be bought.
    """

    cloths: tuple[CutCloth, ...]
    used: Fraction
    plain: Fraction
    ways: Mapping[str, int]
    missing: tuple[str, ...]
