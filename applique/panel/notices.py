"""What is off the panel, and what is risky and worth a word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final

import shapely

from applique.design import Design
from applique.errors import Notice, Problem, Where
from applique.panel.requests import RowRequest
from applique.panel.values import PlacedRow, near_cuts, near_rows, on_panel
from applique.typeset.typeface import CapKind
from applique.units import telling_apart

__all__ = ["font_notices", "gap_notices", "off_the_panel"]

_MEASURED: Final = {
    CapKind.LETTER: "no H; its letter height is measured on the letter",
    CapKind.FIGURE: "no letters; its letter height is measured on the figure",
    CapKind.SIGN: "no letters or figures; its letter height is measured on your tallest sign,",
}
_GAP_SLACK: Final = 1e-3
"""Inches by which a gap may fall short before it is worth a word."""


def off_the_panel(design: Design, rows: Sequence[PlacedRow]) -> Iterator[Problem]:
    """A problem for each row that reaches beyond the finished panel."""
    width, height = float(design.panel.width), float(design.panel.height)
    for row in rows:
        x0, y0, x1, y1 = row.ink
        if min(x0, y0) < -1e-9 or x1 > width + 1e-9 or y1 > height + 1e-9:
            yield Problem(
                what=f"“{row.text}” reaches beyond the finished panel",
                where=Where.in_row(row.number),
                fix="a smaller nudge or turn, another baseline or a larger panel",
            )


def font_notices(requests: Sequence[RowRequest]) -> Iterator[Notice]:
    """What to know about the fonts: a restricted license, or no H to measure."""
    told: set[str] = set()
    for request in requests:
        typeface = request.typeface
        if typeface.name in told:
            continue
        told.add(typeface.name)
        if typeface.facts.embedding & 0x2:
            yield Notice(
                what=f"the font {typeface.name} says it may not be embedded (restricted license)",
                where=Where.in_row(request.number),
                fix="read its license before you sell or share the pattern",
            )
        if typeface.cap_kind is not CapKind.H:
            yield Notice(
                what=f"{typeface.name} has {_MEASURED[typeface.cap_kind]} “{typeface.cap_letter}”",
                where=Where.in_row(request.number),
                fix="measure the first template before you cut fabric",
            )


def gap_notices(
    design: Design, requests: Sequence[RowRequest], rows: Sequence[PlacedRow]
) -> Iterator[Notice]:
    """Letters, rows and margins that are nearer than the design asks for."""
    for request, row in zip(requests, rows, strict=True):
        yield from _tight_letters(design, request, row)
    for above, below, line in near_rows(rows, float(design.lettering.row_gap)):
        gap = float(line.length)
        if gap < float(design.lettering.row_gap) - _GAP_SLACK:
            said = telling_apart([(gap, design.lettering.row_gap)], design.units, denominator=16)
            yield Notice(
                what=f"rows {above.number} and {below.number} "
                + (f"are {said(gap)} apart" if gap > 0 else "overlap")
                + f", less than the row gap of {said(design.lettering.row_gap)}",
                where=Where.in_row(below.number),
                fix="baselines further apart, or a smaller row_gap",
            )
    for row in rows:
        yield from _beyond_margin(design, row)


def _tight_letters(design: Design, request: RowRequest, row: PlacedRow) -> Iterator[Notice]:
    for left, right in near_cuts(row, float(request.least_gap)):
        gap = float(shapely.distance(on_panel(left), on_panel(right)))
        if gap < float(request.least_gap) - _GAP_SLACK:
            said = telling_apart([(gap, request.least_gap)], design.units, denominator=16)
            yield Notice(
                what=f"“{left.text}” and “{right.text}” "
                + (f"are {said(gap)} apart" if gap > 0 else "overlap")
                + f", less than the least gap of {said(request.least_gap)}",
                where=Where.in_row(row.number),
                fix="a smaller nudge or turn",
            )


def _beyond_margin(design: Design, row: PlacedRow) -> Iterator[Notice]:
    width, height, margin = float(design.panel.width), float(design.panel.height), float(design.panel.margin)
    x0, y0, x1, y1 = row.ink
    edge = min(x0, y0, width - x1, height - y1)
    if edge < margin - _GAP_SLACK:
        said = telling_apart([(edge, margin)], design.units, denominator=16)
        yield Notice(
            what=f"“{row.text}” comes to {said(edge)} from the finished edge, inside the margin of {said(margin)}",
            where=Where.in_row(row.number),
            fix="a smaller nudge or turn, another baseline or a smaller margin",
        )
