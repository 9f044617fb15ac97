"""Outlines for cutting machines."""

from applique.cutfiles.svg import cut_files

__all__ = ["cut_files"]
