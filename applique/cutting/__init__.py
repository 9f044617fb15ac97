"""Every piece of cloth, cut by straight cuts from edge to edge: what is to be cut, the search, and the plan."""

from __future__ import annotations

from applique.cutting.bounds import lower_bound
from applique.cutting.checking import plan_faults
from applique.cutting.planning import forget_plans, holds, plan_cutting
from applique.cutting.values import (
    Block,
    Choice,
    CutCloth,
    CuttingPlan,
    Demand,
    Lie,
    Piece,
    Preference,
    Rectangle,
    Region,
    Run,
    Split,
    Supply,
)

__all__ = [
    "Block",
    "Choice",
    "CutCloth",
    "CuttingPlan",
    "Demand",
    "Lie",
    "Piece",
    "Preference",
    "Rectangle",
    "Region",
    "Run",
    "Split",
    "Supply",
    "forget_plans",
    "holds",
    "lower_bound",
    "plan_cutting",
    "plan_faults",
]
