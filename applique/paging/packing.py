"""Which template stands where on which page: whole ones packed as closely as their shapes allow, large ones tiled."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Final

import shapely
from shapely.geometry import MultiPolygon, Polygon, box
from shapely.geometry.base import BaseGeometry

from applique.design import Copies, Paper, PrintCorrection
from applique.errors import Problem, Refusal, Where
from applique.geometry.polygons import Shape
from applique.language import Speech, message
from applique.nesting import NestPiece, fits, nest_bins
from applique.paging.frame import MOST_PAGES, sheet_frame
from applique.paging.labels import box_with_arrow, label_spot
from applique.paging.tiles import tiled_template
from applique.paging.values import LabelSpot, SheetItem, TemplatePage, TemplateSheets
from applique.pieces import Template

__all__ = ["BETWEEN", "QUARTER_TURNS", "TICK", "TICK_GAP", "footprint", "lay_out_templates"]

TICK: Final = 0.22
"""Length of a baseline tick, and its distance from the ink `TICK_GAP`."""
TICK_GAP: Final = 0.06
BETWEEN: Final = 0.2
"""Clear inches between templates on a page."""
QUARTER_TURNS: Final = (0.0, 90.0, 180.0, 270.0)
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
    labels = {
        template.key: label_spot(template, paper.copies, own_fonts=own_fonts, speech=speech)
        for template in templates
    }
    pieces = {
        template.key: NestPiece(
            key=template.key,
            shape=footprint(template, labels[template.key]),
            count=template.count if paper.copies is Copies.EACH else 1,
            turns_deg=QUARTER_TURNS,
        )
        for template in templates
    }
    width, height = frame.room
    whole = [piece for piece in pieces.values() if fits(piece, width=width, height=height)]
    small = {piece.key for piece in whole}
    numbers = {template.key: template.number for template in templates}
    counts = {key: piece.count for key, piece in pieces.items()}
    tiled = tuple(
        tiled_template(template, frame, paper) for template in templates if template.key not in small
    )
    tiles = sum(len(large.tiling.tiles) * counts[templates[large.template - 1].key] for large in tiled)
    _refuse_too_many(tiles + _pages_about(whole, width, height))
    nest = nest_bins(whole, width=width, height=height, spacing=BETWEEN) if whole else None
    pages = tuple(
        TemplatePage(
            items=tuple(
                SheetItem(
                    template=numbers[spot.key],
                    place=spot.place,
                    label=labels[spot.key],
                )
                for spot in page
            )
        )
        for page in (nest.bins if nest else ())
    )
    each = tuple(large for large in tiled for _ in range(counts[templates[large.template - 1].key]))
    return TemplateSheets(frame=frame, copies=paper.copies, pages=pages, tiled=each)


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


def footprint(template: Template, label: LabelSpot) -> Shape:
    """All that a template needs on paper: its shape, a letter's baseline ticks and a label that lies beside it."""
    x0, _, x1, _ = template.outermost.bounds
    half = 0.03
    parts: list[BaseGeometry] = [template.outermost]
    if template.letter:
        parts += [
            box(x0 - TICK_GAP - TICK, -half, x0 - TICK_GAP, half),
            box(x1 + TICK_GAP, -half, x1 + TICK_GAP + TICK, half),
        ]
    if not label.inside:
        parts.append(box(*box_with_arrow(label)))
    whole = shapely.union_all(parts)
    return whole if isinstance(whole, Polygon | MultiPolygon) else MultiPolygon()
