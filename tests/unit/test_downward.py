"""Rows that run down: how letters stand in them, where the font puts them, and what is set by the cap height."""

from __future__ import annotations

import itertools
import subprocess
from pathlib import Path

import pytest
import uharfbuzz as hb

from applique.errors import Refusal
from applique.typeset.column import set_column
from applique.typeset.downward import PITCH, SPACE, Stop, shape_down
from applique.typeset.fonts import open_typeface
from applique.typeset.orientation import Orientation, orientation
from applique.typeset.spacing import Cut, RowSetting
from applique.typeset.typeface import Typeface
from tests.conftest import need_tool
from tests.unit.down_font import CHARACTERS, GLYPHS, VRT2, build

PLAIN = RowSetting(tracking_fu=0.0, least_gap_fu=0.0, even=False, chord_error_fu=0.5)


@pytest.fixture(scope="module")
def square(tmp_path_factory: pytest.TempPathFactory) -> Typeface:
    """A font with a vert feature, vmtx and VORG, as fonts for Japanese have them."""
    return open_typeface(str(build(tmp_path_factory.mktemp("font") / "square.otf")), {})


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Typeface:
    """The same without vmtx and VORG."""
    return open_typeface(str(build(tmp_path_factory.mktemp("font") / "bare.otf", own_advances=False)), {})


@pytest.fixture(scope="module")
def fredoka() -> Typeface:
    return open_typeface("Fredoka", {})


def _cuts(text: str, typeface: Typeface, upright: bool | None = None) -> tuple[Cut, ...]:
    return set_column(shape_down(text, typeface, upright=upright), typeface, PLAIN).cuts


def _by_harfbuzz(text: str, typeface: Typeface) -> list[tuple[int, float, float]]:
    """What HarfBuzz alone says of a text from top to bottom: each glyph and where its origin stands."""
    buffer = hb.Buffer()
    buffer.add_str(text)
    buffer.guess_segment_properties()
    buffer.direction = "ttb"
    hb.shape(typeface.hb_font, buffer, {})
    found, y = [], 0.0
    for info, position in zip(buffer.glyph_infos, buffer.glyph_positions, strict=True):
        found.append((info.codepoint, float(position.x_offset), y + position.y_offset))
        y += position.y_advance
    return found


@pytest.mark.parametrize(
    ("sign", "stands"),
    [
        *[(sign, Orientation.UPRIGHT) for sign in "花あっ。、１Ａ한※©！"],
        *[(sign, Orientation.FORM_OR_TURNED) for sign in "ー「」（）〜：［＿"],
        *[(sign, Orientation.TURNED) for sign in "Aa1é-…—“אш"],
    ],
)
def test_signs_stand_as_the_annex_on_vertical_text_says(sign: str, stands: Orientation) -> None:
    """UAX 50, Vertical_Orientation, by its classes U and Tu, Tr, R: values from memory of its table and sections."""
    assert orientation(sign) is stands


def test_the_table_of_orientations_is_that_of_another_copy_of_the_unicode_database() -> None:
    """Every character against the property Vertical_Orientation as Perl carries it, of what its Unicode has."""
    said = (
        "for my $c (0..0x2FFFF) { next if $c>=0xD800 && $c<=0xDFFF; my $s=chr $c; next unless $s=~/\\p{Assigned}/;"
        "print $s=~/\\p{Vo=Tr}/ ? 'F' : $s=~/\\p{Vo=R}/ ? 'R' : 'U', ' ', $c, qq(\\n) }"
    )
    told = subprocess.run([need_tool("perl"), "-e", said], capture_output=True, text=True, check=True)
    pairs = [line.split() for line in told.stdout.splitlines()]
    letters = {Orientation.UPRIGHT: "U", Orientation.FORM_OR_TURNED: "F", Orientation.TURNED: "R"}
    assert len(pairs) > 100_000
    assert [code for kind, code in pairs if letters[orientation(chr(int(code)))] != kind] == []


def test_letters_stand_where_harfbuzz_puts_them_from_top_to_bottom(square: Typeface) -> None:
    """Glyphs of the feature vert, advances of vmtx, origins of VORG: HarfBuzz by itself, and the font's numbers."""
    text = "花っー手。"
    cuts = _cuts(text, square)
    assert [(cut.glyphs[0][0], cut.x_fu, cut.y_fu) for cut in cuts] == _by_harfbuzz(text, square)
    names = ["flower", "small.vert", "long.vert", "hand", "stop.vert"]
    assert [list(GLYPHS)[cut.glyphs[0][0]] for cut in cuts] == names
    top = 0.0
    for cut, name in zip(cuts, names, strict=True):
        *_, across, down, origin = GLYPHS[name]
        assert (cut.x_fu, cut.y_fu) == (-across / 2, top - origin)
        top -= down
    assert [cut.letters for cut in cuts] == [(1,), (2,), (3,), (4,), (5,)]
    assert all(cut.turn_deg == 0.0 for cut in cuts)


