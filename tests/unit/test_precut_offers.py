"""Precuts are offered where one would do, but not of a fabric that is all in the stash."""

from __future__ import annotations

from typing import Any

from applique.design import design_from_mapping
from applique.pattern import draft
from applique.shopping import FabricBuy
from applique.units import Units
from applique.words.buying import figured_said


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
