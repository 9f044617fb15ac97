"""Stabilizer under the rows: which kind, how large a piece, and how the pieces are cut from the roll.

A piece is cut from a band across the roll; bands lie one after the other along it. Inches.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from itertools import product
from typing import Final

from applique.design import Stitch, Weave
from applique.errors import Problem, Refusal, Where
from applique.language import message
from applique.sewing.stitches import RowStitch
from applique.units import Units, round_up, to_buy

__all__ = [
    "OVERLAP",
    "Band",
    "RollPiece",
    "Stabilizer",
    "StabilizerKind",
    "StabilizerNeed",
    "StabilizerReason",
    "cut_from_roll",
    "row_stabilizer",
]

OVERLAP: Final = Fraction(1)
"""Inches by which widths that lie side by side under one row overlap: common practice, no source."""
_BORDER: Final = 1.0
"""Inches of stabilizer around the letters of a row: common practice, no source."""
_STEP: Final = Fraction(1, 8)
"""Sides of pieces are cut to the next 1/8 in: common practice, no source."""
_PLACES: Final = 6
"""Decimals of an inch that a side is measured to, so that the same letters said in metric give the same piece."""
_EVERY_WAY: Final = 5
"""Pieces of which every way to lay them is tried; six would be some 13,000 ways."""
_ROUNDS: Final = 3
"""How often each of more pieces is turned once more to see whether the roll gets shorter."""


class StabilizerKind(StrEnum):
    """What holds the cloth flat under the stitch."""

    NONE = "none"
    TEAR_AWAY = "tear-away"
    CUT_AWAY = "cut-away"


class StabilizerReason(StrEnum):
    """Why a row has the stabilizer that it has."""

    FIRM = "firm weave"
    STRAIGHT = "straight stitch on a firm weave"
    LOOSE = "loose weave"
    SLIPPERY = "slippery weave"
    STRETCHY = "stretchy weave"


_WEAVES: Final = {
    Weave.LOOSE: StabilizerReason.LOOSE,
    Weave.SLIPPERY: StabilizerReason.SLIPPERY,
    Weave.STRETCHY: StabilizerReason.STRETCHY,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Stabilizer:
    """Stabilizer under one row: its kind and why, and a piece `width` along the row by `height` as cut.

    `widths` is how many pieces of the roll lie side by side under it, 1 where it is cut whole.
    """

    kind: StabilizerKind
    reason: StabilizerReason
    width: Fraction
    height: Fraction
    widths: int


@dataclass(frozen=True, slots=True, kw_only=True)
class RollPiece:
    """One piece of a band, for a row: `length` along the roll, `width` across it."""

    row: int
    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """A band across the roll, `length` along it, with the pieces side by side in it, the longest first."""

    length: Fraction
    pieces: tuple[RollPiece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class StabilizerNeed:
    """Stabilizer of one kind from a roll of `roll_width`: the bands, their length together, and what to buy."""

    kind: StabilizerKind
    roll_width: Fraction
    bands: tuple[Band, ...]
    used: Fraction
    buy: Fraction

    @property
    def pieces(self) -> int:
        """How many pieces are cut."""
        return sum(len(band.pieces) for band in self.bands)


def row_stabilizer(
    stitch: RowStitch, weave: Weave, size: tuple[float, float], reach: float, *, roll_width: Fraction
) -> Stabilizer:
    """What suits stitch and cloth under a row whose ink is of `size`, its outline layer reaching `reach` beyond.

    Raises:
        Refusal: a roll no wider than the overlap of two widths, under a row that takes several.
    Source:
        Cut-away stays in and suits dense stitching on slippery or loose cloth, tear-away suits firm wovens
        (published, docs/sources.md, stabilizer).
    """
    kind, reason = StabilizerKind.TEAR_AWAY, StabilizerReason.FIRM
    if stitch.stitch is Stitch.STRAIGHT:
        kind, reason = StabilizerKind.NONE, StabilizerReason.STRAIGHT
    if weave in _WEAVES:
        kind, reason = StabilizerKind.CUT_AWAY, _WEAVES[weave]
    border = 2 * (_BORDER + reach)
    width, height = (round_up(Fraction(round(side + border, _PLACES)), _STEP) for side in size)
    widths = 1 if kind is StabilizerKind.NONE else _widths(min(width, height), roll_width)
    return Stabilizer(kind=kind, reason=reason, width=width, height=height, widths=widths)


def _widths(short: Fraction, roll_width: Fraction) -> int:
    if short <= roll_width:
        return 1
    if roll_width <= OVERLAP:
        raise Refusal(
            Problem(
                kind="stabilizer-too-narrow",
                what=message("the roll of stabilizer is no wider than its pieces overlap"),
                where=Where.key("stitching"),
                fix=message('stabilizer_width = "20in"'),
            )
        )
    return math.ceil((short - OVERLAP) / (roll_width - OVERLAP))


def cut_from_roll(
    stabilizers: Sequence[Stabilizer], *, roll_width: Fraction, units: Units
) -> tuple[StabilizerNeed, ...]:
    """How the stabilizer of every row, in their order, is cut from rolls: one need for each kind that is used.

    Each piece lies either way, whichever makes the roll shorter; a piece wider than the roll both ways is made from
    equal widths side by side that overlap by `OVERLAP`.
    """
    needs = []
    for kind in (StabilizerKind.TEAR_AWAY, StabilizerKind.CUT_AWAY):
        pieces = [
            piece
            for row, under in enumerate(stabilizers, 1)
            if under.kind is kind
            for piece in _pieces(row, under)
        ]
        if pieces:
            bands = _shortest(pieces, roll_width)
            used = _length(bands)
            needs.append(
                StabilizerNeed(
                    kind=kind, roll_width=roll_width, bands=bands, used=used, buy=to_buy(used, units)
                )
            )
    return tuple(needs)


def _pieces(row: int, under: Stabilizer) -> Iterable[RollPiece]:
    """The pieces under a row, the longer side of each along the roll."""
    short, long = sorted((under.width, under.height))
    width = (short + (under.widths - 1) * OVERLAP) / under.widths
    return [RollPiece(row=row, length=long, width=width)] * under.widths


def _shortest(pieces: Sequence[RollPiece], roll_width: Fraction) -> tuple[Band, ...]:
    """The shortest bands of all ways for a few pieces; for more, the shortest found by turning one after the other,
    from all along the roll and from all across."""
    both = [(piece, _turned(piece)) if piece.length <= roll_width else (piece,) for piece in pieces]
    if len(pieces) <= _EVERY_WAY:
        every = (bands for laid in product(*both) for bands in _all_bands(_in_order(laid), roll_width))
        return min(every, key=_length)
    found = []
    for start in (0, -1):
        ways = [options[start] for options in both]
        bands = _bands(ways, roll_width)
        for _ in range(_ROUNDS):
            for index, options in enumerate(both):
                for option in options:
                    other = [*ways[:index], option, *ways[index + 1 :]]
                    if _length(tried := _bands(other, roll_width)) < _length(bands):
                        bands, ways = tried, other
        found.append(bands)
    return min(found, key=_length)


def _all_bands(pieces: Sequence[RollPiece], roll_width: Fraction) -> Iterator[tuple[Band, ...]]:
    """Every way to share out pieces that are in order, each with others that leave it room or in a band of its own."""
    if not pieces:
        yield ()
        return
    *before, last = pieces
    for bands in _all_bands(before, roll_width):
        yield (*bands, Band(length=last.length, pieces=(last,)))
        for index, band in enumerate(bands):
            if sum(piece.width for piece in band.pieces) + last.width <= roll_width:
                joined = replace(band, pieces=(*band.pieces, last))
                yield (*bands[:index], joined, *bands[index + 1 :])


def _in_order(pieces: Iterable[RollPiece]) -> list[RollPiece]:
    """The longest first."""
    return sorted(pieces, key=lambda piece: (-piece.length, -piece.width, piece.row))


def _turned(piece: RollPiece) -> RollPiece:
    return RollPiece(row=piece.row, length=piece.width, width=piece.length)


def _bands(pieces: Sequence[RollPiece], roll_width: Fraction) -> tuple[Band, ...]:
    """The pieces as they lie, the longest first, each in the first band that has room for it."""
    rows: list[list[RollPiece]] = []
    rooms: list[Fraction] = []
    for piece in _in_order(pieces):
        found = next((index for index, room in enumerate(rooms) if room >= piece.width), None)
        if found is None:
            rows.append([piece])
            rooms.append(roll_width - piece.width)
        else:
            rows[found].append(piece)
            rooms[found] -= piece.width
    return tuple(Band(length=row[0].length, pieces=tuple(row)) for row in rows)


def _length(bands: Iterable[Band]) -> Fraction:
    return sum((band.length for band in bands), Fraction(0))
