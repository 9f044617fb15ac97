"""The words of the nesting sheets: what to buy for a nest, how it is drawn, and its trace sheets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.design import Held
from applique.language import Measure, Message, message
from applique.letter_blocks import LetterBlock
from applique.units import Units, as_available, as_size, as_yardage
from applique.words.buying import material_said, rule_said
from applique.words.cloth import side_by_side_said
from applique.yardage import StripNeed, WebKind

__all__ = [
    "BLOCKS",
    "METHOD",
    "OUTLINE",
    "SUBJECT",
    "block_said",
    "nest_bookmark",
    "nest_facts",
    "nest_length_said",
    "nest_title",
    "trace_bookmark",
    "trace_note",
]

SUBJECT: Final = message("nesting")
METHOD: Final = message("How the letters lie on web and fabric")
OUTLINE: Final = message("outline")
BLOCKS: Final = message(
    "Cut these letters block by block. Each block is named as in the cutting plan of {file}, with what it comes from."
).filled(file="pattern.pdf")
_WEBS: Final = {
    WebKind.FUSIBLE_WEB: message("Fusible web"),
    WebKind.FREEZER_PAPER: message("Freezer paper"),
}


def nest_bookmark(need: StripNeed) -> Message:
    """What the list of pages calls the page of a nest."""
    return message("Nest: {material}", material=material_said(need))


def nest_title(need: StripNeed) -> str | Message:
    """The heading of a nest: the web, or the name of the fabric as the maker writes it."""
    return need.fabric if need.web is None else _WEBS[need.web]


def block_said(letter: str, one: LetterBlock, held: Held | None, units: Units) -> Message:
    """A block of letters: what the cutting plan calls it, its size, and what it is cut from."""
    width, length = (as_size(side, units) for side in (one.block.width, one.block.length))
    if held is None:
        return message("{piece}: {width} by {length}, bought", piece=letter, width=width, length=length)
    return message(
        "{piece}: {width} by {length}, from “{stock}”",
        piece=letter,
        width=width,
        length=length,
        stock=held.words,
    )


def nest_facts(need: StripNeed, units: Units, *, in_blocks: bool) -> Iterator[Message]:
    """What to buy for a nest and by which rule, how its letters are drawn if any are, and what is too wide for it.

    Letters that are cut `in_blocks` have no length of their own to buy.
    """
    yield BLOCKS if in_blocks else _buy_said(need, units)
    if need.nest is not None and need.web is None:
        yield message(
            "Each letter is drawn with its rough cut. Seen from the right side of the fabric; the selvage runs from "
            "left to right."
        )
    elif need.nest is not None:
        yield message(
            "Each letter is drawn with its rough cut. Drawn as you trace it on the paper side: mirror image."
        )
    for pieces in need.joined:
        yield message("Too narrow for some letters: {pieces}.", pieces=side_by_side_said(pieces, units))


def nest_length_said(need: StripNeed, units: Units) -> Measure:
    """How long a nest is, below its end; never shorter than the nest."""
    return as_size(need.nested, units)


def _buy_said(need: StripNeed, units: Units) -> Message:
    """What to buy of the web; of a fabric, what its letters take of what is bought for all its uses."""
    if need.web is None:
        return message(
            "The letters take {length} of {material}, {width} wide; what to buy of it is in pattern.pdf.",
            length=as_size(need.used, units),
            material=material_said(need),
            width=as_available(need.usable_width, units),
        )
    return message(
        "Buy {length} of {material}, {width} wide: {rule}.",
        length=as_yardage(need.buy, units),
        material=material_said(need),
        width=as_available(need.usable_width, units),
        rule=rule_said(need.rule, units),
    )


def trace_bookmark(tile: str) -> Message:
    """What the list of pages calls a trace sheet."""
    return message("Trace {tile}", tile=tile)


def trace_note(tile: str) -> Message:
    """The header of a trace sheet."""
    return message("trace sheet {tile}, mirror image · print at 100 %", tile=tile)
