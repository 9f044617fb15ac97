"""Rows of words placed on the background panel."""

from applique.panel.placing import place_rows
from applique.panel.values import (
    PanelPlan,
    PlacedCut,
    PlacedRow,
    near_cuts,
    near_rows,
    on_panel,
)

__all__ = [
    "PanelPlan",
    "PlacedCut",
    "PlacedRow",
    "near_cuts",
    "near_rows",
    "on_panel",
    "place_rows",
]
