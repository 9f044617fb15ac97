"""Every number a maker works by, read back from the finished sheets and compared with the `Pattern`.

The reader knows neither the program's units nor its tables: it takes the characters of a PDF where PDFium finds them
(ISO 32000-1 §9.4.4: a glyph's origin lies on the baseline), sorts them into lines and cells, and turns "7 1/4 in" or
"18.4 cm" back into inches (1 in = 25.4 mm exactly: Federal Register, 1 July 1959). Columns are found by a word of
their head, rows by their first cell, sentences by a word that any wording would keep.
"""

from __future__ import annotations

import ctypes
import math
import re
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import groupby, pairwise
from typing import Any

import pypdfium2
import pytest
from pypdfium2 import raw

from applique.cloth import UseKind, plan_cloth
from applique.cutting import Lie, Split
from applique.cutting.diagram import letters_of
from applique.design import BorderKind, Corners, QuiltingKind, design_from_mapping
from applique.leftovers import Leftover
from applique.paging import TemplatePage
from applique.pattern import Pattern, draft
from applique.pieces import Layer
from applique.quilt.finishing import BATTING_SOLD, bias_length
from applique.quilt.strips import CutKind
from applique.reports import summary_md
from applique.sewing.piecing import piecing_seams
from applique.sheets import label_pdf, nesting_pdf, pattern_pdf, placement_guide_pdf, templates_pdf
from applique.units import Units
from applique.words.buying import material_said
from applique.words.cloth import use_said
from tests.there import there

FABRICS = [
    {"name": "Ink", "color": "#203040"},
    {"name": "Rust", "color": "#a05030", "usable_width": "42in"},
    {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
    {"name": "Moss", "color": "#506040"},
]
DESIGNS: dict[str, dict[str, Any]] = {
    "inches": {
        "title": "Read back",
        "designer": "A. Maker",
        "panel": {"width": "45in", "height": "30in", "fabric": "Fog", "seam_allowance": "3/8in"},
        "lettering": {"font": "Fredoka", "fabric": "Ink"},
        "row": [
            {"text": "ROAR", "cap_height": "5in", "right": "3in", "stitch": "satin"},
            {"text": "LOCK", "cap_height": "7/2in", "align": "left", "fabric": "Rust", "outline": "1/4in"},
            {"text": "&I", "cap_height": "4in", "align": "right", "up": "-1/2in", "stitch": "zigzag"},
        ],
        "fabric": FABRICS,
        "outline": {"fabric": "Moss"},
        "border": [
            {
                "kind": "strip",
                "width": "3/2in",
                "fabrics": ["Ink"],
                "corners": "cornerstones",
                "corner_fabric": "Rust",
                "first": "top and bottom",
            },
            {"kind": "squares", "size": "3in", "fabrics": ["Rust", "Moss"]},
            {"kind": "rectangles", "width": "2in", "size": "7in", "fabrics": ["Ink", "Moss", "Rust"]},
        ],
        "hanging": {"sleeve": True},
        "quilting": [
            {"kind": "echo", "lines": 2},
            {"kind": "crosshatch", "spacing": "4in"},
            {"kind": "in the ditch"},
        ],
        "yardage": {"shrinkage_percent": 4, "squaring": "1/2in"},
        "stitching": {"spool": "40yd", "throat": "9in"},
    },
    "centimeters": {
        "title": "Zurückgelesen",
        "units": "cm",
        "panel": {"width": "80cm", "height": "70cm"},
        "lettering": {"font": "Rubik", "align": "right"},
        "row": [
            {"text": "ROW", "cap_height": "12cm"},
            {"text": "Boote", "cap_height": "9cm", "right": "-4cm"},
        ],
        "border": [{"kind": "strip", "width": "6cm", "fabrics": ["Rust"], "corners": "mitered"}],
        "fabric": [
            {"name": "Rust", "color": "#a05030", "usable_width": "110cm"},
            {"name": "Fog", "color": "#e0e0d8", "usable_width": "140cm"},
        ],
        "binding": {"grain": "bias", "fabric": "Fog"},
        "backing": {"kind": "leftovers"},
        "sewing": {"weave": "loose"},
        "paper": {"size": "A4"},
        "quilting": [{"kind": "edge to edge", "row_height": "20cm", "overlap": "1cm"}],
    },
    "pieced": {
        "panel": {"width": "60in", "height": "50in", "fabric": "Fog"},
        "lettering": {"font": "Rubik", "fabric": "Ink"},
        "row": [
            {"text": "Q", "cap_height": "17in", "align": "left"},
            {"text": "ebb", "cap_height": "6in", "stitch": "straight"},
        ],
        "fabric": FABRICS,
        "paper": {"size": "legal", "copies": "each", "full_size_guide": True},
        "stitching": {"when": "with the quilting"},
    },
}


# Reading


@dataclass(frozen=True, slots=True)
class Cell:
    """Characters that follow one another on one baseline, in points of the page, y up."""

    page: int
    text: str
    x0: float
    x1: float
    y: float


Row = tuple[Cell, ...]
Rows = list[dict[str, str]]
SAME_CELL = 4.0
"""Points between characters of one cell at the most; columns are further apart."""
IN_CHIP = 6.0
"""Points that what stands in the chip of a fabric is further in than the head of its column."""
SAME_TABLE = 20.0
"""Points from line to line within a table at the most; what follows a table is further down."""
HEADER = 2
"""Lines at the head of every page."""
IN = {
    "in": Fraction(1),
    "ft": Fraction(12),
    "yd": Fraction(36),
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "m": Fraction(10000, 254),
}
LENGTH = re.compile(
    r"(?<![\d/.])(?:(?P<whole>\d[\d,]*(?:\.\d+)?)(?:\s+(?P<part>\d+/\d+))?|(?P<only>\d+/\d+))"
    r"\s+(?P<unit>in|ft|yd|mm|cm|m)\b"
)
A_LENGTH = r"([\d/ .]+ (?:in|cm))"
_BOTH_SIDES = re.compile(rf"{A_LENGTH} by {A_LENGTH}")


def lengths(text: str) -> list[Fraction]:
    """Every length in `text`, in inches."""
    return [
        (Fraction((found["whole"] or "0").replace(",", "")) + Fraction(found["part"] or found["only"] or 0))
        * IN[found["unit"]]
        for found in LENGTH.finditer(text)
    ]


def counts(text: str) -> list[int]:
    """Every whole number in `text` that is no part of a length."""
    return [int(number.replace(",", "")) for number in re.findall(r"\d[\d,]*", LENGTH.sub("", text))]


def lines_of(pdf: bytes) -> list[Row]:
    """The level lines of a PDF below the heads of its pages, top to bottom, each as its cells from left to right."""
    document = pypdfium2.PdfDocument(pdf)
    return [line for number, page in enumerate(document) for line in list(_page_lines(number, page))[HEADER:]]


def _page_lines(number: int, page: Any) -> Iterator[Row]:
    text = page.get_textpage()
    letters: list[tuple[float, float, float, str]] = []
    x, y = ctypes.c_double(), ctypes.c_double()
    for index in range(text.count_chars()):
        if raw.FPDFText_IsGenerated(text, index) or raw.FPDFText_GetCharAngle(text, index):
            continue
        raw.FPDFText_GetCharOrigin(text, index, x, y)
        right = text.get_charbox(index, loose=True)[2]
        letters.append((-round(y.value, 1), x.value, right, chr(raw.FPDFText_GetUnicode(text, index))))
    for level, found in groupby(sorted(letters), key=lambda letter: letter[0]):
        cells: list[Cell] = []
        for _, left, right, letter in found:
            if cells and left - cells[-1].x1 <= SAME_CELL:
                cells[-1] = Cell(number, cells[-1].text + letter, cells[-1].x0, right, -level)
            else:
                cells.append(Cell(number, letter, left, right, -level))
        yield tuple(Cell(c.page, c.text.strip(), c.x0, c.x1, c.y) for c in cells)


def drawn(page: Any) -> list[tuple[float, float, float, float]]:
    """The bounds of every path of a page, in points: left, low, right, top; half a line wider than what is drawn."""
    sides = [ctypes.c_float() for _ in range(4)]
    boxes = []
    for path in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=1):
        assert raw.FPDFPageObj_GetBounds(path, *sides)
        left, low, right, top = (side.value for side in sides)
        boxes.append((left, low, right, top))
    return boxes


def running(lines: Iterable[Row]) -> str:
    """Lines as one running text."""
    return " ".join(cell.text for line in lines for cell in line)


def table(lines: Sequence[Row], *heads: str) -> Rows:
    """The rows of the table whose head has all the words `heads`, each a mapping from these to its cells.

    Cells that run over several lines are joined; a table that goes on under its head on the next page is one.
    """
    rows: Rows = []
    columns: list[tuple[float, str]] = []
    above: Cell | None = None
    for line in lines:
        first = line[0]
        named = [(c.x0, next((h for h in heads if re.search(rf"\b{h}\b", c.text)), "")) for c in line]
        if {name for _, name in named} >= set(heads):
            columns, above = named, first
        elif above is None or above.page != first.page or above.y - first.y > SAME_TABLE:
            above = None
        else:
            above = first
            if first.x0 < columns[0][0] + IN_CHIP:
                rows.append(dict.fromkeys(heads, ""))
            for cell in line:
                name = next(name for x, name in reversed(columns) if x <= cell.x0 + 1)
                rows[-1][name] = f"{rows[-1].get(name, '')} {cell.text}".strip()
    assert rows, f"no table with the columns {heads}"
    return rows


def markdown_table(text: str, *heads: str) -> Rows:
    """The same for a table of Markdown."""
    rows: Rows = []
    columns: list[str] = []
    for line in text.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")] if line.startswith("|") else []
        named = [
            cell if cell in heads else next((h for h in heads if cell.startswith(f"{h} ")), "")
            for cell in cells
        ]
        named = [head if head not in named[:at] else "" for at, head in enumerate(named)]
        if set(named) >= set(heads):
            columns = named
        elif not cells:
            columns = []
        elif columns and not set(line) <= set("|-"):
            rows.append(dict(zip(columns, cells, strict=True)))
    assert rows, f"no table with the columns {heads}"
    return rows


def sentences(text: str, beginning: str) -> list[str]:
    """From each match of `beginning` to the end of its sentence."""
    return [found[0] for found in re.finditer(rf"(?:{beginning})(?:[^.]|\.(?=\d))*", text)]


def sentence(text: str, beginning: str) -> str:
    """The only one."""
    (found,) = sentences(text, beginning)
    return found


def near(read: Sequence[Fraction | float], wanted: Sequence[Fraction | float], step: Fraction) -> None:
    """Each number read is the one wanted, rounded to a multiple of `step`."""
    half = float(step) / 2 + 1e-6
    assert [float(one) for one in read] == pytest.approx([float(one) for one in wanted], rel=0, abs=half)


