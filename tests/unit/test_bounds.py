"""Lengths and counts that multiply work have a bound of sense: refused in words, or done in little time and memory."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Mapping
from typing import Any

import pytest

from applique.design import design_from_mapping
from applique.errors import Refusal
from applique.pattern import draft

DESIGN: dict[str, Any] = {
    "row": [{"text": "OH"}],
    "lettering": {"cap_height": "3in"},
    "panel": {"width": "20in", "height": "12in"},
    "fabric": [{"name": "Oat", "color": "#c9a36a"}, {"name": "Rye", "color": "#5a3a1a"}],
}
BOTH = ["Oat", "Rye"]
REFUSED: dict[str, tuple[Mapping[str, Any], str]] = {
    "web 890 in apart": ({"fusible": {"spacing": "890in"}}, "[fusible], spacing"),
    "a rough cut of 100 m": ({"fusible": {"rough_cut": "99m", "width": "5m"}}, "[fusible], rough_cut"),
    "web 100 m wide": ({"fusible": {"width": "100m"}}, "[fusible], width"),
    "letters 99 m apart on a mat": ({"cutting": {"mat_width": "12in", "mat_spacing": "99m"}}, "mat_spacing"),
    "a mat of 100 m": ({"cutting": {"mat_width": "100m"}}, "mat_width"),
    "an outline of 40 in": ({"lettering": {"outline": "40in"}}, "[lettering], outline"),
    "40 in turned under": (
        {"sewing": {"method": "turned edge", "turn_under": "40in"}},
        "[sewing], turn_under",
    ),
    "rows of quilting that the eye cannot see": (
        {"quilting": [{"kind": "edge to edge", "row_height": "0.04in", "overlap": "0in"}]},
        "quilting 1: the rows make about",
    ),
    "rows that hardly move on": (
        {"quilting": [{"kind": "edge to edge", "row_height": "1in", "overlap": "0.999in"}]},
        "lines of quilting",
    ),
    "echoes 1 mm apart around a thousand letters": (
        {
            "row": [{"text": "OH" * 50}] * 10,
            "lettering": {"cap_height": "1/4in", "row_gap": "0in", "least_gap": "0in"},
            "panel": {"width": "60in", "height": "20in"},
            "quilting": [{"kind": "echo", "lines": 40, "spacing": "1mm"}],
        },
        "40 lines so near around each of 1,000 letters",
    ),
    "crossing lines 1 mm apart": (
        {"panel": {"width": "38in"}, "quilting": [{"kind": "crosshatch", "spacing": "1mm"}]},
        "lines of quilting",
    ),
    "many kinds of many lines": (
        {"quilting": [{"kind": "crosshatch", "spacing": "1/16in"}] * 4},
        "lines of quilting",
    ),
    "rectangles of 1 mm": (
        {
            "panel": {"height": "60in"},
            "border": [{"kind": "rectangles", "fabrics": BOTH, "size": "1mm", "width": "12in"}],
        },
        "the most in one border",
    ),
    "squares of 1/16 in": (
        {"panel": {"height": "60in"}, "border": [{"kind": "squares", "fabrics": BOTH, "size": "1/16in"}]},
        "the most in one border",
    ),
    "a fabric without a name in a border": (
        {"border": [{"kind": "strip", "fabrics": [""]}]},
        "border 1: one of its fabrics has no name",
    ),
    "seams as wide as the fabric": ({"panel": {"seam_allowance": "7.75yd"}}, "lengths of fabric"),
    "a panel of hundreds of lengths": (
        {
            "panel": {"width": "90m", "height": "90m"},
            "fabric": [{"name": "Oat", "color": "#c9a36a", "usable_width": "9in"}],
            "backing": {"kind": "wide", "wide_width": "99m"},
        },
        "more than 20 lengths",
    ),
    "a thousand fabrics": (
        {"fabric": [{"name": f"No. {number}", "color": "#c9a36a"} for number in range(1_000)]},
        "fabric",
    ),
    "a letter moved 3,000 times": (
        {"row": [{"text": "OH", "nudge": [{"letter": 1, "up": "1mm"}] * 3_000}]},
        "nudge",
    ),
    "a million fat quarters": (
        {"fabric": [{"name": "Oat", "color": "#c9a36a", "have": "1000000 fat quarters"}]},
        "more fabric than I can plan with",
    ),
}
BORNE: dict[str, Mapping[str, Any]] = {
    "web 4 in apart": {"fusible": {"spacing": "4in"}},
    "web 10 m wide": {"fusible": {"width": "10m", "spacing": "1mm"}},
    "a mat of 10 m": {"cutting": {"mat_width": "10m", "mat_spacing": "1mm"}},
    "an outline of 4 in": {"lettering": {"outline": "4in"}},
    "40 echoes": {"quilting": [{"kind": "echo", "lines": 40, "spacing": "100m"}]},
    "a cut 99 m along the cloth": {
        "row": [{"text": "OH", "fussy": [{"letter": 1, "along": "99m", "across": "1in"}]}]
    },
    "a border of 1,900 squares": {
        "panel": {"width": "118 1/2in", "height": "118 1/2in", "margin": "50in"},
        "border": [{"kind": "squares", "fabrics": BOTH, "size": "1/4in"}],
        "backing": {"kind": "wide", "wide_width": "4m"},
    },
}


def _with(more: Mapping[str, Any]) -> dict[str, Any]:
    """`DESIGN` with tables added to."""
    both = {**DESIGN, **more}
    return {
        key: {**DESIGN.get(key, {}), **value} if isinstance(value, Mapping) else value
        for key, value in both.items()
    }


@pytest.mark.parametrize("case", REFUSED)
def test_what_multiplies_work_beyond_sense_is_refused_in_words(case: str) -> None:
    more, said = REFUSED[case]
    with pytest.raises(Refusal) as refused:
        draft(design_from_mapping(_with(more)))
    assert said in str(refused.value)
    assert len(str(refused.value)) < 2_000


DRAWN = """
import json, resource, sys
resource.setrlimit(resource.RLIMIT_AS, (1_500_000_000,) * 2)
resource.setrlimit(resource.RLIMIT_CPU, (60, 60))
from applique.design import design_from_mapping
from applique.pack import pack_files
from applique.pattern import draft
for design in json.load(sys.stdin):
    print(sum(map(len, pack_files(draft(design_from_mapping(design))).values())))
"""


@pytest.mark.long
def test_what_is_just_within_bounds_takes_little_time_memory_and_room() -> None:
    """A minute of processor time and 1.5 GB for all of them together; none of their packs is over 20 MB."""
    done = subprocess.run(
        [sys.executable, "-c", DRAWN],
        input=json.dumps([_with(more) for more in BORNE.values()]),
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr) == (0, "")
    sizes = [int(line) for line in done.stdout.split()]
    assert len(sizes) == len(BORNE)
    assert max(sizes) < 20_000_000
