"""Rows of words placed on the background panel."""

from applique.panel.beside import side_by_side
from applique.panel.lines import Baseline
from applique.panel.placing import CutShapes, place_rows
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
    "CutShapes",
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
    "side_by_side",
]
