"""A piece of cloth drawn with every cut, to scale: full-width cuts first and heaviest, then what is cut next.

Frame of a cloth: inches, x along the selvage from the first squared end, y across. In the drawing the selvage runs from
left to right.
"""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from types import MappingProxyType
from typing import Final

from applique.cutting.diagram import LEAST_NAMED, Diagram, DrawnCut, Group, Stretch
from applique.cutting.values import Region
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    INK,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Words,
    box,
    line,
    text_width,
)
from applique.drawings.vocabulary import LEFT_OVER, ON_LEFT_OVER, disc, ring
from applique.language import Message, Speech
from applique.units import Units, as_size
from applique.words.cutting import (
    LEFT,
    SELVAGE,
    SQUARED_OFF,
    group_said,
    left_said,
    long_said,
    numbers_said,
    size_said,
)

__all__ = ["PieceNames", "common_scale", "draw_stretches", "own_scale"]

_WEIGHTS: Final = (BOLD, CUT, FINE)
"""Of cuts from selvage to selvage, of what is cut next, and of all below."""
_HATCH: Final = 4.0
"""Points from one stripe of what is cut off to square an end to the next."""
_SWATCH: Final = (9.0, 6.5)
_SMALL: Final = 7.0
_LETTER: Final = 9.0
_LABEL: Final = 13.0
"""Points from one row of numbers above the cloth to the next."""
_RING: Final = 11.5
"""Points across the ring around a single number of a band."""
_MIDDLE: Final = 3.2
"""Points from the foot of a number to its middle."""
_APART: Final = 5.0
"""Points between two of them in a row."""
_BELOW: Final = 17.0
"""Points below the cloth for its selvage, clear of the ends of cuts."""
_MOST_POINTS: Final = 5.4
"""Points for an inch at the most, so that a small piece of cloth looks small."""
_MOST_HIGH: Final = 240.0
"""Points that a cloth takes from selvage to selvage at the most."""
_SMALLER: Final = (0.62, 0.7, 0.8, 0.9, 1.0)
"""Shares of the largest scale: the first at which as much can be written is taken."""
_PAPER: Final = 72.0
"""Points of an inch of paper."""
_MOST_INCHES: Final = 72
"""Inches of cloth for an inch of paper at the most."""
_FOOT: Final = 2.0
"""Points from the foot of the drawing to the word for its selvage."""
_CLEAR: Final = 6.0
"""Between words and the ends of their piece, where the line of a selvage is."""
_SHRUNK: Final = 8.75
"""Words of 7 points are never drawn smaller than that, though a full page shows its drawings at 0.8 of their size: they
fit where words of this size do, up to the edge."""
_LEAST_HIGH: Final = 1.1
"""A line alone takes so much of its size from edge to edge of a piece."""
_WITH_FRACTION: Final = 13.0
"""Points across that a strip has at the least whose size stands along it: fractions stand out above and below words."""
_FROM_LINE: Final = 4.0
"""Points from the line that leads to a piece to its name: more than 1 mm, where a full page shows it at 0.8."""
_BEYOND: Final = 6.0
"""Points that a cut from selvage to selvage stands out over the cloth."""

_NO_OTHERS: Final[Mapping[str, Message]] = MappingProxyType({})

Box = tuple[float, float, float, float]
"""Left, bottom, width and height in points."""


class PieceNames:
    """What is said of a piece in the drawing: its letter, its size, what it is for. `sizes` are those of pieces that
    are said otherwise than other pieces, by what is cut; the letter of what is cut in `several` sizes never stands
    without the length."""

    def __init__(
        self,
        letters: Mapping[str, str],
        uses: Mapping[str, Message],
        units: Units,
        speech: Speech,
        sizes: Mapping[str, Message] = _NO_OTHERS,
        several: Container[str] = (),
    ) -> None:
        self.letters, self.uses, self.units, self.speech = letters, uses, units, speech
        self.sizes, self.several = sizes, several

    def of(self, group: Group) -> tuple[Message | str, ...]:
        """The lines that stand in a group, the most important first."""
        return (self._name(group), self.size_of(group), self.uses[group.key])

    def alone(self, group: Group) -> Message | str:
        """The line of a group that has room for one."""
        name = self._name(group)
        return long_said(group, name, self.units) if group.key in self.several else name

    def _name(self, group: Group) -> Message | str:
        letter = self.letters[group.key]
        return group_said(group, letter) if group.count > 1 else letter

    def size_of(self, group: Group) -> Message:
        """The size of the pieces of a group."""
        return self.sizes.get(group.key) or size_said(group.length, group.width, self.units)


