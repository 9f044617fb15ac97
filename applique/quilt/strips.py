"""Strips cut across the fabric: how many reach a length, how many pieces each gives. Exact inches throughout."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from applique.errors import Problem, Refusal
from applique.language import message
from applique.units import Units, as_inches, telling_apart

__all__ = [
    "ClothCut",
    "CutKind",
    "Extent",
    "Join",
    "Run",
    "join_loss",
    "join_strips",
    "packed_strips",
    "pieces_across",
    "squares_from",
    "strips_needed",
]


Extent = tuple[Fraction, Fraction]
"""Width and height in exact inches."""


class Join(StrEnum):
    """How strips are joined end to end."""

    DIAGONAL = "diagonal"
    STRAIGHT = "straight"


class CutKind(StrEnum):
    """What is cut from fabric around the panel."""

    BORDER_STRIPS = "border strips"
    CORNERSTONES = "cornerstones"
    SQUARES = "squares"
    RECTANGLES = "rectangles"
    BINDING_STRIPS = "binding strips"
    BIAS_SQUARE = "bias square"


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """Strips joined end to end: by which seam, how far they reach then, and how much of that is `needed`."""

    join: Join
    reach: Fraction
    needed: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class ClothCut:
    """Pieces cut from one fabric: `strips` strips of `strip_width` across it, whole or joined into a `run` first.

    `pieces` are (length, how many) of what the strips are cut into; none where the strips are all that is wanted.
    `across` is how many equal pieces one strip gives, 0 where they are of several lengths or cut from a run.
    """

    fabric: str
    kind: CutKind
    strips: int
    strip_width: Fraction
    pieces: tuple[tuple[Fraction, int], ...]
    across: int = 0
    run: Run | None = None

    @property
    def count(self) -> int:
        """How many pieces there are, or strips where those are not cut up."""
        return sum(count for _, count in self.pieces) or self.strips

    @property
    def length(self) -> Fraction:
        """Inches of the fabric's length that the strips use up."""
        return self.strips * self.strip_width


def join_loss(join: Join, strip_width: Fraction, *, seam_allowance: Fraction) -> Fraction:
    """The length that one join uses up: a strip width on the diagonal, two seam allowances straight across."""
    return strip_width if join is Join.DIAGONAL else 2 * seam_allowance


def strips_needed(
    run: Fraction, *, usable_width: Fraction, strip_width: Fraction, join: Join, seam_allowance: Fraction
) -> int:
    """Strips to cut across the fabric so that, joined end to end, they reach `run`.

    Lengths in inches. A diagonal join uses up one strip width, a straight join two seam allowances.

    Raises:
        Refusal: a strip no longer than its own join can never reach.
    Source:
        n·usable − (n−1)·loss ≥ run, solved for n.
    """
    loss = join_loss(join, strip_width, seam_allowance=seam_allowance)
    if usable_width >= run:
        return 1
    if usable_width <= loss:
        raise Refusal(
            Problem(
                kind="strips-lost-in-joins",
                what=message(
                    "strips {strip} wide on fabric {fabric} wide lose all their length in the joins",
                    strip=as_inches(strip_width),
                    fabric=as_inches(usable_width),
                ),
                fix=message("wider fabric, narrower strips or straight joins"),
            )
        )
    return math.ceil((run - loss) / (usable_width - loss))


def join_strips(
    needed: Fraction, *, usable_width: Fraction, strip_width: Fraction, join: Join, seam_allowance: Fraction
) -> tuple[int, Run]:
    """How many strips across the fabric it takes to reach what is `needed`, and the run that they make; inches.

    Raises:
        Refusal: a strip no longer than its own join can never reach.
    """
    strips = strips_needed(
        needed, usable_width=usable_width, strip_width=strip_width, join=join, seam_allowance=seam_allowance
    )
    loss = join_loss(join, strip_width, seam_allowance=seam_allowance)
    return strips, Run(join=join, reach=strips * usable_width - (strips - 1) * loss, needed=needed)


def pieces_across(piece: Fraction, usable_width: Fraction) -> int:
    """How many pieces `piece` inches long one strip gives.

    Raises:
        Refusal: a piece longer than the fabric is wide.
    """
    if piece > usable_width:
        said = telling_apart([(piece, usable_width)], Units.INCHES)
        raise Refusal(
            Problem(
                kind="piece-wider-than-fabric",
                what=message(
                    "a piece {piece} long does not fit fabric {fabric} wide",
                    piece=said(piece),
                    fabric=said(usable_width),
                ),
                fix=message("shorter pieces or wider fabric"),
            )
        )
    return usable_width // piece


def squares_from(length: Fraction, usable_width: Fraction, square: Fraction) -> int:
    """Squares of cut size `square` from a piece of fabric: ⌊width/s⌋·⌊length/s⌋.

    Source:
        Gives the tables for a yard and a fat quarter: published, docs/sources.md, squares from a yard.
    """
    return (usable_width // square) * (length // square)


def packed_strips(lengths: Sequence[Fraction], usable_width: Fraction) -> int:
    """Strips that hold all `lengths` whole, none joined: first fit, longest first.

    Raises:
        Refusal: a length wider than the fabric.
    """
    rooms: list[Fraction] = []
    for length in sorted(lengths, reverse=True):
        pieces_across(length, usable_width)
        place = next((index for index, room in enumerate(rooms) if room >= length), None)
        if place is None:
            rooms.append(usable_width - length)
        else:
            rooms[place] -= length
    return len(rooms)
