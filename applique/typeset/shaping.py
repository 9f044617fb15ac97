"""From text to letters: bidirectional runs, HarfBuzz shaping, one letter for each grapheme cluster.

Lengths are font units; letters come in visual order, left to right, whatever the script.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

import uharfbuzz as hb
from fontTools.unicodedata import script

from applique.errors import Problem, Refusal, Where
from applique.language import Message, any_of, message
from applique.typeset.fonts import bundled_fonts_with
from applique.typeset.runs import Run, visual_runs
from applique.typeset.signs import is_unseen, letter_numbers, plain_text, without_idle_signs
from applique.typeset.typeface import GlyphSpot, Typeface

__all__ = [
    "JOINING_SCRIPTS",
    "SPACE_OF_EM",
    "Letter",
    "MissingLetter",
    "is_connected",
    "missing_letters",
    "missing_problems",
    "no_area",
    "prepared",
    "shape_text",
]

JOINING_SCRIPTS: Final = frozenset(
    {"Arab", "Syrc", "Mong", "Nkoo", "Adlm", "Rohg", "Mand", "Mani", "Deva", "Beng"}
)
"""Scripts whose letters touch their neighbors by design, so that a word is cut as the pieces that join."""
SPACE_OF_EM: Final = 0.25
"""Width of a space, as a share of the em, in a font that has none."""
_PLAIN_SPACES: Final = frozenset(" \u00a0")
"""Spaces whose width only the font can say; em, en, thin and other spaces are shares of the em by their name."""
_JOINING_PAIRS: Final = ("an", "en", "in", "un", "am", "me", "nu", "mi")
_ROUGH: Final = 1 / 500
"""Share of the cap height to which a letter is drawn to see whether it covers any fabric, as in letters 1/4 in high."""
_EVERYWHERE: Final = (0, 0xFFFFFFFF)
"""The range of characters of a font feature that is set for the whole text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """What is shaped as one: as typed, its glyphs, and where the font puts it.

    `x_fu` is the pen position of its origin from the row's origin, kerning included; `glyphs` stand from
    that origin. `numbers` are the letters in it, counted as typed from 1: one as a rule, several where the font draws
    letters in one piece, none for a space.
    """

    text: str
    numbers: tuple[int, ...]
    glyphs: tuple[GlyphSpot, ...]
    x_fu: float
    advance_fu: float
    joins: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """The characters from `first` up to `last` with the glyphs that draw them, from the piece's own origin.

    `lacking` says that the font has nothing for one of them, neither here nor in a neighbor.
    """

    first: int
    last: int
    numbers: tuple[int, ...]
    glyphs: tuple[GlyphSpot, ...]
    advance_fu: float
    lacking: bool

    def with_next(self, right: _Piece) -> _Piece:
        """This piece and the one drawn to the right of it as one."""
        moved = tuple((glyph, x + self.advance_fu, y) for glyph, x, y in right.glyphs)
        return _Piece(
            first=min(self.first, right.first),
            last=max(self.last, right.last),
            numbers=tuple(sorted({*self.numbers, *right.numbers})),
            glyphs=(*self.glyphs, *moved),
            advance_fu=self.advance_fu + right.advance_fu,
            lacking=self.lacking or right.lacking,
        )


