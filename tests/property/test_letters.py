"""Letters scale: length linearly, area with its square; mirroring keeps both."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from applique.design import design_from_mapping
from applique.panel import place_rows
from applique.pieces import Template, cut_templates
from applique.typeset.bundled import BUNDLED


def _template(character: str, font: str, cap_height: float) -> Template:
    design = design_from_mapping(
        {
            "row": [{"text": character}],
            "lettering": {"font": font, "cap_height": f"{cap_height:.4f}in"},
            "panel": {"width": "20m", "height": "20m"},
        }
    )
    return cut_templates(design, place_rows(design).rows, ())[0]


@settings(max_examples=40, deadline=None)
@given(st.sampled_from("AgQ8&Rjé"), st.sampled_from([font.name for font in BUNDLED]), st.floats(0.5, 60))
def test_twice_as_high_is_twice_as_long_and_four_times_the_area(
    character: str, font: str, height: float
) -> None:
    small, large = _template(character, font, height), _template(character, font, round(height, 4) * 2)
    assert large.edge == pytest.approx(small.edge * 2, rel=1e-4)
    assert large.area == pytest.approx(small.area * 4, rel=1e-4)
    assert large.shape.area == pytest.approx(large.area, rel=2e-3)
    mirrored = large.outline.transformed((-1, 0, 0, 1, 3, 0))
    assert mirrored.area() == pytest.approx(large.area)
    assert mirrored.length() == pytest.approx(large.edge)
