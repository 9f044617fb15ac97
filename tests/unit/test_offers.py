"""Stitches to choose from: what each of them takes, beside the one that is planned."""

from __future__ import annotations

import math
from fractions import Fraction
from typing import Any

import pytest

from applique.design import Stitch, design_from_mapping
from applique.errors import Refusal
from applique.pattern import Pattern, draft
from applique.sewing.stabilizer import StabilizerKind

MM = Fraction(10, 254)


def drafted(offers: list[str], **stitching: Any) -> Pattern:
    return draft(
        design_from_mapping(
            {
                "panel": {"width": "16in", "height": "12in"},
                "row": [{"text": "Hi", "cap_height": "5in"}],
                "fabric": [{"name": "Ink", "color": "#203040"}],
                "stitching": {"stitch": "blanket", "offers": offers, **stitching},
            }
        )
    )


def test_each_offer_takes_what_the_quilt_takes_when_it_is_planned_so() -> None:
    """Thread by the geometry of each stitch; a design that asks for an offered stitch takes what was offered, if it is
    sewn at the same time: letters sewn through all layers take more thread."""
    pattern = drafted(["satin", "blanket", "zigzag", "straight"])
    when = pattern.stitching.when.value
    for offer in pattern.offers:
        alone = drafted([], stitch=offer.stitch.value, when=when, spool="40yd", bobbin="60yd")
        assert [row.stitch.stitch for row in offer.rows] == [offer.stitch]
        assert offer.stitches == sum(row.stitches for row in alone.stitching.rows)
        assert offer.minutes == alone.stitching.minutes
        assert [need.length for need in offer.threads] == [alone.threads[0].length]
        assert [need.buy for need in offer.stabilizers] == [need.buy for need in alone.stitching.stabilizers]
    by_stitch = {offer.stitch: offer for offer in pattern.offers}
    satin, straight = by_stitch[Stitch.SATIN], by_stitch[Stitch.STRAIGHT]
    (row,) = satin.rows
    # 3 mm wide, 0.4 mm apart, through 1 mm of layers, and 15 % lost: geometry, docs/sources.md, thread.
    half = row.edge * (math.hypot(0.4, 3) + 1) / 0.4 * 1.15
    assert satin.threads[0].length == 2 * 36 * math.ceil(half / 36)
    assert straight.rows[0].stabilizer.kind is StabilizerKind.NONE
    assert not straight.stabilizers


def test_what_is_planned_is_among_the_offers_and_keeps_its_size() -> None:
    pattern = drafted(["satin", "satin"], width="2mm", length="2mm")
    assert [offer.stitch for offer in pattern.offers] == [Stitch.BLANKET, Stitch.SATIN]
    blanket, satin = (offer.rows[0].stitch for offer in pattern.offers)
    assert (blanket.width, blanket.length) == (2 * MM, 2 * MM)
    assert (satin.width, satin.length) == (3 * MM, Fraction(2, 5) * MM)
    assert drafted([]).offers == ()


def test_offers_change_neither_the_threads_nor_the_stabilizer_that_are_bought() -> None:
    plain, offering = drafted([]), drafted(["zigzag", "straight"])
    assert offering.threads[0] == plain.threads[0]
    assert offering.stitching.stabilizers == plain.stitching.stabilizers


def test_a_panel_that_may_be_satin_stitched_is_cut_larger() -> None:
    """Panels draw in under satin: cut 1 to 2 in larger (common practice, docs/sources.md)."""
    assert drafted(["satin"]).panel.trim == 1
    assert drafted(["zigzag"]).panel.trim == 0


def test_an_offer_that_is_no_stitch_is_refused_by_name() -> None:
    with pytest.raises(Refusal) as refused:
        drafted(["satin", "blankett"])
    (problem,) = refused.value.problems
    assert problem.kind == "no-such-choice"
    assert "blankett" in str(problem.what)
    assert "blanket" in str(problem.fix)
