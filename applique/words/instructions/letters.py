"""How the letters are cut, in words: fused and cut by hand or by a machine, or turned over freezer paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import Final

from applique.design import Design, FreezerPaper, PaperSize
from applique.language import Field, Listing, Message, PageOf, any_of, listed, message, messages
from applique.paging import among_numbers
from applique.pieces import Template
from applique.units import Units, as_area, as_length
from applique.words.instructions.sizes import by_said, largest_piece, percent_said, wide_and_high_said
from applique.words.sheets import PAPERS, pieces_said
from applique.words.templates import cut_in_one

__all__ = [
    "ALLOWANCE",
    "AS_IT_READS",
    "BOTH_SIDES",
    "CARRIED",
    "CHECKED",
    "CLIPPED",
    "CLIP_IN",
    "CUT_LINE",
    "CUT_OUT",
    "FABRIC_TURNED",
    "FUSED",
    "LAID",
    "LEGEND",
    "LETTERING",
    "MATS_HEAD",
    "ONE_SIDE",
    "ON_MAT",
    "ON_MATS",
    "ON_THE_MAT",
    "ON_THE_PAPER",
    "OTHER_SIDE",
    "PAPER_BENT",
    "PAPER_LETTER",
    "PEELED",
    "PEELED_AWAY",
    "POINT",
    "RINGED",
    "ROUGH",
    "ROUGH_CUT",
    "TEMPLATES_HEAD",
    "TILES",
    "TIP_FIRST",
    "TRACED",
    "TRIM",
    "TURNED",
    "VEE",
    "WEB_AWAY",
    "WEB_HEAD",
    "WEB_STAYS",
    "WEB_UP",
    "WEEDED",
    "WRONG_SIDE",
    "check_cut_said",
    "clip_said",
    "counters_said",
    "cut_allowance_said",
    "cut_files_said",
    "cut_on_line_said",
    "fuse_said",
    "in_parts_said",
    "is_mirrored",
    "laid_on_fabric_said",
    "laid_on_web_said",
    "larger_said",
    "lay_paper_said",
    "leftward_said",
    "lettering_said",
    "machine_cut_said",
    "measured_said",
    "named_said",
    "on_mats_said",
    "peel_said",
    "pick_row_said",
    "pick_said",
    "picked_said",
    "print_said",
    "remove_paper_said",
    "ring_said",
    "rough_cut_said",
    "template_uses_said",
    "tick_row_said",
    "tick_said",
    "tiles_by_paper_said",
    "tiles_on_said",
    "tiles_said",
    "too_large_said",
    "trace_paper_said",
    "trace_web_said",
    "tucked_said",
    "turn_point_said",
    "turn_vee_said",
    "turning_said",
    "way_up_said",
    "web_for_letters_said",
    "web_for_mats_said",
    "web_on_fabric_said",
    "web_size_said",
    "weed_said",
]

LETTERING: Final = message("Letters")
TEMPLATES_HEAD: Final = (message("template"), message("letter"), message("cut"), message("row"))
WEB_HEAD: Final = message("web, width by height")
ON_MATS: Final = message("on a mat")
MATS_HEAD: Final = (message("mat"), message("fabric"), message("pieces"), WEB_HEAD)

# In and below drawings

LEGEND: Final = message("Which template is which: every shape with its number.")
ON_THE_PAPER: Final = message("on the paper")
ON_THE_MAT: Final = message("on the mat")
AS_IT_READS: Final = message("on the quilt")
ROUGH: Final = message("cut here, roughly")
CUT_LINE: Final = message("cut on the line")
WEB_AWAY: Final = message("web comes away")
WEB_STAYS: Final = message("web stays on the wrong side")
PAPER_BENT: Final = message("paper, bent away and off")
WEB_UP: Final = message("fusible side up")
PEELED_AWAY: Final = message("peel this away")
WRONG_SIDE: Final = message("wrong side, paper on it")
CARRIED: Final = message("right side")
TRIM: Final = message("trim and tape")
FABRIC_TURNED: Final = message("turn-under")
TRACED: Final = {
    True: message("A letter traced in mirror image, and the same letter as it reads on the quilt."),
    False: message("A letter traced as it reads, and the same letter on the quilt."),
}
TILES: Final = message("A large letter over several pages, with the lines where they are trimmed and taped.")
ROUGH_CUT: Final = message(
    "A letter in mirror image on the paper of the web, cut out roughly around its line."
)
RINGED: Final = message("A letter in mirror image with the middle of its web cut away.")
FUSED: Final = message("The web with its letter on the wrong side of the fabric, paper up, under an iron.")
CUT_OUT: Final = message("The fused letter with its cut line, seen from the wrong side of the fabric.")
PEELED: Final = message(
    "The letter from its wrong side: its paper is bent down from the top, and the web stays on the fabric."
)
CHECKED: Final = message("A letter on the mat as it is cut, in mirror image, with its width and height.")
ON_MAT: Final = message("Fabric on the mat with its web up, and a letter cut in mirror image.")
WEEDED: Final = message("The letter left on the mat while the fabric around it is peeled away.")
PAPER_LETTER: Final = message(
    "The paper letter in mirror image on the wrong side of the cut letter, with the mark of its middle, and the letter "
    "from its right side with the mark carried over."
)
LAID: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "A paper letter that reads right on the right side of the fabric, and an iron."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "A paper letter in mirror image on the wrong side of the fabric, and an iron."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "A paper letter in mirror image, shiny side up, pinned to the wrong side of the fabric."
    ),
}
ALLOWANCE: Final = message("The fabric cut out around the paper letter, with its turn-under all around.")
CLIPPED: Final = message("The turn-under with its clips and notches.")
TIP_FIRST: Final = message("the tip first")
ONE_SIDE: Final = message("then one side")
OTHER_SIDE: Final = message("then the other")
CLIP_IN: Final = message("clip into the corner")
BOTH_SIDES: Final = message("turn both sides")
POINT: Final = message(
    "A point from the back: its tip folded in, then one side over it, then the other side."
)
VEE: Final = message(
    "An inside corner from the back: clipped, then with both sides turned away from the clip."
)
TURNED: Final = message("The letter from its back with its turn-under folded in all around.")


# All methods


def lettering_said(letters: int, templates: int, *, pieces: int, joined: bool, behind: int = 0) -> Message:
    """How many letters, and in how many `pieces` where some are in several parts (only pieces, if they are `joined`),
    shapes `behind` them, and templates there are."""
    said = messages("{count} template", "{count} templates", templates)
    if joined:
        letters = pieces
    elif pieces > letters:
        return _in_pieces_said(letters, pieces, said, behind)
    if behind:
        shapes = messages("{count} shape", "{count} shapes", behind)
        if joined:
            return messages(
                "There is {count} piece of the words to cut and {shapes} to go behind, from {templates}.",
                "There are {count} pieces of the words to cut and {shapes} to go behind, from {templates}.",
                letters,
                shapes=shapes,
                templates=said,
            )
        return messages(
            "There is {count} letter to cut and {shapes} to go behind, from {templates}.",
            "There are {count} letters to cut and {shapes} to go behind, from {templates}.",
            letters,
            shapes=shapes,
            templates=said,
        )
    if joined:
        return messages(
            "There is {count} piece to cut from {templates}.",
            "There are {count} pieces to cut from {templates}.",
            letters,
            templates=said,
        )
    return messages(
        "There is {count} letter to cut from {templates}.",
        "There are {count} letters to cut from {templates}.",
        letters,
        templates=said,
    )


def _in_pieces_said(letters: int, pieces: int, templates: Message, behind: int) -> Message:
    """The same of letters some of which are in several parts."""
    named: dict[str, Field] = {"pieces": pieces_said(pieces), "templates": templates}
    if behind:
        return messages(
            "There is {count} letter in {pieces} to cut and {shapes} to go behind, from {templates}.",
            "There are {count} letters in {pieces} to cut and {shapes} to go behind, from {templates}.",
            letters,
            shapes=messages("{count} shape", "{count} shapes", behind),
            **named,
        )
    return messages(
        "There is {count} letter in {pieces} to cut from {templates}.",
        "There are {count} letters in {pieces} to cut from {templates}.",
        letters,
        **named,
    )


def template_uses_said(template: Template) -> Listing:
    """How many to cut of a template, and from which fabrics."""
    return listed(
        message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in template.uses
    )


def leftward_said(number: int, rows: int, first: str) -> Message:
    """That a row, one of so many, runs from right to left, and where its first letter stands."""
    if rows == 1:
        return message(
            "The row reads from right to left: {letter} is at its right end.", letter=among_numbers(first)
        )
    return message(
        "Row {number} reads from right to left: {letter} is at its right end.",
        number=number,
        letter=among_numbers(first),
    )


def tick_said(template: Template, called: str) -> Message:
    """A template, or a part of it, to tick off as it is `called`, with how many of it there are."""
    named = template.name
    letter = among_numbers(named) if isinstance(named, str) else named
    fields: dict[str, Field] = {"number": called, "letter": letter}
    if template.count > 1:
        return message("{number} {letter} × {count}", count=template.count, **fields)
    return message("{number} {letter}", **fields)


def tick_row_said(number: int, words: str) -> Message:
    """A row to tick off."""
    return message("row {number}: {words}", number=number, words=words)


def named_said(letter: Field, name: str) -> Message:
    """A fabric, or a piece of it, by its letter and its name, in a list."""
    return message("{letter} ({name})", letter=letter, name=name)


def laid_on_web_said(page: PageOf | None) -> Message:
    """Where it is shown how letters lie on web or freezer paper: on a `page` of the printed pattern, or in a file."""
    if page is None:
        return message(
            "Lay them out as in the small picture of nesting.pdf: in another order they may take more than you bought."
        )
    return message(
        "Lay them out as in the small picture on {page}: in another order they may take more than you bought.",
        page=page,
    )


def laid_on_fabric_said(pieces: Sequence[Message], page: PageOf | None, *, from_back: bool) -> Message:
    """On which pieces of fabric letters are laid out, on the wrong side or the right one, and where that is shown: on a
    `page` of the printed pattern, or in a file of its own."""
    fields: dict[str, Field] = {"pieces": listed(pieces)}
    shown = message("on {page}", page=page) if page else message("in nesting.pdf")
    if from_back:
        return messages(
            "Take {pieces}, which you cut for letters, wrong side up. Before you fix any letter, lay out and turn them "
            "all as shown {shown}: it is a small picture, not a template, seen from the same side.",
            "Take {pieces}, which you cut for letters, wrong side up. Before you fix any letter, lay out and turn them "
            "all as shown {shown}: it is a small picture of each, not a template, seen from the same side.",
            len(pieces),
            shown=shown,
            **fields,
        )
    return messages(
        "Take {pieces}, which you cut for letters, right side up. Before you fix any letter, lay out and turn them all "
        "as shown {shown}: it is a small picture, not a template, seen from the same side.",
        "Take {pieces}, which you cut for letters, right side up. Before you fix any letter, lay out and turn them all "
        "as shown {shown}: it is a small picture of each, not a template, seen from the same side.",
        len(pieces),
        shown=shown,
        **fields,
    )


def way_up_said(fabrics: Sequence[str]) -> Message:
    """That prints with a way up stand upright in each letter."""
    return messages(
        "{fabrics} has a way up: turn it so that the top of its print is where the picture has the tops of the "
        "letters, and see that it stands upright in each letter before you fix any.",
        "{fabrics} have a way up: turn each so that the top of its print is where the picture has the tops of the "
        "letters, and see that it stands upright in each letter before you fix any.",
        len(fabrics),
        fabrics=listed(fabrics),
    )


def pick_said() -> Message:
    """That many letters, cut template by template, are sorted into rows."""
    return message(
        "Pick the letters out row by row, and keep each row in an envelope or on a tray of its own."
    )


def pick_row_said(row: str | Message, picked: Iterable[Message]) -> Message:
    """The letters of a row, to tick off once they are picked."""
    return message("{row}: {letters}", row=row, letters=listed(picked))


def picked_said(template: Template, count: int) -> Message:
    """How many of a template a row has: the number of the template, its letter, and the count."""
    named = template.name
    letter = among_numbers(named) if isinstance(named, str) else named
    return message("{number} {letter} × {count}", number=template.number, letter=letter, count=count)


def print_said(pages: Mapping[PaperSize, int], *, mirrored: bool) -> Message:
    """Which template pages to print, so many on one paper or another, and that they are measured."""
    fields: dict[str, Field] = {
        "pages": any_of(
            messages("{count} page of {paper}", "{count} pages of {paper}", count, paper=PAPERS[paper])
            for paper, count in pages.items()
        )
    }
    if mirrored:
        return message(
            "Print the template pages as they are, at 100 %, {pages}: they are mirrored already. Do not flip them in "
            "the printer. Measure the rules before you cut.",
            **fields,
        )
    return message(
        "Print the template pages as they are, at 100 %, {pages}: they read the right way round. Measure the rules "
        "before you cut.",
        **fields,
    )


def tiles_said(names: Iterable[str | Message]) -> Message:
    """How the pages of large letters are joined."""
    return message(
        "{letters}: too large for one page. Trim one page of each pair on the dashed line, lay it on its neighbor so "
        "that line meets line and mark meets mark, and tape; the small map on each page shows where it goes.",
        letters=listed(names),
    )


def tiles_on_said(paper: PaperSize) -> Message:
    """What the picture of a large letter shows, where others print on other paper."""
    return message(
        "A large letter over several pages of {paper}, with the lines where they are trimmed and taped.",
        paper=PAPERS[paper],
    )


def tiles_by_paper_said(names: Mapping[PaperSize, Sequence[str | Message]]) -> Iterator[Message]:
    """Which letters are too large for one page of each paper, and how their pages are joined."""
    for paper, letters in names.items():
        yield message(
            "{letters}: too large for one page of {paper}.", letters=listed(letters), paper=PAPERS[paper]
        )
    yield message(
        "Trim one page of each pair on the dashed line, lay it on its neighbor so that line meets line and mark meets "
        "mark, and tape; the small map on each page shows where it goes."
    )


def counters_said() -> Message:
    """How the hole of a letter is cut."""
    return message(
        "To cut the hole in a letter, fold it lightly across the hole, snip into the middle, unfold, and cut from "
        "there."
    )


def in_parts_said(design: Design, templates: Sequence[Template]) -> Iterator[Message]:
    """Which letters are in several parts, and that each stays together; nothing where none is."""
    lettered = [template for template in templates if template.parts > 1]
    if not lettered:
        return
    numbers = listed(_with_parts(template) for template in lettered)
    if cut_in_one(design, lettered):
        yield messages(
            "Template {templates} is one letter in several parts: cut it out roughly in one piece, and cut its parts "
            "apart last.",
            "Templates {templates} are letters in several parts: cut out each letter roughly in one piece, and cut its "
            "parts apart last.",
            len(lettered),
            templates=numbers,
        )
        return
    yield messages(
        "Template {templates} is one letter in several parts: keep them together.",
        "Templates {templates} are letters in several parts: keep those of each letter together.",
        len(lettered),
        templates=numbers,
    )


def _with_parts(template: Template) -> Message:
    """A template by its number, and what its parts are called."""
    first, *between, last = template.part_names
    number = str(template.number)
    if not between:
        return message("{number} ({first} and {last})", number=number, first=first, last=last)
    return message("{number} ({first} to {last})", number=number, first=first, last=last)


# Fused and cut by hand


def trace_web_said() -> tuple[Message, Message]:
    """How letters are traced onto web."""
    return (
        message(
            "Lay the fusible web over a template page, paper side up, and trace each template as many times as "
            "the table says. Write its number on every tracing, and copy its arrows: the one with two heads goes "
            "along the grain, the one with one head points to the top of the letter."
        ),
        message("On the paper the letters are in mirror image; on the quilt they read the right way round."),
    )


def rough_cut_said(rough_cut: Fraction, units: Units) -> Message:
    """How traced letters are cut apart."""
    if not rough_cut:
        return message("Cut the tracings out on the line.")
    return message(
        "Rough-cut the web: cut each tracing out roughly, about {room} outside the line. Do not cut on the line yet.",
        room=as_length(rough_cut, units, denominator=16),
    )


def ring_said(templates: Sequence[Template], ring: Fraction | None, units: Units) -> Iterator[Message]:
    """What a ring of fusible is and what it saves; nothing without one."""
    saved = sum(template.ring_saves * template.count for template in templates)
    if ring is None or not saved:
        return
    whole = sum(template.area * template.count for template in templates)
    yield message(
        "Large letters stay soft with the middle of the web cut away: before you fuse, cut along the dashed line "
        "{wide} inside the edge and take the middle out. Of the web under the letters {share} comes away ({saved}); "
        "it can serve small letters, and is not taken off what to buy.",
        wide=as_length(ring, units, denominator=16),
        share=percent_said(saved / whole),
        saved=as_area(saved, units),
    )


def fuse_said() -> tuple[Message, Message]:
    """How web comes onto fabric."""
    return (
        message(
            "Fuse each piece to the wrong side of its fabric, paper up, its arrow along the grain, with the heat "
            "and for the time that the maker of the web gives. Press, do not slide the iron."
        ),
        message("Let it cool flat."),
    )


def cut_on_line_said() -> Message:
    """How fused letters are cut out."""
    return message("Cut the letters out of the fabric on the line, through paper and fabric together.")


def peel_said(*, picked: bool) -> Message:
    """How the paper comes off; where letters are `picked` row by row afterward, they need not be kept by rows yet."""
    if picked:
        return message(
            "Peel the paper off each letter; if it sticks, score it with a pin and start from there. The web stays on "
            "the fabric. Keep the letters of each template together, in an envelope with its number."
        )
    return message(
        "Peel the paper off each letter; if it sticks, score it with a pin and start from there. The web stays on "
        "the fabric. Keep the letters of each row together."
    )


# Fused and cut by a machine


def web_size_said(size: tuple[Fraction, Fraction], units: Units) -> Message:
    """The width and height of a piece of web."""
    return by_said(size, units)


def web_for_letters_said(rough_cut: Fraction, units: Units, *, off_mats: bool) -> Message:
    """Which web is cut letter by letter; for those `off_mats` where others lie on one."""
    fields: dict[str, Field] = {"room": as_length(rough_cut, units, denominator=16)}
    match off_mats, bool(rough_cut):
        case True, True:
            return message(
                "Cut a rectangle of fusible web for each letter that lies on no mat, as large as the table of "
                "templates says: at least {room} larger than the letter on every side.",
                **fields,
            )
        case True, False:
            return message(
                "Cut a rectangle of fusible web for each letter that lies on no mat, as large as the table of "
                "templates says."
            )
        case False, True:
            return message(
                "Cut a rectangle of fusible web for each letter, as large as the table of templates says: at least "
                "{room} larger than the letter on every side.",
                **fields,
            )
    return message("Cut a rectangle of fusible web for each letter, as large as the table of templates says.")


def web_for_mats_said(mats: int) -> Message:
    """Which web is cut for so many mats."""
    return messages(
        "Cut a rectangle of fusible web for the mat, as large as the table says.",
        "Cut a rectangle of fusible web for each mat, as large as the table says.",
        mats,
    )


def web_on_fabric_said() -> Message:
    """How fabric is made ready for a machine, once its web is laid out."""
    return message(
        "Fuse each rectangle where it lies. Let it cool flat, cut the fabric apart along the edges of the web, then "
        "peel the paper off."
    )


def cut_files_said(mats: int) -> Iterator[Message]:
    """Which cut files are opened, and how."""
    yield message(
        "Open the mirrored ones of the cut files in the program of your cutting machine: the fabric lies on the mat "
        "fusible side up, so the letters are cut in mirror image. Import them at 100 % and do not resize."
    )
    if mats:
        yield messages(
            "The letters are laid out on {count} mat, with its number in the name of the file.",
            "The letters are laid out on {count} mats, each with its number in the name of its file.",
            mats,
        )


def too_large_said(names: Iterable[str | Message]) -> Message:
    """What no mat holds."""
    return message(
        "Too large for the mat: {letters}. Trace these from the mirrored template pages onto the paper of their web "
        "before you fuse it, and cut them out on the line with scissors.",
        letters=listed(names),
    )


def larger_said(templates: Sequence[Template], units: Units) -> Message:
    """What is done with letters that somebody's mat does not hold."""
    largest = largest_piece(templates)
    return message(
        "A letter larger than your mat is cut by hand: trace it from the mirrored template pages onto the paper of its "
        "web before you fuse it, and cut it out on the line with scissors. The largest piece is template {number}, "
        "{letter}, {size}.",
        number=largest.number,
        letter=largest.name,
        size=wide_and_high_said(largest, units),
    )


