"""The words of the placement guide: what to mark on the panel, where each letter goes, and its full-size pages."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from applique.language import Measure, Message, Unit, message, messages
from applique.marks import LetterMark, RowMark
from applique.units import Units, as_length, as_seam, as_size
from applique.words.sheets import PEN_CAUTION, from_center, turn_said

__all__ = [
    "CENTER_LINE",
    "COLUMNS",
    "LETTER_ON_OUTLINE",
    "METHOD",
    "PANEL",
    "SUBJECT",
    "TABLE",
    "TABLE_TITLE",
    "WHAT_TO_MARK",
    "baseline_said",
    "full_size_bookmark",
    "full_size_note",
    "more_notices",
    "row_heading",
    "row_number",
    "scale_said",
    "tick_said",
    "turned_letter_said",
    "what_to_mark",
]

SUBJECT: Final = message("placement guide")
METHOD: Final = message("Placement guide: right way round, seen from the right side of the fabric")
PANEL: Final = message("The panel")
CENTER_LINE: Final = message("center line")
WHAT_TO_MARK: Final = message("What to mark")
TABLE: Final = message("Where each letter goes")
TABLE_TITLE: Final = message("Where each letter goes, measured from the center line")
COLUMNS: Final = (message("left edge"), message("middle"), message("right edge"))
LETTER_ON_OUTLINE: Final = message(
    "Bold: the outline. Thin: the letter on it, hidden once the outline lies there."
)


def scale_said(
    quilt_per_paper: Fraction, cut: tuple[Fraction, Fraction], seam_allowance: Fraction, units: Units
) -> Message:
    """How small the panel is drawn, how large to cut it, and which of its edges are which; lengths in inches."""
    unit = Unit(units.value)
    width, height = cut
    return message(
        "Drawn small: {one} of paper is {many} of quilt. Cut the panel {width} wide and {height} high; the seam "
        "allowance is {allowance}. The outer line is the cut edge, the dashed one inside it the finished edge.",
        one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
        many=Measure(number=quilt_per_paper, unit=unit, as_fraction=False),
        width=as_size(width, units),
        height=as_size(height, units),
        allowance=as_seam(seam_allowance, units),
    )


def what_to_mark(
    center_from_edge: Fraction, units: Units, *, on_outlines: bool, turned: bool
) -> Iterator[Message]:
    """What to draw on the panel, the center line `center_from_edge` inches from its edge.

    With `on_outlines` the full-size pages have letters on outlines; with `turned` something is turned.
    """
    yield message(
        "With a removable pen draw the center line, {length} from either cut side edge, then each baseline, measured "
        "from the cut top edge; the bold numbers on the left say how far down it is.",
        length=as_size(center_from_edge, units),
    )
    yield message(
        "Draw a short tick on the baseline under the middle of each letter. The small numbers under a letter, and the "
        "table, say how far its left and its right edge are from the center line."
    )
    yield PEN_CAUTION
    if on_outlines:
        yield message(
            "On the full-size pages the bold line is the edge of an outline and the thin line in it is its letter. The "
            "outline hides that line once it lies there: put each letter on its outline first, over the page, then "
            "lay both on the panel by the bold line."
        )
    if turned:
        yield message(
            "The table says how far a letter or a row is turned. The distances are those of the letters as they lie "
            "then; the full-size pages ({setting}) show them at true size.",
            setting="full_size_guide",
        )


def more_notices(count: int) -> Message:
    """That `count` notices have no room."""
    return messages(
        "{count} more to check before you cut: see {file}.",
        "{count} more to check before you cut: see {file}.",
        count,
        file="summary.md",
    )


def row_number(mark: RowMark) -> str | Message:
    """A row, or another piece, beside its baseline."""
    return mark.where.as_field()


def row_heading(mark: RowMark) -> str | Message:
    """A row above its letters in the table, or the name of another piece."""
    if mark.where.row is None:
        return mark.text
    return message("Row {number} · {words}", number=str(mark.where.row), words=mark.text)


def baseline_said(mark: RowMark, units: Units) -> Message:
    """Where to draw the baseline of a row: how far down, or for a turned row the two points to draw it through.

    What is no row has no baseline; its lowest point is measured.

    A line break in it is one in the table.
    """
    if mark.where.row is None:
        return message(
            "its lowest point {length} below the cut top edge", length=_length(mark.baseline_from_top, units)
        )
    if mark.level:
        return message(
            "baseline {length} below the cut top edge", length=_length(mark.baseline_from_top, units)
        )
    (start, start_down), (end, end_down) = mark.ends
    return message(
        "turned {turn}: baseline from\n{start}, {start_down} down\nto {end}, {end_down} down",
        turn=turn_said(mark.turn_deg),
        start=from_center(start, units),
        start_down=_length(start_down, units),
        end=from_center(end, units),
        end_down=_length(end_down, units),
    )


def tick_said(letter: LetterMark, units: Units) -> Message:
    """Where the tick of a letter in a turned row is."""
    return message("its tick on the baseline {length} down", length=_length(letter.tick_down, units))


def turned_letter_said(letter: LetterMark, units: Units) -> Message:
    """How a letter lies that is turned by hand."""
    turn, away = turn_said(letter.turn_deg), _length(abs(letter.above_baseline), units)
    if away.number == 0:
        return message("turned {turn}, its lowest point on the baseline", turn=turn)
    if letter.above_baseline > 0:
        return message("turned {turn}, its lowest point {length} above the baseline", turn=turn, length=away)
    return message("turned {turn}, its lowest point {length} below the baseline", turn=turn, length=away)


def full_size_bookmark(tile: str) -> Message:
    """What the list of pages calls a full-size page."""
    return message("Full size {tile}", tile=tile)


def full_size_note(tile: str) -> Message:
    """The header of a full-size page."""
    return message("full-size guide, tile {tile} · print at 100 %", tile=tile)


def _length(length: Fraction | float, units: Units) -> Measure:
    return as_length(length, units, denominator=16)
