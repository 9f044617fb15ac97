"""Drawings larger than a page, cut into tiles that share an overlap."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely.geometry import GeometryCollection, LineString, box
from shapely.geometry.base import BaseGeometry

from applique.design import Paper
from applique.errors import Problem, Refusal, Where
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR, parts_in_order
from applique.language import Speech, message
from applique.paging.frame import MOST_PAGES, SheetFrame
from applique.paging.labels import (
    LabelWords,
    box_with_arrows,
    label_words,
    tag_inside,
)
from applique.paging.ticks import longer_tick, middle_tick
from applique.paging.tile_marks import marks_boxes, tile_marks
from applique.paging.values import Join, Joining, LabelSpot, PartTag, Tile, TiledTemplate, Tiling
from applique.pieces import Template
from applique.units import as_inches

__all__ = ["tile_area", "tiled_template"]

_MARKS_AT: Final = (0.25, 0.75)
"""Where along a page's side its join marks stand."""
_WORDS_AT: Final = (0.5, 0.4, 0.6, 0.1, 0.9, 0.35, 0.65, 0.15, 0.85)
"""Where along a seam its words may stand, in the order tried: clear of the marks."""
_WORDS_LONG: Final = 0.95
_WORDS_HIGH: Final = 0.13
"""Inches that the words at a seam take, at 7 points."""
_MARK: Final = 0.14
_CLEAR: Final = 0.06
_SHOWS: Final = 0.001
"""Square inches of a part of a letter that a tile shows at the least."""
_COARSE: Final = 0.01
"""Inches by which lines may be off where only room for a label is looked for; less than it keeps clear of them."""


def tiled_template(
    template: Template,
    frame: SheetFrame,
    paper: Paper,
    *,
    own_fonts: tuple[str, ...],
    speech: Speech,
    copies: int,
) -> tuple[TiledTemplate, ...]:
    """The tiling of a large template, upright or on its side, whichever takes fewer pages; once for each copy."""
    shape, drawn = template.outermost, _lines(template)
    kept_free = shapely.union_all([drawn, _around_middle(template)])

    def tried(turn_deg: float) -> tuple[Place, Tiling]:
        place = Place(x=0.0, y=0.0, turn_deg=turn_deg)
        overlap = float(paper.overlap)
        return place, tile_area(
            place.shape(shape), frame=frame, overlap=overlap, border=0.15, lines=place.shape(kept_free)
        )

    place, tiling = min((tried(0.0), tried(90.0)), key=lambda one: len(one[1].tiles))
    coarse = shapely.simplify(drawn, _COARSE)
    taken = [_taken(tile, tiling) for tile in tiling.tiles]
    lines = place.shape(coarse)
    marks = [
        tile_marks(template, place, tiling, tile, lines=lines, taken=one, speech=speech)
        for tile, one in zip(tiling.tiles, taken, strict=True)
    ]
    rooms = [
        _room_for_label(template, place, tile, (*one, *marks_boxes(mark)), coarse)
        for tile, one, mark in zip(tiling.tiles, taken, marks, strict=True)
    ]

    def labels(copy: int) -> Iterator[LabelSpot]:
        for tile, (inside, anywhere) in zip(tiling.tiles, rooms, strict=True):
            words = label_words(
                template,
                paper.copies,
                own_fonts=own_fonts,
                speech=speech,
                tile=tile.name if len(tiling.tiles) > 1 else "",
                more=tuple(_more(template, place, tile, copy, copies, speech)),
            )
            spot = _label(words, inside, anywhere, round(place.turn_deg), tile, place)
            yield replace(spot, tags=tuple(_tags(template, place, tile, spot, anywhere, own_fonts)))

    return tuple(
        TiledTemplate(
            template=template.number,
            place=place,
            tiling=tiling,
            labels=tuple(labels(copy)),
            marks=tuple(marks),
            copy=copy,
            copies=copies,
        )
        for copy in range(1, copies + 1)
    )


