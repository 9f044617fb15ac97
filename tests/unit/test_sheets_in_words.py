"""Every sentence of the sheets comes from the catalogue: in a language of capitals nothing small is left but names."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from itertools import combinations
from typing import Any

import pypdfium2
import pytest

from applique import preview
from applique.cautions import ALL_CAUTIONS, RIGHTS, SHORT_CAUTIONS
from applique.cutfiles.svg import svg_files
from applique.design import design_from_mapping
from applique.geometry.outline import Outline
from applique.language import american, message
from applique.language import speech as speaking
from applique.pattern import Pattern, draft
from applique.reports import summary_md
from applique.sheets import nesting_pdf, placement_guide_pdf, templates_pdf
from applique.sheets.frame import Sheet
from applique.typeset.labels import label_outline
from applique.units import Units, as_length
from tests.made_up import loud, made_up

LOUD = loud()
OWN = (
    "design.toml",
    "summary.md",
    "pattern.pdf",
    "templates-mirrored.pdf",
    "templates-right-reading.pdf",
    "placement-guide.pdf",
    "full_size_guide",
    "“print”",
    "Rubik",
    *map(str, (SHORT_CAUTIONS, *ALL_CAUTIONS, RIGHTS)),
)
"""Files, settings and fonts, which are called the same in every language; and the cautions."""
JOINED = ("and", "or", "a", "b")
"""Words of lists, which are CLDR's; and the letters that pieces are called by."""


