"""What the label of a template says, line by line, and how large."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from fractions import Fraction
from typing import Final

from fontTools.unicodedata import script, script_horizontal_direction

from applique.design import Copies
from applique.language import Measure, Message, Speech, Unit, message, messages
from applique.paging.lookalikes import spelled_out
from applique.pieces import MOST_ROWS_SAID, Layer, Template, cut_off_at, rows_said
from applique.typeset.breaks import line_words, loose_words
from applique.typeset.labels import label_width

__all__ = [
    "DETAIL_SIZE",
    "among_numbers",
    "is_leftward",
    "label_lines",
    "label_size",
    "title_line",
    "wrapped",
]

_NAME_SIZE: Final = 0.22
DETAIL_SIZE: Final = 0.115
_LEFT_TO_RIGHT: Final = "\u200e"
"""The left-to-right mark, which nobody sees: without it a number goes after letters that run to the left."""
_WIDEST_LABEL: Final = 1.8
"""Inches of the longest line of a label. A label wider than its letter takes the paper that other letters need, and
one wider than a page would make the smallest letter a tile."""
_MOST_LABEL_LINES: Final = 10
_MOST_TURNS: Final = 4
"""Lines of a label that say how one of its letters is turned in its row."""


def label_lines(
    template: Template, copies: Copies, *, own_fonts: tuple[str, ...], speech: Speech, tile: str = ""
) -> tuple[str, ...]:
    """What a template says of itself in `speech`: its number and its letter or name, and in the next line that it is an
    outline, so that both are what it is called everywhere; which letter that is where another could be read, where it
    is cut off, how many from which fabric, its rows if any; of a large one the page, `tile`.
    Of a letter that is cut more than once, each that is turned in its row and how far, as far as there is room.

    No line is wider than a label may be: names of fabrics go on in the next line, words too long for one are cut
    short with an ellipsis, rows too many to name are counted.
    """
    details: list[str] = []
    if template.layer is Layer.OUTLINE:
        details = wrapped(
            speech.say("outline {tile}", tile=tile) if tile else speech.say("outline"), own_fonts
        )
    spelled = spelled_out(template.text) if template.letter else None
    if spelled is not None:
        details += wrapped(speech.tell(spelled), own_fonts)
    if template.off is not None:
        details += wrapped(speech.tell(cut_off_at(template.off.sides)), own_fonts)
    for use in template.uses:
        name = use.fabric.name
        cut = (
            name
            if copies is Copies.EACH
            else speech.say("cut {count} · {fabric}", count=use.count, fabric=name)
        )
        details += wrapped(cut, own_fonts)
    most = _MOST_LABEL_LINES - 2
    if len(details) > most:
        details = [*details[: most - 1], *wrapped(speech.say("the rest: see instructions"), own_fonts)]
    rows = wrapped(speech.tell(_in_rows(template)), own_fonts) if template.in_rows else []
    turns = [line for said in _turns(template) for line in wrapped(speech.tell(said), own_fonts)]
    on_title = "" if template.layer is Layer.OUTLINE else tile
    return (title_line(template, on_title, own_fonts, speech), *details, *rows, *turns)


def _turns(template: Template) -> Iterator[Message]:
    """How each letter of a template that is cut more than once is turned in its row, or how many more are."""
    if template.count == 1:
        return
    told = len(template.leans) if len(template.leans) <= _MOST_TURNS else _MOST_TURNS - 1
    for lean in template.leans[:told]:
        angle = Measure(number=round(Fraction(abs(lean.turn_deg)), 1), unit=Unit.DEGREE, as_fraction=False)
        if lean.turn_deg > 0:
            yield message("{place}: {angle} to the left", place=lean.where.as_field(), angle=angle)
        else:
            yield message("{place}: {angle} to the right", place=lean.where.as_field(), angle=angle)
    more = len(template.leans) - told
    if more:
        yield messages("{count} more turned: see guide", "{count} more turned: see guide", more)


def title_line(
    template: Template, tile: str, own_fonts: tuple[str, ...], speech: Speech, *, part: str = ""
) -> str:
    """The number of a template or the name of a `part` of it, its letters, cut short where it would be too wide, and
    its page if it has one."""

    def said(letters: str) -> str:
        number = part or str(template.number)
        shown = among_numbers(letters)
        if tile:
            return speech.say("{number} · {letters} {tile}", number=number, letters=shown, tile=tile)
        return speech.say("{number} · {letters}", number=number, letters=shown)

    letters = template.text
    while letters and not _fits_label(said(letters), 0, own_fonts):
        letters = f"{letters[:-2]}…" if len(letters) > 1 else ""
    return said(letters)


def among_numbers(letters: str) -> str:
    """Letters that leave the numbers and words around them where they stand, whichever way they run."""
    return f"{_LEFT_TO_RIGHT}{letters}{_LEFT_TO_RIGHT}" if is_leftward(letters) else letters


def is_leftward(letters: str) -> bool:
    """Whether letters are of a script that runs from right to left."""
    return bool(letters) and script_horizontal_direction(script(letters[0])) == "RTL"


def _in_rows(template: Template) -> Message:
    """For which rows a template is, in few words."""
    rows = len(template.in_rows)
    if rows > MOST_ROWS_SAID:
        return message("in {rows}", rows=rows_said(template))
    return messages("row {rows}", "rows {rows}", rows, rows=rows_said(template))


def wrapped(text: str, own_fonts: tuple[str, ...]) -> list[str]:
    """`text` in lines of a label, none wider than a label may be."""
    lines: list[str] = []
    for word in _parts(text, own_fonts):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and _fits_label(longer, 1, own_fonts):
            lines[-1] = longer
        else:
            lines.append(_shortened(word, 1, own_fonts))
    return lines


def _parts(text: str, own_fonts: tuple[str, ...]) -> Iterator[str]:
    """What stands on one line of a label, as far as that is wide enough."""
    for word in line_words(text):
        if _fits_label(word, 1, own_fonts):
            yield word
        else:
            yield from loose_words(word)


def _shortened(text: str, line: int, own_fonts: tuple[str, ...]) -> str:
    """`text`, cut with an ellipsis where it is wider than a label may be."""
    if _fits_label(text, line, own_fonts):
        return text
    count = bisect_right(
        range(len(text)), False, key=lambda n: not _fits_label(text[:n] + "…", line, own_fonts)
    )
    return text[: max(count - 1, 1)] + "…"


def _fits_label(text: str, line: int, own_fonts: tuple[str, ...]) -> bool:
    return label_width(text, label_size(line), own_fonts=own_fonts, bold=not line) <= _WIDEST_LABEL


def label_size(line: int) -> float:
    """The size of a label's text in inches: the letter large, what follows it small."""
    return DETAIL_SIZE if line else _NAME_SIZE
