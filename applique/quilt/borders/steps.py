"""In which order the strips of a border are sewn on, how large the top is after each round, and where pieces lie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Corners, First
from applique.quilt.borders.edges import grown, outer_edge
from applique.quilt.borders.values import BorderPlan, BorderStep, Corner, Patch, Side, SideStrip, Uneven
from applique.quilt.borders.work import BorderWork
from applique.quilt.strips import ClothCut, Extent

__all__ = ["ENDS", "SIDES", "border_plan", "one_round", "side_lengths", "two_rounds"]

SIDES: Final = (Side.LEFT, Side.RIGHT)
ENDS: Final = (Side.TOP, Side.BOTTOM)


def side_lengths(work: BorderWork, width: Fraction) -> dict[Side, Fraction]:
    """The finished length of each side's strip: whoever is sewn second also crosses the corners."""
    across, down = work.before
    if work.border.corners is Corners.MITERED:
        return dict.fromkeys(SIDES, down + 2 * width) | dict.fromkeys(ENDS, across + 2 * width)
    if work.border.first is First.SIDES:
        across += 2 * width
    else:
        down += 2 * width
    return dict.fromkeys(SIDES, down) | dict.fromkeys(ENDS, across)


def two_rounds(work: BorderWork, width: Fraction, strips: Mapping[Side, SideStrip]) -> tuple[BorderStep, ...]:
    """Two rounds in the order of the border, each with the size of the top after it."""
    inner_w, inner_h = work.before
    outer = grown(work.before, width)
    sides_first = work.border.first is First.SIDES
    order = (SIDES, ENDS) if sides_first else (ENDS, SIDES)
    between = (outer[0], inner_h) if sides_first else (inner_w, outer[1])
    return tuple(
        one_round(work, tuple(strips[side] for side in pair), size)
        for pair, size in zip(order, (between, outer), strict=True)
    )


def one_round(work: BorderWork, strips: tuple[SideStrip, ...], size: Extent) -> BorderStep:
    """The round that sews `strips` on, after which the finished top is of `size`."""
    return BorderStep(strips=strips, finished=size, cut=(work.raw(size[0]), work.raw(size[1])))


def border_plan(
    work: BorderWork,
    width: Fraction,
    steps: tuple[BorderStep, ...],
    cuts: Iterable[ClothCut],
    uneven: Uneven | None = None,
    alike: tuple[Corner, ...] = (),
) -> BorderPlan:
    """The border worked out: `width` finished, with where each of its pieces lies."""
    return BorderPlan(
        number=work.number,
        kind=work.border.kind,
        width=width,
        corners=work.border.corners,
        before=work.before,
        edge=outer_edge(work, width),
        steps=steps,
        cuts=tuple(cuts),
        patches=tuple(_patches(work, width, steps)),
        uneven=uneven,
        alike=alike,
    )


def _patches(work: BorderWork, width: Fraction, steps: Sequence[BorderStep]) -> Iterator[Patch]:
    """Every piece of the border where it lies: sides lie along the middle of the top, so each strip is centered."""
    half_w, half_h = (side / 2 for side in work.before)
    miter = width if work.border.corners is Corners.MITERED else Fraction(0)
    for step in steps:
        for strip in step.strips:
            upright = strip.side.upright
            length = sum((piece for _, piece in strip.pieces), Fraction(0))
            place = -length / 2
            for fabric, piece in reversed(strip.pieces) if upright else strip.pieces:
                near, far = place, place + piece
                place = far
                inner = half_w if upright else half_h
                sign = 1 if strip.side in (Side.RIGHT, Side.TOP) else -1
                along = (
                    (near + miter, inner),
                    (far - miter, inner),
                    (far, inner + width),
                    (near, inner + width),
                )
                corners = tuple((sign * out, at) if upright else (at, sign * out) for at, out in along)
                yield Patch(fabric=fabric, side=strip.side, corners=corners)