def _more(
    template: Template,
    place: Place,
    tile: Tile,
    copy: int,
    copies: int,
    speech: Speech,
) -> Iterator[str]:
    """What the label of a tile says and that of a whole template does not: its copy, which parts of a letter in
    several are on it, and that it has no line."""
    if copies > 1:
        yield speech.say("copy {number} of {count}", number=str(copy), count=str(copies))
    names = [name for name, _ in _parts_on(template, place, tile)]
    if len(names) == 1:
        yield speech.say("part {name}", name=names[0])
    elif names:
        yield speech.say("parts {names}", names=", ".join(names))
    if shapely.within(_kept(place, tile), template.shape):
        yield speech.say("no line here: all letter")


def _kept(place: Place, tile: Tile) -> BaseGeometry:
    """What is kept of a tile, about the template's own origin."""
    return Place(x=0.0, y=0.0, turn_deg=-place.turn_deg).shape(box(*tile.kept))


def _parts_on(template: Template, place: Place, tile: Tile) -> Iterator[tuple[str, BaseGeometry]]:
    """The parts of a letter in several that a tile keeps something of, by their names; nothing of one in one piece."""
    if not template.part_names:
        return
    kept = _kept(place, tile)
    for name, part in zip(template.part_names, parts_in_order(template.shape), strict=True):
        here = shapely.intersection(part, kept)
        if here.area > _SHOWS:
            yield name, here


def _tags(
    template: Template,
    place: Place,
    tile: Tile,
    label: LabelSpot,
    anywhere: BaseGeometry,
    own_fonts: tuple[str, ...],
) -> Iterator[PartTag]:
    """The name of each part of a letter on a tile that keeps something of several, clear of its label, where the part
    has room for it."""
    parts = list(_parts_on(template, place, tile))
    free = shapely.difference(anywhere, box(*box_with_arrows(label)))
    for name, here in parts if len(parts) > 1 else ():
        tag = tag_inside(name, shapely.intersection(here, free), label.turn_deg, own_fonts)
        if tag is not None:
            yield tag


def _lines(template: Template) -> BaseGeometry:
    """All lines that a template is drawn with, its baseline too."""
    x0, _, x1, _ = template.outermost.bounds
    lines: list[BaseGeometry] = [template.shape.boundary, template.outermost.boundary]
    if template.letter:
        lines += [LineString([(x0 - 1, 0.0), (x1 + 1, 0.0)]), LineString(middle_tick(template))]
    if template.turned:
        lines += [LineString(line) for line in (*template.turned.marks, *template.turned.mouths)]
    if template.off:
        lines += [LineString(seam) for seam in template.off.seams]
    lines += [LineString(ring.points(CHORD_ERROR)) for ring in template.ring.contours]
    return shapely.union_all(lines)


def _around_middle(template: Template) -> BaseGeometry:
    """What the mark of a letter's middle takes where it is near a seam, with room for its word."""
    return LineString(longer_tick(template)).buffer(_WORDS_HIGH) if template.letter else GeometryCollection()


def _taken(tile: Tile, tiling: Tiling) -> tuple[BaseGeometry, ...]:
    """What the words and marks at the seams of a tile take."""
    x0, y0, x1, y1 = tile.kept
    words = [_words_box(join.seam, join.at) for join in tile.joins]
    marks = [
        box(x - _MARK, y - _MARK, x + _MARK, y + _MARK)
        for x, y in tiling.marks
        if x0 <= x <= x1 and y0 <= y <= y1
    ]
    return (*words, *marks)