@dataclass(frozen=True, slots=True, kw_only=True)
class Printed:
    """A pattern and what is read from its sheets."""

    pattern: Pattern
    booklet: list[Row]
    guide: list[Row]
    nests: list[Row]
    summary: str

    @property
    def text(self) -> str:
        return running(self.booklet)

    @property
    def words(self) -> str:
        """Running text without the measures in drawings beside it."""
        cells = (cell.text for line in self.booklet for cell in line)
        return " ".join(text for text in cells if not re.fullmatch(r"[\d/. ]+ (?:in|cm|mm)", text))

    @property
    def steps(self) -> str:
        """What steps say, without the words of drawings beside them."""
        left = next(
            cell.x0 for line in self.booklet for cell in line if cell.text.startswith("Press the top")
        )
        return " ".join(cell.text for line in self.booklet for cell in line if abs(cell.x0 - left) < 1)

    @property
    def metric(self) -> bool:
        return self.pattern.design.units.value == "cm"

    def step(self, denominator: int) -> Fraction:
        """What lengths are rounded to: a part of an inch, or a millimeter."""
        return Fraction(10, 254) if self.metric else Fraction(1, denominator)

    def agree(self, text: str, *wanted: Fraction | float, step: Fraction | None = None) -> None:
        """The lengths of `text` are those wanted, each rounded to `step` (1/16 in or 1 mm)."""
        near(lengths(text), wanted, step or self.step(16))

    def sizes(self, text: str, *wanted: Fraction | float) -> None:
        """The lengths of `text` are the sizes wanted, as they are cut: to 1/64 in or a tenth of a millimeter."""
        near(lengths(text), wanted, self.step(64) / (10 if self.metric else 1))

    def available(self, read: Sequence[Fraction], *wanted: Fraction) -> None:
        """The lengths read are those there are to cut from, each down to 1/16 in or 1 mm: never more than there is."""
        step = self.step(16)
        assert list(read) == [math.floor(length / step) * step for length in wanted]

    def needed(self, read: Sequence[Fraction], *wanted: Fraction) -> None:
        """The lengths read are those wanted of a fabric, each up to the next 1/8 in or 1 mm: never short."""
        self.figured(read, *wanted, step=self.step(8))

    def figured(self, read: Sequence[Fraction], *wanted: Fraction, step: Fraction | None = None) -> None:
        """The lengths read are those that a rule figures with, each up to the next 1/16 in or 1 mm: never short."""
        step = step or self.step(16)
        assert list(read) == [math.ceil(length / step) * step for length in wanted]

    @property
    def other(self) -> Fraction:
        """What sizes in brackets are rounded to, in the other units."""
        return Fraction(1, 8) if self.metric else Fraction(10, 254)

    def runs(self, text: str, *wanted: Fraction | float) -> None:
        """The long runs of `text` are those wanted: to 0.1 yd or 0.1 m below ten, whole from there on."""
        unit = IN["m"] if self.metric else IN["yd"]
        for read, run in zip(lengths(text), wanted, strict=True):
            near([read], [run], unit if run >= 9.95 * unit else unit / 10)


@pytest.fixture(scope="module", params=DESIGNS)
def printed(request: pytest.FixtureRequest) -> Printed:
    pattern = draft(design_from_mapping(DESIGNS[request.param]))
    return Printed(
        pattern=pattern,
        booklet=lines_of(pattern_pdf(pattern)),
        guide=lines_of(placement_guide_pdf(pattern)),
        nests=lines_of(nesting_pdf(pattern)),
        summary=summary_md(pattern).decode("utf-8"),
    )


def test_the_reader_reads_lengths_and_counts() -> None:
    text = "6 strips of 2 1/2 in; 227 1/2 in, 3/4 yd, 1.9 m and 12,068 stitches of 2.5 mm. 3. In 4 rows"
    assert lengths(text) == [Fraction(5, 2), Fraction(455, 2), 27, Fraction(19000, 254), Fraction(25, 254)]
    assert counts(text) == [6, 12068, 3, 4]
    assert sentence("No. A 2.5 cm by 3 in. B", "A") == "A 2.5 cm by 3 in"


# What to buy


def _washed_and_squared(printed: Printed) -> tuple[Fraction, Fraction]:
    """What washing leaves of a length, and what is squared off at each end: as the designs say, or 1 in, 2.5 cm."""
    if printed.pattern.title == "Read back":
        return Fraction(96, 100), Fraction(1, 2)
    return Fraction(1), Fraction(5, 2) * IN["cm"] if printed.metric else Fraction(1)


def _trimmed_off(printed: Printed) -> Fraction:
    """What is trimmed off a panel under satin stitch before the borders are on, in all: 1 in, or 3 cm (common practice,
    no source)."""
    return {"Read back": Fraction(1), "Zurückgelesen": 3 * IN["cm"]}.get(printed.pattern.title, Fraction(0))


def _beyond(printed: Printed) -> Fraction:
    """How far the cut edge of the panel lies outside the finished one."""
    return printed.pattern.panel.seam_allowance + _trimmed_off(printed) / 2


@pytest.mark.long
def test_what_to_buy_is_what_is_cut_and_what_it_loses(printed: Printed) -> None:
    """By the fabric: used, squared up at each end, divided by what washing leaves, and the next step that a shop sells.

    What shrinks by s needs length / (1 - s): algebra.
    """
    washed, squaring = _washed_and_squared(printed)
    sold = IN["cm"] * 10 if printed.metric else IN["yd"] / 8
    booklet = table(printed.booklet, "fabric", "for", "usable width", "buy", "how")
    summary = markdown_table(printed.summary, "fabric", "for", "buy", "how")
    (measured,) = sentences(printed.text, "Usable width is measured between the selvages")
    assert ("after washing" in measured) == (washed < 1)
    assert "usable_width" not in printed.text
    for number, (row, short, buy) in enumerate(
        zip(booklet, summary, printed.pattern.shopping.cloth, strict=True)
    ):
        wide, *least = lengths(row["usable width"])
        printed.available([wide], buy.fabric.usable_width)
        assert bool(least) == ("at least" in row["usable width"])
        assert least or "no less" in row["usable width"] or not buy.cutting.plan.used
        ends = [
            region.y + region.width
            for cloth in buy.cutting.plan.cloths
            for region, _ in cloth.root.pieces()
            if region.width < cloth.root.width
        ]
        assert all(max(ends, default=Fraction(0)) <= one < buy.fabric.usable_width for one in least)
        letter, row["fabric"] = row["fabric"].split(" ", 1)
        assert letter == chr(ord("A") + number)
        used = sum((cloth.root.length for cloth in buy.cutting.plan.cloths), Fraction(0))
        wanted = (used + 2 * squaring) / washed
        assert len(booklet) == len(summary) == len(printed.pattern.shopping.cloth)
        for said in (row, short):
            assert said["fabric"] == buy.fabric.name
            of_borders_last = sorted(buy.uses, key=lambda use: use.kind is UseKind.BORDER)
            each = ", ".join(dict.fromkeys(str(use_said(use)) for use in of_borders_last))
            assert re.sub(r",? and ", ", ", said["for"]) == each.replace(" and ", ", ")
            spare = IN["cm"] * Fraction(3, 2) if printed.metric else Fraction(1, 2)
            bought = math.ceil((wanted + spare / washed) / sold) * sold if used else 0
            assert lengths(said["buy"]) == [bought]
            said["how"], *more = said["how"].split(", and one step more so that at least ")
            assert bool(more) == (bought > math.ceil(wanted / sold) * sold)
            assert [lengths(one)[0] for one in more] == [spare] * len(more)
            first, end, last = lengths(said["how"].split(", up to")[0])
            printed.figured([first, last], used, wanted)
            near([end], [squaring], printed.step(8))
            assert lengths(said["how"])[-1] == sold
            percent = re.findall(r"(\d+)% of what is bought shrinks away", said["how"])
            assert percent == ([str(100 - 100 * washed)] if washed < 1 else [])


def test_the_web_is_what_its_nest_takes(printed: Printed) -> None:
    """A quarter more than the nest (common practice, no source), up to the next step that a shop sells."""
    web = printed.pattern.fusible
    sold = IN["cm"] * 10 if printed.metric else IN["yd"] / 8
    buy = math.ceil(web.used * 5 / 4 / sold) * sold
    said = re.split("Stabilizer|Batting", sentence(printed.text, r"Fusible web(?= \d)"))[0]
    assert lengths(said)[0] == buy
    printed.available(lengths(said)[1:2], web.usable_width)
    printed.figured(lengths(said)[2:4], web.used, web.used * 5 / 4)
    assert lengths(said)[4] == sold
    width, bought, used, wanted, _ = lengths(sentence(printed.summary, "Fusible web, ").splitlines()[0])
    assert bought == buy
    printed.available([width], web.usable_width)
    printed.figured([used, wanted], web.used, web.used * 5 / 4)


def test_nests_say_what_letters_take_and_how_long_they_are(printed: Printed) -> None:
    """Of web the length that is taken; of fabric the piece that letters lie on, as the table of cutting has it."""
    for need in printed.pattern.cloth:
        (row,) = [
            row for row in _pieces(printed, need.fabric) if row["for"].startswith(f"{need.lettering.value}:")
        ]
        number = [buy.fabric.name for buy in printed.pattern.shopping.cloth].index(need.fabric)
        named = f"{chr(ord('A') + number)} {row['piece']}: {row['size']}"
        assert named in " ".join(running([line]) for line in printed.nests)
    needs = [n for n in (printed.pattern.fusible,) if n.nest or n.joined]
    by_page: dict[int, list[Row]] = {}
    for line in printed.nests:
        by_page.setdefault(line[0].page, []).append(line)
    taken = f"The {printed.pattern.fusible.lettering.value} take "
    told = [(lines, one) for lines in by_page.values() for one in sentences(running(lines), taken)]
    for need, (lines, said) in zip(needs, told, strict=True):
        alone = [one for _, one in told if one in sentences(running(lines), taken)] == [said]
        used, width = lengths(said)
        assert str(material_said(need)).lower() in said.lower()
        assert "Buy" not in running(lines)
        printed.available([width], need.usable_width)
        # One length of web, one number: on the nest, at its end and in the list.
        listed = lengths(sentence(printed.summary, "Fusible web, ").splitlines()[0])[2]
        assert used == listed == math.ceil(need.used / printed.step(16)) * printed.step(16)
        bands = [line for line in lines if len(line) == 2 and all(LENGTH.fullmatch(c.text) for c in line)]
        if need.nest and alone:
            end = lengths(bands[-1][1].text)[0]
            assert need.nest.length - 1e-6 <= end
            if not need.joined:
                assert end == used
            start, *joins, _ = lengths(running(bands))
            assert start == 0
            assert joins[::2] == joins[1::2]