def shape_text(
    text: str, typeface: Typeface, *, alternates: bool = False, rightward: bool | None = None
) -> tuple[Letter, ...]:
    """`text` shaped in `typeface`: kerned, marks placed, letters joined where the script joins them.

    Ligatures that would weld separate letters into one piece are off, unless the font is a connected script
    or the text is in a joining script. `alternates` allows contextual letter variants, and the variants that a font
    has for equal letters, in turn. `rightward` is the direction of the whole; left out, it is that of the first letter
    that has one. Every letter as typed is in one of the letters that come back, or refused.

    Raises:
        Refusal: characters that the font lacks or cannot draw; every one of them, with its place.
    Source:
        Unicode Bidirectional Algorithm (UAX 9) for the order of runs; OpenType layout by HarfBuzz.
    """
    text = plain_text(text)
    problems = missing_problems(text, typeface)
    if problems:
        raise Refusal(problems)
    connected = is_connected(typeface)
    letters: list[Letter] = []
    pen = 0.0
    text, numbers, runs = _in_runs(text, typeface, rightward)
    turns: Counter[int] = Counter()
    for run in runs:
        joins = connected or any(_script(ch) in JOINING_SCRIPTS for ch in text[run.start : run.end])
        pieces = _shape_run(
            text, run, typeface, numbers, ligate=joins, alternates=turns if alternates else None
        )
        for piece in _whole(pieces):
            part = text[piece.first : piece.last]
            if piece.numbers and not _covers(piece, typeface):
                problems.append(no_area(part, piece.numbers[0], typeface))
            if piece.numbers or any(character.isspace() for character in part):
                letters.append(
                    Letter(
                        text=part,
                        numbers=piece.numbers,
                        glyphs=piece.glyphs,
                        x_fu=pen,
                        advance_fu=piece.advance_fu,
                        joins=joins,
                    )
                )
            pen += piece.advance_fu
    if problems:
        raise Refusal(problems)
    return tuple(letters)


def prepared(text: str, typeface: Typeface) -> tuple[str, tuple[int, ...]]:
    """`text` as it is shaped, without signs that change no letter, and for each character the number of its letter, 0
    for spaces and unseen signs."""
    plain = plain_text(text)
    numbers, places = letter_numbers(plain), without_idle_signs(plain, typeface.selectors)
    return "".join(plain[place] for place in places), tuple(numbers[place] for place in places)


def _in_runs(
    text: str, typeface: Typeface, rightward: bool | None
) -> tuple[str, tuple[int, ...], tuple[Run, ...]]:
    """What is left to shape of `text`, the numbers of its letters and its runs, ordered while every sign was there."""
    numbers = letter_numbers(text)
    runs = visual_runs(text, numbers, rightward)
    places = without_idle_signs(text, typeface.selectors)
    if len(places) == len(text):
        return text, numbers, runs
    moved = [(bisect_left(places, run.start), bisect_left(places, run.end), run.rightward) for run in runs]
    return (
        "".join(text[place] for place in places),
        tuple(numbers[place] for place in places),
        tuple(Run(start=start, end=end, rightward=forward) for start, end, forward in moved if start < end),
    )


def _covers(piece: _Piece, typeface: Typeface) -> bool:
    """Whether `piece` covers any fabric at the sizes that letters are cut at."""
    if piece.lacking or not piece.glyphs:
        return False
    shape = typeface.shape(piece.glyphs, chord_error_fu=typeface.cap_height_fu * _ROUGH)
    return bool(shape.area > 0)


