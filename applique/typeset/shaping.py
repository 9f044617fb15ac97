"""From text to letters: bidirectional runs, HarfBuzz shaping, one letter for each grapheme cluster.

Lengths are font units; letters come in visual order, left to right, whatever the script.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Final

import uharfbuzz as hb
from bidi import algorithm
from fontTools.unicodedata import script

from applique.errors import Problem, Refusal
from applique.typeset.fonts import GlyphSpot, Typeface, bundled_fonts_with

__all__ = ["JOINING_SCRIPTS", "Letter", "MissingLetter", "is_connected", "missing_letters", "shape_text"]

JOINING_SCRIPTS: Final = frozenset(
    {"Arab", "Syrc", "Mong", "Nkoo", "Adlm", "Rohg", "Mand", "Mani", "Deva", "Beng"}
)
"""Scripts whose letters touch their neighbours by design, so that a word is cut as the pieces that join."""
_JOINING_PAIRS: Final = ("an", "en", "in", "un", "am", "me", "nu", "mi")


@dataclass(frozen=True, slots=True, kw_only=True)
class Letter:
    """One grapheme cluster as shaped: what was typed, its glyphs, and where the font puts it.

    `x_fu` is the pen position of its origin from the row's origin, kerning included; `glyphs` stand from
    that origin. `number` counts the inked letters as typed, from 1, and is 0 for a space.
    """

    text: str
    number: int
    glyphs: tuple[GlyphSpot, ...]
    x_fu: float
    advance_fu: float
    joins: bool


def shape_text(
    text: str, typeface: Typeface, *, alternates: bool = False, rightward: bool | None = None
) -> tuple[Letter, ...]:
    """`text` shaped in `typeface`: kerned, marks placed, letters joined where the script joins them.

    Ligatures that would weld separate letters into one piece are off, unless the font is a connected script
    or the text is in a joining script. `alternates` allows contextual letter variants. `rightward` is the direction
    of the whole; left out, it is that of the first letter that has one.

    Raises:
        Refusal: characters that the font lacks or cannot draw; every one of them, with its place.
    Source:
        Unicode Bidirectional Algorithm (UAX 9) for the order of runs; OpenType layout by HarfBuzz.
    """
    text = unicodedata.normalize("NFC", text)
    problems = tuple(_missing_problem(missing, typeface) for missing in missing_letters(text, typeface))
    if problems:
        raise Refusal(problems)
    connected = is_connected(typeface)
    letters: list[Letter] = []
    pen = 0.0
    numbers = _letter_numbers(text)
    for start, end, level in _visual_runs(text, rightward):
        joins = connected or any(_script(ch) in JOINING_SCRIPTS for ch in text[start:end])
        run = _shape_run(
            text, start, end, typeface, rightward=level % 2 == 0, ligate=joins, alternates=alternates
        )
        for first, last, glyphs, advance in _clusters(*run, end=end):
            drawn = tuple(spot for spot in glyphs if typeface.outline(((spot[0], 0.0, 0.0),)))
            letters.append(
                Letter(
                    text=text[first:last],
                    number=numbers[first] if drawn else 0,
                    glyphs=drawn,
                    x_fu=pen,
                    advance_fu=advance,
                    joins=joins,
                )
            )
            pen += advance
    return tuple(letters)


def _letter_numbers(text: str) -> list[int]:
    """For each character the number of its letter: marks share their base's, spaces count for nothing."""
    numbers, count = [], 0
    for character in text:
        if not character.isspace() and unicodedata.category(character) not in ("Mn", "Me", "Mc", "Cf"):
            count += 1
        numbers.append(max(count, 1))
    return numbers


@dataclass(frozen=True, slots=True, kw_only=True)
class MissingLetter:
    """A character that a font cannot draw; `number` is the letter it stands in, `mapped` whether it is mapped."""

    character: str
    number: int
    mapped: bool


def missing_letters(text: str, typeface: Typeface) -> Iterator[MissingLetter]:
    """Each distinct character of `text` that `typeface` cannot draw, where it stands first."""
    text = unicodedata.normalize("NFC", text)
    numbers = _letter_numbers(text)
    seen: set[str] = set()
    for number, character in zip(numbers, text, strict=True):
        if character in seen or _leaves_no_ink(character):
            continue
        seen.add(character)
        mapped = typeface.has(character)
        if not (_draws(typeface, character) if mapped else _has_parts(typeface, character)):
            yield MissingLetter(character=character, number=number, mapped=mapped)


def _missing_problem(missing: MissingLetter, typeface: Typeface) -> Problem:
    named = f"“{missing.character}” (U+{ord(missing.character):04X})"
    return Problem(
        what=f"{typeface.name} has no outline to cut for {named}"
        if missing.mapped
        else f"no letter for {named} in {typeface.name}",
        where=f"letter {missing.number}",
        fix=_other_fonts(missing.character, typeface),
    )