def test_forms_that_only_vrt2_has_are_taken_and_its_turned_letters_are_not(tmp_path: Path) -> None:
    """OpenType, registered features: `vrt2` has what `vert` has, and letters across already turned. HarfBuzz leaves it
    alone. In this font it would draw a 1 for an H."""
    font = open_typeface(str(build(tmp_path / "vrt2.otf", features=VRT2)), {})
    kana, mark, h = _cuts("っーH", font, upright=True)
    assert [list(GLYPHS)[cut.glyphs[0][0]] for cut in (kana, mark, h)] == ["small.vert", "long.vert", "H"]
    assert {cut.turn_deg for cut in (kana, mark, h)} == {0.0}


def test_a_bracket_without_a_form_of_its_own_is_turned(square: Typeface) -> None:
    """UAX 50, Tr: by the font's form, else turned. The font has one for the long-vowel mark and none for a bracket."""
    mark, bracket, hand = _cuts("ー「手", square)
    assert (mark.turn_deg, bracket.turn_deg, hand.turn_deg) == (0.0, -90.0, 0.0)
    assert list(GLYPHS)[bracket.glyphs[0][0]] == "bracket"


def test_latin_words_are_turned_a_quarter_with_their_capitals_in_the_middle(square: Typeface) -> None:
    hand, *word, last = _cuts("手Ha a手", square)
    assert [cut.text for cut in word] == ["H", "a", "a"]
    assert {cut.turn_deg for cut in word} == {-90.0}
    heights = [square.bounds(word[0].glyphs)[side] + word[0].x_fu for side in (1, 3)]
    assert heights == [-350.0, 350.0]  # an H of 700
    across = {name: GLYPHS[name][4] for name in ("H", "a", "space")}
    top = -GLYPHS["hand"][5]
    assert [cut.y_fu for cut in word] == [
        top,
        top - across["H"],
        top - across["H"] - across["a"] - across["space"],
    ]
    assert last.y_fu == top - sum(across[name] for name in ("H", "a", "space", "a")) - GLYPHS["hand"][6]
    assert [cut.word for cut in (hand, *word, last)] == [0, 0, 0, 1, 1]
    assert [cut.letters for cut in word] == [(2,), (3,), (4,)]


@pytest.mark.parametrize(("digits", "turned"), [("1", False), ("12", False), ("121", True), ("1a", True)])
def test_one_or_two_digits_stand_upright_in_one_place(square: Typeface, digits: str, turned: bool) -> None:
    """Tate-chu-yoko as W3C's Requirements for Japanese Text Layout describes it (from memory): digits side by side in
    the square of one letter, in its middle. More of them, or digits in a Latin word, are turned."""
    cuts = _cuts(f"手{digits}手", square)
    inner, last = cuts[1:-1], cuts[-1]
    assert {cut.turn_deg for cut in inner} == ({-90.0} if turned else {0.0})
    if turned:
        return
    assert len({cut.y_fu for cut in inner}) == 1
    left = min(cut.x_fu + square.bounds(cut.glyphs)[0] for cut in inner)
    right = max(cut.x_fu + square.bounds(cut.glyphs)[2] for cut in inner)
    assert left == -right
    low, high = (inner[0].y_fu + square.bounds(inner[0].glyphs)[side] for side in (1, 3))
    assert (low + high) / 2 == -1000 - 500  # the middle of the em below the first letter
    assert last.y_fu == -2000 - GLYPHS["hand"][6]


def test_letters_that_would_be_turned_stand_upright_where_the_row_says_so(square: Typeface) -> None:
    cuts = _cuts("手Ha", square, upright=True)
    assert [(cut.glyphs[0][0], cut.x_fu, cut.y_fu) for cut in cuts] == [
        *_by_harfbuzz("手", square),
        *[(glyph, x, y - 1000) for glyph, x, y in _by_harfbuzz("Ha", square)],
    ]
    turned = _cuts("Ha", square, upright=False)
    assert {cut.turn_deg for cut in turned} == {-90.0}
    assert {cut.turn_deg for cut in _cuts("Ha", square)} == {0.0}  # by themselves they stand upright


def test_a_square_letter_of_a_font_without_such_advances_takes_what_harfbuzz_says(bare: Typeface) -> None:
    text = "花手"
    assert [(cut.glyphs[0][0], cut.x_fu, cut.y_fu) for cut in _cuts(text, bare)] == _by_harfbuzz(text, bare)
    h, a = _cuts("Ha", bare)
    assert (h.y_fu, a.y_fu) == (-700.0, -700.0 - PITCH * 700)  # and a Latin one what its cap height says


