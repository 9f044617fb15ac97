"""Fusible and cloth: nested true shapes, and lengths rounded up as a shop sells them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from shapely.geometry import box

from applique.design import design_from_mapping, read_design
from applique.geometry.polygons import as_shape
from applique.nesting import nest_faults
from applique.pattern import Pattern, draft
from applique.pieces import rough_cut
from applique.words.cloth import carried_said


def _pattern(lines: list[dict[str, Any]], **tables: Any) -> Pattern:
    panel = {"width": "60in", "height": "60in"}
    return draft(
        design_from_mapping(
            {"row": lines, "panel": panel, "lettering": {"font": "Fredoka", "cap_height": "6in"}, **tables}
        )
    )


FABRICS = [
    {"name": "Navy", "color": "#203050"},
    {"name": "Rust", "color": "#aa5030", "usable_width": "21in"},
]


def test_rough_cut_of_a_square_is_the_square_and_its_rounded_margin() -> None:
    """A square of 2 grown by 1/4: 4 + 4·2·¼ + π/16; and its hole is filled."""
    ring = box(0, 0, 2, 2).difference(box(0.5, 0.5, 1.5, 1.5))
    assert rough_cut(as_shape(ring), 0.25).area == pytest.approx(4 + 2 + 3.14159265 / 16, rel=1e-3)


def test_nests_hold_every_letter_of_their_fabric() -> None:
    pattern = _pattern([{"text": "ROW", "fabric": "Navy"}, {"text": "OAR", "fabric": "Rust"}], fabric=FABRICS)
    assert [need.fabric for need in pattern.cloth] == ["Navy", "Rust"]
    for need, letters in ((pattern.cloth[0], 3), (pattern.cloth[1], 3), (pattern.fusible, 6)):
        assert need.nest is not None
        assert nest_faults(need.nest, need.pieces) == ()
        assert need.used >= need.nest.length - 1e-9
        assert len(need.nest.placements) == letters


def test_letters_on_cloth_keep_their_grain_along_the_selvage() -> None:
    pattern = _pattern([{"text": "GRAIN"}])
    nest = pattern.cloth[0].nest
    assert nest is not None
    assert {spot.place.turn_deg % 180 for spot in nest.placements} == {90}


def test_a_letter_wider_than_the_web_is_joined_from_widths() -> None:
    pattern = _pattern([{"text": "O", "cap_height": "30in"}])
    assert pattern.fusible.nest is None
    (ring,) = pattern.fusible.joined
    assert (carried_said(ring.carried), ring.count, ring.widths) == ("O", 1, 2)
    assert pattern.fusible.used == 2 * ring.length
    assert pattern.fusible.used > 55


def test_the_demo_takes_a_fifth_less_web_than_boxes_on_shelves() -> None:
    """Boxes on shelves, the highest first, upright: what a maker does by hand (common practice, no source)."""
    need = draft(read_design(Path(__file__).parents[2] / "samples" / "boathouse.toml")).fusible
    assert need.nest is not None
    bounds = [piece.shape.bounds for piece in need.pieces for _ in range(piece.count)]
    rows: list[list[float]] = []
    for across, high in sorted(((x1 - x0, y1 - y0) for x0, y0, x1, y1 in bounds), key=lambda size: -size[1]):
        row = next((row for row in rows if row[0] + need.nest.spacing + across <= need.nest.width), None)
        if row is None:
            rows.append([across, high])
        else:
            row[0] += need.nest.spacing + across
    shelves = sum(row[1] for row in rows) + need.nest.spacing * (len(rows) - 1)
    assert need.nest.length < 0.8 * shelves
