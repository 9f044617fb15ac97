"""The outline layer: a larger shape of another fabric behind letters or words.

Shapes are inches about their own origin; `place` is in the frame of the panel.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import groupby
from typing import Final

import shapely
from shapely.geometry import Polygon

from applique.design import Around, Design, Fabric, Method, OutlineCorners, OutlineCounters
from applique.errors import Where
from applique.fabrics import Fabrics, outline_reach
from applique.geometry.clipping import free_edges
from applique.geometry.offset import offset_outline
from applique.geometry.outline import Contour, Outline, pieces_of, united
from applique.geometry.place import Place
from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR, Shape, as_shape, parts_of, polygon_of
from applique.panel import CutOff, Laid, PanelEdges, PlacedCut

__all__ = [
    "WORTH_STOPPING",
    "EdgeStretches",
    "Hole",
    "PlacedOutline",
    "cut_off_outlines",
    "edge_stretches",
    "hidden_edges",
    "lay_outlines",
    "lie_over",
]

_OWN: Final = "outline"
_ALIKE: Final = 10_000.0
_SLACK: Final = 1e-3
"""Inches by which a hole may be too narrow and still stay open."""
_KEPT_WHEN_TURNED: Final = 0.6
"""Share of a hole that its turned edge must reach: a triangle as wide as two turn-unders has 0.605."""
_LONG_ARM: Final = 2.0
"""So many turn-unders into an arm of a hole that is no wider than one, fabric that is narrower than half a turn-under
stays too little: an arm as long as that is filled. A corner sharper than 23 degrees is one too."""
_SHORT_STRETCH: Final = 1 / 16
"""Inches of an edge, about as long as a stitch: what is shorter is no stretch of its own."""
WORTH_STOPPING: Final = 1 / 2
"""Inches of an edge under another piece that are worth stopping for: what is shorter is sewn over, for to stop and to
start again on the spot makes more of a ridge: common practice, no source."""
_QUARTER: Final = 16
_OVERLAP: Final = 1e-3
"""Square inches that two shapes share before one is said to lie over the other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A hole that stays open: the widest circle in it, `at` its middle in the frame of the piece, and its `shape`."""

    width: float
    at: Point
    shape: Shape


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedOutline:
    """One piece of the outline layer, behind what the table `where` of the design asks for.

    Pieces of equal `key` are the same shape.

    `holes` are those that are cut and sewn, the narrowest first; `filled` counts the others, too small for that, which
    the piece covers. `off` is there where it runs off the panel and is cut off; the rest is then that of what is left.
    """

    key: str
    text: str
    where: Where
    fabric: Fabric
    reach: float
    place: Place
    outline: Outline
    shape: Shape
    holes: tuple[Hole, ...]
    filled: int
    off: CutOff | None = None


def lay_outlines(
    design: Design, laid: Sequence[Laid], fabrics: Fabrics, *, least_holes: Sequence[Fraction]
) -> tuple[PlacedOutline, ...]:
    """The outline layer of all that has one, in reading order; none where nothing asks for one.

    Where shapes behind letters would touch each other, as they do with a wide outline, they stay a piece each and
    lie over one another; behind words they are one piece. A hole narrower than its row's length in `least_holes`
    (inches) is filled and counted, so is one whose turned edge would shrink to a sliver, so are counters that the
    reach closes; those that stay open are kept unless the design closes them. The letters themselves keep every
    counter.
    """
    placed: list[PlacedOutline] = []
    known: dict[tuple[str, float, Fraction], _Layer] = {}
    words: dict[tuple[str, Outline], tuple[str, _Layer]] = {}
    for row, least in zip(laid, least_holes, strict=True):
        reach = float(outline_reach(design, row.asked))
        if not reach:
            continue
        if design.outline.around is Around.WORDS:
            placed += _behind_words(design, row, reach, float(least), fabrics.outline, words)
            continue
        for cut in row.cuts:
            if (cut.key, reach, least) not in known:
                grown = _grown(design, cut.outline, reach)
                known[cut.key, reach, least] = _filled(design, grown, _holes(cut.shape), float(least))
            layer = known[cut.key, reach, least]
            placed.append(_piece(row, cut, reach, layer, fabrics.outline))
    return tuple(placed)


def cut_off_outlines(
    outlines: Sequence[PlacedOutline], edges: PanelEdges, may_run_off: AbstractSet[Where]
) -> tuple[PlacedOutline, ...]:
    """`outlines` with those of what `may_run_off` the panel cut off at its cut edge; of those that are cut off, what is
    not seen at all is left out, and so are holes that the edge cuts open."""
    found: list[PlacedOutline] = []
    for piece in outlines:
        cut = edges.left_of(piece.outline, piece.place) if piece.where in may_run_off else None
        if cut is None:
            found.append(piece)
            continue
        outline, off = cut
        if outline:
            found.append(
                replace(
                    piece,
                    key=f"{piece.key}-off-{off.mark}",
                    outline=outline,
                    shape=polygon_of(outline, chord_error=CHORD_ERROR),
                    holes=tuple(hole for hole in piece.holes if off.inside.covers(hole.shape)),
                    off=off,
                )
            )
    return tuple(found)


def lie_over(outlines: Sequence[PlacedOutline]) -> bool:
    """Whether one of `outlines` lies over another; the later one does, as they are painted."""
    shapes = [piece.place.shape(piece.shape) for piece in outlines]
    tree = shapely.STRtree(shapes)
    pairs = zip(*tree.query(shapes, predicate="intersects"), strict=True)
    return any(shapes[one].intersection(shapes[other]).area > _OVERLAP for one, other in pairs if one < other)


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeStretches:
    """The edges of an outline where it lies, in the frame of the panel: what of them is `sewn`, and what is `left_out`
    because another outline or a letter lies over it. Each stretch is a line through points. `dips` is whether it lies
    under another for a stretch that is too short to stop for, and is sewn across."""

    sewn: tuple[tuple[Point, ...], ...]
    left_out: tuple[tuple[Point, ...], ...]
    dips: bool


def edge_stretches(outlines: Sequence[PlacedOutline], letters: Sequence[Shape]) -> tuple[EdgeStretches, ...]:
    """Which stretches of the edges of each outline are sewn, once all outlines lie one over another in their order;
    `letters` come onto them where they are on the panel. What is sewn and shorter than a few stitches goes with its
    neighbors, and so does what lies under another piece and is too short to stop for."""
    shapes = [piece.place.shape(piece.shape) for piece in outlines]
    over = [*shapes, *letters]
    tree = shapely.STRtree(over)
    found: list[EdgeStretches] = []
    for index, shape in enumerate(shapes):
        near = (int(other) for other in tree.query(shape, predicate="intersects"))
        hidden = shapely.union_all([over[other] for other in near if other > index])
        edge = shape.boundary
        off = outlines[index].off
        if off is not None:
            free = free_edges(outlines[index].shape, off.window)
            edge = outlines[index].place.shape(shapely.MultiLineString(free))
        under = _lines_of(edge.intersection(hidden))
        covered = [stretch for stretch in under if stretch.length > WORTH_STOPPING]
        rest = edge.difference(shapely.union_all(covered).buffer(_SLACK)) if covered else edge
        sewn = [stretch for stretch in _lines_of(rest) if stretch.length > _SHORT_STRETCH]
        found.append(
            EdgeStretches(
                sewn=tuple(_points_of(stretch) for stretch in sewn),
                left_out=tuple(_points_of(stretch) for stretch in covered),
                dips=any(_SHORT_STRETCH < stretch.length <= WORTH_STOPPING for stretch in under),
            )
        )
    return tuple(found)


def hidden_edges(letters: Sequence[Shape]) -> tuple[float, ...]:
    """The inches of edge of each letter that lie under later ones, which lie over it in their order; stretches too
    short to stop for are none."""
    over: dict[int, list[Shape]] = {}
    for below, above in shapely.STRtree(letters).query(letters, predicate="intersects").T.tolist():
        if above > below:
            over.setdefault(below, []).append(letters[above])
    found = [0.0] * len(letters)
    for below, shapes in over.items():
        covered = _lines_of(letters[below].boundary.intersection(shapely.union_all(shapes)))
        found[below] = math.fsum(stretch.length for stretch in covered if stretch.length > WORTH_STOPPING)
    return tuple(found)


def _lines_of(edges: shapely.Geometry) -> list[shapely.LineString]:
    """The lines of `edges`, joined where they meet."""
    lines = [
        part
        for part in shapely.get_parts(edges)
        if part.geom_type in ("LineString", "LinearRing") and part.length
    ]
    merged = shapely.get_parts(shapely.line_merge(shapely.MultiLineString(lines))) if lines else ()
    return [part for part in merged if isinstance(part, shapely.LineString)]


def _points_of(stretch: shapely.Geometry) -> tuple[Point, ...]:
    return tuple((float(x), float(y)) for x, y in shapely.get_coordinates(stretch))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Layer:
    """A shape behind letters, with the holes that it keeps and the count of those it does not."""

    outline: Outline
    shape: Shape
    holes: tuple[Hole, ...]
    filled: int


def _piece(row: Laid, cut: PlacedCut, reach: float, layer: _Layer, fabric: Fabric) -> PlacedOutline:
    """The shape behind one letter; rows that fill other holes of it, for their stitch, have shapes of their own."""
    return PlacedOutline(
        key=f"{_OWN}-{reach:g}-{len(layer.holes)}-{cut.key}",
        text=cut.text,
        where=row.where,
        fabric=fabric,
        reach=reach,
        place=cut.place,
        outline=layer.outline,
        shape=layer.shape,
        holes=layer.holes,
        filled=layer.filled,
    )


def _behind_words(
    design: Design,
    row: Laid,
    reach: float,
    least: float,
    fabric: Fabric,
    known: dict[tuple[str, Outline], tuple[str, _Layer]],
) -> Iterator[PlacedOutline]:
    """One piece behind each word, or several where a word's letters stand so far apart that theirs do not meet.

    `known` holds the pieces so far by their word and outline, so that a word that comes again is the same shape.
    """
    table = "".join(map(str, row.where.path))
    for word, found in groupby(row.cuts, key=lambda cut: cut.word):
        cuts = list(found)
        # At the first letter, but upright as the row is set: the height of the letters runs along the grain.
        at = Place(x=cuts[0].upright.x, y=cuts[0].upright.y)
        moved = [cut.upright.seen_from(at).outline(cut.outline) for cut in cuts]
        whole = united([outline.draw for outline in moved], least_area=0.0)
        counters = _holes(polygon_of(whole, chord_error=CHORD_ERROR))
        text = "".join(cut.text for cut in sorted(cuts, key=lambda cut: cut.letters))
        for index, outline in enumerate(pieces_of(_grown(design, whole, reach))):
            layer = _filled(design, outline, counters, least)
            key, same = known.setdefault(
                (text, _nearly(layer.outline)), (f"{_OWN}-{table}-word{word}-{index}", layer)
            )
            yield PlacedOutline(
                key=key,
                text=text,
                where=row.where,
                fabric=fabric,
                reach=reach,
                place=at.within(row.turned),
                outline=same.outline,
                shape=same.shape,
                holes=same.holes,
                filled=layer.filled,
            )


def _nearly(outline: Outline) -> Outline:
    """`outline` to whole 0.0001 in, at which the same word set twice is the same."""
    return outline.transformed((_ALIKE, 0.0, 0.0, _ALIKE, 0.0, 0.0)).rounded()


def _grown(design: Design, outline: Outline, reach: float) -> Outline:
    mitered = design.outline.corners is OutlineCorners.MITERED
    return offset_outline(outline, reach, miter_limit=design.outline.miter_limit if mitered else None)


def _holes(shape: Shape) -> list[Polygon]:
    return [Polygon(ring) for part in parts_of(shape) for ring in part.interiors]


def _filled(design: Design, outline: Outline, counters: Sequence[Polygon], least: float) -> _Layer:
    """`outline` without the holes narrower than `least`, and without what stood alone inside them.

    `counters` are the holes before the outline grew; those that it covers now count as filled. Where the design
    closes every hole nothing counts: that is what was asked for.
    """
    closes = design.outline.counters is OutlineCounters.CLOSED
    if closes:
        least = math.inf
    turn = float(design.sewing.turn_under) if design.sewing.method is Method.TURNED_EDGE else None
    shells = [contour for contour in outline.contours if contour.signed_area() > 0]
    gone: list[Polygon] = []
    kept: list[tuple[Contour, Hole]] = []
    for contour in outline.contours:
        if contour.signed_area() >= 0:
            continue
        around = _within(contour)
        hole = _hole(around, shells)
        if hole.width < least - _SLACK or not (turn is None or _turns(hole.shape, turn)):
            gone.append(around)
            continue
        arms = [] if turn is None else _thin_arms(around, turn)
        if turn is not None and arms:
            contour = _room_of(contour, turn)
            hole = _hole(_within(contour), shells)
        gone += arms
        kept.append((contour, hole))
    grown = polygon_of(outline, chord_error=CHORD_ERROR)
    swallowed = sum(grown.contains(counter) for counter in counters)
    if gone:
        inside = shapely.union_all([shapely.make_valid(one).buffer(-_SLACK) for one in gone])
        shells = [one for one in shells if not inside.contains(shapely.Point(one.start))]
        kept = [(one, hole) for one, hole in kept if not inside.contains(shapely.Point(one.start))]
        outline = Outline(contours=(*shells, *(contour for contour, _ in kept)))
        grown = polygon_of(outline, chord_error=CHORD_ERROR)
    return _Layer(
        outline=outline,
        shape=grown,
        holes=tuple(sorted((hole for _, hole in kept), key=lambda hole: hole.width)),
        filled=0 if closes else len(gone) + swallowed,
    )


def _thin_arms(around: Polygon, turn_under: float) -> list[Polygon]:
    """The long arms of a hole that are narrower than a turn-under."""
    white, half = shapely.make_valid(around), turn_under / 2
    room = white.buffer(-half, quad_segs=_QUARTER).buffer(half + _SLACK, quad_segs=_QUARTER)
    reached = room.buffer(_LONG_ARM * turn_under, quad_segs=_QUARTER)
    return [arm for arm in parts_of(as_shape(white.difference(room))) if not reached.covers(arm)]


def _room_of(contour: Contour, turn_under: float) -> Contour:
    """The contour of a hole with nothing of it that is narrower than a turn-under."""
    shrunk = offset_outline(Outline(contours=(contour.reversed(),)), -turn_under / 2)
    return max(offset_outline(shrunk, turn_under / 2).contours, key=Contour.signed_area).reversed()


def _turns(hole: Shape, turn_under: float) -> bool:
    """Whether the fabric's edge in `hole`, a turn-under inside it, is one line that turns back to about all of it."""
    edge = hole.buffer(_SLACK / 2 - turn_under, quad_segs=_QUARTER, join_style="round")
    if len(parts_of(as_shape(edge))) != 1:
        return False
    turned = edge.buffer(turn_under - _SLACK / 2, quad_segs=_QUARTER, join_style="round")
    return float(turned.area) >= _KEPT_WHEN_TURNED * float(hole.area)


def _within(contour: Contour) -> Polygon:
    """What a contour goes around; nothing for a sliver of two curves that flatten to one line."""
    points = contour.points(CHORD_ERROR)
    return Polygon(points) if len(points) >= 3 else Polygon()


def _hole(around: Polygon, shells: Sequence[Contour]) -> Hole:
    """The white inside one contour: what it goes around, less what stands in it."""
    white = shapely.make_valid(around)
    islands = [_within(shell) for shell in shells if white.contains(shapely.Point(shell.start))]
    white = as_shape(white.difference(shapely.union_all(islands)) if islands else white)
    if white.is_empty:
        return Hole(width=0.0, at=(0.0, 0.0), shape=white)
    radius = shapely.maximum_inscribed_circle(white, tolerance=_SLACK / 4)
    x, y = radius.coords[0]
    return Hole(width=2 * float(radius.length), at=(float(x), float(y)), shape=white)