def test_what_is_left_over_is_what_was_bought_and_not_used(printed: Printed) -> None:
    """Whatever no piece lies on and that is 1/2 in wide or more, and the end of the length that is bought."""
    washed, squaring = _washed_and_squared(printed)
    for buy in printed.pattern.shopping.cloth:
        wanted = [
            (left.width, left.length) for cloth in buy.cutting.plan.cloths for left in cloth.root.leftovers()
        ]
        wanted.append((buy.fabric.usable_width, buy.buy * washed - 2 * squaring - buy.used))
        pairs_wanted = dict.fromkeys((min(two), max(two)) for two in wanted if min(two) >= Fraction(1, 2))
        wanted = list(pairs_wanted)
        said = [row for row in _pieces(printed, buy.fabric.name) if row["for"].startswith("left over")]
        assert bool(said) == bool(wanted)
        # What is meant for the back has a row of its own.
        read = [size for row in said for size in lengths(row["size"])]
        pairs = sorted(zip(read[::2], read[1::2], strict=True))
        printed.available(
            [size for pair in pairs for size in pair], *(size for sides in sorted(wanted) for size in sides)
        )


def test_thread_and_spools_are_what_rows_and_quilting_take(printed: Printed) -> None:
    """By color for letters and what lies behind them, then piecing and quilting; half of each on bobbins."""
    pattern = printed.pattern
    spool, bobbin = pattern.design.stitching.spool, pattern.design.stitching.bobbin
    layers = [layer for row in pattern.stitching.rows for layer in row.layers]
    wanted = [
        math.fsum(layer.top + layer.bobbin for layer in layers if layer.thread == color)
        for color in dict.fromkeys(layer.thread for layer in layers)
    ]
    wanted.append(_piecing_thread(pattern))
    if pattern.quilting:
        wanted.append(math.fsum(one.thread for one in pattern.quilting))
    else:
        # Lines 1 in apart all over the quilt, stitches of 2.5 mm through 3 mm: 2 + 2 · 3 / 2.5 times that, and waste.
        width, height = pattern.quilt.finished
        wanted.append(float(width * height) * 4.4 * (1 + pattern.design.stitching.waste_percent / 100))
    each = r"([\d.]+ (?:yd|m))"
    whole = IN["m"] if printed.metric else IN["yd"]
    wanted = [math.ceil(length / whole - 1e-9) * float(whole) for length in wanted]
    for text in (printed.text, printed.summary):
        said = re.findall(rf"{each}, (\d+) spools? of {each} \(wind (\d+) bobbins? of {each} from it\)", text)
        assert [int(spools) for _, spools, *_ in said] == [math.ceil(length / spool) for length in wanted]
        assert [int(wound) for *_, wound, _ in said] == [math.ceil(length / 2 / bobbin) for length in wanted]
        for (length, _, on_one, _, on_bobbin), used in zip(said, wanted, strict=True):
            printed.runs(f"{length} {on_one} {on_bobbin}", used, spool, bobbin)
    # What the table of rows says for each of them adds up to what the list says for the letters.
    rows = table(printed.booklet, "row", "stitch", "length", "edge", "stitches", "thread", "time")
    halves = [length for row in rows for length in lengths(row["thread"])]
    assert sum(halves) == sum(lengths(" ".join(length for length, *_ in said[:-2])))


def test_how_the_thread_for_quilting_was_figured_is_said(printed: Printed) -> None:
    """Stitch type 301 takes 2 + 2t/p of thread for each unit of line (Coats): through 3 mm of layers, and waste. Where
    nothing is said of quilting, the length of its lines is said too: by ratio and waste it makes the thread."""
    design = printed.pattern.design
    said = re.findall(
        r"in stitches of ([\d.]+) mm, a line of machine quilting takes about ([\d.]+) times its length, .*?"
        r"taken as ([\d.]+) mm thick under the foot\. Another (\d+)%",
        printed.text,
    )
    pitches = dict.fromkeys(one.stitch_length for one in printed.pattern.quilting if one.lines)
    wanted = [float(pitch / IN["mm"]) for pitch in pitches] or [2.5]
    assert [float(pitch) for pitch, *_ in said] == pytest.approx(wanted)
    for pitch, times, layers, waste in said:
        assert (float(layers), int(waste)) == (3, design.stitching.waste_percent)
        assert float(times) == pytest.approx(2 + 2 * 3 / float(pitch), abs=0.05)
    listed = re.search(
        r"The thread listed, (.*?), is for lines .*? quilt, (.*?) of them in all\.", printed.text
    )
    assert bool(listed) is not bool(printed.pattern.quilting)
    if listed is not None:
        (thread,), (line,) = lengths(listed[1]), lengths(listed[2])
        assert float(thread / line) == pytest.approx(4.4 * (1 + int(said[0][3]) / 100), rel=0.02)


def _piecing_thread(pattern: Pattern) -> float:
    """Two and a half times every seam (Coats: 220 cm of type 301 take 550 cm), 4.4 times what is sewn through all
    layers, each up to a tenth of a yard or of a meter as it is printed, and waste."""
    cloth = plan_cloth(pattern.design, pattern.quilt, pattern.cloth)
    seams = math.fsum(seam.length for seam in piecing_seams(pattern.panel, pattern.quilt, cloth))
    bound = float(there(pattern.quilt.binding).needed)
    tenth = 3.6 if pattern.design.units is Units.INCHES else 100 / 25.4
    plain, through = (tenth * math.ceil(length / tenth - 1e-9) for length in (seams - bound, bound))
    return (plain * 550 / 220 + through * 4.4) * (1 + pattern.design.stitching.waste_percent / 100)


def test_stabilizer_is_as_large_as_each_row_and_an_inch_around(printed: Printed) -> None:
    rows = printed.pattern.stitching.rows
    wanted = {row.where.row: row.stabilizer for row in rows if row.stabilizer.kind.value != "none"}
    said = table(printed.booklet, "row", "stabilizer", "cut", "pieces")
    assert [int(one["row"]) for one in said] == list(wanted)
    for one, piece in zip(said, wanted.values(), strict=True):
        assert one["stabilizer"] == piece.kind.value
        printed.agree(one["cut"], piece.width, piece.height, step=printed.step(8))
        assert counts(one["pieces"]) == [piece.widths]
    for row in printed.pattern.panel.rows:
        x0, y0, x1, y1 = row.ink
        reach = max((o.reach for o in printed.pattern.outlines if o.where == row.where), default=0.0)
        stabilizer = rows[row.number - 1].stabilizer
        for side, ink in ((stabilizer.width, x1 - x0), (stabilizer.height, y1 - y0)):
            assert -1e-6 <= side - (ink + 2 + 2 * reach) < Fraction(1, 8)


def test_stabilizer_is_bought_by_the_roll_and_cut_from_it_as_said(printed: Printed) -> None:
    """Bands one after the other along a roll of 20 in (common practice); up to the next step that a shop sells."""
    sold = IN["cm"] * 10 if printed.metric else IN["yd"] / 8
    needs = printed.pattern.stitching.stabilizers
    for text in (printed.text, printed.summary):
        said = re.findall(r"(?:tear|cut)-away, ([^:]*?) wide: ([^;(]*?) for (\d+) pieces? \(([^)]*)\)", text)
        assert len(said) == len(needs)
        for (width, buy, pieces, rule), need in zip(said, needs, strict=True):
            used = sum(band.length for band in need.bands)
            near(lengths(f"{width} {buy}"), [20, math.ceil(used / sold) * sold], printed.step(8))
            assert int(pieces) == sum(len(list(cloth.root.pieces())) for cloth in need.plan.cloths)
            near([lengths(rule)[0]], [used], printed.step(16))
            assert lengths(rule)[-1] == sold
    for need in needs:
        lengths_said = "this length" if len(need.bands) == 1 else "these lengths"
        said_bands = sentence(printed.text, f"Cut {lengths_said} off the roll of {need.kind.value}")
        near(lengths(said_bands), [20, *(band.length for band in need.bands)], printed.step(8))
        assert [int(row) for row in re.findall(r"row (\d+)", said_bands)] == [
            where.row for band in need.bands for where in dict.fromkeys(band.tables)
        ]


def test_batting_is_as_sold_and_covers_the_quilt(printed: Printed) -> None:
    """The smallest of the sizes sold (docs/sources.md) that covers; the list is asked for what it should hold."""
    over = 2 * printed.pattern.design.batting.overage
    size = [side + over for side in printed.pattern.quilt.finished]
    name = next(
        (
            name
            for name, *sold in BATTING_SOLD
            if sorted(size) <= sorted(map(Fraction, sold)) and max(size) <= max(sold)
        ),
        "by the length",
    )
    for text in (printed.text, printed.summary):
        sold, cover = sentence(text, "Batting:? (?!at |Batting )").split("cover", 1)
        assert name in sold
        near(
            sorted(lengths(sold)),
            sorted(next(sold for n, *sold in BATTING_SOLD if n == name)),
            printed.step(8),
        )
        near(lengths(cover)[:2], size, printed.step(8))
    layered, bought = sentence(printed.text, "Batting at").split(name, 1)
    printed.agree(layered, *size)
    near(
        sorted(lengths(bought)), sorted(next(sold for n, *sold in BATTING_SOLD if n == name)), printed.step(8)
    )


def test_backing_is_pieced_the_way_that_takes_less_cloth(printed: Printed) -> None:
    """Lengths side by side; where leftovers should make it and are too few, a strip of them widens the lengths."""
    backing, seam = printed.pattern.quilt.backing, 2 * printed.pattern.panel.seam_allowance
    over, step = 2 * printed.pattern.design.backing.overage, printed.step(16)
    wide, high = (math.ceil((side + over) / step) * step for side in printed.pattern.quilt.finished)
    usable = math.floor(backing.usable_width / step) * step

    def reach(panels: int) -> Fraction:
        """How wide so many panels are, sewn together."""
        return panels * usable - (panels - 1) * seam

    def taken(across: Fraction, along: Fraction) -> tuple[Fraction, int, Fraction, Fraction]:
        """The cloth, the fewest panels that are `across` wide together, how long each is, and `across`."""
        panels = next(n for n in range(1, 99) if reach(n) >= across)
        return panels * along, panels, along, across

    ways = sorted([taken(wide, high), taken(high, wide)])
    mixed = printed.pattern.shopping.mixed_backing
    assert (mixed is not None) == (printed.pattern.title == "Zurückgelesen")
    use = printed.pattern.shopping.use(UseKind.BACKING)
    assert use is not None and use.way is not None
    said = sentence(printed.text, rf"Backing (?={A_LENGTH} by )")
    if mixed is None:
        (length, panels, along, _), (other, *_) = ways
        assert (use.way.length, len(use.way.widths)) == (length, panels)
        printed.sizes(said, wide, high, along, other)
        assert counts(said) == [panels, panels - 1][: 1 + (panels > 1)]
        return
    fewer = [
        ((panels - 1) * along, panels - 1, along, across) for _, panels, along, across in ways if panels > 1
    ]
    length, panels, along, across = min(fewer)
    assert length < ways[0][0]
    strip = across - reach(panels) + seam
    assert (use.way.length, len(use.way.widths)) == (length, panels)
    printed.sizes(said, wide, high, along, strip)
    assert counts(said) == [panels]
    printed.sizes(
        sentence(printed.text, r"Trim it to (?=[\d/ .]+ (?:in|cm) by)"), strip, along, ways[0][0] - length
    )
    pieces = lengths(sentence(printed.text, "From what is left over, piece a strip"))
    printed.available(pieces, *(side for one in mixed.strip for side in sorted((one.length, one.width))))
    assert min(pieces[::2]) >= strip
    assert sum(pieces[1::2]) - (len(mixed.strip) - 1) * seam >= along
    _left_over_once(printed.pattern, mixed.strip)


