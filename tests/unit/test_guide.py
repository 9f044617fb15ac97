"""The placement guide: numbers that avoid ink, lines and each other, tables that go on, notices in full."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable
from ctypes import c_uint
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from applique.design import design_from_mapping, read_design
from applique.instructions.values import ChapterKind
from applique.pattern import Pattern, draft
from applique.sheets import guide_numbers, placement_guide_pdf
from applique.sheets.guide_table import _columns, _fewest_pages, _Kind, _Line, _Section
from applique.sheets.spots import Taken, spread
from tests.chapters import chapter_of, said_in
from tests.unit.test_template_sheets import _end

SAMPLES = Path(__file__).parents[2] / "samples"
Box = tuple[float, float, float, float]
PIXELS = 4
"""Pixels of a point, when a page is looked at."""
TURNED = [
    {"text": "LEAN", "turn": 12.0},
    {"text": "TURN", "nudge": [{"letter": 2, "turn": 20.0, "up": "1/2in"}, {"letter": 4, "turn": -15.0}]},
    {"text": "LEVEL", "up": "1in"},
]
POEM = "the quick tide runs along the wall"


def _pattern(*rows: Any, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [row if isinstance(row, dict) else {"text": row} for row in rows],
        "lettering": {"font": "Rubik", "cap_height": "3in"},
        "panel": {"width": "40in", "height": "40in"},
    }
    return draft(design_from_mapping({**data, **tables}))


def _wide(**tables: Any) -> dict[str, Any]:
    return {"panel": {"width": "66in", "height": "30in"}, **tables}


DESIGNS = {
    "plain": lambda: _pattern("ROW", "STEADY", "HOME"),
    "turned": lambda: _pattern(*TURNED),
    "right to left": lambda: _pattern("שלום", "مرحبا"),
    "behind": lambda: _pattern(
        "AX", "BOY", lettering={"font": "Rubik", "cap_height": "5in", "outline": "1/2in"}
    ),
    "metric": lambda: _pattern("BOAT", "HOUSE", units="cm"),
    "sixty": lambda: _pattern(
        "ABCDEFGHIJKLMNOPQRST" * 3, **_wide(lettering={"font": "Rubik", "cap_height": "7/8in"})
    ),
    "poem": lambda: _pattern(
        *[POEM] * 11,
        **_wide(
            lettering={"font": "Rubik", "cap_height": "3/4in", "row_gap": "0in"},
            panel={"width": "40in", "height": "20in", "margin": "1/4in"},
        ),
    ),
    "near": lambda: _pattern(
        *[{"text": "ab", "up": f"{up}in"} for up in (0, 3, 6, 0, 0)],
        lettering={"font": "Rubik", "cap_height": "2in"},
    ),
}


def _words(pdf: bytes, page: int = 0) -> list[tuple[str, Box, float]]:
    """What stands in the drawing area of a page, run by run: its text, its ink and its size in points."""
    text = pypdfium2.PdfDocument(pdf)[page].get_textpage()
    found: list[tuple[str, Box, float]] = []
    for index in range(text.count_chars()):
        letter = chr(pdfium.FPDFText_GetUnicode(text, index))
        if pdfium.FPDFText_IsGenerated(text, index) or pdfium.FPDFText_GetCharAngle(text, index):
            continue
        if letter.isspace():
            found.append(("", (0, 0, 0, 0), 0.0)) if letter in "\r\n" else None
            continue
        box, size = text.get_charbox(index), pdfium.FPDFText_GetFontSize(text, index)
        if found and found[-1][0]:
            said, (x0, y0, x1, y1), before = found[-1]
            if before == size and box[0] - x1 < size * 0.5 and abs(box[1] - y0) < size and box[0] > x0:
                joined = (x0, min(y0, box[1]), box[2], max(y1, box[3]))
                found[-1] = (said + (" " if box[0] - x1 > size * 0.16 else "") + letter, joined, size)
                continue
        found.append((letter, box, size))
    return [one for one in found if one[0]]


def _drawing(pattern: Pattern, words: list[tuple[str, Box, float]]) -> list[tuple[str, Box, float]]:
    """Those of a page that stand above its rules and below its head."""
    x0, y0, x1, y1 = (72 * side for side in pattern.sheets.frame.drawing)
    return [word for word in words if word[1][1] > y0 and word[1][3] < y1 and x0 - 1 < word[1][0] < x1]


def _inked(pdf: bytes, page: int = 0) -> Any:
    """The page without its words, as gray pixels from its upper left corner."""
    document = pypdfium2.PdfDocument(pdf)
    seen = document[page]
    figures = [
        pdfium.FPDF_PAGEOBJ_TEXT,
        pdfium.FPDF_PAGEOBJ_FORM,
    ]  # of fractions, which are forms below their words
    for text in list(seen.get_objects(filter=figures, max_depth=1)):
        seen.remove_obj(text)
    seen.gen_content()
    return seen.render(scale=PIXELS, grayscale=True).to_numpy()


def _overlaps(pattern: Pattern, pdf: bytes) -> list[str]:
    """The words of the first page, down to its table, that lie over ink, over a line or over each other."""
    words = _drawing(pattern, _words(pdf))
    floor = max((box[1] for said, box, _ in words if said.startswith("Where each letter goes")), default=0)
    words = [word for word in words if word[1][1] >= floor]
    pixels = _inked(pdf)
    high = pixels.shape[0]
    found = [
        f"{said} over ink"
        for said, (x0, y0, x1, y1), _ in words
        if pixels[
            int(high - y1 * PIXELS) : int(high - y0 * PIXELS) + 1, int(x0 * PIXELS) : int(x1 * PIXELS) + 1
        ].min()
        < 250
    ]
    for (said, first, _), (other, second, _) in combinations(words, 2):
        across = min(first[2], second[2]) - max(first[0], second[0])
        if across > 0 and min(first[3], second[3]) - max(first[1], second[1]) > 0:
            found.append(f"{said} over {other}")
    return found


@pytest.mark.parametrize("name", DESIGNS)
def test_no_number_of_the_guide_lies_over_ink_a_line_or_another(name: str) -> None:
    """Numbers of 5.6 points stood on letters, on their own ticks and on the center line."""
    pattern = DESIGNS[name]()
    pdf = placement_guide_pdf(pattern)
    words = _drawing(pattern, _words(pdf))
    assert len(words) > len(pattern.marks)
    assert min(size for _, _, size in words) >= 7
    assert _overlaps(pattern, pdf) == []


def test_the_look_for_overlaps_finds_those_that_are_there(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Taken, "free", lambda *_args, **_kept: True)
    placed = guide_numbers._in_tiers

    def anywhere(wanted: Any, tiers: int, taken: Taken, tick: float, _floor: float) -> Any:
        return placed(wanted, tiers, taken, tick, -math.inf)

    monkeypatch.setattr(guide_numbers, "_in_tiers", anywhere)
    lettering = {"font": "Rubik", "cap_height": "2in", "row_spacing": "4in"}
    patterns = [DESIGNS["plain"](), _pattern("HI", {"text": "HI", "up": "3 1/2in"}, lettering=lettering)]
    found = [said for one in patterns for said in _overlaps(one, placement_guide_pdf(one))]
    assert any(said.endswith("over ink") for said in found)
    assert any(re.search(r" [LR] over .* [LR]\d*$", said) for said in found)


def test_numbers_under_letters_are_those_of_the_letter_whose_tick_is_above_them(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("applique.sheets.guide._LEAST_SHARE", 2)  # the drawing has its page to itself
    pattern = DESIGNS["plain"]()
    words = _words(placement_guide_pdf(pattern))
    ((_, (left, _, right, _), _),) = [word for word in words if word[0] == "center line"]
    names = {said: box for said, box, _ in words if re.fullmatch(r"row \d+", said)}
    one_inch = (names["row 1"][1] - names["row 2"][1]) / (pattern.marks[0].height - pattern.marks[1].height)
    found = 0
    for mark in pattern.marks:
        level = names[f"row {mark.where.row}"][1]
        below = [word for word in words if re.search(r"[\d] in [LR]$", word[0])]
        mine = [word for word in below if level - 50 < word[1][1] < level]
        for letter in mark.letters:
            at = (left + right) / 2 + one_inch * (letter.tick.x - 20)
            over = [said for said, box, _ in mine if box[0] - 3 <= at <= box[2] + 3]
            found += _beside(letter.middle) in over
        ends = {_beside(mark.left), _beside(mark.right)} - {_beside(one.middle) for one in mark.letters}
        assert not ends & {
            said for said, _, _ in mine
        }  # the end of a row was read as the middle of its last letter
    assert found == sum(len(mark.letters) for mark in pattern.marks)


def _runs(page: pypdfium2.PdfPage) -> list[list[tuple[float, float]]]:
    """The straight lines of a page, each with its two ends, in points."""
    lines = []
    for one in page.get_objects([pdfium.FPDF_PAGEOBJ_PATH]):
        if pdfium.FPDFPath_CountSegments(one) == 2:
            lines.append([_end(one, index) for index in (0, 1)])
    return lines


def test_a_slanting_row_has_its_two_points_and_a_turned_letter_its_angle_on_the_drawing() -> None:
    """The page spoke of bold numbers and brackets that it did not have; its turn was nowhere to be seen."""
    row = {"text": "Wren", "turn": 4, "nudge": [{"letter": 2, "turn": -20.0}]}
    pattern = _pattern(row, panel={"width": "40in", "height": "20in", "trim_after": "1in"})
    pdf = placement_guide_pdf(pattern)
    page, words = pypdfium2.PdfDocument(pdf)[0], _words(pdf)
    ((_, (left, _, right, _), _),) = [word for word in words if word[0] == "center line"]
    center, runs = (left + right) / 2, _runs(page)
    (mark,) = pattern.marks
    scale = max(
        abs(a[0] - b[0]) for a, b in runs if a[1] != b[1] and _tilt(a, b) == pytest.approx(4, abs=0.1)
    )
    inch = scale / (mark.ends[1][0] - mark.ends[0][0])
    crosses = [
        ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        for a, b in runs
        if abs(a[0] - b[0]) == pytest.approx(5, abs=0.01) and abs(a[1] - b[1]) == pytest.approx(5, abs=0.01)
    ]
    assert len(crosses) == 8  # two strokes on each end of the row, and of the letter's own baseline
    own = mark.letters[1].own
    assert own is not None
    for (across, _), (x, _) in zip(own.measured, (crosses[4], crosses[6]), strict=True):
        assert x == pytest.approx(center + across * inch, abs=0.5)
    for (across, down), (x, y) in zip(mark.ends, (crosses[0], crosses[2]), strict=True):
        assert x == pytest.approx(center + across * inch, abs=0.5)
        (beside,) = [box for said, box, _ in words if said == _beside(across)]
        (below,) = [box for said, box, _ in words if said == _beside(down).replace(" R", " down")]
        assert max(abs(beside[1] - y), abs(below[1] - y)) < 25
        assert min(abs(beside[0] - x), abs(beside[2] - x)) < 60
    letter = mark.letters[1]
    assert letter.lean is not None and letter.turn_deg == pytest.approx(-20)
    foot = center + (letter.lean.foot[0] - 20) * inch
    tilts = sorted(_tilt(a, b) for a, b in runs if abs(a[0] - foot) < 0.5 and math.dist(a, b) > 15)
    assert any(
        one - other == pytest.approx(20, abs=0.2) for one in tilts for other in tilts
    )  # the same angle as is said
    assert any(said == "20°" for said, _, _ in words)
    text = " ".join(_pages(pdf)[0].split())
    assert "two small crosses" in text and "join them with a ruler" in text
    for missing in ("bold numbers", "in brackets", "under a tick", "upright line at the end"):
        assert missing not in text
    everywhere = " ".join(" ".join(_pages(pdf)).split())
    assert "20° to the right from the slanting row, 16° to the right from upright" in everywhere
    level = " ".join(_pages(placement_guide_pdf(_pattern("W W")))[0].split())
    assert "bold numbers on the left" in level and "The number under a tick is its own" in level
    for missing in ("small crosses", "upright line", "two thin lines", "in brackets"):
        assert missing not in level


def _tilt(start: tuple[float, float], end: tuple[float, float]) -> float:
    """How far a line is turned, in degrees to the left of level."""
    return math.degrees(math.atan2(end[1] - start[1], end[0] - start[0]))


def test_the_number_of_an_end_stands_beyond_it_by_a_short_line() -> None:
    pattern = _pattern("ן", lettering={"font": "Rubik", "cap_height": "4in"})
    pdf = placement_guide_pdf(pattern)
    words, runs = _words(pdf), _runs(pypdfium2.PdfDocument(pdf)[0])
    (mark,) = pattern.marks
    ends = sorted(box for said, box, _ in words if said in (_beside(mark.left), _beside(mark.right)))
    short = sorted(
        a[0]
        for a, b in runs
        if a[0] == b[0] and 8 < abs(a[1] - b[1]) < 10.5 and ends[0][2] < a[0] < ends[1][0]
    )
    assert len(short) == 2
    assert ends[0][2] < short[0] < short[1] < ends[1][0]
    assert max(short[0] - ends[0][2], ends[1][0] - short[1]) < 4
    assert "beside a short upright line says how far a row reaches" in _pages(pdf)[0]


def _beside(place: float) -> str:
    """A place as the guide says it: to the nearest 1/16 in, with its side."""
    sixteenths = round(abs(place) * 16)
    whole, part = divmod(sixteenths, 16)
    while part and part % 2 == 0:
        part //= 2
    bottom = next((size for size in (2, 4, 8, 16) if part * (16 // size) == sixteenths % 16), 1)
    said = f"{whole or ''} {f'{part}/{bottom}' if part else ''}".strip() or "0"
    return f"{said} in {'L' if place < 0 else 'R'}"


def _pages(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def test_a_row_that_goes_on_has_its_heading_again() -> None:
    """A second column started with a letter of nobody knew which row."""
    large = {"font": "Rubik", "cap_height": "1in", "row_gap": "0in"}
    pattern = _pattern(*[POEM] * 12, panel={"width": "66in", "height": "40in"}, lettering=large)
    text = "\n".join(_pages(placement_guide_pdf(pattern)))
    going_on = len(re.findall(r"Row \d+ · the quick .*\s+continued", text))
    assert going_on > 2
    heads = r"template\s+left \(in\)\s+middle \(in\)\s+right \(in\)\s+lowest \(in\)"
    assert len(re.findall(heads, text)) == 12 + going_on


def test_a_table_on_its_own_page_takes_most_of_it_with_white_between_its_lines() -> None:
    """The last page of a guide ended above its middle, below a drawing with six lines of things to check."""
    pattern = _pattern(
        "Gather", {"text": "Here", "fabric": "Rust"},
        panel={"width": "44in", "height": "30in", "margin": "3in", "fabric": "Oat"},
        fabric=[{"name": "Oat", "color": "#efe6d2"}, {"name": "Rust", "color": "#b5532d"}],
        lettering={"font": "Fredoka", "cap_height": "7 1/2in", "outline": "1/2in", "letter_spacing": "1/2in"},
        sewing={"method": "turned edge", "turn_under": "1/4in"},
    )  # fmt: skip
    assert pattern.notices
    first, table = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    rules = []
    for shape in table.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1):
        left, low, right, high = shape.get_bounds()
        if 150 < right - left < 300 and high - low < 2:
            rules.append((round(left), (low + high) / 2))
    words = [box for text, box, _ in _drawing(pattern, _words(placement_guide_pdf(pattern), 1))]
    assert min(low for _, low, _, _ in words) < 0.42 * table.get_height()
    column = sorted((y for x, y in rules if x == min(rules)[0]), reverse=True)
    apart = [above - below for above, below in pairwise(column)]
    assert max(map(apart.count, apart)) > 3 and sorted(apart)[len(apart) // 2] > 18
    said = table.get_textpage().get_text_range()
    assert "Check before you cut" in said and "see the list after the table" in " ".join(
        first.get_textpage().get_text_range().split()
    )
    across = [(y, box) for left, y in rules for box in words if left - 1 <= box[0] < left + 200]
    assert not [(y, box) for y, box in across if box[1] < y < box[3]]


@pytest.mark.long
def test_words_are_set_apart_rows_stay_on_their_page_and_titles_are_whole() -> None:
    """Letters of one word ran on into the next, rows over pages, and the title of the longest row was cut short."""
    rows = [
        "THE LAMPS COME ON ALONG THE QUAY",
        "AND SOMEONE CALLS THE CHILDREN",
        "HOME THE WATER KEEPS ITS COUNSEL",
    ]
    pattern = _pattern(
        *rows * 2, panel={"width": "60in", "height": "44in"},
        fabric=[{"name": "Deep water at dawn", "color": "#123456"}],
        lettering={"font": "Montserrat", "cap_height": "1 3/8in", "fabric": "Deep water at dawn"},
    )  # fmt: skip
    pdf = placement_guide_pdf(pattern)
    _, *pages = _pages(pdf)
    assert len(pages) > 1
    for number, words in enumerate(rows * 2, 1):
        found = [" ".join(page.split()) for page in pages if f"Row {number} ·" in page]
        assert len(found) == 1 and f"Row {number} · {words}" in found[0]
    for index, page in enumerate(pages, 1):
        black, dark = _rules(pypdfium2.PdfDocument(pdf)[index])
        here = [words for number, words in enumerate(rows * 2, 1) if f"Row {number} ·" in page]
        assert black == len(here) + len(re.findall(r"Row \d ·", page))
        assert dark == sum(len(words.split()) - 1 for words in here)


def _rules(page: pypdfium2.PdfPage) -> tuple[int, int]:
    """The level lines of a column's width that are black, and those that end a word; others are paler."""
    black = dark = 0
    for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1):
        left, _, right, _ = shape.get_bounds()
        red, *rest = (c_uint() for _ in range(4))
        pdfium.FPDFPageObj_GetStrokeColor(shape, red, *rest)
        if 150 < right - left < 300:
            black += red.value < 40
            dark += 40 <= red.value < 150
    return black, dark


