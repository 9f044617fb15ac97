"""The middle and the baseline of whole templates are named on their page where there is room."""

from __future__ import annotations

import pypdfium2
import pytest
from shapely.geometry import LineString, box

from applique.paging import TiledTemplate
from applique.pattern import Pattern
from applique.sheets import templates_pdf
from tests.chapters import drafted
from tests.overlaps import overlaps

SIZES = [("Rubik", "6in"), ("Fredoka", "3in"), ("Pacifico", "4in"), ("Rubik", "1 1/2in")]


def _pattern(font: str, height: str) -> Pattern:
    return drafted(
        row=[{"text": "Wage"}, {"text": "fish"}],
        lettering={"font": font, "cap_height": height, "fabric": "Ink"},
        panel={"width": "40in", "height": "30in"},
        fabric=[{"name": "Ink", "color": "#203040"}],
    )


@pytest.mark.parametrize(("font", "height"), SIZES)
@pytest.mark.parametrize("mirrored", [False, True])
def test_words_of_marks_lie_over_nothing_and_are_large_enough_to_read(
    font: str, height: str, mirrored: bool
) -> None:
    """Read back from the finished file: 7 points at the least, no text over text or line."""
    pattern = _pattern(font, height)
    pdf = templates_pdf(pattern, mirrored=mirrored)
    assert overlaps(pdf) == []
    texts = iter([page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)][1:])
    named = 0
    for one in pattern.sheets.in_order:
        if isinstance(one, TiledTemplate):
            for _ in one.tiling.tiles:
                next(texts)
            continue
        text = next(texts)
        for name in ("middle", "baseline"):
            count = sum(word.text == name for item in one.items for word in item.words)
            assert text.count(name) == count
            named += count
    assert named >= sum(len(page.items) for page in pattern.sheets.pages)


def test_a_word_stands_beside_its_mark_and_nearer_to_its_own_letter_than_to_any_other() -> None:
    pattern = _pattern("Rubik", "4in")
    for page in pattern.sheets.pages:
        shapes = {
            item.template: item.place.shape(pattern.template(item.template).outermost) for item in page.items
        }
        for item in page.items:
            template = pattern.template(item.template)
            middle, baseline = item.words  # a 4 in letter has room for both
            assert (middle.text, baseline.text) == ("middle", "baseline")
            x = (template.ink[0] + template.ink[2]) / 2
            low = min(template.outermost.bounds[1], 0.0) - 0.2
            through = item.place.shape(LineString([(x, low), (x, 0.4)]))
            assert box(*middle.box).distance(through) < 0.1
            line = item.place.shape(LineString([(-1.0, 0.0), (template.ink[2] + 1.0, 0.0)]))
            assert box(*baseline.box).distance(line) < 0.35
            for word in item.words:
                away = {number: box(*word.box).distance(shape) for number, shape in shapes.items()}
                assert min(away, key=lambda number: away[number]) == item.template
