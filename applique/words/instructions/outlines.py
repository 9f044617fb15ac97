"""How outlines are laid, and the letters on them, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Around, Method
from applique.errors import Where
from applique.language import Field, Measure, Message, any_of, listed, message
from applique.marks import Outlined, RowMark, how_outlined
from applique.outline_layer import WORTH_STOPPING, EdgeStretches, PlacedOutline
from applique.units import Units, as_length, cutting_step, measured_up
from applique.words.instructions.stitching import ORDER
from applique.words.sheets import set_apart

__all__ = [
    "EDGES_DRAWN",
    "LEFT_OUT",
    "SEWN",
    "STOP_HERE",
    "laid_said",
    "letters_laid_said",
    "long_ticks_said",
    "off_before_letters_said",
    "only_looked_at_said",
    "onto_outlines_said",
    "stitched_first_said",
    "stitched_row_said",
    "stitched_rows_said",
    "stretches_said",
]

SEWN: Final = message("stitch")
LEFT_OUT: Final = message("leave out")
STOP_HERE: Final = message("end of the stitching")
EDGES_DRAWN: Final = message(
    "The outlines as they lie, with the letters to come on them: bold edges are stitched, dotted ones are left out."
)

_MOST_NAMED: Final = 24
"""More outlines than these are not named one by one."""
_BELOW: Final = 0.5
"""Inches that a tick goes on below an outline, so that it can be seen: our own."""


def _reach_said(outlines: Sequence[PlacedOutline], units: Units) -> Message:
    return message(
        "{reach}",
        reach=any_of(
            as_length(reach, units, denominator=16) for reach in sorted({piece.reach for piece in outlines})
        ),
    )


def long_ticks_said(
    outlines: Sequence[PlacedOutline], marks: Sequence[RowMark], around: Around, units: Units
) -> Iterator[Message]:
    """How long a tick is drawn that an outline would hide, and longer ones below those that hang lower than the others,
    as of a g; nothing where outlines lie behind whole words."""
    if around is Around.LETTERS:
        reach = max(piece.reach for piece in outlines)
        low = [one for mark in marks for one in mark.outlines if -one.above_baseline > reach + _BELOW / 2]
        long = _below_said(reach, units)
        if how_outlined(marks, around) is Outlined.ALL:
            yield message(
                "An outline hangs below the baseline and would hide a short tick: draw each tick from the baseline "
                "down, {long} long.",
                long=long,
            )
        else:
            yield message(
                "An outline hangs below the baseline and would hide a short tick: where a letter has one, draw its "
                "tick from the baseline down, {long} long.",
                long=long,
            )
        if low:
            yield message(
                "Below {letters} it hangs lower: draw that tick {long} long.",
                letters=listed(dict.fromkeys(one.text for one in low)),
                long=_below_said(max(-one.above_baseline for one in low), units),
            )


def _below_said(lowest: float, units: Units) -> Measure:
    """How far a tick reaches below the baseline to show below an outline that goes down to its `lowest` point."""
    return as_length(measured_up(lowest + _BELOW, cutting_step(units)), units)


def laid_said(
    outlines: Sequence[PlacedOutline], around: Around, units: Units, *, over: bool, across: bool
) -> Iterator[Message]:
    """How outlines are laid by their own marks, before any letter; `over` is whether one lies over another. Where none
    is of a row `across`, nothing is said of baselines."""
    reach = _reach_said(outlines, units)
    if not across:
        yield message(
            "The outlines are laid first, right side up. Each reaches {reach} beyond its letter all around.",
            reach=reach,
        )
    elif around is Around.LETTERS:
        yield message(
            "The outlines are laid first, right side up. Lay each with the baseline that you carried onto it on the "
            "baseline of its row, and its middle over its tick, which shows below it. It reaches {reach} beyond its "
            "letter all around, below the baseline too.",
            reach=reach,
        )
    else:
        yield message(
            "The outlines are laid first, right side up. Lay each with the baseline that you carried onto it on the "
            "baseline of its row, and its left and right edge where the table of the placement guide has them. It "
            "reaches {reach} beyond its letters all around, below the baseline too.",
            reach=reach,
        )
    if over:
        yield message(
            "Order of the outlines: from left to right, and rows from the top down. Where two overlap, the one laid "
            "later lies on top."
        )


def letters_laid_said(around: Around) -> Message:
    """How letters are laid on their outlines, in which order, whatever that of the outlines was."""
    if around is Around.LETTERS:
        return message(
            "A letter with an outline lies on it by the marks of both: baseline on baseline, middle on middle. Order "
            "of the letters: from the center line outward, whatever that of the outlines was."
        )
    return message(
        "A letter with an outline lies on it with its baseline on that of the outline, and its left and right edge "
        "where the table of the placement guide has them. Order of the letters: from the center line outward."
    )


def only_looked_at_said() -> Message:
    """That nothing is held yet."""
    return message("Nothing is held yet.")


def off_before_letters_said(method: Method, *, layered: bool) -> Iterator[Message]:
    """What comes off the stitched outlines before letters hide it; `layered` is whether backing and batting are under
    them, held by safety pins."""
    if method is Method.TURNED_EDGE:
        yield message(
            "Pull out the basting that held the outlines on the panel, and that of their folds: the letters come to "
            "lie over it."
        )
    if layered:
        yield message(
            "Take out every safety pin that a letter would lie on: the stitching of the outline holds the layers there."
        )


def onto_outlines_said(
    outlines: Sequence[PlacedOutline],
    around: Around,
    method: Method,
    units: Units,
    *,
    over: bool,
    layered: bool,
) -> Iterator[Message]:
    """What follows once the outlines are stitched; `over` is whether one lies over another, `layered` whether backing
    and batting are under them."""
    if around is Around.LETTERS:
        yield message(
            "Now lay each letter on its outline by the marks of both: baseline on baseline, middle on middle."
        )
    else:
        yield message(
            "Now lay each letter on its outline with its baseline on that of the outline, and its left and right edge "
            "where the table of the placement guide has them."
        )
    reach = _reach_said(outlines, units)
    if over:
        yield message(
            "{reach} of the outline shows all around, except where two outlines overlap. Lay a ruler along the "
            "baseline, and see that the letters run along it.",
            reach=reach,
        )
    else:
        yield message(
            "{reach} of the outline shows all around. Lay a ruler along the baseline, and see that the letters run "
            "along it.",
            reach=reach,
        )
    if method is Method.TURNED_EDGE and layered:
        yield message(
            "Pin each letter, then hold it with dots of wash-away glue or basting by hand through all layers, well "
            "inside its edge. Take its pins out again, and do not press it: let glue dry as its maker directs. Tick "
            "off each row."
        )
    elif method is Method.TURNED_EDGE:
        yield message("Pin them and hold them as you held the outlines, and tick off each row.")
    else:
        yield message("Fuse the letters to the outlines as you fused those, and tick off each row.")


def stitched_first_said(outlines: Sequence[PlacedOutline]) -> Message:
    """That outlines are stitched before the letters are laid on them."""
    return message(
        "The outlines first: stitch those behind {rows}. Their letters come onto them once they are stitched.",
        rows=listed(dict.fromkeys(piece.where.as_field() for piece in outlines)),
    )


def stretches_said(
    outlines: Sequence[PlacedOutline], edges: Sequence[EdgeStretches], units: Units
) -> Iterator[Message]:
    """What is done where an edge lies under another outline or a letter; nothing where none does."""
    parted = [piece for piece, one in zip(outlines, edges, strict=True) if one.left_out]
    dips = [piece.text for piece, one in zip(outlines, edges, strict=True) if one.dips]
    if dips:
        yield message(
            "Where an edge dips under its neighbor for less than {short} ({outlines}), sew on across that one, "
            "straight to where the edge comes out again.",
            short=as_length(Fraction(WORTH_STOPPING), units),
            outlines=listed(dict.fromkeys(dips)),
        )
    if not parted:
        return
    yield message(
        "Stitch the bold edges of the drawing, and leave out the dotted ones: they lie under another outline, or will "
        "lie under a letter, and stitches there would show as a ridge."
    )
    rows: dict[Where, list[str]] = {}
    for piece in parted:
        rows.setdefault(piece.where, []).append(piece.text)
    if len(parted) <= _MOST_NAMED:
        yield message(
            "Stitched in part: {outlines}.",
            outlines=set_apart(
                message("{row}: {letters}", row=where.as_field(), letters=listed(letters))
                for where, letters in rows.items()
            ),
        )
    yield message(
        "Such an edge is not sewn once around: start at one end of the bold line, whatever dot is drawn for the whole "
        "outline, sew to its other end, and take three or four stitches on the spot at both."
    )


def stitched_row_said(row: Field, threads: Sequence[Message], *, holes: bool, parted: bool) -> Message:
    """What is sewn next: the outlines behind a row, in their `threads`, and their `holes` where one has any; `parted`
    is whether some edges are left out."""
    fields: dict[str, Field] = {"row": row, "threads": listed(threads)}
    if parted:
        fields["section"] = ORDER
    match parted, holes:
        case True, True:
            return message(
                "Stitch the outlines behind {row} with {threads}, along the edges that are bold in the drawing of "
                "“{section}”, their holes too.",
                **fields,
            )
        case True, False:
            return message(
                "Stitch the outlines behind {row} with {threads}, along the edges that are bold in the drawing of "
                "“{section}”.",
                **fields,
            )
        case False, True:
            return message(
                "Stitch the outlines behind {row} with {threads}, around every edge, their holes too.",
                **fields,
            )
    return message("Stitch the outlines behind {row} with {threads}, around every edge.", **fields)


def stitched_rows_said(*, holes: bool, parted: bool) -> Message:
    """What is sewn first, where there are too many letters to tick each of them off."""
    match parted, holes:
        case True, True:
            return message(
                "Stitch the outlines behind the rows in this order, along the edges that are bold in the drawing "
                "of “{section}”, their holes too.",
                section=ORDER,
            )
        case True, False:
            return message(
                "Stitch the outlines behind the rows in this order, along the edges that are bold in the drawing "
                "of “{section}”.",
                section=ORDER,
            )
        case False, True:
            return message(
                "Stitch the outlines behind the rows in this order, around every edge, their holes too."
            )
    return message("Stitch the outlines behind the rows in this order, around every edge.")
