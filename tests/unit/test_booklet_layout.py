"""The booklet on its pages: what stays together, what stands in line, and what it says of its own pages."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from applique.design import design_from_mapping
from applique.drawings import Drawing
from applique.drawings.values import PAPER, box
from applique.drawings.vocabulary import dimension
from applique.instructions import (
    Block,
    Cautions,
    Chapter,
    ChapterKind,
    Edition,
    Heading,
    Instructions,
    Led,
    Paragraph,
    Picture,
    Step,
    Table,
    Tick,
    instructions_of,
)
from applique.language import message
from applique.pattern import Pattern, draft
from applique.sheets import blocks, booklet, flow, lettering, pattern_pdf, whole_pattern_pdf
from applique.sheets.booklet import draw_chapters, laid_out
from applique.sheets.drawing import paint_drawing
from applique.sheets.frame import Drawn, Sheet
from applique.sheets.measure import SETTINGS, Layout
from applique.typeset.labels import label_outline

DESIGN: dict[str, Any] = {
    "row": [{"text": "I"}],
    "panel": {"width": "16in", "height": "12in"},
    "lettering": {"cap_height": "3in"},
}
PIXELS = 8
"""Pixels of a point, when a page is looked at."""
FILLED = range(25, 41)
"""Paragraphs of one line, of which about 38 fill a page."""


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(design_from_mapping(DESIGN))


def drawing(width: float, height: float) -> Drawing:
    return Drawing(width=width, height=height, marks=(box(0.0, 0.0, width, height, fill=PAPER),), said="box")


def written(pattern: Pattern, *chapters: Sequence[Block], texts: Sequence[str] = ()) -> Any:
    """The pages of a booklet of `chapters`."""
    kinds = (ChapterKind.CUTTING, ChapterKind.LETTERS)
    values = [
        Chapter(kind=kind, title=kind.value.title(), blocks=tuple(blocks))
        for kind, blocks in zip(kinds, chapters, strict=False)
    ]

    def write(layout: Layout, trial: bool) -> tuple[Sheet, Layout]:
        sheet = Sheet(
            pattern,
            subject="x",
            page_count=layout.pages,
            texts=texts,
            mirrored=False,
            drawn=Drawn.NOTHING,
            trial=trial,
        )
        return sheet, draw_chapters(sheet, values, layout)

    return pypdfium2.PdfDocument(laid_out(write))


def texts(document: Any) -> list[str]:
    return [page.get_textpage().get_text_range() for page in document]


def page_of(pages: Sequence[str], words: str) -> int:
    (found,) = [index for index, text in enumerate(pages) if words in text]
    return found


def places(page: Any, pattern: str) -> list[tuple[float, float]]:
    """Where what `pattern` finds begins, in points."""
    text = page.get_textpage()
    found = re.finditer(pattern, text.get_text_range())
    return [text.get_charbox(match.start(), loose=True)[:2] for match in found]


def test_what_belongs_together_is_on_one_page(pattern: Pattern) -> None:
    """Wherever on a page it comes: cautions before their step, headings, steps with their pictures."""
    parted = 0
    for filled in FILLED:
        pages = texts(
            written(
                pattern,
                [
                    *[Paragraph(said=f"line {index}") for index in range(filled)],
                    Cautions(items=("mind the blade",)),
                    Heading(said="Strips"),
                    Step(number=1, said=("cut the strips",)),
                    Picture(drawing=drawing(300, 40), caption="the strips"),
                    Heading(said="Squares"),
                    Paragraph(said="all of one size"),
                    Step(number=2, said=("cut the squares",), drawing=drawing(100, 60)),
                ],
            )
        )
        parted += len(pages) > 1
        assert len({page_of(pages, word) for word in ("mind the blade", "Strips", "cut the strips")}) == 1
        assert re.search(r"cut the strips\s+the strips", pages[page_of(pages, "cut the strips")])
        assert len({page_of(pages, word) for word in ("Squares", "all of one size", "cut the squares")}) == 1
    assert parted > 5


def test_what_has_one_lead_is_on_one_page(pattern: Pattern) -> None:
    """The threads of what to buy were torn over two pages."""
    threads = [f"thread {index}" for index in range(8)]
    things = [("Batting", "a twin"), *zip(("Thread", *[""] * 7), threads, strict=True), ("Notions", "pins")]
    parted = 0
    for filled in range(20, 32):
        lines = [Paragraph(said=f"line {index}") for index in range(filled)]
        more = [Paragraph(said=f"more {index}") for index in range(20)]
        pages = texts(written(pattern, [*lines, Led(items=tuple(things)), *more]))
        parted += len({page_of(pages, words) for words in ("a twin", "thread 0", "pins")}) > 1
        assert len({page_of(pages, words) for words in threads}) == 1
    assert parted > 2


DESIGNS: tuple[dict[str, Any], ...] = (
    {
        **DESIGN,
        "border": [{"kind": "squares", "size": "2in", "fabrics": ["Ink", "Fog"]}],
        "fabric": [{"name": "Ink", "color": "#1d3f58"}, {"name": "Fog", "color": "#e9e4d6"}],
        "hanging": {"sleeve": True},
        "lettering": {"cap_height": "9in"},
    },
    {
        **DESIGN,
        "row": [{"text": "OUR BOAT"}, {"text": "ON THE QUAY"}],
        "panel": {"width": "50in", "height": "30in"},
        "sewing": {"method": "machine cut"},
        "stitching": {"when": "with the quilting"},
        "quilting": [{"kind": "echo"}, {"kind": "crosshatch", "offered": True}],
    },
    {**DESIGN, "sewing": {"method": "turned edge"}, "units": "cm", "paper": {"size": "A4"}},
)


@pytest.fixture(scope="module", params=range(len(DESIGNS)))
def told(request: pytest.FixtureRequest) -> tuple[Pattern, Instructions]:
    pattern = draft(design_from_mapping(DESIGNS[request.param]))
    return pattern, instructions_of(pattern, edition=Edition.CUSTOMER)


BEGINS = 36
"""Letters by which a step is found: labels of a drawing beside its later lines may be read between them."""


def _plain(text: str) -> str:
    return "".join(text.split())


def test_a_heading_is_on_the_page_of_its_lead_and_its_first_step(told: tuple[Pattern, Instructions]) -> None:
    """Read from the finished pages: where the words of each stand."""
    pattern, instructions = told
    pages = [_plain(text) for text in texts(pypdfium2.PdfDocument(pattern_pdf(pattern, instructions)))]
    field, at, seen = pattern.speech.field, 0, 0
    for chapter in instructions.chapters[2:]:
        led: list[str] = [_plain(field(chapter.title))]
        opens = True
        for block in chapter.blocks:
            match block:
                case Heading(said=words):
                    led, opens = [*(led if opens else ()), _plain(field(words))], True
                case Paragraph(said=words) if opens:
                    led.append(_plain(field(words)))
                case Cautions(items=items) if opens:
                    led += [_plain(field(item)) for item in items]
                case Step() if opens:
                    led.append(f"{block.number}{_plain(field(block.said[0]))}"[:BEGINS])
                    at = next(n for n in range(at, len(pages)) if led[-1] in pages[n])
                    assert [words for words in led if words not in pages[at]] == []
                    opens, seen = False, seen + 1
                case _:
                    opens = False
    assert seen > 8


def test_a_caution_stands_before_its_step_and_once_in_a_chapter(told: tuple[Pattern, Instructions]) -> None:
    """What is to be taken care of is read before the hand is at the tool, and not so often that it is read no more."""
    _, instructions = told
    found = 0
    for chapter in instructions.chapters:
        said = [item for one in chapter.blocks if isinstance(one, Cautions) for item in one.items]
        assert len(said) == len(set(said))
        if any(isinstance(block, Step) for block in chapter.blocks):
            for index, block in enumerate(chapter.blocks):
                if isinstance(block, Cautions):
                    assert isinstance(chapter.blocks[index + 1], Step)
                    found += 1
    assert found >= 6


def test_a_drawing_shrinks_a_little_or_grows_rather_than_leave_a_page_white(pattern: Pattern) -> None:
    """To four fifths and no further, and to seven fifths where page and line have room."""

    def drawn(high: int) -> list[list[float]]:
        filler = [Paragraph(said=f"line {index}") for index in range(20)]
        pages = written(pattern, [*filler, Picture(drawing=drawing(200, high))])
        return [[_high(one) for one in page.get_objects(filter=[2]) if _high(one) > 50] for page in pages]

    found = {high: drawn(high) for high in range(200, 480, 8)}
    fits = max(high for high, pages in found.items() if len(pages) == 1)
    assert found[fits] == [[pytest.approx(0.8 * fits, abs=1.0)]]
    assert found[200] == [[pytest.approx(1.4 * 200, abs=1.0)]]
    first, (alone,) = found[fits + 8]
    assert not first and fits + 8 <= alone <= 1.4 * (fits + 8) + 1.0


def test_a_parted_table_has_its_head_again_and_three_rows_on_either_side(pattern: Pattern) -> None:
    columns = ((message("piece"), 0.3), (message("nothing"), 0.3), (message("of"), 0.3))
    rows = tuple((f"row {index}!", "", "cloth") for index in range(9))
    parted = 0
    for filled in FILLED:
        filler = [Paragraph(said=f"line {index}") for index in range(filled)]
        pages = texts(written(pattern, [*filler, Table(columns=columns, rows=rows)]))
        counts = [text.count("!") for text in pages if "!" in text]
        assert sum(counts) == 9 and min(counts) >= 3
        assert [text.count("piece") for text in pages if "!" in text] == [1] * len(counts)
        assert not any("nothing" in text for text in pages)
        parted += len(counts) > 1
    assert parted > 2


def test_a_section_that_goes_on_says_so_on_its_next_page(pattern: Pattern) -> None:
    """Above a step, a list or a table that begins a page: the heading it stands under, or the title of its chapter."""
    columns = ((message("piece"), 0.3), (message("of"), 0.3))
    table = Table(columns=columns, rows=tuple((f"row {index}!", "cloth") for index in range(40)))
    steps = [
        Step(number=number, said=(f"do {number}",), drawing=drawing(100, 250)) for number in (1, 2, 3, 4)
    ]
    pages = texts(written(pattern, [*steps, Heading(said="Strips"), table]))
    first = [re.search(r"steps? \d.*?\n(.*)\n(.*)", text.replace("\r", "")) for text in pages]
    begins = [
        found.groups() if found else text.splitlines()[1:4] for found, text in zip(first, pages, strict=True)
    ]
    assert len(begins) >= 3
    assert begins[0][0] == "Cutting"
    assert begins[1] == ("Cutting, continued", "3 do 3") or begins[1][0] == "Cutting, continued"
    last = pages[-1].replace("\r", "")
    assert re.search(r"Strips, continued\npiece of\nrow \d+! cloth", last)
    assert sum(text.count(", continued") for text in pages) == len(pages) - 1


def test_pictures_beside_words_begin_at_one_edge_and_at_the_first_line(pattern: Pattern) -> None:
    (page,) = written(
        pattern,
        [
            Step(number=1, said=("first words",), drawing=drawing(200, 50)),
            Step(number=2, said=("second words",), drawing=drawing(90, 70)),
        ],
    )
    boxes = [one.get_bounds() for one in page.get_objects(filter=[2]) if 40 < _high(one) < 120]
    assert len(boxes) == 2
    assert boxes[0][0] == pytest.approx(boxes[1][0], abs=0.1)
    assert boxes[0][1] - boxes[1][3] >= 10
    for bounds, words in zip(boxes, ("first", "second"), strict=True):
        text = page.get_textpage()
        letter = text.get_charbox(
            text.get_text_range().index(words) + words.index("d" if "d" in words else "f")
        )
        assert bounds[3] == pytest.approx(letter[3], abs=1.0)


def _high(one: Any) -> float:
    _, low, _, top = one.get_bounds()
    return float(top - low)


@pytest.mark.parametrize(
    ("ticks", "rows"),
    [
        (("a", "b", "c", "d"), [4]),
        (("a side of the quilt, sewn",) * 4, [2, 2]),  # of which three have room in a row
        (("a side of the quilt " * 2,) * 4, [2, 2]),
    ],
)
def test_four_ticks_stand_in_one_line_or_two_by_two(
    pattern: Pattern, ticks: tuple[str, ...], rows: list[int]
) -> None:
    named = [Tick(key=str(index), said=f"§{index} {text}") for index, text in enumerate(ticks)]
    (page,) = written(pattern, [Step(number=1, said=("tick",), ticks=tuple(named))], texts=("§",))
    found = places(page, "§")
    levels = sorted({round(y) for _, y in found})
    assert sorted(sum(round(y) == level for _, y in found) for level in levels) == rows
    assert len({round(x) for x, _ in found}) == rows[0]


def test_a_wide_tick_takes_two_places_of_its_row(pattern: Pattern) -> None:
    """One long name left room for no more than two ticks beside one another."""
    named = [
        Tick(key=str(index), said=f"§{index} · {'I (capital I)' if index == 6 else 'o'}")
        for index in range(1, 10)
    ]
    step = Step(number=1, said=("tick",), ticks=tuple(named), drawing=drawing(200, 60))
    (page,) = written(pattern, [step], texts=("§",))
    found = places(page, "§")
    rows = [
        [x for x, y in found if round(y) == level] for level in sorted({round(y) for _, y in found})[::-1]
    ]
    assert len(rows) == 2 and all(row == sorted(row) for row in rows)
    columns = sorted({round(x) for x, _ in found})
    apart = [after - before for before, after in pairwise(columns)]
    assert max(apart) - min(apart) <= 1
    (behind,) = [
        after - before for row in rows for before, after in pairwise(row) if after - before > 1.5 * min(apart)
    ]
    assert behind == pytest.approx(2 * min(apart), abs=2)


def test_many_ticks_stand_evenly_below_one_another(pattern: Pattern) -> None:
    """A gap stood after the twelfth line, where they may go on on the next page."""
    named = [Tick(key=str(index), said=f"§{index} letters of some length") for index in range(29)]
    step = Step(number=1, said=("tick",), ticks=tuple(named), drawing=drawing(200, 60))
    (page, *_) = written(pattern, [step, Paragraph(said="after")], texts=("§",))
    heights = sorted({y for _, y in places(page, "§")}, reverse=True)
    assert len(heights) > 13
    apart = [above - below for above, below in pairwise(heights)]
    assert apart == pytest.approx([apart[0]] * len(apart), abs=0.1)


def test_each_page_says_its_chapters_and_steps(pattern: Pattern) -> None:
    """The steps that the head names are those whose numbers stand on the page."""
    first = [Step(number=number, said=("do",), drawing=drawing(100, 150)) for number in range(1, 8)]
    second = [Step(number=number, said=("sew",), drawing=drawing(100, 150)) for number in range(8, 12)]
    pages = texts(written(pattern, first, second))
    assert len(pages) > 2
    said = [re.findall(r"(\w+) · steps? (\d+)(?:–(\d+))?", text.split("line")[0]) for text in pages]
    for text, heads in zip(pages, said, strict=True):
        named = [n for _, low, high in heads for n in range(int(low), int(high or low) + 1)]
        assert named == [int(number) for number in re.findall(r"^(\d+) (?:do|sew)", text, re.MULTILINE)]
    assert {name for heads in said for name, *_ in heads} == {"Cutting", "Letters"}


def test_pages_of_the_contents_stand_below_one_another_at_the_end_of_their_lines(pattern: Pattern) -> None:
    """They followed their titles, each somewhere else."""
    page = pypdfium2.PdfDocument(pattern_pdf(pattern, instructions_of(pattern)))[1]
    text = page.get_textpage()
    said = text.get_text_range()
    start = said.index("Where to find it")
    ends = [
        text.get_charbox(found.end() - 1)[2]
        for found in re.finditer(r"\bpages? (?:\d+–)?\d+(?=\s)", said)
        if start < found.start() < said.index("What you need", start + 60)
    ]
    assert len(ends) >= 10
    shapes = [
        shape.get_bounds() for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=1)
    ]
    rules = {right for left, low, right, high in shapes if high - low < 1.5 and 200 < right - left < 300}
    # The ink of a last digit ends within a point or so of its advance.
    assert len(rules) == 2 and all(any(0 <= rule - end < 1.5 for rule in rules) for end in ends)


def test_words_below_a_measured_line_keep_a_millimeter_from_it(pattern: Pattern) -> None:
    measured = Drawing(
        width=200.0,
        height=40.0,
        marks=tuple(dimension((20, 30), (180, 30), "17 1/4 in", off=-4)),
        said="half",
    )
    (page,) = written(pattern, [Picture(drawing=measured)])
    tops = [
        shape.get_bounds()
        for shape in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=3)
        if 100 < shape.get_bounds()[2] - shape.get_bounds()[0] < 250
    ]
    line = min(tops, key=lambda bounds: bounds[1])
    seen = page.render(scale=PIXELS, grayscale=True).to_numpy()
    left, right = int((line[0] + 40) * PIXELS), int((line[2] - 40) * PIXELS)
    level = round((page.get_height() - line[1]) * PIXELS) + 2
    below = next(row for row in range(level, seen.shape[0]) if seen[row, left:right].min() < 128)
    assert (below - level + 2) / PIXELS >= 72 / 25.4


@pytest.mark.parametrize("whole", [False, True])
def test_the_contents_say_on_which_page_each_chapter_begins(pattern: Pattern, whole: bool) -> None:
    told = instructions_of(pattern)
    pages = texts(
        pypdfium2.PdfDocument(whole_pattern_pdf(pattern, told) if whole else pattern_pdf(pattern, told))
    )
    listed = re.findall(r"^(\S.*?)(?: · steps? [\d–]+)?\s+pages? (\d+)", pages[1], re.MULTILINE)
    assert len(listed) >= 10
    titles = [pattern.speech.field(chapter.title) for chapter in told.chapters[2:]]
    assert set(titles) <= {title for title, _ in listed}
    for title, page in listed:
        if title in titles:
            heading = rf"^{re.escape(title)}\s*$"
            found = [n for n, text in enumerate(pages, 1) if re.search(heading, text, re.MULTILINE)]
            assert found[0] == int(page)
    if whole:
        (first, last) = re.findall(r"Templates: print these at 100%\s+pages (\d+)–(\d+)", pages[1])[0]
        assert "Measure this rule" in pages[int(first) - 1] and "Measure this rule" in pages[int(last) - 1]


def test_a_nearly_empty_last_page_is_saved_by_setting_lines_tighter(pattern: Pattern) -> None:
    """A paragraph of one line takes 13.5 points and 4 of white below, and 15 % less of that when it has to."""
    frame = pattern.sheets.frame
    room = (frame.drawing[3] - frame.margin) * 72 - 6 - 15 - 4 - 6
    loose, tight = int(room / 17.5), int(room / (13.5 + 0.85 * 4))
    assert tight > loose

    def pages(count: int) -> int:
        return len(written(pattern, [Paragraph(said=f"line {index}") for index in range(count)]))

    assert [pages(count) for count in (loose, loose + 1, tight, tight + 1)] == [1, 1, 1, 2]


def test_a_booklet_is_drawn_once_and_each_figure_of_a_fraction_worked_out_once(
    pattern: Pattern, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It was drawn again for its contents, and each figure was shaped anew wherever it stood."""
    drawn: list[bool] = []
    figures: list[tuple[Any, ...]] = []

    def written(*given: Any, trial: bool) -> Any:
        drawn.append(not trial)
        return write(*given, trial=trial)

    def outline(*given: Any, **named: Any) -> Any:
        figures.append((*given, *named.values()))
        return shaped(*given, **named)

    write, shaped = booklet._written, label_outline
    monkeypatch.setattr(booklet, "_written", written)
    monkeypatch.setattr(lettering, "label_outline", outline)
    pattern_pdf(pattern)
    assert drawn == [False, False, True]
    assert 5 < len(figures) == len(set(figures))


