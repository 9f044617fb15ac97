"""The words of the sheet with the quilt label, beside those of the maker."""

from __future__ import annotations

from typing import Final

from applique.language import message

__all__ = ["CUT_IT", "LABEL", "METHOD", "SUBJECT"]

SUBJECT: Final = message("quilt label")
LABEL: Final = message("Quilt label")
METHOD: Final = message("Quilt label: trace it, or print it on fabric made for printing")
CUT_IT: Final = message("Cut on the solid line, turn the edges under on the dashed one.")