def test_latin_letters_of_a_font_that_says_nothing_stand_a_fifth_more_than_their_height_apart(
    fredoka: Typeface,
) -> None:
    cap = fredoka.cap_height_fu
    cuts = _cuts("AN NA", fredoka)
    steps = [upper.y_fu - lower.y_fu for upper, lower in itertools.pairwise(cuts)]
    assert steps == pytest.approx([PITCH * cap, (PITCH + SPACE) * cap, PITCH * cap])
    for cut in cuts:
        left, _, right, _ = fredoka.bounds(cut.glyphs)
        assert cut.x_fu + (left + right) / 2 == pytest.approx(0.0)
    assert [cut.word for cut in cuts] == [0, 0, 1, 1]
    across = shape_row(fredoka)
    assert [cut.glyphs for cut in cuts] == across  # the same templates as in a row across


def shape_row(typeface: Typeface) -> list[object]:
    from applique.typeset.shaping import shape_text
    from applique.typeset.spacing import set_row

    return [cut.glyphs for cut in set_row(shape_text("AN NA", typeface), typeface, PLAIN).cuts]


def test_letters_keep_the_least_gap_below_one_another(fredoka: Typeface) -> None:
    """The closed form is the capital I: straight stems end to end, a fifth of the cap height apart before."""
    setting = RowSetting(
        tracking_fu=0.0, least_gap_fu=fredoka.cap_height_fu / 2, even=False, chord_error_fu=0.5
    )
    cuts = set_column(shape_down("III", fredoka), fredoka, setting).cuts
    _, low, _, high = fredoka.bounds(cuts[0].glyphs)
    assert cuts[0].y_fu + low - (cuts[1].y_fu + high) == pytest.approx(fredoka.cap_height_fu / 2, abs=0.01)
    assert cuts[0].y_fu - cuts[1].y_fu == pytest.approx(cuts[1].y_fu - cuts[2].y_fu, abs=0.01)


def test_tracking_comes_between_letters_and_not_after_the_last(square: Typeface) -> None:
    tracked = RowSetting(tracking_fu=70.0, least_gap_fu=0.0, even=False, chord_error_fu=0.5)
    plain, wider = (set_column(shape_down("手花手", square), square, one) for one in (PLAIN, tracked))
    moved = [one.y_fu - other.y_fu for one, other in zip(plain.cuts, wider.cuts, strict=True)]
    assert moved == [0.0, 70.0, 140.0]


def test_evened_white_between_squares_is_the_same_below_each(square: Typeface) -> None:
    """Squares have nothing but the white between their edges, so that is what is evened; its sum stays."""
    setting = RowSetting(tracking_fu=0.0, least_gap_fu=0.0, even=True, chord_error_fu=0.5)
    stops = shape_down("手花花手", square)
    plain, even = (set_column(stops, square, one).cuts for one in (PLAIN, setting))

    def whites(cuts: tuple[Cut, ...]) -> list[float]:
        edges = [
            (cut.y_fu + square.bounds(cut.glyphs)[1], cut.y_fu + square.bounds(cut.glyphs)[3]) for cut in cuts
        ]
        return [upper[0] - lower[1] for upper, lower in itertools.pairwise(edges)]

    assert len({round(white, 6) for white in whites(plain)}) > 1
    # Squares of unlike width: the narrower one leaves white at its sides, counted to a depth of 0.15 cap heights.
    narrow = 80 / 880 * 0.15 * square.cap_height_fu
    first, second, third = whites(even)
    assert first + narrow == pytest.approx(second, abs=4)
    assert third + narrow == pytest.approx(second, abs=4)
    assert sum(whites(even)) == pytest.approx(sum(whites(plain)))


def test_letters_that_join_are_refused_upright_and_set_when_turned() -> None:
    cairo = open_typeface("Cairo", {})
    with pytest.raises(Refusal) as refused:
        shape_down("سلام", cairo)
    assert refused.value.problems[0].kind == "joined-letters-down"
    (stop,) = shape_down("سلام", cairo, upright=False)
    assert isinstance(stop, Stop)
    assert stop.turned


def test_what_a_font_lacks_is_refused_as_in_a_row_across(square: Typeface, tmp_path: Path) -> None:
    with pytest.raises(Refusal) as refused:
        shape_down("手雨", square)
    assert refused.value.problems[0].kind == "letter-missing"
    assert refused.value.problems[0].where.letter == 2
    assert "雨" not in CHARACTERS
