"""Mats, DXF, what a maker has, and the nests on paper."""

from __future__ import annotations

from io import BytesIO, StringIO
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pypdfium2
import pytest
from ezdxf.entities.lwpolyline import LWPolyline
from shapely import affinity
from shapely.geometry import Polygon, box
from svgelements import SVG
from svgelements import Path as SvgPath

from applique.cutfiles import cut_files
from applique.design import design_from_mapping
from applique.errors import Refusal, Where
from applique.nesting import BinNest, NestPiece, nest_bins, nest_faults
from applique.pattern import Pattern, draft
from applique.sheets import nesting_pdf


def _pattern(text: str = "ROWING", cap_height: str = "3in", **tables: Any) -> Pattern:
    data: dict[str, Any] = {
        "row": [{"text": text}, {"text": "HI", "fabric": "Rust"}],
        "lettering": {"font": "Fredoka", "cap_height": cap_height, "fabric": "Ink"},
        "panel": {"width": "60in", "height": "60in"},
        "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030"}],
    }
    return draft(design_from_mapping({**data, **tables}))


MAT = {"mat_width": "12in", "mat_height": "12in"}


def test_without_a_mat_there_are_none() -> None:
    assert _pattern().mats == ()


def test_mats_hold_the_letters_of_one_fabric_within_the_margin() -> None:
    pattern = _pattern(cutting=MAT)
    assert {mat.fabric for mat in pattern.mats} == {"Ink", "Rust"}
    for fabric in ("Ink", "Rust"):
        mats = [mat for mat in pattern.mats if mat.fabric == fabric]
        pieces = [
            NestPiece(key=t.key, shape=t.shape, count=u.count, turns_deg=(0.0, 180.0))
            for t in pattern.templates
            for u in t.uses
            if u.fabric.name == fabric
        ]
        nest = BinNest(width=12, height=12, spacing=0.125, bins=tuple(mat.placements for mat in mats))
        assert nest_faults(nest, pieces) == ()


def test_letters_lie_low_on_their_mats_where_nothing_else_is_cut_from_their_fabric() -> None:
    """They filled the first mat upward: twice the length of fabric was bought that its width could hold."""
    rows = [{"text": "HARVEST"}, {"text": "supper", "fabric": "Rust"}]
    pattern = _pattern(row=rows, cutting={"mat_width": "12in", "mat_height": "24in"})
    cloth = {fabric.fabric.name: fabric for fabric in pattern.shopping.cloth}
    assert [use.kind.value for use in cloth["Rust"].uses] == ["letters"]
    (mat,) = [mat for mat in pattern.mats if mat.fabric == "Rust"]
    outlines = {template.key: template.outermost for template in mat.templates}
    pieces = [
        NestPiece(
            key=key,
            shape=shape,
            count=sum(spot.key == key for spot in mat.placements),
            turns_deg=(0.0, 180.0),
        )
        for key, shape in outlines.items()
    ]
    height = float(mat.piece[1]) - 0.5  # the rough cut and the margin
    assert nest_bins(pieces, width=11.5, height=height - 0.5, spacing=0.125).bins[1:], "lower would do"
    assert cloth["Rust"].cutting.plan.used <= mat.piece[1] + 1
    # Ink is cut into the binding too, whose strips lie beside letters that fill their mat upward.
    (upward,) = [mat for mat in pattern.mats if mat.fabric == "Ink"]
    assert upward.piece[1] > upward.piece[0] and mat.piece[1] < mat.piece[0]


def test_every_mat_has_a_file_for_fabric_face_up_and_its_mirror_image_for_web_side_up() -> None:
    """Mats came in mirror image only, while the guide said to cut the right-reading ones with the fabric face up."""
    pattern = _pattern("F", cutting={"mat_width": "12in", "mat_height": "24in", "mat_margin": "1/2in"})
    files = {name: content for name, content in cut_files(pattern).items() if "/mats/" in name}
    assert len(files) == 2 * len(pattern.mats)
    boxes = {}
    for side in ("right-reading", "mirrored"):
        content = files[f"{side}/mats/mat-01-Ink.svg"]
        root = ElementTree.fromstring(content)
        assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("12in", "24in", "0 0 12 24")
        (path,) = [e for e in SVG.parse(BytesIO(content)).elements() if isinstance(e, SvgPath)]
        boxes[side] = [value / 96 for value in path.bbox()]
    x0, y0, x1, y1 = boxes["right-reading"]
    # The margin of 1/2 in, and at the left the small play of the grid that letters are laid on.
    assert 0.5 - 1e-3 <= x0 <= 0.5 + 0.07
    assert (y0 >= 0.5 - 1e-3) and (y1 <= 23.5 + 1e-3)
    assert boxes["mirrored"] == pytest.approx([12 - x1, y0, 12 - x0, y1], abs=1e-3)


def test_letters_larger_than_the_mat_are_said_and_left_out() -> None:
    pattern = _pattern("W", "12in", cutting=MAT)
    assert any("too large for the 11 1/2 in by 11 1/2 in" in str(notice.what) for notice in pattern.notices)


def test_an_outline_larger_than_the_mat_is_not_taken_for_its_letter() -> None:
    pattern = _pattern(
        "H", "9in", lettering={"font": "Fredoka", "cap_height": "11in", "outline": "1/2in"}, cutting=MAT
    )
    (said,) = [str(notice.what) for notice in pattern.notices if "too large for the" in str(notice.what)]
    assert said.endswith(": H outline and I outline")