def test_notes_of_a_letter_stand_between_its_figures_and_the_rule() -> None:
    """A rule stood right below the figures, so that the notes below it seemed to be of the next letter."""
    pattern = _pattern(*TURNED)
    *_, page = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    words, rules = page.get_textpage(), []
    for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1):
        left, low, right, high = shape.get_bounds()
        if 150 < right - left < 300 and high - low < 2:
            rules.append((left, (low + high) / 2))
    noted = 0
    for said in ("its tick on the baseline", "its own baseline", "turned 20°", "turned 15°"):
        search = words.search(said)
        while (at := search.get_next()) is not None:
            x, low, _, top = words.get_charbox(at[0])
            column = [y for left, y in rules if abs(left - x) < 5]
            assert not any(top - 2 < y < top + 10 for y in column), said  # none between a letter and its note
            assert min(low - y for y in column if y < low) < 4 * 12.5, (
                said
            )  # but after the last of four lines
            noted += 1
    assert noted == 4 + 2 + 2


def test_the_table_has_the_numbers_of_the_template_sheets() -> None:
    pattern = _pattern("OTTO")
    (text,) = _pages(placement_guide_pdf(pattern))  # a short table stands below the drawing
    numbers = re.findall(r"^([OT])\s+(\d+)\s", text, flags=re.MULTILINE)
    wanted = {template.text: template.number for template in pattern.templates}
    assert [(letter, int(number)) for letter, number in numbers] == [(one, wanted[one]) for one in "OTTO"]
    # The name of a column, and that the small picture is none.
    assert text.count("template") == 2 and "continued" not in text


