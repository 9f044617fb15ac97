"""Outlines for cutting machines."""

from applique.cutfiles.drawings import CutDrawing, cut_drawings
from applique.cutfiles.dxf import dxf_files
from applique.cutfiles.svg import svg_files
from applique.pattern import Pattern

__all__ = ["CutDrawing", "cut_drawings", "cut_files"]


def cut_files(pattern: Pattern) -> dict[str, bytes]:
    """Every cut file by its name below `cut-files/`: SVG, and DXF if the design asks for it."""
    return svg_files(pattern) | dxf_files(pattern)
