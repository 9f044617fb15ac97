"""What is off the panel, and what is risky and worth a word."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Final, Literal, assert_never

import shapely

from applique.design import Design
from applique.errors import Notice, Problem, Where
from applique.language import Field, Message, message
from applique.panel.edges import SEEN, PanelEdges
from applique.panel.in_outline import laid_ink, outline_of_panel
from applique.panel.requests import RowRequest
from applique.panel.values import Laid, PlacedRow, near_cuts, near_laid, on_panel
from applique.typeset.typeface import CapKind, Typeface
from applique.units import telling_apart

__all__ = ["font_notices", "gap_notices", "off_the_panel", "or_run_off"]

_GAP_SLACK: Final = 1e-3
"""Inches by which a gap may fall short before it is worth a word."""


def off_the_panel(design: Design, laid: Sequence[Laid]) -> Iterator[Problem]:
    """A problem for each row, or other piece, that reaches beyond the finished panel; of those that may run off it, for
    each letter that nothing would be seen of."""
    width, height = float(design.panel_size[0]), float(design.panel_size[1])
    finished, outline = PanelEdges(width=width, height=height, beyond=0.0), outline_of_panel(design)
    for row in laid:
        if row.runs_off:
            yield from _unseen(finished, row)
            continue
        x0, y0, x1, y1 = row.ink
        room = min(x0, y0, width - x1, height - y1)
        if outline is not None:
            room = outline.clearance(laid_ink(row))
        if room < -1e-9:
            yield Problem(
                kind="row-off-the-panel",
                what=message("“{words}” reaches beyond the finished panel", words=row.text),
                where=row.where,
                fix=message("a smaller nudge or turn, or a larger panel")
                if row.line.runs_down
                else or_run_off(
                    design, message("a smaller nudge or turn, another baseline or a larger panel")
                ),
            )


def or_run_off(design: Design, fix: Message) -> Message:
    """`fix`, or where a panel is cut that the row may run off it."""
    if not design.cuts_panel:
        return fix
    return message("{fix}; or runs_off = true, if it should run off the edge", fix=fix)


def _unseen(panel: PanelEdges, row: Laid) -> Iterator[Problem]:
    for cut in row.cuts:
        if panel.crossed(cut.ink) and on_panel(cut).intersection(panel.finished).area <= SEEN:
            yield Problem(
                kind="letter-off-the-panel",
                what=message(
                    "nothing of “{letter}” in “{words}” is on the panel", letter=cut.text, words=row.text
                ),
                where=row.where,
                fix=message("another place or size for the row, or words without that letter"),
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
                kind="font-restricted",
                what=message(
                    "the font {font} says it may not be embedded (restricted license)", font=typeface.name
                ),
                where=Where.in_row(request.number),
                fix=message("read its license before you sell or share the pattern"),
            )
        if typeface.cap_kind is not CapKind.H:
            yield _measured_on(typeface, typeface.cap_kind, Where.in_row(request.number))


def _measured_on(
    typeface: Typeface, kind: Literal[CapKind.LETTER, CapKind.FIGURE, CapKind.SIGN], where: Where
) -> Notice:
    """What the letter height of a font without an H is measured on."""
    font, sign = typeface.name, typeface.cap_letter
    fix = message("measure the first template before you cut fabric")
    match kind:
        case CapKind.LETTER:
            return Notice(
                kind="height-measured-on-letter",
                what=message(
                    "{font} has no H; its letter height is measured on the letter “{sign}”",
                    font=font,
                    sign=sign,
                ),
                where=where,
                fix=fix,
            )
        case CapKind.FIGURE:
            return Notice(
                kind="height-measured-on-figure",
                what=message(
                    "{font} has no letters; its letter height is measured on the figure “{sign}”",
                    font=font,
                    sign=sign,
                ),
                where=where,
                fix=fix,
            )
        case CapKind.SIGN:
            return Notice(
                kind="height-measured-on-sign",
                what=message(
                    "{font} has no letters or figures; its letter height is measured on your tallest sign, “{sign}”",
                    font=font,
                    sign=sign,
                ),
                where=where,
                fix=fix,
            )
    assert_never(kind)


def gap_notices(
    design: Design, requests: Sequence[RowRequest], rows: Sequence[PlacedRow]
) -> Iterator[Notice]:
    """Letters, rows and margins that are nearer than the design asks for."""
    for request, row in zip(requests, rows, strict=True):
        yield from _tight_letters(design, request, row)
    for above, below, line in near_laid(rows, float(design.lettering.row_gap)):
        gap = float(line.length)
        if gap < float(design.lettering.row_gap) - _GAP_SLACK:
            said = telling_apart([(gap, design.lettering.row_gap)], design.units, denominator=16)
            fields: dict[str, Field] = {
                "above": above.number,
                "below": below.number,
                "least": said(design.lettering.row_gap),
            }
            where, fix = below.where, message("baselines further apart, or a smaller row gap")
            if above.line.runs_down or below.line.runs_down:
                fix = message("the rows further apart, or a smaller row gap")
            if gap > 0:
                yield Notice(
                    kind="rows-close",
                    what=message(
                        "rows {above} and {below} are {gap} apart, less than the row gap of {least}",
                        gap=said(gap),
                        **fields,
                    ),
                    where=where,
                    fix=fix,
                )
            else:
                yield Notice(
                    kind="rows-overlap",
                    what=message(
                        "rows {above} and {below} overlap, less than the row gap of {least}", **fields
                    ),
                    where=where,
                    fix=fix,
                )
    for row in rows:
        if not row.runs_off:
            yield from _beyond_margin(design, row)


def _tight_letters(design: Design, request: RowRequest, row: PlacedRow) -> Iterator[Notice]:
    for left, right in near_cuts(row, float(request.least_gap)):
        gap = float(shapely.distance(on_panel(left), on_panel(right)))
        if gap < float(request.least_gap) - _GAP_SLACK:
            said = telling_apart([(gap, request.least_gap)], design.units, denominator=16)
            fields: dict[str, Field] = {
                "left": left.text,
                "right": right.text,
                "least": said(request.least_gap),
            }
            if gap > 0:
                yield Notice(
                    kind="letters-close",
                    what=message(
                        "“{left}” and “{right}” are {gap} apart, less than the least gap of {least}",
                        gap=said(gap),
                        **fields,
                    ),
                    where=Where.in_row(row.number),
                    fix=message("a smaller nudge or turn"),
                )
            else:
                yield Notice(
                    kind="letters-overlap",
                    what=message(
                        "“{left}” and “{right}” overlap, less than the least gap of {least}", **fields
                    ),
                    where=Where.in_row(row.number),
                    fix=message("a smaller nudge or turn"),
                )


def _beyond_margin(design: Design, row: PlacedRow) -> Iterator[Notice]:
    width, height, margin = (
        float(design.panel_size[0]),
        float(design.panel_size[1]),
        float(design.panel.margin),
    )
    x0, y0, x1, y1 = row.ink
    edge, outline = min(x0, y0, width - x1, height - y1), outline_of_panel(design)
    if outline is not None:
        edge = outline.clearance(laid_ink(row))
    if edge < margin - _GAP_SLACK:
        said = telling_apart([(edge, margin)], design.units, denominator=16)
        yield Notice(
            kind="row-in-the-margin",
            what=message(
                "“{words}” comes to {distance} from the finished edge, inside the margin of {margin}",
                words=row.text,
                distance=said(edge),
                margin=said(margin),
            ),
            where=Where.in_row(row.number),
            fix=message("a smaller nudge or turn, or a smaller margin")
            if row.line.runs_down
            else message("a smaller nudge or turn, another baseline or a smaller margin"),
        )
