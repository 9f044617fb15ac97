"""What is printed at full size besides the template sheets: tiles of the placement guide and of the nest to trace, the
long pages of a copy shop, and the page of a projector.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

import shapely
from shapely.geometry import LineString, box
from shapely.geometry.base import BaseGeometry

from applique.design import CopyShop, Design, PanelShape, Paper
from applique.errors import Problem, Refusal, Where
from applique.geometry.outline import Outline
from applique.geometry.place import Place
from applique.geometry.points import Point
from applique.geometry.polygons import CHORD_ERROR
from applique.language import Speech, message
from applique.marks import panel_lines
from applique.paging import (
    LONGEST_ROOM,
    SheetFrame,
    TemplateSheets,
    Tiling,
    lay_out_on_roll,
    roll_frame,
    tile_area,
)
from applique.panel import PanelOutline, PanelPlan
from applique.picture import Item
from applique.pieces import Template
from applique.units import as_size
from applique.yardage import StripNeed

__all__ = [
    "CopyShopSheets",
    "PanelTemplate",
    "RollGuide",
    "copy_shop_sheets",
    "guide_tiles",
    "panel_templates",
    "projector_frame",
    "trace_tiles",
]

_BORDER: Final = 0.1
"""Inches around the drawing that the tiles cover too."""
_PROJECTOR_MARGIN: Final = 0.5
_PROJECTOR_HEAD: Final = 2.0
"""Inches above the panel for what the page is and how to set it up."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PanelTemplate:
    """The template of a panel that is no rectangle, in the frame of the panel.

    `cut` is its edge with the seam allowance, `finished` without. `blocks` are those that it is for, each with how many
    are made; none of the only panel.
    """

    shape: PanelShape
    size: tuple[Fraction, Fraction]
    seam_allowance: Fraction
    blocks: tuple[tuple[str, int], ...]
    cut: Outline
    finished: Outline
    center_line: tuple[Point, Point]
    tiling: Tiling


def panel_templates(
    panels: Iterable[tuple[str, int, PanelPlan]], paper: Paper, frame: SheetFrame
) -> tuple[PanelTemplate, ...]:
    """A template for each outline among `panels`, each with the name of its block and how many are made.

    Raises:
        Refusal: more pages than anybody would print.
    """
    alike: dict[tuple[PanelOutline, Fraction], list[tuple[str, int, PanelPlan]]] = {}
    for name, count, panel in panels:
        if panel.outline is not None:
            alike.setdefault((panel.outline, panel.seam_allowance), []).append((name, count, panel))
    return tuple(
        _panel_template(outline, [(name, count) for name, count, _ in same if name], same[0][2], paper, frame)
        for (outline, _), same in alike.items()
    )


def _panel_template(
    outline: PanelOutline,
    blocks: Sequence[tuple[str, int]],
    panel: PanelPlan,
    paper: Paper,
    frame: SheetFrame,
) -> PanelTemplate:
    beyond = float(panel.seam_allowance)
    shape = outline.polygon(beyond)
    _, low, _, top = shape.bounds
    center = ((panel.center, low), (panel.center, top))
    drawn = [shape.exterior, outline.polygon().exterior, LineString(center)]
    return PanelTemplate(
        shape=panel.shape,
        size=(panel.width, panel.height),
        seam_allowance=panel.seam_allowance,
        blocks=tuple(blocks),
        cut=outline.at(beyond),
        finished=outline.at(),
        center_line=center,
        tiling=tile_area(
            shape,
            frame=frame,
            overlap=float(paper.overlap),
            border=_BORDER,
            lines=shapely.union_all(drawn),
        ),
    )


def trace_tiles(web: StripNeed, paper: Paper, frame: SheetFrame) -> Tiling | None:
    """Tiles of the nested letters at full size, in the frame of the nest, to lay under the web, if any were nested."""
    if web.nest is None:
        return None
    shapes = {piece.key: piece.shape for piece in web.pieces}
    spots = web.nest.placements
    laid = [spot.place.shape(shapes[spot.key]) for spot in spots]
    traced = [spot.place.shape(web.carried[spot.key].shape) for spot in spots]
    return tile_area(
        shapely.GeometryCollection(laid),
        frame=frame,
        overlap=float(paper.overlap),
        border=_BORDER,
        lines=shapely.union_all([shape.boundary for shape in (*laid, *traced)]),
    )


