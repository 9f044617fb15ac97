"""A piece that never was a letter: a leaf, from its outline to the sheets, the cut files and the numbers."""

from __future__ import annotations

import json
from dataclasses import replace

import pypdfium2
import pytest
from shapely.geometry import Polygon

from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.geometry.outline import Contour, Outline
from applique.geometry.polygons import CHORD_ERROR, polygon_of
from applique.language import american
from applique.mats import plan_mats
from applique.nesting import Nester, nest_faults
from applique.paging import lay_out_templates
from applique.pattern import Pattern, draft
from applique.pieces import Layer, Piece, templates_of
from applique.reports import pattern_json, summary_md
from applique.sewing.plan import plan_stitching
from applique.sheets.booklet import pattern_pdf
from applique.sheets.nests import nesting_pdf
from applique.sheets.templates import templates_pdf
from applique.words.buying import counted_said
from applique.yardage import letter_needs

LEAF = Outline(
    contours=(Contour(start=(0.0, 1.0), segments=(((2.0, -1.0), (4.0, 1.0)), ((2.0, 3.0), (0.0, 1.0)))),)
)
"""Two parabolas, 4 in long and 1 in deep each: at its middle a quadratic curve is half way to its control point."""
AREA = 2 * (2 / 3) * 4 * 1
"""A parabola fills two thirds of the box around it (Archimedes, Quadrature of the Parabola)."""


def _with_leaves(method: str) -> Pattern:
    design = design_from_mapping(
        {
            "row": [{"text": "OAK"}],
            "lettering": {"font": "Fredoka", "cap_height": "4in"},
            "fabric": [{"name": "Bark", "color": "#4a3b2a"}, {"name": "Moss", "color": "#7c8f5a"}],
            "sewing": {"method": method},
            "cutting": {"mat_width": "12in"},
        }
    )
    pattern = draft(design)
    leaf = Piece(
        key="leaf",
        layer=Layer.SHAPE,
        text="Leaf",
        letter=None,
        fabric=design.fabric[1],
        row=None,
        outline=LEAF,
        shape=polygon_of(LEAF, chord_error=CHORD_ERROR),
        cover=Polygon(),
    )
    (template,) = templates_of(design, [leaf] * 3)
    templates = (*pattern.templates, replace(template, number=len(pattern.templates) + 1))
    needs = letter_needs(
        templates,
        pattern.panel.rows,
        design.row,
        design.fabric[0],
        fusible=design.fusible,
        method=design.sewing.method,
        units=design.units,
        nester=Nester(),
    )
    return replace(
        pattern,
        templates=templates,
        sheets=lay_out_templates(templates, design.paper, design.print, own_fonts=(), speech=american()),
        needs=needs,
        stitching=plan_stitching(
            design, pattern.panel, templates, pattern.outlines, pattern.quilt, pattern.checks.placed.stitches
        ),
        mat_plan=plan_mats(templates, design.cutting),
    )


@pytest.mark.parametrize("method", ["raw edge", "turned edge"])
def test_a_leaf_goes_all_the_way_without_font_or_cap_height(method: str) -> None:
    pattern = _with_leaves(method)
    leaf = pattern.templates[-1]
    assert (leaf.name, leaf.count, leaf.letter, leaf.in_rows) == ("Leaf", 3, None, {})
    assert leaf.area == pytest.approx(AREA)
    assert pattern.letter_count == 3

    moss = next(need for need in pattern.cloth if need.fabric == "Moss")
    assert moss.nest is not None
    assert nest_faults(moss.nest, moss.pieces) == ()
    assert [spot.key for spot in moss.nest.placements] == ["leaf"] * 3
    assert american().listing(counted_said([(moss.templates["leaf"], 2)])) == "Leaf (2 times)"
    assert sum(spot.key == "leaf" for mat in pattern.mats for spot in mat.placements) == 3

    assert len(pattern.stitching.letters[leaf.number - 1].starts) == 1

    (item,) = (item for page in pattern.sheets.pages for item in page.items if item.template == leaf.number)
    assert item.label.lines == ("Leaf", "cut 3 · Moss")
    for mirrored in (False, True):
        text = _text(templates_pdf(pattern, mirrored=mirrored))
        assert "Leaf" in text
        assert "cut 3 · Moss" in text
    for content in (nesting_pdf(pattern), pattern_pdf(pattern)):
        assert "Leaf" in _text(content)
        assert "behind Leaf" not in _text(content)

    files = cut_files(pattern)
    drawn = files[f"right-reading/shapes/{leaf.number:02d}-Leaf.svg"].decode()
    assert "cut 3 from Moss" in drawn
    assert "cap height" not in drawn
    assert "cap height" in files["right-reading/letters/01-O.svg"].decode()

    said = json.loads(pattern_json(pattern))["templates"][-1]
    assert (said["layer"], said["text"], said["font"], said["cap_height"]) == ("shape", "Leaf", None, None)
    assert said["uses"] == [{"fabric": "Moss", "count": 3, "rows": []}]
    row = next(line for line in summary_md(pattern).decode().splitlines() if "| Leaf |" in line)
    assert [cell.strip() for cell in row.split("|")[1:5]] == [str(leaf.number), "Leaf", "3 from Moss", ""]


def _text(content: bytes) -> str:
    return " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(content))
