"""From text to letters that follow one another down a line: upright, or turned a quarter to the right.

Lengths are font units; the center line of the row is x = 0, y up.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby, pairwise
from typing import Any, Final

import uharfbuzz as hb
from fontTools.unicodedata import script

from applique.errors import Problem, Refusal
from applique.language import message
from applique.typeset.orientation import Orientation, orientation
from applique.typeset.runs import scripts_of
from applique.typeset.shaping import JOINING_SCRIPTS, Letter, missing_problems, no_area, prepared, shape_text
from applique.typeset.typeface import GlyphSpot, Typeface

__all__ = ["PITCH", "SPACE", "Stop", "is_set_down", "shape_down"]

PITCH: Final = 1.2
"""From the baseline of a letter to that of the next one below, as a share of the cap height, in a font that says
nothing about rows that run down: our own, a fifth of white between two capitals."""
SPACE: Final = 0.6
"""What a space takes down such a row, as a share of the cap height: half of what a letter takes, our own."""
_MOST_DIGITS: Final = 2
_EAST_ASIAN: Final = frozenset({"Hani", "Hira", "Kana", "Bopo", "Hang", "Yiii"})
"""Scripts that are written down the page with upright letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stop:
    """What stands in one place of a row that runs down, or a word that is turned a quarter to the right.

    `letters` stand upright with their origins at `x_fu` from the center line, on a baseline `drop_fu` below the top of
    the place; of a `turned` word they run to the right before it is turned, its middle on the center line then. There
    are none in a space. The next place starts `advance_fu` lower.
    """

    letters: tuple[Letter, ...]
    drop_fu: float
    advance_fu: float
    turned: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class _Cluster:
    """The characters of one letter, or one space (`number` is 0); `script` is that of a neighbor where it has none."""

    number: int
    text: str
    script: str

    @property
    def orientation(self) -> Orientation:
        """That of its base."""
        return orientation(self.text[0])

    @property
    def turns(self) -> bool:
        """Whether it is turned unless the row says otherwise."""
        return self.orientation is Orientation.TURNED


def is_set_down(text: str) -> bool:
    """Whether `text` has letters of a script that is written down the page: Han, kana, hangul, bopomofo, yi."""
    return any(str(script(character)) in _EAST_ASIAN for character in text)


def shape_down(
    text: str, typeface: Typeface, *, upright: bool | None = None, alternates: bool = False
) -> tuple[Stop, ...]:
    """`text` shaped in `typeface` down a line, from its top.

    Signs that stand upright in such rows do, in the font's forms for them, at its own advances. Others, such as Latin
    letters, stand `upright` one below the other or are turned a quarter to the right as words; left out, they are
    turned where the text has letters of a script that is written down. One or two digits that would be turned alone
    stand upright side by side in one place. Brackets and marks for which the font has no upright form are turned.

    A letter that would be turned and stands upright takes the font's own advance if the font has any for rows that run
    down; else it stands in the middle of its ink, `PITCH` of the cap height below the one before.

    Raises:
        Refusal: characters that the font lacks or cannot draw, and letters that join in a row across, upright.
    Source:
        Unicode Standard Annex 50 (Unicode Vertical Text Layout); OpenType layout by HarfBuzz from top to bottom: the
        features `vert` and, of signs that are not turned, `vrt2`, the tables vmtx and VORG. Digits in one place
        (tate-chu-yoko): W3C, Requirements for Japanese Text Layout.
    """
    plain, numbers = prepared(text, typeface)
    problems = missing_problems(text, typeface)
    if problems:
        raise Refusal(problems)
    clusters = _clusters(plain, numbers)
    if upright is None:
        upright = not is_set_down(plain)
    stops: list[Stop] = []
    for turned, part in _runs(clusters, typeface, upright=upright):
        if not turned:
            stops += _upright(part, typeface)
        elif len(part) <= _MOST_DIGITS and all(one.text.isascii() and one.text.isdigit() for one in part):
            stops.append(_in_one_place(part, typeface))
        else:
            stops.append(_turned(part, typeface, alternates=alternates))
    return tuple(stops)


def _clusters(text: str, numbers: Sequence[int]) -> tuple[_Cluster, ...]:
    scripts = scripts_of(text, numbers)
    found: list[_Cluster] = []
    for number, places in groupby(range(len(text)), key=lambda place: numbers[place] or -place - 1):
        first, *more = places
        last = (more or [first])[-1] + 1
        found.append(_Cluster(number=max(number, 0), text=text[first:last], script=scripts[first]))
    return tuple(one for one in found if one.number or one.text.isspace())