def check_cut_said(template: Template, units: Units) -> Message:
    """What to measure before all letters are cut."""
    x0, y0, x1, y1 = template.ink
    return message(
        "Check the size by one letter: template {number}, {letter}, must measure {width} wide and {height} high.",
        number=template.number,
        letter=template.name,
        width=as_length(x1 - x0, units, denominator=16),
        height=as_length(y1 - y0, units, denominator=16),
    )


def measured_said(template: Template, units: Units) -> tuple[Message, Message]:
    """How wide and how high a letter is, as it stands beside it."""
    x0, y0, x1, y1 = template.ink
    across, up = (as_length(side, units, denominator=16) for side in (x1 - x0, y1 - y0))
    return message("{length}", length=across), message("{length}", length=up)


def machine_cut_said(*, in_mats: bool) -> Iterator[Message]:
    """How the machine cuts: in mats laid out by the pattern, or letter by letter."""
    if not in_mats:
        yield message(
            "Cut letter by letter: lay as many of the fused rectangles on the mat as it holds, and place each letter "
            "in the middle of its own."
        )
    yield message(
        "Lay the fabric on the mat fusible side up, straight with the grain, and smooth it down. Make a test cut "
        "on a scrap, set blade and pressure as the maker of the machine says, then cut as many of each as the "
        "table says."
    )


