"""The words of the nesting sheets: what the letters of a nest take, how it is drawn, and its trace pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from typing import Final

from applique.design import FreezerPaper, Held, Method, Sewing
from applique.language import Field, Listing, Measure, Message, listed, message, messages
from applique.letter_blocks import LetterBlock
from applique.mats import Mat
from applique.paging import BETWEEN
from applique.pieces import Layer, Template
from applique.units import Units, as_available, as_length, as_used
from applique.words.buying import material_said
from applique.words.cloth import carried_said, side_by_side_said
from applique.words.cutting import size_said
from applique.words.templates import numbered
from applique.yardage import Carried, Lettering, StripNeed, WebKind, templates_in

__all__ = [
    "GOES_ON",
    "HOW",
    "OUTLINE",
    "PRINT_TOP",
    "SPOTS_NEXT",
    "SUBJECT",
    "across_said",
    "along_said",
    "block_said",
    "lying_said",
    "motifs_said",
    "names_of",
    "nest_bookmark",
    "nest_facts",
    "nest_length_said",
    "nest_title",
    "seen_from_back",
    "spot_said",
    "spots_title",
    "trace_bookmark",
    "trace_note",
]

SUBJECT: Final = message("nesting")
HOW: Final = message(
    "Small pictures, no templates: lay your letters out in the same way, and all of them have room. The number on each "
    "is that of its template."
)
OUTLINE: Final = message("outline")
GOES_ON: Final = message("goes on below: one length, not cut here")
PRINT_TOP: Final = message("top of the print")
_SPOTS_SEEN: Final = {
    True: message(
        "Letters with spots of their own are measured from the cut end on the left and the selvage on top to the outer "
        "line around them: find each spot on the right side, mark it with pins, and turn the fabric over."
    ),
    False: message(
        "Letters with spots of their own are measured from the cut end on the left and the selvage below to the outer "
        "line around them."
    ),
}
SPOTS_NEXT: Final = message("The next page has the distances of each.")
_WHAT_TO_BUY: Final = message("What to buy is in “What you need”.")
_WEB_FOR_MACHINE: Final = message(
    "Cut these rectangles of web. Their sizes are in the table of “Letters”. The letters in them are cut by the "
    "machine."
)
_WEBS: Final = {
    WebKind.FUSIBLE_WEB: message("Fusible web"),
    WebKind.FREEZER_PAPER: message("Freezer paper"),
}


def lying_said(fusible: StripNeed) -> Message:
    """What the pages of nests show, by what is ironed on the fabric."""
    if fusible.web is WebKind.FREEZER_PAPER:
        return message("How the letters lie on freezer paper and fabric")
    return message("How the letters lie on web and fabric")


def nest_bookmark(need: StripNeed) -> Message:
    """What the list of pages calls the page of a nest."""
    return message("Nest: {material}", material=material_said(need))


def nest_title(need: StripNeed) -> str | Message:
    """The heading of a nest: the web, or the name of the fabric as the maker writes it."""
    return need.fabric if need.web is None else _WEBS[need.web]


def block_said(
    piece: Message, one: LetterBlock, held: Held | None, units: Units, *, has_stash: bool
) -> Message:
    """A block of letters: what the cutting plan calls it, its size as there, and where there is some of the fabric in
    the stash what of that it is cut from, or that it is bought."""
    size = size_said(one.block.length, one.block.width, units)
    if held is None and has_stash:
        return message("{piece}: {size}, bought", piece=piece, size=size)
    if held is None:
        return message("{piece}: {size}", piece=piece, size=size)
    return message("{piece}: {size}, from “{stock}”", piece=piece, size=size, stock=held.words)


def along_said(one: LetterBlock, held: Held | None, units: Units) -> Message:
    """How long a block is along the selvage, beside that edge; of what is `held` and has no selvage, with the grain."""
    length = as_available(one.block.length, units)
    if held is None or held.has_selvages:
        return message("{length} along the selvage", length=length)
    return message("{length} with the grain", length=length)


def across_said(one: LetterBlock, units: Units) -> Message:
    """How wide a block is, beside that edge."""
    return message("{length}", length=as_available(one.block.width, units))


def nest_facts(
    need: StripNeed,
    units: Units,
    *,
    sewing: Sewing,
    blocks: Sequence[Held | None],
    mirrored: bool,
    rough_cut: Fraction,
    neighbors: bool,
    for_customers: bool,
) -> Iterator[Message]:
    """What the letters of a nest take, how they are drawn if any are, and what is too wide for it.

    Letters on fabric lie on `blocks`, each from what is held or bought. What is traced is drawn `mirrored` or not, and
    web is cut out `rough_cut` inches outside its lines, or for a machine in rectangles. On the template pages letters
    have `neighbors`, or a page each. A customer has a print of her own, on which nobody can say how far a spot is.
    """
    yield _lie_on_said(need, len(blocks)) if blocks else _taken_said(need, units)
    if need.nest is not None and need.web is None:
        lines = _on_fabric_said(sewing, rough_cut=bool(rough_cut))
        if all(held is None or held.has_selvages for held in blocks):
            yield message("{lines} The selvage runs from left to right.", lines=lines)
        else:
            yield message("{lines} The lengthwise grain of the fabric runs from left to right.", lines=lines)
        if need.fixed and for_customers:
            yield from _fussy_cut_said(need)
        elif need.fixed:
            yield _SPOTS_SEEN[seen_from_back(sewing)]
    elif need.nest is not None and need.web is not None:
        yield _drawn_said(need.web, by_machine=sewing.method is Method.MACHINE_CUT, mirrored=mirrored)
        if need.web is WebKind.FUSIBLE_WEB and rough_cut and sewing.method is not Method.MACHINE_CUT:
            yield message(
                "Lines of two letters lie at least {room} apart, so that each keeps its {rough} of web.",
                room=as_length(2 * rough_cut, units, denominator=16),
                rough=as_length(rough_cut, units, denominator=16),
            )
            if neighbors and 2 * rough_cut > BETWEEN:
                yield message(
                    "The template pages have letters closer than that: shift the web before you trace the next one."
                )
    for pieces in need.joined:
        yield message("Too narrow for some letters: {pieces}.", pieces=side_by_side_said(pieces, units))


def _fussy_cut_said(need: StripNeed) -> Iterator[Message]:
    """Which letters of a nest are fussy cut, for whoever has another piece of the print, or another print."""
    yield messages(
        "Fussy cut: {letters}. This letter shows a motif of the print: choose one on the right side of your fabric, "
        "center the letter on it, and mark the place with pins. The picture only keeps fabric for it.",
        "Fussy cut: {letters}. These letters show motifs of the print: choose one for each on the right side of your "
        "fabric, center the letter on it, and mark the place with pins. The picture only keeps fabric for them.",
        len(need.fixed),
        letters=_fussy_cut(need),
    )


def _fussy_cut(need: StripNeed) -> Listing:
    """The templates that a nest has at spots of their own, each once."""
    cut = dict.fromkeys(one for spot in need.fixed for one in templates_in(need.carried[spot.key]))
    return listed(map(numbered, cut))


def motifs_said(need: StripNeed) -> Message:
    """What fussy cuts may take beyond the amount that is listed, for whoever buys a print of her own.

    Source:
        A motif lies once in every repeat: common practice, no source.
    """
    return messages(
        "Of {fabric} one letter is fussy cut, with a motif of the print in it: {letters}. The amount holds one motif "
        "as it lies in the cutting plan. If your print has it elsewhere, buy one repeat of the print more.",
        "Of {fabric} {count} letters are fussy cut, each with a motif of the print in it: {letters}. The amount holds "
        "motifs as close together as in the cutting plan. If your print has them further apart, buy up to one repeat "
        "of the print more for each.",
        len(need.fixed),
        fabric=need.fabric,
        letters=_fussy_cut(need),
    )


def spot_said(template: Template, along: float, across: float, units: Units) -> Message:
    """Where a letter with a spot of its own lies: inches from the cut end and from the selvage to the outer line around
    it."""
    return message(
        "{letter}: {along} from the cut end, {across} from the selvage",
        letter=numbered(template),
        along=as_length(along, units, denominator=16),
        across=as_length(across, units, denominator=16),
    )


def spots_title(need: StripNeed) -> Message:
    """The heading of a page with distances of spots."""
    return message("{fabric}: letters with spots of their own", fabric=nest_title(need))


def names_of(carried: Carried) -> Iterator[str | Message]:
    """What is written into a piece of a nest, line by line: its number, its letter, and if it lies behind that one;
    or which mat it goes on."""
    if isinstance(carried, Mat):
        yield carried_said(carried)
        return
    yield str(carried.number)
    yield carried.text
    if carried.layer is Layer.OUTLINE:
        yield OUTLINE


def nest_length_said(need: StripNeed, units: Units) -> Measure:
    """How long a nest is, below its end; never shorter than the nest."""
    return as_used(need.nested, units)


def _taken_said(need: StripNeed, units: Units) -> Message:
    """What letters take of a fabric or of the web; what to buy of it hangs on other uses, and on a rule."""
    fields: dict[str, Field] = {
        "length": as_used(need.used, units),
        "material": material_said(need),
        "width": as_available(need.usable_width, units),
        "buying": _WHAT_TO_BUY,
    }
    match need.lettering:
        case Lettering.OUTLINES:
            return message("The outlines take {length} of {material}, {width} wide. {buying}", **fields)
        case Lettering.BOTH:
            return message(
                "The letters and outlines take {length} of {material}, {width} wide. {buying}", **fields
            )
        case Lettering.LETTERS:
            return message("The letters take {length} of {material}, {width} wide. {buying}", **fields)


_LAID: Final = {
    Lettering.LETTERS: message("these letters"),
    Lettering.OUTLINES: message("these outlines"),
    Lettering.BOTH: message("these letters and outlines"),
}


def _lie_on_said(need: StripNeed, blocks: int) -> Message:
    return messages(
        "Lay {these} out on the piece drawn here, which has its name and size from the cutting plan.",
        "Lay {these} out on the pieces drawn here, which have their names and sizes from the cutting plan.",
        blocks,
        these=_LAID[need.lettering],
    )


def seen_from_back(sewing: Sewing) -> bool:
    """Whether fabric is drawn from its wrong side: what is ironed on goes there, and that is what the maker sees then.

    Source:
        Web goes on the wrong side; freezer paper may go on either: common practice, no source.
    """
    return sewing.method is not Method.TURNED_EDGE or sewing.freezer_paper is not FreezerPaper.RIGHT_SIDE


def _on_fabric_said(sewing: Sewing, *, rough_cut: bool) -> Message:
    """From which side a fabric is seen, and why: as the maker sees it while she lays on it what is ironed there."""
    match sewing.method:
        case Method.TURNED_EDGE if sewing.freezer_paper is FreezerPaper.RIGHT_SIDE:
            return message(
                "Seen from the right side of the fabric, where the freezer paper goes. Each is drawn with its "
                "turn-under."
            )
        case Method.TURNED_EDGE:
            return message(
                "Seen from the wrong side of the fabric, where the freezer paper goes: all is in mirror image "
                "there. Each is drawn with its turn-under."
            )
        case Method.MACHINE_CUT:
            return message(
                "Seen from the wrong side of the fabric, where the web goes: all is in mirror image there. "
                "Fuse each rectangle of web as it lies here, then cut the fabric apart between them."
            )
        case Method.RAW_EDGE if rough_cut:
            return message(
                "Seen from the wrong side of the fabric, where the web goes: all is in mirror image there. "
                "Each is drawn with its rough cut."
            )
        case Method.RAW_EDGE:
            return message(
                "Seen from the wrong side of the fabric, where the web goes: all is in mirror image there."
            )


def _drawn_said(web: WebKind, *, by_machine: bool, mirrored: bool) -> Message:
    if by_machine:
        return _WEB_FOR_MACHINE
    if web is WebKind.FUSIBLE_WEB:
        return message(
            "Each letter is drawn with its rough cut. Drawn as you trace it on the paper side: mirror image."
        )
    if mirrored:
        return message("Drawn as you trace it on the dull side of the freezer paper: mirror image.")
    return message("Drawn as you trace it on the dull side of the freezer paper: the right way round.")


def trace_bookmark(tile: str, *, by_machine: bool) -> Message:
    """What the list of pages calls a sheet of the nest at full size: to trace, or for a machine to cut web by."""
    return message("Web {tile}", tile=tile) if by_machine else message("Trace {tile}", tile=tile)


def trace_note(tile: str, *, by_machine: bool, mirrored: bool) -> Message:
    """The header of a sheet of the nest at full size."""
    if by_machine:
        return message("web, page {tile} · print at 100%", tile=tile)
    if mirrored:
        return message("trace page {tile}, mirror image · print at 100%", tile=tile)
    return message("trace page {tile}, right way round · print at 100%", tile=tile)
