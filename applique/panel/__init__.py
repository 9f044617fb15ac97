"""Rows of words placed on the background panel."""

from applique.panel.beside import side_by_side
from applique.panel.edges import SEEN, CutOff, PanelEdges, Side
from applique.panel.lines import Baseline, foot_on
from applique.panel.outline import PanelOutline
from applique.panel.placing import CutShapes, place_rows
from applique.panel.running_off import cut_off_at_edge
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
    "SEEN",
    "Baseline",
    "CutOff",
    "CutShapes",
    "Laid",
    "LetterFacts",
    "PanelEdges",
    "PanelOutline",
    "PanelPlan",
    "PlacedCut",
    "PlacedRow",
    "Side",
    "Worn",
    "cut_off_at_edge",
    "foot_on",
    "near_cuts",
    "near_laid",
    "on_panel",
    "place_rows",
    "side_by_side",
]
