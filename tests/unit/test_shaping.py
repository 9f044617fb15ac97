"""Text to letters: what is typed, in which order it is drawn, and what a font cannot spell."""

from __future__ import annotations

from pathlib import Path

import pytest
from fontTools.ttLib import TTFont

from applique.errors import Refusal
from applique.typeset.fonts import BUNDLED, bundled_folder, open_typeface
from applique.typeset.shaping import is_connected, shape_text


def _drawn(text: str, font: str) -> str:
    return "".join(letter.text for letter in shape_text(text, open_typeface(font)))


def test_case_is_kept_as_typed() -> None:
    assert _drawn("Row rOW", "Fredoka") == "Row rOW"


def test_letters_are_numbered_as_typed_without_spaces() -> None:
    letters = shape_text("a b c", open_typeface("Rubik"))
    assert [letter.number for letter in letters] == [1, 0, 2, 0, 3]


def test_separate_letters_stay_separate_where_a_ligature_would_weld_them() -> None:
    assert len(shape_text("office ff fi", open_typeface("Montserrat"))) == 12
    assert len(shape_text("little", open_typeface("Fredoka"))) == 6


def test_right_to_left_words_and_numbers_among_left_to_right_ones() -> None:
    """Unicode Bidirectional Algorithm (UAX 9): digits keep their order inside Hebrew text."""
    assert _drawn("HOME שלום", "Rubik") == "HOME םולש"
    assert _drawn("בית 12", "Rubik") == "12 תיב"
    assert _drawn("(שלום)", "Rubik") == ")םולש("


def test_arabic_letters_take_their_joining_forms() -> None:
    alone = {shape_text(character, open_typeface("Cairo"))[0].glyphs[0][0] for character in "بيت"}
    joined = {letter.glyphs[0][0] for letter in shape_text("بيت", open_typeface("Cairo"))}
    assert not alone & joined


def test_connected_scripts_are_known_by_their_shapes() -> None:
    assert [font.name for font in BUNDLED if is_connected(open_typeface(font.name))] == ["Pacifico"]


def test_every_missing_letter_is_named_with_its_place_and_fonts_that_have_it() -> None:
    with pytest.raises(Refusal) as refused:
        shape_text("Жx日ж", open_typeface("Lilita One"))
    problems = refused.value.problems
    assert [problem.where for problem in problems] == ["letter 1", "letter 3", "letter 4"]
    assert "“Ж” (U+0416) in Lilita One" in problems[0].what
    assert "Montserrat" in problems[0].fix
    assert "no bundled font does" in problems[1].fix


def test_curly_quotes_accents_and_combining_marks_are_spelled() -> None:
    assert _drawn("“Señor’s café”", "Baloo 2") == "“Señor’s café”"
    assert len(shape_text("cafe\u0301", open_typeface("Baloo 2"))) == 4


def test_pictures_for_letters_are_refused(tmp_path: Path) -> None:
    """A font that maps a letter to an empty glyph has nothing to cut."""
    font = TTFont(bundled_folder() / "lilita_one" / "LilitaOne-Regular.ttf")
    font["cmap"].getBestCmap()[ord("Q")] = font.getBestCmap()[ord(" ")]
    path = tmp_path / "noq.ttf"
    font.save(path)
    with pytest.raises(Refusal, match="no outline to cut for “Q”"):
        shape_text("Q", open_typeface(str(path)))