def _room_for_label(
    template: Template, place: Place, tile: Tile, taken: Sequence[BaseGeometry], lines: BaseGeometry
) -> tuple[BaseGeometry, BaseGeometry]:
    """What a tile keeps clear of lines and of what is `taken` on it: on the letter, and all of it.

    About the template's own origin.
    """
    back = Place(x=0.0, y=0.0, turn_deg=-place.turn_deg)
    x0, y0, x1, y1 = tile.kept
    kept = back.shape(shapely.difference(box(x0, y0, x1, y1).buffer(-_CLEAR), shapely.union_all(taken)))
    near = shapely.intersection(lines, kept.buffer(1.0)).buffer(_CLEAR, quad_segs=2)
    anywhere = shapely.difference(kept, near)
    return shapely.intersection(anywhere, template.shape), anywhere


def _label(
    words: LabelWords,
    inside: BaseGeometry,
    anywhere: BaseGeometry,
    level: int,
    tile: Tile,
    place: Place,
) -> LabelSpot:
    """The label of a tile, its text level on the sheet: on the letter where it can be, else off it."""
    for room, on_letter in ((inside, True), (anywhere, False)):
        for turn in (level, 90 - level):
            spot = words.on(room, turn, inside=on_letter, fine=2)
            if spot is not None:
                return spot
    back = Place(x=0.0, y=0.0, turn_deg=-place.turn_deg)
    (x0, y0, _, _), (width, height) = tile.kept, words.size(0)
    center = back.point((x0 + _CLEAR + width / 2, y0 + _CLEAR + height / 2))
    width, height = words.size(level)
    return words.spot((center[0] - width / 2, center[1] - height / 2), level, inside=False)


def tile_area(
    shape: BaseGeometry,
    *,
    frame: SheetFrame,
    overlap: float,
    border: float,
    lines: BaseGeometry | None = None,
) -> Tiling:
    """`shape` with `border` around it cut into tiles of the frame's drawing area that share `overlap`.

    Words at the seams keep off the `lines` that are drawn: the edges of `shape`, if none are given.

    The drawing is centered in the tiles. Tiles that keep nothing of `shape` when they are trimmed are left out.

    Raises:
        Refusal: more tiles than anybody would print.
    """
    width, height = frame.room
    x0, y0, x1, y1 = shape.bounds
    need_x, need_y = x1 - x0 + 2 * border, y1 - y0 + 2 * border
    columns = max(1, math.ceil((need_x - overlap) / (width - overlap) - 1e-9))
    rows = max(1, math.ceil((need_y - overlap) / (height - overlap) - 1e-9))
    if columns * rows > MOST_PAGES:
        raise Refusal(
            Problem(
                kind="drawing-of-too-many-pages",
                what=message(
                    "a drawing of {width} by {height} takes {pages} pages",
                    width=as_inches(x1 - x0, denominator=1),
                    height=as_inches(y1 - y0, denominator=1),
                    pages=columns * rows,
                ),
                where=Where.key("paper"),
                fix=message("smaller letters or larger paper"),
            )
        )
    full_x, full_y = columns * (width - overlap) + overlap, rows * (height - overlap) + overlap
    left, top = (x0 + x1 - full_x) / 2, (y0 + y1 + full_y) / 2
    seams_x = tuple(left + column * (width - overlap) + overlap / 2 for column in range(1, columns))
    seams_y = tuple(top - row * (height - overlap) - overlap / 2 for row in range(1, rows))
    along_x = [
        left + column * (width - overlap) + width * part for column in range(columns) for part in _MARKS_AT
    ]
    along_y = [top - row * (height - overlap) - height * part for row in range(rows) for part in _MARKS_AT]
    return Tiling(
        area=(left, top - full_y, left + full_x, top),
        rows=rows,
        columns=columns,
        seams_x=seams_x,
        seams_y=seams_y,
        marks=(*((x, y) for x in seams_x for y in along_y), *((x, y) for y in seams_y for x in along_x)),
        tiles=tuple(
            _tiles(
                shape,
                lines_of(shape) if lines is None else lines,
                corner=(left, top),
                room=(width, height),
                overlap=overlap,
                grid=(rows, columns),
            )
        ),
    )


