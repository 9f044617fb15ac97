"""Outlines against FreeType, advances against HarfBuzz, published values against both."""

from __future__ import annotations

import string
import unicodedata

import freetype
import pytest
import shapely
import uharfbuzz as hb
from fontTools.pens.areaPen import AreaPen
from fontTools.pens.boundsPen import BoundsPen
from shapely.geometry import LineString
from shapely.geometry.base import BaseGeometry
from shapely.ops import polygonize

from applique.geometry.outline import Contour, Segment
from applique.geometry.points import Point
from applique.typeset.bundled import BUNDLED, bundled_folder
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text
from applique.typeset.typeface import Typeface

LETTERS = string.ascii_letters + string.digits
NAMES = [font.name for font in BUNDLED]


def _freetype_face(name: str, typeface: Typeface) -> freetype.Face:
    bundled = next(font for font in BUNDLED if font.name == name)
    face = freetype.Face(str(bundled_folder() / bundled.file))
    if typeface.facts.axes:
        face.set_var_design_coords([typeface.axes.get(a.tag, a.default) for a in typeface.facts.axes])
    return face


def _freetype_contours(face: freetype.Face, character: str, units_per_em: int) -> list[Contour]:
    """The raw contours of FreeType at 64 units for each font unit, in font units."""
    face.set_char_size(units_per_em * 64, 0, 72, 72)
    face.load_char(character, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_NO_BITMAP)
    walked: list[tuple[Point, list[Segment]]] = []

    def at(point: freetype.FT_Vector) -> Point:
        return (point.x / 64, point.y / 64)

    face.glyph.outline.decompose(
        None,
        move_to=lambda p, _: walked.append((at(p), [])),
        line_to=lambda p, _: walked[-1][1].append((at(p),)),
        conic_to=lambda c, p, _: walked[-1][1].append((at(c), at(p))),
        cubic_to=lambda c, d, p, _: walked[-1][1].append((at(c), at(d), at(p))),
    )
    return [Contour(start=start, segments=tuple(segments)) for start, segments in walked]


def _nonzero(contours: list[Contour], chord_error: float) -> BaseGeometry:
    """The nonzero fill of overlapping contours: faces of their arrangement whose winding is not zero.

    Shapely and the winding rule only; nothing of the code under test but the flattening of one curve.
    """
    rings = [points for contour in contours if len(points := contour.points(chord_error)) > 2]
    edges = shapely.union_all([LineString([*ring, ring[0]]) for ring in rings])
    return shapely.union_all(
        [face for face in polygonize(edges) if _winding(face.representative_point(), rings)]
    )


def _winding(spot: shapely.Point, rings: list[list[Point]]) -> int:
    turns = 0
    for ring in rings:
        for (x0, y0), (x1, y1) in zip(ring, [*ring[1:], ring[0]], strict=True):
            if (y0 <= spot.y) != (y1 <= spot.y) and x0 + (spot.y - y0) / (y1 - y0) * (x1 - x0) > spot.x:
                turns += 1 if y1 > y0 else -1
    return turns


@pytest.mark.parametrize("name", NAMES)
def test_areas_and_bounds_equal_freetype(name: str) -> None:
    typeface = open_typeface(name)
    face = _freetype_face(name, typeface)
    em = typeface.units_per_em
    for character in LETTERS:
        glyph = typeface.hb_font.get_nominal_glyph(ord(character))
        outline = typeface.outline(((glyph, 0.0, 0.0),))
        theirs = _nonzero(_freetype_contours(face, character, em), em / 20_000)
        assert outline.area() == pytest.approx(theirs.area, rel=1e-3), character
        assert outline.bounds() == pytest.approx(theirs.bounds, abs=em * 1e-3), character


@pytest.mark.parametrize("name", NAMES)
def test_advances_equal_freetype_and_harfbuzz(name: str) -> None:
    typeface = open_typeface(name)
    face = _freetype_face(name, typeface)
    blob = hb.Blob.from_file_path(str(bundled_folder() / next(f.file for f in BUNDLED if f.name == name)))
    font = hb.Font(hb.Face(blob))
    font.set_variations(typeface.axes)
    for word in ("WAVE", "Tofu", "AVATAR", "Llama 2024"):
        buffer = hb.Buffer()
        buffer.add_str(word)
        buffer.guess_segment_properties()
        hb.shape(
            font, buffer, {"liga": name == "Pacifico", "clig": name == "Pacifico", "calt": name == "Pacifico"}
        )
        theirs = sum(position.x_advance for position in buffer.glyph_positions)
        assert sum(letter.advance_fu for letter in shape_text(word, typeface)) == theirs
    face.set_char_size(typeface.units_per_em * 64, 0, 72, 72)
    for character in LETTERS:
        (letter,) = shape_text(character, typeface)
        ((glyph, _, _),) = letter.glyphs
        face.load_glyph(glyph, freetype.FT_LOAD_NO_HINTING | freetype.FT_LOAD_NO_BITMAP)
        assert letter.advance_fu == pytest.approx(face.glyph.linearHoriAdvance / 65536, abs=1.0)