class _Scale:
    """One stretch of the cloth in its drawing."""

    def __init__(self, diagram: Diagram, stretch: Stretch, left: float, points: float) -> None:
        self.diagram, self.stretch, self.selvages = diagram, stretch, True
        self.left, self.low, self.points = left, _BELOW, points

    def x(self, at: Fraction) -> float:
        return self.left + float(at - self.stretch.start) * self.points

    def y(self, at: Fraction) -> float:
        return self.low + float(self.diagram.width - at) * self.points

    def box(self, region: Region) -> Box:
        """Left, bottom, width and height of a region."""
        low = self.y(region.y + region.width)
        return (
            self.x(region.x),
            low,
            float(region.length) * self.points,
            float(region.width) * self.points,
        )

    def holds(self, x0: Fraction, x1: Fraction) -> bool:
        return self.stretch.start <= x0 and x1 <= self.stretch.end


def common_scale(cloths: Sequence[tuple[Diagram, PieceNames]], width: float) -> int | None:
    """Whole inches of cloth for an inch of paper at which all `cloths` can be drawn on `width` points so that
    as much is written into each as at the largest scale that it could have alone, or all but a line, which the table of
    its pieces has too; none where there is no such scale. It is no larger than that takes.
    """
    largest = [_most(diagram, width) for diagram, _ in cloths]
    wanted = [_written(*cloth, _PAPER / _inches(most)) for cloth, most in zip(cloths, largest, strict=True)]
    for share, lacking in (*((share, 0) for share in _SMALLER), (max(_SMALLER), 1)):
        inches = _inches(share * min(largest))
        points = _PAPER / inches
        if all(
            count - _written(*cloth, points) <= lacking for cloth, count in zip(cloths, wanted, strict=True)
        ):
            while inches < _MOST_INCHES and any(_reach(*cloth, _PAPER / inches) > width for cloth in cloths):
                inches += 1
            return inches
    return None


def own_scale(diagram: Diagram, names: PieceNames, width: float) -> int:
    """The same for one cloth, which always has one."""
    return common_scale(((diagram, names),), width) or _inches(_most(diagram, width))


def draw_stretches(
    diagram: Diagram, names: PieceNames, scale: int, said: Message, *, selvages: bool
) -> Iterator[Drawing]:
    """The cloth in its stretches, to be shown one below the other, an inch on paper for `scale` of cloth; its long
    edges as `selvages` or plain."""
    points = _PAPER / scale
    for stretch in diagram.stretches:
        at = _Scale(diagram, stretch, float(diagram.squaring) * points, points)
        at.selvages = selvages
        labels, below = _labels(at, names), _outside(at, names)
        rows = 1 + max((label.row for label in labels), default=0)
        at.low += _LABEL * (1 + max((label.row for label in below), default=-1))
        yield Drawing(
            width=max(_cloth_width(at), _key(at, names)[1], *(label.end for label in (*labels, *below))),
            height=at.low + float(diagram.width) * points + 2 * _BEYOND + rows * _LABEL,
            marks=tuple(_stretch(at, names, labels, below)),
            said=said,
            in_key=len(_key(at, names)[0]),
            foot=_BELOW - _BEYOND,
            is_to_scale=True,
        )


def _inches(points: float) -> int:
    """Inches of cloth for an inch of paper, so that an inch of cloth takes no more than so many points."""
    return math.ceil(_PAPER / points - 1e-9)


def _most(diagram: Diagram, width: float) -> float:
    """Points for an inch of cloth at the most."""
    longest = max(stretch.end - stretch.start for stretch in diagram.stretches) + 2 * diagram.squaring
    return min(_MOST_POINTS, width / float(longest), _MOST_HIGH / float(diagram.width))