def _tiles(
    shape: BaseGeometry,
    lines: BaseGeometry,
    *,
    corner: tuple[float, float],
    room: tuple[float, float],
    overlap: float,
    grid: tuple[int, int],
) -> Iterator[Tile]:
    left, top = corner
    width, height = room
    shapely.prepare(shape)
    windows = {
        (row, column): (x, y - height, x + width, y)
        for row in range(grid[0])
        for column in range(grid[1])
        for x, y in [(left + column * (width - overlap), top - row * (height - overlap))]
    }

    def trimmed(spot: tuple[int, int], beside: Container[tuple[int, int]]) -> Bounds:
        row, column = spot
        x0, y0, x1, y1 = windows[spot]
        half = overlap / 2
        return (
            x0 + half * ((row, column - 1) in beside),
            y0 + half * ((row + 1, column) in beside),
            x1 - half * ((row, column + 1) in beside),
            y1 - half * ((row - 1, column) in beside),
        )

    printed = {spot for spot in windows if shapely.intersects(shape, box(*trimmed(spot, windows)))}
    for spot in sorted(printed):
        row, column = spot
        kept = trimmed(spot, printed)
        near = shapely.intersection(lines, box(*windows[spot]))
        yield Tile(
            name=_tile_name(row, column),
            row=row,
            column=column,
            window=windows[spot],
            kept=kept,
            joins=tuple(_joins(spot, kept, printed, overlap / 2, near)),
        )


def lines_of(shape: BaseGeometry) -> BaseGeometry:
    """The lines that `shape` is drawn with: the edges of what has an area, and what are lines by themselves."""
    parts = [shape]
    while any(isinstance(part, GeometryCollection) for part in parts):
        parts = [piece for part in parts for piece in getattr(part, "geoms", [part])]
    return shapely.union_all([part.boundary if part.area else part for part in parts])


def _joins(
    spot: tuple[int, int],
    kept: Bounds,
    printed: Container[tuple[int, int]],
    strip: float,
    lines: BaseGeometry,
) -> Iterator[Join]:
    """The sides of a tile that join another: its left and upper strip come off, the next tile covers the others."""
    (row, column), (x0, y0, x1, y1) = spot, kept
    sides = (
        (Joining.TRIM, (row, column - 1), ((x0, y0), (x0, y1)), (-1.0, 0.0)),
        (Joining.TRIM, (row - 1, column), ((x0, y1), (x1, y1)), (0.0, 1.0)),
        (Joining.TAPE, (row, column + 1), ((x1, y0), (x1, y1)), (1.0, 0.0)),
        (Joining.TAPE, (row + 1, column), ((x0, y0), (x1, y0)), (0.0, -1.0)),
    )
    # Words stand in the strip; where that is too narrow for them, on the other side of the seam.
    off = strip / 2 if strip >= _WORDS_HIGH else -_WORDS_HIGH / 2 - 0.02
    for joining, other, ((a, b), (c, d)), (out_x, out_y) in sides:
        if other not in printed:
            continue
        spots = [(a + (c - a) * part + out_x * off, b + (d - b) * part + out_y * off) for part in _WORDS_AT]
        seam = ((a, b), (c, d))
        at = next((at for at in spots if not _words_box(seam, at).intersects(lines)), spots[0])
        yield Join(joining=joining, other=_tile_name(*other), seam=seam, at=at)


def _words_box(seam: tuple[Point, Point], at: Point) -> BaseGeometry:
    half_long, half_high = _WORDS_LONG / 2, _WORDS_HIGH / 2
    if seam[0][0] == seam[1][0]:
        half_long, half_high = half_high, half_long
    return box(at[0] - half_long, at[1] - half_high, at[0] + half_long, at[1] + half_high)


def _tile_name(row: int, column: int) -> str:
    # With a dash, for A4 is a size of paper.
    return f"{_row_letters(row)}-{column + 1}"


def _row_letters(row: int) -> str:
    letters = ""
    row += 1
    while row:
        row, rest = divmod(row - 1, 26)
        letters = chr(ord("A") + rest) + letters
    return letters
