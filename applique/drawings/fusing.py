"""Letters from paper to fabric: which template is which, and the step pictures of letters that are fused.

Frame: points, y up. Letters seen from the back are in mirror image.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Final

import shapely
from shapely import affinity
from shapely.geometry import LineString, Polygon

from applique.drawings.model_letter import (
    DASHED,
    EDGE,
    NAME,
    NAMES,
    Model,
    area_of,
    corners_of,
    folded_over,
    named_below,
    rightmost,
    sheet_of_paper,
)
from applique.drawings.values import (
    BOLD,
    CUT,
    FINE,
    HAIR,
    HOLLOW,
    NARROW,
    PAGES_MEET,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    box,
    line,
)
from applique.drawings.vocabulary import (
    IRON,
    PAPER_SIDE,
    RIGHT_SIDE,
    WEB,
    arrow,
    dimension,
    iron,
    leader,
    wrong_side,
)
from applique.geometry.points import Point
from applique.geometry.polygons import Shape as Area
from applique.geometry.polygons import as_shape, parts_of, polygon_of
from applique.language import Message
from applique.paging import TiledTemplate
from applique.pieces import Layer, Template, rough_cut
from applique.units import Units
from applique.words.instructions.fused_by_hand import CUT_LINE, PAPER_BENT, ROUGH, WEB_AWAY, WEB_STAYS
from applique.words.instructions.fused_by_machine import WEB_UP, measured_said
from applique.words.instructions.letters import (
    AS_IT_READS,
    CARRIED,
    ON_THE_MAT,
    ON_THE_PAPER,
    PEELED_AWAY,
    TRIM,
    WRONG_SIDE,
)

__all__ = [
    "draw_cut",
    "draw_fused",
    "draw_legend",
    "draw_middle",
    "draw_on_mat",
    "draw_peeled",
    "draw_ring",
    "draw_rough_cut",
    "draw_tiles",
    "draw_traced",
    "draw_weeded",
]

_GAP: Final = 30.0
_MEASURED: Final = 18.0
"""Points beside a picture for what it measures."""
_CELL: Final = (40.0, 48.0)
"""Points of a template and its number in the picture of all templates."""
_SHOWN: Final = (32.0, 30.0)
_FAR_LESS: Final = 0.5
_CAPTION: Final = 84.0
"""Points across that a caption below a picture may take."""
_INSIDE: Final = 1.5
_PULLED: Final = 34.0
"""Points of the arrow that shows how paper is pulled."""
_FLAP: Final = 0.72
"""How much of its length is seen of paper that is bent away."""
_RINGED: Final = (110.0, 100.0)
"""Points that a letter may take whose middle is shown."""
_FINE: Final = 0.1
_DASH: Final = 9.0
"""Points that a paper letter is drawn smaller than its fabric, and of the mark of its middle."""


# Which template is which


def draw_legend(templates: Sequence[Template], width: float, said: Message) -> Drawing:
    """Templates small, letters of one height to one scale, the number of each below; what lies behind is dashed;
    in as many lines as that takes on `width` points, all of about the same length.

    A shape so wide that it would make the others tiny is drawn as large as it has room for.
    """
    scales = _legend_scales(templates)
    rows = -(-len(templates) // max(1, int(width // _CELL[0])))
    columns = -(-len(templates) // rows)
    marks: list[Mark] = []
    for index, template in enumerate(templates):
        x0, y0, x1, y1 = template.ink
        scale = scales[index]
        model = Model(template, mirrored=False, size=((x1 - x0) * scale, (y1 - y0) * scale))
        x = (index % columns) * _CELL[0] + (_CELL[0] - model.width) / 2
        low = (rows - 1 - index // columns) * _CELL[1]
        behind = template.layer is Layer.OUTLINE
        marks += area_of(
            model.at(x, low + 14), fill=None if behind else RIGHT_SIDE, ink=DASHED if behind else FINE
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
    wide = columns * _CELL[0]
    narrow = draw_legend(templates, NARROW, said) if wide > NARROW else None
    return Drawing(width=wide, height=rows * _CELL[1], marks=tuple(marks), said=said, narrow=narrow)


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
    marks += (line(((x, 0), (x, (y1 - y0) * scale)), PAGES_MEET) for x in seams)
    for y in tiling.seams_y:
        marks.append(line(((0, (y - y0) * scale), ((x1 - x0) * scale, (y - y0) * scale)), PAGES_MEET))
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
                Words(said=tile.name, at=middle, size=NAME, bold=True, anchor=Anchor.MIDDLE, ground=PAPER)
            )
    right = (x1 - x0) * scale
    if seams or tiling.seams_y:
        to = (max(seams), (y1 - y0) * scale - 5) if seams else (right - 5, (tiling.seams_y[0] - y0) * scale)
        marks += leader((right + 10, to[1]), to, TRIM)
    return Drawing(width=right + 82, height=(y1 - y0) * scale + 2, marks=tuple(marks), said=said)


# Fused letters


def draw_traced(template: Template, said: Message, *, mirrored: bool) -> Drawing:
    """The letter as it is traced on the paper, beside how it reads on the quilt."""
    traced, seen = Model(template, mirrored=mirrored), Model(template, mirrored=False)
    wide, high = traced.width + 2 * EDGE, traced.height + 2 * EDGE
    left = wide + _GAP
    marks = (
        *sheet_of_paper(0, NAMES, wide, high),
        *area_of(traced.at(EDGE, NAMES + EDGE), ink=BOLD),
        *arrow((wide + 6, NAMES + high / 2), (left - 6, NAMES + high / 2)),
        *area_of(seen.at(left, NAMES + EDGE), fill=RIGHT_SIDE),
        named_below(wide / 2, ON_THE_PAPER),
        named_below(left + seen.width / 2, AS_IT_READS),
    )
    return Drawing(width=left + max(seen.width, 60), height=NAMES + high + 1, marks=marks, said=said)


def draw_rough_cut(template: Template, margin: float, said: Message, *, on_line: bool) -> Drawing:
    """The traced letter cut out of the web roughly, or `on_line`."""
    model = Model(template, mirrored=True)
    room = 0.0 if on_line else model.margin(margin)
    edge = room + 4
    area = model.at(edge, edge)
    rough = area if on_line else as_shape(rough_cut(area, room))
    at = rightmost(rough)
    marks = (
        *area_of(rough, fill=WEB, ink=BOLD),
        *area_of(area, fill=None, ink=FINE),
        *leader((model.width + 2 * edge + 8, at[1]), at, CUT_LINE if on_line else ROUGH),
    )
    return Drawing(width=model.width + 2 * edge + 90, height=model.height + 2 * edge, marks=marks, said=said)


def draw_ring(template: Template, said: Message) -> Drawing:
    """The traced letter with the middle of its web taken out, on the line that its template has."""
    model = Model(template, mirrored=True, size=_RINGED)
    area, inner = (
        model.at(4, 4),
        template.ring.transformed((*model.onto[:4], model.onto[4] + 4, model.onto[5] + 4)),
    )
    at = polygon_of(inner, chord_error=_FINE).representative_point()
    marks = (
        *area_of(area, fill=WEB),
        Shape(outline=inner, fill=PAPER, ink=HOLLOW),
        *leader((model.width + 18, float(at.y)), (float(at.x), float(at.y)), WEB_AWAY),
    )
    return Drawing(width=model.width + 110, height=model.height + 8, marks=marks, said=said)


def draw_fused(template: Template, margin: float, said: Message) -> Drawing:
    """The web with its letter on the wrong side of the fabric, paper up, under the iron."""
    model = Model(template, mirrored=True)
    edge = model.margin(margin) + EDGE
    wide, high = model.width + 2 * edge + 36, model.height + 2 * edge
    area = model.at(edge, edge)
    marks = (
        *wrong_side(corners_of(0, 0, wide, high)),
        *area_of(as_shape(rough_cut(area, model.margin(margin))), fill=PAPER_SIDE, ink=FINE),
        *area_of(area, ink=FINE),
        *iron((wide - IRON[0] - 6, min(high * 0.4, high - IRON[1] - 4))),
    )
    return Drawing(width=wide + 2, height=high, marks=marks, said=said)


def draw_cut(template: Template, margin: float, said: Message) -> Drawing:
    """The fused letter, cut out of the fabric on its line."""
    model = Model(template, mirrored=True)
    edge = model.margin(margin) + EDGE
    wide, high = model.width + 2 * edge, model.height + 2 * edge
    area = model.at(edge, edge)
    marks = (
        *wrong_side(corners_of(0, 0, wide, high)),
        *area_of(as_shape(rough_cut(area, model.margin(margin))), fill=PAPER_SIDE, ink=HAIR),
        *area_of(area, fill=PAPER_SIDE, ink=BOLD),
        *leader((wide + 8, high / 2), rightmost(area), CUT_LINE),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_peeled(template: Template, said: Message) -> Drawing:
    """The letter from its wrong side, its paper bent down from the top: the web stays on the fabric."""
    model = Model(template, mirrored=True, size=(116.0, 116.0))
    area = model.at(16, 8)
    x0, y0, x1, y1 = area.bounds
    fold = ((x0 - 1, y0 + (y1 - y0) * 0.4), (x1 + 1, y0 + (y1 - y0) * 0.56))
    off = Polygon(((x1 + 1, y1 + 1), (x0 - 1, y1 + 1), *fold))
    peeled, kept = as_shape(area.intersection(off)), as_shape(area.difference(off))
    flap = _lifted(as_shape(folded_over(peeled, fold).buffer(0.01)), fold)
    bare, paper = peeled.representative_point(), flap.representative_point()
    left = x1 + 22
    marks = (
        *area_of(area, fill=WEB),
        *area_of(kept, fill=PAPER_SIDE, ink=FINE),
        *area_of(flap, fill=PAPER_SIDE, ink=CUT),
        *_curl(flap, fold),
        *_pull(flap, fold),
        *leader((left, y1 - 8), (float(bare.x), float(bare.y)), WEB_STAYS),
        *leader((left, y0 + 12), (float(paper.x), float(paper.y)), PAPER_BENT),
    )
    return Drawing(width=left + 110, height=y1 + 4, marks=marks, said=said)


def _pull(flap: Area, fold: tuple[Point, Point]) -> Iterator[Mark]:
    """The way in which a flap is pulled: square to its `fold`, from its middle on."""
    far, start = math.dist(*fold), flap.representative_point()
    across = ((fold[1][1] - fold[0][1]) / far, -(fold[1][0] - fold[0][0]) / far)
    x, y = float(start.x), float(start.y)
    long = min(_PULLED, (y - 1) / max(-across[1], 0.1))
    yield from arrow((x, y), (x + across[0] * long, y + across[1] * long), BOLD)


def _lifted(flap: Area, fold: tuple[Point, Point]) -> Area:
    """A flap that stands up from its `fold`: seen shorter than it is."""
    (x0, y0), (x1, y1) = fold
    turn = math.degrees(math.atan2(y1 - y0, x1 - x0))
    level = affinity.rotate(flap, -turn, origin=(x0, y0))
    return as_shape(
        affinity.rotate(affinity.scale(level, 1.0, _FLAP, origin=(x0, y0)), turn, origin=(x0, y0))
    )


def _curl(flap: Area, fold: tuple[Point, Point]) -> Iterator[Mark]:
    """Lines along the fold of a flap, closer and closer to it, where it bends."""
    (x0, y0), (x1, y1) = fold
    far = math.dist(*fold)
    side = flap.centroid
    across = ((y1 - y0) / far, -(x1 - x0) / far)
    if (side.x - x0) * across[0] + (side.y - y0) * across[1] < 0:
        across = (-across[0], -across[1])
    for off in (1.5, 3.5, 6.0):
        shifted = LineString([(x + across[0] * off, y + across[1] * off) for x, y in fold])
        for one in getattr(flap.intersection(shifted), "geoms", (flap.intersection(shifted),)):
            if isinstance(one, LineString) and not one.is_empty:
                yield line([(float(x), float(y)) for x, y in one.coords], HAIR)


# Letters cut by a machine


def draw_checked(template: Template, units: Units, said: Message) -> Drawing:
    """The letter as it is cut on the grid of the mat, in mirror image, with how wide and how high it is."""
    model = Model(template, mirrored=True)
    wide, high = model.width + 4 * EDGE, model.height + 4 * EDGE
    left, low = 2 * EDGE + _MEASURED, 2 * EDGE + NAMES + _MEASURED
    below, beside = NAMES + _MEASURED - 5, _MEASURED - 5
    across, up = measured_said(template, units)
    marks = (
        *_mat(wide, high, _MEASURED, NAMES + _MEASURED),
        *area_of(model.at(left, low), fill=PAPER, ink=BOLD),
        *dimension((left, below), (left + model.width, below), across, off=-9),
        *dimension((beside, low), (beside, low + model.height), up),
        named_below(_MEASURED + wide / 2, ON_THE_MAT),
    )
    return Drawing(width=_MEASURED + wide + 2, height=NAMES + _MEASURED + high + 1, marks=marks, said=said)


def draw_on_mat(template: Template, said: Message) -> Drawing:
    """Fabric on the mat with its web up, the letter cut in mirror image."""
    model = Model(template, mirrored=True)
    wide, high = model.width + 4 * EDGE, model.height + 4 * EDGE
    marks = (
        *_mat(wide, high),
        *area_of(as_shape(shapely.box(EDGE, EDGE, wide - EDGE, high - EDGE)), fill=WEB, ink=FINE),
        *area_of(model.at(2 * EDGE, 2 * EDGE), ink=BOLD),
        *leader((wide + 8, high / 2), (wide - EDGE - 4, high / 2), WEB_UP),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_weeded(template: Template, said: Message) -> Drawing:
    """The cut letter left on the mat, the fabric around it peeled away."""
    model = Model(template, mirrored=True)
    wide, high = model.width + 4 * EDGE, model.height + 4 * EDGE
    area = model.at(2 * EDGE, 2 * EDGE)
    around = as_shape(shapely.box(EDGE, EDGE, wide - EDGE, high - EDGE).difference(area.buffer(0.5)))
    fold = ((wide - EDGE, high * 0.3), (EDGE + (wide - 2 * EDGE) * 0.3, high - EDGE))
    off = Polygon((fold[0], (wide, high * 0.3), (wide, high), (fold[1][0], high), fold[1]))
    peeled = as_shape(around.intersection(off))
    flap = as_shape(folded_over(peeled, fold))
    held = flap.intersection(shapely.box(0.0, 0.0, wide, high)).representative_point()
    marks = (
        *_mat(wide, high),
        *area_of(as_shape(around.difference(off)), fill=WEB, ink=FINE),
        *area_of(area, fill=WEB, ink=CUT),
        *area_of(flap, fill=RIGHT_SIDE, ink=FINE),
        *leader((wide + 8, high * 0.8), (float(held.x), float(held.y)), PEELED_AWAY),
    )
    return Drawing(width=wide + 92, height=high, marks=marks, said=said)


def draw_middle(template: Template, said: Message) -> Drawing:
    """The paper letter on the wrong side of the cut letter with the mark of its middle, and the letter from its right
    side with the mark at the same spot of its edge."""
    back, front = Model(template, mirrored=True), Model(template, mirrored=False)
    start = max(EDGE, (_CAPTION - back.width) / 2)
    left = start + back.width + max(_GAP + EDGE, _CAPTION + EDGE - (back.width + front.width) / 2)
    below, seen = back.at(start, NAMES + 4), front.at(left, NAMES + 4)
    paper = as_shape(below.buffer(-_INSIDE))
    marks: list[Mark] = [*area_of(below, fill=WEB), *area_of(paper, fill=PAPER_SIDE, ink=HAIR)]
    marks += arrow(
        (start + back.width + 6, NAMES + 4 + back.height / 2), (left - 6, NAMES + 4 + back.height / 2)
    )
    marks += area_of(seen, fill=RIGHT_SIDE)
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
        marks.append(named_below(x, words))
    wide = left + front.width / 2 + max(front.width, _CAPTION) / 2 + 4
    return Drawing(width=wide, height=NAMES + back.height + 8, marks=tuple(marks), said=said)


def _mat(wide: float, high: float, left: float = 0.0, low: float = 0.0) -> Iterator[Mark]:
    yield box(left, low, wide, high, ink=CUT)
    x, y = left + EDGE, low + EDGE
    while x < left + wide:
        yield line(((x, low), (x, low + high)), HAIR)
        x += EDGE
    while y < low + high:
        yield line(((left, y), (left + wide, y)), HAIR)
        y += EDGE
