"""The booklet and the label in a language of capitals alone: no word of theirs is said past the catalogue.

Whatever the makers of these designs wrote is in capitals too, so that every small letter is a word of ours.
"""

from __future__ import annotations

import re
from itertools import combinations
from typing import Any

import pypdfium2
import pytest

from applique.cutting.diagram import letters_of
from applique.design import design_from_mapping
from applique.language import speech as speaking
from applique.pattern import Pattern, draft
from applique.reports import summary_md
from applique.sheets import label_pdf, pattern_pdf
from applique.words.instructions.letters import lettering_said
from applique.words.sheets import letters_said
from tests.made_up import loud

_OF_LISTS = {"and", "or"}
"""CLDR's, between the last two of a list."""


SHOUTING = loud()
CLOTHS = [{"name": "OAT", "color": "#eeeeee"}, {"name": "PLUM", "color": "#550055"}]
SHARED: dict[str, Any] = {
    "title": "BOATS",
    "designer": "A. MAKER",
    "fabric": CLOTHS,
    "row": [{"text": "OAR"}, {"text": "ROE"}],
    "publisher": {"name": "A. MAKER", "contact": "BY POST", "license": "SEW IT", "skill": "EASY"},
    "label": {"maker": "A. MAKER", "date": "MAY", "place": "HERE", "care": ["COLD"]},
}
BORDERED: dict[str, Any] = {
    "lettering": {"cap_height": "3in", "outline": "3/8in"},
    "outline": {"fabric": "OAT"},
    "panel": {"width": "20in", "height": "16in", "fabric": "PLUM"},
    "border": [
        {"kind": "strip", "corners": "cornerstones", "fabrics": ["PLUM"], "corner_fabric": "OAT"},
        {"kind": "strip", "corners": "mitered", "fabrics": ["OAT"]},
        {"kind": "squares", "size": "2in", "fabrics": ["PLUM", "OAT"]},
        {"kind": "rectangles", "width": "2in", "size": "3in", "fabrics": ["PLUM", "OAT", "PLUM"]},
        {"kind": "strip", "fabrics": ["OAT"]},
    ],
    "fusible": {"ring": "1/4in"},
    "binding": {"grain": "bias"},
    "hanging": {"sleeve": True},
    "sewing": {"weave": "loose"},
    "quilting": [{"kind": kind} for kind in ("echo", "lines", "crosshatch", "edge to edge", "in the ditch")],
}
LARGE: dict[str, Any] = {
    "units": "cm",
    "row": [{"text": "HH", "nudge": [{"letter": 2, "right": "-5cm"}]}],
    "lettering": {"font": "Montserrat", "cap_height": "9cm"},
    "panel": {"width": "180cm", "height": "220cm", "fabric": "OAT"},
    "sewing": {"method": "turned edge"},
    "stitching": {"when": "with the quilting"},
    "quilting": [{"kind": "in the ditch"}, {"kind": "crosshatch", "letters": "cross"}],
    "paper": {"size": "A4"},
}
WIDE: dict[str, Any] = {
    "row": [{"text": "O", "fabric": "OAT"}, {"text": "O", "fabric": "RUST"}],
    "lettering": {"cap_height": "3in"},
    "panel": {"width": "44in", "height": "30in", "fabric": "PLUM"},
    "backing": {"kind": "leftovers", "overage": "1in"},
    "fabric": [*CLOTHS, {"name": "RUST", "color": "#a04020"}],
}
SMALL: dict[str, Any] = {
    "row": [{"text": "I", "turn": 3}],
    "lettering": {"cap_height": "3in"},
    "panel": {"width": "50in", "height": "44in", "fabric": "OAT"},
    "border": [{"kind": "strip", "fabrics": ["PLUM"], "first": "top and bottom"}],
    "fusible": {"rough_cut": "0in"},
    "stitching": {"when": "after the borders"},
    "paper": {"size": "legal"},
    "publisher": {},
}
DESIGNS = {"bordered": BORDERED, "large": LARGE, "wide": WIDE, "small": SMALL}


def _texts(pattern: Pattern, pdf: bytes) -> list[str]:
    """What each page has in its drawing area (what lies around it is on every sheet), and the titles of bookmarks."""
    document = pypdfium2.PdfDocument(pdf)
    frame = pattern.sheets.frame
    area = [inches * 72 for inches in (frame.margin, frame.margin, *frame.drawing[2:])]
    pages = [page.get_textpage().get_text_bounded(*area) for page in document]
    assert all(len(words) > 40 for words in pages)
    return [*pages, *(bookmark.get_title() for bookmark in document.get_toc())]


