"""Precuts are offered where one would do, but not of a fabric that is all in the stash."""

from __future__ import annotations

import re
from typing import Any

from applique.design import design_from_mapping
from applique.pattern import draft
from applique.shopping import FabricBuy
from applique.units import Units
from applique.words.buying import figured_said
from applique.words.precuts import cut_from_precut_said


def _buy(name: str, **tables: Any) -> FabricBuy:
    data: dict[str, Any] = {
        "row": [{"text": "HI", "cap_height": "3in"}],
        "panel": {"width": "12in", "height": "8in", "fabric": "Fog"},
        "lettering": {"fabric": "Ink"},
        "binding": {"fabric": "Fog"},
        "fabric": [{"name": "Ink", "color": "#203040"}, {"name": "Fog", "color": "#e0e0d8"}],
    }
    pattern = draft(design_from_mapping(data | tables))
    (buy,) = (buy for buy in pattern.shopping.cloth if buy.fabric.name == name)
    return buy


def test_nothing_is_offered_of_a_fabric_that_is_all_in_the_stash() -> None:
    held = [{"name": "Ink", "color": "#203040", "have": "1/4yd"}, {"name": "Fog", "color": "#e0e0d8"}]
    assert _buy("Ink").precut is not None
    buy = _buy("Ink", fabric=held)
    assert buy.buy == 0
    assert buy.precut is None
    assert str(figured_said(buy, Units.INCHES)) == "all of it is cut from what you have"


def test_what_is_cut_from_each_piece_of_a_precut_is_told_beside_it() -> None:
    """“2 fat quarters would do” left open which pieces come from which: 18 by 21 in, squared to 16 in, each."""
    squares = [{"kind": "squares", "size": "2in", "fabrics": ["Ink", "Fog"]}]
    strips = [{"kind": "strip", "width": "2in", "fabrics": ["Ink"]}]
    panel = {"width": "18in", "height": "17in", "fabric": "Fog"}
    for buy, said in (
        (
            _buy("Fog"),
            "a fat quarter would do: it gives 3 of 2 1/2 in by 21 in (binding) and 1 of 12 1/2 in by 8 1/2 in",
        ),
        (
            _buy("Fog", panel={**panel, "width": "12in", "height": "6in"}, border=squares),
            "2 fat quarters would do: number 1 gives 4 of 2 1/2 in by 21 in (binding) and 11 of 2 1/2 in by 2 1/2 in "
            "(squares of border 1); number 2 gives 1 of 12 1/2 in by 6 1/2 in (panel)",
        ),
        (
            _buy(
                "Ink",
                row=[{"text": "HI", "cap_height": "2in"}],
                panel=panel,
                binding={"fabric": "Ink"},
                border=strips,
            ),
            "2 fat quarters would do: number 1 gives 6 of 2 1/2 in by 21 in (binding); number 2 gives 5 of 2 1/2 in ",
        ),
    ):
        plan = buy.cutting.precut
        assert plan is not None
        told = str(cut_from_precut_said(plan, Units.INCHES))
        assert told.startswith(said)
        pieces = sum(1 for cloth in plan.plan.cloths for _ in cloth.root.pieces())
        assert sum(map(int, re.findall(r"(\d+) of ", told))) == pieces
