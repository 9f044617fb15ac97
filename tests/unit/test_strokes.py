"""Strokes as a share of the cap height, against outlines that can be measured by hand."""

from __future__ import annotations

import pytest

from applique.typeset.fonts import open_typeface
from applique.typeset.strokes import narrowest_stroke


def test_the_stroke_of_a_plain_i_is_its_width(dejavu_bold: str) -> None:
    """The I of DejaVu Sans Bold is a bar: 376 units wide, its H 1493 high, by fontTools' own bounds: 25.2 %."""
    from fontTools.pens.boundsPen import BoundsPen
    from fontTools.ttLib import TTFont

    font = TTFont(dejavu_bold)
    boxes = {}
    for letter in "IH":
        pen = BoundsPen(font.getGlyphSet())
        font.getGlyphSet()[letter].draw(pen)
        boxes[letter] = pen.bounds
    share = (boxes["I"][2] - boxes["I"][0]) / boxes["H"][3]
    assert narrowest_stroke(open_typeface(dejavu_bold), "I") == pytest.approx(share, abs=0.005)


def test_the_narrowest_letter_counts_and_weight_tells() -> None:
    bold, thin = open_typeface("Montserrat"), open_typeface("Montserrat", {"weight": 100})
    assert narrowest_stroke(bold, "IE") == pytest.approx(narrowest_stroke(bold, "E"))
    assert narrowest_stroke(bold, "IE") < narrowest_stroke(bold, "I")
    assert narrowest_stroke(thin, "HOME") < 0.05 < narrowest_stroke(bold, "HOME")
