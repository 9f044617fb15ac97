"""What a tile shows of a large letter's middle and of its baseline, so that neither is lost at a seam.

Frame: that of the tiling, inches, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import shapely
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.language import Speech
from applique.paging.ticks import TICK, TICK_GAP, lean_boxes, longer_tick, middle_tick
from applique.paging.values import Tile, TileMarks, Tiling
from applique.pieces import Template
from applique.typeset.labels import label_width

__all__ = ["WORD_SIZE", "first_clear", "marks_boxes", "tile_marks", "words_beside"]

_NEAR: Final = 0.25
"""Inches from a seam within which the mark of a middle is drawn longer and bolder, and named."""
WORD_SIZE: Final = 7.0 / 72
"""Inches of the size of the words."""
_HIGH: Final = 0.1
_OFF: Final = 0.05
"""Inches from a line to the words beside it."""
_PAD: Final = 0.03
_STEP: Final = 0.1
_LEAST: Final = 0.2
"""Inches of a baseline on a tile that have a number."""
_ALONG: Final = (0.5, 0.75, 0.25, 1.0, 0.0, 1.4, -0.4, 1.8, -0.8)
"""Where along a mark its word may stand, in the order tried."""


def tile_marks(
    template: Template,
    place: Place,
    tiling: Tiling,
    tile: Tile,
    *,
    lines: BaseGeometry,
    taken: Sequence[BaseGeometry],
    speech: Speech,
) -> TileMarks:
    """The marks of a `tile`, their words clear of the `lines` of the drawing and of what is `taken` at its seams."""
    if not template.letter:
        return TileMarks()
    middle, is_near = _middle(template, place, tiling)
    full = [*taken, shapely.intersection(lines, box(*tile.window)), LineString(middle)]
    full += [place.shape(box(*room)) for room in lean_boxes(template)]
    word, at = speech.say("middle"), None
    if is_near and LineString(middle).distance(box(*tile.kept)) < _OFF:
        at = first_clear(words_beside(middle, label_width(word, WORD_SIZE)), tile.kept, full)
        full += [box(*at)] if at else []
    wide = label_width(str(template.number), WORD_SIZE)
    number = first_clear(_along_baseline(template, place, tile, wide), tile.kept, full)
    return TileMarks(
        middle=middle if LineString(middle).intersects(box(*tile.window)) else None,
        bold=is_near,
        word=word if at else "",
        word_box=at,
        number_box=number,
    )


def marks_boxes(marks: TileMarks) -> tuple[BaseGeometry, ...]:
    """What the marks of a tile and their words take."""
    boxes = [box(*one) for one in (marks.word_box, marks.number_box) if one is not None]
    return (*boxes, *([LineString(marks.middle).buffer(_OFF)] if marks.middle else []))


def _middle(template: Template, place: Place, tiling: Tiling) -> tuple[tuple[Point, Point], bool]:
    """The mark of the middle, and whether it is near a seam, where it is a longer one."""
    low, high = (place.point(end) for end in middle_tick(template))
    seams = [LineString(join.seam) for tile in tiling.tiles for join in tile.joins]
    is_near = any(seam.distance(LineString([low, high])) <= _NEAR for seam in seams)
    if is_near:
        low, high = (place.point(end) for end in longer_tick(template))
    return (low, high), is_near


def words_beside(mark: tuple[Point, Point], wide: float) -> Iterator[Bounds]:
    """Where the word of a mark may stand: level, on either side of it."""
    (x0, y0), (x1, y1) = mark
    off_x, off_y = (wide / 2 + _OFF, 0.0) if abs(x1 - x0) < abs(y1 - y0) else (0.0, _HIGH / 2 + _OFF)
    for part in _ALONG:
        x, y = x0 + (x1 - x0) * part, y0 + (y1 - y0) * part
        for side in (-1, 1):
            yield _around((x + side * off_x, y + side * off_y), wide)


def _along_baseline(template: Template, place: Place, tile: Tile, wide: float) -> Iterator[Bounds]:
    """Where the number of a baseline may stand on a tile: at its ends beside the letter, else from the middle out."""
    x0, _, x1, _ = template.outermost.bounds
    reach = TICK_GAP + TICK
    line = LineString([place.point((x0 - reach, 0.0)), place.point((x1 + reach, 0.0))])
    kept = line.intersection(box(*tile.kept))
    if kept.length < _LEAST:
        return
    steps = int(kept.length / _STEP)
    half = kept.length / 2
    inner = sorted((kept.length * step / steps for step in range(1, steps)), key=lambda at: abs(at - half))
    ends = [place.point((x, 0.0)) for x in (x0 - reach + TICK / 2, x1 + reach - TICK / 2)]
    spots = [*ends, *((one.x, one.y) for one in map(kept.interpolate, inner))]
    (from_x, from_y), (to_x, to_y) = line.coords
    level = abs(to_y - from_y) < abs(to_x - from_x)
    off_x, off_y = (0.0, _HIGH / 2 + _OFF) if level else (wide / 2 + _OFF, 0.0)
    for x, y in spots:
        for side in (1, -1):
            yield _around((x + side * off_x, y + side * off_y), wide)


def _around(center: Point, wide: float) -> Bounds:
    x, y = center
    return (x - wide / 2, y - _HIGH / 2, x + wide / 2, y + _HIGH / 2)


def first_clear(spots: Iterator[Bounds], kept: Bounds, full: Sequence[BaseGeometry]) -> Bounds | None:
    """The first of the `spots` that lies on what is `kept` of a tile, clear of what is `full`."""
    blocked = shapely.union_all(list(full))
    shapely.prepare(blocked)
    room = box(*kept).buffer(-_PAD)
    return next(
        (
            spot
            for spot in spots
            if room.contains(box(*spot)) and not blocked.intersects(box(*spot).buffer(_PAD))
        ),
        None,
    )