def _small_words(pattern: Pattern, pdf: bytes) -> set[str]:
    """The words with small letters, but for the tables of the design file that notices name, and the letters that
    pieces have in the drawings of their fabrics, where those of two neighbors read like one word."""
    own = _OF_LISTS | {f"{notice.where}:" for notice in pattern.notices}
    pieces = {
        letter for buy in pattern.shopping.cloth for letter in letters_of(buy.cutting.diagrams).values()
    }
    return {
        word
        for text in _texts(pattern, pdf)
        for word in re.findall(r"\S*[a-z]\S*", text)
        if word not in own and not re.fullmatch(rf"[\dA-Z]*[{''.join(pieces)}]{{1,2}}[A-Z]?[.,:]?", word)
    }


def _overlaps(pdf: bytes) -> list[str]:
    """The pieces of text that lie over another, more than a point both ways."""
    found = []
    for page in pypdfium2.PdfDocument(pdf):
        words = page.get_textpage()
        rects = [words.get_rect(index) for index in range(words.count_rects())]
        for one, other in combinations(rects, 2):
            wide = min(one[2], other[2]) - max(one[0], other[0])
            high = min(one[3], other[3]) - max(one[1], other[1])
            if wide > 1 and high > 1:
                found.append(f"{words.get_text_bounded(*one)} / {words.get_text_bounded(*other)}")
    return found


@pytest.fixture(params=DESIGNS)
def shouted(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Pattern:
    """Patterns that together say every sentence of the two sheets."""
    monkeypatch.setattr(speaking, "_spoken", lambda _: SHOUTING)
    return draft(design_from_mapping({**SHARED, **DESIGNS[request.param]}))


@pytest.mark.long
def test_no_word_of_the_booklet_escapes_the_catalogue(shouted: Pattern) -> None:
    assert _small_words(shouted, pattern_pdf(shouted)) == set()


def test_no_word_of_the_label_escapes_the_catalogue(shouted: Pattern) -> None:
    assert _small_words(shouted, label_pdf(shouted)) == set()


def test_capitals_have_the_room_they_take(shouted: Pattern) -> None:
    """In wider words, heads of tables ran into one another and leads into their paragraphs."""
    assert _overlaps(pattern_pdf(shouted)) == []


@pytest.mark.parametrize(
    ("font", "text", "said"),
    [
        ("Fredoka", "i", "1 letter in 2 pieces"),
        ("Fredoka", "ROW", "3 letters"),
        ("Pacifico", "lo", "1 piece"),
        ("Pacifico", "l o", "2 letters"),
    ],
)
def test_letters_that_join_are_counted_as_pieces(font: str, text: str, said: str) -> None:
    """An i is one letter in two pieces of fabric."""
    lettering = {"font": font, "cap_height": "3in"}
    pattern = draft(design_from_mapping({"row": [{"text": text}], "lettering": lettering}))
    count, pieces, joined = pattern.letter_count, pattern.piece_count, pattern.joins_letters
    assert str(letters_said(count, pieces=pieces, joined=joined)) == said
    told = str(lettering_said(count, 2, pieces=pieces, joined=joined))
    assert f" {said} to cut from 2 templates." in told
    assert f"## {said} to cut" in summary_md(pattern).decode("utf-8")


def test_a_metric_design_is_said_in_metric_alone() -> None:
    """Stitches are in millimeters everywhere; sizes of the whole quilt have inches behind them in brackets."""
    metric = {"units": "cm", "hanging": {"sleeve": True}, "fusible": {"ring": "6mm"}}
    wide = {
        **SHARED,
        **metric,
        "panel": {"width": "60cm", "height": "50cm"},
        "lettering": {"cap_height": "15cm"},
    }
    pattern = draft(design_from_mapping(wide))
    pages = [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pattern_pdf(pattern))]
    words = " ".join(" ".join(pages).split())
    assert "turn 0.6 cm under twice" in words
    assert "its millimeter scale must be 150 mm long, its inch scale 6 in" in words  # as the rule has both
    assert " cm²)" in words
    assert "a person of 168 cm" in words
    rest = words.replace("its inch scale 6 in", "")
    assert re.findall(r"(?<!\()\b[\d/]+ (?:in|ft|yd|sq in)\b(?!\))", rest) == []
