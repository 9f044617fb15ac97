"""Borders, from the panel outward: what is cut, in which order it is sewn on, and how large the top is then.

Exact inches. Sizes named `finished` leave out the outer seam allowance; `cut` ones hold it. Data flows from one
border to the next by the finished size of the top.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from applique.design import Border, BorderKind, Corners, Fabric, First
from applique.errors import Notice, Problem, Refusal
from applique.quilt.strips import ClothCut, Extent, Join, packed_strips, pieces_across, strips_needed
from applique.units import Units, format_length, telling_apart

__all__ = ["BorderPlan", "BorderStep", "Patch", "SideStrip", "plan_borders"]

_EIGHTH: Final = Fraction(1, 8)
_MITER_EXTRA: Final = Fraction(1)
"""Added to a mitered strip, side + 2 × border + a little: published, docs/sources.md, mitered border strips."""
_MOST_PIECES: Final = 2_000
"""Squares or rectangles of one border; 1 in squares around a king-size quilt are some 450."""
_SIDES: Final = ("left", "right")
_ENDS: Final = ("top", "bottom")


@dataclass(frozen=True, slots=True, kw_only=True)
class SideStrip:
    """What is sewn to one side of the top: its pieces in order, top to bottom or left to right.

    `pieces` are (fabric, finished length); a plain strip is one piece. `cut_length` and `cut_width` hold the
    seam allowance.
    """

    side: str
    pieces: tuple[tuple[str, Fraction], ...]
    cut_length: Fraction
    cut_width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderStep:
    """One round of sewing: the strips of two sides (four with mitered corners), and the top afterwards."""

    strips: tuple[SideStrip, ...]
    finished: Extent
    cut: Extent


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """One piece as it shows in the finished quilt: its corners from the middle of the quilt, y up."""

    fabric: str
    side: str
    corners: tuple[Extent, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BorderPlan:
    """A border worked out. `before` and `finished` are the finished sizes of the top without and with it."""

    number: int
    kind: BorderKind
    width: Fraction
    corners: Corners
    before: Extent
    finished: Extent
    steps: tuple[BorderStep, ...]
    cuts: tuple[ClothCut, ...]
    patches: tuple[Patch, ...]
    notices: tuple[Notice, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Work:
    """What every border needs to know."""

    number: int
    border: Border
    before: Extent
    fabrics: Mapping[str, Fabric]
    seam_allowance: Fraction
    units: Units

    @property
    def where(self) -> str:
        return f"border {self.number}"

    def usable_width(self, fabric: str) -> Fraction:
        return self.fabrics[fabric].usable_width

    def cut(self, length: Fraction) -> Fraction:
        """A finished length with its two seam allowances."""
        return length + 2 * self.seam_allowance

    def said(self, length: Fraction) -> str:
        return format_length(length, self.units, denominator=16)


def plan_borders(
    borders: Sequence[Border],
    panel: Extent,
    fabrics: Mapping[str, Fabric],
    *,
    seam_allowance: Fraction,
    units: Units,
) -> tuple[BorderPlan, ...]:
    """Every border in order, each around the top that the ones before it made.

    Raises:
        Refusal: squares that do not come out even (with sizes that do), one fabric where two are needed,
            pieces longer than the fabric is wide, more of them than anybody would sew.
    """
    plans: list[BorderPlan] = []
    before = panel
    for number, border in enumerate(borders, 1):
        work = _Work(
            number=number,
            border=border,
            before=before,
            fabrics=fabrics,
            seam_allowance=seam_allowance,
            units=units,
        )
        plan = _PLANNERS[border.kind](work)
        plans.append(plan)
        before = plan.finished
    return tuple(plans)


def _grown(size: Extent, width: Fraction) -> Extent:
    return (size[0] + 2 * width, size[1] + 2 * width)


def _steps(work: _Work, width: Fraction, strips: Mapping[str, SideStrip]) -> tuple[BorderStep, ...]:
    """Two rounds in the order of the border, each with the size of the top after it."""
    inner_w, inner_h = work.before
    outer = _grown(work.before, width)
    sides_first = work.border.first is First.SIDES
    order = (_SIDES, _ENDS) if sides_first else (_ENDS, _SIDES)
    between = (outer[0], inner_h) if sides_first else (inner_w, outer[1])
    return tuple(
        _step(work, tuple(strips[side] for side in pair), size)
        for pair, size in zip(order, (between, outer), strict=True)
    )


def _step(work: _Work, strips: tuple[SideStrip, ...], size: Extent) -> BorderStep:
    return BorderStep(strips=strips, finished=size, cut=(work.cut(size[0]), work.cut(size[1])))


def _plan(
    work: _Work,
    width: Fraction,
    steps: tuple[BorderStep, ...],
    cuts: Iterable[ClothCut],
    notices: Sequence[Notice] = (),
) -> BorderPlan:
    return BorderPlan(
        number=work.number,
        kind=work.border.kind,
        width=width,
        corners=work.border.corners,
        before=work.before,
        finished=_grown(work.before, width),
        steps=steps,
        cuts=tuple(cuts),
        patches=tuple(_patches(work, width, steps)),
        notices=tuple(notices),
    )


def _patches(work: _Work, width: Fraction, steps: Sequence[BorderStep]) -> Iterator[Patch]:
    """Every piece of the border where it lies: sides lie along the middle of the top, so each strip is centered."""
    half_w, half_h = (side / 2 for side in work.before)
    miter = width if work.border.corners is Corners.MITERED else Fraction(0)
    for step in steps:
        for strip in step.strips:
            upright = strip.side in _SIDES
            length = sum((piece for _, piece in strip.pieces), Fraction(0))
            place = -length / 2
            for fabric, piece in reversed(strip.pieces) if upright else strip.pieces:
                near, far = place, place + piece
                place = far
                inner = half_w if upright else half_h
                sign = 1 if strip.side in ("right", "top") else -1
                along = (
                    (near + miter, inner),
                    (far - miter, inner),
                    (far, inner + width),
                    (near, inner + width),
                )
                corners = tuple((sign * out, at) if upright else (at, sign * out) for at, out in along)
                yield Patch(fabric=fabric, side=strip.side, corners=corners)


# Plain strips


def _strip_border(work: _Work) -> BorderPlan:
    width = work.border.width
    fabric = work.border.fabrics[0]
    lengths = _side_lengths(work, width)
    strips = {side: _plain_strip(work, side, fabric, length, width) for side, length in lengths.items()}
    if work.border.corners is Corners.MITERED:
        outer = _grown(work.before, width)
        mitered = tuple(strips[side] for side in (*_SIDES, *_ENDS))
        steps: tuple[BorderStep, ...] = (_step(work, mitered, outer),)
    else:
        steps = _steps(work, width, strips)
    plain = [strip.cut_length for strip in strips.values()]
    if work.border.corners is Corners.CORNERSTONES:
        plain = [work.cut(side) for side in (*work.before, *work.before)]
    cuts = [_joined_cut(work, fabric, plain, work.cut(width))]
    if work.border.corners is Corners.CORNERSTONES:
        cuts.append(
            _squares_cut(work, work.border.corner_fabric or fabric, 4, work.cut(width), "cornerstones")
        )
    return _plan(work, width, steps, cuts)


def _side_lengths(work: _Work, width: Fraction) -> dict[str, Fraction]:
    """The finished length of each side's strip: whoever is sewn second also crosses the corners."""
    across, down = work.before
    if work.border.corners is Corners.MITERED:
        return dict.fromkeys(_SIDES, down + 2 * width) | dict.fromkeys(_ENDS, across + 2 * width)
    if work.border.first is First.SIDES:
        across += 2 * width
    else:
        down += 2 * width
    return dict.fromkeys(_SIDES, down) | dict.fromkeys(_ENDS, across)


