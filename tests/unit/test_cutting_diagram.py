"""A cutting plan as it is drawn and said: groups, courses, bands, and what a maker reads from the page."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Callable, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from applique.cutting import CutCloth, Lie, Piece, Region, Split
from applique.cutting.diagram import Diagram, draw_cloth, letters_of, of_several_sizes
from applique.design import design_from_mapping
from applique.drawings import Shape
from applique.drawings.cloth import PieceNames, draw_stretches, own_scale
from applique.instructions import ChapterKind, Table, instructions_of
from applique.language import Listing, Message, message
from applique.pattern import draft
from applique.sheets import pattern_pdf
from applique.sheets.drawing import paint_drawing
from applique.sheets.frame import Drawn, Sheet
from applique.supplies import BOUGHT
from applique.units import Units
from applique.words.cutting import cuts_said, folds_said, numbers_said, size_said

Fill = Callable[[Region], Piece | Split | None]


def piece(key: str) -> Fill:
    return lambda _: Piece(key=key, lie=Lie.ALONG)


def cut(way: Lie, *sizes: tuple[float, int, Fill]) -> Fill:
    """Parts side by side, each (size, how many, what it becomes); what remains is left over."""

    def filled(region: Region) -> Split:
        parts: list[Region] = []
        whole = region.length if way is Lie.ACROSS else region.width
        at = Fraction(0)

        def add(size: Fraction, fill: Fill) -> None:
            nonlocal at
            part = (
                Region(x=region.x + at, y=region.y, length=size, width=region.width, fill=None)
                if way is Lie.ACROSS
                else Region(x=region.x, y=region.y + at, length=region.length, width=size, fill=None)
            )
            parts.append(Region(x=part.x, y=part.y, length=part.length, width=part.width, fill=fill(part)))
            at += size

        for size, count, fill in sizes:
            for _ in range(count):
                add(Fraction(size), fill)
        if at < whole:
            add(whole - at, lambda _: None)
        return Split(cut=way, parts=tuple(parts))

    return filled


def cloth(length: float, fill: Fill, *, width: int | Fraction = 42) -> CutCloth:
    root = Region(x=Fraction(0), y=Fraction(0), length=Fraction(length), width=Fraction(width), fill=None)
    return CutCloth(
        supply="bought",
        number=1,
        root=Region(x=root.x, y=root.y, length=root.length, width=root.width, fill=fill(root)),
    )


def diagram(length: float, *sizes: tuple[float, int, Fill], longest: int = 120) -> Diagram:
    made = cloth(length, cut(Lie.ACROSS, *sizes))
    return draw_cloth(made, squaring=Fraction(1), longest=Fraction(longest))


PANEL = cut(Lie.ALONG, (30.5, 1, piece("panel")), (2.5, 4, piece("border")))
SQUARES = cut(Lie.ALONG, (3.5, 12, piece("squares")))
WHOLE = (48.5, 1, PANEL), (2.5, 5, piece("binding")), (3.5, 3, SQUARES)


def test_pieces_that_are_cut_together_are_one_group() -> None:
    groups = {group.key: group for group in diagram(71.5, *WHOLE).groups}
    assert {key: group.count for key, group in groups.items()} == {
        "panel": 1,
        "border": 4,
        "binding": 5,
        "squares": 36,
    }
    at = groups["squares"].region
    assert (at.x, at.length, at.y, at.width) == (Fraction(61), Fraction(21, 2), Fraction(0), Fraction(42))
    assert (groups["border"].length, groups["border"].width) == (Fraction(97, 2), Fraction(5, 2))


def test_bands_count_on_and_equal_ones_are_one() -> None:
    made = diagram(80, *WHOLE)
    assert [str(numbers_said(band)) for band in made.bands] == ["1", "2–6", "7–9"]
    assert [(band.x, band.course.count, band.course.size) for band in made.bands] == [
        (Fraction(0), 1, Fraction(97, 2)),
        (Fraction(97, 2), 5, Fraction(5, 2)),
        (Fraction(61), 3, Fraction(7, 2)),
    ]
    # What is left at the end is named as left over, and is no band.
    assert [(left.x, left.length, left.width) for left in made.leftovers if left.width > 2] == [
        (Fraction(143, 2), Fraction(17, 2), Fraction(42))
    ]


def test_a_cut_is_the_deeper_the_later_it_is_made() -> None:
    made = diagram(71.5, *WHOLE)
    across = {line.x0 for line in made.cuts if line.depth == 1}
    assert across == {Fraction(97, 2), *(61 - n * Fraction(5, 2) for n in range(5)), Fraction(129, 2), 68}
    assert all(line.y0 == 0 and line.y1 == 42 for line in made.cuts if line.depth == 1)
    along = [line for line in made.cuts if line.depth == 2]
    # Four beside the panel, and what is left of them; eleven in each strip of squares.
    assert len(along) == 5 + 3 * 11
    assert all(line.y0 == line.y1 for line in along)


@pytest.mark.parametrize(
    ("longest", "ends"), [(120, [100]), (60, [50, 100]), (30, [20, 50, 80, 100]), (25, [20, 50, 80, 100])]
)
def test_a_long_cloth_is_drawn_in_stretches_that_end_where_a_band_ends(
    longest: int, ends: Sequence[int]
) -> None:
    made = diagram(100, (20, 1, piece("a")), (30, 2, piece("b")), (20, 1, piece("c")), longest=longest)
    assert [int(stretch.end) for stretch in made.stretches] == list(ends)
    # A band keeps its number, and nothing that is named reaches over the end of its stretch.
    assert [band.number for stretch in made.stretches for band in stretch.bands][-1] == 4
    assert [int(stretch.start) for stretch in made.stretches] == [0, *ends[:-1]]


def test_no_stretch_of_several_bands_is_longer_than_may_be() -> None:
    """Of 150 in two stretches of 75 would be even; bands of 50 in make stretches of 50 or 100, and 80 is the most."""
    made = diagram(150, (50, 3, piece("a")), longest=80)
    assert [int(stretch.end) for stretch in made.stretches] == [50, 100, 150]


def test_what_is_named_stays_within_its_stretch() -> None:
    made = diagram(90, (30, 3, piece("a")), longest=65)
    assert [[(group.count, int(group.region.x)) for group in one.groups] for one in made.stretches] == [
        [(2, 0)],
        [(1, 60)],
    ]
    assert [[str(numbers_said(band)) for band in one.bands] for one in made.stretches] == [["1–2"], ["3"]]
    assert [str(numbers_said(band)) for band in made.bands] == ["1–3"]


def test_each_cut_is_said_in_its_order() -> None:
    made = diagram(71.5, *WHOLE)
    letters = letters_of([made])
    assert letters == {"panel": "a", "border": "b", "binding": "c", "squares": "d"}
    said = [
        (depth, str(words))
        for band in made.bands
        for depth, words in cuts_said(band, letters, Units.INCHES, selvages=True)
    ]
    assert said == [
        (0, "Cut across at 48 1/2 in."),
        (1, "Fold it once end to end, so that the next cuts, longer than a mat, are 24 1/4 in long."),
        (1, "Then, parallel to the selvage: 1 at 30 1/2 in, piece a."),
        (1, "Then, parallel to the selvage: 4 at 2 1/2 in, piece b."),
        (0, "Cut 5 strips across, each 2 1/2 in: piece c."),
        (0, "Cut 3 strips across, each 3 1/2 in."),
        (1, "Then, parallel to the selvage: 12 at 3 1/2 in from each, piece d."),
    ]


def test_what_is_cut_on_is_called_by_the_pieces_that_the_drawing_shows_in_it() -> None:
    """It had a number that the drawing did not have."""
    ends = cut(Lie.ACROSS, (12, 2, piece("ends")))
    strip = cut(Lie.ACROSS, (10, 1, cut(Lie.ALONG, (2, 3, piece("tabs")))), (9, 1, piece("label")))
    made = diagram(30, (30, 1, cut(Lie.ALONG, (20, 1, piece("panel")), (4, 2, ends), (6, 1, strip))))
    letters = {"panel": "a", "ends": "b", "tabs": "c", "label": "d"}
    (band,) = made.bands
    assert [
        (depth, str(words))
        for depth, words in cuts_said(band, letters, Units.INCHES, selvages=True, whole=True)
    ] == [
        (0, "Take all of it."),
        (1, "Then, parallel to the selvage: 1 at 20 in, piece a."),
        (1, "Then, parallel to the selvage: 2 at 4 in, strip for b × 4."),
        (2, "From each strip for b × 4, across: 2 at 12 in, piece b."),
        (1, "Then, parallel to the selvage: 1 at 6 in, strip for c × 3 and d."),
        (2, "From the strip for c × 3 and d, across: 1 at 10 in, section for c × 3."),
        (3, "From the section for c × 3, parallel to the selvage: 3 at 2 in, piece c."),
        (2, "From the strip for c × 3 and d, across: 1 at 9 in, piece d."),
    ]


def test_a_piece_without_selvages_is_cut_along_its_grain() -> None:
    """A fat quarter was cut parallel to a selvage that it does not have."""
    made = diagram(18, (18, 1, cut(Lie.ALONG, (4, 2, piece("panel")))))
    said = [
        str(words)
        for band in made.bands
        for _, words in cuts_said(band, {"panel": "a"}, Units.INCHES, selvages=False, whole=True)
    ]
    assert said == ["Take all of it.", "Then, along the grain: 2 at 4 in, piece a."]


def test_cloth_is_folded_before_a_cut_that_is_longer_than_mat_or_ruler() -> None:
    """It stood behind the last cut of the band, and nothing was said of cuts across."""
    sections = cut(Lie.ACROSS, (20, 2, piece("sections")))
    wide = cut(Lie.ALONG, (40, 1, sections), (2, 1, piece("strip")))
    (band,) = diagram(160, (150, 1, wide)).bands
    said = [
        str(words)
        for _, words in cuts_said(band, {"sections": "a", "strip": "b"}, Units.INCHES, selvages=True)
    ]
    assert said == [
        "Cut across at 150 in.",
        "Fold it 3 times end to end, so that the next cuts, longer than a mat, are 18 3/4 in long.",
        "Then, parallel to the selvage: 1 at 40 in, strip for a × 2.",
        "Fold it once side to side, so that the next cuts, longer than a mat, are 20 in long.",
        "From the strip for a × 2, across: 2 at 20 in, piece a.",
        "Then, parallel to the selvage: 1 at 2 in, piece b.",
    ]


@pytest.mark.parametrize(
    ("width", "said"),
    [
        (24, None),
        (
            25,
            "fold it once, selvage edge to selvage edge, and lay the ruler square to the fold: it then has 12 1/2 in",
        ),
        (
            48,
            "fold it once, selvage edge to selvage edge, and lay the ruler square to the fold: it then has 24 in",
        ),
        (
            106,
            "fold it 3 times, selvage edge to selvage edge, and lay the ruler square to the fold: it then has 13 1/4",
        ),
    ],
)
def test_fabric_wider_than_a_ruler_is_folded_for_cuts_across(width: int | Fraction, said: str | None) -> None:
    strips = cloth(20, cut(Lie.ACROSS, (5, 2, piece("strips"))), width=width)
    words = folds_said(draw_cloth(strips, squaring=Fraction(1)), Units.INCHES, selvages=True)
    assert words is None if said is None else said in str(words)


def test_fabric_is_folded_for_the_one_cut_across_that_parts_it_from_the_rest() -> None:
    """A cloth that is bought has a cut behind its only band; one from the stash is taken whole."""
    bought = cloth(20, piece("all"))
    assert folds_said(draw_cloth(bought, squaring=Fraction(1)), Units.INCHES, selvages=True) is not None
    held = replace(bought, supply="have 1")
    assert folds_said(draw_cloth(held, squaring=Fraction(1)), Units.INCHES, selvages=False) is None


def test_letters_go_on_after_z() -> None:
    made = diagram(40, *((1, 1, piece(str(n))) for n in range(30)))
    assert list(letters_of([made]).values())[24:29] == ["y", "z", "aa", "ab", "ac"]


# In the booklet

STASH = {
    "row": [{"text": "HI", "cap_height": "5in"}],
    "panel": {"width": "30in", "height": "36in", "fabric": "Linen"},
    "lettering": {"fabric": "Rust"},
    "fabric": [
        {"name": "Linen", "color": "#eee6d6", "have": ["1 1/4yd"]},
        {"name": "Rust", "color": "#a04a20", "have": ["2 fat quarters", "1 roll of 2 1/2in strips"]},
        {"name": "Moss", "color": "#5a6a30"},
    ],
    "border": [
        {"kind": "squares", "size": "3in", "fabrics": ["Rust", "Moss"]},
        {"kind": "squares", "size": "1in", "fabrics": ["Rust", "Moss"]},
        {"kind": "strip", "width": "2in", "fabrics": ["Rust"]},
    ],
    "binding": {"fabric": "Moss", "width": "2in"},
    "hanging": {"sleeve": True, "fabric": "Moss"},
}


@pytest.fixture(scope="module")
def booklet() -> pypdfium2.PdfDocument:
    return pypdfium2.PdfDocument(pattern_pdf(draft(design_from_mapping(STASH))))


def boxes(page: pypdfium2.PdfPage) -> list[tuple[str, tuple[float, float, float, float]]]:
    """What is written on a page, word by word as it was drawn, and where."""
    found = []
    read = page.get_textpage()
    for text in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_TEXT], max_depth=5):
        where = text.get_bounds()
        found.append((read.get_text_bounded(*where), where))
    return found


def overlaps(page: pypdfium2.PdfPage) -> list[tuple[str, str]]:
    """What is written over something else."""
    return [
        (one, other)
        for (one, a), (other, b) in combinations(boxes(page), 2)
        if min(min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])) > 0.2
    ]


def drawn(made: CutCloth) -> pypdfium2.PdfPage:
    """A cloth of our own, drawn on a sheet as the only one of a fabric, and each of its pieces a binding."""
    pattern = draft(design_from_mapping({"row": [{"text": "I"}]}))
    made_ready = draw_cloth(made, squaring=Fraction(1))
    keys = dict.fromkeys(piece.key for _, piece in made.root.pieces())
    sheet = Sheet(
        pattern, subject="Cuts", method="", page_count=1, texts=(), mirrored=False, drawn=Drawn.NOTHING
    )
    sheet.begin("cuts")
    uses = {key: message("binding") for key in keys}
    several = of_several_sizes([made_ready])
    names = PieceNames(letters_of([made_ready]), uses, Units.INCHES, pattern.speech, several=several)
    scale = own_scale(made_ready, names, sheet.right - sheet.left)
    (drawing,) = draw_stretches(made_ready, names, scale, message("cuts"), selvages=True)
    paint_drawing(sheet, drawing, (sheet.left, sheet.top - drawing.height - 20))
    return pypdfium2.PdfDocument(sheet.finish())[0]


def test_numbers_of_narrow_bands_do_not_run_into_each_other() -> None:
    narrow = [(1.0 + number / 32, 1, piece(str(number))) for number in range(14)]
    assert overlaps(drawn(cloth(90, cut(Lie.ACROSS, *narrow)))) == []


def test_pieces_of_one_letter_in_several_lengths_say_which_is_which() -> None:
    """A strip with room for two lines, short and narrow pieces with room for one, and those named beside the cloth: no
    letter of what is cut in two lengths stands without the length."""
    rows = cut(Lie.ALONG, (16, 1, piece("wide")), (3, 1, cut(Lie.ACROSS, (12, 1, piece("wide")))))
    narrow = cut(Lie.ALONG, (40, 1, piece("narrow")))
    short = cut(Lie.ALONG, (11, 1, piece("narrow")))
    page = drawn(cloth(52, cut(Lie.ACROSS, (49, 1, rows), (1, 2, narrow), (1, 1, short))))
    assert overlaps(page) == []
    words = [text for text, _ in boxes(page)]
    assert {"a, 12 in long", "b × 2, 40 in long", "b, 11 in long"} <= set(words)
    assert "16 in by 49 in" in words


GRAY = 0xE2 / 255
"""What is left over."""


def test_the_name_of_many_pieces_stands_in_one_of_them_or_beside_the_cloth() -> None:
    """Every cut is drawn whole: no ground is painted over it for words."""
    rows = cut(
        Lie.ALONG, (7, 1, cut(Lie.ACROSS, (9, 3, piece("a")))), (7, 1, cut(Lie.ACROSS, (1, 9, piece("b"))))
    )
    page = drawn(cloth(27, cut(Lie.ACROSS, (27, 1, rows))))
    assert overlaps(page) == []
    found = {text: box for text, box in boxes(page) if "×" in text}
    assert set(found) == {"a × 3", "b × 9"}
    gray = sorted(_filled(page, GRAY), key=lambda box: box[1])[1:]  # without the key at the foot
    low = min(box[1] for box in gray)
    assert found["a × 3"][1] > low > found["b × 9"][3]
    points = (found["a × 3"][0] + found["a × 3"][2]) / 2
    left, right = min(box[0] for box in gray), max(box[2] for box in gray)
    assert (points - left) / (right - left) == pytest.approx(0.5, abs=0.02)  # the middle one of three
    assert not _filled(page, 1.0)


def test_all_that_is_left_over_is_shaded_and_in_the_table() -> None:
    """As many gray boxes as the plan leaves, narrow ones too, and as large; their sizes are in the table."""
    pattern = draft(design_from_mapping(STASH))
    told = [chapter for chapter in instructions_of(pattern).chapters if chapter.kind is ChapterKind.CUTTING]
    rows = [row for block in told[0].blocks if isinstance(block, Table) for row in block.rows]
    narrow = 0
    for buy in pattern.shopping.cloth:
        for diagram in buy.cutting.diagrams:
            names = PieceNames(
                letters_of(buy.cutting.diagrams),
                {group.key: message("x") for group in diagram.groups},
                Units.INCHES,
                pattern.speech,
            )
            drawn_at = own_scale(diagram, names, 500.0)
            (drawing,) = draw_stretches(diagram, names, drawn_at, message("cuts"), selvages=True)
            gray = [mark for mark in drawing.marks if isinstance(mark, Shape) and mark.fill == "#e2e2e2"]
            wanted = list(diagram.cloth.root.leftovers())
            if diagram.cloth.supply == BOUGHT:
                rule, root = buy.cutting.rule, diagram.cloth.root
                end = rule.extra.left_of(rule.buy, rule.used)
                assert end >= Fraction(1, 2)
                at = {"x": root.length, "y": Fraction(0), "length": end, "width": root.width}
                wanted.append(Region(fill=None, **at))
            if wanted:
                swatch = gray.pop()  # of the key at the foot of the drawing
                assert swatch.outline.bounds()[3] < min(mark.outline.bounds()[1] for mark in gray)
            assert len(gray) == len(wanted)
            for mark, region in zip(gray, wanted, strict=True):
                x0, y0, x1, y1 = mark.outline.bounds()
                scale = (x1 - x0) / float(region.length)
                assert y1 - y0 == pytest.approx(float(region.width) * scale)
                narrow += min(region.length, region.width) < 2
        sizes = {(left.width, left.length) for left in buy.cutting.offcuts_of(buy.cutting.plan.cloths)}
        said = [pattern.speech.tell(row[2]) for row in rows if isinstance(row[2], Message) and row[0] == "–"]
        said += [pattern.speech.listing(row[2]) for row in rows if isinstance(row[2], Listing)]
        for size in sizes:
            assert any(pattern.speech.tell(size_said(*size, Units.INCHES)) in one for one in said)
    assert narrow > 3


def _filled(page: pypdfium2.PdfPage, gray: float) -> list[tuple[float, float, float, float]]:
    """The boxes of paths filled in a tone of gray."""
    found = []
    for one in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=5):
        tone = [ctypes.c_uint() for _ in range(4)]
        pdfium.FPDFPageObj_GetFillColor(one.raw, *tone)
        mode, stroke = ctypes.c_int(), ctypes.c_int()
        pdfium.FPDFPath_GetDrawMode(one.raw, mode, stroke)
        if mode.value and [c.value for c in tone[:3]] == [round(gray * 255)] * 3:
            found.append(one.get_bounds())
    return found


def test_nothing_written_on_the_pages_of_cutting_lies_over_anything_else(
    booklet: pypdfium2.PdfDocument,
) -> None:
    looked_at = 0
    for page in booklet:
        if any("selvage" in text for text, _ in boxes(page)):
            looked_at += 1
            assert overlaps(page) == []
    assert looked_at > 1


def test_the_booklet_says_which_cloth_is_drawn(booklet: pypdfium2.PdfDocument) -> None:
    words = " ".join(" ".join(page.get_textpage().get_text_range() for page in booklet).split())
    assert "From your stash: 1 1/4yd." in words
    assert "From your stash, 2 fat quarters: number 1." in words
    assert re.search(r"From your stash, 1 roll of 2 1/2in strips: numbers \d+ to \d+, \d+ cut alike\.", words)
    assert "Take all of it: piece" in words  # a strip is sold cut
    assert re.search(
        r"Square up both ends of the 2 7/8 yd that you buy: the stripes, 1 in at each end",
        " ".join(words.split()),
    )
