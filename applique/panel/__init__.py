"""Rows of words placed on the background panel."""

from applique.panel.lines import Baseline
from applique.panel.placing import place_rows
from applique.panel.values import (
    Laid,
    LetterFacts,
    PanelPlan,
    PlacedCut,
    PlacedRow,
    Worn,
    near_cuts,
    near_laid,
    on_panel,
)

__all__ = [
    "Baseline",
    "Laid",
    "LetterFacts",
    "PanelPlan",
    "PlacedCut",
    "PlacedRow",
    "Worn",
    "near_cuts",
    "near_laid",
    "on_panel",
    "place_rows",
]