def test_small_letters_are_listed_word_by_word() -> None:
    pattern = DESIGNS["poem"]()
    first_page, *rest = _pages(placement_guide_pdf(pattern))
    said = " ".join(first_page.split())
    assert "The table lists words" in said and "space the letters between by eye" in said
    assert "tick" not in said.replace("it is no tick's", "")  # no tick is drawn that has no number anywhere
    booklet = said_in(chapter_of(pattern, ChapterKind.PLACING))
    assert "where each word starts and ends" in booklet and "tick" not in booklet
    text = "\n".join(rest).replace("\u00a0", " ").replace("\u202f", " ")
    for word in POEM.split():
        wanted = POEM.split().count(word) * len(pattern.marks)
        assert len(re.findall(rf"^{word}\s+\d", text, flags=re.MULTILINE)) == wanted
    first = pattern.marks[0].letters[:3]
    start, end = (_beside(place).replace(" in", "") for place in (first[0].left, first[-1].right))
    assert re.search(rf"^the\s+{start}\s.*{end}\s+on the line\s*$", text, flags=re.MULTILINE)


def _lines(*counts: int, laid: Callable[..., list[list[_Line]]] = _columns) -> list[list[str]]:
    """Columns of forty lines for rows of so many letters, as the number of each line's row."""
    sections = [
        _Section((_Line(_Kind.HEADING, (str(row), "")),), (_Line(_Kind.HEADING, (str(row), "")),),
                 tuple((_Line(_Kind.TEXT, (str(row),)),) for _ in range(count)))
        for row, count in enumerate(counts)
    ]  # fmt: skip
    return [[line.words[0] if line.words else "" for line in column] for column in laid(sections, 40)]


