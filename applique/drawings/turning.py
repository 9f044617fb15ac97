"""Letters with turned edges: the step pictures of freezer paper, on every side of the fabric that it may lie on.

Frame: points, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import Polygon

from applique.design import FreezerPaper
from applique.drawings.model_letter import (
    DASHED,
    EDGE,
    NAMES,
    Model,
    area_of,
    corners_of,
    dotted,
    folded_over,
    hatched,
    moved,
    named_below,
    rightmost,
)
from applique.drawings.values import BOLD, CUT, FINE, MOUTH, PAPER, Drawing, Mark, line
from applique.drawings.vocabulary import IRON, PAPER_SIDE, RIGHT_SIDE, iron, leader, pin, wrong_side
from applique.geometry.polygons import Shape as Area
from applique.geometry.polygons import as_shape
from applique.language import Message
from applique.pieces import Template, TurnedEdge
from applique.words.instructions.over_freezer_paper import (
    BOTH_SIDES,
    CLIP_IN,
    FABRIC_TURNED,
    ONE_SIDE,
    OTHER_SIDE,
    TIP_FIRST,
)

__all__ = [
    "draw_allowance",
    "draw_clips",
    "draw_laid",
    "draw_point",
    "draw_turned",
    "draw_vee",
]

_CLIPPED: Final = (130.0, 120.0)
_CLIPPED_MOST: Final = (190.0, 170.0)
_TOLD_APART: Final = 6.0
"""Points that a letter takes whose clips and notches are shown: more, if its turn-under is narrower than that."""
_FLAT: Final = 0.01
"""Inches that a drawn curve may stray."""
_FOLDED: Final = 8.0
_BETWEEN: Final = 18.0
"""Points of turn-under, and from one picture to the next, in the drawings of corners."""


def draw_laid(template: Template, way: FreezerPaper, said: Message) -> Drawing:
    """The paper letter on its side of the fabric, under the iron, or pinned where its shiny side is up."""
    right = way is FreezerPaper.RIGHT_SIDE
    model = Model(template, mirrored=not right)
    edge = 2 * EDGE
    wide, high = model.width + 2 * edge + 36, model.height + 2 * edge
    area = model.at(edge, edge)
    marks: list[Mark] = [
        *(
            area_of(as_shape(shapely.box(0, 0, wide, high)), fill=RIGHT_SIDE)
            if right
            else wrong_side(corners_of(0, 0, wide, high))
        )
    ]
    if way is FreezerPaper.WRONG_SIDE_UP:
        marks += hatched(area)
        inside = area.representative_point()
        x, y = float(inside.x), float(inside.y)
        marks += pin((x - 12, y + 10), (x + 12, y - 10))
    else:
        marks += area_of(area, fill=PAPER_SIDE, ink=FINE)
        marks += iron((wide - IRON[0] - 6, min(high * 0.4, high - IRON[1] - 4)))
    return Drawing(width=wide + 2, height=high, marks=tuple(marks), said=said)


def draw_allowance(template: Template, way: FreezerPaper, turn_under: float, said: Message) -> Drawing:
    """The fabric cut out around the paper, with what is turned under."""
    model, area, room = _turned(template, way, turn_under)
    cut = as_shape(area.buffer(room))
    at = rightmost(as_shape(area.buffer(room / 2)))
    marks = (
        *_fabric(cut, way),
        *_paper(area, way),
        *leader((model.width + 2 * room + 16, at[1]), at, FABRIC_TURNED),
    )
    return Drawing(
        width=model.width + 2 * room + 104, height=model.height + 2 * room + 8, marks=marks, said=said
    )


def draw_clips(
    template: Template, turned: TurnedEdge, way: FreezerPaper, turn_under: float, said: Message
) -> Drawing:
    """The clips at inner curves and corners and the notches at tight outer curves: those of the template, to scale."""
    x0, y0, x1, y1 = template.ink
    inches = (x1 - x0, y1 - y0)
    least, most = (
        min(a / b for a, b in zip(size, inches, strict=True)) for size in (_CLIPPED, _CLIPPED_MOST)
    )
    scale = min(max(least, _TOLD_APART / turn_under), most)
    model = Model(
        template,
        mirrored=way is not FreezerPaper.RIGHT_SIDE,
        size=(inches[0] * scale, inches[1] * scale),
    )
    room = turn_under * scale + 4
    a, _, _, d, e, f = model.onto
    cut = as_shape(affinity.affine_transform(turned.shape.simplify(_FLAT), (a, 0, 0, d, e + room, f + room)))
    inks = [*((mark, CUT) for mark in turned.marks), *((mouth, MOUTH) for mouth in turned.mouths)]
    clips = [line([(a * x + e + room, d * y + f + room) for x, y in points], ink) for points, ink in inks]
    marks = (*_fabric(cut, way), *_paper(model.at(room, room), way), *clips)
    return Drawing(width=model.width + 2 * room, height=model.height + 2 * room, marks=marks, said=said)


def draw_turned(template: Template, way: FreezerPaper, turn_under: float, said: Message) -> Drawing:
    """The letter from its back, its allowance turned: over the paper, or to the back of the fabric."""
    model = Model(template, mirrored=True)
    area = model.at(4, 4)
    inner = as_shape(area.buffer(-min(model.margin(turn_under), 8.0)))
    marks: list[Mark] = [*area_of(area, fill=RIGHT_SIDE)]
    match way:
        case FreezerPaper.RIGHT_SIDE:
            marks += dotted(inner) if not inner.is_empty else ()
        case FreezerPaper.WRONG_SIDE_DOWN:
            marks += area_of(inner, fill=PAPER_SIDE, ink=FINE)
        case FreezerPaper.WRONG_SIDE_UP:
            marks += hatched(inner) if not inner.is_empty else ()
    at = rightmost(area)
    marks += leader((model.width + 18, at[1]), (at[0] - 2, at[1]), FABRIC_TURNED)
    return Drawing(width=model.width + 106, height=model.height + 8, marks=tuple(marks), said=said)


def draw_point(way: FreezerPaper, said: Message) -> Drawing:
    """A point from the back, turned in three pictures: the tip, one side, the other side."""
    half, high, low = 22.0, 56.0, NAMES
    slant = math.hypot(half, high)
    out, up = _FOLDED * slant / high, _FOLDED * slant / half
    paper = Polygon(((-half, low), (half, low), (0, low + high)))
    fabric = Polygon(((-half - out, low), (half + out, low), (0, low + high + up)))
    tip = as_shape(fabric.intersection(shapely.box(-60, low + high, 60, low + high + up)))
    whole = as_shape(fabric.difference(tip))
    flaps = [folded_over(tip, ((-1.0, low + high), (1.0, low + high)))]
    marks: list[Mark] = []
    pictures = ((TIP_FIRST, 0), (ONE_SIDE, 1), (OTHER_SIDE, 2))
    for at, (words, side) in enumerate(pictures):
        if side:
            way_out = 1 if side == 1 else -1
            edge = ((way_out * half, low), (0.0, low + high))
            strip = as_shape(
                whole.intersection(
                    Polygon(
                        (*edge, (way_out * (half + 2 * out), low + high), (way_out * (half + 2 * out), low))
                    )
                )
            )
            whole = as_shape(whole.difference(strip))
            flaps.append(folded_over(strip, edge))
        x = half + out + 2 + at * (2 * (half + out) + _BETWEEN)
        marks += _back(moved(whole, x, 0), moved(paper, x, 0), way)
        for flap in flaps:
            inside = as_shape(moved(flap, x, 0).intersection(moved(paper, x, 0)))
            marks += area_of(inside, fill=RIGHT_SIDE, ink=FINE)
        marks.append(named_below(x, words))
    wide = 6 * (half + out) + 2 * _BETWEEN + 4
    return Drawing(width=wide, height=low + high + up + 3, marks=tuple(marks), said=said)


def draw_vee(way: FreezerPaper, said: Message) -> Drawing:
    """An inside corner from the back: clipped, and with both sides turned."""
    wide, high, half, deep, low = 84.0, 62.0, 24.0, 42.0, NAMES
    slant = math.hypot(half, deep)
    up, across = _FOLDED * slant / half, _FOLDED * slant / deep
    middle, corner, top = wide / 2, low + high - deep, low + high
    vee = Polygon(((middle - half, top), (middle, corner), (middle + half, top)))
    smaller = Polygon(((middle - half + across, top), (middle, corner + up), (middle + half - across, top)))
    block = shapely.box(0, low, wide, top)
    paper, fabric = as_shape(block.difference(vee)), as_shape(block.difference(smaller))
    marks: list[Mark] = [*_back(fabric, paper, way)]
    marks.append(line(((middle, corner + up), (middle, corner + 2.5)), BOLD))
    marks.append(named_below(middle, CLIP_IN))
    right = wide + _BETWEEN
    marks += _back(moved(paper, right, 0), moved(paper, right, 0), way)
    for side in (-1, 1):
        edge = ((middle, corner), (middle + side * half, top))
        strip = as_shape(
            vee.difference(smaller).intersection(
                shapely.box(min(middle, middle + side * wide), low, max(middle, middle + side * wide), top)
            )
        )
        flap = as_shape(folded_over(strip, edge).intersection(paper))
        marks += area_of(moved(flap, right, 0), fill=RIGHT_SIDE, ink=FINE)
    marks.append(named_below(right + middle, BOTH_SIDES))
    return Drawing(width=right + wide + 1, height=top + 1, marks=tuple(marks), said=said)


def _back(fabric: Area, paper: Area, way: FreezerPaper) -> Iterator[Mark]:
    """Fabric from its wrong side, with the paper on it unless that is on the right side."""
    yield from dotted(fabric)
    match way:
        case FreezerPaper.RIGHT_SIDE:
            yield from area_of(paper, ink=DASHED)
        case FreezerPaper.WRONG_SIDE_DOWN:
            yield from area_of(paper, fill=PAPER, ink=FINE)
        case FreezerPaper.WRONG_SIDE_UP:
            yield from hatched(paper)


def _turned(template: Template, way: FreezerPaper, turn_under: float) -> tuple[Model, Area, float]:
    """The letter as its paper lies, with room for what is turned under."""
    model = Model(template, mirrored=way is not FreezerPaper.RIGHT_SIDE)
    room = model.margin(turn_under)
    return model, model.at(room + 4, room + 4), room


def _fabric(area: Area, way: FreezerPaper) -> Iterator[Mark]:
    if way is FreezerPaper.RIGHT_SIDE:
        yield from area_of(area, fill=RIGHT_SIDE)
    else:
        yield from dotted(area)


def _paper(area: Area, way: FreezerPaper) -> Iterator[Mark]:
    if way is FreezerPaper.WRONG_SIDE_UP:
        yield from hatched(area)
    else:
        yield from area_of(area, fill=PAPER_SIDE, ink=FINE)
