"""The quilt drawn small: in its colors, round by round as its borders grow, quilted, and to scale in a room.

What is drawn is the one picture of the quilt; frame of the picture: inches, y up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from fractions import Fraction
from statistics import median
from typing import Final

import shapely

from applique.colors import reads_on
from applique.design import BorderKind, Corners
from applique.drawings.values import (
    FINE,
    HAIR,
    INK,
    PAPER,
    Anchor,
    Drawing,
    Ink,
    Mark,
    Shape,
    Tile,
    Words,
    path,
    text_width,
)
from applique.drawings.vocabulary import dimension
from applique.geometry.points import Matrix, Point
from applique.language import Message
from applique.picture import Item, Part, Pen, Picture
from applique.quilt.borders import BorderPlan, BorderStep, Side
from applique.sewing.quilting import Course, Echoes, InTheDitch, QuiltingPlan, Ruled, Waves

__all__ = ["draw_coloring", "draw_quilt", "draw_quilting", "draw_round", "draw_scene"]

_SEWN: Final = "#ededed"
_PALE: Final = "#dbdbdb"
_SEEN: Final = HAIR
_FINEST: Final = replace(HAIR, color=INK)
_FINER: Final = 40
"""So many times finer than the height of letters is a line to color up to."""
_NUMBERS: Final = 7.0
_OUTSIDE: Final = 10.0
"""Points around a top for letters that have no room in their strips."""
_MEASURED: Final = 17.0
"""Points below a top for its width."""
_CLOSE: Final = 3.0
"""Points between lines of quilting below which they are drawn as fine as can be."""
_LEAST_REPEAT: Final = 4.0
"""Points from a photo to the same one beside it, below which it is not drawn: fewer than 20,000 cover a page then."""
_STRAYED: Final = 0.15
"""Points that a line of quilting may stray from its plan."""


def draw_quilt(picture: Picture, size: Point, said: Message) -> Drawing:
    """The whole quilt in its fabrics, as large as `size` points allow; photos of them at the scale of the drawing.

    A photo that repeats within a few points is left out, since only its color could be seen.
    """
    scale = min(size[0] / picture.width, size[1] / picture.height)
    onto = (scale, 0.0, 0.0, scale, 0.0, 0.0)
    marks = tuple(
        replace(shape, tile=_tile(picture, item, scale))
        for item, shape in zip(picture.items, _painted(picture.items, onto), strict=True)
    )
    return Drawing(width=picture.width * scale, height=picture.height * scale, marks=marks, said=said)


def _tile(picture: Picture, item: Item, scale: float) -> Tile | None:
    """The photo of an item's fabric as it lies on the drawing, `scale` points to an inch, if it can be seen there."""
    shown = picture.photo_of(item)
    if shown is None or min(shown.size) * scale < _LEAST_REPEAT:
        return None
    width, height = shown.size
    a, b, c, d, x, y = (scale * part for part in item.place.matrix)
    return Tile(data=shown.photo.small, width=width, height=height, onto=(a, b, c, d, x, y))


def draw_scene(picture: Picture, size: Point, said: Message) -> Drawing:
    """The quilt on a wall beside a door, a person and a sofa, all to one scale, as large as `size` points allow."""
    wall = picture.wall
    scale = min(size[0] / wall.width, size[1] / wall.height)
    x, y = wall.quilt
    marks = (
        *_painted(wall.items, (scale, 0.0, 0.0, scale, 0.0, 0.0)),
        *_painted(picture.items, (scale, 0.0, 0.0, scale, x * scale, y * scale)),
    )
    return Drawing(width=wall.width * scale, height=wall.height * scale, marks=marks, said=said)


