"""Which template stands where on which page: whole ones packed as closely as their shapes allow, large ones tiled."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.design import Copies, Paper, PrintCorrection
from applique.errors import Problem, Refusal, Where
from applique.geometry.points import around
from applique.geometry.polygons import Shape
from applique.language import Speech, message
from applique.nesting import NestPiece, Placement, fits, nest_bins
from applique.paging.frame import MOST_PAGES, sheet_frame
from applique.paging.labels import BETWEEN, LabelLayout, box_with_arrows, label_layouts
from applique.paging.mark_words import with_mark_words
from applique.paging.ticks import tick_boxes
from applique.paging.tiles import tiled_template
from applique.paging.values import LabelSpot, SheetItem, TemplatePage, TemplateSheets, TiledTemplate
from applique.pieces import Template

__all__ = ["lay_out_templates", "sheet_piece"]

_QUARTERS: Final = (0.0, 90.0, 180.0, 270.0)
_NESTED_PER_SHELVED: Final = 0.7
"""Pages of nested shapes for one of shelved boxes; measured 0.64 to 0.72 at cap heights of 2 to 5 in."""


def lay_out_templates(
    templates: Sequence[Template],
    paper: Paper,
    correction: PrintCorrection,
    *,
    own_fonts: tuple[str, ...],
    speech: Speech,
) -> TemplateSheets:
    """Templates on as few pages as their shapes allow; whole where they fit, tiled where they do not.

    Their labels are in the language of `speech`, and have the room that its words take.

    Raises:
        Refusal: more pages than anybody would print.
    """
    frame = sheet_frame(paper, correction)
    width, height = frame.room
    chosen: dict[int, tuple[NestPiece, LabelLayout]] = {}
    counts = {one.number: one.count if paper.copies is Copies.EACH else 1 for one in templates}
    tiled: list[TiledTemplate] = []
    for template in templates:
        count = counts[template.number]
        best: LabelLayout | None = None
        found: tuple[NestPiece, LabelLayout] | None = None
        for layout in label_layouts(template, paper.copies, own_fonts=own_fonts, speech=speech):
            best = best or layout
            piece = sheet_piece(template, layout, count, layout.turns_deg)
            if fits(piece, width=width, height=height):
                found = (piece, layout)
                break
        level = found is not None
        if found is None and best is not None:
            piece = sheet_piece(template, best, count, _QUARTERS)
            found = (piece, best) if fits(piece, width=width, height=height) else None
        if found is None or not (level or found[1].inside):
            large = tiled_template(template, frame, paper, own_fonts=own_fonts, speech=speech, copies=count)
            # A page of its own may have room for a label that is level, between the strokes.
            if found is None or len(large[0].tiling.tiles) == 1:
                tiled += large
                continue
        chosen[template.number] = found
    whole = [piece for piece, _ in chosen.values()]
    tiles = sum(len(large.tiling.tiles) for large in tiled)
    _refuse_too_many(tiles + _pages_about(whole, width, height))
    nest = nest_bins(whole, width=width, height=height, spacing=BETWEEN, in_order=True) if whole else None
    numbers = {piece.key: number for number, (piece, _) in chosen.items()}
    pages = [
        TemplatePage(
            items=tuple(
                SheetItem(
                    template=numbers[spot.key],
                    place=spot.place,
                    label=chosen[numbers[spot.key]][1].at(spot.place.turn_deg),
                )
                for spot in sorted(page, key=lambda spot: numbers[spot.key])
            )
        )
        for page in (_in_the_middle(one, whole, width, height) for one in (nest.bins if nest else ()))
    ]
    numbered = {template.number: template for template in templates}
    named = (with_mark_words(page, numbered, frame.room, speech) for page in pages)
    return TemplateSheets(
        frame=frame,
        copies=paper.copies,
        pages=tuple(sorted(named, key=lambda page: page.first)),
        tiled=tuple(tiled),
    )


def _in_the_middle(
    page: Sequence[Placement], pieces: Sequence[NestPiece], width: float, height: float
) -> tuple[Placement, ...]:
    """The same templates in the middle of their page, so that what room is left lies around them and not on one side,
    with some of them tight to the rules."""
    shapes = {piece.key: piece.shape for piece in pieces}
    x0, y0, x1, y1 = around([spot.place.shape(shapes[spot.key]).bounds for spot in page])
    right, up = (width - x0 - x1) / 2, (height - y0 - y1) / 2
    return tuple(
        replace(spot, place=replace(spot.place, x=spot.place.x + right, y=spot.place.y + up)) for spot in page
    )


def _pages_about(pieces: Sequence[NestPiece], width: float, height: float) -> int:
    """About how many pages the pieces will take: by their boxes, upright, shelved, less what nesting saves."""
    boxes = sorted(
        (
            (y1 - y0 + BETWEEN, x1 - x0 + BETWEEN, piece.count)
            for piece in pieces
            for x0, y0, x1, y1 in [piece.shape.bounds]
        ),
        reverse=True,
    )
    pages, left, used = 0, 0.0, width
    for tall, long, count in boxes:
        for _ in range(count):
            if used + long > width:
                used = 0.0
                if left < tall:
                    pages, left = pages + 1, height
                left -= tall
            used += long
    return math.ceil(pages * _NESTED_PER_SHELVED)


def _refuse_too_many(pages: int) -> None:
    """Refuse more pages than anybody would print, before the work of laying them out.

    Raises:
        Refusal: with the number of pages, judged by the boxes around the letters.
    """
    if pages > MOST_PAGES:
        raise Refusal(
            Problem(
                kind="too-many-pages",
                what=message(
                    "the templates take about {pages} pages; {most} are the most",
                    pages=pages,
                    most=MOST_PAGES,
                ),
                where=Where.key("paper"),
                fix=message('smaller or fewer letters, larger paper, or copies = "one"'),
            )
        )


def sheet_piece(
    template: Template, layout: LabelLayout, count: int, turns_deg: tuple[float, ...]
) -> NestPiece:
    """A template as it is packed, with all that it needs on paper, in the turns that it may take."""
    shape = _footprint(template, tuple(layout.spots.values()))
    return NestPiece(key=template.key, shape=shape, count=count, turns_deg=turns_deg)


def _footprint(template: Template, labels: Sequence[LabelSpot]) -> Shape:
    """All that a template needs on paper: its shape, a letter's ticks, a label that lies beside it, and the names of
    its parts, wherever its label may stand."""
    parts: list[BaseGeometry] = [template.outermost, *tick_boxes(template)]
    for label in labels:
        parts += [] if label.inside else [box(*box_with_arrows(label))]
        parts += [box(*tag.box) for tag in label.tags]
    whole = shapely.union_all(parts)
    return whole if isinstance(whole, Polygon | MultiPolygon) else MultiPolygon()
