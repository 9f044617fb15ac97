"""The words of the template files: which way of working a file is for, how to use it, what its lines and pages are."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import reduce
from typing import Final

from applique.cautions import ALL_CAUTIONS, SHORT_CAUTIONS, SHORT_LOOSE_CAUTIONS, SHORT_WORN_CAUTIONS
from applique.design import Design, Finish, FreezerPaper, Fusible, Method
from applique.geometry.polygons import parts_of
from applique.language import Field, Message, message
from applique.paging import BETWEEN, Join, Joining, among_numbers
from applique.pieces import Template, rough_cut
from applique.units import Units, as_length

__all__ = [
    "BASELINE",
    "CLIPS",
    "GRAIN",
    "HOW_TO_JOIN",
    "HOW_TO_USE",
    "JOIN",
    "JOINING_STEPS",
    "LEADER",
    "LEAN",
    "LINES",
    "MOUTH",
    "NUMBERS",
    "PAGES",
    "SEAM_OF_PANEL",
    "TRIM",
    "TURNED_SEVERAL",
    "UP",
    "WEB_OFF",
    "TemplateFile",
    "and_so_on",
    "cut_in_one",
    "end_off_said",
    "fabric_cut_said",
    "join_said",
    "numbered",
    "page_bookmark",
    "parts_said",
    "template_file",
    "tile_bookmark",
    "tile_note",
    "tile_pages",
]

HOW_TO_USE: Final = message("How to use these pages")
HOW_TO_JOIN: Final = message("How to join the pages of a large letter")
PAGES: Final = message("What's on each page")
LINES: Final = message("Lines")
NUMBERS: Final = message("number · letter: which template it is")
BASELINE: Final = message("baseline of the letter with its number, and its middle: do not cut")
GRAIN: Final = message("grain: along the selvage")
UP: Final = message("to the top of the letter")
TRIM: Final = message("seam of two pages: trim or tape here")
JOIN: Final = message("lay one mark on the other")
LEADER: Final = message("leads from label to letter")
LEAN: Final = message("how far this end of the baseline is off that of its row")
WEB_OFF: Final = message("inside it, web comes away")
SEAM_OF_PANEL: Final = message("finished edge of the panel: the letter runs off it, into the seam")
MOUTH: Final = message("cut the fabric open here, in a narrow mouth")
CLIPS: Final = message("clip short lines, notch wedges")
TURNED_SEVERAL: Final = (message("turned:"), message("see label"))
JOINING_STEPS: Final = (
    message("Lay out the pages as the map at their top shows. The page in your hand has the thick frame."),
    message("Cut off each strip that says “trim here”, on its line of dashes and dots."),
    message(
        "Lay that edge on the line of dashes and dots that says “tape page” and its name, mark on mark, the edges of "
        "the letter running on. Tape it."
    ),
    message("Where the map has several rows, join each row first, then the rows to one another."),
)
_PRINT: Final = message(
    "Print at 100%. Measure both rules on this page; if one is off, see “{setting}” in the design file.",
    setting="print",
)
_PRINT_AGAIN: Final = message(
    "Print at 100%, not “fit to page”. Measure both rules on this page; if one is off, change the printer's setting "
    "and print again."
)
_MIRRORED: Final = message("templates, mirror image")
_RIGHT: Final = message("templates, right way round")
_MIRRORED_FILE: Final = "templates-mirrored.pdf"
_RIGHT_FILE: Final = "templates-right-reading.pdf"
_CUT_HERE: Final = message("cut on this line")
_MACHINE_CUTS: Final = message("the machine cuts here")
_FINISHED_EDGE: Final = message("finished edge: cut the paper here, fold the fabric over it")


@dataclass(frozen=True, slots=True, kw_only=True)
class TemplateFile:
    """What a template file says of the way of working that it serves.

    Its name, a line on every page, its steps, its cautions, and what the bold line is.
    """

    subject: Message
    line: Message
    steps: tuple[Message, ...]
    cautions: Message
    bold_line: Message


_SHORT_CAUTIONS: Final = {Finish.GARMENT: SHORT_WORN_CAUTIONS, Finish.LETTERS: SHORT_LOOSE_CAUTIONS}
"""Where they are others than those of a quilt."""


def template_file(
    design: Design, *, mirrored: bool, neighbors: bool, for_customers: bool = False
) -> TemplateFile:
    """The words of one of the two template files, for the method of the design; `neighbors` lie together on a page.

    The file that the method does not use says so in its first steps, and what it is good for. Customers have no design
    file in which a printer could be set right.
    """
    file = _template_file(design, mirrored=mirrored, neighbors=neighbors)
    if file.cautions is SHORT_CAUTIONS:
        file = replace(file, cautions=_SHORT_CAUTIONS.get(design.finish, SHORT_CAUTIONS))
    return replace(file, steps=(_PRINT_AGAIN, *file.steps[1:])) if for_customers else file


def _template_file(design: Design, *, mirrored: bool, neighbors: bool) -> TemplateFile:
    match design.sewing.method:
        case Method.RAW_EDGE:
            return _web(design.fusible, design.units, neighbors=neighbors) if mirrored else _without_web()
        case Method.MACHINE_CUT:
            return _machine(mirrored=mirrored)
        case Method.TURNED_EDGE:
            return _freezer_paper(design, mirrored=mirrored)


# Raw edges, cut by hand


def _web(fusible: Fusible, units: Units, *, neighbors: bool) -> TemplateFile:
    """Tracing onto fusible web, cut out roughly outside the line, as it was nested."""
    return TemplateFile(
        subject=_MIRRORED,
        line=message("Mirror image: to trace onto the paper side of fusible web"),
        steps=(
            _PRINT,
            message(
                "Lay the fusible web over a page, paper side up. Trace each letter as often as its label says, and "
                "draw its number, arrows and marks in it."
            ),
            *(_shift(fusible.rough_cut, units) if neighbors else ()),
            _cut_out(fusible.rough_cut, units),
            message(
                "Fuse them to the wrong side of the fabric, the arrow along the grain, as the maker of the web says."
            ),
            message(
                "Cut on the line, carry the marks over and peel off the paper. Seen from the right side of the fabric, "
                "the letters now read the right way round."
            ),
        ),
        cautions=SHORT_CAUTIONS,
        bold_line=_CUT_HERE,
    )


def _together(first: Message, *others: Message) -> Message:
    """Sentences one after the other."""
    return reduce(
        lambda said, one: message("{sentences} {sentence}", sentences=said, sentence=one), others, first
    )


def _shift(rough_cut: Fraction, units: Units) -> tuple[Message, ...]:
    """How letters come apart on the web that lie on a page closer than their rough cuts need."""
    if 2 * rough_cut <= BETWEEN:
        return ()
    return (
        message(
            "Letters lie closer on a page than they may on the web: before you trace the next one, shift the web so "
            "that {room} stays between their lines.",
            room=as_length(2 * rough_cut, units, denominator=16),
        ),
    )


def _cut_out(rough_cut: Fraction, units: Units) -> Message:
    if not rough_cut:
        return message("Cut the traced letters out on the line.")
    return message(
        "Cut the traced letters out roughly, no more than about {room} outside the line.",
        room=as_length(rough_cut, units, denominator=16),
    )


def _without_web() -> TemplateFile:
    return TemplateFile(
        subject=_RIGHT,
        line=message("Right way round: to compare, or to cut by from the right side of the fabric"),
        steps=(
            _PRINT,
            message(
                "For fusible web print {file} instead: traced from these pages, letters come out in mirror image.",
                file=_MIRRORED_FILE,
            ),
            message("Lay a letter that you have cut on its page, right side up: it covers the drawing."),
            message(
                "To cut without web, cut out the paper letters on the line, pin them to the right side of the fabric, "
                "the arrow along the grain, and cut around them."
            ),
        ),
        cautions=SHORT_CAUTIONS,
        bold_line=_CUT_HERE,
    )


# Cut by a machine


def _machine(*, mirrored: bool) -> TemplateFile:
    return TemplateFile(
        subject=_MIRRORED if mirrored else _RIGHT,
        line=message("Mirror image: as the machine cuts fabric that lies fusible side up")
        if mirrored
        else message("Right way round: as the machine cuts fabric that lies right side up"),
        steps=(
            _PRINT,
            message(
                "The machine cuts from the cut files: one for each template, its number first in the name. A file of "
                "a whole row, or of a mat, is no template."
            ),
            message(
                "Fuse the web to the wrong side of the fabric and lay the fabric on the mat, as the makers of web and "
                "machine say."
            ),
            message(
                "Fusible side up, which is usual, cut from the folder “{mirrored}”; right side up, from "
                "“{right}”.",
                mirrored="mirrored",
                right="right-reading",
            ),
            message(
                "Cut one letter first and lay it on its page: it covers the drawing. Then cut the others."
            ),
            _too_large() if mirrored else _too_large_elsewhere(),
        ),
        cautions=_together(
            message(
                "Keep fingers clear of the blade and the carriage while the machine moves; switch it off to change the "
                "blade."
            ),
            ALL_CAUTIONS[1],
            ALL_CAUTIONS[3],
            message(
                "Follow the instructions of the makers of the machine, its mats and the web; they come first."
            ),
        ),
        bold_line=_MACHINE_CUTS,
    )


def _too_large() -> Message:
    return message(
        "What is too large for the mat is cut by hand: trace it onto the paper side of the web, fuse the web, cut web "
        "and fabric together on the line, and only then peel the paper off."
    )


def _too_large_elsewhere() -> Message:
    return message(
        "What is too large for the mat is cut by hand, and traced onto the web from {file}.",
        file=_MIRRORED_FILE,
    )


# Turned edges on freezer paper


def _freezer_paper(design: Design, *, mirrored: bool) -> TemplateFile:
    """The way that the design asks for, or for the other file the way that it would serve."""
    asked, turn, units = design.sewing.freezer_paper, design.sewing.turn_under, design.units
    way = asked
    if mirrored:
        way = FreezerPaper.WRONG_SIDE_DOWN
    elif asked is FreezerPaper.WRONG_SIDE_DOWN:
        way = FreezerPaper.RIGHT_SIDE
    file = _RIGHT_FILE if mirrored else _MIRRORED_FILE
    instead = message(
        "This pattern lays its freezer paper otherwise: print {file}. These pages are for the way named above.",
        file=file,
    )
    cut = message(
        "Cut the fabric {turn} outside the paper, on the thin line, and clip and notch where it is marked.",
        turn=as_length(turn, units, denominator=16),
    )
    return TemplateFile(
        subject=_MIRRORED if mirrored else _RIGHT,
        line=_LAID[way],
        steps=(_PRINT, *(() if way is asked else (instead,)), *_LAYING[way], cut, *_TURNING[way]),
        cautions=_together(
            message("Cut away from your body, and put blades and scissors away closed."),
            ALL_CAUTIONS[1],
            message("Iron freezer paper on its dull side only: its shiny side sticks to the iron."),
            ALL_CAUTIONS[3],
        ),
        bold_line=_FINISHED_EDGE,
    )


_LAID: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Right way round: freezer paper on the right side of the fabric, shiny side down"
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Mirror image: freezer paper on the wrong side of the fabric, shiny side down"
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Right way round: freezer paper on the wrong side of the fabric, shiny side up"
    ),
}
_TRACE_ONCE: Final = message(
    "Trace each letter's bold line onto the dull side of freezer paper, with its number and its arrows, and cut it out "
    "on that line."
)
_LAYING: Final = {
    FreezerPaper.RIGHT_SIDE: (
        _TRACE_ONCE,
        message(
            "Iron it, shiny side down, to the right side of the fabric, the arrow along the grain. It reads the right "
            "way round, so it is drawn the right way round."
        ),
    ),
    FreezerPaper.WRONG_SIDE_DOWN: (
        _TRACE_ONCE,
        message(
            "Iron it, shiny side down, to the wrong side of the fabric, the arrow along the grain. It is turned over "
            "with the fabric, so it is drawn in mirror image."
        ),
    ),
    FreezerPaper.WRONG_SIDE_UP: (
        _TRACE_ONCE,
        message(
            "Pin it, shiny side up, to the wrong side of the fabric, the arrow along the grain. It lies face down "
            "already, so it is drawn the right way round."
        ),
    ),
}
_PAPER_OUT: Final = message(
    "When the edge is cool, loosen it, ease the paper out, fold the edge back along its crease and press again. Then "
    "place the letter and sew it down."
)
_TURNING: Final = {
    FreezerPaper.RIGHT_SIDE: (
        message(
            "Turn the turn-under to the back along the edge of the paper, glue it or baste it clear of the paper, and "
            "press."
        ),
        message("Peel the paper off the front of the letter, then place it and sew it down."),
    ),
    FreezerPaper.WRONG_SIDE_DOWN: (
        message("Turn the turn-under over the edge of the paper to the back and baste or glue it. Press."),
        _PAPER_OUT,
    ),
    FreezerPaper.WRONG_SIDE_UP: (
        message("Press the turn-under over the edge onto the shiny side, which holds it. Take out the pins."),
        _PAPER_OUT,
    ),
}


def end_off_said(above: float, units: Units) -> tuple[Message, ...]:
    """How far an end of the own baseline of a letter that is turned lies above that of its row (inches, negative below
    it), in lines."""
    length = as_length(abs(above), units, denominator=16)
    if length.number == 0:
        return message("on the row's"), message("baseline")
    said = message("{length}", length=length)
    return (said, message("above row")) if above > 0 else (said, message("below row"))


def fabric_cut_said(turn_under: Fraction, units: Units) -> Message:
    """What the thin line of a turned edge is."""
    return message("cut the fabric here, {turn} outside", turn=as_length(turn_under, units, denominator=16))


def parts_said(design: Design, templates: Sequence[Template]) -> Message:
    """What the parts of one letter are called, and what is done with them; every one of `templates` is in several."""
    first, second, *_ = templates[0].part_names
    if cut_in_one(design, templates):
        return message(
            "{first}, {second}: parts of one letter: cut out roughly in one piece, cut apart last",
            first=first,
            second=second,
        )
    return message("{first}, {second}: parts of one letter: keep them together", first=first, second=second)


def cut_in_one(design: Design, templates: Iterable[Template]) -> bool:
    """Whether all parts of each of these letters are cut out roughly in one piece, as the web was nested."""
    room = float(design.fusible.rough_cut)
    return (
        design.sewing.method is Method.RAW_EDGE
        and room > 0
        and all(len(parts_of(rough_cut(template.shape, room))) == 1 for template in templates)
    )


# Numbers, pages and tiles


def numbered(template: Template) -> Message:
    """A template by its number and what it is called: the same wherever it is named."""
    named = template.named(among_numbers(template.text))
    return message("{number} · {letters}", number=str(template.number), letters=named)


def page_bookmark(page: int, letters: Iterable[Field]) -> Message:
    """What the list of pages calls a page with `letters` on it."""
    return message("Page {page}: {letters}", page=str(page), letters=reduce(_beside, letters))


def _beside(letters: Field, letter: Field) -> Message:
    return message("{letters}, {letter}", letters=letters, letter=letter)


def and_so_on(page: int) -> Message:
    """That there are more pages than are shown, to `page`."""
    return message("and so on, to page {page}", page=str(page))


def tile_pages(letters: Message | str, first: int, last: int) -> Message:
    """The pages on which a large template stands."""
    if first == last:
        return message("Page {page}: {letters}", letters=letters, page=str(first))
    return message("Pages {first} to {last}: {letters}", letters=letters, first=str(first), last=str(last))


def tile_bookmark(letters: Message, tile: str, copy: int, copies: int) -> Message:
    """One page of a large template."""
    named = message("{letters} {tile}", letters=letters, tile=tile)
    return _of_copies(named, copy, copies)


def tile_note(letters: Message, tile: str, number: int, count: int, copy: int, copies: int) -> Message:
    """The header of one page of a large template: the page by its name, and which of so many it is."""
    return message(
        "{named}, page {number} of {count} · print at 100%",
        named=tile_bookmark(letters, tile, copy, copies),
        number=number,
        count=count,
    )


def _of_copies(letters: Message, copy: int, copies: int) -> Message:
    if copies == 1:
        return letters
    return message("{letters} ({number} of {count})", letters=letters, number=str(copy), count=str(copies))


def join_said(join: Join) -> Message:
    """What is done at a side of a tile where another one joins it."""
    if join.joining is Joining.TRIM:
        return message("trim here")
    return message("tape page {tile} here", tile=join.other)
