"""Borders of squares: a ring in which no two neighbors are alike, and what would come out even where it does not."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import First
from applique.errors import Problem, Refusal
from applique.language import Message, any_of, listed, message, messages
from applique.quilt.borders.cuts import squares_cut
from applique.quilt.borders.offers import common_measure
from applique.quilt.borders.steps import border_plan, two_rounds
from applique.quilt.borders.values import BorderPlan, Side, SideStrip
from applique.quilt.borders.work import BorderWork, refuse_too_many
from applique.quilt.strips import CutKind, Extent
from applique.units import Units, as_seam, round_near

__all__ = ["even_panels", "even_squares", "squares_border"]

_EIGHTH: Final = Fraction(1, 8)


def squares_border(work: BorderWork) -> BorderPlan:
    """A border of squares, no two neighbors alike.

    Raises:
        Refusal: squares that do not come out even (with sizes that do), fabrics that cannot alternate, or
            more squares than anybody would sew.
    """
    typed = work.border.size or work.border.width
    size = work.sewn(typed)
    across, down = (length / size for length in work.before)
    if across.denominator != 1 or down.denominator != 1:
        raise Refusal(_uneven(work, size, typed))
    refuse_too_many(work, 2 * (across + down) + 4, size)
    ring = _alternating(work, 2 * int(across + down) + 4)
    rows = _rings_sides(ring, int(across), int(down), ends_first=work.border.first is First.ENDS)
    strips = {
        side: SideStrip(
            side=side,
            pieces=tuple((fabric, size) for fabric in fabrics),
            cut_length=work.cut(len(fabrics) * size),
            cut_width=work.cut(size),
        )
        for side, fabrics in rows.items()
    }
    counts = Counter(ring)
    cuts = [
        squares_cut(fabric, counts[fabric], work.cut(size), CutKind.SQUARES) for fabric in dict.fromkeys(ring)
    ]
    return border_plan(work, size, two_rounds(work, size, strips), cuts)


def _alternating(work: BorderWork, count: int) -> tuple[str, ...]:
    """`count` fabrics around a closed ring, in the border's order, no two neighbors alike.

    Raises:
        Refusal: one fabric only, or two around an odd ring.
    """
    fabrics = tuple(dict.fromkeys(work.border.fabrics))
    if len(fabrics) < 2:
        raise Refusal(
            Problem(
                kind="squares-of-one-fabric",
                what=message("squares of one fabric cannot alternate"),
                where=work.where,
                fix=message('two fabrics or more, or kind = "strip" for a plain border'),
            )
        )
    ring = [work.border.fabrics[index % len(work.border.fabrics)] for index in range(count)]
    for index in range(count):
        neighbors = {ring[index - 1], ring[(index + 1) % count]}
        if ring[index] == ring[index - 1]:
            other = next((fabric for fabric in fabrics if fabric not in neighbors), None)
            if other is None:
                raise Refusal(
                    Problem(
                        kind="squares-alike-together",
                        what=messages(
                            "{count} square of {fabrics} fabrics in this order brings two alike together",
                            "{count} squares of {fabrics} fabrics in this order bring two alike together",
                            count,
                            fabrics=len(fabrics),
                        ),
                        where=work.where,
                        fix=message("three fabrics, or each of them once in the list"),
                    )
                )
            ring[index] = other
    return tuple(ring)


def _rings_sides(
    ring: Sequence[str], across: int, down: int, *, ends_first: bool
) -> dict[Side, tuple[str, ...]]:
    """The ring, clockwise from the top left corner, as four sides; the corners go to the sides sewn second."""
    right_start = across + 2
    bottom_start = right_start + down
    left_start = bottom_start + across + 2
    top = tuple(ring[:right_start])
    right = tuple(ring[right_start:bottom_start])
    bottom = tuple(reversed(ring[bottom_start:left_start]))
    left = tuple(reversed(ring[left_start:]))
    if not ends_first:
        return {Side.TOP: top, Side.BOTTOM: bottom, Side.LEFT: left, Side.RIGHT: right}
    return {
        Side.TOP: top[1:-1],
        Side.BOTTOM: bottom[1:-1],
        Side.LEFT: (top[0], *left, bottom[0]),
        Side.RIGHT: (top[-1], *right, bottom[-1]),
    }


def _uneven(work: BorderWork, size: Fraction, typed: Fraction) -> Problem:
    across, down = work.before
    fix = _either(_ways_out(work, size))
    if typed == size:
        return Problem(
            kind="squares-uneven",
            what=message(
                "squares of {size} do not come out even around {width} by {height}",
                size=work.said(size),
                width=work.said(across),
                height=work.said(down),
            ),
            where=work.where,
            fix=fix,
        )
    return Problem(
        kind="cut-squares-uneven",
        what=message(
            "squares cut {cut} finish at {size}, which does not come out even around {width} by {height}",
            cut=work.said(work.cut(size)),
            size=work.said(size),
            width=work.said(across),
            height=work.said(down),
        ),
        where=work.where,
        fix=fix,
    )


def _ways_out(work: BorderWork, size: Fraction) -> Sequence[Message]:
    """What to try; where two seams are no size that can be cut, that is the first thing to change."""
    seams = round_near(2 * work.seam_allowance, work.step)
    if seams != 2 * work.seam_allowance:
        seam = as_seam(seams / 2, work.units)
        return [message("a seam_allowance of {seam}: two of it are a size you can cut", seam=seam)]
    near = even_squares(work.before, size, step=work.step)
    squares = message("squares of {sizes}", sizes=any_of([work.said(one) for one in near])) if near else None
    return [offer for offer in (squares, _other_panels(work, size), _spacer(work, size)) if offer]


def _either(offers: Sequence[Message]) -> Message:
    """What to try, of one to three ways out that there may be, each long enough to have commas of its own."""
    match offers:
        case [one]:
            return one
        case [one, other]:
            return message("{one}; or {other}", one=one, other=other)
        case [one, other, last]:
            return message("{one}; or {other}; or {last}", one=one, other=other, last=last)
        case _:
            return message("squares of another size")


def even_squares(before: Extent, size: Fraction, *, step: Fraction) -> tuple[Fraction, ...]:
    """The nearest finished sizes of squares, one below and one above `size`, that divide both sides of `before` whole.

    They are multiples of `step`, from 1 to 12 in.
    """
    good = sorted(_even_sizes(before, step))
    below = [other for other in good if other < size][-1:]
    above = [other for other in good if other > size][:1]
    return (*below, *above)


def even_panels(panel: Extent, before: Extent, size: Fraction) -> tuple[Extent, Extent]:
    """The panel nearest to `panel`, and the nearest that is no smaller, with which every side of the top within the
    border is a whole number of squares finished at `size`. It is `before` now, whatever borders lie in it."""
    nearest = [max(1, math.floor(side / size + Fraction(1, 2))) * size for side in before]
    above = [math.ceil(side / size) * size for side in before]
    (one, two), (three, four) = (
        [inner + new - old for inner, new, old in zip(panel, sides, before, strict=True)]
        for sides in (nearest, above)
    )
    return (one, two), (three, four)


def _even_sizes(size: Extent, step: Fraction) -> Iterator[Fraction]:
    """Square sizes from 1 to 12 in, multiples of `step`, that divide both sides whole.

    They are the common measure of the sides over 1, 2, 3 …
    """
    common = common_measure(*size)
    for parts in range(1, 400):
        if 1 <= common / parts <= 12 and (common / parts / step).denominator == 1:
            yield common / parts


def _other_panels(work: BorderWork, size: Fraction) -> Message | None:
    """The panel's sides taken to the nearest whole number of squares, whatever borders lie between."""
    wanted, _ = even_panels(work.before, work.before, size)
    shifts = [new - old for new, old in zip(wanted, work.before, strict=True)]
    changes = [_change(work, shift, across=index == 0) for index, shift in enumerate(shifts) if shift]
    return message("a panel with {changes}", changes=listed(changes)) if changes else None


def _change(work: BorderWork, shift: Fraction, *, across: bool) -> Message:
    by = work.said(abs(shift))
    if across:
        return message("width {by} more", by=by) if shift > 0 else message("width {by} less", by=by)
    return message("height {by} more", by=by) if shift > 0 else message("height {by} less", by=by)


def _spacer(work: BorderWork, size: Fraction) -> Message | None:
    """The narrowest plain border, in eighths or whole millimeters, that makes both sides whole numbers of squares."""
    across, down = work.before
    step = _EIGHTH if work.units is Units.INCHES else work.step
    for steps in range(1, int(size / step) + 1):
        width = steps * step
        if all(((side + 2 * width) / size).denominator == 1 for side in (across, down)):
            return message("a plain border of {width} before it", width=work.said(width))
    return None
