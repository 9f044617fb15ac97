"""A cutting plan made ready to be drawn and read: what is cut together is one group with one name.

Frame: that of the cloth, inches, x along the selvage from the first squared end, y across.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Final

from applique.cutting.values import NO_SPARE, CutCloth, Lie, Piece, Region, Split

__all__ = [
    "LEAST_NAMED",
    "Band",
    "Course",
    "Diagram",
    "DrawnCut",
    "Group",
    "Stretch",
    "draw_cloth",
    "letter_at",
    "letters_of",
    "of_several_sizes",
]

_LONGEST_STRETCH: Final = Fraction(120)
"""Inches of cloth drawn in one line; more would be too small to read on letter paper."""
_LETTERS: Final = "abcdefghijklmnopqrstuvwxyz"
LEAST_NAMED: Final = Fraction(2)
"""What is left over and narrower than this is shown, not named."""


@dataclass(frozen=True, slots=True, kw_only=True)
class DrawnCut:
    """A cut of one `depth`: 1 goes from selvage to selvage and is made first, what is cut next has 2, and so on."""

    depth: int
    x0: Fraction
    y0: Fraction
    x1: Fraction
    y1: Fraction


@dataclass(frozen=True, slots=True, kw_only=True)
class Group:
    """`count` pieces of one demand that are cut from one region; each is `length` by `width` of cloth: along the
    selvage, and across."""

    key: str
    count: int
    length: Fraction
    width: Fraction
    region: Region


@dataclass(frozen=True, slots=True, kw_only=True)
class Course:
    """Equal parts cut side by side: `count` at `size`, measured at right angles to cuts that run as `cut` says.

    `key` is what each of them is, None if it is cut on, as `then` says, or left over. All parts of one course are cut
    alike.
    """

    cut: Lie
    count: int
    size: Fraction
    key: str | None
    then: tuple[Course, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Band:
    """Equal bands from selvage to selvage, the first of which is `number`, from 1; `x` is where it starts."""

    number: int
    x: Fraction
    course: Course

    @property
    def last(self) -> int:
        """The number of the last of them."""
        return self.number + self.course.count - 1

    @property
    def numbers(self) -> range:
        """The numbers of all of them."""
        return range(self.number, self.last + 1)

    def fills(self, width: Fraction) -> bool:
        """Whether several pieces side by side take all of the usable `width`, or all but `NO_SPARE` of it."""
        beside = [part for part in self.course.then if part.key is not None or part.then]
        taken = sum((part.count * part.size for part in beside), Fraction(0))
        return sum(part.count for part in beside) > 1 and width - taken < NO_SPARE


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """What of the cloth is drawn as one, from `start` to `end`, with the bands, groups and leftovers in it."""

    start: Fraction
    end: Fraction
    bands: tuple[Band, ...]
    groups: tuple[Group, ...]
    leftovers: tuple[Region, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Diagram:
    """One piece of cloth as it is drawn: `length` by `width` between squared ends, `squaring` cut off beyond both.

    `end` is how much of a length that is bought lies beyond the last band, left over like the rest. `bands` come in the
    order of cutting; `stretches` are drawn one below the other.
    """

    cloth: CutCloth
    squaring: Fraction
    end: Fraction
    bands: tuple[Band, ...]
    cuts: tuple[DrawnCut, ...]
    stretches: tuple[Stretch, ...]

    @property
    def groups(self) -> tuple[Group, ...]:
        """What is cut together, stretch by stretch."""
        return tuple(group for stretch in self.stretches for group in stretch.groups)

    @property
    def leftovers(self) -> tuple[Region, ...]:
        """What is left over, slivers too."""
        return tuple(left for stretch in self.stretches for left in stretch.leftovers)

    def bands_of(self, group: Group) -> tuple[int, ...]:
        """The numbers of the bands that a group is cut from."""
        start, end = group.region.x, group.region.x + group.region.length
        return tuple(
            band.number + index
            for band in self.bands
            for index in range(band.course.count)
            if (x := band.x + index * band.course.size) < end and x + band.course.size > start
        )

    @property
    def length(self) -> Fraction:
        """Inches along the selvage, between squared ends."""
        return self.cloth.root.length + self.end

    @property
    def width(self) -> Fraction:
        """Inches from selvage to selvage."""
        return self.cloth.root.width


def draw_cloth(
    cloth: CutCloth,
    *,
    squaring: Fraction,
    end: Fraction = Fraction(0),
    longest: Fraction = _LONGEST_STRETCH,
) -> Diagram:
    """`cloth` with its cuts and names, and with the `end` that is left over beyond them, in stretches of at most
    `longest` inches that end where a band ends.

    A single band that is longer is one stretch of its own.
    """
    root = _with_end(cloth.root, end)
    return Diagram(
        cloth=cloth,
        squaring=squaring,
        end=end,
        bands=tuple(_bands(_parts(root), 1)),
        cuts=tuple(_cuts(root, 1)),
        stretches=tuple(_stretches(root, longest)),
    )


def _with_end(root: Region, end: Fraction) -> Region:
    """A cloth as long as it is bought: with what lies beyond its bands."""
    if not end:
        return root
    left = Region(x=root.x + root.length, y=root.y, length=end, width=root.width, fill=None)
    parts = (*_parts(root), left)
    return replace(root, length=root.length + end, fill=Split(cut=Lie.ACROSS, parts=parts))


def letters_of(diagrams: Sequence[Diagram]) -> dict[str, str]:
    """A letter for what is cut from one fabric, in the order of cutting: a to z, then aa, ab and so on."""
    keys = dict.fromkeys(group.key for diagram in diagrams for group in diagram.groups)
    return {key: letter_at(index) for index, key in enumerate(keys)}


def of_several_sizes(diagrams: Sequence[Diagram]) -> frozenset[str]:
    """What is cut from one fabric in pieces that are not all alike, as a run is whose last strip is shorter."""
    sizes: dict[str, set[tuple[Fraction, Fraction]]] = {}
    for diagram in diagrams:
        for group in diagram.groups:
            sizes.setdefault(group.key, set()).add((group.length, group.width))
    return frozenset(key for key, found in sizes.items() if len(found) > 1)


def letter_at(index: int) -> str:
    """a to z, then aa, ab and so on, from 0."""
    more, last = divmod(index, len(_LETTERS))
    return (letter_at(more - 1) if more else "") + _LETTERS[last]


def _parts(root: Region) -> tuple[Region, ...]:
    """What is cut from selvage to selvage; the whole cloth if nothing is."""
    split = root.fill
    return split.parts if isinstance(split, Split) and split.cut is Lie.ACROSS else (root,)


def _bands(parts: Sequence[Region], number: int) -> Iterator[Band]:
    """Neighboring parts of the cloth as bands, the first of which has `number`."""
    x = parts[0].x
    for course in _courses(Split(cut=Lie.ACROSS, parts=tuple(parts))):
        if course.key is not None or course.then:
            yield Band(number=number, x=x, course=course)
        number += course.count
        x += course.count * course.size


def _courses(split: Split) -> Iterator[Course]:
    for (size, key, then), parts in groupby(split.parts, key=lambda part: _kind(part, split.cut)):
        yield Course(cut=split.cut, count=len(list(parts)), size=size, key=key, then=then)


def _kind(part: Region, cut: Lie) -> tuple[Fraction, str | None, tuple[Course, ...]]:
    """What makes parts alike: their size, and what becomes of them."""
    size = part.length if cut is Lie.ACROSS else part.width
    match part.fill:
        case Piece(key=key):
            return size, key, ()
        case Split() as inner:
            return size, None, tuple(_courses(inner))
        case None:
            return size, None, ()


def _cuts(region: Region, depth: int) -> Iterator[DrawnCut]:
    """Every cut within a region. Cuts from selvage to selvage are of depth 1 wherever the plan has them."""
    split = region.fill
    if not isinstance(split, Split):
        return
    for part in split.parts[1:]:
        if split.cut is Lie.ACROSS:
            yield DrawnCut(depth=depth, x0=part.x, y0=region.y, x1=part.x, y1=region.y + region.width)
        else:
            yield DrawnCut(depth=depth, x0=region.x, y0=part.y, x1=region.x + region.length, y1=part.y)
    for part in split.parts:
        yield from _cuts(part, depth + 1)


def _groups(region: Region) -> Iterator[Group]:
    """The largest regions that hold pieces of one demand alone, all alike."""
    pieces = list(region.pieces())
    kinds = {(piece.key, at.length, at.width) for at, piece in pieces}
    if len(kinds) == 1:
        ((key, length, width),) = kinds
        yield Group(key=key, count=len(pieces), length=length, width=width, region=_around(region))
    elif isinstance(region.fill, Split):
        runs = groupby(region.fill.parts, key=lambda part: _only(part))
        for only, parts in runs:
            together = list(parts)
            if only is None or len(together) == 1:
                for part in together:
                    yield from _groups(part)
            else:
                yield from _groups(_joined(region, region.fill.cut, together))


def _only(region: Region) -> tuple[str, Fraction, Fraction] | None:
    """The kind of the pieces in a region if they are of one kind."""
    kinds = {(piece.key, at.length, at.width) for at, piece in region.pieces()}
    return next(iter(kinds)) if len(kinds) == 1 else None


def _joined(region: Region, cut: Lie, parts: Sequence[Region]) -> Region:
    """Neighboring parts of a region as one."""
    first, last = parts[0], parts[-1]
    return Region(
        x=first.x,
        y=first.y,
        length=last.x + last.length - first.x if cut is Lie.ACROSS else region.length,
        width=region.width if cut is Lie.ACROSS else last.y + last.width - first.y,
        fill=Split(cut=cut, parts=tuple(parts)),
    )


def _around(region: Region) -> Region:
    """The part of a region that its pieces reach."""
    at = [where for where, _ in region.pieces()]
    x, y = min(one.x for one in at), min(one.y for one in at)
    return Region(
        x=x,
        y=y,
        length=max(one.x + one.length for one in at) - x,
        width=max(one.y + one.width for one in at) - y,
        fill=region.fill,
    )


def _stretches(root: Region, longest: Fraction) -> Iterator[Stretch]:
    """As few stretches as hold the bands, about as long as one another."""
    parts = _parts(root)
    goal = root.length / max(1, math.ceil(root.length / longest))
    first = 0
    for index, part in enumerate(parts):
        start, end = parts[first].x, part.x + part.length
        last = index == len(parts) - 1
        longer = end if last else end + parts[index + 1].length
        if last or longer - start > longest or abs(longer - start - goal) > abs(end - start - goal):
            yield _stretch(root, parts[first : index + 1], first + 1)
            first = index + 1


def _stretch(root: Region, parts: Sequence[Region], number: int) -> Stretch:
    region = _joined(root, Lie.ACROSS, parts) if isinstance(root.fill, Split) and len(parts) > 1 else parts[0]
    return Stretch(
        start=region.x,
        end=region.x + region.length,
        bands=tuple(_bands(parts, number)),
        groups=tuple(_groups(region)),
        leftovers=tuple(region.leftovers()),
    )