def _left_over_once(pattern: Pattern, pieces: Iterable[Leftover]) -> None:
    """Each of `pieces` is left of some fabric, and none is used twice."""
    left = Counter(piece for buy in pattern.shopping.cloth for piece in buy.cutting.leftovers)
    assert Counter(pieces) <= left


@pytest.mark.parametrize("units", ["in", "cm"])
def test_rows_of_leftovers_say_both_sides_of_every_piece(units: str) -> None:
    """A back all of leftovers, which reaches as far as it should with a seam taken off between two rows."""
    data = {
        "units": units,
        "panel": {"width": "34in", "height": "30in", "fabric": "Panel"},
        "lettering": {"font": "Rubik", "fabric": "Ink"},
        "row": [{"text": "I", "cap_height": "3in"}],
        "backing": {"kind": "leftovers"},
        "fabric": [
            {"name": "Panel", "color": "#f0efe6", "have": "2yd"},
            {"name": "Ink", "color": "#203040", "have": "2yd"},
        ],
    }
    pattern = draft(design_from_mapping(data))
    back, seam = pattern.shopping.leftover_backing, 2 * pattern.panel.seam_allowance
    assert back is not None and back.enough and back.rows
    step = Fraction(10, 254) if units == "cm" else Fraction(1, 16)
    said = sentences(running(lines_of(pattern_pdf(pattern))), r"Row \d+: (?=\w+ \d)")
    for number, (words, row) in enumerate(zip(said, back.rows, strict=True), 1):
        assert words.startswith(f"Row {number}: ")
        sides = [sorted((piece.length, piece.width)) for piece in row]
        assert lengths(words) == [math.floor(side / step) * step for pair in sides for side in pair]
        assert all(piece.fabric in words for piece in row)
    deep = [min(lengths(words)[::2]) for words in said]
    assert sum(deep) - (len(deep) - 1) * seam >= back.goal - step * len(deep)
    _left_over_once(pattern, (piece for row in back.rows for piece in row))


# Cutting and piecing


def _cutting_lines(printed: Printed) -> dict[str, list[Row]]:
    """The lines of the cutting list under each fabric."""
    names = {buy.fabric.name for buy in printed.pattern.shopping.cloth}
    found: dict[str, list[Row]] = {}
    name = ""
    for line in printed.booklet:
        alone = line[0].text if len(line) == 1 else ""
        headed = re.fullmatch(r"Fabric [A-Z]: (.*)", alone)
        name = "" if alone == "Letters" else headed[1] if headed and headed[1] in names else name
        if name:
            found.setdefault(name, []).append(line)
    return found


def _pieces(printed: Printed, name: str) -> Rows:
    """The table of the pieces of a fabric."""
    return table(_cutting_lines(printed)[name], "piece", "many", "size", "for", "band")


def _pieces_for(printed: Printed, use: str) -> list[tuple[int, Fraction, Fraction]]:
    """How many pieces are cut for a use, each so wide and so long, as the tables of all fabrics say."""
    rows = [row for name in _cutting_lines(printed) for row in _pieces(printed, name)]
    return [(int(row["many"]), *lengths(row["size"])) for row in rows if re.match(use, row["for"])]  # type: ignore[misc]


def test_a_size_is_said_one_way_round_wherever_it_stands(printed: Printed) -> None:
    """The sleeve was 8 1/2 in by 39 in in its table and 39 in by 8 1/2 in in its step: what is cut is its narrower side
    by the longer, and the panel width by height, as it hangs."""
    told = " ".join((printed.text, running(printed.nests), printed.summary))
    read = {tuple(lengths(found[0])) for found in re.finditer(rf"{A_LENGTH} by {A_LENGTH}", told)}
    cut = [row for name in _cutting_lines(printed) for row in _pieces(printed, name)]
    sizes = {tuple(lengths(" by ".join(one))) for row in cut for one in _BOTH_SIDES.findall(row["size"])}
    assert sizes and read
    assert not {size for size in sizes if size[0] != size[1] and size[::-1] in read}
    hung = {
        tuple(map(float, size))
        for size in (
            (printed.pattern.panel.cut_width, printed.pattern.panel.cut_height),
            (printed.pattern.quilt.backing.width, printed.pattern.quilt.backing.height),
        )
    }
    wider = {size for size in sizes if size[0] > size[1]}
    assert {tuple(map(float, size)) for size in wider} <= hung
    assert bool(wider) == (printed.pattern.quilt.panel.seam is None)


def test_the_panel_is_cut_with_its_seam_allowance_and_folded_in_half(printed: Printed) -> None:
    panel, plan = printed.pattern.panel, printed.pattern.quilt.panel
    seam, trim = 2 * panel.seam_allowance, _trimmed_off(printed)
    trimmed = (panel.width + seam, panel.height + seam)
    width, height = (side + trim for side in trimmed)
    text = _in_column(printed, printed.booklet)
    size, how = sentence(text, r"(?<=[a-z] )(?:is|make) the panel, ").split(";")
    cut_off = (*trimmed, trim / 2) if trim else ()
    printed.sizes(size, width, height, *cut_off, panel.width, panel.height)
    if plan.seam:
        along, across = (height, width) if plan.seam.upright else (width, height)
        lengths_joined = len(plan.seam.places) + 1
        assert counts(how) == [lengths_joined]
        usable = printed.pattern.panel.fabric.usable_width
        other = next(n for n in range(1, 99) if n * usable - (n - 1) * seam >= along) * across
        near(lengths(how), [along, other], printed.step(8))
        _, pieces = _told(printed, printed.pattern.panel.fabric.name, usable)
        edges = (Fraction(0), *plan.seam.places, across)
        sewn_in = [seam / 2 * ((n > 0) + (n + 2 < len(edges))) for n in range(lengths_joined)]
        wide = [high - low + more for (low, high), more in zip(pairwise(edges), sewn_in, strict=True)]
        order = sentence(text, "Lay the pieces side by side in the order ")
        letters = re.findall(r"\b[a-z]\b", order.split("order ")[1].split(", right sides")[0])
        told = [part for letter in letters for part in pieces[letter].elements()]
        near([long for long, *_ in told], [along] * lengths_joined, printed.step(16))
        near([width for _, width, _ in told], wide, printed.step(16))
    else:
        (side,) = re.findall(r"(width|height) along the selvage", how)
        near(lengths(how), [width if side == "width" else height], printed.step(8))
    halves = sentences(text, r"Its edges lie [\d/ .]+ (?:in|cm) from the fold")
    assert ["height" in half for half in halves] == [True, False]
    printed.sizes(" ".join(halves), height / 2, width / 2)
    if plan.seam:
        joined = sentence(text, "Join the lengths")
        printed.agree(joined, *plan.seam.places)
        assert f"from the {'left' if plan.seam.upright else 'top'} cut edge" in joined
    printed.sizes(sentence(text, "Fold the panel in half").split(";")[1], width / 2)
    said = lengths(sentence(printed.summary, "Its panel finishes"))
    for read, step in ((said[::2], printed.step(8)), (said[1::2], printed.other)):
        near(read, [panel.width, panel.height, width, height], step)
    assert ("after stitching" in size) == ("trim it to" in printed.summary) == bool(trim)
    if trim:
        printed.sizes(sentence(printed.summary, "The panel is cut"), trim, trim)
        for once in ("trim it to", "trim the panel to"):
            off = [trim / 2] if once == "trim it to" else []
            printed.sizes(sentence(printed.summary, once), *trimmed, *off)
        printed.sizes(sentence(printed.words, "Trim the panel to [0-9]"), *trimmed, trim / 2)
        printed.sizes(sentence(printed.words, "The finished edge lies"), _beyond(printed))
        half, above, below = lengths(sentence(printed.words, "Mark the side edges"))
        near([half], [trimmed[0] / 2], printed.step(64) / 10)
        words = [row.ink for row in panel.rows]
        beside = (
            trimmed[1] - seam / 2 - max(ink[3] for ink in words),
            min(ink[1] for ink in words) + seam / 2,
        )
        near([above, below], beside, printed.step(16))


def test_letters_keep_as_much_of_each_fabric_as_their_nest_takes(printed: Printed) -> None:
    """With 1/4 in or 5 mm on each side, up to the next 1/8 in or millimeter, the narrower side first."""
    room = IN["cm"] / 2 if printed.metric else Fraction(1, 4)
    for need in printed.pattern.cloth:
        assert need.nest is not None
        shapes = {piece.key: piece.shape for piece in need.pieces}
        around = [spot.place.shape(shapes[spot.key]).bounds for spot in need.nest.placements]
        (said,) = [
            row for row in _pieces(printed, need.fabric) if row["for"].startswith(f"{need.lettering.value}:")
        ]
        assert said["many"] == "1"
        for read, reach in zip(
            lengths(said["size"]), sorted((max(b[3] for b in around), need.nest.length)), strict=True
        ):
            least = reach + 2 * float(room)
            assert least - 1e-6 <= float(read) + float(printed.other) / 2 and float(read) < least + 3 / 16
    one = printed.pattern.shopping.one_fabric
    assert "If all letters came from" not in printed.text
    said_of_one = sentences(printed.summary, "If all letters came from")
    assert len(said_of_one) == (one is not None)
    if one:
        washed, squaring = _washed_and_squared(printed)
        more = (one.used + 2 * squaring) / washed
        buy, used, end, wanted, sold, *spare = lengths(said_of_one[0].splitlines()[0])
        assert buy == one.buy == math.ceil((more + (spare[0] / washed if spare else 0)) / sold) * sold
        printed.figured([used, wanted], one.used, more)
        near([end], [squaring], printed.step(8))


def _strips_read(text: str) -> list[tuple[int, Fraction, Fraction]]:
    """How many strips or squares of which width and length are said."""
    listed = re.findall(rf"(\d+) × {A_LENGTH} by {A_LENGTH}", text)
    listed += [(count, size, size) for count, size in re.findall(rf"(\d+) squares? of {A_LENGTH}", text)]
    return [(int(count), *lengths(f"{width}, {length}")) for count, width, length in listed]  # type: ignore[misc]


def _counted(text: str) -> list[tuple[int, Fraction]]:
    """How many of which length are said."""
    return [(int(count), lengths(size)[0]) for count, size in re.findall(rf"(\d+) × {A_LENGTH}", text)]


Cut = tuple[Fraction, Fraction, int]
"""The length and the width of a part of cloth, along the selvage and across, and how many there are."""


