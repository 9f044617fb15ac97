"""A maker at her table, who knows a plan and printed numbers and none of our arithmetic.

She washes, squares, cuts with ruler and rotary cutter, counts, joins, sews and measures, each with the cloth that is
really in her hands. Whatever cannot be done with it is a `SpoiledError` that says what and by how much. Exact inches;
a printed length is read as a person reads it. Frame of a cloth as in `applique.cutting`: x along the selvage, y across.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from itertools import product
from typing import Final

from applique.cutting import (
    Block,
    Choice,
    CuttingPlan,
    Demand,
    Lie,
    Piece,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
)

__all__ = [
    "Cloth",
    "CutOut",
    "CutPiece",
    "Patch",
    "Side",
    "SpoiledError",
    "Strip",
    "add_border",
    "add_mitered_border",
    "count_pieces",
    "cut",
    "cut_lengths",
    "cut_plan",
    "fold_and_trim",
    "has_place",
    "join",
    "measure",
    "read",
    "sew_lengths",
    "square",
    "trim",
    "wash",
]

MM: Final = Fraction(10, 254)
"""One millimeter in inches."""
SIXTEENTH: Final = Fraction(1, 16)
TO_HOLD: Final = Fraction(1, 2)
"""What a strip must have at its end to be held, pinned and trimmed at a miter: common practice, no source."""


class SpoiledError(Exception):
    """The work cannot go on as it was told: what is wrong, and by how much."""


# What is printed

_PRINTED: Final = re.compile(
    r"(?:(?:(?P<whole>\d+) )?(?P<top>\d+)/(?P<under>\d+)|(?P<number>\d+(?:[.,]\d+)?)) (?P<unit>\w+)"
)
_UNITS: Final = {"in": Fraction(1), "yd": Fraction(36), "mm": MM, "cm": 10 * MM, "m": 1000 * MM}


def read(printed: str) -> Fraction:
    """Inches in a length as it is printed: `5 1/4 yd`, `3/8 in`, `18.5 cm`."""
    found = _PRINTED.fullmatch(printed)
    if found is None or found["unit"] not in _UNITS:
        raise SpoiledError(f"nobody can read “{printed}” off a ruler")
    if found["number"]:
        number = Fraction(found["number"].replace(",", "."))
    else:
        number = Fraction(found["whole"] or 0) + Fraction(int(found["top"]), int(found["under"]))
    return number * _UNITS[found["unit"]]


def measure(what: str, *, told: Fraction, found: Fraction, slack: Fraction) -> None:
    """Lay the tape on it: `found` may differ from what was `told` by no more than `slack`."""
    if abs(told - found) > slack:
        raise SpoiledError(f"{what} measures {found} in and should be {told} in")


# Cloth


@dataclass(frozen=True, slots=True, kw_only=True)
class Cloth:
    """One rectangle of cloth in hand: `length` along the selvage, `width` across. (x, y) is where its corner lay in
    the squared cloth that it comes from."""

    name: str
    length: Fraction
    width: Fraction
    x: Fraction = Fraction(0)
    y: Fraction = Fraction(0)

    def __post_init__(self) -> None:
        if self.length <= 0 or self.width <= 0:
            raise SpoiledError(f"{self.name}: nothing is left, {self.length} by {self.width} in")

    def halves(self, way: Lie, at: Fraction) -> tuple[Cloth, Cloth]:
        """The two rectangles that one cut from edge to edge makes; it runs as `way` says, `at` from the near edge."""
        if way is Lie.ACROSS:
            near = replace(self, length=at)
            far = replace(self, length=self.length - at, x=self.x + at)
        else:
            near = replace(self, width=at)
            far = replace(self, width=self.width - at, y=self.y + at)
        return near, far


def wash(
    name: str, bought: Fraction, *, usable: Fraction | None, sold: Fraction | None, shrinkage: Fraction
) -> Cloth:
    """What is there after washing of `bought` inches: each is (1 - `shrinkage`) of itself.

    A `usable` width is what is left after washing and never shrinks again; a `sold` one shrinks like the length. One of
    the two is known.
    """
    kept = 1 - shrinkage
    if (usable is None) == (sold is None):
        raise SpoiledError(f"{name}: one width says how wide it is, as it is sold or as it can be used")
    width = usable if sold is None else sold * kept
    assert width is not None
    return Cloth(name=name, length=bought * kept, width=width)


def square(cloth: Cloth, squaring: Fraction) -> Cloth:
    """What is left when `squaring` is trimmed from each cut end; x starts anew at the squared end."""
    return replace(cloth, length=cloth.length - 2 * squaring)


def fold_and_trim(cloth: Cloth, length: Fraction) -> tuple[Cloth, tuple[Cloth, ...]]:
    """Fold it across and trim both layers at once at half of `length` from the fold: the piece out of the middle, and
    the two ends that fall off, alike. Nothing falls off a cloth of just that length."""
    if length > cloth.length:
        raise SpoiledError(f"{cloth.name}: {length} in are wanted, short by {length - cloth.length} in")
    if length == cloth.length:
        return cloth, ()
    end = (cloth.length - length) / 2
    first, rest = cloth.halves(Lie.ACROSS, end)
    middle, last = rest.halves(Lie.ACROSS, length)
    return middle, (first, last)


# Cutting from a plan


@dataclass(frozen=True, slots=True, kw_only=True)
class CutPiece:
    """A rectangle that was cut for the demand `key`; its length runs as `lie` says."""

    key: str
    lie: Lie
    cloth: Cloth

    @property
    def length(self) -> Fraction:
        return self.cloth.length if self.lie is Lie.ALONG else self.cloth.width

    @property
    def width(self) -> Fraction:
        return self.cloth.width if self.lie is Lie.ALONG else self.cloth.length


@dataclass(frozen=True, slots=True, kw_only=True)
class CutOut:
    """All that lies on the table in the end: the pieces, what is left over, and the length cut from what was bought."""

    pieces: tuple[CutPiece, ...]
    leftovers: tuple[Cloth, ...]
    used: Fraction


def cut(cloth: Cloth, told: Region) -> Iterator[CutPiece | Cloth]:
    """Cut `cloth` as it was `told`, one cut from edge to edge after the other: pieces, and cloth that is left over."""
    _is_whole(cloth, told)
    match told.fill:
        case None:
            yield cloth
        case Piece(key=key, lie=lie):
            yield CutPiece(key=key, lie=lie, cloth=cloth)
        case Split(cut=way, parts=parts):
            if len(parts) < 2:
                raise SpoiledError(f"{_place(cloth)}: told to cut, but not where")
            in_hand: Cloth | None = cloth
            for part in parts:
                if in_hand is None:
                    raise SpoiledError(
                        f"{_place(cloth)}: no cloth is left for the part at {part.x}, {part.y}"
                    )
                taken, in_hand = _cut_off(in_hand, part, way)
                yield from cut(taken, part)
            if in_hand is not None:
                raise SpoiledError(
                    f"{_place(in_hand)}: {in_hand.length} by {in_hand.width} in left that nobody spoke of"
                )


def _place(cloth: Cloth) -> str:
    return f"{cloth.name} at {cloth.x}, {cloth.y}"


def _is_whole(cloth: Cloth, told: Region) -> None:
    """The rectangle that was told is the one in hand."""
    in_hand = (cloth.x, cloth.y, cloth.length, cloth.width)
    if (told.x, told.y, told.length, told.width) != in_hand:
        raise SpoiledError(
            f"{_place(cloth)}: {told.length} by {told.width} in at {told.x}, {told.y} is not the cloth in hand, "
            f"{cloth.length} by {cloth.width} in"
        )


def _cut_off(cloth: Cloth, part: Region, way: Lie) -> tuple[Cloth, Cloth | None]:
    """`part` cut off the near edge by a cut that runs as `way` says, and what stays in hand."""
    across = way is Lie.ACROSS
    start, reach, there = (part.x, part.length, cloth.length) if across else (part.y, part.width, cloth.width)
    near = cloth.x if across else cloth.y
    side, breadth = (part.y, part.width) if across else (part.x, part.length)
    edge, broad = (cloth.y, cloth.width) if across else (cloth.x, cloth.length)
    if reach <= 0:
        raise SpoiledError(f"{_place(cloth)}: a part of {reach} in cannot be cut")
    if start < near:
        raise SpoiledError(f"{_place(cloth)}: lies over the part before it by {near - start} in")
    if start > near:
        raise SpoiledError(f"{_place(cloth)}: {start - near} in before the part that nobody spoke of")
    if side < edge or side + breadth > edge + broad:
        over = max(edge - side, side + breadth - edge - broad)
        raise SpoiledError(f"{_place(cloth)}: goes over the edge by {over} in")
    if side > edge or breadth < broad:
        raise SpoiledError(
            f"{_place(cloth)}: a cut of {breadth} in does not go from edge to edge, {broad} in"
        )
    if reach > there:
        raise SpoiledError(f"{_place(cloth)}: short by {reach - there} in")
    return (cloth, None) if reach == there else cloth.halves(way, reach)


def cut_plan(
    plan: CuttingPlan, demands: Sequence[Demand], supplies: Sequence[Supply], *, bought: Cloth | None = None
) -> CutOut:
    """Cut everything as the plan says, from the supplies and from what was `bought` (washed, not yet squared), and
    count it."""
    pieces: list[CutPiece] = []
    leftovers: list[Cloth] = []
    used = Fraction(0)
    stack = {supply.key: supply for supply in supplies}
    taken = Counter((cloth.supply, cloth.number) for cloth in plan.cloths)
    for told in plan.cloths:
        name = f"{told.supply} {told.number}"
        supply = stack.get(told.supply)
        if supply is None or not 1 <= told.number <= supply.count:
            raise SpoiledError(f"{name}: there is no such cloth")
        if taken[told.supply, told.number] > 1:
            raise SpoiledError(f"{name}: cut already")
        if supply.length is None:
            in_hand, rest = _off_the_bolt(bought, supply, told.root.length)
            leftovers += rest
            used += told.root.length
        else:
            whole = Cloth(name=name, length=supply.length, width=supply.width)
            in_hand = square(whole, supply.squaring)
        before = len(pieces)
        for found in cut(in_hand, told.root):
            if isinstance(found, CutPiece):
                pieces.append(found)
            else:
                leftovers.append(found)
        if len(pieces) == before:
            raise SpoiledError(f"{name}: cut up for nothing")
    if used != plan.used:
        raise SpoiledError(f"{used} in of what was bought are cut, and the plan says {plan.used} in")
    _ask_for_more(plan, demands, supplies)
    count_pieces(pieces, demands, plan)
    return CutOut(pieces=tuple(pieces), leftovers=tuple(leftovers), used=used)


def _off_the_bolt(bought: Cloth | None, supply: Supply, length: Fraction) -> tuple[Cloth, list[Cloth]]:
    """`length` of what was bought, squared, and what stays of it."""
    if bought is None:
        raise SpoiledError(f"{supply.key}: nothing was bought of it")
    if bought.width != supply.width:
        raise SpoiledError(f"{bought.name}: {bought.width} in wide, and the plan is for {supply.width} in")
    squared = square(bought, supply.squaring)
    if length > squared.length:
        raise SpoiledError(f"{bought.name}: {length} in are wanted, short by {length - squared.length} in")
    if length == squared.length:
        return squared, []
    first, rest = squared.halves(Lie.ACROSS, length)
    return first, [rest]


def _ask_for_more(plan: CuttingPlan, demands: Sequence[Demand], supplies: Sequence[Supply]) -> None:
    """Nothing is missing that could be cut from more of what is bought."""
    ways = [demand.ways if isinstance(demand, Choice) else ((demand,),) for demand in demands]
    singles = [one for some in ways for way in some for one in way if one.key in plan.missing]
    for one, supply in product(singles, supplies):
        if supply.length is None and has_place(one, None, supply.width):
            raise SpoiledError(f"{one.key}: is missing although more can be bought")


def has_place(one: Rectangle | Run | Block, length: Fraction | None, width: Fraction) -> bool:
    """Whether one piece of it, or one strip that gets a run on, can be cut from cloth of `length` (None is endless)
    and `width`."""
    for lie in (Lie.ALONG,) if isinstance(one, Block) else one.lies:
        along, across = (length, width) if lie is Lie.ALONG else (width, length)
        if across is not None and one.width > across:
            continue
        if along is None or (along >= one.length and not isinstance(one, Run)):
            return True
        if isinstance(one, Run) and along >= one.least and (along > one.loss or along >= one.length):
            return True
    return False


def count_pieces(pieces: Iterable[CutPiece], demands: Sequence[Demand], plan: CuttingPlan) -> None:
    """Hold what was cut against what was wanted, each piece by its size, its direction and its count."""
    heap: dict[str, list[CutPiece]] = {}
    for piece in pieces:
        heap.setdefault(piece.key, []).append(piece)
    missing = Counter(plan.missing)
    for demand in demands:
        if isinstance(demand, Choice):
            taken = plan.ways.get(demand.key)
            if taken is None or not 0 <= taken < len(demand.ways):
                raise SpoiledError(f"{demand.key}: nobody said which way")
            wanted: Sequence[Rectangle | Run | Block] = demand.ways[taken]
        else:
            wanted = (demand,)
        for one in wanted:
            found = heap.pop(one.key, [])
            left = missing.pop(one.key, 0)
            match one:
                case Rectangle():
                    _count_rectangles(one, found, left)
                case Run():
                    _reach(one, found, left)
                case Block():
                    _count_blocks(one, found, left)
    for key in (*heap, *missing):
        raise SpoiledError(f"{key}: nobody asked for it")
    choices = {demand.key for demand in demands if isinstance(demand, Choice)}
    for key in plan.ways.keys() - choices:
        raise SpoiledError(f"{key}: a way was chosen where there is no choice")


def _count_rectangles(wanted: Rectangle, found: Sequence[CutPiece], missing: int) -> None:
    if len(found) + missing != wanted.count:
        raise SpoiledError(
            f"{wanted.key}: {wanted.count} are wanted, {len(found)} are cut, {missing} missing"
        )
    for piece in found:
        if piece.lie not in wanted.lies:
            raise SpoiledError(f"{wanted.key}: its length must not run {piece.lie} the cloth")
        _has_size(piece, wanted.length, wanted.width)


def _count_blocks(wanted: Block, found: Sequence[CutPiece], missing: int) -> None:
    if len(found) + missing != 1:
        raise SpoiledError(f"{wanted.key}: 1 is wanted, {len(found)} are cut, {missing} missing")
    for piece in found:
        if piece.lie is not Lie.ALONG:
            raise SpoiledError(f"{wanted.key}: its length must not run {piece.lie} the cloth")
        _has_size(piece, wanted.length, wanted.width)


def _has_size(piece: CutPiece, length: Fraction, width: Fraction) -> None:
    if (piece.length, piece.width) != (length, width):
        raise SpoiledError(
            f"{piece.key}: {piece.length} by {piece.width} in is cut, {length} by {width} in is wanted"
        )


def _reach(wanted: Run, found: Sequence[CutPiece], missing: int) -> None:
    """Its strips, joined end to end, reach its length, and would not with one fewer; what there is of a run that is
    missing does not reach."""
    if missing > 1 or not (found or missing):
        raise SpoiledError(f"{wanted.key}: {len(found)} strips are cut, {missing} missing")
    if len({piece.lie for piece in found}) > 1:
        raise SpoiledError(f"{wanted.key}: strips of both directions in one run")
    for piece in found:
        if piece.lie not in wanted.lies:
            raise SpoiledError(f"{wanted.key}: its strips must not run {piece.lie} the cloth")
        if piece.width != wanted.width:
            raise SpoiledError(f"{wanted.key}: a strip is {piece.width} in wide, {wanted.width} in is wanted")
        if piece.length < wanted.least:
            raise SpoiledError(
                f"{wanted.key}: a strip of {piece.length} in is shorter than {wanted.least} in"
            )
    lengths = sorted(piece.length for piece in found)
    reached = _joined(lengths, wanted)
    if missing and reached >= wanted.length:
        raise SpoiledError(f"{wanted.key}: is missing, and its strips reach {reached} in")
    if not missing and reached < wanted.length:
        raise SpoiledError(f"{wanted.key}: reaches {reached} in, short by {wanted.length - reached} in")
    if _joined(lengths[1:], wanted) >= wanted.length:
        raise SpoiledError(f"{wanted.key}: a strip of {lengths[0]} in is cut for nothing")


def _joined(lengths: Sequence[Fraction], run: Run) -> Fraction:
    if not lengths:
        return Fraction(0)
    return join([Strip(length=length, width=run.width) for length in lengths], run.loss).length


# Sewing


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """A strip with its raw edges."""

    length: Fraction
    width: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Patch:
    """Anything sewn or about to be, with its raw edges."""

    width: Fraction
    height: Fraction

    def finished(self, seam: Fraction) -> tuple[Fraction, Fraction]:
        """Its width and height once all four edges are sewn in."""
        return self.width - 2 * seam, self.height - 2 * seam


class Side(StrEnum):
    """The side of a top that something is sewn to."""

    LEFT = "left"
    RIGHT = "right"
    TOP = "top"
    BOTTOM = "bottom"


def join(strips: Sequence[Strip], loss: Fraction) -> Strip:
    """Joined end to end, each join using up `loss`: two seam allowances straight across, a strip's width on the
    diagonal. Squares and rectangles in a row are joined the same way."""
    if not strips:
        raise SpoiledError("no strip to join")
    if len({strip.width for strip in strips}) > 1:
        raise SpoiledError("strips of different widths cannot be joined end to end")
    length = strips[0].length
    for strip in strips[1:]:
        if min(length, strip.length) <= loss:
            raise SpoiledError(f"a strip of {min(length, strip.length)} in is lost in a join of {loss} in")
        length += strip.length - loss
    return Strip(length=length, width=strips[0].width)


def cut_lengths(strip: Strip, wanted: Sequence[Fraction]) -> tuple[tuple[Strip, ...], Fraction]:
    """The lengths `wanted`, cut one after the other, and what is left in the end."""
    left = strip.length
    made = []
    for length in wanted:
        if length > left:
            raise SpoiledError(f"{length} in are to be cut from {left} in, short by {length - left} in")
        made.append(Strip(length=length, width=strip.width))
        left -= length
    return tuple(made), left


def add_border(top: Patch, strip: Strip, side: Side, *, seam: Fraction, slack: Fraction) -> Patch:
    """The top with `strip` sewn to one side; it must be as long as the edge that it meets, but for `slack`, which is
    eased in."""
    upright = side in (Side.LEFT, Side.RIGHT)
    measure(
        f"the strip for the {side}",
        told=top.height if upright else top.width,
        found=strip.length,
        slack=slack,
    )
    grown = strip.width - 2 * seam
    if grown <= 0:
        raise SpoiledError(f"a strip {strip.width} in wide is lost in its seams")
    return replace(top, width=top.width + grown) if upright else replace(top, height=top.height + grown)


def add_mitered_border(top: Patch, strips: dict[Side, Strip], *, seam: Fraction) -> Patch:
    """The top with a strip on each of its four sides, its corners sewn on the diagonal. At both ends each must reach
    past the outer corner, raw edges and all, by a seam allowance beside the seam, √2 of it along the strip, and by
    something to hold."""
    if set(strips) != set(Side) or len({strip.width for strip in strips.values()}) != 1:
        raise SpoiledError("mitered corners take four strips of one width")
    grown = 2 * (strips[Side.LEFT].width - 2 * seam)
    new = Patch(width=top.width + grown, height=top.height + grown)
    for side, strip in strips.items():
        beyond = strip.length - (new.height if side in (Side.LEFT, Side.RIGHT) else new.width)
        beside = beyond / 2 - TO_HOLD
        if beside < 0 or beside**2 < 2 * seam**2:
            raise SpoiledError(
                f"the strip for the {side} does not reach its corners, {beyond} in beyond them"
            )
    return new


def sew_lengths(lengths: Sequence[Patch], *, seam: Fraction, slack: Fraction) -> Patch:
    """Lengths of cloth sewn side by side: a pieced panel or back. They must be equally high, but for `slack`."""
    if not lengths:
        raise SpoiledError("nothing to sew")
    for one in lengths:
        measure("a length", told=lengths[0].height, found=one.height, slack=slack)
    row = join([Strip(length=one.width, width=lengths[0].height) for one in lengths], 2 * seam)
    return Patch(width=row.length, height=min(one.height for one in lengths))


def trim(patch: Patch, width: Fraction, height: Fraction) -> Patch:
    """Trimmed to `width` by `height`; it must be at least as large."""
    for what, wanted, there in (("width", width, patch.width), ("height", height, patch.height)):
        if wanted > there:
            raise SpoiledError(f"its {what} cannot be trimmed to {wanted} in, short by {wanted - there} in")
    return Patch(width=width, height=height)