def test_a_drawing_that_says_its_scale_is_never_drawn_smaller(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stitch that said “8 times as large” was drawn 6.4 times as large where a page was filled."""
    painted: list[tuple[Drawing, float]] = []

    def noting(sheet: Sheet, drawing: Drawing, at: Any, scale: float = 1.0) -> None:
        painted.append((drawing, scale))
        paint_drawing(sheet, drawing, at, scale)

    monkeypatch.setattr(blocks, "paint_drawing", noting)
    monkeypatch.setattr(flow, "SETTINGS", SETTINGS[-1:])  # pages as full as they get
    pattern_pdf(draft(design_from_mapping({"row": [{"text": "HI"}], "stitching": {"offers": ["satin"]}})))
    stitches = {scale for drawing, scale in painted if drawing.is_to_scale}
    assert stitches == {1.0}
    assert min(scale for _, scale in painted) < 0.9


def test_drawings_beside_words_grow_no_wider_than_their_column(pattern: Pattern) -> None:
    narrow, wide = drawing(100, 80), drawing(180, 80)
    steps = [
        Step(number=number, said=("cut it",), drawing=one) for number, one in enumerate((narrow, wide), 1)
    ]
    (page,) = written(pattern, steps)
    boxes = [one.get_bounds() for one in page.get_objects(filter=[2]) if _high(one) > 50]
    wides = [right - left for left, _, right, _ in boxes]
    assert wides == [pytest.approx(140, abs=2.0), pytest.approx(180, abs=2.0)]


@pytest.mark.long
def test_the_pictures_of_one_step_are_on_one_page_where_that_leaves_no_page_half_white(
    pattern: Pattern,
) -> None:
    """Rows of letters of "Where to start" were torn over two pages, and the words of a cutting plan from each other."""
    parted = 0
    for filled in range(16, 40):
        lines = [Step(number=index, said=(f"line {index}",)) for index in range(filled)]
        rows = [Picture(drawing=drawing(300, 60), caption=f"row {number}") for number in (1, 2)]
        bands = [Led(items=(("", f"band {number}"),)) for number in (1, 2, 3)]
        more = [Paragraph(said=f"more {index}") for index in range(20)]
        pages = texts(written(pattern, [*lines, Step(number=99, said=("start",)), *rows, *bands, *more]))
        parted += page_of(pages, "line 0") != page_of(pages, "more 19")
        assert len({page_of(pages, words) for words in ("start", "row 1", "row 2")}) == 1
        assert len({page_of(pages, words) for words in ("band 1", "band 2", "band 3")}) == 1
    assert parted > 5
