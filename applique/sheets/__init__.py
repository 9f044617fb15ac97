"""The printed sheets: PDFs that draw a pattern and work out nothing themselves."""

from applique.sheets.booklet import pattern_pdf
from applique.sheets.contents import Part, contents_pdf, joined_pdf, page_count
from applique.sheets.for_customers import coloring_pdf, template_pages_pdf, whole_pattern_pdf
from applique.sheets.guide import placement_guide_pdf
from applique.sheets.label import label_pdf
from applique.sheets.nests import nesting_pdf
from applique.sheets.templates import templates_pdf
from applique.sheets.wide import copy_shop_guide_pdf, copy_shop_templates_pdf, projector_pdf

__all__ = [
    "Part",
    "coloring_pdf",
    "contents_pdf",
    "copy_shop_guide_pdf",
    "copy_shop_templates_pdf",
    "joined_pdf",
    "label_pdf",
    "nesting_pdf",
    "page_count",
    "pattern_pdf",
    "placement_guide_pdf",
    "projector_pdf",
    "template_pages_pdf",
    "templates_pdf",
    "whole_pattern_pdf",
]