def test_a_short_row_stays_whole_and_of_a_long_one_four_lines_stand_before_it_breaks() -> None:
    assert [set(column) - {""} for column in _lines(24, 18)] == [{"0"}, {"1"}]
    assert [set(column) - {""} for column in _lines(24, 20)] == [{"0", "1"}, {"1"}]
    assert [set(column) - {""} for column in _lines(34, 20)] == [{"0"}, {"1"}]  # room for three
    assert [column.count("1") for column in _lines(33, 20)] == [
        5,
        17,
    ]  # a heading and four, a heading and the rest


def test_a_long_row_stays_whole_where_that_takes_no_more_pages() -> None:
    """The second row was torn over two columns, and half of the second one stayed white."""
    whole = _lines(30, 28, 31, 24, laid=_fewest_pages)
    assert [set(column) - {""} for column in whole] == [{"0"}, {"1"}, {"2"}, {"3"}]
    torn = _lines(22, 22, 22, laid=_fewest_pages)  # three columns would take a second page
    assert [set(column) - {""} for column in torn] == [{"0", "1"}, {"1", "2"}]


def test_every_notice_is_said_in_full_or_counted_with_its_place() -> None:
    """The list was cut short after four."""
    rows = [f"thin {letter}" for letter in "abcdefgh"]
    pattern = _pattern(*rows, lettering={"font": "Fraunces", "cap_height": "1in"}, language="fr")
    kinds = {notice.kind for notice in pattern.notices}
    assert len(pattern.notices) > len(kinds) > 3
    first, *rest = _pages(placement_guide_pdf(pattern))
    assert f"There are {len(pattern.notices)} things to check before you cut" in " ".join(first.split())
    text = " ".join("".join(rest).split())
    assert "Try: ." not in text
    listed = text.split("Check before you cut", 1)[1]
    counted = sum(int(count) for count in re.findall(r"(\d+) more like it", listed))
    assert counted == len(pattern.notices) - len(kinds)
    for row in {notice.where.row for notice in pattern.notices if notice.where.row}:
        assert f"row {row}" in listed


