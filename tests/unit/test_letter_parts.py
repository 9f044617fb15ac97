"""Letters in several parts: each part has one name on template, guide and page, a place, a count and a tick."""

from __future__ import annotations

import re
from typing import Any

import pypdfium2
import pytest

from applique.design import Method, design_from_mapping
from applique.geometry.polygons import parts_in_order
from applique.instructions import instructions_of
from applique.instructions.values import ChapterKind
from applique.pattern import Pattern, draft
from applique.sheets import placement_guide_pdf
from tests.chapters import chapter_of, said_in, steps_of
from tests.unit.test_guide import _in_column


def _pattern(*rows: Any, **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [row if isinstance(row, dict) else {"text": row} for row in rows],
        "lettering": {"font": "Fredoka", "cap_height": "3in"},
        "panel": {"width": "40in", "height": "30in"},
    }
    return draft(design_from_mapping({**data, **tables}))


@pytest.mark.parametrize("turn", [0.0, 12.0])
def test_each_part_has_its_own_place_in_the_table_of_the_guide(turn: float) -> None:
    """The table had the letter's edges alone: nothing said where its dot lies."""
    pattern = _pattern({"text": "Hi Å", "turn": turn})
    (mark,), cuts = pattern.marks, pattern.panel.cuts
    text = " ".join(
        " ".join(page.get_textpage().get_text_range().split())
        for page in pypdfium2.PdfDocument(placement_guide_pdf(pattern))
    )
    seen = 0
    for letter, cut in zip(mark.letters, cuts, strict=True):
        shapes = parts_in_order(cut.shape)
        assert len(letter.parts) == (len(shapes) if len(shapes) > 1 else 0)
        for part, shape in zip(letter.parts, shapes, strict=False):
            x0, _, x1, _ = cut.place.shape(shape).bounds
            assert (part.left, part.right) == pytest.approx((x0 - 20, x1 - 20), abs=1e-6)
            # Along the row its lowest point is as high above the baseline as on the template.
            assert part.above_baseline == pytest.approx(shape.bounds[1], abs=1e-6)
            cells = [_in_column(place) for place in (part.left, part.middle, part.right)]
            lowest = _in_column(part.above_baseline)
            lowest = re.sub(" [LR]$", " above" if part.above_baseline > 0 else " below", lowest)
            assert f" {part.name} {' '.join(cells)} {lowest}" in text
            seen += 1
    assert seen == 4
    names = [part.name for letter in mark.letters for part in letter.parts]
    assert names == ["2a", "2b", "3a", "3b"]
    assert "the name that is on its template: 2a, 2b" in text
    assert "such as 2a and 2b" in said_in(chapter_of(pattern, ChapterKind.PLACING))


def test_parts_as_large_as_each_other_are_named_from_the_left() -> None:
    pattern = _pattern("”ö")
    quote, o = pattern.marks[0].letters
    assert quote.parts[0].left < quote.parts[1].left
    assert o.parts[1].left < o.parts[2].left and o.parts[0].above_baseline < o.parts[1].above_baseline


@pytest.mark.parametrize("method", list(Method))
def test_every_part_has_ticks_of_its_own(method: Method) -> None:
    pattern = _pattern("Hi", "i", sewing={"method": method})
    boards = [board for step in instructions_of(pattern).steps() for board in step.on_screen.letters]
    for done in {board.done for board in boards}:
        rows = [row for board in boards if board.done is done for row in board.rows]
        said = sorted(str(tick.said) for row in rows for tick in row.ticks)
        assert said == ["H", "i · 2a", "i · 2a", "i · 2b", "i · 2b"]
    keys = [tick.key for board in boards for row in board.rows for tick in row.ticks]
    assert len(keys) == len(set(keys))
    printed = [
        str(tick.said) for step in steps_of(chapter_of(pattern, ChapterKind.LETTERS)) for tick in step.ticks
    ]
    assert printed and not len(printed) % 3 and set(printed) == {"1 · H", "2a · i × 2", "2b · i × 2"}


def test_letters_are_counted_with_their_pieces() -> None:
    pattern = _pattern("Hi", "Å")
    assert (pattern.letter_count, pattern.piece_count) == (3, 5)
    said = said_in(chapter_of(pattern, ChapterKind.LETTERS))
    assert "There are 3 letters in 5 pieces to cut from 3 templates." in said
    assert "Templates 2 (2a and 2b) and 3 (3a and 3b) are letters in several parts" in said
    assert "pieces" not in said_in(chapter_of(_pattern("HI"), ChapterKind.LETTERS)).partition("templates.")[0]