# Computed with fontTools 4.68, uharfbuzz 0.57 and FreeType, which agree within 0.01 %. DejaVu Sans Bold as matplotlib
# ships it.
DEJAVU_BOLD_AREAS = {"A": 1199995, "I": 574805, "O": 1341002.917, "B": 1396364.417, "8": 1222475.083}
DEJAVU_BOLD_BOUNDS = {"A": (10, 0, 1575, 1493), "O": (102, -29, 1638, 1520), "B": (188, 0, 1417, 1493)}
DEJAVU_BOLD_ADVANCES = {"AV": 3031, "WAVE": 6597, "To": 2532, "HOME": 6892, "A": 1585, "O": 1741, "B": 1561}


def test_dejavu_bold_areas_bounds_and_advances(dejavu_bold: str) -> None:
    typeface = open_typeface(dejavu_bold)
    for character, area in DEJAVU_BOLD_AREAS.items():
        (letter,) = shape_text(character, typeface)
        assert typeface.outline(letter.glyphs).area() == pytest.approx(area, rel=1e-6)
    for character, bounds in DEJAVU_BOLD_BOUNDS.items():
        (letter,) = shape_text(character, typeface)
        assert typeface.outline(letter.glyphs).bounds() == pytest.approx(bounds, abs=0.01)
    for word, advance in DEJAVU_BOLD_ADVANCES.items():
        assert sum(letter.advance_fu for letter in shape_text(word, typeface)) == advance


def test_overlapping_contours_are_united_not_summed(dejavu: str, dejavu_bold: str) -> None:
    """Computed with fontTools 4.68 and FreeType: Hebrew qof sums to 152344 and covers 551128; ḕ in bold sums to 2036934
    and covers 1109301."""
    (qof,) = shape_text("ק", open_typeface(dejavu))
    assert open_typeface(dejavu).outline(qof.glyphs).area() == pytest.approx(551128, rel=1e-4)
    bold = open_typeface(dejavu_bold)
    glyph = bold.hb_font.get_nominal_glyph(0x1E15)
    assert bold.outline(((glyph, 0.0, 0.0),)).area() == pytest.approx(1109301, rel=1e-4)


def test_hebrew_runs_right_to_left_with_its_advance(dejavu: str) -> None:
    """The advance: computed with uharfbuzz 0.57."""
    letters = shape_text("שלום", open_typeface(dejavu))
    assert [letter.text for letter in letters] == list("םולש")
    assert sum(letter.advance_fu for letter in letters) == 4532


def test_composed_and_combining_accents_give_the_same_glyph(dejavu: str) -> None:
    """Canonical equivalence: UAX 15, Unicode Normalization Forms."""
    typeface = open_typeface(dejavu)
    composed, combining = shape_text("é", typeface), shape_text(unicodedata.normalize("NFD", "é"), typeface)
    assert [letter.glyphs for letter in composed] == [letter.glyphs for letter in combining]


@pytest.mark.parametrize(
    ("name", "cap_height"), [("Cairo", 0.677), ("Pacifico", 0.877), ("Bitter", 0.708), ("Montserrat", 0.7)]
)
def test_cap_height_is_measured_not_believed(name: str, cap_height: float) -> None:
    """Measured beforehand with FreeType; the tables of Cairo, Pacifico and Bitter say .70, .84 and .692."""
    typeface = open_typeface(name)
    assert typeface.cap_height_fu / typeface.units_per_em == pytest.approx(cap_height, abs=0.001)


@pytest.mark.parametrize("character", "AgQ8&")
def test_exact_area_agrees_with_fonttools_pens(character: str) -> None:
    """fontTools' AreaPen and BoundsPen as a second opinion on Green's theorem and the curve extremes."""
    typeface = open_typeface("Lilita One")
    (letter,) = shape_text(character, typeface)
    outline = typeface.outline(letter.glyphs)
    area, bounds = AreaPen(), BoundsPen(None)
    outline.draw(area)
    outline.draw(bounds)
    assert outline.area() == pytest.approx(area.value, rel=1e-9)
    assert outline.bounds() == pytest.approx(bounds.bounds, abs=1e-6)
