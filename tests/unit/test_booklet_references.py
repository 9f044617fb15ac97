"""The customer's booklet in each method: every page that it names is the one meant, and a thing has one name."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

import pypdfium2
import pytest

from applique.design import Method, design_from_mapping
from applique.instructions import Edition, instructions_of
from applique.language import Message, PageOf
from applique.language.speech import american
from applique.pattern import draft
from applique.sew_along import sew_along_html
from applique.sheets import whole_pattern_pdf
from applique.words.instructions import cover
from applique.words.label import METHOD as LABEL_LINE
from applique.words.nests import lying_said

DESIGN: dict[str, Any] = {
    "title": "High water",
    "row": [{"text": "HIG"}],
    "panel": {"width": "20in", "height": "9in", "fabric": "Oat"},
    "lettering": {"fabric": "Ink", "cap_height": "5in"},
    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
    "fabric": [{"name": "Oat", "color": "#e8dfc8"}, {"name": "Ink", "color": "#203040"}],
    "label": {"maker": "A. Maker"},
}
_HEAD = 200
"""Characters at the top of a page, whose head they are in."""
_OTHER_NAMES = (r"(?<!seam )\ballowances?\b", r"\bshopping list\b", r"\bquilt label\b")
"""Of the turn-under, of “What you need”, of the label: each would be a second name in the same booklet."""


@pytest.fixture(scope="module", params=list(Method))
def printed(request: pytest.FixtureRequest) -> tuple[list[str], str, str]:
    """The text of each page, what the pages of nests are called, and the page for the tablet."""
    pattern = draft(design_from_mapping({**DESIGN, "sewing": {"method": request.param.value}}))
    instructions = instructions_of(pattern, edition=Edition.CUSTOMER)
    pages = pypdfium2.PdfDocument(whole_pattern_pdf(pattern, instructions))
    texts = [" ".join(page.get_textpage().get_text_bounded().split()) for page in pages]
    return texts, str(lying_said(pattern.fusible)), sew_along_html(pattern, instructions).decode()


def test_every_page_that_is_named_is_the_page_meant(printed: tuple[list[str], str, str]) -> None:
    """“As the page “How the letters lie …” shows” had no number to turn to."""
    texts, lying, _ = printed
    whole = " ".join(texts)
    assert "the page “" not in whole
    named = {
        "small picture of (?:fusible web|freezer paper) on": lying,
        "(?:picture of this fabric|pictures of these fabrics) on": lying,
        "table of the placement guide, on": "Placement guide: right way round",
        "The label, and a spare one, are on": str(LABEL_LINE),
    }
    for words, line in named.items():
        found = re.findall(rf"(?i){words} pages? (\d+)(?:–(\d+))?", whole)
        assert found, words
        for first, last in found:
            numbers = range(int(first), int(last or first) + 1)
            headed = [number for number, text in enumerate(texts, 1) if line in text[:_HEAD]]
            assert headed == list(numbers), words
    # The contents name every chapter with its page; each page has its number in its head.
    contents = next(text for text in texts if str(cover.CONTENTS) in text)
    entries = re.findall(r"([A-Z][^·:]*?)(?: · steps? [\d–]+|: [^·]*?)? pages? (\d+)(?:–\d+)?", contents)
    assert len(entries) > 10
    for title, number in entries:
        head = texts[int(number) - 1]
        assert f"page {number} of {len(texts)}" in head
        assert (title.split()[-1] if title != str(cover.TEMPLATES) else "What's on each page") in head
    # The first template page says which template is on which page.
    (listed,) = (text for text in texts if "What's on each page" in text)
    pages = re.findall(r"Page (\d+): (.*?)(?= Page \d+:|$)", listed)
    assert [label for _, labels in pages for label in labels.split(", ")] == ["1 · H", "2 · I", "3 · G"]
    for number, labels in pages:
        assert all(label in texts[int(number) - 1] for label in labels.split(", "))
    # Nothing else names a page.
    of_steps = "|".join(rf"(?i:{words}) pages? [\d–]+" for words in named)
    others = re.sub(rf"page \d+ of \d+|{of_steps}", "", whole.replace(contents, "").replace(listed, ""))
    assert re.findall(r"(?i)\bpages? \d+", others) == []


def test_of_several_pages_of_nests_only_those_meant_are_named() -> None:
    """The web had a page, and two fabrics another; “pages 27–28” was said of each."""
    fabrics = [{"name": name, "color": "#203040"} for name in ("Oat", "Ink", "Rust")]
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "HUMAN"}, {"text": "BIG", "fabric": "Rust"}, {"text": "WOMEN"}],
                "panel": {"width": "44in", "height": "34in", "fabric": "Oat"},
                "lettering": {"fabric": "Ink", "cap_height": "6in"},
                "fabric": fabrics,
            }
        )
    )
    pages = pypdfium2.PdfDocument(
        whole_pattern_pdf(pattern, instructions_of(pattern, edition=Edition.CUSTOMER))
    )
    whole = " ".join(" ".join(page.get_textpage().get_text_bounded() for page in pages).split())
    marked: dict[str, set[int]] = {}
    for mark in pages.get_toc():
        dest = mark.get_dest()
        assert dest is not None
        marked.setdefault(mark.get_title(), set()).add(dest.get_index() + 1)
    web, cloth = marked["Nest: fusible web"], marked["Nest: Ink"] | marked["Nest: Rust"]
    assert web.isdisjoint(cloth)
    assert len(web) == len(cloth) == 1
    assert f"small picture of fusible web on page {min(web)}, not as in that of a fabric" in whole
    assert f"pictures of these fabrics on page {min(cloth)}:" in whole
    table = marked.get("Where each letter goes", marked["The panel"])
    assert f"table of the placement guide, on page {min(table)}." in whole


def test_pages_are_said_as_a_run_only_where_none_is_left_out() -> None:
    parts = tuple(Message(template=name) for name in ("web", "cloth", "label"))
    where = PageOf(title=Message(template="all"), parts=parts[:2])

    def said(**pages: tuple[int, ...]) -> str:
        return replace(american(), pages=tuple(pages.items())).field(where)

    assert said(web=(4,), cloth=(4,)) == "page 4"
    assert said(web=(4,), cloth=(6, 5)) == "pages 4–6"
    assert said(web=(4,), cloth=(7,)) == "pages 4 and 7"
    assert said(web=(4,), all=(4, 5)) == "pages 4–5"
    assert said() == "the page “all” of the printed pattern"


def test_a_thing_has_one_name(printed: tuple[list[str], str, str]) -> None:
    texts, _, page = printed
    for text in (
        *texts,
        re.sub(r"<script.*?</script>|<style.*?</style>|<[^>]*>", " ", page, flags=re.DOTALL),
    ):
        for other in _OTHER_NAMES:
            assert not re.search(other, " ".join(text.split()), re.IGNORECASE)


def test_the_page_for_the_tablet_names_pages_by_their_title(printed: tuple[list[str], str, str]) -> None:
    """It goes with prints on either paper, whose page numbers differ."""
    _, lying, page = printed
    assert f"the page “{lying}” of the printed pattern" in page