def no_area(part: str, number: int, typeface: Typeface) -> Problem:
    """What to say of letters, the first of them `number`, that cover no fabric."""
    return Problem(
        kind="letter-covers-nothing",
        what=message(
            "{font} has no outline to cut for “{letters}”: it covers no fabric",
            font=typeface.name,
            letters=part,
        ),
        where=Where(letter=number),
        fix=message("another font, or different wording"),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingLetter:
    """A character that a font cannot draw; `number` is the letter it stands in, `mapped` whether it is mapped."""

    character: str
    number: int
    mapped: bool


def missing_letters(text: str, typeface: Typeface) -> Iterator[MissingLetter]:
    """Each distinct character of `text` that `typeface` cannot draw, where it stands first."""
    text = plain_text(text)
    numbers = letter_numbers(text)
    seen: set[str] = set()
    for number, character in zip(numbers, text, strict=True):
        if character in seen or character.isspace() or is_unseen(character):
            continue
        seen.add(character)
        mapped = typeface.has(character)
        if not (_draws(typeface, character) if mapped else _has_parts(typeface, character)):
            yield MissingLetter(character=character, number=number, mapped=mapped)


def missing_problems(text: str, typeface: Typeface) -> list[Problem]:
    """What to say of each distinct character of `text` that `typeface` cannot draw."""
    return [_missing_problem(missing, typeface) for missing in missing_letters(text, typeface)]


def _missing_problem(missing: MissingLetter, typeface: Typeface) -> Problem:
    named = {
        "font": typeface.name,
        "letter": missing.character,
        "code": f"U+{ord(missing.character):04X}",
    }
    if missing.mapped:
        return Problem(
            kind="letter-without-outline",
            what=message("{font} has no outline to cut for “{letter}” ({code})", **named),
            where=Where(letter=missing.number),
            fix=_other_fonts(missing.character, typeface),
        )
    return Problem(
        kind="letter-missing",
        what=message("no letter for “{letter}” ({code}) in {font}", **named),
        where=Where(letter=missing.number),
        fix=_other_fonts(missing.character, typeface),
    )


def _draws(typeface: Typeface, character: str) -> bool:
    """Whether `character` is drawn, as far as can be told before its word is shaped."""
    return _is_drawn(typeface, character) or unicodedata.category(character) in ("Mn", "Me", "Lo")


def _is_drawn(typeface: Typeface, character: str) -> bool:
    """Whether the font's own glyph for `character` has an outline."""
    glyph = typeface.hb_font.get_nominal_glyph(ord(character))
    return bool(glyph and typeface.outline(((glyph, 0.0, 0.0),)))


def _has_parts(typeface: Typeface, character: str) -> bool:
    parts = unicodedata.normalize("NFD", character)
    return len(parts) > 1 and all(typeface.has(part) for part in parts)


def _other_fonts(character: str, typeface: Typeface) -> Message:
    others = [name for name in bundled_fonts_with(character) if name != typeface.name]
    if not others:
        return message("different wording, or a font of your own that has it (no bundled font does)")
    return message("another font that has it ({fonts}), or different wording", fonts=any_of(others))


def _script(character: str) -> str:
    return str(script(character))


def _shape_run(
    text: str,
    run: Run,
    typeface: Typeface,
    numbers: Sequence[int],
    *,
    ligate: bool,
    alternates: Counter[int] | None,
) -> list[_Piece]:
    """The pieces of a run from left to right; `alternates` counts how often each glyph has had a variant."""
    shaped = _shaped(text, run, typeface, ligate=ligate, alternates=alternates is not None, in_turn=())
    if alternates is not None and typeface.has_variants:
        in_turn = _in_turn(shaped.glyph_infos, run.end, typeface, alternates)
        shaped = _shaped(text, run, typeface, ligate=ligate, alternates=True, in_turn=in_turn)
    return list(_pieces(text, shaped.glyph_infos, shaped.glyph_positions, run.end, numbers, typeface))


def _shaped(
    text: str,
    run: Run,
    typeface: Typeface,
    *,
    ligate: bool,
    alternates: bool,
    in_turn: Sequence[tuple[int, int, int]],
) -> Any:
    buffer = hb.Buffer()
    buffer.add_str(text, run.start, run.end - run.start)
    buffer.guess_segment_properties()
    buffer.direction = "ltr" if run.rightward else "rtl"
    buffer.language = "und"
    buffer.flags |= hb.BufferFlags.DO_NOT_INSERT_DOTTED_CIRCLE  # nobody typed it
    if not typeface.has(" "):
        buffer.invisible_glyph = typeface.no_glyph
    features = {
        "kern": True,
        "liga": ligate,
        "clig": ligate,
        "calt": ligate or alternates,
        "rand": [(*_EVERYWHERE, 0), *in_turn],  # left out, HarfBuzz draws lots, the same each time
    }
    hb.shape(typeface.hb_font, buffer, features)
    return buffer


def _in_turn(
    infos: Sequence[Any], end: int, typeface: Typeface, turns: Counter[int]
) -> list[tuple[int, int, int]]:
    """For each glyph of a run that has variants the range of its characters and the number of the next variant."""
    following = _following(infos, end)
    chosen: list[tuple[int, int, int]] = []
    for info in sorted(infos, key=lambda info: int(info.cluster)):
        if count := typeface.variants(info.codepoint):
            chosen.append((info.cluster, following[info.cluster], turns[info.codepoint] % count + 1))
            turns[info.codepoint] += 1
    return chosen


def _following(infos: Sequence[Any], end: int) -> dict[int, int]:
    """For the first character of each cluster the one after its last."""
    starts = sorted({info.cluster for info in infos})
    return dict(zip(starts, [*starts[1:], end], strict=True))


def _pieces(
    text: str,
    infos: Sequence[Any],
    positions: Sequence[Any],
    end: int,
    numbers: Sequence[int],
    typeface: Typeface,
) -> Iterator[_Piece]:
    """Each cluster of a run as a piece, in visual order; glyphs without an outline are left out.

    Glyph 0 is what a font draws for a character that it lacks, a box as a rule.
    """
    following = _following(infos, end)
    index = 0
    while index < len(infos):
        first, pen, spots = infos[index].cluster, 0.0, []
        last, glyphs = following[first], set()
        while index < len(infos) and infos[index].cluster == first:
            glyph, position = infos[index].codepoint, positions[index]
            glyphs.add(glyph)
            if typeface.outline(((glyph, 0.0, 0.0),)):
                spots.append((glyph, pen + position.x_offset, float(position.y_offset)))
            pen += position.x_advance
            index += 1
        letters = tuple(sorted({number for number in numbers[first:last] if number}))
        part = text[first:last]
        yield _Piece(
            first=first,
            last=last,
            numbers=letters,
            glyphs=tuple(spots) if letters else (),
            advance_fu=pen if letters else _space_fu(part, pen, typeface),
            lacking=0 in glyphs or (not spots and _is_blank(part, typeface)),
        )


def _is_blank(part: str, typeface: Typeface) -> bool:
    """Whether `part` has signs to be seen and the font has no outline for any of them."""
    seen = [sign for sign in part if not (sign.isspace() or is_unseen(sign))]
    return bool(seen) and not any(_is_drawn(typeface, sign) for sign in seen)


def _space_fu(part: str, shaped_fu: float, typeface: Typeface) -> float:
    """The width of a part without letters: of its spaces, as the font or else HarfBuzz has it; 0 for unseen signs."""
    if not any(character.isspace() for character in part):
        return 0.0
    if typeface.has(" ") or not _PLAIN_SPACES.issuperset(part) or typeface.has(part[0]):
        return shaped_fu
    return len(part) * SPACE_OF_EM * typeface.units_per_em


def _whole(pieces: Iterable[_Piece]) -> list[_Piece]:
    """`pieces` so that each holds whole letters, and a letter that its neighbor draws is in that neighbor."""
    whole: list[_Piece] = []
    for piece in pieces:
        before = whole[-1] if whole else None
        if before and before.numbers and piece.numbers and _belong(before, piece):
            whole[-1] = before.with_next(piece)
        else:
            whole.append(piece)
    return whole


def _belong(before: _Piece, piece: _Piece) -> bool:
    if not set(before.numbers).isdisjoint(piece.numbers):
        return True
    return not (before.lacking or piece.lacking or (before.glyphs and piece.glyphs))


def is_connected(typeface: Typeface) -> bool:
    """Whether the font is a connected script: most of its lower-case pairs touch as it sets them.

    Judged on its shapes, so that a maker's own script font is known without being told.
    """
    if not all(typeface.has(character) for pair in _JOINING_PAIRS for character in pair):
        return False
    return sum(_touches(typeface, pair) for pair in _JOINING_PAIRS) > len(_JOINING_PAIRS) / 2


def _touches(typeface: Typeface, pair: str) -> bool:
    (first, _), (second, shift) = ((glyph, x) for glyph, x in _plain_pair(typeface, pair))
    fine = typeface.units_per_em / 500
    left = typeface.shape(((first, 0.0, 0.0),), chord_error_fu=fine)
    right = typeface.shape(((second, shift, 0.0),), chord_error_fu=fine)
    return bool(left.intersects(right))


def _plain_pair(typeface: Typeface, pair: str) -> list[tuple[int, float]]:
    run = Run(start=0, end=2, rightward=True)
    shaped = _shaped(pair, run, typeface, ligate=False, alternates=False, in_turn=())
    spots, pen = [], 0.0
    for info, position in zip(shaped.glyph_infos, shaped.glyph_positions, strict=True):
        spots.append((info.codepoint, pen + position.x_offset))
        pen += position.x_advance
    return [spots[0], spots[-1]]
