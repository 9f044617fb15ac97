"""How the letters are placed, in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Method
from applique.language import Field, Message, PageOf, listed, message
from applique.marks import LetterMark, OwnMark, RowMark
from applique.panel import PanelPlan
from applique.units import MM_PER_INCH, Units, as_length, as_size
from applique.words.guide import TABLE, own_end_said
from applique.words.instructions.cover import GUIDE
from applique.words.instructions.sizes import near_said
from applique.words.sheets import from_center, table_said, turn_said

__all__ = [
    "BY_HAND",
    "CENTERED",
    "CENTER_LINE",
    "CENTER_OF_EACH",
    "CUT_EDGE",
    "CUT_TOP_EDGE",
    "EDGE_TO_TRIM_TO",
    "FINISHED_EDGE",
    "HELD",
    "HELD_OUTLINES",
    "LOWEST_HEAD",
    "ON_EACH_BLOCK",
    "PLACING",
    "PRESS_CLOTH",
    "ROWS_HEAD",
    "TABLE_BELOW",
    "TURNED",
    "TURNED_HEAD",
    "baseline_said",
    "beyond_said",
    "by_hand_said",
    "center_said",
    "cut_off_laid_said",
    "down_said",
    "ends_said",
    "ends_within_said",
    "flat_said",
    "guide_table_where",
    "high_marks_said",
    "hold_outlines_said",
    "hold_said",
    "laid_out_said",
    "look_said",
    "lowest_said",
    "mark_rows_said",
    "middles_said",
    "off_fabric_said",
    "off_line_said",
    "outlines_tick_said",
    "overlapping_said",
    "parts_laid_said",
    "placed_said",
    "point_lines_said",
    "point_said",
    "row_named",
    "row_tick_said",
    "side_said",
    "stand_said",
    "turned_cells",
    "turned_laid_said",
    "turned_marked_said",
    "words_stand_said",
]

CENTER_OF_EACH: Final = message("The center line of each block")
ON_EACH_BLOCK: Final = message("On each block")
PLACING: Final = message("Placing")
ROWS_HEAD: Final = (
    message("row"),
    message("words"),
    message("baseline below cut top"),
    message("left end from center"),
    message("right end from center"),
)
CENTER_LINE: Final = message("center line")
CUT_TOP_EDGE: Final = message("cut top edge")
CUT_EDGE: Final = message("cut edge")
EDGE_TO_TRIM_TO: Final = message("trim to here later")
FINISHED_EDGE: Final = message("finished edge")
CENTERED: Final = message(
    "The panel open, then folded from side to side, right side out, with the center line along the fold."
)
PRESS_CLOTH: Final = message("press cloth")
HELD: Final = {
    True: message("The letters in their places on the panel, under a press cloth and an iron."),
    False: message("The letters in their places on the panel, held with pins."),
}
HELD_OUTLINES: Final = {
    True: message(
        "The outlines in their places on the panel, under a press cloth and an iron, without the letters on them."
    ),
    False: message("The outlines in their places on the panel, held with pins, without the letters on them."),
}
TABLE_BELOW: Final = message("the table below")
"""Where the table of the placement guide is on the page to sew by."""
LOWEST_HEAD: Final = (message("template"), message("letter"), message("row"), message("lowest point"))


def off_line_said(*, below: bool, above: bool) -> Message:
    """What the table of letters that do not stand on their baselines is for; some lie `below` it, some `above`."""
    if below and above:
        return message(
            "These letters reach below their baseline, or stay above it; lay each one so that its lowest point is "
            "where the table says."
        )
    if above:
        return message(
            "These letters stay above their baseline; lay each one so that its lowest point is where the table says."
        )
    return message(
        "These letters reach below their baseline; lay each one so that its lowest point is where the table says."
    )


TURNED: Final = message("These letters are turned in their rows; each end of their own baseline is here:")
TURNED_HEAD: Final = (
    message("template"),
    message("letter"),
    message("place"),
    message("turned"),
    message("left end of its baseline"),
    message("right end of its baseline"),
)


def placed_said(*, slanting: bool, ticked: bool) -> Message:
    """What the placement drawing shows; with `slanting`, of baselines that are not level too, and with `ticked`, ticks
    of letters."""
    if slanting and ticked:
        return message(
            "The panel with its center line, its baselines, the two points that each slanting one runs through with "
            "their distances from the center line and from the cut top edge, and a tick below the middle of each "
            "letter."
        )
    if slanting:
        return message(
            "The panel with its center line, its baselines, and the two points that each slanting one runs through "
            "with their distances from the center line and from the cut top edge."
        )
    if ticked:
        return message(
            "The panel with its center line, its baselines with their distance from the cut top edge, a tick below the "
            "middle of each letter, and the distance of both ends of a row from the center line."
        )
    return message(
        "The panel with its center line, its baselines with their distance from the cut top edge, and the distance of "
        "both ends of a row from the center line."
    )


def center_said(panel: PanelPlan, units: Units, *, of_blocks: bool) -> Iterator[Message]:
    """How the center line is marked, or that of each block; of a panel that is trimmed by it later, so that it is there
    then."""
    yield (
        message(
            "Fold each block in half from side to side, right side out, and mark its center line along the fold with "
            "the chalk pencil; it is {distance} from either cut side edge.",
            distance=as_size(panel.center_from_edge, units),
        )
        if of_blocks
        else message(
            "Fold the panel in half from side to side, right side out, and mark the center line along the fold with "
            "the chalk pencil; it is {distance} from either cut side edge.",
            distance=as_size(panel.center_from_edge, units),
        )
    )
    if (panel.trim or panel.outline is not None) and of_blocks:
        yield message(
            "The line rubs off, and you trim the block by it: baste its two ends now, with a few long stitches of the "
            "basting thread from the cut edge inward, clear of the letters."
        )
    elif panel.trim or panel.outline is not None:
        yield message(
            "The line rubs off, and you trim the panel by it: baste its two ends now, with a few long stitches of the "
            "basting thread from the cut edge inward, clear of the letters."
        )


def mark_rows_said(panel: PanelPlan, units: Units, *, slanting: bool, ticked: bool) -> Iterator[Message]:
    """How baselines are marked, `slanting` ones too, and what is marked on them: ticks for letters that are `ticked`,
    or else the ends of words."""
    if ticked:
        yield message("Mark each baseline, measured down from the cut top edge, and a tick for each letter.")
    else:
        yield message(
            "Mark each baseline, measured down from the cut top edge, and on it where each word starts and ends."
        )
    yield from beyond_said(panel, units)
    if slanting:
        yield message(
            "A row that slants has two points in the table, small crosses on the drawing: measure each from the center "
            "line and down from the cut top edge, mark both, and join them with a ruler."
        )


def beyond_said(panel: PanelPlan, units: Units) -> Iterator[Message]:
    """How far the finished edge of a panel that is trimmed after stitching lies inside its cut edge, or that one is cut
    to its outline then."""
    if panel.outline is not None:
        yield message("Do not cut the panel to its outline before the letters are stitched.")
    elif panel.trim:
        yield message(
            "The finished edge lies {beyond} inside the cut edge; do not trim the panel before the letters are "
            "stitched.",
            beyond=as_size(panel.beyond, units),
        )


def guide_table_where(*, one_file: bool) -> Message:
    """Where the printed table of the placement guide is: on a page of `one_file` with the booklet, or in a file of its
    own."""
    return (
        message("on {page}", page=PageOf(title=GUIDE, parts=(TABLE,)))
        if one_file
        else message("a file of its own")
    )


def middles_said(where: Message, *, ticked: bool, by_word: bool) -> Iterator[Message]:
    """That the table, which is `where`, says how far each tick, or each end of a word, is from the center line.

    Rows may be of either kind: `ticked` for their letters, or `by_word`.
    """
    if ticked:
        yield message(
            "How far each tick, the middle of a letter, is from the center line stands in the table of the placement "
            "guide, {where}.",
            where=where,
        )
        if by_word:
            yield message(
                "Small letters have no ticks: mark where each of their words starts and ends, as the same table says."
            )
    else:
        yield message(
            "How far both ends of each word are from the center line stands in the table of the placement guide, "
            "{where}.",
            where=where,
        )


def ends_said() -> Message:
    """What the numbers at the ends of rows are for, on a drawing that has none for ticks."""
    return message(
        "The drawing below has no numbers for the ticks. Those in gray are the ends of a row, how far its letters "
        "reach: there is nothing to mark there."
    )


def ends_within_said() -> Message:
    """What the numbers at the ends of rows are for, on a drawing that has them beside the letters."""
    return message(
        "The drawing below has numbers and short bars at both ends of a row, how far its letters reach: there is "
        "nothing to mark there."
    )


def lowest_said(above: float, units: Units) -> Message:
    """How far the lowest point of a letter is above its baseline, negative below it; inches."""
    length = as_length(abs(above), units, denominator=16)
    if above < 0:
        return message("{length} below the baseline", length=length)
    return message("{length} above the baseline", length=length)


def laid_out_said(method: Method, *, by_row: bool, of_blocks: bool) -> Message:
    """How letters are laid out: all of them, one row at a time, or those of each block."""
    turned = method is Method.TURNED_EDGE
    if of_blocks:
        return (
            message(
                "Lay the letters of the block out with their turned edges down, from the center line outward."
            )
            if turned
            else message("Lay the letters of the block out, fusible side down, from the center line outward.")
        )
    if by_row:
        return (
            message(
                "Work one row at a time, from the middle of the panel outward: lay the letters of the row out with "
                "their turned edges down, from the center line outward."
            )
            if turned
            else message(
                "Work one row at a time, from the middle of the panel outward: lay the letters of the row out, fusible "
                "side down, from the center line outward."
            )
        )
    return (
        message("Lay the letters out with their turned edges down, row by row, from the center line outward.")
        if turned
        else message("Lay the letters out, fusible side down, row by row, from the center line outward.")
    )


def flat_said(*, of_blocks: bool) -> Message:
    """Where letters that are fused are laid out: most panels are larger than an ironing board, blocks seldom are."""
    if of_blocks:
        return message("Lay the block flat, right side up.")
    return message("Lay the panel flat, right side up, on a table or the floor that holds all of it.")


def words_stand_said(*, listed: bool) -> Message:
    """How words of small letters stand, some of which are off their baselines by what is `listed` above."""
    if listed:
        return message(
            "Lay each word of small letters by its baseline between its two marks, and space its letters by eye. A "
            "letter stands on the baseline unless the table above says where its lowest point lies."
        )
    return message(
        "Each word of small letters stands on its baseline between its two marks; space its letters by eye."
    )


def stand_said(*, off: bool, listed: bool) -> Message:
    """How letters stand by their baselines and ticks: on them, or `off` them by what is `listed` above, or in the
    guide."""
    if off and listed:
        return message(
            "Lay each letter by its baseline with its middle over its tick. It stands on its baseline unless the table "
            "above says where its lowest point lies."
        )
    if off:
        return message(
            "Lay each letter by its baseline with its middle over its tick; the placement guide says where its lowest "
            "point lies."
        )
    return message(
        "Each letter stands on its baseline with its middle over its tick; the placement guide has the "
        "distance of each one from the center line."
    )


def high_marks_said(names: Sequence[str]) -> Message:
    """How letters are laid whose marks stand high above their ticks; `names` are theirs."""
    return message(
        "The mark of the middle stands well above its tick on {letters}: hold a ruler square to the baseline, through "
        "the mark and down to the tick.",
        letters=listed(names),
    )


def turned_cells(mark: RowMark, letter: LetterMark, own: OwnMark, units: Units) -> tuple[Field, ...]:
    """A letter that is turned in its row, as the cells of a table: its template, itself, its row and which letter of
    that, how far it is turned, and both ends of its own baseline."""
    return (
        str(letter.template),
        letter.text,
        own.where.as_field(),
        turn_said(letter.turn_deg),
        own_end_said(own, 0, units, level=mark.level),
        own_end_said(own, 1, units, level=mark.level),
    )


def turned_marked_said() -> Message:
    """How the own baseline of a letter that is turned is marked, by its points in the table below."""
    return message(
        "A letter that is turned in its row has a baseline of its own, between two small crosses on the drawing. Mark "
        "both points by the table below, and join them with a ruler."
    )


def overlapping_said() -> Message:
    """Which letter lies on top where some overlap: the edges under it are not stitched."""
    return message(
        "Where letters overlap, each lies on top of its neighbor on the left, and of the row above, whichever is laid "
        "first."
    )


def turned_laid_said(*, outlined: bool) -> Message:
    """How a letter that is turned is laid by its own baseline, and its outline where letters are `outlined`."""
    if outlined:
        return message(
            "A letter that is turned in its row lies by its own baseline, and so does its outline: lay the baseline "
            "that you carried onto each of them on the line between its two points, the middle halfway between them, "
            "not over the tick."
        )
    return message(
        "A letter that is turned in its row lies by its own baseline: lay the baseline that you carried onto it on the "
        "line between its two points, its middle halfway between them, not over its tick."
    )


def cut_off_laid_said(names: Sequence[str | Message], *, turned: bool, trimmed: bool) -> Iterator[Message]:
    """How letters are laid that run off the panel; `names` are theirs."""
    if turned:
        yield message(
            "These run off the panel: {letters}. Lay the side that is cut off even with the panel's cut edge: it "
            "lies flat in the seam there. Do not turn it under and do not stitch along it.",
            letters=listed(names),
        )
    else:
        yield message(
            "These run off the panel: {letters}. Lay the side that is cut off even with the panel's cut edge: it is "
            "caught in the seam there. Stitch up to that side and not along it.",
            letters=listed(names),
        )
    if trimmed:
        yield message("Trim them together with the panel.")


def off_fabric_said(names: Sequence[str | Message]) -> Message:
    """How letters are laid whose ticks lie beyond the cut panel; `names` are theirs."""
    return message(
        "The ticks of {letters} lie beyond the panel and cannot be marked: lay those by the side that is cut off, and "
        "by how far their edges are from the center line.",
        letters=listed(names),
    )


def parts_laid_said(names: Sequence[str]) -> Message:
    """How the parts of one letter find their places; `names` are those of all parts."""
    first, second, *_ = names
    return message(
        "A letter in several parts has a line for each part in the table of the placement guide, under the name that "
        "is on its template, such as {first} and {second}: lay each part between its own left and right edge, at its "
        "own height.",
        first=first,
        second=second,
    )


def look_said(*, by_row: bool, of_blocks: bool) -> Message:
    """What to look at before anything is fixed."""
    if of_blocks:
        return message(
            "Look at the block from across the room: do its letters stand as they were marked, is each the right way "
            "up, and is all of it spelled as it should be? Move what is off."
        )
    if by_row:
        return message(
            "Look at the row from across the room: does it lie on its baseline, is each letter the right way up and "
            "spelled as it should be? Move what is off."
        )
    return message(
        "Look at the whole from across the room: do the rows lie on their baselines, is each letter the right way up "
        "and spelled as it should be? Move what is off."
    )


def hold_said(method: Method, *, by_row: bool, of_blocks: bool) -> Iterator[Message]:
    """How letters are held until they are stitched."""
    if of_blocks:
        yield from (
            (_PINNED_TO_BLOCK,) if method is Method.TURNED_EDGE else (_PIN_TO_MOVE_BLOCK, _FUSED_TO_BLOCK)
        )
    elif method is Method.TURNED_EDGE:
        yield _PINNED
    else:
        yield _PIN_TO_MOVE
        yield _FUSED
    if by_row:
        yield _NEXT_ROW


def hold_outlines_said(method: Method, *, plain: bool, by_row: bool) -> Iterator[Message]:
    """How outlines are held, and with them the letters of rows that have none, if there are any (`plain`)."""
    if plain:
        yield message(
            "Lift the letters off the outlines again and keep those of each row together: they come back once the "
            "outlines are stitched. What is held now are the outlines, and the letters of rows without one."
        )
    else:
        yield message(
            "Lift the letters off again and keep those of each row together: they come back once the outlines are "
            "stitched. What is held now are the outlines alone."
        )
    if method is Method.TURNED_EDGE:
        yield _PINNED_OUTLINES
    else:
        yield _PIN_OUTLINES_TO_MOVE
        yield _FUSED_OUTLINES
    yield message(
        "Leave the marks on the panel until the letters are on their outlines; draw again what has rubbed off."
    )
    if by_row:
        yield _NEXT_ROW


_NEXT_ROW: Final = message(
    "Tick the row off, and lay out the next one; draw again what has rubbed off of its marks."
)
_PIN_TO_MOVE: Final = message(
    "Pin every letter to the panel before you move it. Then lay the panel on the ironing board a part at a time, with "
    "the rest held up so that it does not pull, and take the pins out of a letter just before you fuse it."
)
"""Letters that lie loose move with the panel: common practice, no source."""
_PIN_OUTLINES_TO_MOVE: Final = message(
    "Pin every one of them to the panel before you move it. Then lay the panel on the ironing board a part at a time, "
    "with the rest held up so that it does not pull, and take the pins out of a piece just before you fuse it."
)
_FUSED: Final = message(
    "Fuse the letters to the panel, from the middle outward, with the heat and for the time that the maker of "
    "the web gives: set the iron down and lift it, do not slide it. Cover it with a press cloth; let it cool "
    "flat."
)
_FUSED_OUTLINES: Final = message(
    "Fuse them to the panel, from the middle outward, with the heat and for the time that the maker of the web "
    "gives: set the iron down and lift it, do not slide it. Cover it with a press cloth; let it cool flat."
)
_PINNED: Final = message(
    "Pin each letter to the panel, then hold it with dots of wash-away glue or basting by hand well "
    "inside its edge, clear of the stitching to come: pins alone will not hold a large letter. Take every "
    "pin out, then press under a press cloth."
)
_PIN_TO_MOVE_BLOCK: Final = message(
    "Pin every letter to the block before you move it to the ironing board, and take the pins out of a letter just "
    "before you fuse it."
)
_FUSED_TO_BLOCK: Final = message(
    "Fuse the letters to the block, from the middle outward, with the heat and for the time that the maker of the web "
    "gives: set the iron down and lift it, do not slide it. Cover it with a press cloth; let it cool flat."
)
_PINNED_TO_BLOCK: Final = message(
    "Pin each letter to the block, then hold it with dots of wash-away glue or basting by hand well inside its edge, "
    "clear of the stitching to come: pins alone will not hold a large letter. Take every pin out, then press under a "
    "press cloth."
)
_PINNED_OUTLINES: Final = message(
    "Pin each of them to the panel, then hold it with dots of wash-away glue or basting by hand well inside its edge, "
    "clear of the stitching to come: pins alone will not hold a large piece. Take every pin out, then press "
    "under the press cloth."
)
BY_HAND: Final = message("By machine or by hand")


_BLIND_STITCH: Final = Fraction(3) / MM_PER_INCH
"""From one stitch by hand to the next: common practice, no source."""


def by_hand_said(units: Units, *, outlined: bool) -> Iterator[Message]:
    """The choice to sew turned letters by hand, what is done then, and where to go on."""
    yield message(
        "Decide now how the letters are sewn down. By machine: go on as the pattern goes; the chapter “Stitching” "
        "says how."
    )
    if outlined:
        yield message(
            "By hand, with a blind stitch through the panel alone: first the outlines; pull out what held them, and "
            "then sew each letter, laid on its own outline by the marks of both. “Stitching” names the threads, and "
            "the edges that are left out. Come up through the fold and go down right beside it into what it lies on, "
            "a stitch every {near}.",
            near=near_said(_BLIND_STITCH, units),
        )
    else:
        yield message(
            "By hand, with a blind stitch through the panel alone, in the thread that “Stitching” names: come up "
            "through the fold and go down into the panel right beside it, a stitch every {near}.",
            near=near_said(_BLIND_STITCH, units),
        )
    yield message(
        "If you sew by hand, do it now. Then pull out the basting of letters and folds, brush every mark away, press "
        "the panel from the wrong side on a soft towel, and pass over “Stitching” when you come to it."
    )


def row_tick_said(mark: RowMark) -> Message:
    """A row to tick off."""
    if mark.where.row is None:
        return message("{words}", words=mark.text)
    return message("row {number}: {words}", number=mark.where.row, words=mark.text)


def outlines_tick_said(mark: RowMark) -> Message:
    """What lies behind a row, to tick off."""
    return message("{row}, outlines", row=row_tick_said(mark))


def row_named(mark: RowMark) -> str | Message:
    """What stands beside a row."""
    if mark.where.row is None:
        return table_said(mark.where)
    return message("row {number}", number=mark.where.row)


def down_said(down: float, units: Units) -> Message:
    """How far down a baseline is."""
    return message("{length}", length=as_length(down, units, denominator=16))


def side_said(place: float, units: Units) -> Message:
    """How far an end is from the center line, and on which side of it, in few letters."""
    length = as_length(abs(place), units, denominator=16)
    if place < 0:
        return message("{length} L", length=length)
    return message("{length} R", length=length)


def point_said(point: tuple[float, float], units: Units) -> Message:
    """A point of a slanting baseline: how far from the center line, and how far down from the cut top edge."""
    across, down = point
    return message(
        "{across}, {down} down",
        across=from_center(across, units),
        down=as_length(down, units, denominator=16),
    )


def point_lines_said(point: tuple[float, float], units: Units) -> tuple[Message, Message]:
    """The same in two lines, for a drawing."""
    across, down = point
    return from_center(across, units), message("{length} down", length=as_length(down, units, denominator=16))


def baseline_said(mark: RowMark, units: Units) -> Field:
    """How far down a baseline is: one distance, or of one that slants the two points that it runs through."""
    if mark.level:
        return as_length(mark.baseline_from_top, units, denominator=16)
    first, last = (point_said(point, units) for point in mark.ends)
    return message("{first}; {last}", first=first, last=last)
