"""The child process of `proving`: opens a font that nobody vouches for, within limits, and says what came of it.

Reads one line of JSON (`name`, `axes`, `words`) and then the font from standard input; writes `problems` as JSON.
Dying without an answer is an answer too.
"""

from __future__ import annotations

import contextlib
import json
import math
import sys
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from applique.children import keep_within
from applique.errors import Problem, Refusal, Where
from applique.geometry.outline import Outline
from applique.geometry.polygons import CHORD_ERROR
from applique.language import message
from applique.typeset.fonts import typeface_from
from applique.typeset.proving import MOST_BYTES, MOST_SECONDS, written_problem
from applique.typeset.shaping import shape_text
from applique.typeset.typeface import Typeface

__all__ = ["main", "sound_font"]

_MOST_POINTS: Final = 20_000
"""Points of one letter's outline; the finest of the bundled fonts has some 600."""
_MOST_EMS: Final = 50.0
"""How far from its origin a letter may reach."""
_LARGEST_LETTER: Final = 30.0
"""Cap height in inches at whose chord error the outlines are flattened, as for a letter over many pages."""


def sound_font(data: bytes, name: str, axes: Mapping[str, float], words: Sequence[str]) -> None:
    """Open the font and draw all that `words` need, at `axes` and at its own defaults.

    Raises:
        Refusal: it cannot be opened, or an outline is not one to cut.
    """
    for setting in ({**axes}, {}) if axes else ({},):
        typeface = typeface_from(data, name, setting)
        for word in dict.fromkeys(words):
            spelled = "".join(sign for sign in word if typeface.has(sign) or sign.isspace()).strip()
            for letter in _shaped(spelled, typeface):
                outline = typeface.outline(letter)
                _check(outline, typeface)
                chord_error_fu = CHORD_ERROR * abs(typeface.cap_height_fu) / _LARGEST_LETTER
                typeface.shape(letter, chord_error_fu=chord_error_fu)


def _shaped(word: str, typeface: Typeface) -> Iterator[Any]:
    """The glyphs of each letter of `word`, with and without variants of letters.

    None where it cannot be spelled, which its own reader says better.
    """
    for alternates in (False, True):
        with contextlib.suppress(Refusal):
            letters = shape_text(word, typeface, alternates=alternates) if word else ()
            yield from dict.fromkeys(letter.glyphs for letter in letters if letter.glyphs)


def _check(outline: Outline, typeface: Typeface) -> None:
    points = sum(len(contour.segments) for contour in outline.contours)
    reach = max((abs(side) for side in outline.bounds()), default=0.0) if outline else 0.0
    if points > _MOST_POINTS:
        raise Refusal(
            Problem(
                kind="letter-of-too-many-points",
                what=message("has a letter of {points} points, too many to cut", points=points),
                where=Where(file=typeface.name),
                fix=message("the file again from where it came, or another font"),
            )
        )
    if not math.isfinite(reach) or reach > _MOST_EMS * typeface.units_per_em:
        raise Refusal(
            Problem(
                kind="letter-out-of-place",
                what=message("has a letter that reaches far out of its place"),
                where=Where(file=typeface.name),
                fix=message("the file again from where it came, or another font"),
            )
        )


def main() -> None:
    """Answer one question on standard input."""
    keep_within(seconds=MOST_SECONDS, memory=MOST_BYTES)
    asked = json.loads(sys.stdin.buffer.readline())
    data = sys.stdin.buffer.read()
    problems: tuple[Problem, ...] = ()
    try:
        sound_font(data, asked["name"], asked["axes"], asked["words"])
    except Refusal as refusal:
        problems = refusal.problems
    except Exception as error:  # whatever the parsers trip over means the same
        problems = (
            Problem(
                kind="font-damaged",
                what=message("is a damaged font ({reason})", reason=type(error).__name__),
                where=Where(file=asked["name"]),
                fix=message("the file again from where it came, or another font"),
            ),
        )
    sys.stdout.write(json.dumps({"problems": [written_problem(problem) for problem in problems]}))


if __name__ == "__main__":
    main()
