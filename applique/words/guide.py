"""The words of the placement guide: what to mark on the panel, where each letter goes, and its full-size pages."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Final

from applique.errors import Notice
from applique.language import Field, Measure, Message, Unit, listed, message, messages
from applique.marks import LetterMark, Outlined, OwnMark, RowMark
from applique.panel import PanelPlan
from applique.units import Units, as_length, as_seam, as_size
from applique.words import below, downward, garment, loose, panel_shapes
from applique.words.sheets import from_center, notice_said, noticed_at, turn_said

__all__ = [
    "CENTER_LINE",
    "CONTINUED",
    "LETTER",
    "LETTER_ON_OUTLINE",
    "METHOD",
    "PANEL",
    "SUBJECT",
    "TABLE",
    "TABLE_TITLE",
    "TITLE",
    "WHAT_TO_MARK",
    "WORD",
    "Drawn",
    "baseline_said",
    "beside_center",
    "columns_said",
    "from_finished_said",
    "full_size_bookmark",
    "full_size_note",
    "grouped",
    "in_column",
    "lowest_in_column",
    "notices_after_table",
    "only_in_table",
    "outlines_heading",
    "own_baseline_said",
    "own_end_said",
    "point_said",
    "row_heading",
    "row_number",
    "scale_said",
    "tick_said",
    "turned_letter_said",
    "what_to_mark",
]

SUBJECT: Final = message("placement guide")
METHOD: Final = message("Placement guide: right way round, seen from the right side of the fabric")
TITLE: Final = message("Placement guide")
PANEL: Final = message("The panel")
CENTER_LINE: Final = message("center line")
WHAT_TO_MARK: Final = message("What to mark")
TABLE: Final = message("Where each letter goes")
TABLE_TITLE: Final = message("Where each letter goes: how far left (L) or right (R) of the center line")
LETTER: Final = message("letter")
WORD: Final = message("word")
_COLUMNS: Final = {
    Units.INCHES: (
        message("template"),
        message("left edge (in)"),
        message("middle (in)"),
        message("right edge (in)"),
    ),
    Units.CENTIMETERS: (
        message("template"),
        message("left edge (cm)"),
        message("middle (cm)"),
        message("right edge (cm)"),
    ),
}
_WITH_LOWEST: Final = {
    Units.INCHES: (
        message("template"),
        message("left (in)"),
        message("middle (in)"),
        message("right (in)"),
        message("lowest (in)"),
    ),
    Units.CENTIMETERS: (
        message("template"),
        message("left (cm)"),
        message("middle (cm)"),
        message("right (cm)"),
        message("lowest (cm)"),
    ),
}
CONTINUED: Final = message("continued")
"""In place of its fabric, beside the heading of a row that goes on in the next column."""
LETTER_ON_OUTLINE: Final = message(
    "Bold: the outline. Thin: the letter on it, hidden once the outline lies there."
)


def scale_said(quilt_per_paper: Fraction, panel: PanelPlan, units: Units) -> Message:
    """How small the panel is drawn, how large to cut it, and which of its edges are which; lengths in inches."""
    unit = Unit(units.value)
    width, height, seam_allowance = panel.cut_width, panel.cut_height, panel.seam_allowance
    if panel.worn is not None:
        return garment.guide_scale_said(quilt_per_paper, panel.worn, panel, units)
    if panel.outline is not None:
        return panel_shapes.scale_said(quilt_per_paper, (width, height), seam_allowance, units)
    if panel.trim:
        return message(
            "Drawn small: {one} of paper is {many} of fabric. Cut the panel {width} wide and {height} high; once the "
            "letters are stitched, trim it to {trimmed_width} by {trimmed_height}, seam allowance {allowance}. The "
            "outer line is the cut edge, the long dashes the edge to trim to, the short dashes the finished edge, "
            "{beyond} inside the cut edge.",
            one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
            many=Measure(number=quilt_per_paper, unit=unit, as_fraction=units is Units.INCHES),
            width=as_size(width, units),
            height=as_size(height, units),
            trimmed_width=as_size(panel.trimmed[0], units),
            trimmed_height=as_size(panel.trimmed[1], units),
            allowance=as_seam(seam_allowance, units),
            beyond=as_size(panel.beyond, units),
        )
    return message(
        "Drawn small: {one} of paper is {many} of fabric. Cut the panel {width} wide and {height} high; the seam "
        "allowance is {allowance}. The outer line is the cut edge, the dashed one inside it the finished edge.",
        one=Measure(number=Fraction(1), unit=unit, as_fraction=False),
        many=Measure(number=quilt_per_paper, unit=unit, as_fraction=units is Units.INCHES),
        width=as_size(width, units),
        height=as_size(height, units),
        allowance=as_seam(seam_allowance, units),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """What the small drawing shows: any `level` baseline with the numbers beside it, any that is `slanting` with the
    two points that it runs through, the line of any that runs `downward`, with letters `beside` it, the numbers of
    those `points`, of the `middles` of letters under their ticks, and of the `ends` of rows; whether some middles are
    `short` of their unit and other ticks `bare` of numbers; how letters `lean` that are turned; and whether any that is
    turned in a row that runs down has an `owned` baseline, and any such row is `outlined_down`.
    """

    level: bool
    slanting: bool
    downward: bool
    beside: bool
    points: bool
    middles: bool
    ends: bool
    short: bool
    bare: bool
    lean: bool
    owned: bool
    outlined_down: bool


def what_to_mark(
    panel: PanelPlan,
    units: Units,
    drawn: Drawn,
    *,
    full_size: bool,
    on_outlines: bool,
    turned: bool,
    by_word: bool,
    ticked: bool,
    longer: Sequence[Message],
    outlined: Outlined,
    lowest: tuple[bool, bool] | None,
    parts: Sequence[str],
) -> Iterator[Message]:
    """What to mark on the panel: measured from its cut edges, and of one that is trimmed later from its finished edges.

    Of the drawing only what is `drawn` is spoken of.

    With `full_size` there are pages to join; with `on_outlines` the full-size pages have letters on outlines; with
    `turned` something is turned; with `by_word` the table lists words where letters are small, with `ticked` letters
    where they are not, and `longer` says which ticks are long: those of letters that are
    `outlined`, all or some; with `lowest` it says how far each letter is off its
    baseline, whether some are below theirs and some above; `parts` are the names of the parts that have lines of their
    own there.
    """
    if drawn.downward and not (drawn.level or drawn.slanting):
        yield downward.center_drawn_said(panel, units)
    elif panel.worn is not None:
        yield garment.guide_lines_said(panel.worn, level=drawn.level)
    elif panel.loose:
        yield loose.guide_lines_said(level=drawn.level)
    else:
        yield (_trimmed_lines if panel.trim else _lines)(panel, units, level=drawn.level)
    point = below.point_of(panel)
    if point is not None and drawn.slanting:
        yield below.slanting_said(point, numbered=drawn.points)
    elif drawn.slanting and drawn.points:
        yield message(
            "A row that slants has two small crosses. The numbers at each say how far it is from the center line, and "
            "how far down from the cut top edge: mark both points and join them with a ruler. The table has them too."
        )
    elif drawn.slanting:
        yield message(
            "A row that slants has two small crosses. The table says how far each is from the center line, and how far "
            "down from the cut top edge: mark both points and join them with a ruler."
        )
    if drawn.downward and ticked:
        yield downward.ACROSS_MARKED
    yield from _places_said(
        drawn,
        units,
        longer,
        by_word=by_word,
        ticked=ticked,
        all_long=bool(longer) and outlined is Outlined.ALL,
    )
    if drawn.downward:
        yield downward.line_said(point, numbered=drawn.points)
        yield from downward.ticks_said(beside=drawn.beside, outlined=drawn.outlined_down)
        if not ticked:
            yield message(
                "The table says how far left (L) or right (R) of the center line the middle and both edges of each "
                "letter are."
            )
    if lowest is not None:
        yield _lowest_said(*lowest)
    if parts:
        first, second, *_ = parts
        yield message(
            "A letter in several parts has a line for each of them below its own, with the name that is on its "
            "template: {first}, {second}. Lay each part between its own left and right edge, at its own height.",
            first=first,
            second=second,
        )
    if full_size:
        yield message(
            "To join the full-size pages, cut off each strip that says “trim here”, on its line of dashes and dots. "
            "Lay that edge on the same line of the next page that says “tape page” and its name, mark on mark, and "
            "tape it."
        )
    if on_outlines:
        yield message(
            "On the full-size pages the bold line is the edge of an outline and the thin line in it is its letter. The "
            "outline hides that line once it lies there: put each letter on its outline first, over the page, then "
            "lay both on the panel by the bold line."
        )
    if turned:
        yield message(
            "The table says how far a letter or a row is turned: a row from level, a letter from its row. The "
            "distances are those of the letters as they lie then."
        )
    if drawn.lean:
        yield message(
            "A letter that is turned in its row has a baseline of its own, between two small crosses as wide apart as "
            "the letter is: mark both points by the table, join them with a ruler, and lay the letter's own baseline "
            "on that line with its middle halfway between them. The angle is how far it is turned from the dashed "
            "line, square on the baseline of the row."
        )
    elif drawn.owned:
        yield message(
            "A letter that is turned in its row has a baseline of its own, between two small crosses as wide apart as "
            "the letter is: mark both points by the table, join them with a ruler, and lay the letter's own baseline "
            "on that line with its middle halfway between them."
        )


_SHORT: Final = {
    Units.INCHES: message("Numbers under ticks that stand without a unit are inches."),
    Units.CENTIMETERS: message("Numbers under ticks that stand without a unit are centimeters."),
}


def _places_said(
    drawn: Drawn, units: Units, longer: Sequence[Message], *, by_word: bool, ticked: bool, all_long: bool
) -> Iterator[Message]:
    """What to mark on the baselines, ticks or the ends of words, and which numbers of it and of the ends of rows the
    drawing shows."""
    if ticked and all_long:
        yield message(
            "Draw a tick under the middle of each letter, and lay its middle over it. The table says how far left (L) "
            "or right (R) of the center line the middle and both edges are."
        )
        yield from longer
    elif ticked:
        yield message(
            "Draw a short tick on the baseline under the middle of each letter, and lay its middle over it. The table "
            "says how far left (L) or right (R) of the center line the middle and both edges are."
        )
        yield from longer
    if drawn.middles and drawn.bare:
        yield message("The number under a tick is its own; a tick without one has it in the table.")
    elif drawn.middles:
        yield message("The number under a tick is its own.")
    if drawn.middles and drawn.short:
        yield _SHORT[units]
    if by_word and ticked:
        yield message(
            "Small letters have no ticks: the table lists their words. Mark on the baseline where each word starts and "
            "ends, and space its letters between by eye."
        )
    elif by_word:
        yield message(
            "The table lists words: it says how far left (L) or right (R) of the center line each starts and ends. "
            "Mark both on the baseline, and space the letters between by eye."
        )
    if drawn.ends:
        yield message("A number beside a short upright line says how far a row reaches; it is no tick's.")


def _trimmed_lines(panel: PanelPlan, units: Units, *, level: bool) -> Message:
    """How the lines of a panel are drawn that is trimmed later."""
    length, finished = as_size(panel.center_from_edge, units), as_size(panel.width / 2, units)
    if not level:
        return message(
            "With the chalk pencil draw the center line, {length} from either cut side edge ({finished} from either "
            "finished edge), and baste its two ends, by which the panel is trimmed. Then draw each baseline.",
            length=length,
            finished=finished,
        )
    return message(
        "With the chalk pencil draw the center line, {length} from either cut side edge ({finished} from either "
        "finished edge), and baste its two ends, by which the panel is trimmed. Then draw each baseline, measured from "
        "the cut top edge: the bold numbers on the left say how far down it is, those in brackets how far it is from "
        "the finished edge.",
        length=length,
        finished=finished,
    )


def _lines(panel: PanelPlan, units: Units, *, level: bool) -> Message:
    """How the lines of a panel are drawn."""
    length = as_size(panel.center_from_edge, units)
    if not level:
        return message(
            "With the chalk pencil draw the center line, {length} from either cut side edge, then each baseline.",
            length=length,
        )
    return message(
        "With the chalk pencil draw the center line, {length} from either cut side edge, then each baseline, "
        "measured from the cut top edge; the bold numbers on the left say how far down it is.",
        length=length,
    )


def beside_center(place: float, units: Units) -> Message:
    """How far `place`, inches from the center line, is from it, with one letter for its side."""
    length = _length(abs(place), units)
    if length.number == 0:
        return message("on center")
    if place < 0:
        return message("{length} L", length=length)
    return message("{length} R", length=length)


def in_column(place: float, units: Units) -> Message:
    """The same where the unit is said elsewhere, as in the head of a column."""
    length = replace(_length(abs(place), units), unit=Unit.IN_HEAD)
    if length.number == 0:
        return message("on center")
    if place < 0:
        return message("{length} L", length=length)
    return message("{length} R", length=length)


def _lowest_said(below: bool, above: bool) -> Message:
    """What the column of lowest points is for, some of which are `below` their baselines, or `above`."""
    match below, above:
        case True, False:
            return message(
                "Lay each letter by its baseline: the last column says how far its lowest point is below the line."
            )
        case False, True:
            return message(
                "Lay each letter by its baseline: the last column says how far its lowest point is above the line."
            )
        case _:
            return message(
                "Lay each letter by its baseline: the last column says how far its lowest point is below the line or "
                "above it."
            )


def is_on_line(above: float, units: Units) -> bool:
    """Whether a lowest point so far above its baseline (inches, negative below it) is printed as on it."""
    return _length(abs(above), units).number == 0


def columns_said(units: Units, *, lowest: bool) -> tuple[Message, ...]:
    """The heads of the table after the letter: the number of its template, its distances with their unit, and where
    letters stand off their baseline how far their `lowest` point is from it."""
    return (_WITH_LOWEST if lowest else _COLUMNS)[units]


def lowest_in_column(above: float, units: Units, *, ticked: bool) -> Message:
    """How far a lowest point is above the baseline (inches, negative below it), or where letters are `ticked` one below
    the other above the tick, in a column whose head says the unit."""
    length = replace(_length(abs(above), units), unit=Unit.IN_HEAD)
    if is_on_line(above, units):
        return message("on its tick") if ticked else message("on the line")
    if above < 0:
        return message("{length} below", length=length)
    return message("{length} above", length=length)


def outlines_heading(mark: RowMark) -> Message:
    """The shapes behind a row, above their places in the table."""
    return message("{row} · outlines", row=row_heading(mark))


def only_in_table(count: int) -> Message:
    """That the small drawing has no room for the numbers of `count` rows."""
    return messages(
        "The drawing has no room for the name and number of {count} row; the table has them.",
        "The drawing has no room for the names and numbers of {count} rows; the table has them.",
        count,
    )


def grouped(notices: Iterable[Notice]) -> Iterator[Message]:
    """Each kind of notice once, in full, with the places of the others of that kind."""
    by_kind: dict[str, list[Notice]] = {}
    for notice in notices:
        by_kind.setdefault(notice.kind, []).append(notice)
    for first, *more in by_kind.values():
        places = dict.fromkeys(
            notice.where for notice in more if notice.where and notice.where != first.where
        )
        if not more:
            yield notice_said(first)
        elif places:
            yield messages(
                "{said} {count} more like it: {places}.",
                "{said} {count} more like it: {places}.",
                len(more),
                said=notice_said(first),
                places=listed(noticed_at(place) for place in places),
            )
        else:
            yield messages(
                "{said} {count} more like it.",
                "{said} {count} more like it.",
                len(more),
                said=notice_said(first),
            )


def notices_after_table(count: int) -> Message:
    """That the notices stand after the table."""
    return messages(
        "There is {count} thing to check before you cut: see the list after the table.",
        "There are {count} things to check before you cut: see the list after the table.",
        count,
    )


def row_number(mark: RowMark) -> str | Message:
    """A row, or another piece, beside its baseline."""
    return mark.where.as_field()


def row_heading(mark: RowMark) -> str | Message:
    """A row above its letters in the table, or the name of another piece."""
    if mark.where.row is None:
        return mark.text
    return message("Row {number} · {words}", number=str(mark.where.row), words=mark.text)


def from_finished_said(mark: RowMark, units: Units) -> Message:
    """How far a baseline is below the finished edge, in brackets under how far it is below the cut edge."""
    return message("({length})", length=_length(mark.baseline_from_finished, units))


def baseline_said(mark: RowMark, units: Units, *, trimmed: bool, point: Field | None) -> Message:
    """Where to draw the baseline of a row: how far down, or for a turned row the two points to draw it through.

    On a panel that is `trimmed` after stitching it is said from the finished edge too, where there is a `point` that
    it is measured from instead of the cut top edge, from that.

    What is no row has no baseline; its lowest point is measured.

    A line break in it is one in the table.
    """
    if mark.runs_down:
        said = downward.place_said(mark, point, units)
    elif point is not None and (mark.level or mark.where.row is None):
        return below.place_said(mark, point, units)
    else:
        said = _place(mark, units)
    if not trimmed:
        return said
    if mark.level or mark.where.row is None:
        return message(
            "{said}\n({finished} below the finished edge)",
            said=said,
            finished=_length(mark.baseline_from_finished, units),
        )
    return message(
        "{said}\n(from the finished edge {beyond} less)",
        said=said,
        beyond=as_size(mark.baseline_from_top - mark.baseline_from_finished, units),
    )


def _place(mark: RowMark, units: Units) -> Message:
    """Where a row is, measured from the cut top edge."""
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
        "turned {turn} from level: baseline from\n{start}, {start_down} down\nto {end}, {end_down} down",
        turn=turn_said(mark.turn_deg),
        start=from_center(start, units),
        start_down=_length(start_down, units),
        end=from_center(end, units),
        end_down=_length(end_down, units),
    )


def tick_said(letter: LetterMark, units: Units) -> Message:
    """Where the tick of a letter in a turned row is."""
    return message("its tick on the baseline {length} down", length=_length(letter.tick_down, units))


def turned_letter_said(letter: LetterMark, units: Units, *, row_deg: float) -> Message:
    """How a letter lies that is turned by hand, in a row that is turned by `row_deg`."""
    turn, away = _turned_from_row(letter.turn_deg, row_deg), _length(abs(letter.above_baseline), units)
    if away.number == 0:
        return message("{turn}, its lowest point on the baseline", turn=turn)
    if letter.above_baseline > 0:
        return message("{turn}, its lowest point {length} above the baseline", turn=turn, length=away)
    return message("{turn}, its lowest point {length} below the baseline", turn=turn, length=away)


def own_end_said(own: OwnMark, end: int, units: Units, *, level: bool) -> Message:
    """An end of the own baseline of a letter that is turned, 0 on its left, 1 on its right: how far it is from the
    center line, and above or below the baseline of its row; of a row that is not `level` how far down from the cut top
    edge."""
    across, down = own.measured[end]
    fields: dict[str, Field] = {"across": beside_center(across, units)}
    if not level:
        return message("{across}, {down} down", down=_length(down, units), **fields)
    above = own.above[end]
    length = _length(abs(above), units)
    if length.number == 0:
        return message("{across}, on the baseline", **fields)
    if above > 0:
        return message("{across}, {length} above the baseline", length=length, **fields)
    return message("{across}, {length} below the baseline", length=length, **fields)


def own_baseline_said(own: OwnMark, units: Units, *, level: bool) -> Message:
    """Where the own baseline of a letter that is turned is drawn: from one point to another."""
    return message(
        "its own baseline from {left} to {right}",
        left=own_end_said(own, 0, units, level=level),
        right=own_end_said(own, 1, units, level=level),
    )


def _turned_from_row(turn_deg: float, row_deg: float) -> Message:
    """How far a letter is turned against its row, and where that is turned too from upright."""
    turn, whole = turn_said(turn_deg), round(turn_deg + row_deg, 1)
    if not row_deg:
        return message("turned {turn} from upright", turn=turn)
    if not whole:
        return message("turned {turn} from the slanting row, so that it stands upright", turn=turn)
    return message(
        "turned {turn} from the slanting row, {whole} from upright", turn=turn, whole=turn_said(whole)
    )


def point_said(point: tuple[float, float], units: Units) -> tuple[Message, Message]:
    """A point that a slanting baseline runs through: how far from the center line, and how far down from the cut top
    edge."""
    across, down = point
    return beside_center(across, units), message("{length} down", length=_length(down, units))


def full_size_bookmark(tile: str) -> Message:
    """What the list of pages calls a full-size page."""
    return message("Full size {tile}", tile=tile)


def full_size_note(tile: str) -> Message:
    """The header of a full-size page."""
    return message("full-size guide, page {tile} · print at 100%", tile=tile)


def _length(length: Fraction | float, units: Units) -> Measure:
    return as_length(length, units, denominator=16)
