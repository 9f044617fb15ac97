"""Fonts found, opened and refused."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib import TTFont

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.language import american
from applique.panel import PanelPlan, place_rows
from applique.typeset.bundled import BUNDLED, bundled_folder
from applique.typeset.describe import describe_font
from applique.typeset.fonts import open_typeface, resolve_font

FontMaker = Callable[..., str]
LILITA = bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf"


def test_every_bundled_font_lies_beside_its_license() -> None:
    for font in BUNDLED:
        file = bundled_folder() / font.file
        assert file.is_file()
        assert "SIL OPEN FONT LICENSE" in (file.parent / "OFL.txt").read_text("utf-8-sig").upper()


@pytest.mark.parametrize(
    "name", ["fredoka", "FREDOKA", "lilita one", "LilitaOne", "baloo2", "Barlow Condensed"]
)
def test_names_are_found_however_they_are_typed(name: str) -> None:
    assert resolve_font(name)[1] is not None


def test_a_wrong_name_offers_the_nearest() -> None:
    with pytest.raises(Refusal, match="did you mean “Montserrat”"):
        open_typeface("Monserat")


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"", "no font that can be read"),
        (b"not a font at all", "no font that can be read"),
        (LILITA.read_bytes()[:4000], "no font that can be read"),
        (b"PK\x03\x04" + b"0" * 100, "zip archive"),
    ],
)
def test_damaged_files_are_refused(tmp_path: Path, content: bytes, said: str) -> None:
    path = tmp_path / "bad.ttf"
    path.write_bytes(content)
    with pytest.raises(Refusal, match=said):
        open_typeface(str(path))


@pytest.mark.parametrize("flavor", ["woff", "woff2"])
def test_web_fonts_from_a_download_open(tmp_path: Path, flavor: str) -> None:
    font = TTFont(LILITA)
    font.flavor = flavor
    path = tmp_path / f"lilita.{flavor}"
    font.save(path)
    theirs, ours = open_typeface(str(path)), open_typeface("Lilita One")
    assert theirs.cap_height_fu == ours.cap_height_fu


def test_axes_are_set_in_shaping_and_outlines_alike() -> None:
    light, heavy = (open_typeface("Montserrat", {"weight": weight}) for weight in (200, 900))
    glyph = light.hb_font.get_nominal_glyph(ord("I"))
    assert light.outline(((glyph, 0.0, 0.0),)).area() < heavy.outline(((glyph, 0.0, 0.0),)).area() / 3
    assert light.hb_font.get_glyph_h_advance(glyph) < heavy.hb_font.get_glyph_h_advance(glyph)


@pytest.mark.parametrize(
    ("font", "axes", "said"),
    [
        ("Fredoka", {"weight": 900}, "weight from 300 to 700"),
        ("Fredoka", {"opsz": 9}, "has no axis “opsz”"),
        ("Lilita One", {"weight": 400}, "one weight only"),
    ],
)
def test_axes_out_of_range_are_refused(font: str, axes: dict[str, float], said: str) -> None:
    with pytest.raises(Refusal, match=said):
        open_typeface(font, axes)


def _high(top: int) -> tuple[tuple[tuple[int, int], ...], ...]:
    """A glyph of one bar that reaches up to `top`."""
    return (((50, 0), (50, top), (300, top), (300, 0)),)


def _panel(font: str, *rows: str) -> PanelPlan:
    lettering = {"font": font, "cap_height": "5in"}
    return place_rows(design_from_mapping({"row": [{"text": row} for row in rows], "lettering": lettering}))


def test_a_font_of_figures_is_sized_by_its_figures(font_of: FontMaker) -> None:
    """The 7 is the tallest of them; a sign that is taller still does not count."""
    font = font_of("", {"1": _high(690), "7": _high(700), "#": _high(900)})
    plan = _panel(font, "17")
    assert [cut.ink[3] - cut.ink[1] for cut in plan.rows[0].cuts] == pytest.approx([5 * 690 / 700, 5])
    assert [str(notice.what) for notice in plan.notices] == [
        "Trial has no letters; its letter height is measured on the figure “7”"
    ]
    assert "  no H: its letter height is measured on “7”" in describe_font(font).as_text(american())


def test_a_font_of_ornaments_is_sized_by_the_tallest_sign_asked_for(font_of: FontMaker) -> None:
    """In all rows, so that they are of one size; what nobody asked for does not count."""
    font = font_of("", {"★": _high(400), "♥": _high(500), "♣": _high(2000)})
    plan = _panel(font, "★", "♥★")
    assert [cut.ink[3] - cut.ink[1] for row in plan.rows for cut in row.cuts] == pytest.approx([4, 5, 4])
    assert [str(notice.what) for notice in plan.notices] == [
        "Trial has no letters or figures; its letter height is measured on your tallest sign, “♥”"
    ]
    keys = {open_typeface(font, signs=signs).key for signs in ("★", "♥", "★♥", "")}
    assert len(keys) == 3, "the same signs at another scale are other templates"
    assert describe_font(font).height_on == "♣"
    assert describe_font(font, sample="★").height_on == "★"
    assert describe_font("Rubik").height_on == ""


@pytest.mark.parametrize("table", ["EBDT", "CBDT", "sbix", "SVG "])
def test_a_font_of_pictures_is_called_one(table: str, font_of: FontMaker) -> None:
    """Without outlines, or with outlines that are all empty."""
    for glyphs in (None, {"H": ()}):
        with pytest.raises(Refusal, match=r"holds pictures of letters .*, no outlines") as refused:
            open_typeface(font_of("H", glyphs, pictures=table))
        assert "TrueType or OpenType" in str(refused.value.problems[0].fix)
        assert "again" not in str(refused.value.problems[0].fix)


def test_a_font_with_nothing_in_it_is_refused(font_of: FontMaker) -> None:
    with pytest.raises(Refusal, match="nothing in it has an outline to cut"):
        open_typeface(font_of("", {"H": (), "1": ()}))


def test_a_letter_without_area_is_refused_with_its_place(font_of: FontMaker) -> None:
    """A sliver between two curves, flatter than a letter's edge is ever drawn."""
    pen = TTGlyphPen(None)
    pen.moveTo((0, 0))
    pen.qCurveTo((60, 2), (120, 0))
    pen.qCurveTo((60, -2), (0, 0))
    pen.closePath()
    font = font_of("", {"H": _high(32_000), "A": pen.glyph()})
    with pytest.raises(
        Refusal, match="row 1, letter 2: Trial has no outline to cut for “A”: it covers no fabric"
    ):
        _panel(font, "HA")


@pytest.mark.parametrize("name", ["fonts/\udcff.ttf", "\ud800", "fonts/\0.ttf"])
def test_a_name_that_is_no_text_is_refused_in_words(name: str) -> None:
    with pytest.raises(Refusal) as refused:
        open_typeface(name)
    str(refused.value).encode("utf-8")
