"""The letters of a fabric as blocks of cloth to cut: one nest over the whole width, or a nest on each piece held.

A nest is in inches: x along the selvage, y across, from the corner of its block.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from applique.cutting import Block, Supply
from applique.nesting import NestPiece, Placement, StripNest, fits, lay_strip, nest_bins
from applique.pieces import Template
from applique.units import measured_up
from applique.yardage import StripNeed, templates_in

__all__ = ["LetterBlock", "blocks_on", "one_block"]


@dataclass(frozen=True, slots=True, kw_only=True)
class LetterBlock:
    """A block of cloth and the letters that are cut from it, nested in its own frame."""

    block: Block
    nest: StripNest

    @property
    def key(self) -> str:
        """The demand of the plan that it is."""
        return self.block.key

    def templates(self, need: StripNeed) -> tuple[Template, ...]:
        """What is cut from it, each template once."""
        return tuple(
            template
            for key in dict.fromkeys(spot.key for spot in self.nest.placements)
            for template in templates_in(need.carried[key])
        )


def one_block(need: StripNeed, key: str, grid: Fraction) -> LetterBlock | None:
    """All letters in the one nest that was found for them; None where none is nested.

    A block is as large as the next multiple of `grid`, in inches.

    Fussy cuts take the whole width, for they are measured from the selvage.
    """
    if need.nest is None:
        return None
    _, reach = _reach(need.nest.placements, need.pieces)
    width = need.usable_width if need.fixed else min(measured_up(reach, grid), need.usable_width)
    block = Block(key=key, length=need.nested, width=width)
    return LetterBlock(block=block, nest=need.nest)


def blocks_on(
    need: StripNeed, supplies: Sequence[Supply], key: str, grid: Fraction
) -> tuple[LetterBlock, ...]:
    """The letters nested on what has a length, in its order, and the rest in one block for what is bought.

    Nothing where no letter fits any of it; the blocks are called `key` and a number. Our own placement, and so the
    same on every run.
    """
    large = {side.carried.key for side in need.joined}
    left = whole = [piece for piece in need.pieces if piece.key not in large]
    if need.nest is None or need.fixed:
        return ()
    found: list[LetterBlock] = []
    for supply in supplies:
        for nest, length in _nests_on(supply, left, need.nest.spacing):
            found.append(_cut_out(nest, need.pieces, f"{key} {len(found) + 1}", (length, supply.width), grid))
        taken = Counter(spot.key for one in found for spot in one.nest.placements)
        left = [
            replace(piece, count=piece.count - taken[piece.key])
            for piece in whole
            if piece.count > taken[piece.key]
        ]
        if not left:
            break
    if found and left:
        nest = lay_strip(left, width=float(need.usable_width), spacing=need.nest.spacing)
        room = (measured_up(nest.length, grid), need.usable_width)
        found.append(_cut_out(nest, need.pieces, f"{key} {len(found) + 1}", room, grid))
    return tuple(found)


def _nests_on(
    supply: Supply, left: Sequence[NestPiece], spacing: float
) -> Iterator[tuple[StripNest, Fraction]]:
    """A nest on each piece of `supply` that some of `left` are laid on, and how long that piece is."""
    if supply.length is None or supply.length <= 2 * supply.squaring:
        return
    room = supply.length - 2 * supply.squaring
    length, width = float(room), float(supply.width)
    fitting = [piece for piece in left if fits(piece, width=length, height=width)]
    if not fitting:
        return
    found = nest_bins(fitting, width=length, height=width, spacing=spacing, enough=supply.count)
    for placements in found.bins[: supply.count]:
        yield StripNest(width=width, length=length, spacing=spacing, placements=placements), room


def _cut_out(
    nest: StripNest, pieces: Sequence[NestPiece], key: str, room: tuple[Fraction, Fraction], grid: Fraction
) -> LetterBlock:
    """`nest` with no more of its `room`, length and width, around it than its letters reach over."""
    along, across = _reach(nest.placements, pieces)
    block = Block(
        key=key, length=min(measured_up(along, grid), room[0]), width=min(measured_up(across, grid), room[1])
    )
    return LetterBlock(block=block, nest=replace(nest, length=along, width=float(block.width)))


def _reach(placements: Sequence[Placement], pieces: Sequence[NestPiece]) -> tuple[float, float]:
    """How far the placed shapes reach along and across."""
    shapes = {piece.key: piece.shape for piece in pieces}
    bounds = [spot.place.shape(shapes[spot.key]).bounds for spot in placements]
    return max(box[2] for box in bounds), max(box[3] for box in bounds)
