"""The labels of the templates, read back from the finished PDF by PDFium: how large they are, and where they lie."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
import pytest
import shapely
from shapely import affinity
from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.sheets import templates_pdf

POINTS = 72
NAME_PT, DETAIL_PT = 15.84, 8.28
"""A letter's name is printed 0.22 in high and what follows it 0.115 in: our own sizes, readable at arm's length."""


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    """Letters wide enough for their label, too narrow for it, and ones that carry it sideways."""
    data: dict[str, Any] = {
        "row": [{"text": "MOHBI"}, {"text": "il&8", "font": "Fredoka"}, {"text": "ow", "cap_height": "1in"}],
        "lettering": {"font": "Alfa Slab One", "cap_height": "5in"},
        "panel": {"width": "60in", "height": "40in"},
        "fabric": [
            {"name": "Gooseberry green", "color": "#406030"},
            {"name": "Background", "color": "#ffffff"},
        ],
    }
    return draft(design_from_mapping(data))


def _printed(page: Any) -> Iterator[tuple[float, BaseGeometry]]:
    """Each printed sign of a label: its size in points, and its box in inches of paper."""
    text = page.get_textpage()
    for index in range(text.count_chars()):
        size = pdfium.FPDFText_GetFontSize(text.raw, index)
        x0, y0, x1, y1 = (side / POINTS for side in text.get_charbox(index))
        blank = chr(pdfium.FPDFText_GetUnicode(text.raw, index)).isspace()
        if not blank and any(abs(size - one) < 0.01 for one in (NAME_PT, DETAIL_PT)):
            yield size, box(x0, y0, x1, y1)


def _on_paper(shape: BaseGeometry, item: Any, pattern: Pattern) -> BaseGeometry:
    turned = affinity.rotate(shape, item.place.turn_deg, origin=(0.0, 0.0))
    x, y, _, _ = pattern.sheets.frame.drawing
    return affinity.translate(turned, item.place.x + x, item.place.y + y)


def test_labels_have_their_size_and_lie_on_their_letter_or_clear_of_every_one(pattern: Pattern) -> None:
    document = pypdfium2.PdfDocument(templates_pdf(pattern, mirrored=False))
    ways = set()
    for number, layout in enumerate(pattern.sheets.pages, 1):
        signs = list(_printed(document[number]))
        letters = [_on_paper(pattern.template(item.template).shape, item, pattern) for item in layout.items]
        seen = 0
        for item, letter in zip(layout.items, letters, strict=True):
            room = _on_paper(box(*item.label.box), item, pattern)
            mine = [(size, sign) for size, sign in signs if room.intersects(sign.centroid)]
            name, *details = ("".join(line.split()) for line in item.label.lines)
            sizes = sorted((round(size, 2) for size, _ in mine), reverse=True)
            assert sizes == [NAME_PT] * len(name) + [DETAIL_PT] * sum(map(len, details))
            seen += len(mine)
            words = shapely.union_all([sign for _, sign in mine])
            assert room.buffer(0.01).covers(words)
            ways.add((item.label.inside, item.label.turn_deg))
            for tag in item.label.tags:  # the name of a part of a letter
                place = _on_paper(box(*tag.box), item, pattern)
                named = [size for size, sign in signs if place.intersects(sign.centroid)]
                assert named == [pytest.approx(DETAIL_PT)] * len(tag.name)
                seen += len(named)
            if item.label.inside:
                arrow = _on_paper(
                    shapely.LineString([(item.label.arrow[0], y) for y in item.label.arrow[1:]]),
                    item,
                    pattern,
                )
                assert letter.buffer(-0.04).covers(words)
                assert letter.buffer(-0.04).covers(arrow)
            else:
                assert min(words.distance(one) for one in letters) > 0.04
        assert seen == len(signs)
    assert {inside for inside, _ in ways} == {True, False}
    assert 90 in {turn for _, turn in ways}