def _reach(diagram: Diagram, names: PieceNames, points: float) -> float:
    """Points from the left edge of the drawing that what stands beside the cloth reaches."""
    scales = (_Scale(diagram, one, float(diagram.squaring) * points, points) for one in diagram.stretches)
    return max(
        (label.end for at in scales for label in (*_labels(at, names), *_outside(at, names))), default=0.0
    )


def _written(diagram: Diagram, names: PieceNames, points: float) -> int:
    """How many lines of letters and sizes find room in the pieces."""
    found = 0
    for stretch in diagram.stretches:
        at = _Scale(diagram, stretch, 0.0, points)
        for group in stretch.groups:
            found += len(_inside(at, group, names)[:2])
    return found


def _cloth_width(at: _Scale) -> float:
    return float(at.stretch.end - at.stretch.start + 2 * at.diagram.squaring) * at.points


def _stretch(
    at: _Scale, names: PieceNames, labels: Sequence[_Label], below: Sequence[_Label]
) -> Iterator[Mark]:
    diagram = at.diagram
    yield from _ends(at)
    for region in at.stretch.leftovers:
        yield from _left(at, region, names, below)
    for cut in sorted(diagram.cuts, key=lambda cut: -cut.depth):
        if at.holds(cut.x0, cut.x1):
            yield _cut(at, cut)
    left, right = at.x(at.stretch.start), at.x(at.stretch.end)
    for y in (at.y(Fraction(0)), at.y(diagram.width)):
        yield from _selvage(left, right, y) if at.selvages else (line(((left, y), (right, y)), FINE),)
    for group in at.stretch.groups:
        yield from _inside(at, group, names)
    for label in labels:
        yield from _band(at, label)
    for label in below:
        yield from _led_below(at, label)
    yield from _key(at, names)[0]


def _selvage(left: float, right: float, y: float) -> Iterator[Mark]:
    """A woven edge: two lines close together."""
    yield line(((left, y), (right, y)), FINE)
    yield line(((left, y + 1.6), (right, y + 1.6)), HAIR)


def _ends(at: _Scale) -> Iterator[Mark]:
    """What is cut off to square the ends, striped; a straight edge where the drawing goes on elsewhere."""
    diagram = at.diagram
    wide, high = float(diagram.squaring) * at.points, float(diagram.width) * at.points
    root = diagram.cloth.root
    for here, there, x in (
        (at.stretch.start, root.x, at.x(at.stretch.start) - wide),
        (at.stretch.end, root.x + diagram.length, at.x(at.stretch.end)),
    ):
        if here == there and wide:
            yield from _striped((x, at.low, wide, high))
        edge = at.x(here)
        yield line(((edge, at.low - _BEYOND), (edge, at.low + high + _BEYOND)), _WEIGHTS[0])


def _striped(place: Box) -> Iterator[Mark]:
    """What is cut off, with slanting stripes, so that it is not taken for what is left over."""
    left, low, wide, high = place
    yield box(left, low, wide, high, ink=HAIR)
    start = low - wide
    while start < low + high:
        first, last = max(0.0, low - start), min(wide, low + high - start)
        if first < last:
            yield line(((left + first, start + first), (left + last, start + last)), FINE)
        start += _HATCH


def _key(at: _Scale, names: PieceNames) -> tuple[tuple[Mark, ...], float]:
    """At the foot, what double lines, stripes and gray stand for, as far as they are drawn; and where it ends."""
    x = at.x(at.stretch.start)
    marks: list[Mark] = []
    if at.selvages:
        marks += _selvage(x, x + _SWATCH[0], _FOOT + 1.2)
        x = _named(marks, x, SELVAGE, names.speech)
    if at.diagram.squaring:
        marks += _striped((x, _FOOT - 1, *_SWATCH))
        x = _named(marks, x, SQUARED_OFF, names.speech)
    if at.stretch.leftovers:
        marks.append(box(x, _FOOT - 1, *_SWATCH, fill=LEFT_OVER, ink=HAIR))
        x = _named(marks, x, LEFT, names.speech)
    return tuple(marks), x


