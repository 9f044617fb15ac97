"""The design file: what a maker may ask for, read, validated whole, and written back."""

from applique.design.model import (
    Align,
    Copies,
    Design,
    Fabric,
    Fusible,
    Lettering,
    Line,
    Nudge,
    Panel,
    Paper,
    PaperSize,
    PrintCorrection,
    Rows,
    Spacing,
)
from applique.design.reading import design_from_mapping, read_design
from applique.design.writing import design_data, design_schema, design_text

__all__ = [
    "Align",
    "Copies",
    "Design",
    "Fabric",
    "Fusible",
    "Lettering",
    "Line",
    "Nudge",
    "Panel",
    "Paper",
    "PaperSize",
    "PrintCorrection",
    "Rows",
    "Spacing",
    "design_data",
    "design_from_mapping",
    "design_schema",
    "design_text",
    "read_design",
]
