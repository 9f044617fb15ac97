"""How letters are cut, in words: what all methods share."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from typing import Final

from applique.design import Design, PaperSize
from applique.language import Field, Listing, Message, PageOf, any_of, listed, message, messages
from applique.paging import among_numbers, told_apart
from applique.pieces import Template
from applique.words.sheets import PAPERS, pieces_said
from applique.words.templates import cut_in_one

__all__ = [
    "AS_IT_READS",
    "CARRIED",
    "LEGEND",
    "LETTERING",
    "MATS_HEAD",
    "ON_MATS",
    "ON_THE_MAT",
    "ON_THE_PAPER",
    "PEELED_AWAY",
    "TEMPLATES_HEAD",
    "TILES",
    "TRACED",
    "TRIM",
    "WEB_HEAD",
    "WRONG_SIDE",
    "counters_said",
    "in_parts_said",
    "laid_on_fabric_said",
    "laid_on_web_said",
    "leftward_said",
    "letter_said",
    "lettering_said",
    "named_said",
    "pick_row_said",
    "pick_said",
    "picked_said",
    "print_said",
    "template_uses_said",
    "tick_row_said",
    "tick_said",
    "tiles_by_paper_said",
    "tiles_on_said",
    "tiles_said",
    "way_up_said",
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
AS_IT_READS: Final = message("on the panel")
PEELED_AWAY: Final = message("peel this away")
WRONG_SIDE: Final = message("wrong side, paper on it")
CARRIED: Final = message("right side")
TRIM: Final = message("trim and tape")
TRACED: Final = {
    True: message("A letter traced in mirror image, and the same letter as it reads on the panel."),
    False: message("A letter traced as it reads, and the same letter on the panel."),
}
TILES: Final = message("A large letter over several pages, with the lines where they are trimmed and taped.")


# All methods


def lettering_said(letters: int, templates: int, *, pieces: int, joined: bool, behind: int = 0) -> Message:
    """How many letters, and in how many `pieces` where some are in several parts (only pieces, if they are `joined`),
    outlines `behind` them, and templates there are."""
    said = messages("{count} template", "{count} templates", templates)
    if joined:
        letters = pieces
    elif pieces > letters:
        return _in_pieces_said(letters, pieces, said, behind)
    if behind:
        outlines = messages("{count} outline", "{count} outlines", behind)
        if joined:
            return messages(
                "There is {count} piece of the words to cut, with {outlines}, from {templates}.",
                "There are {count} pieces of the words to cut, with {outlines}, from {templates}.",
                letters,
                outlines=outlines,
                templates=said,
            )
        return messages(
            "There is {count} letter to cut, with {outlines}, from {templates}.",
            "There are {count} letters to cut, with {outlines}, from {templates}.",
            letters,
            outlines=outlines,
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
            "There is {count} letter in {pieces} to cut, with {outlines}, from {templates}.",
            "There are {count} letters in {pieces} to cut, with {outlines}, from {templates}.",
            letters,
            outlines=messages("{count} outline", "{count} outlines", behind),
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


def letter_said(template: Template, letters: Container[str]) -> Message | str:
    """What a template is called beside its number: its letter, and the name of that where it can be taken for another
    one of the `letters` or for a number."""
    named = template.name
    if not isinstance(named, str):
        return named
    name = told_apart(named, letters) if template.letter else None
    letter = among_numbers(named)
    return letter if name is None else message("{letter} ({name})", letter=letter, name=name)


def tick_said(template: Template, called: str, letters: Container[str]) -> Message:
    """A template, or a part of it, to tick off as it is `called`, with how many of it there are; `letters` are those of
    all templates."""
    fields: dict[str, Field] = {"number": called, "letter": letter_said(template, letters)}
    if template.count > 1:
        return message("{number} · {letter} × {count}", count=template.count, **fields)
    return message("{number} · {letter}", **fields)


def tick_row_said(number: int, words: str) -> Message:
    """A row to tick off."""
    return message("row {number}: {words}", number=number, words=words)


def named_said(letter: Field, name: str) -> Message:
    """A fabric, or a piece of it, by its letter and its name, in a list."""
    return message("{letter} ({name})", letter=letter, name=name)


def laid_on_web_said(web: Field, page: PageOf | None) -> Message:
    """Where it is shown how letters lie on `web` or freezer paper: on a `page` of the printed pattern, or in a file."""
    if page is None:
        return message(
            "Lay them out as in the small picture of {web} in nesting.pdf: in another order they may take more than "
            "you bought.",
            web=web,
        )
    return message(
        "Lay them out as in the small picture of {web} on {page}, not as in that of a fabric: in another order they "
        "may take more than you bought.",
        web=web,
        page=page,
    )


def laid_on_fabric_said(
    pieces: Sequence[Message], page: PageOf | None, *, from_back: bool, outlined: bool
) -> Message:
    """On which pieces of fabric letters are laid out, and outlines where they are `outlined`, on the wrong side or the
    right one, and where that is shown: on a `page` of the printed pattern, or in a file of its own."""
    cut_for = message("letters and outlines") if outlined else message("letters")
    fields: dict[str, Field] = {"pieces": listed(pieces), "cut_for": cut_for}
    shown = message("on {page}", page=page) if page else message("in nesting.pdf")
    if from_back:
        return messages(
            "Take {pieces}, which you cut for {cut_for}, wrong side up. Before you fix any, lay out and turn them "
            "all as in the picture of this fabric {shown}: a small one, no template, seen from the same side.",
            "Take {pieces}, which you cut for {cut_for}, wrong side up. Before you fix any, lay out and turn them "
            "all as in the pictures of these fabrics {shown}: small ones, no templates, seen from the same side.",
            len(pieces),
            shown=shown,
            **fields,
        )
    return messages(
        "Take {pieces}, which you cut for {cut_for}, right side up. Before you fix any, lay out and turn them all "
        "as in the picture of this fabric {shown}: a small one, no template, seen from the same side.",
        "Take {pieces}, which you cut for {cut_for}, right side up. Before you fix any, lay out and turn them all "
        "as in the pictures of these fabrics {shown}: small ones, no templates, seen from the same side.",
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


def picked_said(template: Template, count: int, letters: Container[str]) -> Message:
    """How many of a template a row has: the number of the template, its letter, and the count; `letters` are those of
    all templates."""
    letter = letter_said(template, letters)
    return message("{number} · {letter} × {count}", number=template.number, letter=letter, count=count)


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
            "Print the template pages as they are, at 100%, {pages}: they are mirrored already. Do not flip them in "
            "the printer. Measure the rules before you cut.",
            **fields,
        )
    return message(
        "Print the template pages as they are, at 100%, {pages}: they read the right way round. Measure the rules "
        "before you cut.",
        **fields,
    )


def tiles_said(names: Iterable[str | Message]) -> Message:
    """How the pages of large letters are joined."""
    return message(
        "{letters}: too large for one page. Trim one page of each pair on the line of dashes and dots, lay it on its "
        "neighbor so that line meets line and mark meets mark, and tape; the small map on each page shows where it "
        "goes.",
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
        "Trim one page of each pair on the line of dashes and dots, lay it on its neighbor so that line meets line "
        "and mark meets mark, and tape; the small map on each page shows where it goes."
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
