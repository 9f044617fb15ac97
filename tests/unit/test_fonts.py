"""Fonts found, opened and refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from applique.errors import Refusal
from applique.typeset.fonts import BUNDLED, bundled_folder, open_typeface, resolve_font

LILITA = bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf"


def test_every_bundled_font_lies_beside_its_licence() -> None:
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
