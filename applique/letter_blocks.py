"""The letters of a fabric as blocks of fabric to cut, with room to spare around them: one nest over the whole width or
over less of it, or a nest on each piece held.

A nest is in inches: x along the selvage, y across, from the corner of its block.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.cutting import Block, Supply
from applique.geometry.place import Place
from applique.nesting import NestPiece, Placement, StripNest, fits, lay_strip, nest_bins
from applique.pieces import Template
from applique.units import Units, cloth_step, measured_up
from applique.yardage import StripNeed, inner_width, templates_in

__all__ = ["LetterBlock", "blocks_on", "narrow_blocks", "nested_on", "one_block"]

_COLUMNS: Final = (1, 2)
"""So many of the widest letter lie side by side in a nest that is narrower than its fabric, besides so many that the
length need not change."""
_LOST: Final = 1.1
"""What letters side by side take of a strip, of the rectangles around them; our own."""
_NOISE: Final = 1e-6
"""Inches by which a strip is wider than what it should just hold."""
_Size = tuple[Fraction, Fraction]
"""Inches along the selvage, and across."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterBlock:
    """A block of fabric and the letters that are cut from it, nested in its own frame."""

    block: Block
    nest: StripNest

    @property
    def key(self) -> str:
        """The demand of the plan that it is."""
        return self.block.key

    @property
    def area(self) -> Fraction:
        """Square inches of fabric that it takes."""
        return self.block.length * self.block.width

    def templates(self, need: StripNeed) -> tuple[Template, ...]:
        """What is cut from it, each template once."""
        return tuple(
            template
            for key in dict.fromkeys(spot.key for spot in self.nest.placements)
            for template in templates_in(need.carried[key])
        )


def one_block(need: StripNeed, key: str, units: Units) -> LetterBlock | None:
    """All letters in the one nest that was found for them; None where none is nested.

    It keeps `need.room` on each side, as far as the fabric is wide enough, and is as large as the next `cloth_step`.
    Fussy cuts are measured from the cut end and the selvage, so no room is kept there.
    """
    if need.nest is None:
        return None
    return _cut_out(need.nest, need, key, (need.nested, need.usable_width), units)


def narrow_blocks(need: StripNeed, key: str, units: Units) -> tuple[LetterBlock, ...]:
    """All letters in one block each time, nested over less than the whole width; the blocks are called `key` and a
    number. None where that takes no less fabric. Our own placement, and so the same on every run.
    """
    if need.nest is None:
        return ()
    nested = {spot.key for spot in need.nest.placements}
    pieces = [piece for piece in need.pieces if piece.key in nested]
    _, reach = _reach(need.nest.placements, need.pieces)
    found: list[LetterBlock] = []
    least = reach * need.nest.length
    for nest in _narrower(pieces, (need.nest.length, reach), need.nest.spacing, need.fixed):
        _, across = _reach(nest.placements, pieces)
        if across * nest.length < least:
            most = (_with_room(nest.length, need, units), need.usable_width)
            found.append(_cut_out(nest, need, f"{key} {len(found) + 1}", most, units))
    return tuple(found)


def nested_on(need: StripNeed, width: Fraction, units: Units) -> StripNeed:
    """The same letters nested on fabric of usable `width`; what is sewn together for large ones is kept. Our own
    placement, and so the same on every run.

    Raises:
        Refusal: a letter wider than that.
    """
    if need.nest is None:
        return need
    nested = {spot.key for spot in need.nest.placements}
    pieces = [piece for piece in need.pieces if piece.key in nested]
    inner = float(width) if need.fixed else inner_width(pieces, width, need.room)
    nest = lay_strip(pieces, width=inner, spacing=need.nest.spacing, fixed=need.fixed)
    return replace(need, usable_width=width, nest=nest, nested=_with_room(nest.length, need, units))


def blocks_on(need: StripNeed, supplies: Sequence[Supply], key: str, units: Units) -> tuple[LetterBlock, ...]:
    """The letters nested on what has a length, in its order, and the rest in one block for what is bought.

    Nothing where no letter fits any of it with some room to spare; the blocks are called `key` and a number. Our own
    placement, and so the same on every run.
    """
    large = {side.carried.key for side in need.joined}
    left = whole = [piece for piece in need.pieces if piece.key not in large]
    if need.nest is None or need.fixed:
        return ()
    found: list[LetterBlock] = []
    for supply in supplies:
        for nest, size in _nests_on(supply, left, need):
            found.append(_cut_out(nest, need, f"{key} {len(found) + 1}", size, units))
        taken = Counter(spot.key for one in found for spot in one.nest.placements)
        left = [
            replace(piece, count=piece.count - taken[piece.key])
            for piece in whole
            if piece.count > taken[piece.key]
        ]
        if not left:
            break
    if found and left:
        nest = lay_strip(left, width=need.nest.width, spacing=need.nest.spacing)
        most = (_with_room(nest.length, need, units), need.usable_width)
        found.append(_cut_out(nest, need, f"{key} {len(found) + 1}", most, units))
    return tuple(found)


