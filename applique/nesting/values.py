"""Pieces to place and where they lie; inches, y up. No piece is ever mirrored."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product

from shapely import affinity
from shapely.geometry import MultiPolygon, Polygon

from applique.errors import Problem, Refusal
from applique.geometry.place import Place
from applique.language import Field, message
from applique.units import Units, telling_apart

__all__ = [
    "BinNest",
    "NestPiece",
    "Placement",
    "StripNest",
    "check_pieces",
    "fits",
    "nest_length",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class NestPiece:
    """A shape to place `count` times, in inches about its own origin, its margin included.

    `turns_deg` are the turns it may take, counter-clockwise about that origin.
    """

    key: str
    shape: Polygon | MultiPolygon
    count: int
    turns_deg: tuple[float, ...] = (0.0,)


@dataclass(frozen=True, slots=True, kw_only=True)
class Placement:
    """One piece laid down, in the frame of its strip, page or mat."""

    key: str
    place: Place


@dataclass(frozen=True, slots=True, kw_only=True)
class StripNest:
    """Pieces on a strip: x from 0 along its length, y from 0 to `width` across it; inches."""

    width: float
    length: float
    spacing: float
    placements: tuple[Placement, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BinNest:
    """Pieces on equal pages or mats of `width` by `height` inches, origin at their lower left corner."""

    width: float
    height: float
    spacing: float
    bins: tuple[tuple[Placement, ...], ...]


def fits(piece: NestPiece, *, width: float, height: float | None = None) -> bool:
    """Whether `piece` fits a strip `width` wide, or a page of `width` by `height`, in one of its turns."""
    for turn_deg in piece.turns_deg:
        x0, y0, x1, y1 = affinity.rotate(piece.shape, turn_deg, origin=(0.0, 0.0)).bounds
        across = (y1 - y0) <= width if height is None else (x1 - x0) <= width and (y1 - y0) <= height
        if across:
            return True
    return False


def nest_length(placements: Sequence[Placement], shapes: dict[str, Polygon | MultiPolygon]) -> float:
    """How far the placed shapes reach along the strip."""
    ends: dict[tuple[str, float], float] = {}
    for spot in placements:
        turned = (spot.key, spot.place.turn_deg)
        if turned not in ends:
            upright = Place(x=0.0, y=0.0, turn_deg=spot.place.turn_deg)
            ends[turned] = upright.shape(shapes[spot.key]).bounds[2]
    return (
        max(spot.place.x + ends[spot.key, spot.place.turn_deg] for spot in placements) if placements else 0.0
    )


def check_pieces(pieces: Sequence[NestPiece], spacing: float, *sizes: float) -> None:
    """Raise a `ValueError` for shapes, counts, keys or sizes that make no sense."""
    if not all(math.isfinite(size) and size > 0 for size in sizes) or not spacing >= 0:
        raise ValueError("a strip or page needs a positive size, and a spacing that is not negative")
    keys = [piece.key for piece in pieces]
    if len(set(keys)) < len(keys):
        raise ValueError("two pieces have the same key")
    for piece in pieces:
        if piece.count < 1 or not piece.turns_deg:
            raise ValueError(f"{piece.key} needs a count of 1 or more and a turn")
        if not (piece.shape.is_valid and piece.shape.area > 0 and math.isfinite(piece.shape.area)):
            raise ValueError(f"{piece.key} has no area that can be placed")


def too_large(pieces: Sequence[NestPiece], *room: float) -> Refusal:
    """The refusal of pieces that do not fit a strip (one side in `room`) or a page (both sides), in inches."""

    def problem(piece: NestPiece) -> Problem:
        x0, y0, x1, y1 = piece.shape.bounds
        said = telling_apart(product((x1 - x0, y1 - y0), room), Units.INCHES)
        fields: dict[str, Field] = {"piece": piece.key, "width": said(x1 - x0), "height": said(y1 - y0)}
        if len(room) == 1:
            return Problem(
                kind="piece-too-large-for-strip",
                what=message(
                    "{piece} is {width} by {height} and does not fit a strip {room} wide",
                    room=said(room[0]),
                    **fields,
                ),
                fix=message("smaller letters or a larger sheet"),
            )
        return Problem(
            kind="piece-too-large-for-page",
            what=message(
                "{piece} is {width} by {height} and does not fit a page of {across} by {down}",
                across=said(room[0]),
                down=said(room[1]),
                **fields,
            ),
            fix=message("smaller letters or a larger sheet"),
        )

    return Refusal(problem(piece) for piece in pieces)
