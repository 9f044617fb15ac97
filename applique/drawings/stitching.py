"""How letters are stitched, drawn: stabilizer, a stitch enlarged, the order of rows, corners, trimming.

Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Final

from applique.design import Stitch
from applique.drawings.values import (
    BOLD,
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
    RIGHT_SIDE,
    SECOND_SIDE,
    arrow,
    dimension,
    disc,
    fold,
    leader,
    seam,
    spread,
    wrong_side,
)
from applique.errors import Where
from applique.geometry.outline import Outline
from applique.geometry.points import Matrix, Point
from applique.language import Speech
from applique.panel import Laid, PanelPlan
from applique.picture import Part, Picture
from applique.sewing.plan import RowPlan
from applique.sewing.stabilizer import StabilizerKind, StabilizerNeed
from applique.sewing.stitches import EdgeStitch
from applique.units import MM_PER_INCH, Units, as_length, as_size, as_stitch
from applique.words.instructions import stabilizing
from applique.words.instructions import starting_and_turning as turns
from applique.words.instructions import stitching as said
from applique.words.instructions import trimming as trimmed
from applique.words.sheets import table_said

__all__ = [
    "draw_corners",
    "draw_order",
    "draw_roll",
    "draw_stabilizer",
    "draw_stitch",
    "draw_trim",
    "enlarged",
    "roomy",
]

_MM: Final = 72 / float(MM_PER_INCH)
"""Points of a millimeter."""
_TIMES: Final = (12, 10, 8, 6, 5, 4, 3, 2, 1)
"""How much larger than it is sewn a stitch is drawn: the first at which it fits."""
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
_BETWEEN: Final = 5.0
"""Points between the two measures on either side of an edge."""
_LOW: Final = 9.0
"""Points of letters that are too low to be seen as lines."""
_THROUGH: Final = replace(FINE, color=QUIET, dashes=(1.8, 1.4))
_PALE: Final = "#d4d4d4"
_THREAD: Final = CUT
_FALL: Final = 1.7
_BESIDE: Final = 1.5
"""Points from the edge to a needle that falls right beside it."""
_NUMBERED: Final = 7.0


# Stabilizer


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
    beyond = float(panel.beyond)
    onto: Matrix = (-scale, 0.0, 0.0, scale, (float(panel.width) + beyond) * scale, beyond * scale)
    width, height = wide * scale, high * scale
    marks: list[Mark] = [*wrong_side(((0.0, 0.0), (width, 0.0), (width, height), (0.0, height)))]
    held = [
        (row, laid)
        for row, laid in zip(rows, panel.laid, strict=True)
        if row.stabilizer.kind is not StabilizerKind.NONE
    ]
    ends: list[Point] = []
    for row, laid in held:
        corners = [_under(onto, corner) for corner in _stabilizer_corners(row, laid)]
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
    x, y = _middle(laid)
    half_w, half_h = float(row.stabilizer.width) / 2, float(row.stabilizer.height) / 2
    for across, up in ((-1, -1), (1, -1), (1, 1), (-1, 1)):
        yield laid.turned.point((x + across * half_w, y + up * half_h))


def _right_end(corners: Sequence[Point]) -> Point:
    """The middle of the side of a piece that lies farthest right."""
    (x, y), (other_x, other_y) = sorted(corners)[-2:]
    return (x + other_x) / 2, (y + other_y) / 2


def _middle(laid: Laid) -> Point:
    x0, y0, x1, y1 = laid.upright_ink
    return (x0 + x1) / 2, (y0 + y1) / 2


def _under(onto: Matrix, point: Point) -> Point:
    a, b, c, d, e, f = onto
    return a * point[0] + c * point[1] + e, b * point[0] + d * point[1] + f


# A stitch enlarged


def enlarged(stitch: EdgeStitch, room: Point) -> int:
    """How much larger than it is sewn a stitch is drawn on cloth of `room` points: so that two of it fit."""
    across = float(stitch.bite + stitch.outside) * 72
    along = float(stitch.length) * 72
    return next(
        (times for times in _TIMES if across * times <= 0.72 * room[0] and 2.1 * along * times <= room[1]), 1
    )


def draw_stitch(
    stitch: EdgeStitch, size: Point, speech: Speech, others: Sequence[EdgeStitch] = ()
) -> Drawing:
    """A stitch along the edge of a letter, enlarged: where the needle falls, how wide and how long it is; to the scale
    of the drawings of `others`, and in line with them.
    """
    alike = (stitch, *others)
    right, low = 46.0, 17.0
    top = 27.0 if any(one.outside or not one.width for one in alike) else 13.0
    room = (size[0] - right, size[1] - low - top)
    times = min(enlarged(one, room) for one in alike)
    points = times * 72.0
    across = float(stitch.bite + stitch.outside) * points
    edge = (room[0] - across) / 2 + float(stitch.bite) * points
    marks: list[Mark] = [
        box(edge, low, room[0] - edge, room[1], fill=SECOND_SIDE),
        box(0.0, low, edge, room[1], fill=RIGHT_SIDE),
        line(((edge, low), (edge, low + room[1])), CUT),
    ]
    marks += _sides(edge, room[0], low + room[1] + top - 10.0, speech)
    falls = _falls(stitch, edge, points, (low, low + room[1]))
    marks.append(line(falls, _THREAD))
    marks += [disc(fall, _FALL, fill=PAPER, ink=FINE) for fall in dict.fromkeys(falls)]
    marks += _measured(stitch, falls, edge, points, (room[0], low, low + room[1]), speech)
    marks.append(
        Words(said=said.times_as_large(times), at=(size[0], 3.0), size=_LEAST, color=QUIET, anchor=Anchor.END)
    )
    return Drawing(
        width=size[0],
        height=size[1],
        marks=tuple(marks),
        said=said.stitch_drawn_said(stitch),
        is_to_scale=True,
    )


def _sides(edge: float, wide: float, level: float, speech: Speech) -> Iterator[Mark]:
    """Which side of the edge is which, above the cloth."""
    for words, middle, low, high in (
        (turns.LETTER, edge / 2, 0.0, edge),
        (turns.BACKGROUND, (edge + wide) / 2, edge, wide),
    ):
        half = text_width(speech.tell(words), _SMALL) / 2
        at = min(max(middle, low + half), max(high - half, low + half))
        yield Words(said=words, at=(at, level), size=_SMALL, anchor=Anchor.MIDDLE)


def _falls(stitch: EdgeStitch, edge: float, points: float, ends: tuple[float, float]) -> list[Point]:
    """Where the needle falls along an upright edge, one after the other."""
    pitch = float(stitch.length) * points
    inner = edge - float(stitch.bite) * points
    outer = edge + (float(stitch.outside) * points or _BESIDE)
    count = max(2, int((ends[1] - ends[0] - 0.08 * pitch) / pitch))
    start = ends[0] + (ends[1] - ends[0] - count * pitch) / 2
    found: list[Point] = []
    for index in range(count + 1):
        y = start + index * pitch
        match stitch.stitch:
            case Stitch.STRAIGHT:
                found.append((inner, y))
            case Stitch.BLANKET:
                found += [(outer, y), (inner, y), (outer, y)]
            case Stitch.SATIN | Stitch.ZIGZAG:
                found.append((outer if index % 2 else inner, y))
    return found


def _measured(
    stitch: EdgeStitch,
    falls: Sequence[Point],
    edge: float,
    points: float,
    cloth: tuple[float, float, float],
    speech: Speech,
) -> Iterator[Mark]:
    """The width below, how far it reaches to either side of the edge above, and the length to the right."""
    wide, low, top = cloth
    inner, outer = edge - float(stitch.bite) * points, edge + float(stitch.outside) * points
    reaches = [(inner, edge, stitch.bite)] if stitch.outside or not stitch.width else []
    reaches += [(edge, outer, stitch.outside)] if stitch.outside else []
    words = [speech.measure(as_stitch(reach)) for *_, reach in reaches]
    if all(b - a > text_width(text, _SMALL) for (a, b, _), text in zip(reaches, words, strict=True)):
        for (a, b, _), text in zip(reaches, words, strict=True):
            yield from dimension((a, top + 4), (b, top + 4), "")
            half = text_width(text, _SMALL) / 2
            aside = 0.0 if len(reaches) == 1 else _BETWEEN / 2 + half
            middle = min((a + b) / 2, edge - aside) if b == edge else max((a + b) / 2, edge + aside)
            yield Words(said=text, at=(middle, top + 8), size=_SMALL, anchor=Anchor.MIDDLE)
    if stitch.width:
        yield from dimension(
            (inner, low - 4), (outer, low - 4), speech.measure(as_stitch(stitch.width)), off=-10.5
        )
    levels = sorted({y for _, y in falls})
    first, second = levels[len(levels) // 2 - 1], levels[len(levels) // 2]
    x = wide + 7
    for y in (first, second):
        at = max(across for across, level in falls if level == y)
        yield line(((at + _FALL + 1, y), (x + 3, y)), HAIR)
    yield line(((x, first), (x, second)), HAIR)
    yield Words(
        said=speech.measure(as_stitch(stitch.length)), at=(x + 5, (first + second) / 2 - 2.5), size=_SMALL
    )


# The order of rows


def draw_order(
    picture: Picture,
    laid: Sequence[Laid],
    order: Sequence[Where],
    size: Point,
    speech: Speech,
    *,
    bordered: bool,
) -> Drawing:
    """The panel, `bordered` the whole quilt, in pale gray, its rows marked 1st, 2nd and so on as they are sewn, with
    arrows outward; beside it the names of several rows."""
    (panel,) = picture.of(Part.PANEL)
    x0, y0, x1, y1 = (0.0, 0.0, picture.width, picture.height) if bordered else panel.laid.bounds()
    named = [] if len(order) == 1 else [(where, where.as_field()) for where in order]
    room = max((_TO_WORDS + text_width(speech.field(name), _LEAST) for _, name in named), default=0.0)
    scale = min((size[0] - room) / (x1 - x0), size[1] / (y1 - y0))
    onto: Matrix = (scale, 0.0, 0.0, scale, -x0 * scale, -y0 * scale)
    marks: list[Mark] = []
    around = (Part.PATCH, Part.EDGE) if bordered else ()
    for item in picture.of(*around, Part.PANEL, Part.OUTLINE, Part.LETTER, Part.SHAPE):
        cut = item.part in (Part.LETTER, Part.SHAPE)
        ink = CUT if item.part is Part.EDGE else HAIR
        fill = _PALE if cut else PAPER if item.part is Part.OUTLINE else None
        marks.append(Shape(outline=item.laid.transformed(onto), fill=fill, ink=None if cut else ink))
    by_table = {one.where: one for one in laid}
    middles = {where: _under(onto, picture.panel.point(_on_panel(by_table[where]))) for where in order}
    aside = _aside(middles)
    for number, where in enumerate(order, 1):
        x, y = middles[where]
        if any(aside.values()):
            x = (x1 - x0) * scale / 2
        else:
            marks += _outward(by_table[where], (x, y), scale)
        place = said.place_said(number)
        radius = max(_NUMBERED, text_width(speech.tell(place), _NUMBERED) / 2 + 3.5)
        marks.append(disc((x + aside[where], y), radius, fill=PAPER, ink=CUT))
        marks.append(
            Words(
                said=place,
                at=(x + aside[where], y - 0.36 * _NUMBERED),
                size=_NUMBERED,
                bold=True,
                anchor=Anchor.MIDDLE,
            )
        )
    far, high = (x1 - x0) * scale, (y1 - y0) * scale
    levels = [middles[where][1] for where, _ in named]
    for (_, name), y, at in zip(named, levels, spread(levels, (4.0, high - 4.0)), strict=True):
        marks.append(line(((far + 1, y), (far + _TO_WORDS - 2, at)), HAIR))
        marks.append(Words(said=name, at=(far + _TO_WORDS, at - 0.36 * _LEAST), size=_LEAST))
    return Drawing(
        width=far + room,
        height=high,
        marks=tuple(marks),
        said=said.order_drawn_said(),
    )


def _on_panel(laid: Laid) -> Point:
    return laid.turned.point(_middle(laid))


def _aside(middles: Mapping[Where, Point]) -> Mapping[Where, float]:
    """How far the number of each row stands to the side, so that those of rows close together lie clear."""
    level = sorted(middles, key=lambda where: -middles[where][1])
    apart = [middles[a][1] - middles[b][1] for a, b in pairwise(level)]
    room = 2 * _NUMBERED + 1.5
    columns = math.ceil(room / max(1.0, min(apart, default=room)))
    return {where: (index % columns - (columns - 1) / 2) * room for index, where in enumerate(level)}


def _outward(laid: Laid, at: Point, scale: float) -> Iterator[Mark]:
    """An arrow to either side of the number of a row."""
    x0, _, x1, _ = laid.upright_ink
    reach = (x1 - x0) / 2 * scale
    turn = math.radians(laid.turned.turn_deg)
    along = (math.cos(turn), math.sin(turn))
    if reach > _NUMBERED + 9:
        for way in (-1, 1):
            start, end = (
                (at[0] + way * far * along[0], at[1] + way * far * along[1]) for far in (_NUMBERED + 1, reach)
            )
            yield from arrow(start, end, BOLD)


# Trimming

_CUT_OFF: Final = "#b9b9b9"
_NUMBERS: Final = 50.0
"""Points beside the panel for its measures."""


def draw_trim(
    panel: PanelPlan, behind: Sequence[Outline], size: Point, units: Units, speech: Speech
) -> Drawing:
    """The panel as it was cut with its words, where it is trimmed from its center line, and what that cuts off."""
    low, top = 28.0, 15.0
    wide, high = float(panel.cut_width), float(panel.cut_height)
    scale = min((size[0] - _NUMBERS) / wide, (size[1] - low - top) / high)
    beyond = float(panel.beyond)
    onto: Matrix = (scale, 0.0, 0.0, scale, beyond * scale, low + beyond * scale)
    width, height = wide * scale, high * scale
    off, seam_in = float(panel.trim) / 2 * scale, beyond * scale
    edge = (off, low + off, width - off, low + height - off)
    marks: list[Mark] = [
        box(0.0, low, width, height, fill=_CUT_OFF, ink=HAIR),
        box(edge[0], edge[1], edge[2] - edge[0], edge[3] - edge[1], fill=PAPER, ink=BOLD),
        seam(
            (
                (seam_in, low + seam_in),
                (width - seam_in, low + seam_in),
                (width - seam_in, low + height - seam_in),
                (seam_in, low + height - seam_in),
                (seam_in, low + seam_in),
            )
        ),
    ]
    for outline in behind:
        marks.append(Shape(outline=outline.transformed(onto), fill=PAPER, ink=HAIR))
    for laid in panel.laid:
        marks.append(Shape(outline=laid.outline.transformed(onto), fill=_PALE))
    middle = width / 2
    marks.append(fold(((middle, low - 3), (middle, low + height + 3))))
    marks += _trim_measures(panel, edge, onto, units, speech)
    marks.append(Words(said=trimmed.CENTER_LINE, at=(middle + 3, low + height + 5), size=_LEAST, color=QUIET))
    marks += leader((2.0, low + height + 9), (off / 2, low + height - off / 2), trimmed.CUT_OFF)
    marks.append(Words(said=trimmed.finished_drawn_said(panel, units), at=(0.0, 3.0), size=_LEAST))
    return Drawing(
        width=width + _NUMBERS, height=low + height + top, marks=tuple(marks), said=trimmed.trim_drawn_said()
    )


def _trim_measures(
    panel: PanelPlan, edge: tuple[float, float, float, float], onto: Matrix, units: Units, speech: Speech
) -> Iterator[Mark]:
    """Half the width to either side of the center line, and how far top and bottom are from the words."""
    left, low, right, top = edge
    found = trimmed.trimmed_from(panel)
    beside, middle = speech.measure(as_size(found.half, units)), (left + right) / 2
    for start, end in ((left, middle), (middle, right)):
        yield from dimension((start, low - 7), (end, low - 7), beside, off=-8.5)
    words = [panel_y * onto[3] + onto[5] for panel_y in _words_reach(panel)]
    x = right + 9
    for start, end, far in ((low, words[0], found.below), (words[1], top, found.above)):
        yield from dimension((x, start), (x, end), "")
        yield Words(
            said=speech.measure(as_length(far, units, denominator=16)),
            at=(x + 5, (start + end) / 2 - 2.5),
            size=_LEAST,
        )


def _words_reach(panel: PanelPlan) -> tuple[float, float]:
    """The lowest and the highest point of the words."""
    return min(laid.ink[1] for laid in panel.laid), max(laid.ink[3] for laid in panel.laid)


# Corners and curves

_FIELD: Final = (92.0, 78.0)
"""Points of each picture of a corner."""
_PITCHES: Final = {Stitch.SATIN: 2.6, Stitch.ZIGZAG: 5.5, Stitch.BLANKET: 9.0, Stitch.STRAIGHT: 7.0}
_BITES: Final = {Stitch.SATIN: 7.0, Stitch.ZIGZAG: 6.0, Stitch.BLANKET: 8.0, Stitch.STRAIGHT: 5.0}
_OUT: Final = {Stitch.SATIN: 4.5, Stitch.ZIGZAG: 4.0, Stitch.BLANKET: 1.0, Stitch.STRAIGHT: -5.0}
"""Points that each stitch bites in and falls outside; it is drawn about three times as large as it is sewn."""
_CLEAR: Final = 8.0
"""Points of an edge that are left bare at the ends of a picture."""
Leg = tuple[Point, ...]
"""Points along an edge, the letter on their left."""


def draw_corners(stitch: Stitch, *, across: int = len(turns.Corner), width: float | None = None) -> Drawing:
    """Five edges under one stitch, so many side by side, a ring at each place where the needle is down while turning.

    They are drawn as large as `width` points allow, if those are given.
    """
    gap = 8.0
    scale = 1.0 if width is None else min(1.0, ((width + gap) / across - gap) / _FIELD[0])
    wide, high = _FIELD[0] * scale, _FIELD[1] * scale
    rows = math.ceil(len(turns.Corner) / across)
    marks: list[Mark] = []
    for index, corner in enumerate(turns.Corner):
        row, column = divmod(index, across)
        left, low = column * (wide + gap), (rows - 1 - row) * (high + 14.0 + gap) + 14.0
        onto: Matrix = (scale, 0.0, 0.0, scale, left, low)
        for mark in _corner(corner, stitch):
            marks.append(
                Shape(outline=mark.outline.transformed(onto), fill=mark.fill, ink=mark.ink, open=mark.open)
            )
        at = (left + wide / 2, low - 11.0)
        marks.append(Words(said=turns.SHAPES[corner], at=at, size=_SMALL, anchor=Anchor.MIDDLE))
    return Drawing(
        width=across * (wide + gap) - gap,
        height=rows * (high + 14.0 + gap) - gap,
        marks=tuple(marks),
        said=turns.corners_drawn_said(stitch),
    )


def _corner(corner: turns.Corner, stitch: Stitch) -> Iterator[Shape]:
    legs, letter, closed = _edges(corner)
    yield box(0.0, 0.0, *_FIELD, fill=SECOND_SIDE)
    if closed:
        yield box(0.0, 0.0, *_FIELD, fill=RIGHT_SIDE)
        yield Shape(outline=path(letter), fill=SECOND_SIDE)
    else:
        yield Shape(outline=path(letter), fill=RIGHT_SIDE)
    for leg in legs:
        yield line(leg, FINE)
    for leg in legs:
        yield line(_sewn(leg, stitch, corner, legs), _THREAD)
    for pivot in _pivots(corner, stitch, legs):
        yield disc(pivot, 3.0, fill=PAPER, ink=BOLD)


def _edges(corner: turns.Corner) -> tuple[tuple[Leg, ...], Leg, bool]:
    """The edges of a corner, what is filled, and whether that is the hole of a letter."""
    wide, high = _FIELD
    match corner:
        case turns.Corner.OUTSIDE:
            legs = (((0.0, 24.0), (64.0, 24.0)), ((64.0, 24.0), (64.0, high)))
            return legs, ((0.0, 24.0), (64.0, 24.0), (64.0, high), (0.0, high)), False
        case turns.Corner.INSIDE:
            legs = (((0.0, 42.0), (40.0, 42.0)), ((40.0, 42.0), (40.0, 0.0)))
            return (
                legs,
                ((0.0, 42.0), (40.0, 42.0), (40.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)),
                False,
            )
        case turns.Corner.OUTSIDE_CURVE:
            arc = _arc((wide / 2, high), 54.0, (180.0, 360.0))
            return (arc,), ((0.0, high), (0.0, arc[0][1]), *arc, (wide, arc[-1][1]), (wide, high)), False
        case turns.Corner.INSIDE_CURVE:
            arc = _arc((wide / 2, 0.0), 54.0, (180.0, 0.0))
            return (arc,), ((0.0, 0.0), (0.0, arc[0][1]), *arc, (wide, arc[-1][1]), (wide, 0.0)), True
        case turns.Corner.POINT:
            legs = (((20.0, high), (46.0, 16.0)), ((46.0, 16.0), (72.0, high)))
            return legs, ((20.0, high), (46.0, 16.0), (72.0, high)), False


def _arc(middle: Point, radius: float, ends_deg: tuple[float, float]) -> Leg:
    """Points of an arc, from the first to the second angle, that lie in a field."""
    start, end = ends_deg
    turned = [math.radians(start + (end - start) * step / 60) for step in range(61)]
    points = ((middle[0] + radius * math.cos(turn), middle[1] + radius * math.sin(turn)) for turn in turned)
    return tuple((x, y) for x, y in points if 0 <= x <= _FIELD[0] and 0 <= y <= _FIELD[1])


def _along(leg: Leg, far: float) -> tuple[Point, Point]:
    """The point `far` along a leg, beyond its ends in its direction, and the direction to its left there."""
    for start, end in pairwise(leg):
        side = math.dist(start, end)
        if far <= side or end == leg[-1]:
            ahead = ((end[0] - start[0]) / side, (end[1] - start[1]) / side)
            return (start[0] + ahead[0] * far, start[1] + ahead[1] * far), (-ahead[1], ahead[0])
        far -= side
    raise ValueError(leg)


def _length(leg: Leg) -> float:
    return sum(math.dist(start, end) for start, end in pairwise(leg))


def _at(leg: Leg, far: float, inward: float) -> Point:
    """The point `far` along a leg and `inward` of it."""
    (x, y), (left_x, left_y) = _along(leg, far)
    return x + left_x * inward, y + left_y * inward


def _sewn(leg: Leg, stitch: Stitch, corner: turns.Corner, legs: Sequence[Leg]) -> list[Point]:
    """The way of the thread along a leg."""
    first, bite, out = leg is legs[0], _BITES[stitch], _OUT[stitch]
    start, end = 0.0, _length(leg)
    covers = stitch in (Stitch.SATIN, Stitch.ZIGZAG)
    if len(legs) == 2:
        beyond = {turns.Corner.OUTSIDE: out, turns.Corner.INSIDE: bite, turns.Corner.POINT: out}[corner]
        if stitch is Stitch.STRAIGHT:
            beyond = -bite if corner is not turns.Corner.INSIDE else bite
            beyond *= 2.6 if corner is turns.Corner.POINT else 1.0
        if stitch is Stitch.BLANKET:
            beyond = 0.0
        start, end = (start, end + beyond) if first else (start - beyond, end)
        start, end = (start + _CLEAR, end) if first else (start, end - _CLEAR)
    else:
        start, end = start + _CLEAR, end - _CLEAR
    steps = max(2, round((end - start) / _PITCHES[stitch]))
    way: list[Point] = []
    for step in range(steps + 1):
        far = start + (end - start) * step / steps
        tip = _length(leg) - far if first else far
        share = _narrowed(corner, tip) if covers else 1.0
        if covers:
            way.append(_at(leg, far, bite * share if step % 2 else -out))
        elif stitch is Stitch.STRAIGHT:
            way.append(_at(leg, far, bite))
        else:
            way += [_at(leg, far, -out), *_bite(leg, far, corner, tip), _at(leg, far, -out)]
    return way


def _bite(leg: Leg, far: float, corner: turns.Corner, tip: float) -> Iterator[Point]:
    """Where a blanket stitch bites in: at a corner toward its middle, elsewhere straight, and never across another."""
    bite = _BITES[Stitch.BLANKET]
    if corner is turns.Corner.POINT and tip < 1.0:
        yield (46.0, 16.0 + bite)
    elif corner in (turns.Corner.OUTSIDE, turns.Corner.INSIDE) and tip < 1.0:
        x, y = leg[0] if far < 1.0 else leg[-1]
        yield (
            (x - 0.7 * bite, y + 0.7 * bite)
            if corner is turns.Corner.OUTSIDE
            else (x + 0.7 * bite, y + 0.7 * bite)
        )
    else:
        yield _at(leg, far, min(bite, 0.55 * tip) if corner is turns.Corner.POINT else bite)


def _narrowed(corner: turns.Corner, tip: float) -> float:
    """How much of its bite a stitch keeps so far from the tip of a point."""
    return min(1.0, max(0.12, tip / 30)) if corner is turns.Corner.POINT else 1.0


def _pivots(corner: turns.Corner, stitch: Stitch, legs: Sequence[Leg]) -> Iterator[Point]:
    """Where the needle is down while the work is turned."""
    bite, out = _BITES[stitch], _OUT[stitch]
    inside = corner in (turns.Corner.INSIDE, turns.Corner.INSIDE_CURVE)
    inward = bite if stitch is Stitch.STRAIGHT or (inside and stitch is not Stitch.BLANKET) else -out
    if len(legs) == 1:
        length = _length(legs[0])
        for part in (0.2, 0.5, 0.8):
            yield _at(legs[0], length * part, inward)
        return
    x, y = legs[1][0]
    match corner:
        case turns.Corner.OUTSIDE:
            yield (x - inward, y + inward)
        case turns.Corner.INSIDE:
            yield (x + inward, y + inward)
        case _:
            yield (x, y + (2.6 * bite if stitch is Stitch.STRAIGHT else -out - 1.5))