def on_mats_said() -> Message:
    """Where the fabric of a mat lies, whose cut files are mirrored."""
    return message(
        "Each rectangle goes into the lower right corner of its mat, where the mirrored file has its letters."
    )


def weed_said() -> Message:
    """How cut letters come off the mat."""
    return message(
        "Weed: peel away the fabric around the letters and in their holes, then lift each letter off the mat with "
        "a flat tool. Turned over, they read the right way round."
    )


# Turned over freezer paper


def turn_point_said() -> Message:
    """How a corner or a point that stands out is turned."""
    return message(
        "Outside corners and points: trim the tip of the turn-under to half, fold it straight in over the point first, "
        "then one side, then the other. Tuck in what still shows from the front."
    )


def turn_vee_said() -> Message:
    """How a corner that goes in is turned."""
    return message(
        "Corners that go in: clip once, straight into the corner, to within two threads of the finished edge. Turn "
        "both sides away from the clip, and hold the corner with a few close stitches or a dot of wash-away glue."
    )


def is_mirrored(way: FreezerPaper) -> bool:
    """Whether letters are traced onto freezer paper in mirror image.

    Source:
        Geometry: with its shiny side down, what is drawn on the dull side faces you, and on the wrong side of the
        fabric it is seen from the back.
    """
    return way is FreezerPaper.WRONG_SIDE_DOWN