def _plain_strip(work: _Work, side: str, fabric: str, length: Fraction, width: Fraction) -> SideStrip:
    pieces: tuple[tuple[str, Fraction], ...] = ((fabric, length),)
    cut_length = work.cut(length)
    corners = work.border.corners
    if corners is Corners.MITERED:
        cut_length = length + _MITER_EXTRA
    second = _ENDS if work.border.first is First.SIDES else _SIDES
    if corners is Corners.CORNERSTONES and side in second:
        stone = work.border.corner_fabric or fabric
        pieces = ((stone, width), (fabric, length - 2 * width), (stone, width))
    return SideStrip(side=side, pieces=pieces, cut_length=cut_length, cut_width=work.cut(width))


def _joined_cut(work: _Work, fabric: str, lengths: Sequence[Fraction], strip_width: Fraction) -> ClothCut:
    """Strips for all four sides: cut whole where that takes no more strips, else joined into one run."""
    usable = work.usable_width(fabric)
    join = Join(work.border.joins)
    run = sum(lengths, Fraction(0))
    joined = strips_needed(
        run, usable_width=usable, strip_width=strip_width, join=join, seam_allowance=work.seam_allowance
    )
    listed = ", ".join(f"{count} × {work.said(length)}" for length, count in Counter(lengths).items())
    whole = packed_strips(lengths, usable) if max(lengths) <= usable else None
    if whole is not None and whole <= joined:
        strips, how = whole, f"cut {listed}, no joins"
    else:
        strips, how = joined, f"join end to end with {join} seams, then cut {listed}"
    return ClothCut(
        fabric=fabric,
        what="border strips",
        count=len(lengths),
        strips=strips,
        strip_width=strip_width,
        across=0,
        how=how,
    )


