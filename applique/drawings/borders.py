"""How borders are pieced, drawn: rows in their order, strips joined end to end, a mitered corner.

Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.colors import reads_on
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    GONE,
    HAIR,
    NARROW,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
    path,
    text_width,
)
from applique.drawings.vocabulary import (
    RIGHT_SIDE,
    SECOND_SIDE,
    arrow,
    dimension,
    disc,
    fold,
    leader,
    right_side,
    seam,
    wrong_side,
)
from applique.geometry.points import Matrix, Point
from applique.language import Message, Speech
from applique.quilt.borders import BorderPlan, BorderStep, Side, SideStrip
from applique.quilt.strips import Join
from applique.units import Units, as_seam, as_size
from applique.words.instructions import borders as said
from applique.words.instructions.finishing import FOLD

__all__ = ["Named", "draw_join", "draw_miter", "draw_rows"]

_LETTER: Final = 8.0
_SMALL: Final = 7.0
_LEAST: Final = 13.0
"""Points that a piece of a row is wide at the least, so that its letter has room."""
_MOST: Final = 26.0
_LINE: Final = 4.0
"""Points between the lines of a row."""
_NAME: Final = 12.0
_NUMBER: Final = 9.0
_SEWN: Final = replace(BOLD, dashes=(3.0, 1.8))


@dataclass(frozen=True, slots=True, kw_only=True)
class Named:
    """A fabric as it is named in drawings: its letter, its color, and the names of the pieces that are cut from it."""

    letter: str
    color: str
    pieces: tuple[Message, ...]


# Rows


def draw_rows(
    border: BorderPlan, step: BorderStep, fabrics: Mapping[str, Named], width: float, speech: Speech
) -> Drawing:
    """The rows of a round, each lying, its pieces in their order with the letters of their fabrics; a key below."""
    blocks = [_row(border, strip, fabrics, width, speech) for strip in step.strips]
    key = list(_key(step, fabrics, width, speech))
    foot = sum(high for high, _ in key)
    height = sum(high for high, _ in blocks) + foot + 4
    marks: list[Mark] = []
    y = height
    for high, found in (*blocks, *key):
        y -= high
        marks += _moved(found, (0.0, y))
    return Drawing(
        width=width,
        height=height,
        marks=tuple(marks),
        said=said.rows_drawn_said(step),
        in_key=sum(len(found) for _, found in key),
        foot=foot,
        narrow=draw_rows(border, step, fabrics, NARROW, speech) if width > NARROW else None,
    )


def _row(
    border: BorderPlan, strip: SideStrip, fabrics: Mapping[str, Named], width: float, speech: Speech
) -> tuple[float, list[Mark]]:
    """A row in as many lines as its pieces take, and how high it is."""
    most = max(1, int(width / _LEAST))
    lines = math.ceil(len(strip.pieces) / most)
    count = math.ceil(len(strip.pieces) / lines)
    longest = max(
        sum(length for _, length in strip.pieces[at : at + count])
        for at in range(0, len(strip.pieces), count)
    )
    deep = float(border.width)
    scale = min(width / float(longest), _MOST / deep)
    high = max(_LEAST, deep * scale)
    odd = _odd(border, strip.side)
    below = 9.0 if odd else 0.0
    tall = _NAME + lines * (high + below + _LINE) + 2
    marks: list[Mark] = [*_ends(strip.side, min(width, float(longest) * scale), tall, speech)]
    for index in range(lines):
        low = tall - _NAME - (index + 1) * (high + below) - index * _LINE + below
        pieces = strip.pieces[index * count : (index + 1) * count]
        x = 0.0
        for place, (wide, (fabric, _)) in enumerate(zip(_widths(pieces, scale, width), pieces, strict=True)):
            named = fabrics[fabric]
            marks.append(box(x, low, wide, high, fill=named.color, ink=FINE))
            marks.append(_letter(named, (x + wide / 2, low + high / 2)))
            words = odd.get(index * count + place + 1)
            if words is not None:
                half = text_width(speech.tell(words), _SMALL) / 2
                at = min(max(x + wide / 2, half), width - half)
                marks.append(Words(said=words, at=(at, low - 7.5), size=_SMALL, anchor=Anchor.MIDDLE))
            x += wide
    return tall, marks


def _widths(pieces: Sequence[tuple[str, Fraction]], scale: float, width: float) -> list[float]:
    """How wide each piece is drawn: to scale, but none too narrow for its letter; long ones give way."""
    wide = [max(_LEAST, float(length) * scale) for _, length in pieces]
    over = sum(wide) - width
    if over > 0:
        room = sum(one - _LEAST for one in wide)
        wide = [one - over * (one - _LEAST) / room for one in wide]
    return wide


def _odd(border: BorderPlan, side: Side) -> dict[int, Message]:
    """By its place, what is said beside a piece that is not as long as the others."""
    if border.uneven is None:
        return {}
    return {
        piece.place: said.odd_drawn_said(shorter=piece.length < border.uneven.length)
        for piece in border.uneven.pieces
        if piece.side is side
    }


def _ends(side: Side, width: float, tall: float, speech: Speech) -> Iterator[Mark]:
    """The name of a row, and which of its ends is which."""
    start, end = said.ends_said(side)
    y = tall - 9
    name = speech.tell(said.row_tick(side))
    yield Words(said=name, at=(0.0, y), size=_LETTER, bold=True)
    yield Words(said=start, at=(text_width(name, _LETTER, bold=True) + 8, y), size=_SMALL, color=QUIET)
    yield Words(said=end, at=(width, y), size=_SMALL, color=QUIET, anchor=Anchor.END)


def _letter(named: Named, at: Point) -> Words:
    return Words(
        said=named.letter,
        at=(at[0], at[1] - 0.36 * _LETTER),
        size=_LETTER,
        bold=True,
        color=reads_on(named.color),
        anchor=Anchor.MIDDLE,
    )


def _key(
    step: BorderStep, fabrics: Mapping[str, Named], width: float, speech: Speech
) -> Iterator[tuple[float, list[Mark]]]:
    """Which letter is which fabric, and the pieces of it, in lines, each with how high it is."""
    names = dict.fromkeys(fabric for strip in step.strips for fabric, _ in strip.pieces)
    held: list[Mark] = []
    x = 0.0
    for name in names:
        named = fabrics[name]
        chip = max(12.0, text_width(named.letter, _LETTER, bold=True) + 5)
        words = said.key_said(name, named.pieces)
        wide = chip + 5 + text_width(speech.tell(words), _LETTER) + 16
        if held and x + wide > width:
            yield 16.0, held
            held, x = [], 0.0
        held.append(box(x, 1.0, chip, 12.0, fill=named.color, ink=FINE))
        held.append(_letter(named, (x + chip / 2, 7.0)))
        held.append(Words(said=words, at=(x + chip + 5, 4.0), size=_LETTER))
        x += wide
    yield 16.0, held


def _moved(marks: Sequence[Mark], by: Point) -> Iterator[Mark]:
    onto: Matrix = (1.0, 0.0, 0.0, 1.0, *by)
    for mark in marks:
        if isinstance(mark, Shape):
            yield replace(mark, outline=mark.outline.transformed(onto))
        else:
            yield replace(mark, at=(mark.at[0] + by[0], mark.at[1] + by[1]))


# Joined strips

_BESIDE: Final = 6.0
"""Points to the left of them, for a measure."""
_STEP: Final = 74.0
"""Points of each picture of a join."""


def draw_join(join: Join, width: Fraction, seam_allowance: Fraction, units: Units, speech: Speech) -> Drawing:
    """Two strips joined end to end, in three pictures on the diagonal, in two straight across."""
    across = speech.measure(as_size(width, units))
    allowance = speech.measure(as_seam(seam_allowance, units))
    pictures = (
        (_crossing(across), _trimmed_off(allowance), _opened(slanted=True))
        if join is Join.DIAGONAL
        else (_end_to_end(across, allowance), _opened(slanted=False))
    )
    marks: list[Mark] = []
    for number, found in enumerate(pictures):
        marks += _moved(list(found), (_BESIDE + number * (_STEP + 6), 0.0))
        marks.append(
            Words(said=str(number + 1), at=(_BESIDE + number * (_STEP + 6), 88.0), size=_NUMBER, bold=True)
        )
    return Drawing(
        width=_BESIDE + len(pictures) * (_STEP + 6) - 6,
        height=98.0,
        marks=tuple(marks),
        said=said.join_drawn_said(join),
    )


_LYING: Final = ((0.0, 52.0), (56.0, 52.0), (56.0, 80.0), (0.0, 80.0))
_OVER: Final = ((28.0, 16.0), (56.0, 16.0), (56.0, 80.0), (28.0, 80.0))


def _crossing(wide: str) -> Iterator[Mark]:
    """One strip lying right side up, the other hanging down over its end, wrong side up."""
    yield from right_side(_LYING)
    yield from wrong_side(_OVER)
    yield line(((28.0, 80.0), (56.0, 52.0)), _SEWN)
    yield from dimension((28.0, 11.0), (56.0, 11.0), wide, off=-9.0)


def _trimmed_off(allowance: str) -> Iterator[Mark]:
    """The corner outside of the stitching cut off."""
    off = 8.0
    yield from right_side(((0.0, 52.0), (28.0, 52.0), (28.0, 80.0), (0.0, 80.0)))
    yield from wrong_side(((28.0, 16.0), (56.0, 16.0), (56.0, 52.0 + off), (28.0 + off, 80.0), (28.0, 80.0)))
    yield line(((28.0 + off, 80.0), (56.0, 80.0), (56.0, 52.0 + off)), GONE)
    yield line(((28.0, 80.0), (56.0, 52.0)), _SEWN)
    yield line(((28.0 + off, 80.0), (56.0, 52.0 + off)), BOLD)
    middle = (28.0 + 56.0 + off) / 2, (80.0 + 52.0 + off) / 2
    yield line(((middle[0] - off / 2, middle[1] - off / 2), (middle[0], middle[1])), CUT)
    yield line(((middle[0] - off / 4, middle[1] - off / 4), (12.0, 40.0)), HAIR)
    yield Words(said=allowance, at=(25.0, 32.0), size=_SMALL, anchor=Anchor.END)


def _opened(*, slanted: bool) -> Iterator[Mark]:
    """One long strip, its seam pressed open."""
    yield from right_side(((0.0, 52.0), (_STEP, 52.0), (_STEP, 80.0), (0.0, 80.0)))
    yield line(((23.0, 80.0), (51.0, 52.0)) if slanted else ((37.0, 80.0), (37.0, 52.0)), CUT)


def _end_to_end(wide: str, allowance: str) -> Iterator[Mark]:
    """One strip upon the other, wrong side up, their ends even."""
    yield from right_side(((0.0, 52.0), (56.0, 52.0), (56.0, 80.0), (0.0, 80.0)))
    yield from wrong_side(((12.0, 52.0), (56.0, 52.0), (56.0, 80.0), (12.0, 80.0)))
    yield line(((49.0, 80.0), (49.0, 52.0)), _SEWN)
    yield from dimension((49.0, 48.0), (56.0, 48.0), "")
    yield Words(said=allowance, at=(52.5, 38.0), size=_SMALL, anchor=Anchor.MIDDLE)
    yield from dimension((-4.0, 52.0), (-4.0, 80.0), "")
    yield Words(said=wide, at=(0.0, 38.0), size=_SMALL, anchor=Anchor.START)


# A mitered corner

_FIELD: Final = 150.0
_HIGH: Final = 118.0
_STRIP: Final = 30.0
"""Points that a strip is wide beyond its seam."""
_PEEPS: Final = 4.0
"""Points of the strip below that are seen beyond the one on it."""
_CORNER: Final = (72.0, 62.0)
"""Where the corner of the top lies, in the first and the last picture."""


def draw_miter(
    border: BorderPlan,
    step: BorderStep,
    seam_allowance: Fraction,
    names: Mapping[Side, str],
    units: Units,
    speech: Speech,
) -> Drawing:
    """The upper right corner mitered, in three pictures: strips sewn on, the top folded to sew on a line, opened.

    The strips carry their `names` where both are seen.
    """
    strip = step.strips[0]
    beyond = border.overhang(strip, seam_allowance) + seam_allowance
    over = float(beyond / (strip.cut_width - seam_allowance)) * _STRIP
    allowance = speech.measure(as_seam(seam_allowance, units))
    lying, upright = names.get(Side.TOP, ""), names.get(Side.RIGHT, "")
    named = tuple(_strip_names(lying, upright))
    pictures = ((*_strips_on(over, allowance), *named), _folded(over, lying, upright), (*_closed(), *named))
    marks: list[Mark] = []
    for number, found in enumerate(pictures):
        marks += _moved(list(found), (number * (_FIELD + 12), 0.0))
        marks.append(
            Words(said=str(number + 1), at=(number * (_FIELD + 12), _HIGH - 8), size=_NUMBER, bold=True)
        )
    return Drawing(
        width=3 * (_FIELD + 12) - 12, height=_HIGH, marks=tuple(marks), said=said.miter_drawn_said()
    )


def _strip_names(lying: str, upright: str) -> Iterator[Mark]:
    """The names of the strip along the top and of the one down the side, each along its strip."""
    x, y = _CORNER
    off = 0.36 * _LETTER
    at = (x / 2, y + _STRIP / 2 - off)
    yield Words(said=lying, at=at, size=_LETTER, bold=True, anchor=Anchor.MIDDLE)
    at = (x + _STRIP / 2 + off, y / 2)
    yield Words(said=upright, at=at, size=_LETTER, bold=True, anchor=Anchor.MIDDLE, turn_deg=90.0)


def _strips_on(over: float, allowance: str) -> Iterator[Mark]:
    """The corner of the top with both strips, which reach past it; their seams stop at it."""
    x, y = _CORNER
    yield from right_side(((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)), fill=SECOND_SIDE)
    end = min(over, _HIGH - y - 2)
    yield from right_side(((0.0, y), (x + end, y), (x + end, y + _STRIP), (0.0, y + _STRIP)))
    yield from right_side(((x, 0.0), (x + _STRIP, 0.0), (x + _STRIP, y + end), (x, y + end)))
    yield line(((0.0, y), (x, y)), _SEWN)
    yield line(((x, 0.0), (x, y)), _SEWN)
    yield disc((x, y), 2.6, fill=PAPER, ink=BOLD)
    yield from leader((x + _STRIP + 6, y - 14.0), (x + 2.4, y - 1.2), allowance)
    yield fold(((x - y, 0.0), (x - 2, y - 2)))
    yield from arrow((x - 6, y - 46), (x - 46, y - 6), CUT)


def _folded(over: float, lying: str, upright: str) -> Iterator[Mark]:
    """The top folded diagonally, wrong side out, the `upright` strip of the picture before on the one `lying` along
    the top, which peeps out so that it can be named."""
    corner, low = (78.0, 50.0), 50.0
    end, top = corner[0] + min(over, 62.0), low + _STRIP
    yield from right_side(
        ((0.0, low), (end + _PEEPS, low), (end + _PEEPS, top + _PEEPS), (0.0, top + _PEEPS))
    )
    for mark in wrong_side(((0.0, 0.0), (28.0, 0.0), corner, (0.0, low))):
        yield replace(mark, ink=None) if isinstance(mark, Shape) else mark
    yield line(((28.0, 0.0), (0.0, 0.0), (0.0, low)), CUT)
    yield from wrong_side(((0.0, low), (end, low), (end, top), (0.0, top)))
    yield fold(((28.0, 0.0), corner))
    yield Words(said=FOLD, at=(60.0, 18.0), size=_SMALL)
    middle = (corner[0] / 2, low + _STRIP / 2 - 0.36 * _LETTER)
    yield Words(said=upright, at=middle, size=_LETTER, bold=True, anchor=Anchor.MIDDLE, ground=PAPER)
    yield line(((end - 34, top + 12), (end - 40, top + _PEEPS / 2)), HAIR)
    yield Words(said=lying, at=(end - 32, top + 9), size=_LETTER, bold=True)
    yield seam(((0.0, low), corner))
    yield line((corner, (corner[0] + _STRIP, low + _STRIP)), _SEWN)
    yield disc(corner, 2.6, fill=PAPER, ink=BOLD)
    yield Words(said="45°", at=(corner[0] + 12, low + 4), size=_SMALL)


def _closed() -> Iterator[Mark]:
    """The corner opened and pressed."""
    x, y = _CORNER
    far, top = x + _STRIP, y + _STRIP
    yield from right_side(((0.0, 0.0), (x, 0.0), (x, y), (0.0, y)), fill=SECOND_SIDE)
    yield Shape(outline=path(((0.0, y), (x, y), (far, top), (0.0, top))), fill=RIGHT_SIDE, ink=CUT)
    yield Shape(outline=path(((x, 0.0), (far, 0.0), (far, top), (x, y))), fill=RIGHT_SIDE, ink=CUT)