def test_one_way_prints_are_never_turned() -> None:
    fabrics = [
        {"name": "Ink", "color": "#203040", "turns": "upright"},
        {"name": "Rust", "color": "#a05030", "turns": "quarter"},
    ]
    pattern = _pattern(fabric=fabrics, cutting=MAT)
    assert {
        spot.place.turn_deg for mat in pattern.mats if mat.fabric == "Ink" for spot in mat.placements
    } == {0}
    ink = next(need for need in pattern.cloth if need.fabric == "Ink")
    assert ink.nest is not None
    assert {spot.place.turn_deg for spot in ink.nest.placements} == {90}


@pytest.mark.parametrize(("units", "insunits", "scale"), [("in", 1, 1.0), ("cm", 4, 25.4)])
def test_dxf_is_read_back_with_its_units_and_area(units: str, insunits: int, scale: float) -> None:
    pattern = _pattern("R8", units=units, cutting={"dxf": True})
    files = cut_files(pattern)
    for template in pattern.templates[:2]:
        name = next(
            n
            for n in files
            if n.startswith(f"right-reading/letters/{template.number:02d}") and n.endswith(".dxf")
        )
        document = ezdxf.read(StringIO(files[name].decode("utf-8")))  # type: ignore[attr-defined]
        assert document.header["$INSUNITS"] == insunits
        area: Any = Polygon()
        for line in document.modelspace().query("LWPOLYLINE"):
            assert isinstance(line, LWPolyline)
            assert line.closed
            area = area.symmetric_difference(Polygon([(x, y) for x, y, *_ in line.get_points()]))
        assert area.area / scale**2 == pytest.approx(template.area, rel=1e-3)
    assert files == cut_files(pattern)


def test_what_a_maker_has_is_enough_or_what_is_missing_is_named() -> None:
    def with_stock(have: str) -> Pattern:
        fabrics = [{"name": "Ink", "color": "#203040"}, {"name": "Rust", "color": "#a05030", "have": have}]
        return _pattern("I", "9in", fabric=fabrics)

    assert not [notice for notice in with_stock("1 fat quarter").notices if "not enough" in str(notice.what)]
    (short,) = [notice for notice in with_stock("1 fat eighth").notices if "not enough" in str(notice.what)]
    said = "not enough of Rust in your stash (1 fat eighth): I and H would have to come from more; buy 3/8 yd more"
    assert str(short.what) == said


def _words(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_bounded() for page in pypdfium2.PdfDocument(pdf)]


def test_two_slim_nests_share_a_page() -> None:
    words = _words(nesting_pdf(_pattern()))
    assert len(words) == 2
    assert "Ink" in words[0] and "Rust" in words[1]
    assert "mirror image" in words[0]
    assert "The selvage runs from left to right" in " ".join(words[1].split())


def test_trace_sheets_hold_the_nest_at_full_size() -> None:
    pattern = _pattern(paper={"full_size_nest": True})
    assert pattern.trace is not None
    assert pattern.fusible.nest is not None
    assert box(*pattern.trace.area).contains(box(0, 0, pattern.fusible.nest.length, 0.1))
    words = _words(nesting_pdf(pattern))
    assert len(words) == 2 + len(pattern.trace.tiles)
    assert "trace page A-1" in words[2]


def test_fussy_cut_letters_stay_on_their_spot_and_the_others_lie_around_them() -> None:
    lines = [
        {"text": "ROWING", "fussy": [{"letter": 3, "along": "6in", "across": "10in"}]},
        {"text": "HI", "fabric": "Rust"},
    ]
    pattern = _pattern(row=lines)
    ink = next(need for need in pattern.cloth if need.fabric == "Ink")
    assert ink.nest is not None
    assert nest_faults(ink.nest, ink.pieces) == ()
    key = pattern.panel.rows[0].cuts[2].key
    spot = next(spot for spot in ink.nest.placements if spot.key == key)
    shape = next(piece.shape for piece in ink.pieces if piece.key == key)
    turned = affinity.translate(
        affinity.rotate(shape, spot.place.turn_deg, origin=(0, 0)), spot.place.x, spot.place.y
    )
    assert turned.bounds[:2] == pytest.approx((6, 10))


@pytest.mark.parametrize("across", ["39in", "10 1/2in"])
def test_fussy_cuts_that_cannot_be_are_refused(across: str) -> None:
    lines = [
        {
            "text": "ROW",
            "fussy": [
                {"letter": 1, "along": "6in", "across": "10in"},
                {"letter": 2, "along": "6in", "across": across},
            ],
        }
    ]
    with pytest.raises(Refusal, match="fussy cuts"):
        _pattern(row=lines)


@pytest.mark.parametrize(
    ("text", "font", "second", "said"),
    [
        ("ROW", "Fredoka", 1, "the spot of “R” is given twice"),
        ("प्रेम", "Baloo 2", 2, "by letter 1 and letter 2, which are one piece"),
    ],
)
def test_a_piece_with_two_spots_was_cut_and_bought_twice(
    text: str, font: str, second: int, said: str
) -> None:
    fussy = [{"letter": letter, "along": f"{9 * letter}in", "across": "10in"} for letter in (1, second)]
    if second == 1:
        fussy[1]["along"] = "30in"
    with pytest.raises(Refusal, match=said) as refused:
        _pattern(row=[{"text": text, "fussy": fussy}], lettering={"font": font, "cap_height": "3in"})
    assert refused.value.problems[0].where == Where.in_row(1, "fussy", letter=second)


def test_a_fussy_cut_of_no_letter_is_refused() -> None:
    lines = [{"text": "ROW", "fussy": [{"letter": 9, "along": "6in", "across": "10in"}]}]
    with pytest.raises(Refusal, match="there is no letter 9 here"):
        _pattern(row=lines)