def test_every_tick_has_its_number_or_is_said_to_have_it_in_the_table() -> None:
    """Rows without numbers stood beside rows with them, and the page spoke of “the number under a tick” alone."""
    crowded = {"panel": {"width": "66in", "height": "24in"}, "lettering": {"font": "Rubik"}}
    for rows, bare, none in (
        ([("HI", "3in"), ("OH", "3in")], False, False),
        ([("HI", "3in"), ("lilliilliill" * 4, "1in")], True, False),
        ([("lilliilliill" * 4, "1in")], False, True),
    ):
        pattern = _pattern(*({"text": text, "cap_height": high} for text, high in rows), **crowded)
        pdf = placement_guide_pdf(pattern)
        said, words = " ".join(_pages(pdf)[0].split()), [word for word, _, _ in _words(pdf)]
        numbered = [all(_beside(one.middle) in words for one in mark.letters) for mark in pattern.marks]
        assert all(numbered) is not (bare or none)
        assert ("The number under a tick is its own" in said) is not none
        assert ("a tick without one has it in the table" in said) is bare
        assert "Draw a short tick" in said and "The table says how far left" in said


@pytest.mark.parametrize("design", [SAMPLES / "kitchen.toml", None])
def test_letters_that_hang_low_or_lie_on_the_center_line_have_their_numbers(design: Path | None) -> None:
    """One letter a sixteenth of an inch beside the center line took the numbers of its whole row away."""
    greek = _pattern("Αγάπη", lettering={"font": "Geologica", "cap_height": "5in"})
    pattern = greek if design is None else draft(read_design(design))
    words = [word for word, _, _ in _words(placement_guide_pdf(pattern))]
    wanted = [_beside(one.middle) for mark in pattern.marks for one in mark.letters]
    missing = [one for one in wanted if one not in words and one.replace(" in ", " ") not in words]
    assert len(wanted) >= 5 and missing == []
    assert _overlaps(pattern, placement_guide_pdf(pattern)) == []


