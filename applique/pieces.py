"""What is cut: the distinct shapes of the rows and of the outline layer, how many of each, and from which fabric.

A piece need not be a letter: it has a name, a fabric, counts and an outline, and what only letters have beside them.

Shapes are inches about their own origin, which stands on the baseline; y up. Three lines have three names: the
*finished edge* is the letter, the *cut line* what cloth is cut on, the *placement line* where it goes on the panel.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Final

import shapely
from shapely.geometry import MultiPolygon, Polygon, box

from applique.design import Design, Fabric, Method
from applique.errors import Where
from applique.geometry.clipping import along_window, clipped, free_edges
from applique.geometry.mouths import lines_through_mouths
from applique.geometry.narrow_white import NarrowWhite, narrow_white
from applique.geometry.offset import offset_outline, outline_of
from applique.geometry.outline import Outline, pieces_of
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point
from applique.geometry.polygons import CHORD_ERROR, Shape, as_shape, parts_of, polygon_of
from applique.language import Message, listed, message, messages
from applique.outline_layer import PlacedOutline
from applique.panel import CutOff, Laid, LetterFacts, PlacedCut, Side, foot_on
from applique.turned_edges import TurnMark, turn_marks
from applique.units import measured_up

__all__ = [
    "MOST_ROWS_SAID",
    "OVERLAP",
    "Layer",
    "OwnBaseline",
    "Piece",
    "Template",
    "TemplateUse",
    "TurnedEdge",
    "cloth_cut",
    "cut_off_at",
    "cut_off_named",
    "cut_templates",
    "fused_cut",
    "outline_named",
    "own_baseline",
    "part_names",
    "rough_cut",
    "rows_said",
    "template_key",
    "templates_of",
]

_QUADRANT_SEGMENTS = 16
_NEAR: Final = 1e-3
"""Inches that a mark at the edge of a turn-under may seem to lie outside it."""
_NO_TURN_DEG: Final = 1e-9
"""What is left over from figuring counts as no turn."""
MOST_ROWS_SAID: Final = 6
"""More rows than these are counted, not named one by one."""
OVERLAP = 1e-4
"""Square inches that pieces must share before one tucks under the other."""


class Layer(StrEnum):
    """Whether a piece is a letter, lies behind one, or is another shape."""

    LETTER = "letter"
    OUTLINE = "outline"
    SHAPE = "shape"


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateUse:
    """How many of a template are cut from one fabric, for each table of the design that asks for it."""

    fabric: Fabric
    by_table: tuple[tuple[Where, int], ...]

    @property
    def count(self) -> int:
        """How many are cut from the fabric."""
        return sum(count for _, count in self.by_table)

    @property
    def rows(self) -> tuple[int, ...]:
        """The rows it is for, from 1."""
        return tuple(where.row for where, _ in self.by_table if where.row is not None)


@dataclass(frozen=True, slots=True, kw_only=True)
class TurnedEdge:
    """The turn-under of a piece: the cut line outside its finished edge, and where to clip and notch.

    `tucked` says that a part of the edge lies under another piece and is not turned. `mouths` are the cuts where the
    cut lines of two edges meet, in a mouth narrower than two turn-unders: each a line along its middle, through points.
    `narrow` is what else has no cut line of its own, for the same reason.
    """

    outline: Outline
    shape: Shape
    marks: tuple[TurnMark, ...]
    tucked: bool
    mouths: tuple[tuple[Point, ...], ...]
    narrow: NarrowWhite


def part_names(number: int, count: int) -> tuple[str, ...]:
    """What the parts of one letter are called on every sheet: `3a`, `3b`, the largest first; nothing of a letter in one
    piece.
    """
    return tuple(f"{number}{_letter(index)}" for index in range(count)) if count > 1 else ()


def _letter(index: int) -> str:
    """a to z, then aa, ab."""
    first, last = divmod(index, 26)
    return (_letter(first - 1) if first else "") + chr(ord("a") + last)


def outline_named(letters: str) -> Message:
    """What the shape behind letters or words is called, on every sheet, page and list."""
    return message("{letters} outline", letters=letters)


_SIDES: Final = {
    Side.LEFT: message("the left"),
    Side.RIGHT: message("the right"),
    Side.TOP: message("the top"),
    Side.BOTTOM: message("the bottom"),
}


_CUT_OFF_AT: Final = {
    Side.LEFT: message("cut off at the left"),
    Side.RIGHT: message("cut off at the right"),
    Side.TOP: message("cut off at the top"),
    Side.BOTTOM: message("cut off at the bottom"),
}


def cut_off_at(sides: Sequence[Side]) -> Message:
    """At which sides of the panel something is cut off, for the label of a template."""
    if len(sides) == 1:
        return _CUT_OFF_AT[sides[0]]
    return message("cut off at {sides}", sides=listed(_SIDES[side] for side in sides))


def cut_off_named(letters: str | Message, sides: Sequence[Side]) -> Message:
    """What a letter is called that runs off the panel at those sides of it."""
    match tuple(sides):
        case (Side.LEFT,):
            return message("{letters}, cut off at the left", letters=letters)
        case (Side.RIGHT,):
            return message("{letters}, cut off at the right", letters=letters)
        case (Side.TOP,):
            return message("{letters}, cut off at the top", letters=letters)
        case (Side.BOTTOM,):
            return message("{letters}, cut off at the bottom", letters=letters)
    return message(
        "{letters}, cut off at {sides}", letters=letters, sides=listed(_SIDES[side] for side in sides)
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnBaseline:
    """The baseline of a letter that is turned in its row, as it lies on the quilt, as long as the letter is wide.

    `ends` are its two ends in the frame of the panel; `above` is how far each is above the baseline of the row at the
    letter's foot, square to that, inches, negative below it. `where` is the row and which letter of it, the first of
    those that are cut as one; `turn_deg` how far it is turned against its row, to the left.
    """

    where: Where
    turn_deg: float
    ends: tuple[Point, Point]
    above: tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Template:
    """One distinct shape at true size. `number` counts templates from 1 in reading order, outlines after letters.

    `text` is what its label says: the letter, the letters of a connected script that are cut as one, or the name of
    a piece that is no letter; `letter` is there for letters and what lies behind them. `parts` counts the separate
    pieces of cloth in it (an i has two); `area` is exact, `edge` the length to be sewn. `off` is there for what runs
    off the panel: the other shapes are what is left of it.
    `turned` is there for turned-edge work. `ring` is the inner line of a ring of fusible, `ring_saves` the area
    inside it; both are empty where the letter is too slender for one. `leans` has the own baseline of each use that is
    turned in its row.
    """

    number: int
    key: str
    layer: Layer
    text: str
    letter: LetterFacts | None
    outline: Outline
    shape: Shape
    ink: Bounds
    area: float
    edge: float
    parts: int
    uses: tuple[TemplateUse, ...]
    turned: TurnedEdge | None
    ring: Outline
    ring_saves: float
    leans: tuple[OwnBaseline, ...]
    off: CutOff | None = None

    @property
    def name(self) -> str | Message:
        """What it is called beside the others: `H`, `H outline` for the shape behind an H, and `H, cut off at the
        right` for one that runs off the panel there."""
        return self.named(self.text)

    def named(self, letters: str) -> str | Message:
        """Its name with its letters as they are shown."""
        whole = outline_named(letters) if self.layer is Layer.OUTLINE else letters
        return whole if self.off is None else cut_off_named(whole, self.off.sides)

    @property
    def sewn_edges(self) -> tuple[shapely.LineString, ...]:
        """The edges to be sewn, closed or from one cut edge to another: where it is cut off it lies in a seam."""
        if self.off is not None:
            return free_edges(self.shape, self.off.window)
        rings = [ring for part in parts_of(self.shape) for ring in (part.exterior, *part.interiors)]
        return tuple(shapely.LineString(ring.coords) for ring in rings)

    @property
    def part_names(self) -> tuple[str, ...]:
        """What its separate parts are called; nothing where it is in one piece."""
        return part_names(self.number, self.parts)

    @property
    def in_rows(self) -> dict[int, int]:
        """How many of it each row (from 1) has."""
        return {where.row: count for where, count in self.in_tables.items() if where.row is not None}

    @property
    def in_tables(self) -> dict[Where, int]:
        """How many of it each table of the design asks for."""
        found: Counter[Where] = Counter()
        for use in self.uses:
            found.update(dict(use.by_table))
        return dict(found)

    @property
    def count(self) -> int:
        """How many are cut in all."""
        return sum(use.count for use in self.uses)

    @property
    def cut_line(self) -> Outline:
        """What is cut: the finished edge, or outside it the cut line of a turned edge."""
        return self.turned.outline if self.turned else self.outline

    @property
    def outermost(self) -> Shape:
        """All that the template draws: the cut line of a turned edge, otherwise the finished edge."""
        return self.turned.shape if self.turned else self.shape


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """One piece of the quilt, whichever layer it belongs to; those of equal `key` are the same shape.

    `text` is its name, `where` the table of the design that asks for it. `outline` and `shape` stand about its own
    origin, and so does `cover`: what other pieces lie over it.
    """

    key: str
    layer: Layer
    text: str
    letter: LetterFacts | None
    fabric: Fabric
    where: Where
    outline: Outline
    shape: Shape
    cover: Shape
    lean: OwnBaseline | None = None
    off: CutOff | None = None


def own_baseline(row: Laid, cut: PlacedCut) -> OwnBaseline | None:
    """The own baseline of a `cut` of `row`; None where it is not turned in its row."""
    x0, _, x1, _ = cut.outline.bounds()
    foot = foot_on(row.line, cut.upright, cut.outline.bounds())
    turn_deg = cut.upright.turn_deg - foot.turn_deg
    if abs(turn_deg) <= _NO_TURN_DEG:
        return None
    standing = cut.upright.seen_from(foot)
    first, last = ((x0, 0.0), (x1, 0.0))
    return OwnBaseline(
        where=replace(row.where, letter=cut.letters[0] if cut.letters else None),
        turn_deg=turn_deg,
        ends=(cut.place.point(first), cut.place.point(last)),
        above=(standing.point(first)[1], standing.point(last)[1]),
    )


def cut_templates(
    design: Design,
    laid: Sequence[Laid],
    outlines: Sequence[PlacedOutline],
    made: Sequence[int] | None = None,
) -> tuple[Template, ...]:
    """The distinct shapes of what is laid in reading order, then those behind them, each with its counts by fabric.

    `made` says of each that is laid how often it is made; once where it is left out.
    """
    letters = {row.where: row.letter for row in laid}
    times = {row.where: count for row, count in zip(laid, made or (1,) * len(laid), strict=True)}
    turned = design.sewing.method is Method.TURNED_EDGE
    pieces = [
        Piece(
            key=template_key(row, index) if turned else cut.key,
            layer=Layer.LETTER if row.letter else Layer.SHAPE,
            text=cut.text,
            letter=row.letter,
            fabric=row.fabric,
            where=row.where,
            outline=cut.outline,
            shape=cut.shape,
            cover=_cover(row, index) if turned else Polygon(),
            lean=own_baseline(row, cut),
            off=cut.off,
        )
        for row in laid
        for index, cut in enumerate(row.cuts)
    ]
    pieces += [
        Piece(
            key=piece.key,
            layer=Layer.OUTLINE,
            text=piece.text,
            letter=letters[piece.where],
            fabric=piece.fabric,
            where=piece.where,
            outline=piece.outline,
            shape=piece.shape,
            cover=Polygon(),
            off=piece.off,
        )
        for piece in outlines
    ]
    return templates_of(design, pieces, times)


def templates_of(
    design: Design, pieces: Sequence[Piece], times: Mapping[Where, int] = MappingProxyType({})
) -> tuple[Template, ...]:
    """The distinct shapes of `pieces` in their order, each with its counts by fabric.

    `times` says how often what a table asks for is made, where that is not once.
    """
    found: dict[str, list[Piece]] = {}
    for piece in pieces:
        found.setdefault(piece.key, []).append(piece)
    return tuple(_template(design, number, same, times) for number, same in enumerate(found.values(), 1))


def template_key(row: Laid, index: int) -> str:
    """The key of the template of that cut: its shape, and for a cut that tucks under the next its place too."""
    cut = row.cuts[index]
    return cut.key if _cover(row, index).is_empty else f"{cut.key}-under-{row.where.path[-1]}-{index}"


def _cover(row: Laid, index: int) -> Shape:
    """What later letters of the row lie over this one, in its own frame."""
    cut = row.cuts[index]
    over = [
        _upright(later)
        for later in row.cuts[index + 1 :]
        if later.ink[0] < cut.ink[2] and later.ink[2] > cut.ink[0] and _overlap(cut, later)
    ]
    return (
        as_shape(Place(x=0.0, y=0.0).seen_from(cut.upright).shape(shapely.union_all(over)))
        if over
        else Polygon()
    )


def _overlap(first: PlacedCut, second: PlacedCut) -> bool:
    return float(_upright(first).intersection(_upright(second)).area) > OVERLAP


def _upright(cut: PlacedCut) -> Shape:
    """The shape of `cut` as its row is set: letters lie over one another alike however the row is turned."""
    return cut.upright.shape(cut.shape)


def _template(design: Design, number: int, same: Sequence[Piece], times: Mapping[Where, int]) -> Template:
    piece = same[0]
    fabrics = {one.fabric.name: one.fabric for one in same}
    ring = _ring(design, piece)
    return Template(
        number=number,
        key=piece.key,
        layer=piece.layer,
        text=piece.text,
        letter=piece.letter,
        outline=piece.outline,
        shape=piece.shape,
        ink=piece.outline.bounds(),
        area=piece.outline.area(),
        edge=piece.outline.length() - (along_window(piece.outline, piece.off.window) if piece.off else 0.0),
        parts=len(parts_of(piece.shape)),
        uses=tuple(
            TemplateUse(
                fabric=fabric,
                by_table=tuple(
                    (where, count * times.get(where, 1))
                    for where, count in Counter(one.where for one in same if one.fabric.name == name).items()
                ),
            )
            for name, fabric in fabrics.items()
        ),
        turned=_turned(design, piece) if design.sewing.method is Method.TURNED_EDGE else None,
        ring=ring,
        ring_saves=ring.area() if ring else 0.0,
        leans=tuple(one.lean for one in same if one.lean is not None),
        off=piece.off,
    )


def _turned(design: Design, piece: Piece) -> TurnedEdge:
    turn = float(design.sewing.turn_under)
    edge = piece.off.whole if piece.off else piece.outline
    finished = polygon_of(edge, chord_error=CHORD_ERROR) if piece.off else piece.shape
    outline = offset_outline(edge, turn)
    shape = polygon_of(outline, chord_error=CHORD_ERROR)
    marks = turn_marks(finished, shape, turn)
    mouths = lines_through_mouths(finished, shape, turn)
    if piece.off:
        # What is cut off lies in the seam and is not turned, so the turn-under ends there.
        outline = _beside(clipped(outline, piece.off.window), piece.shape)
        shape = polygon_of(outline, chord_error=CHORD_ERROR)
        kept = shape.buffer(_NEAR)
        marks = tuple(mark for mark in marks if kept.covers(shapely.LineString(mark)))
        mouths = tuple(line for line in mouths if kept.covers(shapely.LineString(line)))
    if not piece.cover.is_empty:
        shape = as_shape(shapely.union(piece.shape, shape.difference(piece.cover)))
        outline = outline_of(shape)
        marks = tuple(mark for mark in marks if not piece.cover.intersects(shapely.LineString(mark)))
        mouths = tuple(line for line in mouths if not piece.cover.intersects(shapely.LineString(line)))
    return TurnedEdge(
        outline=outline,
        shape=shape,
        marks=marks,
        tucked=not piece.cover.is_empty,
        mouths=mouths,
        narrow=narrow_white(piece.shape, shape, turn, mouths),
    )


def _beside(outline: Outline, shape: Shape) -> Outline:
    """The pieces of a cut line that have something of `shape` in them."""
    parts = [
        part for part in pieces_of(outline) if polygon_of(part, chord_error=CHORD_ERROR).intersects(shape)
    ]
    contours = [contour for part in parts for contour in part.contours]
    return Outline(contours=tuple(sorted(contours, key=lambda contour: contour.signed_area() < 0)))


def _ring(design: Design, piece: Piece) -> Outline:
    """The inner line of the ring of fusible; empty without one, or where the letter is too slender for it."""
    if design.fusible.ring is None:
        return Outline(contours=())
    return offset_outline(piece.outline, -float(design.fusible.ring))


def rows_said(template: Template) -> str | Message:
    """The rows that `template` is for, from 1: each by its number, or how many there are where that gets long.

    Empty for a piece of no row.
    """
    rows = sorted(template.in_rows)
    if len(rows) <= MOST_ROWS_SAID:
        return ", ".join(map(str, rows))
    return messages("{count} row", "{count} rows", len(rows))


def rough_cut(shape: Shape, margin: float) -> Shape:
    """`shape` cut out roughly, `margin` inches outside its line, counters filled.

    Source:
        Fusible shapes are cut about 1/4 in outside the line before fusing: published, docs/sources.md, reversed
        templates.
    """
    grown = shape.buffer(margin, quad_segs=_QUADRANT_SEGMENTS, join_style="round")
    solid = [Polygon(part.exterior) for part in parts_of(grown)]
    return solid[0] if len(solid) == 1 else MultiPolygon(solid)


def cloth_cut(template: Template, margin: float) -> Shape:
    """What `template` takes of cloth: rough cut `margin` outside a fused letter, or on the line of a turned edge."""
    if template.turned is None:
        return rough_cut(template.shape, margin)
    return rough_cut(template.turned.shape, 0.0)


def fused_cut(shape: Shape, margin: Fraction, grid: Fraction) -> Shape:
    """The rectangle of web that a letter cut by a machine takes: `margin` inches outside it, up to the next `grid`.

    What rounding adds lies on the right and below, so that left and top are where a rough cut has them.
    """
    x0, y0, x1, y1 = shape.bounds
    width, height = (float(measured_up(side + 2 * float(margin), grid)) for side in (x1 - x0, y1 - y0))
    left, top = x0 - float(margin), y1 + float(margin)
    return box(left, top - height, left + width, top)