def _named(marks: list[Mark], x: float, said: Message, speech: Speech) -> float:
    """Writes what a swatch at `x` is; where the next one may stand."""
    start = x + _SWATCH[0] + 3
    marks.append(Words(said=said, at=(start, _FOOT), size=_SMALL, color=QUIET))
    return start + text_width(speech.tell(said), _SHRUNK) + _SWATCH[0]


def _left(at: _Scale, region: Region, names: PieceNames, below: Sequence[_Label]) -> Iterator[Mark]:
    """What is left over, and its size where it has room and no line from `below` the cloth runs through it."""
    place = at.box(region)
    yield box(*place, fill=LEFT_OVER)
    crossed = any(
        place[0] <= label.middle <= place[0] + place[2] and at.low + label.top > place[1] for label in below
    )
    if crossed or min(region.length, region.width) < LEAST_NAMED:
        return
    for said in (
        left_said(region.length, region.width, names.units),
        size_said(region.length, region.width, names.units),
    ):
        fitted = _fitted((said,), place, _SMALL, names.speech, color=ON_LEFT_OVER, high=_WITH_FRACTION)
        if fitted:
            yield from fitted
            return


def _cut(at: _Scale, cut: DrawnCut) -> Mark:
    beyond = _BEYOND if cut.depth == 1 and cut.x0 == cut.x1 else 0.0
    return line(
        ((at.x(cut.x0), at.y(cut.y0) + beyond), (at.x(cut.x1), at.y(cut.y1) - beyond)),
        _WEIGHTS[min(cut.depth, len(_WEIGHTS)) - 1],
    )