def _squares_cut(work: _Work, fabric: str, count: int, size: Fraction, what: str) -> ClothCut:
    across = pieces_across(size, work.usable_width(fabric))
    return ClothCut(
        fabric=fabric,
        what=what,
        count=count,
        strips=math.ceil(Fraction(count, across)),
        strip_width=size,
        across=across,
        how=f"cut the strips into {count} squares of {work.said(size)}, {across} from a strip",
    )


# Squares


def _squares_border(work: _Work) -> BorderPlan:
    size = work.border.size or work.border.width
    across, down = (length / size for length in work.before)
    if across.denominator != 1 or down.denominator != 1:
        raise Refusal(_uneven(work, size))
    _refuse_too_many(work, 2 * (across + down) + 4, size)
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
        _squares_cut(work, fabric, counts[fabric], work.cut(size), "squares")
        for fabric in dict.fromkeys(ring)
    ]
    return _plan(work, size, _steps(work, size, strips), cuts)


def _refuse_too_many(work: _Work, count: Fraction, size: Fraction) -> None:
    if count > _MOST_PIECES:
        raise Refusal(
            Problem(
                what=f"pieces of {work.said(size)} make {math.ceil(count):,} of them; {_MOST_PIECES:,} are the most in "
                "one border",
                where=work.where,
                fix="a larger size",
            )
        )


def _alternating(work: _Work, count: int) -> tuple[str, ...]:
    """`count` fabrics around a closed ring, in the border's order, no two neighbors alike.

    Raises:
        Refusal: one fabric only, or two around an odd ring.
    """
    fabrics = tuple(dict.fromkeys(work.border.fabrics))
    if len(fabrics) < 2:
        raise Refusal(
            Problem(
                what="squares of one fabric cannot alternate",
                where=work.where,
                fix='two fabrics or more, or kind = "strip" for a plain border',
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
                        what=f"{count} squares of {len(fabrics)} fabrics in this order bring two alike together",
                        where=work.where,
                        fix="three fabrics, or each of them once in the list",
                    )
                )
            ring[index] = other
    return tuple(ring)


def _rings_sides(
    ring: Sequence[str], across: int, down: int, *, ends_first: bool
) -> dict[str, tuple[str, ...]]:
    """The ring, clockwise from the top left corner, as four sides; the corners go to the sides sewn second."""
    right_start = across + 2
    bottom_start = right_start + down
    left_start = bottom_start + across + 2
    top = tuple(ring[:right_start])
    right = tuple(ring[right_start:bottom_start])
    bottom = tuple(reversed(ring[bottom_start:left_start]))
    left = tuple(reversed(ring[left_start:]))
    if not ends_first:
        return {"top": top, "bottom": bottom, "left": left, "right": right}
    return {
        "top": top[1:-1],
        "bottom": bottom[1:-1],
        "left": (top[0], *left, bottom[0]),
        "right": (top[-1], *right, bottom[-1]),
    }


def _uneven(work: _Work, size: Fraction) -> Problem:
    across, down = work.before
    near = _near_squares(work, size)
    said = telling_apart([(size, other) for other in near], work.units, denominator=16)
    squares = f"squares of {' or '.join(said(other) for other in near)}" if near else ""
    offers = [squares, _other_panels(work, size), _spacer(work, size)]
    return Problem(
        what=f"squares of {said(size)} do not come out even around {work.said(across)} by {work.said(down)}",
        where=work.where,
        fix="; or ".join(offer for offer in offers if offer),
    )


