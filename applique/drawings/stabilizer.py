"""Stabilizer drawn: behind the rows of a panel, and on its roll.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
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
    LEFT_OVER,
    dimension,
    spread,
    wrong_side,
)
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point, point_under
from applique.language import Speech
from applique.panel import Laid, PanelPlan
from applique.sewing.plan import RowPlan
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.units import Units, as_length
from applique.words.instructions import stabilizing
from applique.words.sheets import table_said

__all__ = ["draw_roll", "draw_stabilizer", "middle_of", "roomy"]

_SMALL: Final = 7.5
_LEAST: Final = 7.0
_TO_WORDS: Final = 10.0
"""Points from the panel to the words that name what lies on it."""
_ROLL_HIGH: Final = 96.0
_ROLL_LEAST: Final = 30.0
"""Points across a roll of stabilizer, the most and the least."""
_SECOND_LINE: Final = 8.0
"""Points to a second line of measures below a roll, where they are wider than what they measure."""
_BELOW: Final = 20.0
_CLEAR_OF_ROLL: Final = 6.0
_LOW: Final = 9.0
"""Points of letters that are too low to be seen as lines."""
_THROUGH: Final = replace(FINE, color=QUIET, dashes=(1.8, 1.4))
_PALE: Final = "#d4d4d4"


def draw_stabilizer(
    panel: PanelPlan,
    behind: Sequence[Outline],
    rows: Sequence[RowPlan],
    size: Point,
    units: Units,
    speech: Speech,
) -> Drawing:
    """The panel from its wrong side: its letters and what lies `behind` them (in its frame) show through, and each row
    has its stabilizer behind it, named on the right of the panel."""
    wide, high = float(panel.cut_width), float(panel.cut_height)
    named = [
        stabilizing.numbered_piece_said(row, units)
        for row in rows
        if row.stabilizer.kind is not StabilizerKind.NONE
    ]
    beside = _TO_WORDS + 2 + max((text_width(speech.tell(one), _LEAST) for one in named), default=0.0)
    scale = min((size[0] - beside) / wide, size[1] / high)
    _, bottom, right, _ = panel.cut_edge
    onto: Matrix = (-scale, 0.0, 0.0, scale, right * scale, -bottom * scale)
    width, height = wide * scale, high * scale
    marks: list[Mark] = [*wrong_side(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))]
    held = [
        (row, laid)
        for row, laid in zip(rows, panel.laid, strict=True)
        if row.stabilizer.kind is not StabilizerKind.NONE
    ]
    ends: list[Point] = []
    for row, laid in held:
        corners = [point_under(onto, corner) for corner in _stabilizer_corners(row, laid)]
        marks.append(Shape(outline=path(corners), fill=PAPER, ink=CUT))
        ends.append(_right_end(corners))
    low = _are_low(panel.laid, scale)
    for shape in (*(laid.outline for laid in panel.laid), *behind):
        outline = shape.transformed(onto)
        marks.append(Shape(outline=outline, fill=_PALE) if low else Shape(outline=outline, ink=_THROUGH))
    heights = spread([y for _, y in ends], (4.0, height - 4.0))
    for words, end, y in zip(named, ends, heights, strict=True):
        marks.append(line((end, (width + _TO_WORDS, y)), HAIR))
        marks.append(Words(said=words, at=(width + _TO_WORDS + 2, y - 2.5), size=_LEAST))
    width += beside
    return Drawing(width=width, height=height, marks=tuple(marks), said=stabilizing.stabilizer_drawn_said())


def roomy(laid: Sequence[Laid], panel: Point, beside: Point, across: Point) -> Point:
    """Points for a drawing of the rows on a panel of such size in inches: `across` the line where its letters would be
    too low `beside` the words."""
    scale = min(beside[0] / panel[0], beside[1] / panel[1])
    return across if max((float(one.size) for one in laid), default=0.0) * scale < _LOW else beside


def _are_low(laid: Sequence[Laid], scale: float) -> bool:
    """Whether letters are so low that words on them would hide them."""
    return max((float(one.size) for one in laid), default=0.0) * scale < 2 * _LOW


def draw_roll(need: StabilizerNeed, wide: float, units: Units, speech: Speech) -> Drawing | None:
    """A roll of stabilizer lying across the line, `wide` points with its words: its pieces with the numbers of their
    rows, and where it is cut off. None where it is so long that nobody could read it."""
    (cloth,) = need.plan.cloths
    across = speech.measure(as_length(need.roll_width, units))
    room = wide - text_width(across, _SMALL) - 2 * _CLEAR_OF_ROLL
    scale = min(room / float(cloth.root.length), _ROLL_HIGH / float(need.roll_width))
    length, high = float(cloth.root.length) * scale, float(need.roll_width) * scale
    if high < _ROLL_LEAST:
        return None
    measures = [speech.measure(as_length(band.length, units)) for band in need.bands]
    crowded = any(
        text_width(words, _SMALL) > float(band.length) * scale - 3
        for words, band in zip(measures, need.bands, strict=True)
    )
    low = _BELOW + (_SECOND_LINE if crowded else 0.0)
    marks: list[Mark] = [box(0.0, low, length, high, fill=LEFT_OVER, ink=HAIR)]
    for region, piece in cloth.root.pieces():
        x, y = float(region.x) * scale, low + float(region.y) * scale
        long, deep = float(region.length) * scale, float(region.width) * scale
        marks.append(box(x, y, long, deep, fill=PAPER, ink=HAIR))
        number = table_said(need.tables[int(piece.key)])
        full = stabilizing.rolled_piece_said(number, region.length, region.width, units)
        fits = text_width(speech.tell(full), _LEAST) <= long - 4
        marks.append(
            Words(
                said=full if fits else number,
                at=(x + long / 2, y + deep / 2 - 2.5),
                size=_LEAST,
                anchor=Anchor.MIDDLE,
            )
        )
    start = 0.0
    for count, (band, words) in enumerate(zip(need.bands, measures, strict=True)):
        end = start + float(band.length) * scale
        marks.append(line(((end, low - 3), (end, low + high + 3)), CUT))
        off = -9.0 - (_SECOND_LINE if crowded and count % 2 else 0.0)
        marks += dimension((start, low - 6), (end, low - 6), words, off=off)
        start = end
    marks.append(Words(said=across, at=(length + _CLEAR_OF_ROLL, low + high / 2 - 2.5), size=_SMALL))
    return Drawing(
        width=length + 2 * _CLEAR_OF_ROLL + text_width(across, _SMALL),
        height=low + high + 4,
        marks=tuple(marks),
        said=stabilizing.roll_drawn_said(),
    )


def _stabilizer_corners(row: RowPlan, laid: Laid) -> Iterator[Point]:
    """The corners of the piece under a row, in the frame of the panel."""
    x, y = middle_of(laid)
    half_w, half_h = float(row.stabilizer.width) / 2, float(row.stabilizer.height) / 2
    for across, up in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        yield laid.turned.point((x + across * half_w, y + up * half_h))


def _right_end(corners: Sequence[Point]) -> Point:
    """The middle of the side of a piece that lies farthest right."""
    (x, y), (other_x, other_y) = sorted(corners)[-2:]
    return (x + other_x) / 2, (y + other_y) / 2


def middle_of(laid: Laid) -> Point:
    """The middle of the ink of words or of a shape, upright about its own origin."""
    x0, y0, x1, y1 = laid.upright_ink
    return (x0 + x1) / 2, (y0 + y1) / 2