def draw_round(
    picture: Picture,
    border: BorderPlan,
    step: BorderStep,
    size: Point,
    said: Message,
    *,
    letters: Mapping[str, str],
    names: Mapping[Side, str],
    measures: tuple[str, str],
) -> Drawing:
    """The top after one round of sewing: what was there in gray, the strips just sewn on in color. Strips that are to
    be mitered reach past the corners, as far as they do.

    Each new piece that has room carries the letter of its fabric, by `letters`; a strip that has none has it outside.
    A strip of a side in `names` carries its own name instead.
    `measures` are the width and the height that stand beside it.
    """
    left, below, right = _OUTSIDE, _MEASURED + _OUTSIDE, _OUTSIDE + 10 + text_width(measures[1], _NUMBERS)
    inner = (size[0] - left - right, size[1] - below - _OUTSIDE)
    tails = _tails(border, step)
    reach = [
        max(float(side), *(long for along, long in tails.values() if along == axis), 0.0)
        for axis, side in enumerate(step.finished)
    ]
    (scale, _, _, _, x, y), taken = _centered(picture, reach, inner)
    onto: Matrix = (scale, 0.0, 0.0, scale, x + left, y + below)
    rounds = border.steps[: border.steps.index(step) + 1]
    sewn = {strip.side for round_ in rounds for strip in round_.strips}
    new = {strip.side for strip in step.strips}
    marks: list[Mark] = []
    lettered: list[Mark] = []
    for item in picture.top:
        inside = item.border is None or item.border < border.number
        if inside or (item.border == border.number and item.side in sewn):
            fresh = item.border == border.number and item.side in new
            tail = tails.get(Side(item.side)) if fresh and item.side else None
            if tail is None:
                marks += _painted([item if fresh else replace(item, fill=_SEWN)], onto)
            else:
                marks.append(_strip(item, tail, onto))
            if fresh:
                name = names.get(Side(item.side)) if item.side else None
                said_on = letters[item.fabric] if name is None else name
                lettered += _lettered(item, said_on, onto, is_strip=border.kind is BorderKind.STRIP)
    far, top = left + taken[0], below + taken[1]
    over, up = ((room - float(side) * scale) / 2 for room, side in zip(taken, step.finished, strict=True))
    marks += dimension(
        (left + over, below - _OUTSIDE), (far - over, below - _OUTSIDE), measures[0], off=-10.0
    )
    marks += dimension((far + _OUTSIDE, below + up), (far + _OUTSIDE, top - up), "")
    marks.append(Words(said=measures[1], at=(far + _OUTSIDE + 5, (below + top) / 2 - 2.5), size=_NUMBERS))
    return Drawing(width=far + right, height=top + _OUTSIDE, marks=(*marks, *lettered), said=said)


def _tails(border: BorderPlan, step: BorderStep) -> dict[Side, tuple[int, float]]:
    """Along which axis, and how many inches, each strip lies that is to be mitered; nothing of other borders."""
    if border.corners is not Corners.MITERED:
        return {}
    return {strip.side: (int(strip.side.upright), float(strip.cut_length)) for strip in step.strips}


def _strip(item: Item, tail: tuple[int, float], onto: Matrix) -> Shape:
    """A strip as long as it is cut, in the middle of its side: its ends lie loose past the corners."""
    axis, long = tail
    bounds = list(item.laid.bounds())
    middle = (bounds[axis] + bounds[axis + 2]) / 2
    bounds[axis], bounds[axis + 2] = middle - long / 2, middle + long / 2
    x0, y0, x1, y1 = bounds
    corners = ((x0, y0), (x1, y0), (x1, y1), (x0, y1))
    return Shape(outline=path(corners).transformed(onto), fill=item.fill, ink=FINE)


def _lettered(item: Item, letter: str, onto: Matrix, *, is_strip: bool) -> Iterator[Words]:
    """The letter or name of a piece in its middle, along an upright strip; of a plain strip too narrow for it, outside
    of the top."""
    x0, y0, x1, y1 = item.laid.transformed(onto).bounds()
    middle = ((x0 + x1) / 2, (y0 + y1) / 2)
    thin = min(x1 - x0, y1 - y0)
    if thin >= _NUMBERS + 1.5:
        color = INK if item.fill is None else reads_on(item.fill)
    elif is_strip:
        color = INK
        out = thin / 2 + _NUMBERS / 2 + 1
        away = {
            Side.LEFT: (-out, 0.0),
            Side.RIGHT: (out, 0.0),
            Side.TOP: (0.0, out),
            Side.BOTTOM: (0.0, -out),
        }
        over, up = away[Side(item.side)]
        middle = (middle[0] + over, middle[1] + up)
    else:
        return
    turned = len(letter) > 1 and y1 - y0 > x1 - x0
    off = 0.36 * _NUMBERS
    yield Words(
        said=letter,
        at=(middle[0] + off, middle[1]) if turned else (middle[0], middle[1] - off),
        size=_NUMBERS,
        bold=True,
        color=color,
        anchor=Anchor.MIDDLE,
        turn_deg=90.0 if turned else 0.0,
    )