def test_what_to_check_has_a_heading_of_its_own() -> None:
    """Findings stood as the last lines of “What to mark”."""
    pattern = _pattern("thin", lettering={"font": "Fraunces", "cap_height": "1in"})
    assert pattern.notices
    first = " ".join(_pages(placement_guide_pdf(pattern))[0].split())
    marked, checked = first.split("What to mark", 1)[1].split("Check before you cut", 1)
    assert "center line" in marked
    for notice in pattern.notices:
        assert str(notice.what) not in marked
    assert any(str(notice.what) in checked for notice in pattern.notices)


def test_labels_spread_no_nearer_than_asked() -> None:
    assert spread([10.0, 9.5, 2.0], pitch=2.0, low=0.0, high=10.0) == [10.0, 8.0, 2.0]
    assert spread([1.0, 0.5, 0.2], pitch=2.0, low=0.0, high=10.0) == [4.0, 2.0, 0.0]
    assert spread([1.0, 1.0, 1.0], pitch=6.0, low=0.0, high=10.0) is None


def test_the_name_of_a_full_size_page_stays_on_what_is_left_of_it_and_clear_of_lines() -> None:
    """It stood in the strip that is trimmed off."""
    pattern = _pattern(
        "AX",
        panel={"width": "20in", "height": "24in"},
        lettering={"font": "Rubik", "cap_height": "5in", "outline": "1/2in"},
        paper={"full_size_guide": True},
    )
    assert pattern.guide is not None
    pdf, overlap = placement_guide_pdf(pattern), 72 * float(pattern.design.paper.overlap)
    first = len(pypdfium2.PdfDocument(pdf)) - len(pattern.guide.tiles)
    left, low, right, top = (72 * side for side in pattern.sheets.frame.drawing)
    for page, tile in enumerate(pattern.guide.tiles, first):
        ((said, (x0, y0, x1, y1), size),) = [word for word in _words(pdf, page) if word[0] == tile.name]
        assert (said, size) == (tile.name, 13)
        assert x0 > left + (overlap / 2 if tile.column else 0)
        assert x1 < right - (overlap / 2 if tile.column < pattern.guide.columns - 1 else 0)
        assert y0 > low + (overlap / 2 if tile.row < pattern.guide.rows - 1 else 0)
        assert y1 < top - (overlap / 2 if tile.row else 0)
        pixels = _inked(pdf, page)
        high = pixels.shape[0]
        rows = slice(int(high - y1 * PIXELS), int(high - y0 * PIXELS) + 1)
        assert pixels[rows, int(x0 * PIXELS) : int(x1 * PIXELS) + 1].min() > 250