def _nests_on(
    supply: Supply, left: Sequence[NestPiece], need: StripNeed
) -> Iterator[tuple[StripNest, _Size]]:
    """A nest on each piece of `supply` that some of `left` are laid on, on as little of it as is found, and how large
    that piece is.

    Half of the room around them will do there: to leave a piece in the stash that holds them costs more.
    """
    if need.nest is None or supply.length is None:
        return
    size = (supply.length - 2 * supply.squaring, supply.width)
    length, width = (float(side - need.room) for side in size)
    spacing = need.nest.spacing
    fitting = [piece for piece in left if fits(piece, width=length, height=width)]
    if not fitting:
        return
    for placements in nest_bins(
        fitting, width=length, height=width, spacing=spacing, enough=supply.count
    ).bins[: supply.count]:
        along, across = _reach(placements, fitting)
        counts = Counter(spot.key for spot in placements)
        pieces = [replace(piece, count=counts[piece.key]) for piece in fitting if counts[piece.key]]
        nests = [StripNest(width=across, length=along, spacing=spacing, placements=placements)]
        nests += [nest for nest in _narrower(pieces, (along, across), spacing) if nest.length <= length]
        yield min(nests, key=lambda nest: nest.length * _reach(nest.placements, pieces)[1]), size


def _narrower(
    pieces: Sequence[NestPiece],
    reach: tuple[float, float],
    spacing: float,
    fixed: Sequence[Placement] = (),
) -> Iterator[StripNest]:
    """`pieces` laid on strips narrower than they `reach` across: one or two of the widest beside each other, or as many
    as it takes to reach no farther along, and no narrower than those that are `fixed` reach."""
    widest = max(min(_across(piece, turn_deg) for turn_deg in piece.turns_deg) for piece in pieces)
    least = _reach(fixed, pieces)[1] if fixed else 0.0
    boxes = sum(piece.count * _box(piece) for piece in pieces)
    even = math.ceil(_LOST * boxes / (reach[0] * widest))
    widths = {max(least, columns * (widest + spacing) - spacing) for columns in (*_COLUMNS, even)}
    for width in sorted(widths):
        if width < reach[1] - _NOISE:
            yield lay_strip(pieces, width=width + _NOISE, spacing=spacing, fixed=fixed)


def _box(piece: NestPiece) -> float:
    x0, y0, x1, y1 = piece.shape.bounds
    return float((x1 - x0) * (y1 - y0))


def _across(piece: NestPiece, turn_deg: float) -> float:
    _, y0, _, y1 = Place(x=0.0, y=0.0, turn_deg=turn_deg).shape(piece.shape).bounds
    return float(y1 - y0)


def _cut_out(nest: StripNest, need: StripNeed, key: str, most: _Size, units: Units) -> LetterBlock:
    """The block for `nest`: as large as its letters reach with the room around them, and no larger than `most`.

    Where that leaves less than the room, the letters lie in the middle.
    """
    reach = _reach(nest.placements, need.pieces)
    sizes = [min(_with_room(side, need, units), limit) for side, limit in zip(reach, most, strict=True)]
    starts = [
        0.0 if need.fixed else min(float(need.room), (float(size) - side) / 2)
        for size, side in zip(sizes, reach, strict=True)
    ]
    length, width = sizes
    moved = Place(x=starts[0], y=starts[1])
    return LetterBlock(
        block=Block(key=key, length=length, width=width),
        nest=replace(
            nest,
            length=float(length),
            width=float(width),
            placements=tuple(replace(spot, place=spot.place.within(moved)) for spot in nest.placements),
        ),
    )


def _with_room(reach: float, need: StripNeed, units: Units) -> Fraction:
    """What letters that reach so far take with the room on both sides of them, or on the far one of fussy cuts."""
    room = need.room if need.fixed else 2 * need.room
    return measured_up(reach + float(room), cloth_step(units))


def _reach(placements: Sequence[Placement], pieces: Sequence[NestPiece]) -> tuple[float, float]:
    """How far the placed shapes reach along and across."""
    shapes = {piece.key: piece.shape for piece in pieces}
    bounds = [spot.place.shape(shapes[spot.key]).bounds for spot in placements]
    return max(box[2] for box in bounds), max(box[3] for box in bounds)
