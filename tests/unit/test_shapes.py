"""A piece that never was a letter: a leaf, from its outline to the sheets, the cut files and the numbers."""

from __future__ import annotations

import json
from dataclasses import dataclass, replace
from fractions import Fraction

import pypdfium2
import pytest
from shapely.geometry import Polygon

from applique.cloth import UseKind
from applique.cutfiles import cut_files
from applique.design import Fabric, Row, Stitch, design_from_mapping
from applique.errors import Where
from applique.geometry.outline import Contour, Outline
from applique.geometry.place import Place
from applique.geometry.points import Bounds, Point, around
from applique.geometry.polygons import CHORD_ERROR, polygon_of
from applique.nesting import nest_faults
from applique.panel import Laid, PlacedCut, near_laid, on_panel, place_rows
from applique.panel.lines import Level
from applique.pattern import Pattern, draft, sketch
from applique.picture import Part
from applique.reports import pattern_json, summary_md
from applique.sewing.cures import cures
from applique.sewing.findings import FindingKind
from applique.sewing.placed import sewn
from applique.sheets.booklet import pattern_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.sheets.nests import nesting_pdf
from applique.sheets.templates import templates_pdf
from applique.units import Units
from applique.words.cloth import use_said
from applique.words.findings import finding_said

LEAF = Outline(
    contours=(Contour(start=(0.0, 1.0), segments=(((2.0, -1.0), (4.0, 1.0)), ((2.0, 3.0), (0.0, 1.0)))),)
)
"""Two parabolas, 4 in long and 1 in deep each: at its middle a quadratic curve is half way to its control point."""
LEAF_PLACE = Where.key("shape", 1)
AREA = 2 * (2 / 3) * 4 * 1
"""A parabola fills two thirds of the box around it (Archimedes, Quadrature of the Parabola)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leaves:
    """Three leaves side by side, as `Laid` has it: what no table of the design file can ask for yet."""

    fabric: Fabric
    cuts: tuple[PlacedCut, ...]
    asked: Row
    turned: Place
    where: Where = LEAF_PLACE
    text: str = "Leaf"
    letter: None = None
    size: Fraction = Fraction(2)
    level: bool = True
    runs_off: bool = False

    @property
    def ink(self) -> Bounds:
        return around([cut.ink for cut in self.cuts])

    @property
    def upright_ink(self) -> Bounds:
        return self.ink

    @property
    def line(self) -> Level:
        return Level(y=self.ink[1])

    @property
    def baseline(self) -> float:
        return self.ink[1]

    @property
    def baseline_path(self) -> tuple[Point, ...]:
        x0, y0, x1, _ = self.ink
        return (x0, y0), (x1, y0)

    @property
    def outline(self) -> Outline:
        return Outline(
            contours=tuple(c for cut in self.cuts for c in cut.place.outline(cut.outline).contours)
        )


def _leaf(x: float, y: float) -> PlacedCut:
    place = Place(x=x, y=y)
    ink = place.outline(LEAF).bounds()
    return PlacedCut(
        key="leaf",
        drawn=("leaf", ()),
        text="Leaf",
        word=0,
        letters=(),
        upright=place,
        upright_ink=ink,
        place=place,
        ink=ink,
        outline=LEAF,
        shape=polygon_of(LEAF, chord_error=CHORD_ERROR),
    )


def _with_leaves(method: str, *, up: float = 4.0) -> Pattern:
    design = design_from_mapping(
        {
            "row": [{"text": "OAK"}],
            "panel": {"height": "30in"},
            "lettering": {"font": "Fredoka", "cap_height": "4in"},
            "fabric": [{"name": "Bark", "color": "#4a3b2a"}, {"name": "Moss", "color": "#7c8f5a"}],
            "sewing": {"method": method},
            "cutting": {"mat_width": "12in"},
            "paper": {"full_size_guide": True},
            "quilting": [{"kind": "echo"}],
        }
    )
    panel = place_rows(design)
    leaves = _Leaves(
        fabric=design.fabric[1],
        cuts=tuple(_leaf(x, up) for x in (4.0, 12.0, 20.0)),
        asked=design.row[0],
        turned=Place(x=0.0, y=0.0),
    )
    return draft(sketch(sewn(design, replace(panel, laid=(*panel.laid, leaves)))))


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
    use = next(use for buy in pattern.shopping.cloth for use in buy.uses if use.cut is moss)
    assert (use.kind, [strips.count for strips in use.strips]) == (UseKind.LETTERS, [1])
    assert str(use_said(use)) == "letters"
    assert sum(spot.key == "leaf" for mat in pattern.mats for spot in mat.placements) == 3

    assert len(pattern.stitching.letters[leaf.number - 1].starts) == 1

    plan = pattern.stitching.rows[-1]
    assert (plan.where, plan.stitch.stitch) == (
        LEAF_PLACE,
        Stitch.STRAIGHT if method == "turned edge" else Stitch.SATIN,
    )
    assert plan.edge == pytest.approx(3 * leaf.edge)
    assert leaf.in_tables == {LEAF_PLACE: 3}

    painted = [item for item in pattern.picture.items if item.part is Part.SHAPE]
    assert [(item.fill, item.row, item.letter) for item in painted] == [("#7c8f5a", None, None)] * 3

    (item,) = (item for page in pattern.sheets.pages for item in page.items if item.template == leaf.number)
    assert item.label.lines == (f"{leaf.number} · Leaf", "cut 3 · Moss")
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

    data = json.loads(pattern_json(pattern))
    assert [len(shape["cuts"]) for shape in data["shapes"]] == [3]
    trim = 0 if method == "turned edge" else 1  # under satin
    assert data["shapes"][0]["lowest_below_cut_top"] == pytest.approx(30.25 - 4 + trim / 2)
    assert data["stitching"]["order"] == [1, {"path": ["shape", 1]}]
    said = data["templates"][-1]
    assert (said["layer"], said["text"], said["font"], said["cap_height"]) == ("shape", "Leaf", None, None)
    assert said["uses"] == [{"fabric": "Moss", "count": 3, "rows": []}]
    row = next(line for line in summary_md(pattern).decode().splitlines() if "| Leaf |" in line)
    assert [cell.strip() for cell in row.split("|")[1:5]] == [str(leaf.number), "Leaf", "3 from Moss", ""]


def test_the_guide_says_where_a_leaf_goes_and_echoes_go_around_it() -> None:
    """The middle leaf is centered on a panel 30 in wide but for 1 in: from 12 to 16 in, so 3 in left to 1 in right."""
    pattern = _with_leaves("raw edge")
    mark = pattern.marks[-1]
    assert [(round(m.left, 6), round(m.right, 6)) for m in mark.letters] == [(-11, -7), (-3, 1), (5, 9)]
    words = _text(placement_guide_pdf(pattern))
    assert "its lowest point 26 3/4 in below the cut top edge" in " ".join(words.split())
    first = pypdfium2.PdfDocument(placement_guide_pdf(pattern))[0].get_textpage().get_text_range()
    assert "26 3/4 in" in " ".join(first.split())
    assert "Row None" not in words

    (echo,) = pattern.quilting
    middle = (float(pattern.panel.width) / 2, float(pattern.panel.height) / 2)
    leaf = pattern.panel.laid[-1].cuts[1]
    around_leaf = [
        line
        for line in echo.lines
        if Polygon([(x + middle[0], y + middle[1]) for x, y in line]).contains(on_panel(leaf))
    ]
    assert around_leaf
    assert pattern.guide is not None and len(pattern.guide.tiles) > 0


def test_a_leaf_is_checked_like_a_letter() -> None:
    """1/4 in below the letters, and 1/4 in from the seam: a row that keeps 1/2 in from it would be told so."""
    design_low = float(place_rows(_with_leaves("raw edge").design).rows[0].ink[1])
    near = _with_leaves("raw edge", up=design_low - 2.02)
    kinds = {finding.kind: finding for finding in near.findings if finding.where == LEAF_PLACE}
    assert FindingKind.ROWS in kinds
    assert "“OAK” and “Leaf” are" in str(finding_said(kinds[FindingKind.ROWS], Units.INCHES))
    assert cures(near.checks, kinds[FindingKind.ROWS]) == ()

    low = _with_leaves("raw edge", up=0.25)
    assert {f.kind for f in low.findings if f.where == LEAF_PLACE} >= {FindingKind.SEAM}
    assert not [f for f in low.findings if f.kind is FindingKind.READING]


def test_a_leaf_is_near_any_row_not_only_the_last() -> None:
    design = design_from_mapping({"row": [{"text": "I"}, {"text": "I"}], "lettering": {"cap_height": "4in"}})
    panel = place_rows(design)
    x0, y0, _, _ = panel.rows[0].ink
    leaf = _Leaves(
        fabric=panel.fabric, cuts=(_leaf(x0 - 4.1, y0),), asked=design.row[0], turned=Place(x=0.0, y=0.0)
    )
    laid: tuple[Laid, ...] = (*panel.rows, leaf)
    pairs = [(above.where, below.where) for above, below, _ in near_laid(laid, 0.2)]
    assert pairs == [(Where.in_row(1), LEAF_PLACE)]


def _text(content: bytes) -> str:
    return " ".join(page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(content))