def _in_column(printed: Printed, lines: Iterable[Row]) -> str:
    """Lines as one running text, without what stands in drawings beside the words of steps."""
    left = printed.pattern.sheets.frame.margin * 72
    return " ".join(
        cell.text
        for line in lines
        for cell in line
        if min(abs(cell.x0 - left - indent) for indent in (0, 24, 46)) < 2
    )


def _told(
    printed: Printed, name: str, usable: Fraction
) -> tuple[dict[int, Fraction], dict[str, Counter[Cut]]]:
    """What the words alone say: each numbered band with its length, and the pieces by their letter.

    "Then" cuts a band, and a strip or section that is cut on is called by the pieces that it holds.
    """
    bands: dict[int, Fraction] = {}
    pieces: dict[str, Counter[Cut]] = {}
    made: dict[str, Cut] = {}
    first = rf"Bands? (?P<from>\d+)(?:–(?P<to>\d+))?: Cut (?:across at|(?P<many>\d+) strips across, each) {A_LENGTH}"
    after = (
        r"(?:Then|From (?:each|the) (?P<kind>strip|section) for (?P<of>[^.]+?)), "
        r"(?P<way>parallel to the selvage|across): "
        rf"(?P<count>\d+) at {A_LENGTH}(?: from each)?(?:, (?:strip|section) for (?P<held>[^.]+?))?"
    )
    for found in re.finditer(
        rf"(?:{first}|{after})(?:[:,] piece (?P<piece>\w+))?\.",
        _in_column(printed, _cutting_lines(printed)[name]),
    ):
        if found["from"]:
            start, count = int(found["from"]), int(found["many"] or 1)
            assert int(found["to"] or start) - start + 1 == count
            (length,) = lengths(found[0])
            bands |= dict.fromkeys(range(start, start + count), length)
            cut, made = (length, usable, count), {}
            made[""] = cut
        else:
            (size,) = lengths(found[0])
            length, width, count = made[found["of"] or ""]
            count *= int(found["count"])
            along = found["way"] != "across"
            assert found["kind"] in (None, "section" if along else "strip")
            cut = (length, size, count) if along else (size, width, count)
        if found["piece"]:
            length, width, count = cut
            pieces.setdefault(found["piece"], Counter())[length, width, 1] += count
        elif found["held"]:
            made[found["held"]] = cut
    return bands, pieces


def test_the_words_beside_each_diagram_give_every_band_and_every_piece(printed: Printed) -> None:
    """Each band's length and number, and each piece's length, width and count, out of the words and the indents."""
    step = printed.step(16)
    for buy in printed.pattern.shopping.cloth:
        bands, pieces = _told(printed, buy.fabric.name, buy.fabric.usable_width)
        (cloth,) = buy.cutting.plan.cloths
        split = cloth.root.fill
        parts = split.parts if isinstance(split, Split) and split.cut is Lie.ACROSS else (cloth.root,)
        used = [number for number, part in enumerate(parts, 1) if part.fill is not None]
        assert sorted(bands) == used
        near([bands[number] for number in used], [parts[number - 1].length for number in used], step)
        wanted: dict[str, Counter[Cut]] = {}
        for at, piece in cloth.root.pieces():
            wanted.setdefault(piece.key, Counter())[at.length, at.width, 1] += 1
        letters = letters_of(buy.cutting.diagrams)
        assert list(pieces) == list(letters.values())
        for key, letter in letters.items():
            for (length, width, _), count in pieces[letter].items():
                close = [cut for cut in wanted[key] if abs(cut[0] - length) + abs(cut[1] - width) <= step]
                assert sum(wanted[key].pop(cut) for cut in close) == count
            assert not wanted.pop(key)
        assert not wanted


def test_the_table_of_each_fabric_gives_every_piece_with_its_band(printed: Printed) -> None:
    """Letter, count and size as the words give them, what each is for, and the bands that the plan cuts it from."""
    for buy in printed.pattern.shopping.cloth:
        _, pieces = _told(printed, buy.fabric.name, buy.fabric.usable_width)
        letters = letters_of(buy.cutting.diagrams)
        rows = [row for row in _pieces(printed, buy.fabric.name) if not row["for"].startswith("left over")]
        read: dict[str, Counter[Cut]] = {}
        for row in rows:
            narrow, long = sorted(lengths(row["size"]))
            read.setdefault(row["piece"], Counter())[narrow, long, 1] += int(row["many"])
        said = {letter: Counter[Cut]() for letter in pieces}
        for letter, cuts in pieces.items():
            for (one, other, each), count in cuts.items():
                said[letter][min(one, other), max(one, other), each] += count
        assert read == said
        (cloth,) = buy.cutting.plan.cloths
        split = cloth.root.fill
        parts = split.parts if isinstance(split, Split) and split.cut is Lie.ACROSS else (cloth.root,)
        for use in buy.uses:
            for key in use.keys:
                of_key = [row for row in rows if row["piece"] == letters[key]]
                word = f"{use_said(use)}: set aside" if use.kind is UseKind.LETTERS else str(use_said(use))
                assert of_key and all(row["for"].startswith(word) for row in of_key)
                cut_from = {
                    number
                    for number, part in enumerate(parts, 1)
                    if any(one.key == key for _, one in part.pieces())
                }
                assert {band for row in of_key for band in _bands_read(row["band"])} == cut_from


def _bands_read(text: str) -> Iterator[int]:
    """The numbers of bands, such as 1–3 and 7."""
    for start, end in re.findall(r"(\d+)(?:–(\d+))?", text):
        yield from range(int(start), int(end or start) + 1)


def _width_first(sides: Sequence[Fraction], width: Fraction) -> tuple[Fraction, Fraction]:
    """The two sides of a piece, the one nearer to `width` first."""
    first, second = sorted(sides, key=lambda side: abs(side - width))
    return first, second


def test_borders_are_cut_as_their_pieces_are_sewn(printed: Printed) -> None:
    """Strips and pieces under each fabric, against the pieces of every side with two seam allowances."""
    seam = 2 * printed.pattern.panel.seam_allowance
    for border in printed.pattern.quilt.borders:
        sewn: dict[str, Counter[Fraction]] = {}
        for strip in (strip for step in border.steps for strip in step.strips):
            pieces = (
                [(strip.pieces[0][0], strip.cut_length - seam)] if len(strip.pieces) == 1 else strip.pieces
            )
            for fabric, finished in pieces:
                sewn.setdefault(fabric, Counter())[finished + seam] += 1
        for fabric, pieces_of in sewn.items():
            rows = [
                row for row in _pieces(printed, fabric) if row["for"].endswith(f" of border {border.number}")
            ]
            cut = [
                (int(row["many"]), *_width_first(lengths(row["size"]), border.width + seam)) for row in rows
            ]
            near([width for _, width, _ in cut], [border.width + seam] * len(cut), printed.step(16))
            if f": strips of border {border.number}" in running(_cutting_lines(printed)[fabric]):
                # What is cut from the long strip is said, and tested, where it is joined.
                joins = sum(count for count, *_ in cut) - 1
                reach = sum(count * length for count, _, length in cut) - joins * cut[0][1]
                assert reach >= sum(length * count for length, count in pieces_of.items())
                continue
            made: Counter[Fraction] = Counter()
            for count, _, read in cut:
                meant = min(pieces_of, key=lambda size: abs(size - read))
                near([read], [meant], printed.step(16))
                made[meant] += count
            assert made == pieces_of


def test_each_round_of_a_border_says_how_long_and_how_large_the_top_is(printed: Printed) -> None:
    seam = 2 * printed.pattern.panel.seam_allowance
    steps = [step for border in printed.pattern.quilt.borders for step in border.steps]
    text = _in_column(printed, printed.booklet)
    sewn = sentences(text, r"Sew to the|Cent\w+ a strip")
    tops = sentences(text, r"The top is now")
    for step, strips, top in zip(steps, sewn, tops, strict=True):
        long = list(dict.fromkeys(strip.cut_length for strip in step.strips))
        near(lengths(strips)[: len(long)], long, printed.step(16))
        printed.agree(top, *(side + seam for side in step.finished), *step.finished)
        if len(step.strips) == 2:
            assert all(strip.side in strips for strip in step.strips)
    begun = re.sub(r"Border \d+: (?:(?!Border \d).){,80}?, continued", "", printed.text, flags=re.DOTALL)
    heads = sentences(begun, r"Border \d+: ")
    for border, head in zip(printed.pattern.quilt.borders, heads, strict=True):
        near(lengths(head)[:1], [border.width], printed.step(16))


def test_pieces_of_each_side_are_said_in_the_order_they_are_sewn(printed: Printed) -> None:
    sides = [
        strip
        for border in printed.pattern.quilt.borders
        if border.kind is not BorderKind.STRIP
        for step in border.steps
        for strip in step.strips
        if len(strip.pieces) > 1
    ]
    said = sentences(printed.text, r"(?:Left|Right|Top|Bottom), (?:top to bottom|left to right)")
    for words, strip in zip(said, sides, strict=True):
        side, way, rest = re.match(r"(\w+), ([\w ]+): (.*)", words).groups()  # type: ignore[union-attr]
        assert side.lower() == strip.side
        assert way == ("top to bottom" if strip.side in ("left", "right") else "left to right")
        count = counts(rest)[0]
        bought = [buy.fabric.name for buy in printed.pattern.shopping.cloth]
        named = re.findall(r"\b([A-F]) \(([^)]+)\)", rest)
        assert named
        assert all("ABCDEF"[bought.index(name)] == letter for letter, name in named)
        rest = re.sub(r"\b[A-F] \(([^)]+)\)", r"\1", rest)
        names, _, last = re.sub(r"^\d+ pieces[,:] ", "", rest).partition(" and so on, ending with ")
        cycle = re.split(r",? and |, ", names)
        read = [cycle[index % len(cycle)] for index in range(count)]
        assert read == [fabric for fabric, _ in strip.pieces]
        assert last in ("", read[-1])


def test_corners_of_a_strip_say_the_sizes_of_what_is_sewn_there(printed: Printed) -> None:
    """Cornerstones and the strips between them, with their seams; how far mitered strips reach past the top."""
    seam = 2 * printed.pattern.panel.seam_allowance
    for border in printed.pattern.quilt.borders:
        if border.corners is Corners.CORNERSTONES and border.kind is BorderKind.STRIP:
            stones = border.steps[1].strips[0]
            said = re.search(r"Sew a square of .*? Each is now .*? long\.", printed.text)
            assert said is not None
            middle = stones.pieces[1][1] + seam
            printed.sizes(said[0], border.width + seam, middle, middle + 2 * border.width)
        if border.corners is Corners.MITERED:
            strips = {strip.side.upright: strip for strip in border.steps[0].strips}
            said = re.search(r"(?:Each strip reaches|The strips of the sides reach).*?\.(?!\d)", printed.text)
            assert said is not None
            over = [(strips[up].cut_length - border.before[up] - seam) / 2 for up in (True, False)]
            near(lengths(said[0]), over[: len(lengths(said[0]))], printed.step(16))
            assert len(set(over)) == len(lengths(said[0]))


