"""The key at the foot of a step picture: what its tints stand for, those that it shows.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Final

from applique.drawings.values import FINE, HAIR, PAPER, QUIET, Drawing, Mark, Shape, Words, box, text_width
from applique.drawings.vocabulary import (
    DOT,
    DOTTED,
    LEFT_OVER,
    PAPER_SIDE,
    RIGHT_SIDE,
    SECOND_SIDE,
    WEB,
    disc,
)
from applique.geometry.points import point_under
from applique.language import Message, Speech
from applique.words.instructions import tints as said

__all__ = ["BANNER", "BINDING", "CORNERS", "LABELED", "MITER", "PILLOW", "SLEEVE", "USUAL", "Tints", "keyed"]

Tints = Mapping[str, Message]
"""By the fill that tells a tint, what it stands for in a picture; that of a wrong side is the fill of its dots."""

USUAL: Final[Tints] = {
    RIGHT_SIDE: said.RIGHT_SIDE,
    DOTTED: said.WRONG_SIDE,
    WEB: said.WEB,
    PAPER_SIDE: said.PAPER,
    LEFT_OVER: said.LEFT_OVER,
}
BINDING: Final[Tints] = {
    RIGHT_SIDE: said.QUILT,
    SECOND_SIDE: said.BINDING,
    DOTTED: said.BINDING_WRONG,
}
MITER: Final[Tints] = {RIGHT_SIDE: said.STRIP, SECOND_SIDE: said.TOP, DOTTED: said.WRONG_SIDE}
SLEEVE: Final[Tints] = {SECOND_SIDE: said.SLEEVE, DOTTED: said.SLEEVE_WRONG}
PILLOW: Final[Tints] = {RIGHT_SIDE: said.RIGHT_SIDE, DOTTED: said.WRONG_SIDE, LEFT_OVER: said.ZIPPER}
BANNER: Final[Tints] = {RIGHT_SIDE: said.FRONT, SECOND_SIDE: said.HANGS}
CORNERS: Final[Tints] = {RIGHT_SIDE: said.LETTER, SECOND_SIDE: said.BACKGROUND}
LABELED: Final[Tints] = {}
"""Of a picture that says beside each of its tints what it is, or has a key of its own."""
_SWATCH: Final = (10.0, 7.0)
_SIZE: Final = 7.5
_GAP: Final = 3.0
_BETWEEN: Final = 10.0
_ROW: Final = 11.0
_ABOVE: Final = 4.0
_LEAST_WIDE: Final = 150.0
"""Points across that a key may take below a picture that is narrower."""


def keyed(drawing: Drawing, tints: Tints, speech: Speech) -> Drawing:
    """`drawing` with what its tints stand for at its foot; as it is where it shows nothing but right sides of fabric,
    which nobody takes for anything else."""
    fills = {mark.fill for mark in drawing.marks if isinstance(mark, Shape)}
    shown = [(fill, words) for fill, words in tints.items() if fill in fills]
    if all(fill == RIGHT_SIDE for fill, _ in shown):
        return drawing
    rows = _rows(shown, max(drawing.width, _LEAST_WIDE), speech)
    low = _ROW * len(rows) + _ABOVE
    moved = [_raised(mark, low) for mark in drawing.marks]
    key: list[Mark] = []
    wide = 0.0
    for index, row in enumerate(rows):
        x, y = 0.5, _ROW * (len(rows) - 1 - index) + 2.0
        for fill, words in row:
            key += _swatch(fill, x, y)
            x += _SWATCH[0] + _GAP
            key.append(Words(said=words, at=(x, y + 0.6), size=_SIZE, color=QUIET))
            x += text_width(speech.tell(words), _SIZE)
            wide = max(wide, x)
            x += _BETWEEN
    return replace(
        drawing,
        width=max(drawing.width, wide),
        height=drawing.height + low,
        marks=(*moved, *key),
        in_key=len(key),
        foot=low,
        narrow=None if drawing.narrow is None else keyed(drawing.narrow, tints, speech),
    )


def _rows(
    shown: Sequence[tuple[str, Message]], width: float, speech: Speech
) -> list[list[tuple[str, Message]]]:
    rows: list[list[tuple[str, Message]]] = [[]]
    left = width
    for fill, words in shown:
        takes = _SWATCH[0] + _GAP + text_width(speech.tell(words), _SIZE)
        if rows[-1] and takes > left:
            rows.append([])
            left = width
        rows[-1].append((fill, words))
        left -= takes + _BETWEEN
    return rows


def _swatch(fill: str, x: float, y: float) -> Iterator[Mark]:
    wide, high = _SWATCH
    if fill != DOTTED:
        yield box(x, y, wide, high, fill=fill, ink=HAIR)
        return
    yield box(x, y, wide, high, fill=PAPER, ink=FINE)
    for across, up in ((0.25, 0.3), (0.75, 0.3), (0.5, 0.7)):
        yield disc((x + across * wide, y + up * high), DOT, fill=DOTTED)


def _raised(mark: Mark, points: float) -> Mark:
    onto = (1.0, 0.0, 0.0, 1.0, 0.0, points)
    if isinstance(mark, Shape):
        return replace(mark, outline=mark.outline.transformed(onto))
    return replace(mark, at=point_under(onto, mark.at))