def _inside(at: _Scale, group: Group, names: PieceNames) -> tuple[Mark, ...]:
    """As many lines of a group as fit into one of its pieces, the most important first; no cut runs through them."""
    pieces = [region for region, _ in group.region.pieces()]
    place, lines = at.box(pieces[len(pieces) // 2]), names.of(group)
    for count in range(len(lines), 1, -1):
        fitted = _fitted(lines[:count], place, _LETTER, names.speech, bold=True)
        if fitted:
            return fitted
    alone, high = (names.alone(group),), _WITH_FRACTION if group.key in names.several else 0.0
    sizes = (_LETTER, _SMALL)
    fitted_alone = (_fitted(alone, place, size, names.speech, bold=True, high=high) for size in sizes)
    return next((fitted for fitted in fitted_alone if fitted), ())


def _fitted(
    lines: Sequence[Message | str],
    place: Box,
    size: float,
    speech: Speech,
    *,
    bold: bool = False,
    color: str = INK,
    high: float = 0.0,
) -> tuple[Mark, ...]:
    """`lines` in the middle of a box, upright or along it, if they fit and it is `high` points across at the least; the
    first of `size`, the others small."""
    texts = [one if isinstance(one, str) else speech.tell(one) for one in lines]
    sizes = [size] + [_SMALL] * (len(texts) - 1)
    bolds = [bold] + [False] * (len(texts) - 1)
    wide = max(
        max(
            2 * _CLEAR + text_width(text, size, bold=bold),
            4 + text_width(text, max(size, _SHRUNK), bold=bold),
        )
        for text, size, bold in zip(texts, sizes, bolds, strict=True)
    )
    high = max(high, sum(sizes) + 2 * len(sizes) if len(sizes) > 1 else sizes[0] * _LEAST_HIGH)
    level = wide <= place[2] and high <= place[3]
    if not level and not (wide <= place[3] and high <= place[2]):
        return ()
    middle = (place[0] + place[2] / 2, place[1] + place[3] / 2)
    marks: list[Mark] = []
    down = (sum(sizes) + 2 * len(sizes)) / 2
    for text, size_of, is_bold in zip(texts, sizes, bolds, strict=True):
        down -= size_of + 2
        off = down + 1 + size_of * 0.15
        at = (middle[0], middle[1] + off) if level else (middle[0] - off, middle[1])
        marks.append(
            Words(
                said=text,
                at=at,
                size=size_of,
                bold=is_bold,
                color=color,
                anchor=Anchor.MIDDLE,
                turn_deg=0.0 if level else 90.0,
            )
        )
    return tuple(marks)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Label:
    """What stands above equal bands: their numbers and how long each is, from `start` to `end`, in a `row` from 0.

    In the lowest row and over wide bands it stands over their middle, else it starts there, with a line down to it.
    """

    number: str
    each: str
    middle: float
    start: float
    end: float
    row: int
    top: float = 0.0


def _labels(at: _Scale, names: PieceNames) -> tuple[_Label, ...]:
    """The labels of all bands, from the right, each above those that it would run into."""
    found: list[_Label] = []
    for band in reversed(at.stretch.bands):
        number = names.speech.tell(numbers_said(band))
        each = names.speech.measure(as_size(band.course.size, names.units))
        left = at.x(band.x)
        right = at.x(band.x + band.course.count * band.course.size)
        wide = _ring_width(number) + _APART + text_width(each, _SMALL)
        start = (left + right - wide) / 2 if wide <= right - left else (left + right) / 2 + 1.5
        under = [label.row for label in found if label.start - _APART < start + wide]
        row = 1 + max(under, default=-1)
        found.append(
            _Label(
                number=number, each=each, middle=(left + right) / 2, start=start, end=start + wide, row=row
            )
        )
    return tuple(reversed(found))


def _outside(at: _Scale, names: PieceNames) -> tuple[_Label, ...]:
    """The labels of groups whose pieces are too small to hold them, below the cloth, from the right, each below those
    that it would run into; `middle` and `top` are in the piece that its line leads to.
    """
    found: list[_Label] = []
    small = [group for group in at.stretch.groups if not _inside(at, group, names)]
    lowest = [(at.box(list(group.region.pieces())[-1][0]), group) for group in small]
    for (left, low, wide, high), group in sorted(lowest, key=lambda one: (-one[0][0], one[0][1])):
        said = names.alone(group)
        name = said if isinstance(said, str) else names.speech.tell(said)
        middle = left + wide / 2
        while any(abs(middle - label.middle) < 1.5 for label in found):
            middle -= 2.0
        start = middle + _FROM_LINE
        end = start + text_width(name, _LETTER, bold=True)
        under = [label.row for label in found if label.start - _APART < end]
        found.append(
            _Label(
                number=name,
                each="",
                middle=middle,
                start=start,
                end=end,
                row=1 + max(under, default=-1),
                top=low + high / 2 - at.low,
            )
        )
    return tuple(reversed(found))


def _led_below(at: _Scale, label: _Label) -> Iterator[Mark]:
    """Below the cloth, the name of pieces that are too small for it, and a line to one of them."""
    low = at.low - _BEYOND - _LETTER - 1 - label.row * _LABEL
    piece = (label.middle, at.low + label.top)
    yield line(((label.middle, low), piece), HAIR)
    yield disc(piece, 1.2, fill=INK)
    yield Words(said=label.number, at=(label.start, low), size=_LETTER, bold=True)


def _band(at: _Scale, label: _Label) -> Iterator[Mark]:
    """Above the cloth, the number of equal bands in a ring, so that it is not read as part of how long each is."""
    top = at.low + float(at.diagram.width) * at.points
    low = top + _BEYOND + 5 + label.row * _LABEL
    if label.start > label.middle:
        yield line(((label.middle, top + 1), (label.middle, low + _SMALL)), HAIR)
    wide = _ring_width(label.number)
    yield ring(label.start, low + _MIDDLE - _RING / 2, wide, _RING)
    yield Words(
        said=label.number,
        at=(label.start + wide / 2, low),
        size=_LETTER,
        bold=True,
        anchor=Anchor.MIDDLE,
    )
    yield Words(said=label.each, at=(label.start + wide + _APART, low), size=_SMALL, color=QUIET)


def _ring_width(number: str) -> float:
    """Points across the ring around a number."""
    return max(_RING, text_width(number, _LETTER, bold=True) + _RING / 2)
