"""The last of the next steps: letters, borders and layers in the order in which they are sewn."""

from __future__ import annotations

from typing import Any

import pytest

from applique.design import WhenStitched, design_from_mapping
from applique.pattern import draft
from applique.reports import summary_md

BORDER = {"kind": "strip", "width": "2in", "fabrics": ["Ink"]}


@pytest.mark.parametrize(
    ("when", "borders", "order"),
    [
        (WhenStitched.PANEL, [BORDER], ["Fuse", "stitch", "add the borders"]),
        (WhenStitched.TOP, [BORDER], ["Fuse", "add the borders", "stitch", "finish the quilt"]),
        (
            WhenStitched.QUILTING,
            [BORDER],
            ["Fuse", "add the borders", "layer the quilt", "stitch", "finish as"],
        ),
        (WhenStitched.PANEL, [], ["Fuse", "stitch", "finish the quilt"]),
        (WhenStitched.TOP, [], ["Fuse", "stitch", "finish the quilt"]),
        (WhenStitched.QUILTING, [], ["Fuse", "layer the quilt", "stitch", "finish as"]),
    ],
)
def test_letters_are_stitched_when_the_plan_says(
    when: WhenStitched, borders: list[dict[str, Any]], order: list[str]
) -> None:
    pattern = draft(
        design_from_mapping(
            {
                "row": [{"text": "I", "cap_height": "4in"}],
                "fabric": [{"name": "Ink", "color": "#203040"}],
                "panel": {"width": "12in", "height": "12in"},
                "stitching": {"stitch": "straight", "when": when.value},
                "border": borders,
            }
        )
    )
    (last,) = (line for line in summary_md(pattern).decode().splitlines() if line.startswith("6. "))
    places = [last.find(words) for words in order]
    assert -1 not in places
    assert places == sorted(places)
    assert ("borders" in last) == bool(borders)
