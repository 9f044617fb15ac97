"""Pieces placed on a strip of cloth or web, or on equal pages: whole, apart, never mirrored."""

from applique.nesting.checking import nest_faults
from applique.nesting.grid import lay_strip, nest_bins
from applique.nesting.store import Effort, NestStore
from applique.nesting.strips import Nester, StripJob, nest_strips, search_seconds
from applique.nesting.values import BinNest, NestPiece, Placement, StripNest, fits

__all__ = [
    "BinNest",
    "Effort",
    "NestPiece",
    "NestStore",
    "Nester",
    "Placement",
    "StripJob",
    "StripNest",
    "fits",
    "lay_strip",
    "nest_bins",
    "nest_faults",
    "nest_strips",
    "search_seconds",
]
