"""A cure may not be paid for elsewhere: no finding that was not there, and none that was there made worse."""

from __future__ import annotations

from typing import Any

import pytest

from applique.design import Design, design_from_mapping
from applique.sewing.cures import check_design, cures
from applique.sewing.findings import FindingKind


def _design(panel_width: str, line: dict[str, Any]) -> Design:
    """A long word whose narrowest gap is less than the 5/8 in that this maker wants to stitch between."""
    return design_from_mapping(
        {
            "panel": {"width": panel_width, "height": "14in", "margin": "0in"},
            "lettering": {"font": "Fredoka", "cap_height": "5in"},
            "sewing": {"least_clear": "5/8in"},
            "row": [{"text": "HILLTOP", **line}],
        }
    )


def _measures(design: Design) -> dict[FindingKind, float]:
    return {finding.kind: finding.measure for finding in check_design(design).findings}


@pytest.mark.parametrize(
    ("width", "line", "worse"),
    [
        ("59/2in", {}, True),
        ("59/2in", {"align": "left", "right": "3/8in"}, True),
        ("31in", {"align": "left", "right": "3/8in"}, False),
    ],
    ids=["a new finding", "an old one worse", "an old one as before"],
)
def test_a_wider_gap_that_drives_the_row_to_the_seam_is_no_cure(
    width: str, line: dict[str, Any], worse: bool
) -> None:
    """The gap alone widens the row: towards the seam of a tight panel it is not offered, with lower letters it is."""
    design = _design(width, line)
    before = _measures(design)
    gap_alone = _measures(_design(width, {**line, "least_gap": "5/8in"}))
    assert FindingKind.CLEAR not in gap_alone
    assert (gap_alone.get(FindingKind.SEAM, 9) < before.get(FindingKind.SEAM, 9) - 0.01) == worse
    finding = next(one for one in check_design(design).findings if one.kind is FindingKind.CLEAR)
    (cure,) = cures(check_design(design), finding)
    assert (cure.design.row[0].cap_height is not None) == worse
    after = _measures(cure.design)
    assert after.keys() <= before.keys() - {FindingKind.CLEAR}
    assert all(measure >= before[kind] / 1.02 for kind, measure in after.items())