def _near_squares(work: _Work, size: Fraction) -> tuple[Fraction, ...]:
    """The nearest square sizes, below and above, that divide both sides."""
    good = sorted(_even_sizes(work.before))
    below = [other for other in good if other < size][-1:]
    above = [other for other in good if other > size][:1]
    return (*below, *above)


def _even_sizes(size: Extent) -> Iterator[Fraction]:
    """Square sizes from 1 to 12 in that divide both sides whole: the common measure of the sides over 1, 2, 3 …"""
    common = Fraction(
        math.gcd(size[0].numerator * size[1].denominator, size[1].numerator * size[0].denominator),
        size[0].denominator * size[1].denominator,
    )
    for parts in range(1, 400):
        if 1 <= common / parts <= 12 and ((common / parts) * 16).denominator == 1:
            yield common / parts


def _other_panels(work: _Work, size: Fraction) -> str:
    """The panel's sides taken to the nearest whole number of squares, whatever borders lie between."""
    wanted = [max(1, math.floor(length / size + Fraction(1, 2))) * size for length in work.before]
    shifts = [new - old for new, old in zip(wanted, work.before, strict=True)]

    def by(shift: Fraction) -> str:
        return f"{work.said(abs(shift))} {'more' if shift > 0 else 'less'}"

    words = [f"{side} {by(shift)}" for side, shift in zip(("width", "height"), shifts, strict=True) if shift]
    return f"a panel with {' and '.join(words)}" if words else ""


def _spacer(work: _Work, size: Fraction) -> str:
    """The narrowest plain border in eighths that makes both sides whole numbers of squares."""
    across, down = work.before
    for eighths in range(1, int(size * 8) + 1):
        width = eighths * _EIGHTH
        if all(((side + 2 * width) / size).denominator == 1 for side in (across, down)):
            return f"a plain border of {work.said(width)} before it"
    return ""


# Rectangles in a sequence


def _rectangles_border(work: _Work) -> BorderPlan:
    width = work.border.width
    length = work.border.size or width * 2
    fabrics = work.border.fabrics
    lengths = _side_lengths(work, width)
    _refuse_too_many(work, sum(lengths.values(), Fraction(0)) / length, length)
    strips: dict[str, SideStrip] = {}
    turn = 0
    for side in ("top", "right", "bottom", "left"):
        pieces = []
        left = lengths[side]
        while left > 0:
            pieces.append((fabrics[turn % len(fabrics)], min(length, left)))
            left -= length
            turn += 1
        strips[side] = SideStrip(
            side=side, pieces=tuple(pieces), cut_length=work.cut(lengths[side]), cut_width=work.cut(width)
        )
    short = {piece for strip in strips.values() for _, piece in strip.pieces if piece < length}
    said = telling_apart([(piece, length) for piece in short], work.units, denominator=16)
    notices = (
        [
            Notice(
                what=f"rectangles of {said(length)} do not fill the sides evenly; the last of a side is shorter "
                f"({', '.join(said(piece) for piece in sorted(short))} finished)",
                where=work.where,
                fix="another length",
            )
        ]
        if short
        else []
    )
    return _plan(work, width, _steps(work, width, strips), _rectangle_cuts(work, strips, width), notices)


def _rectangle_cuts(work: _Work, strips: Mapping[str, SideStrip], width: Fraction) -> Iterator[ClothCut]:
    counts: dict[str, Counter[Fraction]] = {}
    for strip in strips.values():
        for fabric, piece in strip.pieces:
            counts.setdefault(fabric, Counter())[work.cut(piece)] += 1
    for fabric, lengths in counts.items():
        every = list(lengths.elements())
        listed = ", ".join(
            f"{count} × {work.said(length)}" for length, count in sorted(lengths.items(), reverse=True)
        )
        yield ClothCut(
            fabric=fabric,
            what="rectangles",
            count=len(every),
            strips=packed_strips(every, work.usable_width(fabric)),
            strip_width=work.cut(width),
            across=0,
            how=f"cut the strips into {listed}",
        )


_PLANNERS: Final = {
    BorderKind.STRIP: _strip_border,
    BorderKind.SQUARES: _squares_border,
    BorderKind.RECTANGLES: _rectangles_border,
}
