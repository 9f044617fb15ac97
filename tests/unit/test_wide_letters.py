"""Letters wider than their fabric: cut, sewn side by side and large enough, by a maker who has the plan alone."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest

from applique.cloth import UseKind
from applique.design import design_from_mapping
from applique.pattern import Pattern, draft
from applique.words.cloth import carried_said, use_how
from applique.words.instructions.cutting import how_said
from tests.cutter import Cloth, Patch, cut_plan, sew_lengths

SLACK = Fraction(0)


def _pattern(usable_width: str, **more: Any) -> Pattern:
    """An I and an M of 60 in; the rough cut of the M is almost 65 in wide, its height along the selvage."""
    return draft(
        design_from_mapping(
            {
                "row": [{"text": "MI", "cap_height": "60in"}],
                "lettering": {"font": "Fredoka", "fabric": "Ink"},
                "panel": {"width": "100in", "height": "70in", "fabric": "Fog"},
                "fabric": [
                    {"name": "Ink", "color": "#203040", "usable_width": usable_width},
                    {"name": "Fog", "color": "#e0e0d8"},
                ],
                **more,
            }
        )
    )


@pytest.mark.parametrize(
    ("units", "usable_width", "widths"),
    [
        ("in", "40in", 2),
        ("in", "21in", 4),
        ("in", "20 1/2in", 4),
        ("in", "21 3/4in", 4),  # three are 65 1/4 in wide, and 64 1/4 in once they are sewn
        ("cm", "106cm", 2),
    ],
)
def test_what_is_sewn_together_holds_the_letter(units: str, usable_width: str, widths: int) -> None:
    pattern = _pattern(usable_width, units=units)
    plan = next(buy.cutting for buy in pattern.shopping.cloth if buy.fabric.name == "Ink")
    (need,) = pattern.cloth
    (large,) = need.joined
    assert (carried_said(large.carried), large.widths) == ("M", widths)
    bought = Cloth(name="Ink", length=plan.rule.buy, width=plan.fabric.usable_width)
    cut = cut_plan(plan.plan, plan.demands, plan.supplies, bought=bought)
    pieces = [piece for piece in cut.pieces if piece.key == "letters, 1"]
    sewn = sew_lengths(
        [Patch(width=piece.width, height=piece.length) for piece in pieces],
        seam=pattern.design.seam_allowance,
        slack=SLACK,
    )
    (shape,) = (piece.shape for piece in need.pieces if piece.key == large.carried.key)
    x0, y0, x1, y1 = shape.bounds
    assert (sewn.width, sewn.height) == (large.across, large.length)
    assert sewn.width >= x1 - x0
    assert sewn.height >= y1 - y0
    fewer = widths - 1
    assert fewer * plan.fabric.usable_width - (fewer - 1) * large.seam < x1 - x0, "one too many"


def test_the_cutting_plan_says_how_to_sew_them_together() -> None:
    pattern = _pattern("40in")
    use = pattern.shopping.use(UseKind.LETTERS)
    assert use is not None
    said = (
        "for M, sew 2 pieces of 32 3/4 in by 61 3/16 in side by side into 65 in by 61 3/16 in, and press each seam "
        "open"
    )
    units = pattern.design.units
    assert str(use_how(use, units)) == f"nested in 1 × 15 5/8 in by 61 7/8 in; {said}"
    assert str(how_said(use, dict.fromkeys(use.keys, "a"), units)).endswith(f": {said}.")
