"""The instructions as one page for the tablet beside the machine, which needs no network."""

from applique.sew_along.page import sew_along_html

__all__ = ["sew_along_html"]
