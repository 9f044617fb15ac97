"""Trimming the panel: where its edges are marked, what is drawn, and what is said of a panel that was cut to size."""

from __future__ import annotations

from typing import Any

import pytest

from applique.design import design_from_mapping
from applique.drawings import Shape, Words
from applique.instructions import Step, instructions_of
from applique.instructions.values import Cautions, Chapter, ChapterKind
from applique.pattern import Pattern, draft

BASE: dict[str, Any] = {
    "lettering": {"font": "Fredoka", "cap_height": "4in"},
    "panel": {"width": "20in", "height": "14in", "trim_after": "1in"},
    "row": [{"text": "Hip"}],
    "fabric": [{"name": "Ink", "color": "#203040"}],
}


def drafted(**tables: Any) -> Pattern:
    return draft(design_from_mapping(BASE | tables))


def chapter(pattern: Pattern) -> Chapter | None:
    found = [one for one in instructions_of(pattern).chapters if one.kind is ChapterKind.TRIMMING]
    return found[0] if found else None


def test_the_panel_is_drawn_with_what_is_cut_off_and_measured_where_it_is_trimmed() -> None:
    pattern = drafted()
    panel, found = pattern.panel, chapter(pattern)
    assert found is not None
    mark = next(block for block in found.blocks if isinstance(block, Step))
    drawing = mark.drawing
    assert drawing is not None
    shapes = [one for one in drawing.marks if isinstance(one, Shape)]
    cut, trimmed = (one.outline.bounds() for one in shapes[:2])
    scale = (cut[2] - cut[0]) / float(panel.cut_width)
    assert (trimmed[2] - trimmed[0]) / scale == pytest.approx(float(panel.trimmed[0]))
    assert (trimmed[3] - trimmed[1]) / scale == pytest.approx(float(panel.trimmed[1]))
    assert (trimmed[0] - cut[0]) / scale == pytest.approx(0.5)
    words = [one.outline.bounds() for one in shapes if one.fill == "#d4d4d4"]
    assert (trimmed[3] - max(one[3] for one in words)) / scale == pytest.approx(
        float(panel.height + panel.seam_allowance) - panel.laid[0].ink[3]
    )
    said = [str(one.said) for one in drawing.marks if isinstance(one, Words)]
    assert said.count("10 1/4 in") == 2
    assert {"center line", "cut off", "finished size: 20 in by 14 in"} <= set(said)
    assert "10 1/4 in to the left" in str(mark.said[0])
    *_, trim = (block for block in found.blocks if isinstance(block, Step))
    assert "pull the basting of the center line out" in str(
        trim.said[-1]
    )  # placing says to leave it until now


def test_a_panel_cut_to_size_is_squared_up_and_its_size_checked() -> None:
    for borders in ([], [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}]):
        found = chapter(drafted(panel={"width": "20in", "height": "14in"}, border=borders))
        assert found is not None
        blade, check = found.blocks
        assert isinstance(blade, Cautions) and isinstance(check, Step)
        assert "Square up the panel" in str(check.said[0])
        assert "20 1/2 in by 14 1/2 in" in str(check.said[0])
        assert "If it is crooked, pull it into shape" in str(check.said[1])
        assert ("“Borders” says how to fit the borders to it" in str(check.said[2])) == bool(borders)


def test_a_panel_that_is_the_whole_quilt_and_stitched_with_its_quilting_is_not_squared_up() -> None:
    whole = {"panel": {"width": "20in", "height": "14in"}, "stitching": {"when": "with the quilting"}}
    assert chapter(drafted(**whole)) is None
    assert chapter(drafted(**whole, border=[{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}]))


@pytest.mark.parametrize("reach", ["0in", "1/2in"])
def test_a_panel_with_outlines_is_trimmed_by_its_letters(reach: str) -> None:
    """The highest point of all is that of an outline: measured from there the panel came out short."""
    outlined = reach != "0in"
    lettering = {**BASE["lettering"], **({"outline": reach} if outlined else {})}
    pattern = drafted(lettering=lettering)
    found = chapter(pattern)
    assert found is not None
    mark = next(block for block in found.blocks if isinstance(block, Step))
    assert ("of the letters themselves, not of their outlines" in str(mark.said[0])) is outlined
    assert mark.drawing is not None
    drawn = [
        one.outline.bounds() for one in mark.drawing.marks if isinstance(one, Shape) and one.fill == "#ffffff"
    ]
    assert len(drawn) == 1 + len(pattern.outlines)
    assert len(pattern.outlines) == (3 if outlined else 0)
