"""The pattern in words and in numbers: `summary.md` for people, `pattern.json` and `design.toml` for programs."""

from __future__ import annotations

from applique.reports.data import (
    FORMAT,
    design_toml,
    made_by,
    mark_data,
    pattern_json,
    photo_digests,
)
from applique.reports.findings_data import accepted_data, entry_data, finding_data, held_data
from applique.reports.summary import summary_md

__all__ = [
    "FORMAT",
    "accepted_data",
    "design_toml",
    "entry_data",
    "finding_data",
    "held_data",
    "made_by",
    "mark_data",
    "pattern_json",
    "photo_digests",
    "summary_md",
]
