"""Letters drawn small, standing on their baseline as in the words: where the stitching of each one starts.

Frame: points, y up.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

from applique.drawings.values import (
    CUT,
    FINE,
    HAIR,
    PAPER,
    Anchor,
    Drawing,
    Mark,
    Shape,
    Words,
    line,
    text_width,
)
from applique.drawings.vocabulary import disc
from applique.geometry.outline import Outline
from applique.geometry.points import Bounds, Point
from applique.language import Message

__all__ = ["Standing", "draw_starts", "starts_scale"]

_DOT: Final = 2.0
_HALO: Final = replace(CUT, color=PAPER)
_NAMED: Final = 8.0
_BESIDE: Final = 30.0
"""Points for the number of a row, before its letters."""
_GAP: Final = 7.0
_WORD: Final = 15.0
"""Points from letter to letter of a row, and from word to word; as much as that where letters make no words."""
_LEAST: Final = 18.0
_MOST: Final = 50.0
"""Points that capitals are high: where there are few letters the most, and the least where there are hundreds."""
_FEW: Final = 40
_CLEAR: Final = 2.8
_NUMBER: Final = 7.5
_BELOW: Final = 9.0
"""Size of the number of a template, and points below the letters for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A piece on its baseline: its outline about its own origin, how high that stands above the baseline, its extent
    (both in inches), where it is started, whether it begins a word, and the number below it, nothing for none."""

    outline: Outline
    up: float
    ink: Bounds
    starts: tuple[Point, ...]
    begins: bool
    number: str

    def width(self, scale: float) -> float:
        """Points that it takes, its number too."""
        return max((self.ink[2] - self.ink[0]) * scale, text_width(self.number, _NUMBER))


def starts_scale(cap_height: float, letters: int) -> float:
    """Points for an inch, by the largest cap height and by how many letters are to be drawn."""
    high = _MOST if letters <= _FEW else max(_LEAST, _MOST * (_FEW / letters) ** 0.45)
    return high / cap_height


def draw_starts(
    name: str | Message,
    pieces: Sequence[Standing],
    scale: float,
    width: float,
    said: Message,
    *,
    leftward: bool = False,
) -> Iterator[Drawing]:
    """The pieces of a row side by side with a dot wherever one is started, in as many lines as they take on `width`.

    `name` stands before the first of them. A `leftward` row is read from its right end, which is in the first line.
    """
    for index, held in enumerate((_lines_leftward if leftward else _lines)(pieces, scale, width)):
        low = min(piece.ink[1] + piece.up for piece in held) * scale - _CLEAR
        low -= _BELOW if any(piece.number for piece in held) else 0.0
        high = max(piece.ink[3] + piece.up for piece in held) * scale + _CLEAR
        marks: list[Mark] = []
        x = _BESIDE
        for place, piece in enumerate(held):
            x += _before(piece) if place else 0.0
            wide = piece.width(scale)
            left = x + (wide - (piece.ink[2] - piece.ink[0]) * scale) / 2
            marks += _piece(piece, (left - piece.ink[0] * scale, piece.up * scale - low), scale)
            if piece.number:
                middle = (x + wide / 2, 2.0)
                marks.append(Words(said=piece.number, at=middle, size=_NUMBER, anchor=Anchor.MIDDLE))
            x += wide
        if low < 0 < high:
            marks.insert(0, line(((_BESIDE - 4, -low), (x + 4, -low)), HAIR))
        if not index:
            marks.append(Words(said=name, at=(0.0, max(0.0, -low)), size=_NAMED, bold=True))
        yield Drawing(width=x + 4, height=high - low, marks=tuple(marks), said=said)


def _piece(piece: Standing, at: Point, scale: float) -> Iterator[Mark]:
    x, y = at
    yield Shape(outline=piece.outline.transformed((scale, 0.0, 0.0, scale, x, y)), fill="#ececec", ink=FINE)
    for start in piece.starts:
        yield disc((x + start[0] * scale, y + start[1] * scale), _DOT, ink=_HALO)


def _before(piece: Standing) -> float:
    """Points between a piece and the one before it."""
    return _WORD if piece.begins or piece.number else _GAP


def _lines(pieces: Sequence[Standing], scale: float, width: float) -> list[list[Standing]]:
    """The pieces in lines that fit on `width`; those that make no words in lines of about the same length."""
    lines = list(_filled(pieces, scale, width))
    if not all(piece.number for piece in pieces):
        return lines
    low, high = width / len(lines), width
    while high - low > 1.0:
        tried = (low + high) / 2
        narrower = list(_filled(pieces, scale, tried))
        if len(narrower) > len(lines):
            low = tried
        else:
            high, lines = tried, narrower
    return lines


def _filled(pieces: Sequence[Standing], scale: float, width: float) -> Iterator[list[Standing]]:
    """The pieces in as few lines as fit on `width`, broken between words where there is one in the line."""
    held: list[Standing] = []
    for piece in pieces:
        if held and _across([*held, piece], scale) > width - _BESIDE - 4:
            later = next((at for at in range(len(held) - 1, 0, -1) if held[at].begins), len(held))
            if piece.begins:
                later = len(held)
            yield held[:later]
            held = held[later:]
        held.append(piece)
    if held:
        yield held


def _lines_leftward(pieces: Sequence[Standing], scale: float, width: float) -> Iterator[list[Standing]]:
    """The pieces in lines that fit on `width`, filled from their right end; in each they stand as they did."""
    follows = [*(piece.begins for piece in pieces[1:]), False]
    mirrored = [replace(piece, begins=begins) for piece, begins in zip(pieces, follows, strict=True)][::-1]
    end = len(pieces)
    for held in _lines(mirrored, scale, width):
        yield list(pieces[end - len(held) : end])
        end -= len(held)


def _across(pieces: Sequence[Standing], scale: float) -> float:
    apart = sum(_before(piece) for piece in pieces[1:])
    return apart + sum(piece.width(scale) for piece in pieces)
