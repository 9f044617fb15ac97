"""The clear gap between true shapes, tracking, welding, and the evening of the white."""

from __future__ import annotations

import itertools

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import affinity

from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import shape_text
from applique.typeset.spacing import RowSetting, SetRow, set_row
from applique.typeset.typeface import Typeface


def _row(
    text: str, font: str = "Montserrat", *, gap: float = 0.0, tracking: float = 0.0, even: bool = False
) -> SetRow:
    """`text` set with lengths given as shares of the cap height."""
    typeface = open_typeface(font)
    cap = typeface.cap_height_fu
    setting = RowSetting(
        tracking_fu=tracking * cap, least_gap_fu=gap * cap, even=even, chord_error_fu=cap * 1e-4
    )
    return set_row(shape_text(text, typeface), typeface, setting)


def _gaps(row: SetRow, typeface: Typeface) -> list[float]:
    cap = typeface.cap_height_fu
    shapes = [
        affinity.translate(typeface.shape(cut.glyphs, chord_error_fu=cap * 1e-4), cut.x_fu)
        for cut in row.cuts
    ]
    return [first.distance(second) / cap for first, second in itertools.pairwise(shapes)]


def test_the_gap_of_two_letters_is_that_of_their_shapes_wherever_they_stand() -> None:
    """H and O of Montserrat by GEOS itself; 0 where they overlap, and the same when asked again."""
    typeface = open_typeface("Montserrat")
    h, o = (((typeface.hb_font.get_nominal_glyph(ord(letter)), 0.0, 0.0),) for letter in "HO")
    left, right = (typeface.shape(spot, chord_error_fu=0.25) for spot in (h, o))
    for offset in (0.0, 400.0, 900.0, 1200.5, 900.0):
        expected = shapely.distance(left, affinity.translate(right, offset))
        assert typeface.gap(h, o, offset, chord_error_fu=0.25) == pytest.approx(expected, abs=1e-9)
    assert typeface.gap(h, o, 400.0, chord_error_fu=0.25) == 0


@settings(max_examples=40, deadline=None)
@given(
    st.text("AVLTJWYOQ.'jfgirs-", min_size=2, max_size=6),
    st.floats(0, 0.4),
    st.sampled_from(["Fraunces", "Fredoka"]),
)
def test_the_least_gap_is_kept_between_all_letters(text: str, gap: float, font: str) -> None:
    row = _row(text, font, gap=gap)
    assert all(found >= gap - 1e-4 for found in _gaps(row, open_typeface(font)))


@pytest.mark.parametrize(
    ("text", "font", "gap"), [("T.T", "Fredoka", 0.3), ("V.V", "Fredoka", 0.2), ("Y.Y", "Montserrat", 0.3)]
)
def test_wide_letters_came_too_near_over_a_narrow_one_between_them(text: str, font: str, gap: float) -> None:
    """The stop tucks under both arms; a third letter is measured against the two before it, not the last alone."""
    typeface = open_typeface(font)
    cap = typeface.cap_height_fu
    row = _row(text, font, gap=gap)
    first, stop, third = (
        affinity.translate(typeface.shape(cut.glyphs, chord_error_fu=cap * 1e-4), cut.x_fu)
        for cut in row.cuts
    )
    assert first.distance(third) / cap == pytest.approx(gap, abs=1e-3)
    assert stop.distance(third) / cap > gap + 0.02


def test_letters_move_no_further_than_the_gap_asks() -> None:
    """What the gap had to push stands exactly at it; what was clear already did not move."""
    typeface = open_typeface("Fraunces")
    free, held = _row("Will", "Fraunces"), _row("Will", "Fraunces", gap=0.05)
    for before, after in zip(_gaps(free, typeface), _gaps(held, typeface), strict=True):
        assert after == pytest.approx(max(before, 0.05), abs=2e-4)


def test_tracking_is_added_between_letters_and_not_at_the_end() -> None:
    typeface = open_typeface("Montserrat")
    plain, tracked = _row("HHH"), _row("HHH", tracking=0.1)
    grown = (tracked.ink_fu[2] - tracked.ink_fu[0]) - (plain.ink_fu[2] - plain.ink_fu[0])
    assert grown == pytest.approx(0.2 * typeface.cap_height_fu)