def _runs(
    clusters: Sequence[_Cluster], typeface: Typeface, *, upright: bool
) -> Iterator[tuple[bool, list[_Cluster]]]:
    """What follows one another alike, each with whether it is turned; a space within what is turned is too."""

    def turns(one: _Cluster) -> bool:
        match one.orientation:
            case Orientation.UPRIGHT:
                return False
            case Orientation.FORM_OR_TURNED:
                return not _has_form(one, typeface)
            case Orientation.TURNED:
                return not upright

    turned = [bool(one.number) and turns(one) for one in clusters]
    lettered = [place for place, one in enumerate(clusters) if one.number]
    for before, after in pairwise(lettered):
        if turned[before] and turned[after]:
            turned[before:after] = [True] * (after - before)
    for way, places in groupby(range(len(clusters)), key=lambda place: turned[place]):
        yield way, [clusters[place] for place in places]


def _has_form(cluster: _Cluster, typeface: Typeface) -> bool:
    """Whether the font draws `cluster` otherwise in a row that runs down."""
    down, across = (_shaped([cluster], typeface, direction) for direction in ("ttb", "ltr"))
    return [one.codepoint for one in down.glyph_infos] != [one.codepoint for one in across.glyph_infos]


def _upright(clusters: Sequence[_Cluster], typeface: Typeface) -> Iterator[Stop]:
    """Each letter in a place of its own; those that the font has advances for follow one another as it says."""
    for (own, _, _), part in groupby(
        clusters, key=lambda one: (_has_advance(one, typeface), one.script, one.turns)
    ):
        if own:
            yield from _by_font(list(part), typeface)
            continue
        for one in part:
            yield _by_cap_height(one, typeface)


def _has_advance(cluster: _Cluster, typeface: Typeface) -> bool:
    """Whether the font says how far down the row `cluster` takes, or it fills a square, as what is written down the
    page does (UAX 11, East Asian Width: wide or full width)."""
    return typeface.has_down_advances or unicodedata.east_asian_width(cluster.text[0]) in ("W", "F")


def _by_font(clusters: Sequence[_Cluster], typeface: Typeface) -> Iterator[Stop]:
    """Letters where the font puts them in a row that runs down, as HarfBuzz reads it."""
    starts = [0]
    for one in clusters:
        starts.append(starts[-1] + len(one.text))
    shaped = _shaped(clusters, typeface, "ttb")
    found: dict[int, list[tuple[Any, Any]]] = {}
    for info, position in zip(shaped.glyph_infos, shaped.glyph_positions, strict=True):
        index = next(place for place, start in enumerate(starts[1:]) if info.cluster < start)
        found.setdefault(index, []).append((info, position))
    for index, glyphs in sorted(found.items()):
        until = min((later for later in found if later > index), default=len(clusters))
        yield _font_stop(clusters[index:until], glyphs, typeface)


def _font_stop(clusters: Sequence[_Cluster], glyphs: Sequence[tuple[Any, Any]], typeface: Typeface) -> Stop:
    advance = -sum(position.y_advance for _, position in glyphs)
    lettered = [one for one in clusters if one.number]
    spots: list[tuple[int, float, float]] = []
    x, y = 0.0, 0.0
    for info, position in glyphs:
        if typeface.outline(((info.codepoint, 0.0, 0.0),)):
            spots.append((info.codepoint, x + position.x_offset, y + position.y_offset))
        x, y = x + position.x_advance, y + position.y_advance
    if not lettered:
        return Stop(letters=(), drop_fu=0.0, advance_fu=advance)
    text = "".join(one.text for one in lettered)
    if not spots:
        raise Refusal(no_area(text, lettered[0].number, typeface))
    _, left, up = spots[0]
    letter = Letter(
        text=text,
        numbers=tuple(one.number for one in lettered),
        glyphs=tuple((glyph, right - left, high - up) for glyph, right, high in spots),
        x_fu=left,
        advance_fu=0.0,
        joins=False,
    )
    return Stop(letters=(letter,), drop_fu=-up, advance_fu=advance)