def test_joined_strips_are_cut_into_the_strips_of_the_sides(printed: Printed) -> None:
    """What is cut from the long strip, against what is sewn to the sides: for butted corners pair by pair."""
    cut = sentences(printed.words, "Cut from the long strip: ")
    rounds = [
        steps
        for border in printed.pattern.quilt.borders
        for buy in printed.pattern.shopping.cloth
        for use in buy.uses
        if use.border == border.number and use.joined
        for steps in (
            [[step] for step in border.steps] if border.corners is Corners.BUTTED else [border.steps]
        )
    ]
    seam = 2 * printed.pattern.panel.seam_allowance
    for said, steps in zip(cut, rounds, strict=True):
        sewn: Counter[Fraction] = Counter()
        for strip in (strip for step in steps for strip in step.strips):
            whole = len(strip.pieces) == 1
            sewn[strip.cut_length if whole else strip.pieces[1][1] + seam] += 1
        counted = re.findall(rf"(\d+) of {A_LENGTH}", said)
        found = sorted((lengths(size)[0], int(count)) for count, size in counted)
        assert [count for _, count in found] == [count for _, count in sorted(sewn.items())]
        near([length for length, _ in found], sorted(sewn), printed.step(16))


def test_the_seam_allowance_is_said_before_anything_is_cut(printed: Printed) -> None:
    said = sentence(printed.text, "Every cut size includes its seam allowances of ")
    assert lengths(said) == [printed.pattern.panel.seam_allowance]
    assert printed.text.index(said) < printed.text.index("Cut across at ")


def test_binding_reaches_around_the_quilt(printed: Printed) -> None:
    design, plan = printed.pattern.design.binding, there(printed.pattern.quilt.binding)
    run = 2 * sum(printed.pattern.quilt.finished) + design.allowance
    fabric = printed.pattern.quilt.fabrics.binding
    if plan.cut.kind is CutKind.BIAS_SQUARE:
        square = plan.cut.strip_width
        for said in sentences(printed.text, r"(?i:one square of)"):
            printed.agree(said.split(", cut into")[0], square, step=printed.step(8))
        made = sentence(printed.text, rf"(?<=of {re.escape(fabric.name)}: )one square")
        assert lengths(made)[1] == plan.width
        printed.needed([lengths(made)[3]], run)
        seam = printed.pattern.panel.seam_allowance
        gives = bias_length(square, design.width, seam_allowance=seam)
        assert gives >= run
        printed.available(lengths(made.split("it gives")[1].split(",")[0]), Fraction(gives))
        return
    said = sentence(printed.text, rf"(?<=of {re.escape(fabric.name)}: )\d+ × ")
    strips = _strips_read(said)
    count = sum(number for number, *_ in strips)
    reach = sum(number * length for number, _, length in strips) - (count - 1) * design.width
    assert {width for _, width, _ in strips} == {design.width}
    printed.agree(said.split("; join")[1], reach, run, step=printed.step(8))
    assert reach >= run > reach - min(length for *_, length in strips) + design.width
    cut = [(count, *sorted(sides)) for count, *sides in _pieces_for(printed, "binding")]
    assert sorted(cut) == sorted(strips)
    quick = math.ceil(run / fabric.usable_width)
    why = sentences(printed.text, r"Why \d")
    assert len(why) == (quick != count)
    for words in why:
        assert counts(words) == [count, quick, count]
        printed.agree(words, run, fabric.usable_width, design.width, step=printed.step(8))


def test_the_sleeve_is_as_long_as_the_quilt_is_wide_less_an_inch(printed: Printed) -> None:
    sleeve = printed.pattern.quilt.sleeve
    # Hems of 1/4 in turned twice, and 1 in free at both sides; of 0.6 cm, and 2.5 cm: common practice, no source.
    inset, hem = (Fraction(250, 254), Fraction(120, 254)) if printed.metric else (Fraction(1), Fraction(1, 2))
    depth = math.ceil(Fraction(17, 2) / printed.step(16)) * printed.step(16)
    length = printed.pattern.quilt.finished[0] - 2 * inset + 2 * hem
    if sleeve is None:
        # Where the quilt may hang, she is told how to make a sleeve of her own; nothing else knows of one.
        own = r"This quilt has no hanging sleeve, and .*? by hand\."
        for told in re.findall(own, printed.text):
            near(lengths(told)[:3], [depth, length, hem], printed.step(16))
        assert "sleeve" not in re.sub(own, "", printed.text)
        return
    assert (sleeve.cut_length, sleeve.cut_depth) == (length, depth)
    made = sentence(printed.steps, rf"Take [^.]*?(?={A_LENGTH} by )")
    assert lengths(made)[:2] == [sleeve.cut_depth, sleeve.cut_length]
    # Hems of 1/2 in, each turned under twice; half of what it is shorter than the trimmed quilt is left on either side.
    hemmed = sentence(printed.steps, "At both short ends")
    assert lengths(hemmed) == [
        hem / 2,
        sleeve.cut_length - 4 * lengths(hemmed)[0],
    ]  # as somebody reckons who sews it
    free = (printed.pattern.quilt.trimmed[0] - sleeve.cut_length + 2 * hem) / 2
    printed.agree(sentence(printed.steps, "Before you bind the quilt, pin the sleeve"), free)
    strips = _pieces_for(printed, "hanging sleeve")
    if len(strips) > 1 or strips[0][0] > 1:
        joined = sentence(printed.text, "For the hanging sleeve join pieces")
        assert lengths(joined) == [sleeve.cut_length]
        assert "joined and cut to" in made
    joins = 2 * printed.pattern.panel.seam_allowance * (sum(count for count, *_ in strips) - 1)
    assert sum(count * max(sides) for count, *sides in strips) - joins >= sleeve.cut_length
    assert {min(sides) for _, *sides in strips} == {sleeve.cut_depth}


def test_the_quilt_is_trimmed_to_its_finished_size_and_the_seam_of_its_binding(printed: Printed) -> None:
    """The binding is sewn on with 1/4 in, for strips of 2 1/2 in: common practice, no source; with 7.5 mm in a metric
    design, of which 6.4 cm hold three, and the layers, and some more."""
    quilt, seam = printed.pattern.quilt, Fraction(75, 254) if printed.metric else Fraction(1, 4)
    said = sentence(printed.steps, r"It should measure (?=\d)")
    width, height = quilt.finished
    printed.sizes(said, width + 2 * seam, height + 2 * seam, width, height, seam)
    around = sentence(printed.steps, "Lay its raw edges along the edge of the quilt")
    assert lengths(around) == [seam]
    assert lengths(sentence(printed.steps, "Miter the corners: stop")) == [seam]
    over = printed.pattern.panel.seam_allowance - seam
    assert len(sentences(printed.steps, "So the cut runs right along the raw edge of the top")) == (over == 0)
    for inside in sentences(printed.steps, "So the cut runs [^.]* inside the raw edge of the top"):
        assert lengths(inside) == [over]
    if quilt.borders:
        outside = sentence(printed.steps, "Set a large square ruler on a corner")
        printed.sizes(outside, quilt.borders[-1].width + seam)


def test_the_binding_is_folded_in_half_and_its_ends_overlap_by_its_width(printed: Printed) -> None:
    width = there(printed.pattern.quilt.binding).width
    printed.sizes(sentence(printed.steps, "Press the strip in half lengthwise"), width / 2)
    open_for, overlap = lengths(
        sentence(printed.steps, "Join the ends: ") + sentence(printed.steps, "Lay both ends")
    )
    near([overlap], [width], printed.step(16) / (10 if printed.metric else 1))
    (free,) = lengths(sentence(printed.steps, "Leave the first "))
    assert open_for == free * 3 / 2
    said = sentences(printed.steps, r"Join the \d+ strips end to end: lay two")
    use = printed.pattern.shopping.use(UseKind.BINDING)
    assert use is not None
    assert [counts(one)[0] for one in said] == [run.strips for run in use.joined if run.strips > 1]
    on_bias = sentences(printed.steps, r"Cut the square of (?=\d)")
    assert bool(on_bias) == (there(printed.pattern.quilt.binding).cut.kind is CutKind.BIAS_SQUARE)
    for cut in on_bias:
        printed.sizes(cut, there(printed.pattern.quilt.binding).cut.strip_width)
        printed.sizes(sentence(printed.steps, "On its wrong side draw lines"), width)


def test_layers_stand_out_as_far_as_batting_and_backing_are_larger(printed: Printed) -> None:
    top = printed.pattern.quilt.finished[0] + 2 * printed.pattern.panel.seam_allowance
    batting, backing = printed.pattern.quilt.batting.width, printed.pattern.quilt.backing.width
    said = sentence(printed.steps, "Smooth the batting over it")
    near(lengths(said), [(batting - top) / 2, (backing - batting) / 2], printed.step(8))


# Letters


def test_the_finished_size_stands_on_the_cover_and_the_summary(printed: Printed) -> None:
    panel, quilt = printed.pattern.panel, printed.pattern.quilt
    grown = 2 * sum(border.width for border in quilt.borders)
    size = (panel.width + grown, panel.height + grown)
    assert quilt.finished == size
    cover = sentence(printed.text, r"Finished size \d")
    for said in (cover, sentence(printed.summary, "The finished quilt is")):
        read = lengths(said)[:4]
        near(read[::2], size, printed.step(8))
        near(read[1::2], size, printed.other)
    near(lengths(sentence(printed.text, r"The finished size, \d"))[:2], size, printed.step(8))


def test_a_bound_quilt_is_wider_than_its_finished_size_by_the_seam_of_the_binding(printed: Printed) -> None:
    """The binding wraps the trimmed edge, its seam outside the finished one (common practice, no source)."""
    bound = lengths(sentence(printed.text, "once it is bound, the quilt measures"))[:2]
    quilt = printed.pattern.quilt
    near(bound, [side + 2 * there(quilt.binding).seam for side in quilt.finished], printed.step(8))


def test_letters_to_cut_are_the_letters_of_the_words(printed: Printed) -> None:
    words = "".join(line.text for line in printed.pattern.design.row).replace(" ", "")
    templates = printed.pattern.templates
    for rows in (
        table(printed.booklet, "template", "letter", "cut", "row"),
        markdown_table(printed.summary, "template", "letter", "cut", "row"),
    ):
        assert [int(row["template"]) for row in rows] == [template.number for template in templates]
        cut: Counter[str] = Counter()
        for row, template in zip(rows, templates, strict=True):
            assert template.text in row["letter"]
            uses = [
                (int(count), name)
                for count, name in re.findall(r"(\d+) from (.+?)(?=,? and \d|, \d|$)", row["cut"])
            ]
            assert uses == [(use.count, use.fabric.name) for use in template.uses]
            assert {int(number) for number in row["row"].split(",")} == set(template.in_rows)
            if row["letter"].partition(" (")[0] == template.text:
                cut[template.text] += sum(count for count, _ in uses)
        assert cut == Counter(words)
    behind = sum(template.count for template in templates if template.layer is Layer.OUTLINE)
    said = [len(words), behind, len(templates)] if behind else [len(words), len(templates)]
    assert counts(sentence(printed.text, "There are")) == said
    assert int(re.findall(r"(\d+) letters to cut", printed.summary)[0]) == len(words)