def guide_tiles(items: Iterable[Item], panel: PanelPlan, paper: Paper, frame: SheetFrame) -> Tiling:
    """Tiles of the whole cut panel that show a line of one of the `items`, in its frame, or the panel's edge where it
    has one."""
    edge = [] if panel.loose else [box(*panel_lines(panel).cut_edge).exterior]
    return tile_area(
        shapely.GeometryCollection([*map(_drawn, items), *edge]),
        frame=frame,
        overlap=float(paper.overlap),
        border=_BORDER,
    )


def _drawn(item: Item) -> BaseGeometry:
    """The lines of an item where it lies."""
    ends = [(one, one.segments[-1][-1] if item.open else one.start) for one in item.outline.contours]
    lines = [LineString([*contour.points(CHORD_ERROR), end]) for contour, end in ends]
    return item.place.shape(shapely.GeometryCollection(lines))


# For a copy shop and for a projector


@dataclass(frozen=True, slots=True, kw_only=True)
class RollGuide:
    """The panel at full size on a roll: turned about its origin by `place` and cut into the tiles of `tiling`, one
    where it fits; `frame` is the page.
    """

    frame: SheetFrame
    place: Place
    tiling: Tiling


@dataclass(frozen=True, slots=True, kw_only=True)
class CopyShopSheets:
    """What a copy shop prints: the placement guide and all templates, `mirrored` where the method needs them so."""

    guide: RollGuide
    templates: TemplateSheets
    mirrored: bool


def copy_shop_sheets(
    design: Design,
    panel: PanelPlan,
    templates: Sequence[Template],
    *,
    own_fonts: tuple[str, ...],
    speech: Speech,
) -> CopyShopSheets | None:
    """Placement guide and templates on the roll of the design, if it asks for one.

    Templates are mirrored or right-reading as `Sewing.traced_mirrored` has it.

    Raises:
        Refusal: more pages than anybody would print.
    """
    roll = design.paper.copy_shop
    if roll is None:
        return None
    return CopyShopSheets(
        guide=_on_roll(panel, roll, float(design.paper.overlap)),
        templates=lay_out_on_roll(templates, roll, design.paper, own_fonts=own_fonts, speech=speech),
        mirrored=design.sewing.traced_mirrored,
    )


def _on_roll(panel: PanelPlan, roll: CopyShop, overlap: float) -> RollGuide:
    """The cut panel on a roll, upright or on its side, whichever takes fewer pages and then less paper."""
    cut = box(*panel_lines(panel).cut_edge)

    def tried(turn_deg: float) -> RollGuide:
        place = Place(x=0.0, y=0.0, turn_deg=turn_deg)
        shape = place.shape(cut)
        length = shape.bounds[3] - shape.bounds[1] + 2 * _BORDER
        frame = roll_frame(roll, min(length, LONGEST_ROOM))
        tiling = tile_area(shape, frame=frame, overlap=overlap, border=_BORDER)
        return RollGuide(frame=frame, place=place, tiling=tiling)

    return min((tried(0.0), tried(90.0)), key=lambda guide: (len(guide.tiling.tiles), guide.frame.height))


def projector_frame(design: Design, panel: PanelPlan) -> SheetFrame | None:
    """The page of a projector, if the design asks for one: the cut panel at full size, no rules.

    Raises:
        Refusal: the panel is larger than a page can be.
    """
    if not design.paper.projector:
        return None
    width, height = (float(side) for side in (panel.cut_width, panel.cut_height))
    drawing = (
        _PROJECTOR_MARGIN,
        _PROJECTOR_MARGIN,
        width + _PROJECTOR_MARGIN,
        height + _PROJECTOR_MARGIN,
    )
    page = (drawing[2] + _PROJECTOR_MARGIN, drawing[3] + _PROJECTOR_HEAD)
    if max(page) > LONGEST_ROOM:
        raise Refusal(
            Problem(
                kind="panel-larger-than-a-page",
                what=message(
                    "a panel of {width} by {height} is larger than one page can be",
                    width=as_size(panel.cut_width, design.units),
                    height=as_size(panel.cut_height, design.units),
                ),
                where=Where.key("paper", "projector"),
                fix=message("{setting}, which goes over several pages", setting="full_size_guide"),
            )
        )
    return SheetFrame(
        width=page[0],
        height=page[1],
        margin=_PROJECTOR_MARGIN,
        drawing=drawing,
        paper_per_true_x=1.0,
        paper_per_true_y=1.0,
        rule_inches=(0, 0),
        rule_mm=(0, 0),
    )
