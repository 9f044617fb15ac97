"""Letters that can be taken for one another, measured in the bundled fonts."""

from __future__ import annotations

import itertools
from collections import Counter
from collections.abc import Iterator

import pytest
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from applique.geometry.polygons import polygon_of
from applique.paging import spelled_out, told_apart
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text

FONTS = ("Rubik", "Fredoka", "Montserrat", "Baloo 2", "Geologica", "Cairo")
ALIKE = 0.82
LETTERS = "ABDEFGHIJKLMNOQRTUVWXYZabdefghijlmnopqrtuvwxyz0169,’‘“”()[]!?¿"


def _shapes(font: str) -> dict[str, BaseGeometry]:
    """Each letter about the middle of its ink, one unit in its longer way."""
    typeface = open_typeface(font, None)
    shapes: dict[str, BaseGeometry] = {}
    for letter in LETTERS:
        (shaped,) = shape_text(letter, typeface)
        shape = polygon_of(typeface.outline(shaped.glyphs), chord_error=6)
        x0, y0, x1, y1 = shape.bounds
        centered = affinity.translate(shape, -(x0 + x1) / 2, -(y0 + y1) / 2)
        size = 1 / max(x1 - x0, y1 - y0)
        shapes[letter] = affinity.scale(centered, size, size, origin=(0, 0))
    return shapes


def _alike() -> Iterator[tuple[str, str]]:
    """Pairs of letters that look alike in at least two of the fonts."""
    found: Counter[tuple[str, str]] = Counter()
    for font in FONTS:
        shapes = _shapes(font)
        for (a, first), (b, second) in itertools.combinations(shapes.items(), 2):
            # Boxes that differ much cannot overlap by as much as that.
            if any(abs(x - y) > 0.1 for x, y in zip(first.bounds, second.bounds, strict=True)):
                continue
            if first.intersection(second).area > ALIKE * first.union(second).area:
                found[a, b] += 1
    return (pair for pair, count in found.items() if count >= 2)


def test_letters_that_look_alike_are_spelled_out() -> None:
    """A pair that is told apart by its name needs one name; letters of their own shape in both cases have two."""
    pairs = {pair for pair in _alike() if pair[0].lower() == pair[1].lower() or "l" in pair or "I" in pair}
    assert {("I", "l"), ("O", "o"), ("V", "v"), ("Z", "z")} <= pairs
    assert not [pair for pair in pairs if not all(map(spelled_out, pair))]


@pytest.mark.parametrize(
    ("letter", "name"),
    [
        ("I", "capital I"), ("l", "small l"), ("1", "one"), ("0", "zero"), ("O", "capital O"), ("o", "small o"),
        ("-", "hyphen"), ("–", "short dash"), ("—", "long dash"), ("”", "closing quote"), ("П", "capital П"),
        ("ο", "small ο"),
    ],
)  # fmt: skip
def test_names_of_letters(letter: str, name: str) -> None:
    assert str(spelled_out(letter)) == name


def test_what_nobody_confuses_has_no_name() -> None:
    assert [text for text in ("A", "g", "ש", "é", "on", "") if spelled_out(text)] == []


@pytest.mark.parametrize(
    ("letters", "names"),
    [
        ("SAVEroomforPIE", {"I": "capital I"}),
        ("s1nce", {"1": "one"}),
        ("Oo’", {"O": "capital O", "o": "small o", "’": "apostrophe"}),
        ("O2", {"2": "two"}),
        ("O0l", {"O": "capital O", "0": "zero", "l": "small l"}),
    ],
)
def test_in_a_list_of_letters_only_those_that_can_be_taken_for_another_are_named(
    letters: str, names: dict[str, str]
) -> None:
    told = {letter: told_apart(letter, letters) for letter in letters}
    assert {letter: str(name) for letter, name in told.items() if name} == names