def test_rows_lie_where_the_booklet_and_the_summary_say(printed: Printed) -> None:
    """Baselines from the cut top edge, untrimmed, and the ends of each row from the center line."""
    panel = printed.pattern.panel
    placing = table(printed.booklet, "row", "words", "baseline", "left end", "right end")
    summary = [
        row
        for row in markdown_table(printed.summary, "row", "words", "cap height", "fabric", "baseline")
        if row["baseline"]  # the shapes behind a row have a file and no baseline
    ]
    for said, short, row in zip(placing, summary, panel.rows, strict=True):
        below = float(panel.height + _beyond(printed)) - row.baseline
        assert said["row"] == short["row"] == str(row.number)
        assert said["words"] == short["words"] == row.text
        assert short["fabric"] == row.fabric.name
        printed.agree(short["cap height"], row.cap_height)
        printed.agree(short["baseline"], below)
        printed.agree(said["baseline"], below)
        for end, place in (("left end", row.ink[0]), ("right end", row.ink[2])):
            near([_from_center(said[end])], [place - float(panel.width) / 2], printed.step(16))


def _from_center(text: str) -> float:
    """A place beside the center line, negative on its left."""
    if text == "on center":
        return 0.0
    (length,) = lengths(text)
    return float(length) * {"left": -1, "right": 1, "L": -1, "R": 1}[text.split()[-1]]


def _table_of_letters(printed: Printed) -> Iterator[Row]:
    """The lines below the title of the guide's table: on each page those of its left column, then of its right one."""
    x0, _, x1, _ = printed.pattern.sheets.frame.drawing
    middle = 36 * (x0 + x1)
    for _, page in groupby(printed.guide, key=lambda line: line[0].page):
        lines = list(page)
        titles = [
            at for at, line in enumerate(lines) if line[0].text.startswith("Where each letter goes: how")
        ]
        if titles:
            below = lines[titles[0] + 1 :]
            yield from filter(None, (tuple(cell for cell in line if cell.x0 < middle) for line in below))
            yield from filter(None, (tuple(cell for cell in line if cell.x0 >= middle) for line in below))


def test_every_letter_lies_where_the_guide_says(printed: Printed) -> None:
    panel = printed.pattern.panel
    number, found = 0, {row.number: [] for row in panel.rows}  # type: ignore[var-annotated]
    unit = ""
    from_finished: list[int] = []
    begun: set[int] = set()
    numbered: list[tuple[str, int]] = []
    lowest: list[tuple[int, float]] = []
    for line in _table_of_letters(printed):
        head = re.match(r"\w+ (\d+) · (.*)", line[0].text)
        if head and len(line) == 2 and head[2].endswith(" · outlines"):
            number = 0  # what lies behind is read by its own test
        elif head and len(line) == 2:
            number = int(head[1])
            row = panel.rows[number - 1]
            assert head[2] == row.text
            assert line[1].text == ("continued" if number in begun else row.fabric.name)
            begun.add(number)
        elif number and line[0].text.startswith("baseline"):
            printed.agree(line[0].text, float(panel.height + _beyond(printed)) - row.baseline)
        elif number and line[0].text.endswith("below the finished edge)"):
            printed.agree(line[0].text, float(panel.height) - row.baseline)
            from_finished.append(number)
        elif number and len(line) in (5, 6) and line[1].text.isdigit():
            places = [re.sub(r" (?=[LR]$)", f" {unit} ", cell.text) for cell in line[2:5]]
            for cell in line[5:]:
                sided = cell.text.replace(" below", f" {unit} L").replace(" above", f" {unit} R")
                lowest.append((number, _from_center(sided)))
            found[number].append((line[0].text, [_from_center(place) for place in places]))
            numbered.append((line[0].text, int(line[1].text)))
        elif number and len(line) > 3 and (head := re.fullmatch(r"left(?: edge)? \((\w+)\)", line[1].text)):
            unit = head[1]
    assert from_finished == ([row.number for row in panel.rows] if _trimmed_off(printed) else [])
    assert set(numbered) <= {(template.text, template.number) for template in printed.pattern.templates}
    for row in panel.rows:
        assert [text for text, _ in found[row.number]] == [cut.text for cut in row.cuts]
        for (_, places), cut in zip(found[row.number], row.cuts, strict=True):
            left, right = (cut.ink[side] - float(panel.width) / 2 for side in (0, 2))
            near(places, [left, (left + right) / 2, right], printed.step(16))
        if lowest and row.level and not any(cut.upright.turn_deg for cut in row.cuts):
            said = [low for at, low in lowest if at == row.number]
            near(said, [cut.ink[1] - row.baseline for cut in row.cuts], printed.step(16))


def test_numbers_of_the_small_drawing_stand_where_they_measure(printed: Printed) -> None:
    """Every row is as far down as the number beside it says; the numbers near it are those of its letters' middles, or
    of its ends."""
    page = [line for line in printed.guide if line[0].page == 0]
    panel, seam = printed.pattern.panel, printed.pattern.panel.seam_allowance
    text = running(page)
    one, quilt = lengths(sentence(text, "Drawn small"))
    size = re.split("is the cut edge", text.split("Cut the panel", 1)[1])[0]
    beyond, trimmed = _beyond(printed), (panel.width + 2 * seam, panel.height + 2 * seam)
    cut = (panel.width + 2 * beyond, panel.height + 2 * beyond)
    printed.sizes(size, *cut, *(trimmed if _trimmed_off(printed) else ()), seam)
    center = sentence(text, "With the chalk pencil")
    printed.sizes(center, panel.width / 2 + beyond, *([panel.width / 2] if _trimmed_off(printed) else []))
    bracketed = [cell.text for line in page for cell in line if re.fullmatch(rf"\({A_LENGTH}\)", cell.text)]
    if _trimmed_off(printed):
        printed.sizes(sentence(text, "The outer line is the cut edge"), beyond)
        printed.agree(" ".join(bracketed), *(float(panel.height) - row.baseline for row in panel.rows))
    else:
        assert not bracketed
    scale = float(quilt / one) / 72
    levels = [line for line in page if re.fullmatch(r"row \d+", line[-1].text)]
    for line, row in zip(levels, panel.rows, strict=True):
        printed.agree(line[0].text, float(panel.height + beyond) - row.baseline)
        drop = (levels[0][0].y - line[0].y) * scale
        assert drop == pytest.approx(panel.rows[0].baseline - row.baseline, abs=0.05)
        sides = [(cut.ink[0] + cut.ink[2]) / 2 for cut in row.cuts] + [row.ink[0], row.ink[2]]
        places = [side - float(panel.width) / 2 for side in sides]
        step = float(printed.step(16))
        ends = [round(round(place / step) * step, 6) for place in places]
        near_row = [cell for other in page for cell in other if abs(cell.y - line[0].y + 8) < 14]
        said = [
            round(_from_center(cell.text), 6)
            for cell in near_row
            if re.fullmatch(rf"{A_LENGTH} [LR]", cell.text)
        ]
        assert set(said) <= set(ends)


def test_the_small_drawing_is_to_the_scale_that_it_says(printed: Printed) -> None:
    """All edges of the panel, center line and the tick under the middle of every letter, measured on paper."""
    panel, seam = printed.pattern.panel, float(printed.pattern.panel.seam_allowance)
    one, quilt = lengths(sentence(running(printed.guide), "Drawn small"))
    scale = float(quilt / one) / 72
    boxes = drawn(pypdfium2.PdfDocument(placement_guide_pdf(printed.pattern))[0])
    grown_by = sorted({float(_beyond(printed)), seam, 0.0}, reverse=True)
    edges = sorted(boxes, key=lambda b: (b[0] - b[2]) * (b[3] - b[1]))[: len(grown_by)]
    cut, finished, rest = edges[0], edges[-1], boxes
    for (left, low, right, top), grown in zip(edges, grown_by, strict=True):
        size = ((right - left - 1) * scale, (top - low - 1) * scale)
        assert size == pytest.approx(
            (float(panel.width) + 2 * grown, float(panel.height) + 2 * grown), abs=0.12
        )
    middle = (cut[0] + cut[2]) / 2
    upright = [(left + right) / 2 for left, low, right, top in rest if right - left < 2 and top - low > 100]
    assert upright == pytest.approx([middle], abs=0.1)
    inside = [b for b in rest if b[3] < cut[3]]  # above are leaders from the names of the edges
    ticks = [((b[0] + b[2]) / 2, b[3]) for b in inside if b[2] - b[0] < 2 and 3 < b[3] - b[1] < 8]
    cuts = [(row.baseline, cut_.ink) for row in panel.rows for cut_ in row.cuts]
    assert len(ticks) == len(cuts)
    for (x, y), (baseline, ink) in zip(ticks, cuts, strict=True):
        assert (x - middle) * scale == pytest.approx((ink[0] + ink[2] - float(panel.width)) / 2, abs=0.06)
        assert (y - finished[1]) * scale == pytest.approx(baseline, abs=0.25)


def test_the_full_size_guide_draws_every_line_where_it_lies_on_the_panel() -> None:
    """Each tile, moved back by its window: the letters, their baselines and the center line, to 0.02 in."""
    pattern = draft(design_from_mapping(DESIGNS["pieced"]))
    assert pattern.guide is not None
    panel, guide = pattern.panel, pattern.guide
    document = pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    left, low = (side * 72 for side in pattern.sheets.frame.drawing[:2])
    pages = list(document)[-len(guide.tiles) :]
    for page, tile in zip(pages, guide.tiles, strict=True):
        assert f"page {tile.name}" in page.get_textpage().get_text_range()
        boxes = [
            tuple(
                (side - start) / 72 + window
                for side, start, window in zip(box, (left, low) * 2, tile.window[:2] * 2, strict=True)
            )
            for box in drawn(page)
        ]
        wide, high = float(panel.width), float(panel.height)
        assert any(
            box[0] == pytest.approx(wide / 2, abs=0.02) == box[2] and box[3] - box[1] > high for box in boxes
        )
        x0, y0, x1, y1 = tile.window
        for row in panel.rows:
            for cut in row.cuts:
                left_x, low_y, right_x, top_y = cut.ink
                if left_x < x1 and right_x > x0 and low_y < y1 and top_y > y0:
                    assert any(box == pytest.approx(cut.ink, abs=0.02) for box in boxes)
            assert any(
                box[1] == pytest.approx(row.baseline, abs=0.02) == box[3] and box[2] - box[0] > wide
                for box in boxes
            )


