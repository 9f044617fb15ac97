"""The printed sheets: PDFs that draw a pattern and work out nothing themselves."""

from applique.sheets.guide import placement_guide_pdf
from applique.sheets.templates import templates_pdf

__all__ = ["placement_guide_pdf", "templates_pdf"]
