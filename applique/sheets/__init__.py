"""The printed sheets: PDFs that draw a pattern and work out nothing themselves."""

from applique.sheets.templates import templates_pdf

__all__ = ["templates_pdf"]