def test_the_label_is_five_by_three_and_a_half_inches() -> None:
    """Inside its cutting line, with a line to turn under 1/4 in within (common practice, no source)."""
    pattern = draft(design_from_mapping(DESIGNS["centimeters"]))
    boxes = sorted(drawn(pypdfium2.PdfDocument(label_pdf(pattern))[0]), key=lambda b: b[1] - b[3])
    outer = boxes[0]
    inner = next(
        b for b in boxes[1:] if outer[0] < b[0] and outer[1] < b[1] and b[2] < outer[2] and b[3] < outer[3]
    )
    size = [(outer[2] - outer[0]) / 72, (outer[3] - outer[1]) / 72]
    assert size == pytest.approx([5, 3.5], abs=0.03)
    assert [abs(one - other) / 72 for one, other in zip(outer, inner, strict=True)] == pytest.approx(
        [0.25] * 4, abs=0.01
    )


def test_template_pages_are_counted_and_carry_their_letters(printed: Printed) -> None:
    sheets, pattern = printed.pattern.sheets, printed.pattern
    for mirrored in (False, True):
        document = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=mirrored))
        assert len(document) == 1 + len(sheets.pages) + sum(len(large.tiling.tiles) for large in sheets.tiled)
        cells = [page.get_textpage().get_text_range().splitlines() for page in document]
        pages = iter(cells[1:])
        for one in sheets.in_order:
            if isinstance(one, TemplatePage):
                texts = " ".join(next(pages))
                for item in one.items:
                    template = pattern.template(item.template)
                    assert f"{template.number} · {template.text}" in texts
                continue
            template = pattern.template(one.template)
            for number, tile in enumerate(one.tiling.tiles, 1):
                texts = " ".join(next(pages))
                assert f"{template.number} · {template.text} {tile.name}" in texts
                assert f"page {number} of {len(one.tiling.tiles)}" in texts
        assert next(pages, None) is None
    for text in (printed.text, printed.summary):
        (said,) = re.findall(r"(\d+) pages", text)
        assert int(said) == len(document)
    copies = Counter(item.template for page in sheets.pages for item in page.items)
    copies += Counter(large.template for large in sheets.tiled)
    each = pattern.design.paper.copies.value == "each"
    assert copies == {template.number: template.count if each else 1 for template in pattern.templates}


def test_the_head_of_every_page_counts_the_pages_of_its_file(printed: Printed) -> None:
    pattern = printed.pattern
    templates = (templates_pdf(pattern, mirrored=mirrored) for mirrored in (False, True))
    others = (pattern_pdf(pattern), placement_guide_pdf(pattern), nesting_pdf(pattern), label_pdf(pattern))
    for pdf in (*templates, *others):
        document = pypdfium2.PdfDocument(pdf)
        for number, page in enumerate(document, 1):
            assert f"page {number} of {len(document)}" in page.get_textpage().get_text_range()


# Sewing


def test_edge_thread_and_time_of_each_row_are_those_of_the_plan(printed: Printed) -> None:
    plan = printed.pattern.stitching
    booklet = table(printed.booklet, "row", "stitch", "length", "edge", "stitches", "thread", "time")
    summary = markdown_table(printed.summary, "row", "stitch", "edge", "stitches", "time")
    for said, short, row in zip(booklet, summary, plan.rows, strict=True):
        sizes = [size for size in (row.stitch.width, row.stitch.length) if size]
        printed.agree(said["length"], *sizes, step=IN["mm"] / 10)
        threads = [thread for layer in row.layers for thread in (layer.top, layer.bobbin)]
        printed.runs(said["thread"], *threads)
        assert sum(threads) == row.top + row.bobbin
        for one in (said, short):
            assert (one["row"], one["stitch"]) == (str(row.where.row), row.stitch.stitch.value)
            printed.runs(one["edge"], row.edge)
            assert counts(one["stitches"]) == [row.stitches]
            _times(one["time"], row.minutes)
        layered = [math.fsum(layer.minutes[end] for layer in row.layers) for end in (0, 1)]
        assert row.minutes[0] == max(5, 5 * math.floor(layered[0] / 5 + 0.5))
        assert row.minutes[1] == 5 * math.ceil(layered[1] / 5 - 1e-9)
    total = re.search(r"All in all (.*?) at the machine", printed.text)
    assert total is not None
    _times(total[1], [sum(row.minutes[end] for row in plan.rows) for end in (0, 1)])
    middle = sorted({row.stitch.pace for row in plan.rows})
    ends = [pace for paces in sorted({row.stitch.paces for row in plan.rows}) for pace in paces]
    for text, wanted in ((printed.text, middle), (printed.summary, ends)):
        paces = re.search(r"(\d[\d or,to]*) stitches a minute", text)
        assert paces is not None
        assert counts(paces[1]) == wanted
    total = re.search(r"At the machine: (.*?) in all", printed.summary)
    assert total is not None
    _times(total[1], plan.minutes)


def _times(text: str, wanted: Sequence[float]) -> None:
    """Hours and minutes as they are counted; both ends said the same are said once."""
    said = [
        60 * int(hours or 0) + int(minutes or 0)
        for hours, minutes in re.findall(r"(?=\d)(?:(\d+) h ?)?(?:(\d+) min)?", text)
        if hours or minutes
    ]
    assert said * (2 if text.startswith("about") else 1) == list(wanted)


def test_each_stitch_is_set_up_in_its_size_and_drawn_with_its_measures(printed: Printed) -> None:
    """In the words, and beside the drawing: width and length, and how far the needle reaches to either side."""
    drawn = [c.text for line in printed.booklet for c in line if re.fullmatch(r"[\d.]+ mm", c.text)]
    set_up = sentences(printed.words, r"For (?:all rows|row \d)")
    rows = printed.pattern.stitching.rows
    alike = {
        row.stitch.stitch: [one for one in rows if one.stitch.stitch is row.stitch.stitch] for row in rows
    }
    for said, held in zip(set_up, alike.values(), strict=True):
        stitch = held[0].stitch
        printed.agree(said, *(one for one in (stitch.width, stitch.length) if one), step=IN["mm"] / 10)
        assert stitch.stitch.value in said
        assert len(alike) == 1 or counts(said) == [row.where.row for row in held]
        for size in (stitch.width, stitch.length, stitch.bite, stitch.outside):
            assert not size or min(abs(lengths(text)[0] - size) for text in drawn) <= IN["mm"] / 20


def test_each_letter_is_ticked_off_beside_the_others_of_its_row(printed: Printed) -> None:
    """A row of letters behind their boxes, under the step that stitches it, in the order in which the rows are sewn."""
    lines = [[cell.text for cell in line] for line in printed.booklet]
    steps = [index for index, cells in enumerate(lines) if re.match(r"Stitch row \d", " ".join(cells[1:]))]
    rows = {row.where: row for row in printed.pattern.panel.rows}
    for index, where in zip(steps, printed.pattern.stitching.order, strict=True):
        assert [*"".join(lines[index + 1])] == [*rows[where].text.replace(" ", "")]
        assert len(lines[index + 1]) == len(rows[where].cuts)


def test_rolls_beside_the_throat_and_the_order_of_rows_are_said(printed: Printed) -> None:
    plan = printed.pattern.stitching
    throat = printed.pattern.design.stitching.throat
    printed.agree(sentence(printed.text, "Rolled"), *plan.rolls, throat, step=printed.step(8))
    assert counts(sentence(printed.text, "From the center row|First row").split(";")[0]) == [
        where.row for where in plan.order
    ]
    if printed.pattern.outlines:
        said = sentence(printed.words, "The outlines first")
        reaches = sorted({piece.reach for piece in printed.pattern.outlines})
        printed.agree(sentence(printed.words, r"[\d/ .]+(?:in|cm) of the outline shows"), *reaches)
        assert counts(said) == list(dict.fromkeys(piece.where.row for piece in printed.pattern.outlines))


def test_reading_distances_are_those_of_each_cap_height(printed: Printed) -> None:
    """1 in for 10 ft with ease (common practice) and for 25 ft at the most (Penn State for the USSC, 1998)."""
    step = IN["m"] if printed.metric else IN["ft"]
    heads = ("row", "ease|comfortable", "most|readable", "stroke", "gaps")
    rows = table(printed.booklet, *heads)
    for said, row, read in zip(
        rows, printed.pattern.panel.rows, printed.pattern.checks.readings, strict=True
    ):
        assert said["row"] == str(row.number)
        printed.agree(said[heads[1]], row.cap_height * 120, step=step)
        printed.agree(said[heads[2]], row.cap_height * 300, step=step)
        for text, share in ((said["stroke"], read.stroke), (said["gaps"], read.gap)):
            assert (text == "") == (share is None)
            assert share is None or float(text.rstrip(" %")) / 100 == pytest.approx(share, abs=0.005)


def test_quilting_says_its_lines_stitches_and_thread(printed: Printed) -> None:
    names = {QuiltingKind.LINES: "Straight lines"}
    for plan, asked in zip(printed.pattern.quilting, printed.pattern.design.quilting, strict=True):
        name = names.get(plan.kind, plan.kind.value.capitalize())
        said = re.search(
            rf"\d {name}\. (.*?)\. ([^.]*(?:\.\d[^.]*)*) to sew, (.*?) stitches of (.*?), (.*?) of the thread for "
            r"quilting, top and bobbin together\. ",
            printed.text,
        )
        assert said is not None, name
        course, length, stitches, pitch, thread = said.groups()
        # Lines nearer than 1/4 in or half their spacing run together; pieces under 1 in are left out: common practice,
        # no source. An opening takes a line if both of its sides are a distance away and that is left: geometry.
        close, short = min(Fraction(1, 4), asked.spacing / 2), Fraction(1)
        beside = [short] if plan.outside_echoes else [Fraction(1, 8), short]
        sizes = {
            "echo": [asked.spacing, asked.spacing, close, 2 * asked.spacing + close, asked.spacing, short],
            # The lines, those marked from them, and how far they stop short of the letters, unless echoes lie around
            # these: common practice, no source.
            "crosshatch": [asked.spacing, asked.spacing, *beside],
            "edge to edge": [
                asked.row_height,
                asked.overlap,
                Fraction(1),
                *beside,
            ],
            "in the ditch": [],
        }[plan.kind.value]
        near(lengths(course), sizes, printed.step(8))
        # Each line by its slant to the bottom edge, rising one way and the other: geometry. Both are laid alike.
        angles = [asked.angle, 90 - asked.angle, asked.angle] if plan.kind.value == "crosshatch" else []
        assert [float(angle) for angle in re.findall(r"([\d.]+)°", course)] == angles
        printed.runs(length, plan.length)
        assert counts(stitches) == [plan.stitches]
        assert lengths(pitch) == [asked.stitch_length]
        printed.runs(thread, plan.thread)
        if plan.kind is not QuiltingKind.EDGE_TO_EDGE:
            drawn = sum(math.dist(*ends) for line in plan.lines for ends in pairwise(line))
            assert plan.length == pytest.approx(drawn, abs=1e-6)
