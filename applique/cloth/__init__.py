"""What every fabric is cut into, and the cutting plan that has it all: the only source of how much cloth to buy.

Exact inches after washing; the frame of a plan is that of `cutting`.
"""

from __future__ import annotations

from applique.cloth.least_width import Widths
from applique.cloth.planning import plan_cloth, plan_part
from applique.cloth.values import (
    LETTERS,
    ClothPlan,
    ClothUse,
    FabricPlan,
    Joined,
    NarrowCloth,
    NarrowPlan,
    PrecutPlan,
    Strips,
    UseKind,
    WideBacking,
)
from applique.cloth.wanted import fabrics_beside_letters

__all__ = [
    "LETTERS",
    "ClothPlan",
    "ClothUse",
    "FabricPlan",
    "Joined",
    "NarrowCloth",
    "NarrowPlan",
    "PrecutPlan",
    "Strips",
    "UseKind",
    "WideBacking",
    "Widths",
    "fabrics_beside_letters",
    "plan_cloth",
    "plan_part",
]