def test_the_ends_of_a_row_are_said_between_it_and_the_next() -> None:
    """The number of the last row but one stood below the last row."""
    lettering = {"font": "Rubik", "cap_height": "1in", "row_spacing": "5in"}
    pattern = _pattern(
        *["illicit little lilt"] * 6, lettering=lettering, panel={"width": "40in", "height": "60in"}
    )
    pdf = placement_guide_pdf(pattern)
    words = _words(pdf)
    lines = [
        one.get_bounds() for one in pypdfium2.PdfDocument(pdf)[0].get_objects([pdfium.FPDF_PAGEOBJ_PATH])
    ]
    level = [(right - left, low) for left, low, right, top in lines if top - low < 2 and right - left > 100]
    (wide, count) = Counter(round(width) for width, _ in level).most_common(1)[0]
    assert count == len(pattern.marks)
    levels = dict(enumerate((low for width, low in level if round(width) == wide), 1))
    ends = [(said, box) for said, box, _ in words if re.fullmatch(r"[\d /]+ in [LR]", said)]
    assert ends
    owners: list[tuple[int, str]] = []
    for said, box in ends:
        owner = max(
            (row for row, level in levels.items() if level > box[1] - 5), key=lambda row: -levels[row]
        )
        mark = pattern.marks[owner - 1]
        assert said in (_beside(mark.left), _beside(mark.right))
        owners.append((owner, said))
    assert len(set(owners)) == len(owners)


def _in_column(place: float) -> str:
    """A distance as a column has it."""
    said = _beside(place).replace(" in", "")
    return "on center" if said.split()[0] == "0" else said


