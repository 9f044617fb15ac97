"""The words of the nesting sheets: what to buy for a nest, how it is drawn, and its trace sheets."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from applique.language import Message, message
from applique.units import Units, as_available, as_yardage
from applique.words.buying import material_said, rule_said, side_by_side_said
from applique.yardage import StripNeed, WebKind

__all__ = [
    "METHOD",
    "OUTLINE",
    "SUBJECT",
    "nest_bookmark",
    "nest_facts",
    "nest_title",
    "trace_bookmark",
    "trace_note",
]

SUBJECT: Final = message("nesting")
METHOD: Final = message("How the letters lie on web and fabric")
OUTLINE: Final = message("outline")
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


def nest_facts(need: StripNeed, units: Units) -> Iterator[Message]:
    """What to buy for a nest and by which rule, how its letters are drawn, and what is too large for its width."""
    yield message(
        "Buy {length} of {material}, {width} wide: {rule}.",
        length=as_yardage(need.buy, units),
        material=material_said(need),
        width=as_available(need.usable_width, units),
        rule=rule_said(need.rule, units),
    )
    if need.web is None:
        yield message(
            "Each letter is drawn with its rough cut. Seen from the right side of the fabric; the selvages run along "
            "the two long sides."
        )
    else:
        yield message(
            "Each letter is drawn with its rough cut. Drawn as you trace it on the paper side: mirror image."
        )
    for pieces in need.joined:
        yield message(
            "Larger than the width, made from pieces laid side by side: {pieces}.",
            pieces=side_by_side_said(pieces, units),
        )


def trace_bookmark(tile: str) -> Message:
    """What the list of pages calls a trace sheet."""
    return message("Trace {tile}", tile=tile)


def trace_note(tile: str) -> Message:
    """The header of a trace sheet."""
    return message("trace sheet {tile}, mirror image · print at 100 %", tile=tile)
