"""Golden files: a small design's cut files by area first and text second, its summary and its drawn quilt by text.

`python -m pytest tests/golden --update-golden` renews them; look at the difference before committing it.
"""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
import shapely
from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from svgelements import SVG
from svgelements import Path as SvgPath

from applique.cutfiles import cut_files
from applique.design import design_from_mapping, read_design
from applique.pattern import Pattern, draft
from applique.preview import preview_svg
from applique.reports import summary_md

HERE = Path(__file__).parent
NAMES = (
    "right-reading/letters/02-O.svg",
    "mirrored/letters/01-R.svg",
    "right-reading/rows/row-02-By.svg",
)


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    return draft(
        design_from_mapping(
            {
                "title": "Row by",
                "row": [{"text": "RO"}, {"text": "By", "font": "Bitter", "fabric": "Rust"}],
                "lettering": {"font": "Fredoka", "cap_height": "3in"},
                "panel": {"width": "16in", "height": "14in"},
                "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}],
            }
        )
    )


def _shape(svg: bytes) -> BaseGeometry:
    """The cut paths as one area, in CSS pixels, counters out; each ring sampled at 400 points."""
    area: BaseGeometry = Polygon()
    for path in SVG.parse(BytesIO(svg)).elements():
        if isinstance(path, SvgPath):
            for part in path.as_subpaths():
                ring = [SvgPath(part).point(index / 400) for index in range(400)]
                area = area.symmetric_difference(shapely.make_valid(Polygon([(p.x, p.y) for p in ring])))
    return area


def _same_area(first: bytes, second: bytes) -> bool:
    one, other = _shape(first), _shape(second)
    return bool(one.symmetric_difference(other).area < 1e-3 * one.area)


@pytest.mark.parametrize("name", NAMES)
def test_cut_files_are_as_they_were(pattern: Pattern, name: str, update_golden: bool) -> None:
    golden = HERE / name.replace("/", "_")
    content = cut_files(pattern)[name]
    if update_golden:
        golden.write_bytes(content)
    assert _same_area(content, golden.read_bytes())
    assert content.decode("utf-8") == golden.read_text("utf-8")


def test_the_summary_is_as_it_was(pattern: Pattern, update_golden: bool) -> None:
    golden = HERE / "summary.md"
    if update_golden:
        golden.write_bytes(summary_md(pattern))
    assert summary_md(pattern).decode("utf-8") == golden.read_text("utf-8")


def test_the_summary_of_blocks_set_together_is_as_it_was(update_golden: bool) -> None:
    golden = HERE / "summary_set_together.md"
    summary = summary_md(draft(read_design(HERE.parents[1] / "samples" / "harbor-memory.toml")))
    if update_golden:
        golden.write_bytes(summary)
    assert summary.decode("utf-8") == golden.read_text("utf-8")


def test_the_preview_draws_the_quilt_as_it_did(update_golden: bool) -> None:
    """The shapes that lie in several places and the quilt itself, an element a line; not the words around it."""
    golden = HERE / "preview_quilt.svg"
    svg = preview_svg(
        draft(
            design_from_mapping(
                {
                    "row": [{"text": "HO", "stitch": "satin", "thread": "#a05030"}, {"text": "HO"}],
                    "lettering": {"font": "Fredoka", "cap_height": "3in", "outline": "1/4in"},
                    "panel": {"width": "18in", "height": "15in"},
                    "fabric": [{"name": "Ink", "color": "#203040"}],
                    "border": [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}],
                    "quilting": [{"kind": "in the ditch"}],
                }
            )
        )
    )
    (drawn,) = re.findall(r'<defs.*?<g id="quilt".*?</g>', svg.decode("utf-8"), re.DOTALL)
    lines = drawn.replace("><", ">\n<") + "\n"
    if update_golden:
        golden.write_text(lines, encoding="utf-8")
    assert lines == golden.read_text("utf-8")


def test_the_comparison_can_fail(pattern: Pattern) -> None:
    """A letter mirrored, and one a hundredth too large, are told from the golden one."""
    golden = (HERE / "mirrored_letters_01-R.svg").read_bytes()
    assert not _same_area(cut_files(pattern)["right-reading/letters/01-R.svg"], golden)
    larger = draft(
        design_from_mapping(
            {
                "row": [{"text": "R"}],
                "lettering": {"font": "Fredoka", "cap_height": "3.03in"},
                "panel": {"width": "16in", "height": "14in"},
            }
        )
    )
    assert not _same_area(cut_files(larger)["mirrored/letters/01-R.svg"], golden)
