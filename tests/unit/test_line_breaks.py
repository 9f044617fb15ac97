"""Numbers stay with what they count: where lines of text may end, and that no line of a file ends elsewhere."""

from __future__ import annotations

import re
from html import unescape
from itertools import pairwise
from typing import Any

import pypdfium2
import pytest

from applique.design import design_from_mapping
from applique.instructions import Edition, instructions_of
from applique.pattern import Pattern, draft
from applique.sew_along import sew_along_html
from applique.sheets import pattern_pdf
from applique.typeset.breaks import UNBROKEN, line_words, loose_words, tied

DESIGNS: tuple[dict[str, Any], ...] = (
    {
        "row": [{"text": "bring a mug"}, {"text": "and stay"}],
        "panel": {"width": "48in", "height": "24in"},
        "border": [{"kind": "squares", "size": "3in", "fabrics": ["Ink", "Fog"]}],
        "fabric": [{"name": "Ink", "color": "#1d3f58"}, {"name": "Fog", "color": "#e9e4d6"}],
        "lettering": {"cap_height": "4in"},
        "stitching": {"stitch": "satin", "offers": ["satin", "blanket", "zigzag"]},
        "quilting": [{"kind": "echo"}, {"kind": "crosshatch", "offered": True}],
    },
    {
        "row": [{"text": "BIJOU"}],
        "panel": {"width": "90cm", "height": "50cm"},
        "border": [{"kind": "strip", "width": "6cm", "fabrics": ["Ink"], "corners": "mitered"}],
        "fabric": [{"name": "Ink", "color": "#1d3f58"}],
        "units": "cm",
        "paper": {"size": "A4"},
        "sewing": {"method": "machine cut"},
    },
)


@pytest.fixture(scope="module", params=range(len(DESIGNS)))
def pattern(request: pytest.FixtureRequest) -> Pattern:
    return draft(design_from_mapping(DESIGNS[request.param]))


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("row 1: 16 · d × 1, 17 · B × 1", ["row 1:", "16 · d × 1,", "17 · B × 1"]),
        ("23 · w × 1, 24 · ’ × 1", ["23 · w × 1,", "24 · ’ × 1"]),
        ("12 · I, 2a · i × 2", ["12 · I,", "2a · i × 2"]),
        ("118 yd, 1 spool of it", ["118 yd,", "1 spool", "of", "it"]),
        ("fold 1 at 32 in", ["fold", "1 at", "32 in"]),
        ("lies 13 1/8 in down", ["lies", "13 1/8 in", "down"]),
        ("Borders · steps 18–19 · page 16", ["Borders", "·", "steps 18–19", "·", "page 16"]),
        ("each 6.4 cm: piece b.", ["each", "6.4 cm:", "piece b."]),
        ("Take B a and B b.", ["Take", "B a", "and", "B b."]),
        ("shrink by 100 %", ["shrink", "by", "100 %"]),
        ("the year 1912. It was", ["the", "year 1912.", "It", "was"]),
    ],
)
def test_a_number_is_not_parted_from_what_it_counts(text: str, words: list[str]) -> None:
    assert line_words(text) == words
    assert re.split(r"[^\S\u00a0]+", tied(text)) == [word.replace(" ", UNBROKEN) for word in words]


def test_a_line_too_narrow_for_that_keeps_units_and_fractions() -> None:
    assert loose_words("1 2 3 × 4 1/2 in") == ["1", "2", "3", "×", "4 1/2 in"]


TORN = re.compile(
    r"(?:^|\s)(?:\d+|\d+/\d+|\d+ \d+/\d+)$|[×÷]$"  # what is counted would begin the next line
)
BEGUN = re.compile(r"^(?:[×÷%]|\d+/\d|(?:in|cm|mm|yd|ft)(?:\s|[.,;]|$))")


def _paragraphs(page: Any) -> list[list[str]]:
    """Lines that follow one another at the leading of the body, at one left edge."""
    text = page.get_textpage()
    pieces: dict[float, list[tuple[float, float, int]]] = {}
    for index in range(text.count_chars()):
        left, low, right, _ = text.get_charbox(index, loose=True)
        pieces.setdefault(round(low, 1), []).append((left, right, index))
    found: list[tuple[float, float, str]] = []
    for low, placed in pieces.items():
        placed.sort()
        line = [placed[0]]
        for before, one in pairwise(placed):
            if one[0] - before[1] > 8.0:  # another column
                found.append((line[0][0], low, _said(text, line)))
                line = []
            line.append(one)
        found.append((line[0][0], low, _said(text, line)))
    lines = [one for one in found if one[2]]
    return [[first[2], second[2]] for first in lines for second in lines if _follows(first, second)]


def _said(text: Any, line: list[tuple[float, float, int]]) -> str:
    return "".join(text.get_text_range(index, 1) for _, _, index in line).strip()


def _follows(first: tuple[float, float, str], second: tuple[float, float, str]) -> bool:
    return abs(first[0] - second[0]) < 1.0 and 9.0 < first[1] - second[1] < 15.5


def _torn(pdf: bytes) -> list[str]:
    """Neighboring lines between which a number is parted from what it counts; cells of tables stand wider apart."""
    faults = []
    for page in pypdfium2.PdfDocument(pdf):
        for upper, lower in _paragraphs(page):
            counts = " " in upper and TORN.search(upper) and not re.search(r"\w+ \d+$", upper)
            ends = counts and re.match(r"[a-z(]", lower)
            unit = BEGUN.match(lower) and (upper[-1].isdigit() or lower[0] in "×÷%")
            if ends or unit:
                faults.append(f"{upper} / {lower}")
    return faults


@pytest.mark.parametrize("edition", list(Edition))
def test_no_line_of_the_booklet_tears_a_number(pattern: Pattern, edition: Edition) -> None:
    assert _torn(pattern_pdf(pattern, instructions_of(pattern, edition=edition))) == []


def test_no_line_of_the_page_to_sew_by_can_tear_a_number(pattern: Pattern) -> None:
    """A browser ends lines at plain spaces alone."""
    html = sew_along_html(pattern).decode()
    wrapped = re.sub(r"<svg.*?</svg>", "", html.split("<main")[1], flags=re.DOTALL)
    texts = [unescape(text) for text in re.findall(r">([^<>]+)<", wrapped)]
    assert len(texts) > 100
    torn = [text for text in texts if re.search(r"\d (?:[a-z]|%)|[×÷] | [×÷]|\d \d+/\d", text)]
    assert torn == []