def _leaves_no_ink(character: str) -> bool:
    return (
        character.isspace() or unicodedata.category(character) == "Cf" or 0xFE00 <= ord(character) <= 0xFE0F
    )


def _draws(typeface: Typeface, character: str) -> bool:
    glyph = typeface.hb_font.get_nominal_glyph(ord(character))
    return bool(typeface.outline(((glyph, 0.0, 0.0),))) or unicodedata.category(character) in (
        "Mn",
        "Me",
        "Lo",
    )


def _has_parts(typeface: Typeface, character: str) -> bool:
    parts = unicodedata.normalize("NFD", character)
    return len(parts) > 1 and all(typeface.has(part) for part in parts)


def _other_fonts(character: str, typeface: Typeface) -> str:
    others = [name for name in bundled_fonts_with(character) if name != typeface.name]
    if not others:
        return "different wording, or a font of your own that has it (no bundled font does)"
    return f"another font that has it ({', '.join(others)}), or different wording"


def _visual_runs(text: str, rightward: bool | None) -> list[tuple[int, int, int]]:
    """Runs of one direction and one script as (start, end, level), in visual order."""
    levels = _levels(text, rightward)
    runs: list[tuple[int, int, int]] = []
    start = 0
    scripts = _scripts(text)
    for index in range(1, len(text) + 1):
        if index == len(text) or levels[index] != levels[start] or scripts[index] != scripts[start]:
            runs.append((start, index, levels[start]))
            start = index
    return _reordered(runs)


def _levels(text: str, rightward: bool | None) -> list[int]:
    storage: Any = algorithm.get_empty_storage()
    base = algorithm.get_base_level(text) if rightward is None else int(not rightward)
    storage["base_level"], storage["base_dir"] = base, ("L", "R")[base]
    algorithm.get_embedding_levels(text, storage)
    for index, character in enumerate(storage["chars"]):
        character["index"] = index
    algorithm.explicit_embed_and_overrides(storage)
    algorithm.resolve_weak_types(storage)
    algorithm.resolve_neutral_types(storage, False)
    algorithm.resolve_implicit_levels(storage, False)
    levels = [base] * len(text)
    for character in storage["chars"]:
        levels[character["index"]] = character["level"]
    return levels


def _scripts(text: str) -> list[str]:
    """The script of each character, common and inherited ones taking that of their neighbour."""
    scripts = [_script(character) for character in text]
    real = [code for code in scripts if code not in ("Zyyy", "Zinh")]
    current = real[0] if real else "Latn"
    for index, code in enumerate(scripts):
        if code in ("Zyyy", "Zinh"):
            scripts[index] = current
        else:
            current = code
    return scripts


def _script(character: str) -> str:
    return str(script(character))


def _reordered(runs: Sequence[tuple[int, int, int]]) -> list[tuple[int, int, int]]:
    """Rule L2 of UAX 9 on whole runs: from the highest level down, reverse what stands at it or above."""
    ordered = list(runs)
    highest = max((run[2] for run in runs), default=0)
    for level in range(highest, 0, -1):
        index = 0
        while index < len(ordered):
            end = index
            while end < len(ordered) and ordered[end][2] >= level:
                end += 1
            ordered[index:end] = reversed(ordered[index:end])
            index = end + 1
    return ordered


def _shape_run(
    text: str, start: int, end: int, typeface: Typeface, *, rightward: bool, ligate: bool, alternates: bool
) -> tuple[Any, Any]:
    buffer = hb.Buffer()
    buffer.add_str(text, start, end - start)
    buffer.guess_segment_properties()
    buffer.direction = "ltr" if rightward else "rtl"
    buffer.language = "und"
    features = {"kern": True, "liga": ligate, "clig": ligate, "calt": ligate or alternates}
    hb.shape(typeface.hb_font, buffer, features)
    return buffer.glyph_infos, buffer.glyph_positions


def _clusters(
    infos: Sequence[Any], positions: Sequence[Any], *, end: int
) -> Iterator[tuple[int, int, tuple[GlyphSpot, ...], float]]:
    """Each cluster as (first character, last character + 1, its glyphs, its advance), in visual order."""
    starts = sorted({info.cluster for info in infos})
    following = dict(zip(starts, [*starts[1:], end], strict=True))
    index = 0
    while index < len(infos):
        cluster, pen, spots = infos[index].cluster, 0.0, []
        while index < len(infos) and infos[index].cluster == cluster:
            position = positions[index]
            spots.append((infos[index].codepoint, pen + position.x_offset, float(position.y_offset)))
            pen += position.x_advance
            index += 1
        yield cluster, following[cluster], tuple(spots), pen


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
    infos, positions = _shape_run(pair, 0, 2, typeface, rightward=True, ligate=False, alternates=False)
    spots, pen = [], 0.0
    for info, position in zip(infos, positions, strict=True):
        spots.append((info.codepoint, pen + position.x_offset))
        pen += position.x_advance
    return [spots[0], spots[-1]]
