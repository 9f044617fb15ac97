"""A maker's own words set in a font, as path data to choose by."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any, Final

from applique.cutfiles.paths import outline_path
from applique.design import Sewing
from applique.language import Speech
from applique.sewing.checks import can_be_cut
from applique.sewing.limits import method_limits
from applique.typeset.bundled import BUNDLED, FontStyle
from applique.typeset.fonts import open_typeface
from applique.typeset.shaping import is_connected, missing_letters, shape_text
from applique.typeset.spacing import RowSetting, set_row
from applique.typeset.typeface import Typeface

__all__ = ["font_list", "font_sample"]


_KINDS: Final = {
    FontStyle.GEOMETRIC: "plain",
    FontStyle.SANS: "plain",
    FontStyle.CONDENSED_SANS: "plain",
    FontStyle.HUMANIST_SANS: "plain",
    FontStyle.ROUNDED: "rounded",
    FontStyle.SOFT_AND_CHUNKY: "rounded",
    FontStyle.SOFT_CORNERS: "rounded",
    FontStyle.SLAB_SERIF: "serif",
    FontStyle.CLASSIC_SERIF: "serif",
    FontStyle.HEAVY_SLAB: "serif",
    FontStyle.CHUNKY_DISPLAY: "heavy",
    FontStyle.EXTRA_BOLD_DISPLAY: "heavy",
    FontStyle.HANDWRITTEN: "script",
    FontStyle.CONNECTED_SCRIPT: "script",
}
"""The kind that a maker looks under, for each style of a bundled font."""


def font_list(own: Mapping[str, object], speech: Speech) -> list[dict[str, Any]]:
    """Every font that a page may use: the bundled ones with their style, and its own."""
    bundled = [
        {
            "font": font.name,
            "name": font.name,
            "style": speech.tell(font.style.words),
            "kind": _KINDS[font.style],
            "own": False,
        }
        for font in BUNDLED
    ]
    return [*bundled, *({"font": name, "name": name, "style": "", "kind": "", "own": True} for name in own)]


def font_sample(
    font: str, words: str, axes: Mapping[str, float], cap_height: Fraction | None
) -> dict[str, Any]:
    """`words` set in `font` (a bundled name or a path) with a cap height of 100, y down, the baseline at 0.

    `missing` are the characters that it lacks; the words then have no path. `box` is x, y, width, height.
    `sewable` tells whether strokes, counters and slots can be cut by hand at `cap_height` (inches); None without one.

    Raises:
        Refusal: an axis that the font lacks, or a value out of its range.
    """
    typeface = open_typeface(font, axes, signs=words)
    missing = [lacking.character for lacking in missing_letters(words, typeface)]
    sewable: bool | None = None
    if not missing and cap_height is not None:
        sewable = can_be_cut(words, typeface, cap_height, method_limits(Sewing()))
    path, box = ("", [0.0, -100.0, 100.0, 100.0]) if missing else _set(words, typeface)
    return {
        "axes": [
            {
                "tag": axis.tag,
                "name": axis.name or axis.tag,
                "least": axis.least,
                "most": axis.most,
                "set": typeface.axes.get(axis.tag, axis.default),
            }
            for axis in typeface.facts.axes
        ],
        "connected": is_connected(typeface),
        "missing": missing,
        "sewable": sewable,
        "path": path,
        "box": box,
    }


def _set(words: str, typeface: Typeface) -> tuple[str, list[float]]:
    scale = 100 / typeface.cap_height_fu
    fine = typeface.units_per_em / 500
    row = set_row(
        shape_text(words, typeface),
        typeface,
        RowSetting(tracking_fu=0.0, least_gap_fu=0.0, even=False, chord_error_fu=fine),
    )
    drawn = [
        outline_path(typeface.outline(cut.glyphs).contours, (scale, 0.0, 0.0, -scale, cut.x_fu * scale, 0.0))
        for cut in row.cuts
    ]
    x0, y0, x1, y1 = (side * scale for side in row.ink_fu)
    return " ".join(drawn), [x0, -y1, x1 - x0, y1 - y0]