def test_the_table_says_where_outlines_lie_and_how_far_below_the_baseline() -> None:
    """An outline set on the baseline lay as much too high as it reaches beyond its letter."""
    pattern = DESIGNS["behind"]()
    text = "\n".join(_pages(placement_guide_pdf(pattern))).replace("\u00a0", " ").replace("\u202f", " ")
    for mark in pattern.marks:
        head = f"Row {mark.where.row} · {mark.text}"
        behind = text.partition(f"{head} · outlines")[2].partition(f"\n{head} ")[0]
        assert len(mark.outlines) == len(mark.letters)
        for outline, letter in zip(mark.outlines, mark.letters, strict=True):
            assert outline.left == pytest.approx(letter.left - 0.5, abs=0.01)
            assert outline.above_baseline == pytest.approx(letter.above_baseline - 0.5, abs=0.01)
            places = [_in_column(place) for place in (outline.left, outline.middle, outline.right)]
            lowest = _beside(outline.above_baseline).replace(" in L", " below")
            cells = rf"^{outline.text}\s+{outline.template}\s+" + r"\s+".join([*places, lowest])
            assert re.search(cells, behind, flags=re.MULTILINE)


def test_the_table_has_lowest_points_only_where_something_is_off_its_baseline() -> None:
    for words, off in (("HIT", False), ("gap", True)):
        text = "\n".join(_pages(placement_guide_pdf(_pattern(words)))).replace("\u00a0", " ")
        assert ("lowest (in)" in text) is off
        assert (len(re.findall(r"\d below\s*$", text, flags=re.MULTILINE)) >= 2) is off


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("gap", "its lowest point is below the line."),
        ("H'I", "its lowest point is above the line."),
        ("g'", "its lowest point is below the line or above it."),
    ],
)
def test_of_lowest_points_only_the_side_is_named_on_which_some_are(words: str, said: str) -> None:
    """“Or above it” was said where nothing is above its line."""
    text = " ".join("\n".join(_pages(placement_guide_pdf(_pattern(words)))).replace("\u00a0", " ").split())
    assert f"the last column says how far {said}" in text


@pytest.mark.parametrize(
    ("texts", "unit"),
    [(("little fill", "ILLICIT jilt"), True), (("שלום בית", "ברוכים הבאים"), False)],
    ids=["narrow letters and a tail", "Hebrew near its edges"],
)
def test_numbers_of_narrow_letters_stand_under_their_ticks_in_order(
    texts: tuple[str, str], unit: bool
) -> None:
    """Rows of narrow letters had no numbers, or some that ran together; a tail below the line took the whole row's."""
    rows = (
        {"text": texts[0], "cap_height": "15cm"},
        {"text": texts[1], "cap_height": "11cm" if unit else "8cm"},
    )
    panel = (
        {"width": "100cm", "height": "60cm"}
        if unit
        else {"width": "110cm", "height": "70cm", "trim_after": "3cm"}
    )
    font = "Fredoka" if unit else "Rubik"
    pattern = _pattern(*rows, panel=panel, lettering={"font": font}, units="cm", paper={"size": "A4"})
    pdf = placement_guide_pdf(pattern)
    assert _overlaps(pattern, pdf) == []
    words = [(said, box) for said, box, _ in _drawing(pattern, _words(pdf))]
    ((_, (left, _, right, _)),) = [word for word in words if word[0] == "center line"]
    names = {said: box for said, box in words if re.fullmatch(r"row \d+", said)}
    scale = (names["row 1"][1] - names["row 2"][1]) / (pattern.marks[0].height - pattern.marks[1].height)
    short = 0
    for mark in pattern.marks:
        level = names[f"row {mark.where.row}"][1]
        below = [
            one for one in words if level - 50 < one[1][1] < level and re.search(r"\d(?: cm)? [LR]$", one[0])
        ]
        middles = []
        for letter in sorted(mark.letters, key=lambda one: one.middle):
            at = (left + right) / 2 + scale * letter.middle
            number = f"{round(abs(letter.middle) * 25.4) / 10:g} cm {'L' if letter.middle < 0 else 'R'}"
            (box,) = [box for said, box in below if said in (number, number.replace(" cm", ""))]
            assert box[0] - 3 <= at <= box[2] + 3
            short += number not in [said for said, _ in below]
            middles.append((box[0] + box[2]) / 2)
        assert middles == sorted(middles)
    assert (short == 0) is unit
    assert ("without a unit are centimeters" in _pages(pdf)[0]) is not unit