@pytest.fixture(autouse=True)
def german_is_loud(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(speaking, "_spoken", lambda tag: LOUD if tag == "de" else american())


def _pattern(texts: tuple[str, ...] = ("OTTO", "ROW"), *, language: str = "de", **tables: Any) -> Pattern:
    """A design whose own words are capitals."""
    return draft(
        design_from_mapping(
            {
                "title": "BOATS",
                "language": language,
                "row": [{"text": text} for text in texts],
                "lettering": {"font": "Rubik", "cap_height": "3in"},
                "panel": {"width": "24in", "height": "20in"},
                **tables,
            }
        )
    )


RAW: dict[str, Any] = {"fusible": {"ring": "1/4in"}}
TURNED: dict[str, Any] = {
    "row": [
        {
            "text": "OTTO",
            "turn": 10,
            "nudge": [{"letter": 2, "turn": 30}, {"letter": 3, "up": "1/2in", "turn": 5}],
        },
        {"text": "ROW", "nudge": [{"letter": 1, "right": "3in"}, {"letter": 2, "turn": 20}]},
    ],
    "lettering": {"font": "Rubik", "cap_height": "3in"},
    "sewing": {"method": "turned edge"},
}
LARGE: dict[str, Any] = {
    "row": [{"text": "WO", "outline": "1/2in"}],
    "lettering": {"font": "Rubik", "cap_height": "13in"},
    "panel": {"width": "50in", "height": "30in"},
    "paper": {"full_size_guide": True, "full_size_nest": True},
}


def _read(pdf: bytes) -> str:
    """Every text of a file: pages, bookmarks, and what a reader of PDFs calls it."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_bounded() for page in document]
    marks = [mark.get_title() for mark in document.get_toc()]
    named = [document.get_metadata_value(key) for key in ("Title", "Subject")]
    return " ".join(" ".join((*pages, *marks, *named)).split())


def _small(text: str) -> list[str]:
    """The words of a file that are left in small letters."""
    for name in OWN:
        text = text.replace(name, "")
    return [word for word in re.findall(r"[a-z]+", text) if word not in JOINED]


def _mirrored(pattern: Pattern) -> bytes:
    return templates_pdf(pattern, mirrored=True)


def _right_reading(pattern: Pattern) -> bytes:
    return templates_pdf(pattern, mirrored=False)


@pytest.mark.parametrize("tables", [RAW, TURNED, LARGE], ids=["raw", "turned", "large"])
@pytest.mark.parametrize("write", [_mirrored, _right_reading, placement_guide_pdf, nesting_pdf])
def test_no_word_of_a_sheet_escapes_the_catalogue(
    tables: dict[str, Any], write: Callable[[Pattern], bytes]
) -> None:
    read = _read(write(_pattern(**tables)))
    assert _small(read) == []


@pytest.mark.parametrize("tables", [RAW, TURNED, LARGE], ids=["raw", "turned", "large"])
def test_no_word_of_the_summary_escapes_the_catalogue(tables: dict[str, Any]) -> None:
    assert _small(summary_md(_pattern(**tables)).decode("utf-8")) == []


@pytest.mark.parametrize("tables", [RAW, TURNED, LARGE], ids=["raw", "turned", "large"])
def test_no_word_that_a_cut_file_says_of_itself_escapes_the_catalogue(tables: dict[str, Any]) -> None:
    files = svg_files(_pattern(**tables, cutting={"mat_width": "24in"}, quilting=[{"kind": "echo"}]))
    said = [re.findall("<(title|desc)>(.*?)</", file.decode("utf-8")) for file in files.values()]
    assert all(len(texts) == 2 for texts in said)
    assert _small(" ".join(text for texts in said for _, text in texts)) == []


def test_no_word_beside_the_picture_escapes_the_catalogue(monkeypatch: pytest.MonkeyPatch) -> None:
    """Its words are outlines, so they are read before they are drawn."""
    drawn: list[str] = []

    def noted(text: str, *args: Any, **named: Any) -> Outline:
        drawn.append(text)
        return label_outline(text, *args, **named)

    monkeypatch.setattr(preview, "label_outline", noted)
    preview.preview_svg(_pattern())
    assert len(drawn) == 4
    assert _small(" ".join(drawn)) == []


def _sheet(pattern: Pattern) -> Sheet:
    return Sheet(pattern, subject="", method="", page_count=1, texts=(), mirrored=False)


def test_no_line_ends_within_a_measure() -> None:
    """3 at the end of a line and 5/8 in at the start of the next is read as 5/8 in."""
    sheet = _sheet(_pattern(("O",), language="en"))
    half = as_length(Fraction(29, 8), Units.INCHES)
    text = sheet.tell(message("half of the quilt {half}; the throat is {half}.", half=half))
    for width in range(40, 240, 2):
        lines = sheet.letters.wrapped(text, 9.5, width)
        assert sum(line.count("3 5/8 in") for line in lines) == 2


def test_letters_of_a_language_are_bold_where_its_words_are(monkeypatch: pytest.MonkeyPatch) -> None:
    """What no font was made ready for is drawn as an outline, which has one weight."""
    monkeypatch.setattr(speaking, "_spoken", lambda _: made_up())
    letters = _sheet(_pattern(("O",))).letters
    assert letters.width("é", 10, bold=True) > letters.width("é", 10)


def test_longer_words_stay_in_their_columns(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(speaking, "_spoken", lambda _: made_up())
    monkeypatch.setattr("applique.sheets.guide._LEAST_SHARE", 2)  # the table has pages of its own
    pattern = _pattern(**TURNED)
    sheet, tables = _sheet(pattern), pypdfium2.PdfDocument(placement_guide_pdf(pattern))[1]
    column = sheet.left + (sheet.right - sheet.left - 26) / 2
    below = [rect for rect in _rects(tables) if sheet.bottom < rect[1] and rect[3] < sheet.top - 34]
    assert len(below) > 20
    ends = [right for left, _, right, _ in below if left < column]
    starts = [left for left, _, right, _ in below if right > column + 1]
    assert max(ends) < column + 1 and min(starts) > column + 26 - 1, "in one of the two columns, none across"
    first = _rects(pypdfium2.PdfDocument(_mirrored(pattern))[0])
    assert max(right for _, _, right, _ in first) < sheet.frame.width * 72 - sheet.frame.margin * 72 + 1


def _rects(page: Any) -> list[tuple[float, float, float, float]]:
    words = page.get_textpage()
    return [words.get_rect(index) for index in range(words.count_rects())]


def test_numbers_under_letters_that_tuck_together_stand_apart() -> None:
    """The left edge of the Y lies left of the right edge of the D: the numbers of their middles still stand apart."""
    lettering = {"font": "Fredoka", "cap_height": "17.8cm"}
    panel = {"width": "104cm", "height": "60cm"}
    pattern = _pattern(("STEADY",), language="en", units="cm", lettering=lettering, panel=panel)
    small = [
        rect
        for rect in _rects(pypdfium2.PdfDocument(placement_guide_pdf(pattern))[0])
        if rect[3] - rect[1] < 5.05
    ]
    over = [
        (one, other)
        for one, other in combinations(small, 2)
        if min(one[2], other[2]) - max(one[0], other[0]) > 0
        and min(one[3], other[3]) - max(one[1], other[1]) > 0
    ]
    assert len(small) == 6
    assert over == []