def test_a_word_in_a_connected_script_welds_into_the_pieces_that_join() -> None:
    row = _row("Home", "Pacifico")
    assert [cut.text for cut in row.cuts] == ["H", "ome"]
    typeface = open_typeface("Pacifico")
    assert isinstance(typeface.shape(row.cuts[1].glyphs, chord_error_fu=1), shapely.Polygon)
    assert [cut.word for cut in _row("me too", "Pacifico").cuts] == [0, 1]


def test_arabic_joins_where_its_letters_join() -> None:
    """The letter reh joins only to the right: مرحبا is cut as مر and حبا."""
    row = _row("مرحبا", "Cairo")
    assert [(cut.text, cut.letters) for cut in row.cuts] == [("حبا", (3, 4, 5)), ("مر", (1, 2))]


def test_separate_letters_never_weld_even_where_the_font_lets_them_touch() -> None:
    assert len(_row("Wi", "Fraunces").cuts) == 2


def test_welded_letters_keep_their_area() -> None:
    """Against a union of polygons by GEOS."""
    typeface = open_typeface("Cairo")
    for word in ("محبة", "عائلة", "الحمد"):
        for cut in _row(word, "Cairo").cuts:
            alone = [
                affinity.translate(typeface.shape(((glyph, 0.0, 0.0),), chord_error_fu=0.05), x, y)
                for glyph, x, y in cut.glyphs
            ]
            assert typeface.outline(cut.glyphs).area() == pytest.approx(
                shapely.union_all(alone).area, rel=1e-3
            )


def _whites(text: str, *, even: bool) -> list[float]:
    """The white between neighbors by area from baseline to cap height, by shapely alone, per cap height.

    An open side counts to 0.15 of the cap height, as the eye counts it.
    """
    typeface = open_typeface("Montserrat")
    cap = typeface.cap_height_fu
    row = _row(text, even=even)
    whites: list[float] = []
    for left, right in itertools.pairwise(row.cuts):
        a = affinity.translate(typeface.shape(left.glyphs, chord_error_fu=0.1), left.x_fu)
        b = affinity.translate(typeface.shape(right.glyphs, chord_error_fu=0.1), right.x_fu)
        total = 0.0
        for index in range(200):
            line = shapely.LineString([(-1e5, y := (index + 0.5) / 200 * cap), (1e5, y)])
            edge_a, edge_b = a.intersection(line).bounds, b.intersection(line).bounds
            side_a = min(a.bounds[2] - edge_a[2], 0.15 * cap) if edge_a else 0.15 * cap
            side_b = min(edge_b[0] - b.bounds[0], 0.15 * cap) if edge_b else 0.15 * cap
            total += (b.bounds[0] - a.bounds[2] + side_a + side_b) / 200
        whites.append(total / cap)
    return whites


def test_even_spacing_evens_the_white_by_area() -> None:
    plain, evened = _whites("ROLLTOP", even=False), _whites("ROLLTOP", even=True)
    assert max(plain) - min(plain) > 0.08
    assert max(evened) - min(evened) < 0.02
    assert sum(evened) == pytest.approx(sum(plain), abs=0.05)


def test_an_accent_above_the_capitals_does_not_open_even_spacing() -> None:
    """White is compared up to the cap height, so a row with and without accents is spaced alike."""
    plain, accented = _row("NOHOLOS", even=True), _row("NÖHÓLÔS", even=True)
    assert [cut.x_fu for cut in accented.cuts] == pytest.approx([cut.x_fu for cut in plain.cuts], abs=0.5)


@pytest.mark.parametrize("font", ["Pacifico", "Fraunces", "Bitter", "Fredoka"])
def test_gaps_from_facing_sides_are_the_gaps_of_the_whole_letters(font: str) -> None:
    """Shapely's distance between the whole shapes is the authority."""
    face = open_typeface(font)
    cap = face.cap_height_fu
    spots = [((face.hb_font.get_nominal_glyph(ord(letter)), 0.0, 0.0),) for letter in "LTjfA.oVi"]
    for left in spots:
        for right in spots:
            for offset in (-0.3 * cap, 0.2 * cap, 0.7 * cap, 1.1 * cap, 2.5 * cap):
                first, second = (face.shape(glyphs, chord_error_fu=0.5) for glyphs in (left, right))
                truth = first.distance(affinity.translate(second, offset))
                assert face.gap(left, right, offset, chord_error_fu=0.5) == pytest.approx(truth, abs=1e-6)
