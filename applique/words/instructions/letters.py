"""How the letters are cut, in words: fused and cut by hand or by a machine, or turned over freezer paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import FreezerPaper, PaperSize
from applique.language import Field, Listing, Message, listed, message, messages
from applique.paging import LEFT_TO_RIGHT, is_leftward
from applique.pieces import Template
from applique.units import Units, as_area, as_length, as_needed
from applique.words.instructions.sizes import by_said, largest_piece, percent_said
from applique.words.sheets import PAPERS

__all__ = [
    "ALLOWANCE",
    "AS_IT_READS",
    "CHECKED",
    "CLIPPED",
    "CUT_LINE",
    "CUT_OUT",
    "FABRIC_TURNED",
    "FUSED",
    "LAID",
    "LEGEND",
    "LETTERING",
    "ON_MAT",
    "ON_THE_MAT",
    "ON_THE_PAPER",
    "PEELED",
    "PEELED_AWAY",
    "RINGED",
    "ROUGH",
    "ROUGH_CUT",
    "TEMPLATES_HEAD",
    "TILES",
    "TRACED",
    "TRIM",
    "TURNED",
    "WEB_AWAY",
    "WEB_STAYS",
    "WEB_UP",
    "WEEDED",
    "check_cut_said",
    "clip_said",
    "counters_said",
    "cut_allowance_said",
    "cut_files_said",
    "cut_on_line_said",
    "fuse_said",
    "is_mirrored",
    "larger_said",
    "lay_paper_said",
    "leftward_said",
    "lettering_said",
    "machine_cut_said",
    "measured_said",
    "named_said",
    "peel_said",
    "print_said",
    "remove_paper_said",
    "ring_said",
    "rough_cut_said",
    "template_uses_said",
    "tick_row_said",
    "tick_said",
    "tiles_said",
    "too_large_said",
    "trace_paper_said",
    "trace_web_said",
    "tucked_said",
    "turning_said",
    "web_on_fabric_said",
    "weed_said",
]

LETTERING: Final = message("Letters")
TEMPLATES_HEAD: Final = (message("template"), message("letter"), message("cut"), message("row"))

# In and below drawings

LEGEND: Final = message("Which template is which: every shape with its number.")
ON_THE_PAPER: Final = message("on the paper")
ON_THE_MAT: Final = message("on the mat")
AS_IT_READS: Final = message("on the quilt")
ROUGH: Final = message("cut here, roughly")
CUT_LINE: Final = message("cut on the line")
WEB_AWAY: Final = message("web comes away")
WEB_STAYS: Final = message("web stays on the fabric")
WEB_UP: Final = message("web side up")
PEELED_AWAY: Final = message("peel this away")
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
PEELED: Final = message("The letter from its wrong side with its paper half peeled off.")
CHECKED: Final = message("A letter on the mat as it is cut, in mirror image, with its width and height.")
ON_MAT: Final = message("Fabric on the mat with its web up, and a letter cut in mirror image.")
WEEDED: Final = message("The letter left on the mat while the fabric around it is peeled away.")
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
TURNED: Final = message("The letter from its back with its turn-under folded in all around.")


# All methods


def lettering_said(letters: int, templates: int, *, joined: bool, behind: int = 0) -> Message:
    """How many letters (pieces, if they are `joined`), shapes `behind` them, and templates there are."""
    said = messages("{count} template", "{count} templates", templates)
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


def template_uses_said(template: Template) -> Listing:
    """How many to cut of a template, and from which fabrics."""
    return listed(
        message("{count} from {fabric}", count=use.count, fabric=use.fabric.name) for use in template.uses
    )


def leftward_said(number: int, rows: int, first: str) -> Message:
    """That a row, one of so many, runs from right to left, and where its first letter stands."""
    if rows == 1:
        return message("The row reads from right to left: {letter} is at its right end.", letter=_kept(first))
    return message(
        "Row {number} reads from right to left: {letter} is at its right end.",
        number=number,
        letter=_kept(first),
    )


def _kept(letters: str) -> str:
    """Letters that leave the numbers around them where they stand, whichever way they run."""
    return f"{LEFT_TO_RIGHT}{letters}{LEFT_TO_RIGHT}" if is_leftward(letters) else letters


def tick_said(template: Template) -> Message:
    """A template to tick off, with how many of it there are."""
    named = template.name
    letter = _kept(named) if isinstance(named, str) else named
    fields: dict[str, Field] = {"number": template.number, "letter": letter}
    if template.count > 1:
        return message("{number} {letter} × {count}", count=template.count, **fields)
    return message("{number} {letter}", **fields)


def tick_row_said(number: int, words: str) -> Message:
    """A row to tick off."""
    return message("row {number}: {words}", number=number, words=words)


def named_said(letter: str, name: str) -> Message:
    """A fabric by its letter and its name, in a list."""
    return message("{letter} ({name})", letter=letter, name=name)


def print_said(pages: int, paper: PaperSize, *, mirrored: bool) -> Message:
    """Which template pages to print, and that they are measured."""
    fields: dict[str, Field] = {
        "pages": messages("{count} page of {paper}", "{count} pages of {paper}", pages, paper=PAPERS[paper])
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


def counters_said() -> Message:
    """How the hole of a letter is cut."""
    return message(
        "To cut the hole in a letter, fold it lightly across the hole, snip into the middle, unfold, and cut from "
        "there."
    )


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


def peel_said() -> Message:
    """How the paper comes off."""
    return message(
        "Peel the paper off each letter; if it sticks, score it with a pin and start from there. The web stays on "
        "the fabric. Keep the letters of each row together."
    )


# Fused and cut by a machine


def web_on_fabric_said(fabrics: Iterable[Message]) -> Message:
    """How fabric is made ready for a machine."""
    return message(
        "Cut a piece of fusible web for each letter, a little larger than it all around. Fuse each to the wrong side "
        "of the fabric that was set aside for letters: {fabrics}. Lay them out as the page of the fabric shows, so "
        "that every letter has fabric all around. Let it cool flat, then peel the paper off.",
        fabrics=listed(fabrics),
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
    return message(
        "A letter larger than your mat is cut by hand: trace it from the mirrored template pages onto the paper of its "
        "web before you fuse it, and cut it out on the line with scissors. The largest piece is {size}.",
        size=by_said(largest_piece(templates), units, as_needed),
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
            "Cut letter by letter: cut the fused fabric apart between the letters, and lay as many of them on the mat "
            "as it holds."
        )
    yield message(
        "Lay the fabric on the mat fusible side up, straight with the grain, and smooth it down. Make a test cut "
        "on a scrap, set blade and pressure as the maker of the machine says, then cut as many of each as the "
        "table says."
    )


def weed_said() -> Message:
    """How cut letters come off the mat."""
    return message(
        "Weed: peel away the fabric around the letters and in their holes, then lift each letter off the mat with "
        "a flat tool. Turned over, they read the right way round."
    )


# Turned over freezer paper


def is_mirrored(way: FreezerPaper) -> bool:
    """Whether letters are traced onto freezer paper in mirror image.

    Source:
        Geometry: with its shiny side down, what is drawn on the dull side faces you, and on the wrong side of the
        fabric it is seen from the back.
    """
    return way is FreezerPaper.WRONG_SIDE_DOWN


def trace_paper_said(way: FreezerPaper) -> tuple[Message, Message]:
    """How letters are traced onto freezer paper and cut out."""
    return (
        message(
            "Trace each template onto the dull side of freezer paper as many times as the table says, with its "
            "number, and copy its arrows: the one with two heads goes along the grain, the one with one head points to "
            "the top of the letter. Cut the paper out on the bold line: it is the finished edge."
        ),
        message("On the paper the letters are in mirror image; on the quilt they read the right way round.")
        if way is FreezerPaper.WRONG_SIDE_DOWN
        else message("On the paper the letters read the right way round."),
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
        "Turn the turn-under to the back along the edge of the paper, and hold it there with basting stitches or "
        "wash-away glue. Press from the back."
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
