"""Letters from paper to fabric: the step pictures of all three methods, drawn with a letter of the maker's own words.

A picture shows one letter, as large as it has room for; margins that would be too fine to see at that size are drawn
wider. Frame: points, y up. Letters seen from the back are in mirror image.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon

from applique.design import FreezerPaper
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    PAPER,
    QUIET,
    Anchor,
    Drawing,
    Ink,
    Mark,
    Shape,
    Words,
    box,
    line,
    path,
)
from applique.drawings.vocabulary import (
    DOT,
    DOTS,
    DOTTED,
    IRON,
    PAPER_SIDE,
    RIGHT_SIDE,
    arrow,
    dimension,
    disc,
    iron,
    leader,
    pin,
    wrong_side,
)
from applique.geometry.offset import outline_of
from applique.geometry.points import Point
from applique.geometry.polygons import Shape as Area
from applique.geometry.polygons import as_shape, parts_of
from applique.language import Message
from applique.paging import TiledTemplate
from applique.pieces import Layer, Template, rough_cut
from applique.turned_edges import turn_marks
from applique.units import Units
from applique.words.instructions.letters import (
    AS_IT_READS,
    BOTH_SIDES,
    CARRIED,
    CLIP_IN,
    CUT_LINE,
    FABRIC_TURNED,
    ON_THE_MAT,
    ON_THE_PAPER,
    ONE_SIDE,
    OTHER_SIDE,
    PEELED_AWAY,
    ROUGH,
    TIP_FIRST,
    TRIM,
    WEB_AWAY,
    WEB_STAYS,
    WEB_UP,
    WRONG_SIDE,
    measured_said,
)

__all__ = [
    "draw_allowance",
    "draw_clips",
    "draw_cut",
    "draw_fused",
    "draw_laid",
    "draw_legend",
    "draw_middle",
    "draw_on_mat",
    "draw_peeled",
    "draw_point",
    "draw_ring",
    "draw_rough_cut",
    "draw_tiles",
    "draw_traced",
    "draw_turned",
    "draw_vee",
    "draw_weeded",
    "model_letter",
]

_LETTER: Final = (74.0, 74.0)
"""Points that the letter of a picture may take."""
_EDGE: Final = 14.0
"""Points of paper or fabric around it."""
_LEAST: Final = 6.0
"""Points that a margin is drawn wide at the least."""
_GAP: Final = 30.0
_NAME: Final = 7.5
_MEASURED: Final = 18.0
"""Points beside a picture for what it measures."""
_NAMES: Final = 12.0
"""Points below a picture for what its halves are."""
_WEB: Final = "#e4e4e4"
_HATCH: Final = 4.5
_DASHED: Final = replace(CUT, dashes=(3.0, 2.0))
_CELL: Final = (40.0, 48.0)
"""Points of a template and its number in the picture of all templates."""
_SHOWN: Final = (32.0, 30.0)
_FAR_LESS: Final = 0.5
_FOLDED: Final = 8.0
_BETWEEN: Final = 18.0
"""Points of turn-under, and from one picture to the next, in the drawings of corners."""
_CAPTION: Final = 84.0
"""Points across that a caption below a picture may take."""
_INSIDE: Final = 1.5
_DASH: Final = 9.0
"""Points that a paper letter is drawn smaller than its fabric, and of the mark of its middle."""
_FLAT: Final = 0.01
"""Inches that a drawn curve may stray."""


class _Model:
    """A letter in points: `area` in mirror image where it is `mirrored`, its lower left corner at the origin."""

    def __init__(self, template: Template, *, mirrored: bool, size: Point = _LETTER) -> None:
        x0, y0, x1, y1 = template.ink
        self.scale = min(size[0] / (x1 - x0), size[1] / (y1 - y0))
        self.width, self.height = (x1 - x0) * self.scale, (y1 - y0) * self.scale
        across = (-self.scale, x1 * self.scale) if mirrored else (self.scale, -x0 * self.scale)
        self.onto = (across[0], 0.0, 0.0, self.scale, across[1], -y0 * self.scale)
        a, _, _, d, e, f = self.onto
        self.area = as_shape(
            shapely.make_valid(affinity.affine_transform(template.shape.simplify(_FLAT), (a, 0, 0, d, e, f)))
        )

    def margin(self, inches: float) -> float:
        """A margin in points, never too fine to see."""
        return max(inches * self.scale, _LEAST)

    def at(self, x: float, y: float) -> Area:
        """The letter with its lower left corner there."""
        return moved(self.area, x, y)


def moved(area: Area, x: float, y: float) -> Area:
    """An area moved by so much."""
    return as_shape(affinity.translate(area, x, y))


def model_letter(templates: Sequence[Template]) -> Template:
    """The letter that pictures are drawn with: the one that differs most from its mirror image, so that both ways
    round can be told apart; of templates that are no letters the first."""
    letters = [one for one in templates if one.layer is Layer.LETTER] or list(templates)
    return max(letters, key=_lopsided)


def _lopsided(template: Template) -> float:
    """The share of a letter that its mirror image does not cover, of one that is not far wider than high."""
    x0, y0, x1, y1 = template.ink
    shape = template.shape.simplify(_FLAT)
    mirrored = affinity.affine_transform(shape, (-1, 0, 0, 1, x0 + x1, 0))
    share = float(shape.difference(mirrored).area / shape.area)
    return share if x1 - x0 < 2 * (y1 - y0) else share - 1


def _area(area: Area, *, fill: str | None = None, ink: Ink | None = CUT) -> Iterator[Mark]:
    if not area.is_empty:
        yield Shape(outline=outline_of(area), fill=fill, ink=ink)


def _dotted(area: Area) -> Iterator[Mark]:
    """The wrong side of fabric."""
    yield from _area(area, fill=PAPER)
    x0, y0, x1, y1 = area.bounds
    inner = area.buffer(-1.0)
    row, y = 0, y0 + DOTS / 2
    while y < y1:
        x = x0 + DOTS / 2 * (1 + row % 2)
        while x < x1:
            if inner.contains(shapely.Point(x, y)):
                yield disc((x, y), DOT, fill=DOTTED)
            x += DOTS
        y, row = y + DOTS, row + 1


def _hatched(area: Area) -> Iterator[Mark]:
    """The shiny side of freezer paper."""
    yield from _area(area, fill=PAPER, ink=None)
    x0, y0, x1, y1 = area.bounds
    start = x0 - (y1 - y0)
    while start < x1:
        lines = area.intersection(LineString(((start, y0), (start + y1 - y0, y1))))
        for one in getattr(lines, "geoms", (lines,)):
            if isinstance(one, LineString) and not one.is_empty:
                yield line([(float(x), float(y)) for x, y in one.coords], HAIR)
        start += _HATCH
    yield from _area(area, ink=FINE)


def _sheet(x: float, y: float, wide: float, high: float) -> Iterator[Mark]:
    """A sheet of paper with a corner folded down."""
    ear = 8.0
    yield Shape(
        outline=path(
            ((x, y), (x + wide, y), (x + wide, y + high - ear), (x + wide - ear, y + high), (x, y + high))
        ),
        fill=PAPER,
        ink=FINE,
    )
    yield line(
        ((x + wide, y + high - ear), (x + wide - ear, y + high - ear), (x + wide - ear, y + high)), FINE
    )


def _corners(x: float, y: float, wide: float, high: float) -> tuple[Point, Point, Point, Point]:
    return ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))


def _below(x: float, said: Message) -> Mark:
    return Words(said=said, at=(x, 2.5), size=_NAME, anchor=Anchor.MIDDLE, color=QUIET)


# Which template is which


def draw_legend(templates: Sequence[Template], width: float, said: Message) -> Drawing:
    """Templates small, letters of one height to one scale, the number of each below; what lies behind is dashed.

    A shape so wide that it would make the others tiny is drawn as large as it has room for.
    """
    scales = _legend_scales(templates)
    columns = max(1, int(width // _CELL[0]))
    rows = -(-len(templates) // columns)
    marks: list[Mark] = []
    for index, template in enumerate(templates):
        x0, y0, x1, y1 = template.ink
        scale = scales[index]
        model = _Model(template, mirrored=False, size=((x1 - x0) * scale, (y1 - y0) * scale))
        x = (index % columns) * _CELL[0] + (_CELL[0] - model.width) / 2
        low = (rows - 1 - index // columns) * _CELL[1]
        behind = template.layer is Layer.OUTLINE
        marks += _area(
            model.at(x, low + 14), fill=None if behind else RIGHT_SIDE, ink=_DASHED if behind else FINE
        )
        marks.append(
            Words(
                said=str(template.number),
                at=((index % columns + 0.5) * _CELL[0], low + 3),
                size=9.0,
                bold=True,
                anchor=Anchor.MIDDLE,
            )
        )
    wide = min(len(templates), columns) * _CELL[0]
    return Drawing(width=wide, height=rows * _CELL[1], marks=tuple(marks), said=said)


def _legend_scales(templates: Sequence[Template]) -> list[float]:
    """Points for an inch of each template: that of the largest of its layer and height, where that is not far less."""
    own = [
        min(_SHOWN[0] / (x1 - x0), _SHOWN[1] / (y1 - y0)) for x0, y0, x1, y1 in (one.ink for one in templates)
    ]
    heights = [one.letter.cap_height if one.letter else None for one in templates]
    alike = list(zip((one.layer for one in templates), heights, strict=True))
    fair = sorted(own)[len(own) // 2] * _FAR_LESS
    least = {
        kind: min(
            (scale for scale, one in zip(own, alike, strict=True) if one == kind and scale >= fair),
            default=0.0,
        )
        for kind in set(alike)
    }
    return [scale if scale < fair else least[kind] for scale, kind in zip(own, alike, strict=True)]


def draw_tiles(template: Template, tiled: TiledTemplate, said: Message, *, mirrored: bool) -> Drawing:
    """A letter over several pages as the sheets lie, `mirrored` or not: where they meet, what each is called."""
    tiling = tiled.tiling
    x0, y0, x1, y1 = tiling.area
    scale = min(150.0 / (x1 - x0), 130.0 / (y1 - y0))
    across = (-scale, x1 * scale) if mirrored else (scale, -x0 * scale)
    onto = (across[0], 0.0, 0.0, scale, across[1], -y0 * scale)
    seams = [across[0] * x + across[1] for x in tiling.seams_x]
    xs = [x0, *tiling.seams_x, x1]
    ys = [y1, *sorted(tiling.seams_y, reverse=True), y0]
    marks: list[Mark] = [box(0, 0, (x1 - x0) * scale, (y1 - y0) * scale, fill=PAPER, ink=FINE)]
    marks.append(
        Shape(outline=tiled.place.outline(template.outline).transformed(onto), fill="#ededed", ink=CUT)
    )
    marks += (line(((x, 0), (x, (y1 - y0) * scale)), _DASHED) for x in seams)
    for y in tiling.seams_y:
        marks.append(line(((0, (y - y0) * scale), ((x1 - x0) * scale, (y - y0) * scale)), _DASHED))
    cells = [
        (xs[column + 1] - xs[column], ys[row] - ys[row + 1])
        for row in range(len(ys) - 1)
        for column in range(len(xs) - 1)
    ]
    if min(side * scale for cell in cells for side in cell) >= 14:
        for tile in tiling.tiles:
            middle = (
                across[0] * (xs[tile.column] + xs[tile.column + 1]) / 2 + across[1],
                ((ys[tile.row] + ys[tile.row + 1]) / 2 - y0) * scale - 3,
            )
            marks.append(
                Words(said=tile.name, at=middle, size=_NAME, bold=True, anchor=Anchor.MIDDLE, ground=PAPER)
            )
    right = (x1 - x0) * scale
    if seams or tiling.seams_y:
        to = (max(seams), (y1 - y0) * scale - 5) if seams else (right - 5, (tiling.seams_y[0] - y0) * scale)
        marks += leader((right + 10, to[1]), to, TRIM)
    return Drawing(width=right + 82, height=(y1 - y0) * scale + 2, marks=tuple(marks), said=said)


# Fused letters


def draw_traced(template: Template, said: Message, *, mirrored: bool) -> Drawing:
    """The letter as it is traced on the paper, beside how it reads on the quilt."""
    traced, seen = _Model(template, mirrored=mirrored), _Model(template, mirrored=False)
    wide, high = traced.width + 2 * _EDGE, traced.height + 2 * _EDGE
    left = wide + _GAP
    marks = (
        *_sheet(0, _NAMES, wide, high),
        *_area(traced.at(_EDGE, _NAMES + _EDGE), ink=BOLD),
        *arrow((wide + 6, _NAMES + high / 2), (left - 6, _NAMES + high / 2)),
        *_area(seen.at(left, _NAMES + _EDGE), fill=RIGHT_SIDE),
        _below(wide / 2, ON_THE_PAPER),
        _below(left + seen.width / 2, AS_IT_READS),
    )
    return Drawing(width=left + max(seen.width, 60), height=_NAMES + high + 1, marks=marks, said=said)


def draw_rough_cut(template: Template, margin: float, said: Message, *, on_line: bool) -> Drawing:
    """The traced letter cut out of the web roughly, or `on_line`."""
    model = _Model(template, mirrored=True)
    room = 0.0 if on_line else model.margin(margin)
    edge = room + 4
    area = model.at(edge, edge)
    rough = area if on_line else as_shape(rough_cut(area, room))
    at = _rightmost(rough)
    marks = (
        *_area(rough, fill=_WEB, ink=BOLD),
        *_area(area, fill=None, ink=FINE),
        *leader((model.width + 2 * edge + 8, at[1]), at, CUT_LINE if on_line else ROUGH),
    )
    return Drawing(width=model.width + 2 * edge + 90, height=model.height + 2 * edge, marks=marks, said=said)


def draw_ring(template: Template, ring: float, said: Message) -> Drawing:
    """The traced letter with the middle of its web taken out."""
    model = _Model(template, mirrored=True)
    area = model.at(4, 4)
    inner = as_shape(area.buffer(-min(model.margin(ring), 9.0)))
    at = inner.representative_point()
    marks = (
        *_area(area, fill=_WEB),
        *_area(inner, fill=PAPER, ink=_DASHED),
        *(leader((model.width + 18, float(at.y)), (float(at.x), float(at.y)), WEB_AWAY) if inner else ()),
    )
    return Drawing(width=model.width + 110, height=model.height + 8, marks=marks, said=said)


def draw_fused(template: Template, margin: float, said: Message) -> Drawing:
    """The web with its letter on the wrong side of the fabric, paper up, under the iron."""
    model = _Model(template, mirrored=True)
    edge = model.margin(margin) + _EDGE
    wide, high = model.width + 2 * edge + 36, model.height + 2 * edge
    area = model.at(edge, edge)
    marks = (
        *wrong_side(_corners(0, 0, wide, high)),
        *_area(as_shape(rough_cut(area, model.margin(margin))), fill=PAPER, ink=FINE),
        *_area(area, ink=FINE),
        *iron((wide - IRON[0] - 6, min(high * 0.4, high - IRON[1] - 4))),
    )
    return Drawing(width=wide + 2, height=high, marks=marks, said=said)


def draw_cut(template: Template, margin: float, said: Message) -> Drawing:
    """The fused letter, cut out of the fabric on its line."""
    model = _Model(template, mirrored=True)
    edge = model.margin(margin) + _EDGE
    wide, high = model.width + 2 * edge, model.height + 2 * edge
    area = model.at(edge, edge)
    marks = (
        *wrong_side(_corners(0, 0, wide, high)),
        *_area(as_shape(rough_cut(area, model.margin(margin))), fill=PAPER, ink=HAIR),
        *_area(area, fill=PAPER, ink=BOLD),
        *leader((wide + 8, high / 2), _rightmost(area), CUT_LINE),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_peeled(template: Template, said: Message) -> Drawing:
    """The letter from its wrong side, its paper peeled off from one corner: the web stays on the fabric."""
    model = _Model(template, mirrored=True)
    area = model.at(14, 4)
    x0, y0, x1, y1 = area.bounds
    for side, away in ((x1 + 1, x0 + (x1 - x0) * 0.35), (x0 - 1, x1 - (x1 - x0) * 0.35)):
        fold = ((side, y0 + (y1 - y0) * 0.25), (away, y1 + 1))
        off = Polygon(((side, y1 + 1), *fold))
        peeled, kept = as_shape(area.intersection(off)), as_shape(area.difference(off))
        if peeled:
            break  # a letter such as J, turned over, has nothing in one of its lower corners
    flap = as_shape(_over(peeled, fold).buffer(0.01))
    at = peeled.representative_point()
    marks = (
        *_area(area, fill=_WEB),
        *_area(kept, fill=PAPER, ink=FINE),
        *_area(flap, fill="#fafafa", ink=CUT),
        *leader((x1 + 16, float(at.y)), (float(at.x), float(at.y)), WEB_STAYS),
    )
    return Drawing(width=model.width + 116, height=model.height + 12, marks=marks, said=said)


def _over(area: Area, fold: tuple[Point, Point]) -> Area:
    """An area folded over a line."""
    (x0, y0), (x1, y1) = fold
    far = math.dist(*fold)
    dx, dy = (x1 - x0) / far, (y1 - y0) / far
    a, b, d = 2 * dx * dx - 1, 2 * dx * dy, 2 * dy * dy - 1
    return as_shape(affinity.affine_transform(area, (a, b, b, d, x0 - a * x0 - b * y0, y0 - b * x0 - d * y0)))


def _rightmost(area: Area) -> Point:
    """The point of an edge that lies furthest to the right."""
    points = [point for part in parts_of(area) for point in part.exterior.coords]
    x, y = max(points)[:2]
    return float(x), float(y)


# Letters cut by a machine


def draw_checked(template: Template, units: Units, said: Message) -> Drawing:
    """The letter as it is cut on the grid of the mat, in mirror image, with how wide and how high it is."""
    model = _Model(template, mirrored=True)
    wide, high = model.width + 4 * _EDGE, model.height + 4 * _EDGE
    left, low = 2 * _EDGE + _MEASURED, 2 * _EDGE + _NAMES + _MEASURED
    below, beside = _NAMES + _MEASURED - 5, _MEASURED - 5
    across, up = measured_said(template, units)
    marks = (
        *_mat(wide, high, _MEASURED, _NAMES + _MEASURED),
        *_area(model.at(left, low), fill=PAPER, ink=BOLD),
        *dimension((left, below), (left + model.width, below), across, off=-9),
        *dimension((beside, low), (beside, low + model.height), up),
        _below(_MEASURED + wide / 2, ON_THE_MAT),
    )
    return Drawing(width=_MEASURED + wide + 2, height=_NAMES + _MEASURED + high + 1, marks=marks, said=said)


def draw_on_mat(template: Template, said: Message) -> Drawing:
    """Fabric on the mat with its web up, the letter cut in mirror image."""
    model = _Model(template, mirrored=True)
    wide, high = model.width + 4 * _EDGE, model.height + 4 * _EDGE
    marks = (
        *_mat(wide, high),
        *_area(as_shape(shapely.box(_EDGE, _EDGE, wide - _EDGE, high - _EDGE)), fill=_WEB, ink=FINE),
        *_area(model.at(2 * _EDGE, 2 * _EDGE), ink=BOLD),
        *leader((wide + 8, high / 2), (wide - _EDGE - 4, high / 2), WEB_UP),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_weeded(template: Template, said: Message) -> Drawing:
    """The cut letter left on the mat, the fabric around it peeled away."""
    model = _Model(template, mirrored=True)
    wide, high = model.width + 4 * _EDGE, model.height + 4 * _EDGE
    area = model.at(2 * _EDGE, 2 * _EDGE)
    around = as_shape(shapely.box(_EDGE, _EDGE, wide - _EDGE, high - _EDGE).difference(area.buffer(0.5)))
    fold = ((wide - _EDGE, high * 0.3), (_EDGE + (wide - 2 * _EDGE) * 0.3, high - _EDGE))
    off = Polygon((fold[0], (wide, high * 0.3), (wide, high), (fold[1][0], high), fold[1]))
    peeled = as_shape(around.intersection(off))
    marks = (
        *_mat(wide, high),
        *_area(as_shape(around.difference(off)), fill=_WEB, ink=FINE),
        *_area(area, fill=_WEB, ink=CUT),
        *_area(_over(peeled, fold), fill=RIGHT_SIDE, ink=FINE),
        *leader((wide + 8, high * 0.8), (wide - 2 * _EDGE, high * 0.8), PEELED_AWAY),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_middle(template: Template, said: Message) -> Drawing:
    """The paper letter on the wrong side of the cut letter with the mark of its middle, and the letter from its right
    side with the mark at the same spot of its edge."""
    back, front = _Model(template, mirrored=True), _Model(template, mirrored=False)
    start = max(_EDGE, (_CAPTION - back.width) / 2)
    left = start + back.width + max(_GAP + _EDGE, _CAPTION + _EDGE - (back.width + front.width) / 2)
    below, seen = back.at(start, _NAMES + 4), front.at(left, _NAMES + 4)
    paper = as_shape(below.buffer(-_INSIDE))
    marks: list[Mark] = [*_area(below, fill=_WEB), *_area(paper, fill=PAPER_SIDE, ink=HAIR)]
    marks += arrow(
        (start + back.width + 6, _NAMES + 4 + back.height / 2), (left - 6, _NAMES + 4 + back.height / 2)
    )
    marks += _area(seen, fill=RIGHT_SIDE)
    for area, words in ((below, WRONG_SIDE), (seen, CARRIED)):
        x0, y0, x1, y1 = area.bounds
        x = (x0 + x1) / 2
        low = min(
            (
                part.bounds[1]
                for part in parts_of(as_shape(area.intersection(shapely.box(x - 1, y0, x + 1, y1))))
            ),
            default=y0,
        )
        marks.append(line(((x, low), (x, low + _DASH)), BOLD))
        marks.append(_below(x, words))
    wide = left + front.width / 2 + max(front.width, _CAPTION) / 2 + 4
    return Drawing(width=wide, height=_NAMES + back.height + 8, marks=tuple(marks), said=said)


def _mat(wide: float, high: float, left: float = 0.0, low: float = 0.0) -> Iterator[Mark]:
    yield box(left, low, wide, high, ink=CUT)
    x, y = left + _EDGE, low + _EDGE
    while x < left + wide:
        yield line(((x, low), (x, low + high)), HAIR)
        x += _EDGE
    while y < low + high:
        yield line(((left, y), (left + wide, y)), HAIR)
        y += _EDGE


# Turned edges


def draw_laid(template: Template, way: FreezerPaper, said: Message) -> Drawing:
    """The paper letter on its side of the fabric, under the iron, or pinned where its shiny side is up."""
    right = way is FreezerPaper.RIGHT_SIDE
    model = _Model(template, mirrored=not right)
    edge = 2 * _EDGE
    wide, high = model.width + 2 * edge + 36, model.height + 2 * edge
    area = model.at(edge, edge)
    marks: list[Mark] = [
        *(
            _area(as_shape(shapely.box(0, 0, wide, high)), fill=RIGHT_SIDE)
            if right
            else wrong_side(_corners(0, 0, wide, high))
        )
    ]
    if way is FreezerPaper.WRONG_SIDE_UP:
        marks += _hatched(area)
        inside = area.representative_point()
        x, y = float(inside.x), float(inside.y)
        marks += pin((x - 12, y + 10), (x + 12, y - 10))
    else:
        marks += _area(area, fill=PAPER_SIDE, ink=FINE)
        marks += iron((wide - IRON[0] - 6, min(high * 0.4, high - IRON[1] - 4)))
    return Drawing(width=wide + 2, height=high, marks=tuple(marks), said=said)


def draw_allowance(template: Template, way: FreezerPaper, turn_under: float, said: Message) -> Drawing:
    """The fabric cut out around the paper, with what is turned under."""
    model, area, room = _turned(template, way, turn_under)
    cut = as_shape(area.buffer(room))
    at = _rightmost(as_shape(area.buffer(room / 2)))
    marks = (
        *_fabric(cut, way),
        *_paper(area, way),
        *leader((model.width + 2 * room + 16, at[1]), at, FABRIC_TURNED),
    )
    return Drawing(
        width=model.width + 2 * room + 104, height=model.height + 2 * room + 8, marks=marks, said=said
    )


def draw_clips(template: Template, way: FreezerPaper, turn_under: float, said: Message) -> Drawing:
    """The clips at inner curves and corners and the notches at tight outer curves."""
    model, area, room = _turned(template, way, turn_under)
    cut = as_shape(area.buffer(room))
    clips = [
        line([(float(x), float(y)) for x, y in mark], BOLD)
        for mark in turn_marks(as_shape(area.simplify(0.2)), cut, room)
    ]
    marks = (*_fabric(cut, way), *_paper(area, way), *clips)
    return Drawing(
        width=model.width + 2 * room + 8, height=model.height + 2 * room + 8, marks=marks, said=said
    )


def draw_turned(template: Template, way: FreezerPaper, turn_under: float, said: Message) -> Drawing:
    """The letter from its back, its allowance turned: over the paper, or to the back of the fabric."""
    model = _Model(template, mirrored=True)
    area = model.at(4, 4)
    inner = as_shape(area.buffer(-min(model.margin(turn_under), 8.0)))
    marks: list[Mark] = [*_area(area, fill=RIGHT_SIDE)]
    match way:
        case FreezerPaper.RIGHT_SIDE:
            marks += _dotted(inner) if not inner.is_empty else ()
        case FreezerPaper.WRONG_SIDE_DOWN:
            marks += _area(inner, fill=PAPER_SIDE, ink=FINE)
        case FreezerPaper.WRONG_SIDE_UP:
            marks += _hatched(inner) if not inner.is_empty else ()
    at = _rightmost(area)
    marks += leader((model.width + 18, at[1]), (at[0] - 2, at[1]), FABRIC_TURNED)
    return Drawing(width=model.width + 106, height=model.height + 8, marks=tuple(marks), said=said)


def draw_point(way: FreezerPaper, said: Message) -> Drawing:
    """A point from the back, turned in three pictures: the tip, one side, the other side."""
    half, high, low = 22.0, 56.0, _NAMES
    slant = math.hypot(half, high)
    out, up = _FOLDED * slant / high, _FOLDED * slant / half
    paper = Polygon(((-half, low), (half, low), (0, low + high)))
    fabric = Polygon(((-half - out, low), (half + out, low), (0, low + high + up)))
    tip = as_shape(fabric.intersection(shapely.box(-60, low + high, 60, low + high + up)))
    whole = as_shape(fabric.difference(tip))
    flaps = [_over(tip, ((-1.0, low + high), (1.0, low + high)))]
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
            flaps.append(_over(strip, edge))
        x = half + out + 2 + at * (2 * (half + out) + _BETWEEN)
        marks += _back(moved(whole, x, 0), moved(paper, x, 0), way)
        for flap in flaps:
            inside = as_shape(moved(flap, x, 0).intersection(moved(paper, x, 0)))
            marks += _area(inside, fill=RIGHT_SIDE, ink=FINE)
        marks.append(_below(x, words))
    wide = 6 * (half + out) + 2 * _BETWEEN + 4
    return Drawing(width=wide, height=low + high + up + 3, marks=tuple(marks), said=said)


def draw_vee(way: FreezerPaper, said: Message) -> Drawing:
    """An inside corner from the back: clipped, and with both sides turned."""
    wide, high, half, deep, low = 84.0, 62.0, 24.0, 42.0, _NAMES
    slant = math.hypot(half, deep)
    up, across = _FOLDED * slant / half, _FOLDED * slant / deep
    middle, corner, top = wide / 2, low + high - deep, low + high
    vee = Polygon(((middle - half, top), (middle, corner), (middle + half, top)))
    smaller = Polygon(((middle - half + across, top), (middle, corner + up), (middle + half - across, top)))
    block = shapely.box(0, low, wide, top)
    paper, fabric = as_shape(block.difference(vee)), as_shape(block.difference(smaller))
    marks: list[Mark] = [*_back(fabric, paper, way)]
    marks.append(line(((middle, corner + up), (middle, corner + 2.5)), BOLD))
    marks.append(_below(middle, CLIP_IN))
    right = wide + _BETWEEN
    marks += _back(moved(paper, right, 0), moved(paper, right, 0), way)
    for side in (-1, 1):
        edge = ((middle, corner), (middle + side * half, top))
        strip = as_shape(
            vee.difference(smaller).intersection(
                shapely.box(min(middle, middle + side * wide), low, max(middle, middle + side * wide), top)
            )
        )
        flap = as_shape(_over(strip, edge).intersection(paper))
        marks += _area(moved(flap, right, 0), fill=RIGHT_SIDE, ink=FINE)
    marks.append(_below(right + middle, BOTH_SIDES))
    return Drawing(width=right + wide + 1, height=top + 1, marks=tuple(marks), said=said)


def _back(fabric: Area, paper: Area, way: FreezerPaper) -> Iterator[Mark]:
    """Fabric from its wrong side, with the paper on it unless that is on the right side."""
    yield from _dotted(fabric)
    match way:
        case FreezerPaper.RIGHT_SIDE:
            yield from _area(paper, ink=_DASHED)
        case FreezerPaper.WRONG_SIDE_DOWN:
            yield from _area(paper, fill=PAPER, ink=FINE)
        case FreezerPaper.WRONG_SIDE_UP:
            yield from _hatched(paper)


def _turned(template: Template, way: FreezerPaper, turn_under: float) -> tuple[_Model, Area, float]:
    """The letter as its paper lies, with room for what is turned under."""
    model = _Model(template, mirrored=way is not FreezerPaper.RIGHT_SIDE)
    room = model.margin(turn_under)
    return model, model.at(room + 4, room + 4), room


def _fabric(area: Area, way: FreezerPaper) -> Iterator[Mark]:
    if way is FreezerPaper.RIGHT_SIDE:
        yield from _area(area, fill=RIGHT_SIDE)
    else:
        yield from _dotted(area)


def _paper(area: Area, way: FreezerPaper) -> Iterator[Mark]:
    if way is FreezerPaper.WRONG_SIDE_UP:
        yield from _hatched(area)
    else:
        yield from _area(area, fill=PAPER_SIDE, ink=FINE)
