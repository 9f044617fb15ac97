"""Text to letters: what is typed, in which order it is drawn, and what a font cannot spell."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from fontTools.ttLib import TTFont
from shapely import affinity

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.panel import place_rows
from applique.pattern import draft
from applique.typeset.bundled import BUNDLED, bundled_folder
from applique.typeset.fonts import open_typeface, typeface_from
from applique.typeset.shaping import SPACE_OF_EM, is_connected, shape_text
from applique.typeset.signs import letter_numbers
from applique.typeset.spacing import Cut, RowSetting, set_row
from applique.typeset.typeface import Typeface

SPACES = " \u00a0\u1680\u2000\u2001\u2002\u2003\u2004\u2005\u2006\u2007\u2008\u2009\u200a\u202f\u205f\u3000\t\u2028"
"""Every space of Unicode (general category Zs, UAX 44), a tab and a line separator."""
UNSEEN = (
    "\u2066\u2067\u2068\u2069\u200e\u200b\u2060\ufeff\u00ad\u034f\ufe0f\u200c\u200d\u3164\ufff9\U000e0041"
)
"""Isolates, marks of direction, zero-width and soft signs, joiners, selectors, fillers, annotations and tags."""


def _drawn(text: str, font: str) -> str:
    return "".join(letter.text for letter in shape_text(text, open_typeface(font)))


def test_case_is_kept_as_typed() -> None:
    assert _drawn("Row rOW", "Fredoka") == "Row rOW"


def test_letters_are_numbered_as_typed_without_spaces() -> None:
    letters = shape_text("a b c", open_typeface("Rubik"))
    assert [letter.numbers for letter in letters] == [(1,), (), (2,), (), (3,)]


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
    assert [problem.where.letter for problem in problems] == [1, 3, 4]
    assert "“Ж” (U+0416) in Lilita One" in str(problems[0].what)
    assert "Montserrat" in str(problems[0].fix)
    assert "no bundled font does" in str(problems[1].fix)


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


def test_a_space_that_a_font_lacks_is_no_box_of_fabric(font_of: Callable[..., str]) -> None:
    """A font without a space draws its box for what it lacks; a space needs no outline."""
    typeface = _built(font_of("HILO"))
    for space in SPACES:
        letters = shape_text(f"HI{space}LO", typeface)
        assert [letter.numbers for letter in letters] == [(1,), (2,), (), (3,), (4,)]
        assert letters[2].glyphs == ()
        assert 0 < letters[2].advance_fu <= 1000
        if space in " \u00a0\t":
            assert letters[2].advance_fu == SPACE_OF_EM * 1000


def test_words_in_a_font_without_a_space_are_cut_as_their_letters(font_of: Callable[..., str]) -> None:
    (row,) = place_rows(_design("HI LO", font_of("HILO"))).rows
    assert [(cut.text, cut.word) for cut in row.cuts] == [("H", 0), ("I", 0), ("L", 1), ("O", 1)]


def test_a_space_takes_its_width_from_the_font() -> None:
    typeface = open_typeface("Rubik")
    own = typeface.hb_font.get_glyph_h_advance(typeface.hb_font.get_nominal_glyph(ord(" ")))
    for space in SPACES:
        letters = shape_text(f"a{space}b", typeface)
        assert [letter.numbers for letter in letters] == [(1,), (), (2,)]
        assert letters[1].advance_fu == own or space not in " \u00a0\t"
        assert letters[1].advance_fu > 0


def _design(text: str, font: str, **line: object) -> Any:
    lettering = {"font": font, "cap_height": "5in"}
    return design_from_mapping({"row": [{"text": text, **line}], "lettering": lettering})


def _built(path: str) -> Typeface:
    """A font that a test has built, opened in this process."""
    return typeface_from(Path(path).read_bytes(), "trial.ttf", {})


def _cuts(text: str, typeface: Typeface) -> list[Cut]:
    setting = RowSetting(tracking_fu=0.0, least_gap_fu=0.0, even=False, chord_error_fu=1.0)
    return list(set_row(shape_text(text, typeface), typeface, setting).cuts)


def _same_cuts(cut: Cut) -> tuple[object, ...]:
    return cut.letters, cut.glyphs, cut.x_fu, cut.word


@pytest.mark.parametrize("font", ["Rubik", "Pacifico", None])
def test_signs_that_nobody_sees_are_never_letters(font: str | None, font_of: Callable[..., str]) -> None:
    """As phones and chat programs add them: in front, between letters, around a word, in a font without a space too."""
    typeface = open_typeface(font) if font else _built(font_of("homeLO"))
    plain = [_same_cuts(cut) for cut in _cuts("home LO", typeface)]
    for sign in UNSEEN:
        for pasted in (f"{sign}home LO", f"home {sign}LO{sign}", f"ho{sign}me LO"):
            assert [_same_cuts(cut) for cut in _cuts(pasted, typeface)] == plain, ascii(pasted)


def test_a_filler_of_another_script_takes_no_room() -> None:
    """A Hangul filler, which HarfBuzz gives a width, as fonts may draw it."""
    first, second = shape_text("a\u115fb", open_typeface("Rubik"))
    assert second.x_fu == first.advance_fu


def test_a_name_pasted_with_isolates_is_drawn_as_it_reads() -> None:
    """UAX 9: an isolate keeps the order within; what stands around it does not feel it."""
    assert _drawn("\u2068HOME\u2069", "Rubik") == "HOME"
    assert _drawn("\u2067שלום\u2069 HOME", "Rubik") == "םולש HOME"
    assert _drawn("בית \u2066a 1\u2069 2", "Rubik") == "2 a 1 תיב"
    assert _drawn("\u202eabc\u202c", "Rubik") == "cba"


def test_joiners_still_do_their_work() -> None:
    """Unicode, 23.2: a non-joiner between two Arabic letters parts them, a joiner makes a letter that joins nothing."""

    def drawn(text: str) -> list[int]:
        return [glyph for letter in shape_text(text, open_typeface("Cairo")) for glyph, _, _ in letter.glyphs]

    joined, alone = drawn("بب"), drawn("ب")
    assert drawn("ب\u200cب") == alone * 2
    assert not set(joined) & set(alone)
    assert drawn("ب\u200d") == joined[-1:]


def test_accents_belong_to_their_letter_whatever_their_script(font_of: Callable[..., str]) -> None:
    """A Cyrillic mark on a Latin letter: two scripts, one letter (UAX 29)."""
    (letter,) = shape_text("a\u0483", _built(font_of("a\u0483")))
    assert letter.numbers == (1,)


def test_a_sign_that_nobody_typed_is_not_drawn(font_of: Callable[..., str]) -> None:
    """A vowel sign without its letter would be set on a dotted circle, as in a book about scripts."""
    (letter,) = shape_text("\u093f", _built(font_of("H\u093f\u25cc")))
    assert len(letter.glyphs) == 1


@pytest.mark.parametrize(
    ("text", "numbers"),
    [("प्रेम", [(1,), (2,)]), ("क्ष त्र", [(1,), (), (2,)])],
)
def test_a_conjunct_is_one_letter(text: str, numbers: list[tuple[int, ...]]) -> None:
    """Extended grapheme clusters, rule GB9c of UAX 29."""
    assert [letter.numbers for letter in shape_text(text, open_typeface("Baloo 2"))] == numbers


_TOGETHER = "feature ccmp { sub uni0061 uni0062 by a_b; sub uni0063 by blank; } ccmp;"
"""a and b are one glyph; c leaves its drawing to its neighbor."""
_GLYPHS = {"a_b": (((50, 0), (50, 700), (400, 0)),), "blank": ()}


@pytest.mark.parametrize(
    ("word", "numbers"),
    [
        ("ខ្មែរ", [(1,), (2,)]),
        ("မြန်မာ", [(1,), (2,), (3, 4)]),
        ("abd", [(1, 2), (3,)]),
        ("dcd", [(1, 2), (3,)]),
        ("cd", [(1, 2)]),
    ],
)
def test_every_letter_as_typed_is_in_a_piece(
    word: str, numbers: list[tuple[int, ...]], font_of: Callable[..., str]
) -> None:
    """Where a font draws letters in one piece, the piece has the numbers of all of them."""
    signs = "".join(dict.fromkeys(word.replace(" ", "")))
    latin = word.isascii()
    font = font_of("abcd" if latin else signs, _GLYPHS if latin else {}, _TOGETHER if latin else "")
    assert [cut.letters for cut in _cuts(word, _built(font))] == numbers


def test_signs_of_one_letter_that_a_font_draws_apart_are_cut_as_one(font_of: Callable[..., str]) -> None:
    """The sign for the end of a verse goes around the number after it: one letter (rule GB9b of UAX 29)."""
    (letter,) = shape_text("\u06dd\u0661", _built(font_of("\u06dd\u0661H")))
    assert letter.numbers == (1,)
    assert len(letter.glyphs) == 2


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("e\u0301 b", (1, 1, 0, 2)),
        ("e\u200e\u0301", (1, 1, 1)),
        ("\u2067a\u00adb\u2069", (0, 1, 0, 2, 0)),
        ("a\u200d\u0308", (1, 1, 1)),
        (" \u0308", (1, 1)),
    ],
)
def test_each_sign_has_the_number_of_its_letter(text: str, numbers: tuple[int, ...]) -> None:
    """Extended grapheme clusters (UAX 29), with direction marks and soft hyphens left out of account."""
    assert letter_numbers(text) == numbers


def test_a_letter_that_nothing_draws_is_refused(font_of: Callable[..., str]) -> None:
    """The font draws c with its neighbor only; א has a glyph of its own with nothing in it."""
    with pytest.raises(Refusal, match="letter 2: Trial has no outline to cut for “c”"):
        shape_text("d c d", _built(font_of("abcd", _GLYPHS, _TOGETHER)))
    with pytest.raises(Refusal, match="letter 2: Trial has no outline to cut for “א”"):
        shape_text("שאל", _built(font_of("של", {"א": ()})))


def test_the_second_letter_of_a_conjunct_word_can_be_nudged_and_cut_from_its_spot() -> None:
    plain, nudged = (
        place_rows(_design("प्रेम", "Baloo 2", nudge=nudge)).rows[0]
        for nudge in ([], [{"letter": 2, "right": "1in", "up": "1/2in"}])
    )
    (cut,) = (cut for cut in plain.cuts if 2 in cut.letters)
    (moved,) = (cut for cut in nudged.cuts if 2 in cut.letters)
    assert (moved.place.x - cut.place.x, moved.place.y - cut.place.y) == pytest.approx((1.0, 0.5))
    fussy = [{"letter": 2, "along": "3in", "across": "4in"}]
    pattern = draft(_design("प्रेम", "Baloo 2", fussy=fussy))
    key = next(cut.key for cut in pattern.panel.rows[0].cuts if 2 in cut.letters)
    (need,) = pattern.cloth
    assert need.nest is not None
    (spot,) = (spot for spot in need.nest.placements if spot.key == key)
    rough = next(piece.shape for piece in need.pieces if piece.key == key)
    turned = affinity.translate(
        affinity.rotate(rough, spot.place.turn_deg, origin=(0, 0)), spot.place.x, spot.place.y
    )
    assert turned.bounds[:2] == pytest.approx((3, 4))


_BY_CHANCE = """
feature rand { sub uni0061 from [a.1 a.2 a.3]; sub uni0062 from [b.1 b.2]; } rand;
"""
_VARIANTS = {
    f"{letter}.{number}": (((50, 0), (50, 700 - 9 * number), (300, 700 - 9 * number), (300, 0)),)
    for letter, most in (("a", 3), ("b", 2))
    for number in range(1, most + 1)
}


def test_variants_by_chance_are_off_unless_asked_for_and_then_come_in_turn(
    font_of: Callable[..., str],
) -> None:
    """OpenType feature `rand`: on by default in the specification, which would cut an a that nobody chose."""
    typeface = _built(font_of("abc", _VARIANTS, _BY_CHANCE))

    def names(text: str, *, alternates: bool) -> list[str]:
        letters = shape_text(text, typeface, alternates=alternates)
        return [typeface.hb_font.glyph_to_string(letter.glyphs[0][0]) for letter in letters if letter.glyphs]

    assert names("aabaac", alternates=False) == [
        "uni0061",
        "uni0061",
        "uni0062",
        "uni0061",
        "uni0061",
        "uni0063",
    ]
    drawn = names("aaba acb", alternates=True)
    assert drawn == ["a.1", "a.2", "b.1", "a.3", "a.1", "uni0063", "b.2"]
