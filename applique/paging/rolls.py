"""Templates on a roll of paper, as a copy shop prints on: one page as wide as the roll and as long as it takes."""

from __future__ import annotations

import math
from collections.abc import Sequence
from types import MappingProxyType
from typing import Final

from applique.design import Copies, CopyShop, Paper
from applique.geometry.place import Place
from applique.language import Speech
from applique.nesting import NestPiece, fits, nest_bins
from applique.paging.frame import HEADER, RULE_STRIP, SheetFrame
from applique.paging.labels import BETWEEN, LabelLayout, label_layouts
from applique.paging.mark_words import with_mark_words
from applique.paging.packing import sheet_piece
from applique.paging.tiles import tiled_template
from applique.paging.values import SheetItem, TemplatePage, TemplateSheets
from applique.pieces import Template
from applique.units import MM_PER_INCH

__all__ = ["LONGEST_ROOM", "lay_out_on_roll", "roll_frame"]

_WIDTHS: Final = MappingProxyType(
    {
        CopyShop.INCHES_24: 24.0,
        CopyShop.INCHES_36: 36.0,
        CopyShop.A1: float(594 / MM_PER_INCH),
        CopyShop.A0: float(841 / MM_PER_INCH),
    }
)
"""Inches. Source: ISO 216 for A1 and A0; rolls of 24 and 36 in are common practice, no source."""
_UPRIGHT: Final = 90.0
_MARGIN: Final = 0.5
"""Inches on every side that such a printer may not reach; common practice, no source."""
_LONGEST: Final = 200.0
"""Inches of the longest page that readers of PDF have to show. Source: ISO 32000-1, annex C.2: 14,400 units."""
_SHORTEST_ROOM: Final = 6.0
"""Inches of the shortest drawing area: room for the rule up its side and what that says."""
_NUMBER: Final = 0.6
"""Inches that the last number of a rule takes past its end."""
LONGEST_ROOM: Final = _LONGEST - 2 * _MARGIN - RULE_STRIP - HEADER
"""Inches that the longest page of a roll has to draw on."""


def roll_frame(roll: CopyShop, length: float) -> SheetFrame:
    """A page of `roll` whose drawing area is as long as `length` asks, in whole inches of paper; never corrected, for
    the correction is that of the printer at home.
    """
    width = _WIDTHS[roll]
    around = 2 * _MARGIN + RULE_STRIP + HEADER
    height = min(_LONGEST, math.ceil(max(length, _SHORTEST_ROOM) + around - 1e-9))
    drawing = (_MARGIN + RULE_STRIP, _MARGIN + RULE_STRIP, width - _MARGIN, height - _MARGIN - HEADER)
    ruled = (drawing[2] - drawing[0] - _NUMBER, drawing[3] - drawing[1] - _NUMBER)
    return SheetFrame(
        width=width,
        height=height,
        margin=_MARGIN,
        drawing=drawing,
        paper_per_true_x=1.0,
        paper_per_true_y=1.0,
        rule_inches=(math.floor(ruled[0]), math.floor(ruled[1])),
        rule_mm=(math.floor(ruled[0] * 2.54) * 10, math.floor(ruled[1] * 2.54) * 10),
    )


def lay_out_on_roll(
    templates: Sequence[Template],
    roll: CopyShop,
    paper: Paper,
    *,
    own_fonts: tuple[str, ...],
    speech: Speech,
) -> TemplateSheets:
    """Every template at full size on one page of `roll`, or on as few as its greatest length allows.

    Those wider and higher than the roll are tiled.

    Raises:
        Refusal: a tiled template of more pages than anybody would print.
    """
    width = roll_frame(roll, 0.0).room[0]
    counts = {one.key: one.count if paper.copies is Copies.EACH else 1 for one in templates}
    layouts, pieces = {}, {}
    for template in templates:
        tried = list(label_layouts(template, paper.copies, own_fonts=own_fonts, speech=speech))
        made = [_nested(template, layout, counts[template.key]) for layout in tried]
        fitting = (one for one, piece in enumerate(made) if fits(piece, width=LONGEST_ROOM, height=width))
        best = next(fitting, 0)
        layouts[template.key], pieces[template.key] = tried[best], made[best]
    whole = [piece for piece in pieces.values() if fits(piece, width=LONGEST_ROOM, height=width)]
    numbers = {template.key: template.number for template in templates}
    bins = (
        nest_bins(whole, width=LONGEST_ROOM, height=width, spacing=BETWEEN, enough=len(whole)).bins
        if whole
        else ()
    )
    # Nests run along the length of a roll, pages stand on their end.
    upright = Place(x=width, y=0.0, turn_deg=_UPRIGHT)
    pages = tuple(
        TemplatePage(
            items=tuple(
                SheetItem(
                    template=numbers[spot.key],
                    place=spot.place.within(upright),
                    label=layouts[spot.key].at(spot.place.within(upright).turn_deg),
                )
                for spot in page
            )
        )
        for page in bins
    )
    shapes = {number: pieces[key].shape for key, number in numbers.items()}
    longest = max(
        (item.place.shape(shapes[item.template]).bounds[3] for page in pages for item in page.items),
        default=0.0,
    )
    kept = {piece.key for piece in whole}
    large = [template for template in templates if template.key not in kept]
    reach = [max(template.outermost.bounds[2:]) - min(template.outermost.bounds[:2]) for template in large]
    frame = roll_frame(roll, min(LONGEST_ROOM, max([longest, *reach])))
    numbered = {template.number: template for template in templates}
    return TemplateSheets(
        frame=frame,
        copies=paper.copies,
        pages=tuple(with_mark_words(page, numbered, frame.room, speech) for page in pages),
        tiled=tuple(
            tiled
            for template in large
            for tiled in tiled_template(
                template, frame, paper, own_fonts=own_fonts, speech=speech, copies=counts[template.key]
            )
        ),
    )


def _nested(template: Template, layout: LabelLayout, count: int) -> NestPiece:
    """A template as it is nested along the roll: a quarter turn before it stands on the page."""
    turns = tuple((turn - _UPRIGHT) % 360 for turn in layout.turns_deg)
    return sheet_piece(template, layout, count, turns)