def _by_cap_height(cluster: _Cluster, typeface: Typeface) -> Stop:
    """A letter in the middle of its ink, on a baseline a cap height below the top of its place."""
    cap = typeface.cap_height_fu
    if not cluster.number:
        return Stop(letters=(), drop_fu=0.0, advance_fu=SPACE * cap)
    if str(script(cluster.text[0])) in JOINING_SCRIPTS:
        raise Refusal(
            Problem(
                kind="joined-letters-down",
                what=message(
                    "“{letter}” joins the letters beside it and cannot stand alone in a row that runs down",
                    letter=cluster.text,
                ),
                fix=message('letters_down = "turned", or a row that runs across'),
            )
        )
    glyphs = _glyphs(cluster, typeface)
    left, _, right, _ = typeface.bounds(glyphs)
    letter = Letter(
        text=cluster.text,
        numbers=(cluster.number,),
        glyphs=glyphs,
        x_fu=-(left + right) / 2,
        advance_fu=right - left,
        joins=False,
    )
    return Stop(letters=(letter,), drop_fu=cap, advance_fu=PITCH * cap)


def _in_one_place(digits: Sequence[_Cluster], typeface: Typeface) -> Stop:
    """One or two digits upright in a place as high as the em, their ink in its middle."""
    letters: list[Letter] = []
    pen = 0.0
    for one in digits:
        shaped = _shaped([one], typeface, "ltr")
        advance = float(sum(position.x_advance for position in shaped.glyph_positions))
        letters.append(
            Letter(
                text=one.text,
                numbers=(one.number,),
                glyphs=_glyphs(one, typeface),
                x_fu=pen,
                advance_fu=advance,
                joins=False,
            )
        )
        pen += advance
    inks = [(one.x_fu, typeface.bounds(one.glyphs)) for one in letters]
    left, right = min(x + ink[0] for x, ink in inks), max(x + ink[2] for x, ink in inks)
    low, high = min(ink[1] for _, ink in inks), max(ink[3] for _, ink in inks)
    em = float(typeface.units_per_em)
    return Stop(
        letters=tuple(replace(one, x_fu=one.x_fu - (left + right) / 2) for one in letters),
        drop_fu=(em + low + high) / 2,
        advance_fu=em,
    )


def _turned(clusters: Sequence[_Cluster], typeface: Typeface, *, alternates: bool) -> Stop:
    """Words as in a row across, to be turned a quarter to the right as one."""
    text = "".join(one.text for one in clusters)
    letters = shape_text(text, typeface, alternates=alternates)
    before = next(one.number for one in clusters if one.number) - 1
    return Stop(
        letters=tuple(
            replace(one, numbers=tuple(number + before for number in one.numbers)) for one in letters
        ),
        drop_fu=0.0,
        advance_fu=max(one.x_fu + one.advance_fu for one in letters),
        turned=True,
    )


def _glyphs(cluster: _Cluster, typeface: Typeface) -> tuple[GlyphSpot, ...]:
    """The glyphs of one letter by itself, with an outline, from the origin of the first."""
    shaped = _shaped([cluster], typeface, "ltr")
    spots: list[GlyphSpot] = []
    pen = 0.0
    for info, position in zip(shaped.glyph_infos, shaped.glyph_positions, strict=True):
        if typeface.outline(((info.codepoint, 0.0, 0.0),)):
            spots.append((info.codepoint, pen + position.x_offset, float(position.y_offset)))
        pen += position.x_advance
    if not spots:
        raise Refusal(no_area(cluster.text, cluster.number, typeface))
    start = spots[0][1]
    return tuple((glyph, x - start, y) for glyph, x, y in spots)


def _shaped(clusters: Sequence[_Cluster], typeface: Typeface, direction: str) -> Any:
    """What HarfBuzz makes of `clusters` of one script in that direction; letters that a font would join stay apart.

    `vrt2` holds what `vert` does, and letters across already turned; those are turned here, where the row wants it.
    """
    buffer = hb.Buffer()
    buffer.add_str("".join(one.text for one in clusters))
    buffer.direction = direction
    buffer.script = clusters[0].script
    buffer.language = "und"
    buffer.flags |= hb.BufferFlags.DO_NOT_INSERT_DOTTED_CIRCLE  # nobody typed it
    forms = direction == "ttb" and not any(one.turns for one in clusters)
    features = {"vrt2": forms, "liga": False, "clig": False, "calt": False, "rand": False}
    hb.shape(typeface.hb_font, buffer, features)
    return buffer
