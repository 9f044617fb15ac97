"""Pieces placed on a strip of cloth or web, or on equal pages: whole, apart, never mirrored."""

from applique.nesting.checking import nest_faults
from applique.nesting.grid import forget_nests, lay_strip, nest_bins
from applique.nesting.search import can_search
from applique.nesting.store import NESTS_FILE, Effort, NestStore, written_nests
from applique.nesting.strips import Nested, Nester, StripJob, nest_strips, search_seconds
from applique.nesting.values import BinNest, NestPiece, Placement, StripNest, fits

__all__ = [
    "NESTS_FILE",
    "BinNest",
    "Effort",
    "NestPiece",
    "NestStore",
    "Nested",
    "Nester",
    "Placement",
    "StripJob",
    "StripNest",
    "can_search",
    "fits",
    "forget_nests",
    "lay_strip",
    "nest_bins",
    "nest_faults",
    "nest_strips",
    "search_seconds",
    "written_nests",
]