def draw_quilting(picture: Picture, plan: QuiltingPlan, size: Point, said: Message) -> Drawing:
    """The quilt in pale gray with the lines of one kind of quilting over it, finer where they lie close."""
    onto, taken = _centered(picture, (picture.width, picture.height), size)
    marks: list[Mark] = []
    for item in picture.of(Part.PANEL, Part.OUTLINE, Part.LETTER, Part.SHAPE, Part.EDGE):
        cut = item.part in (Part.LETTER, Part.SHAPE)
        outline = item.laid.transformed(onto)
        marks.append(Shape(outline=outline, fill=_PALE if cut else None, ink=None if cut else _SEEN))
    scale = onto[0]
    middle = (picture.width / 2 * scale, picture.height / 2 * scale)
    onto_middle = (scale, 0.0, 0.0, scale, onto[4] + middle[0], onto[5] + middle[1])
    ink = FINE if _apart(plan.course) * scale >= _CLOSE else HAIR
    for points in plan.lines:
        seen = shapely.LineString(points).simplify(_STRAYED / scale).coords
        outline = path((float(x), float(y)) for x, y in seen)
        marks.append(Shape(outline=outline.transformed(onto_middle), ink=ink, open=True))
    return Drawing(width=taken[0], height=taken[1], marks=tuple(marks), said=said)


def _apart(course: Course) -> float:
    """Inches from line to line."""
    match course:
        case Echoes(spacing=spacing) | Ruled(spacing=spacing):
            return float(spacing)
        case Waves(row_height=height):
            return float(height)
        case InTheDitch():
            return math.inf


def draw_coloring(picture: Picture, size: Point, said: Message) -> Drawing:
    """The quilt in lines alone, to color in; lines finer than letters are high, however small they are drawn."""
    onto, taken = _centered(picture, (picture.width, picture.height), size)
    parts = (Part.PATCH, Part.PANEL, Part.OUTLINE, Part.LETTER, Part.SHAPE, Part.EDGE)
    letters = [item.laid.transformed(onto).bounds() for item in picture.of(Part.LETTER)]
    high = median(top - low for _, low, _, top in letters) if letters else math.inf
    ink = FINE if FINE.width <= high / _FINER else _FINEST
    marks = tuple(
        Shape(
            outline=item.laid.transformed(onto),
            fill=PAPER if item.part is not Part.EDGE else None,
            ink=ink if item.is_edged else None,
        )
        for item in picture.of(*parts)
    )
    return Drawing(width=taken[0], height=taken[1], marks=marks, said=said)


def below_one_another(drawing: Drawing, times: int, gap: float) -> Drawing:
    """A drawing of shapes alone `times` over, `gap` points of white between them."""
    step = drawing.height + gap
    marks = tuple(
        replace(mark, outline=mark.outline.transformed((1.0, 0.0, 0.0, 1.0, 0.0, index * step)))
        for index in range(times)
        for mark in drawing.marks
        if isinstance(mark, Shape)
    )
    return replace(drawing, height=times * step - gap, marks=marks)


def turned(drawing: Drawing) -> Drawing:
    """A drawing of shapes alone a quarter turned to the left."""
    onto = (0.0, 1.0, -1.0, 0.0, drawing.height, 0.0)
    marks = tuple(
        replace(mark, outline=mark.outline.transformed(onto))
        for mark in drawing.marks
        if isinstance(mark, Shape)
    )
    return replace(drawing, width=drawing.height, height=drawing.width, marks=marks)


def _centered(
    picture: Picture, inches: Sequence[float | Fraction], size: Point
) -> tuple[Matrix, tuple[float, float]]:
    """The matrix that brings `inches` about the middle of `picture` onto `size` points, and the points they take."""
    wide, high = float(inches[0]), float(inches[1])
    scale = min(size[0] / wide, size[1] / high)
    left, low = (wide - picture.width) / 2 * scale, (high - picture.height) / 2 * scale
    return (scale, 0.0, 0.0, scale, left, low), (wide * scale, high * scale)


def _painted(items: Iterable[Item], onto: Matrix) -> Iterator[Shape]:
    """The items of a picture, whose frame comes under `onto`."""
    for item in items:
        pen = item.pen
        yield Shape(
            outline=item.laid.transformed(onto),
            fill=item.fill,
            ink=None if pen is None else _thread(pen, onto[0]),
            open=item.open,
        )


def _thread(pen: Pen, scale: float) -> Ink:
    return Ink(color=pen.color, width=pen.width * scale, opacity=pen.opacity, is_to_scale=True)
