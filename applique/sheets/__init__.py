"""The printed sheets: PDFs that draw a pattern and work out nothing themselves."""

from applique.sheets.booklet import pattern_pdf
from applique.sheets.for_customers import coloring_pdf, template_pages_pdf, whole_pattern_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.sheets.label import label_pdf
from applique.sheets.nests import nesting_pdf
from applique.sheets.templates import templates_pdf
from applique.sheets.wide import copy_shop_guide_pdf, copy_shop_templates_pdf, projector_pdf

__all__ = [
    "coloring_pdf",
    "copy_shop_guide_pdf",
    "copy_shop_templates_pdf",
    "label_pdf",
    "nesting_pdf",
    "pattern_pdf",
    "placement_guide_pdf",
    "projector_pdf",
    "template_pages_pdf",
    "templates_pdf",
    "whole_pattern_pdf",
]