def trace_paper_said(way: FreezerPaper, *, holes: bool) -> Iterator[Message]:
    """How letters are traced onto freezer paper and cut out, with their `holes` where one has any."""
    yield message(
        "Trace each template onto the dull side of freezer paper as many times as the table says, with its number, and "
        "copy its arrows: the one with two heads goes along the grain, the one with one head points to the top of the "
        "letter."
    )
    if holes:
        yield message("Cut the paper out on the bold line, and its holes too: the line is the finished edge.")
    else:
        yield message("Cut the paper out on the bold line: it is the finished edge.")
    yield (
        message("On the paper the letters are in mirror image; on the quilt they read the right way round.")
        if way is FreezerPaper.WRONG_SIDE_DOWN
        else message("On the paper the letters read the right way round.")
    )


_LAY_PAPER: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Iron each paper letter, shiny side down, to the right side of its fabric, its arrow along the grain."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Iron each paper letter, shiny side down, to the wrong side of its fabric, its arrow along the grain."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Lay each paper letter, shiny side up, on the wrong side of its fabric, its arrow along the grain, and "
        "hold it with pins or a dab of glue."
    ),
}


def lay_paper_said(way: FreezerPaper, letters: int) -> Iterator[Message]:
    """How the paper of so many letters comes onto fabric."""
    yield _LAY_PAPER[way]
    if letters > 1:
        yield message("Leave twice the turn-under between letters.")


