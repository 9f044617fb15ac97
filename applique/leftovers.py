"""What is left of every fabric, a back pieced from it in rows, or one of bought lengths widened by a strip of it.

Exact inches; a seam takes `seam` off two pieces together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from applique.quilt.finishing import BackingPlan, BackingWay

__all__ = [
    "Leftover",
    "LeftoverBacking",
    "MixedBacking",
    "Patch",
    "back_from",
    "mixed_ways",
    "patches_from_cloth",
    "patches_from_rows",
    "widened_by",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover:
    """A rectangle that is left of a fabric: `length` along the selvage, `width` across."""

    fabric: str
    length: Fraction
    width: Fraction

    @property
    def long(self) -> Fraction:
        """Its longer side."""
        return max(self.length, self.width)

    @property
    def deep(self) -> Fraction:
        """Its shorter side."""
        return min(self.length, self.width)


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftoverBacking:
    """Whether the back can be pieced from what is left: the leftovers row by row.

    The rows lie across the quilt where it `lies`, else they stand upright. `reached` is how far they come, `goal` how
    far they should.
    """

    rows: tuple[tuple[Leftover, ...], ...]
    lies: bool
    reached: Fraction
    goal: Fraction

    @property
    def enough(self) -> bool:
        """Whether the rows come far enough."""
        return self.reached >= self.goal


@dataclass(frozen=True, slots=True, kw_only=True)
class MixedBacking:
    """A back of bought lengths, widened by a strip that is pieced end to end from leftovers.

    `way` has the bought lengths and how wide the strip is cut; `strip` are its pieces, which `reach` at least as far as
    the lengths are long. `saved` is the cloth that it takes less than the back of bought lengths alone.
    """

    way: BackingWay
    strip: tuple[Leftover, ...]
    reach: Fraction
    saved: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """What shows of one piece of a back: from its lower left corner, x to the right and y up."""

    fabric: str
    x: Fraction
    y: Fraction
    width: Fraction
    height: Fraction


def mixed_ways(backing: BackingPlan) -> tuple[BackingWay, ...]:
    """Each way of a backing with one length less, the rest of it for a strip, where that takes less cloth than the
    best way alone; the least cloth first."""
    ways = (
        BackingWay(upright=way.upright, along=way.along, widths=way.widths[:-1], widened=way.widths[-1])
        for way in backing.ways
        if len(way.widths) > 1
    )
    least = min(way.length for way in backing.ways)
    return tuple(sorted((way for way in ways if way.length < least), key=lambda way: way.length))


def widened_by(
    way: BackingWay, backing: BackingPlan, pieces: Sequence[Leftover], seam: Fraction
) -> MixedBacking | None:
    """The back of `way` with its strip pieced from leftovers that are wide enough, the longest first; None if they do
    not reach."""
    long = sorted(
        ((reach, index) for index, piece in enumerate(pieces) if (reach := _reach_of(piece, way.widened))),
        key=lambda one: (-one[0], one[1]),
    )
    strip: list[Leftover] = []
    reached = Fraction(0)
    for reach, index in long:
        if reach <= seam:
            break
        reached += reach - (seam if strip else 0)
        strip.append(pieces[index])
        if reached >= way.along:
            least = min(one.length for one in backing.ways)
            return MixedBacking(way=way, strip=tuple(strip), reach=reached, saved=least - way.length)
    return None


def _reach_of(piece: Leftover, width: Fraction) -> Fraction:
    """How far a leftover reaches in a strip of that width; 0 if it is narrower both ways."""
    sides = ((piece.length, piece.width), (piece.width, piece.length))
    return max((along for along, across in sides if across >= width), default=Fraction(0))


def patches_from_cloth(
    backing: BackingPlan, way: BackingWay, fabric: str, mixed: MixedBacking | None, seam: Fraction
) -> tuple[Patch, ...]:
    """A back of lengths side by side, and its strip of leftovers if it has one."""
    across = backing.width if way.upright else backing.height
    widths = (*way.widths, way.widened) if mixed is not None else way.widths
    spans = tuple(_spans(widths, across, seam))
    patches = [_patch(fabric, span, (Fraction(0), way.along), upright=way.upright) for span in spans]
    if mixed is not None:
        reaches = [_reach_of(piece, way.widened) for piece in mixed.strip]
        patches[-1:] = [
            _patch(piece.fabric, spans[-1], along, upright=way.upright)
            for piece, along in zip(mixed.strip, _spans(reaches, way.along, seam), strict=True)
        ]
    return tuple(patches)


def patches_from_rows(backing: BackingPlan, back: LeftoverBacking, seam: Fraction) -> tuple[Patch, ...]:
    """A back of leftovers row by row."""
    across = backing.width if back.lies else backing.height
    depths = [min(piece.deep for piece in row) for row in back.rows]
    return tuple(
        _patch(piece.fabric, down, along, upright=not back.lies)
        for row, down in zip(back.rows, _spans(depths, back.goal, seam), strict=True)
        for piece, along in zip(row, _spans([piece.long for piece in row], across, seam), strict=True)
    )


def _spans(cuts: Sequence[Fraction], whole: Fraction, seam: Fraction) -> Iterator[tuple[Fraction, Fraction]]:
    """Start and size of what shows of pieces sewn side by side, the last trimmed so that they end at `whole`."""
    start, sewn = Fraction(0), Fraction(0)
    for number, cut in enumerate(cuts, 1):
        sewn += cut - (seam if number > 1 else 0)
        end = whole if number == len(cuts) else sewn - seam / 2
        yield start, end - start
        start = end


def _patch(
    fabric: str, across: tuple[Fraction, Fraction], along: tuple[Fraction, Fraction], *, upright: bool
) -> Patch:
    (x, width), (y, height) = (across, along) if upright else (along, across)
    return Patch(fabric=fabric, x=x, y=y, width=width, height=height)


def back_from(backing: BackingPlan, pieces: Sequence[Leftover], seam: Fraction) -> LeftoverBacking:
    """The back pieced in rows from leftovers, the rows lying across or standing up, whichever reaches further."""
    width, height = backing.width, backing.height
    lying, standing = (
        _rows_from(pieces, width, height, seam),
        _rows_from(pieces, height, width, seam),
    )
    (rows, reached), goal, lies = max(
        ((lying, height, True), (standing, width, False)), key=lambda tried: tried[0][1] / tried[1]
    )
    return LeftoverBacking(rows=rows, lies=lies, reached=reached, goal=goal)


def _rows_from(
    pieces: Sequence[Leftover], across: Fraction, down: Fraction, seam: Fraction
) -> tuple[tuple[tuple[Leftover, ...], ...], Fraction]:
    """Rows at least `across` long, until they are `down` high, and how high they come; seams are taken off.

    A simple layout, not the best one: the deepest pieces first, their long sides along the row, each row as high
    as its lowest piece.
    """
    left = sorted(pieces, key=lambda piece: (-piece.deep, -piece.length * piece.width))
    rows: list[tuple[Leftover, ...]] = []
    reached = Fraction(0)
    while left and reached < down:
        row: list[Leftover] = []
        long = Fraction(0)
        while left and long < across:
            piece = left.pop(0)
            long += piece.long - (seam if row else 0)
            row.append(piece)
        if long < across:
            break
        rows.append(tuple(row))
        reached += min(piece.deep for piece in row) - (seam if len(rows) > 1 else 0)
    return tuple(rows), reached
