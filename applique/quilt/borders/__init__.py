"""Borders, from the panel outward: what is cut, in which order it is sewn on, and how large the top is then.

Exact inches. Sizes named `finished` leave out the outer seam allowance; `cut` ones hold it. Data flows from one
border to the next by the finished size of the top.
"""

from applique.quilt.borders.choices import BorderChoice, BorderLook, border_choices, fabrics_lacking
from applique.quilt.borders.planning import plan_borders
from applique.quilt.borders.squares import even_panels, even_squares
from applique.quilt.borders.values import (
    BorderPlan,
    BorderStep,
    Corner,
    EvenOffer,
    OddPiece,
    Patch,
    Side,
    SideStrip,
    Uneven,
)

__all__ = [
    "BorderChoice",
    "BorderLook",
    "BorderPlan",
    "BorderStep",
    "Corner",
    "EvenOffer",
    "OddPiece",
    "Patch",
    "Side",
    "SideStrip",
    "Uneven",
    "border_choices",
    "even_panels",
    "even_squares",
    "fabrics_lacking",
    "plan_borders",
]