def cut_allowance_said(turn_under: Fraction, units: Units) -> Message:
    """How fabric is cut out around the paper."""
    return message(
        "Cut the fabric out {turn} outside the paper, all around and in the holes: this is the turn-under.",
        turn=as_length(turn_under, units, denominator=16),
    )


def clip_said() -> Message:
    """Where the turn-under is clipped and notched."""
    return message(
        "Clip inside curves and corners, and cut little wedges (notches) out of tight outside curves: clip to "
        "within two or three threads of the finished edge. The templates show where."
    )


def tucked_said(templates: Sequence[Template]) -> Iterator[Message]:
    """Which letters have an edge that lies flat under the next."""
    tucked = [template.text for template in templates if template.turned and template.turned.tucked]
    if tucked:
        yield messages(
            "Where {letters} tucks under the next letter, the edge lies flat and is not turned.",
            "Where {letters} tuck under the next letter, the edge lies flat and is not turned.",
            len(tucked),
            letters=listed(tucked),
        )


_TURN: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Turn the turn-under to the back along the edge of the paper, and hold it there with wash-away glue or with "
        "basting stitches through the fabric alone: the paper must come off without them. Press from the back."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Turn the turn-under over the edge of the paper, and hold it there with basting stitches or wash-away glue. "
        "Press until the edge is sharp."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "With the tip of the iron, press the turn-under over the edge onto the shiny side of the paper, where it "
        "sticks; take pins out as you reach them."
    ),
}


def turning_said(way: FreezerPaper) -> Message:
    """How the edge is turned."""
    return _TURN[way]


_REMOVE: Final = {
    FreezerPaper.RIGHT_SIDE: message(
        "Remove the paper: peel it off the front of each letter. The turned edge holds by itself until it is "
        "stitched."
    ),
    FreezerPaper.WRONG_SIDE_DOWN: message(
        "Remove the paper once the edge is cool and dry: loosen the turn-under, ease the paper out, fold the "
        "turn-under back along its crease, and press again."
    ),
    FreezerPaper.WRONG_SIDE_UP: message(
        "Remove the paper once the edge is cool: loosen the turn-under, ease the paper out, fold the turn-under "
        "back along its crease, and press again."
    ),
}


def remove_paper_said(way: FreezerPaper) -> Message:
    """How the paper comes out again."""
    return _REMOVE[way]
