"""Letters near each edge of the panel, and the seam of a pieced panel: all four sides, and never upside down."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest
import shapely

from applique.design import design_from_mapping
from applique.language import american, listed
from applique.panel import on_panel, place_rows
from applique.pattern import sketch
from applique.quilt.panel_cut import cut_panel
from applique.sewing.cures import check_design
from applique.sewing.findings import FindingKind
from applique.units import cutting_step

WIDTH, HEIGHT = 30, 20


def _moved_to(side: str, away: Fraction) -> dict[str, Any]:
    """An I in the middle of a panel, moved until its ink is so far from one side; exact to 1/64 in."""
    data: dict[str, Any] = {
        "panel": {"width": f"{WIDTH}in", "height": f"{HEIGHT}in", "margin": "1in"},
        "lettering": {"font": "Fredoka", "cap_height": "5in"},
        "row": [{"text": "I"}],
    }
    x0, y0, x1, y1 = place_rows(design_from_mapping(data)).rows[0].ink
    way = {"left": -x0, "bottom": -y0, "right": WIDTH - x1, "top": HEIGHT - y1}[side]
    inward = away if side in ("left", "bottom") else -away
    shift = Fraction(round((way + float(inward)) * 64), 64)
    data["row"][0]["right" if side in ("left", "right") else "up"] = f"{shift}in"
    return data


@pytest.mark.parametrize(("side", "corner"), [("left", 0), ("bottom", 1), ("right", 2), ("top", 3)])
def test_a_letter_near_any_side_of_the_panel_is_found(side: str, corner: int) -> None:
    """1/4 in from the finished edge: inside the margin of 1 in, and nearer to the seam than a foot can sew."""
    design = design_from_mapping(_moved_to(side, Fraction(1, 4)))
    (row,) = place_rows(design).rows
    (notice,) = place_rows(design).notices
    assert "1/4 in from the finished edge" in str(notice.what)
    (finding,) = [one for one in check_design(design).findings if one.kind is FindingKind.SEAM]
    assert finding.measure == pytest.approx(0.25, abs=1 / 64)
    (spot,) = finding.spots
    assert spot.at[corner % 2] == row.ink[corner]
    assert row.ink[1 - corner % 2] < spot.at[1 - corner % 2] < row.ink[3 - corner % 2]


@pytest.mark.parametrize("side", ["left", "bottom", "right", "top"])
def test_a_letter_outside_the_margin_is_not_worth_a_word(side: str) -> None:
    design = design_from_mapping(_moved_to(side, Fraction(17, 16)))
    assert not place_rows(design).notices
    assert not check_design(design).findings


def _pieced(*lines: dict[str, Any], **panel: str) -> Any:
    return design_from_mapping(
        {
            "panel": {"width": "60in", "height": "50in", "fabric": "Fog", **panel},
            "fabric": [
                {"name": "Ink", "color": "#203040"},
                {"name": "Fog", "color": "#e0e0d8", "usable_width": "42in"},
            ],
            "lettering": {"font": "Fredoka", "fabric": "Ink"},
            "row": list(lines),
        }
    )


@pytest.mark.parametrize("up", [24, 29])
def test_a_seam_across_a_pieced_panel_lies_as_near_its_middle_as_the_letters_allow(up: int) -> None:
    """A row off the middle: the seam is half an inch from its nearer edge, on the side of the middle.

    Seen from the cut top edge, the row covers other places than seen from the bottom one.
    """
    row = {"text": "BOATS", "cap_height": "8in", "baseline": f"{60 - up}in"}
    design = _pieced(row, width="50in", height="60in")
    panel = sketch(design).panel
    seam = cut_panel(panel, design.units, cutting_step(design.units)).seam
    assert seam is not None
    assert not seam.upright
    assert not seam.crossed
    (place,) = seam.places
    _, low, _, high = panel.rows[0].ink
    y = 60.25 - float(place)
    line = shapely.LineString([(0, y), (50, y)])
    away = min(line.distance(on_panel(cut)) for cut in panel.rows[0].cuts)
    assert 0.5 <= away < 0.5 + 1 / 16
    assert (y < low) == ((low + high) / 2 > 30)


def test_letters_that_a_seam_cannot_miss_are_named() -> None:
    """Neither rows nor letters leave a gap of an inch: those under the seam are named, and no others."""
    rows = [
        {"text": "MOORING", "cap_height": "9in", "baseline": f"{down}in"}
        for down in ("10", "39/2", "29", "77/2")
    ]
    design = _pieced(*rows, height="48in", margin="1/4in")
    drawn = sketch(design)
    panel, seam = drawn.panel, drawn.quilt.panel.seam
    assert seam is not None
    (place,) = (float(place) for place in seam.places)
    crossed = [
        f"{piece.text} of row {row.number}"
        for row in panel.rows
        for piece in row.cuts
        if (
            piece.ink[0] + 0.25 - 0.5 < place < piece.ink[2] + 0.25 + 0.5
            if seam.upright
            else 48.25 - piece.ink[3] - 0.5 < place < 48.25 - piece.ink[1] + 0.5
        )
    ]
    named = list(dict.fromkeys(crossed))
    assert [f"{letter.letters} of row {letter.row}" for letter in seam.crossed] == named
    assert crossed
    assert any(
        str(notice.what).endswith(f"through {american().listing(listed(named))}") for notice in drawn.notices
    )


def test_the_seams_of_a_pieced_panel_are_taken_off_its_fabric() -> None:
    """80 in to cut from 40 in: two widths sewn together are 79 1/2, so it takes three lengths of 80."""
    fabrics = [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8"}]
    line = {"text": "A", "cap_height": "3in"}
    panel = {"width": "159/2in", "height": "159/2in", "fabric": "Fog"}
    design = design_from_mapping({"row": [line], "panel": panel, "fabric": fabrics})
    cut = cut_panel(sketch(design).panel, design.units, cutting_step(design.units))
    assert cut.seam is not None
    assert len(cut.seam.places) == 2
    assert (len(cut.widths), cut.along) == (3, Fraction(80))
